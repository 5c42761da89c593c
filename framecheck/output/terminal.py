"""The whole result as plain text for a terminal: the first screen, then every table, and what the joints ask of the shop."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.frame.results import FrameSolution
from framecheck.output import wording
from framecheck.output.display import QUANTITIES, TextColumn, Units, listed, spoken, table, titled, with_unit, wrapped
from framecheck.output.first_screen import first_screen
from framecheck.output.wording import heading, is_number, texts, without
from framecheck.results.cautions import large_movements
from framecheck.results.readings import readings_table
from framecheck.results.row import Sizing
from framecheck.results.summary import load_case_rows, member_rows
from framecheck.results.tables import ResultTable, checks_table, clearances_table, load_cases_table, members_table
from framecheck.results.verdict import State
from framecheck.run import Results
from framecheck.versions import UNKNOWN, Origin

TITLE = "For the shop: torques, legs, sleeves, doublers"
HEADINGS = ("joint", "what", "value", "as drawn")
NONE = "-"


def shop_rows(results: Results, units: Units) -> tuple[tuple[str, str, str, str], ...]:
    """Return a row for each size or torque, joint by joint; what more is asked than drawn shows as LOW in the checks."""
    return tuple(
        (each.where, each.what, amount(each, each.value, units), amount(each, each.given, units)) for each in results.sizings
    )


def amount(each: Sizing, value: float | None, units: Units) -> str:
    """Return number and unit, a dash where the case file gives none."""
    return NONE if value is None else with_unit(value, QUANTITIES[each.unit], units)


def as_text(results: Results, caution: str, units: Units = Units.SI, width: int = 80, origin: Origin = UNKNOWN) -> str:
    """Return the whole result as text: the first screen, then every table; no number of a solution that fails its own checks."""
    parts = [first_screen(results, caution, units, width, origin).rstrip("\n")]
    if results.verdict.state is not State.NOT_JUDGED:
        parts += tables(results, units, width)
    parts += [
        titled("Open: not judged", listed(wording.open_lines(results.verdict, units), width)),
        titled("Accepted by the file, not judged", listed(wording.accepted_lines(results.verdict), width)),
        titled("Self-checks", wrapped(self_check_sentence(results.outcome.solutions), width)),
        titled("Taken on the safe side, and limits of every answer", listed(remarks(results), width)),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def tables(results: Results, units: Units, width: int) -> list[str]:
    """Return every table under its title."""
    outcome, rows, frame = results.outcome, results.rows, results.outcome.case.frame
    cases = tuple(each.name for each in outcome.loads)
    shown = (
        without(load_cases_table(frame, load_case_rows(outcome, rows)), "station_m", "deflection_member", "target"),
        without(members_table(frame, member_rows(outcome, rows)), "station_m", "target"),
        without(checks_table(frame, rows), "station_m", "sides", "mode", "near"),
        clearances_table(results.gaps),
        without(readings_table(results.readings, cases), "member", "station_m", "torsion_nm", "normal_stress_pa"),
    )
    return [
        wrapped(open_sentence(outcome.solutions), width),
        *(titled(each.caption, table_text(each, units, width)) for each in shown),
        titled(TITLE, shop_table(results, units, width)),
        titled("Masses", mass_lines(results, units, width)),
        titled("Notes", listed(notes(results, units), width)),
    ]


def table_text(shown: ResultTable, units: Units, width: int) -> str:
    """Return a table as text, "" where it has no rows."""
    columns = [TextColumn(heading(each, units).replace(", ", "\n"), is_number(each)) for each in shown.columns]
    return table(columns, texts(shown, units), width) if shown.rows else ""


ENDS_OPEN = "The case file leaves open how some member ends are made"
SHELL_OPEN = "The stated body is told as a range"
SEAMS_OPEN = "Some seam is not known to carry what makes its parts act as one"


def open_sentence(solutions: tuple[FrameSolution, ...]) -> str:
    """Return what the case file left open, and that the worse end is shown."""
    bounds = [solution.bound for solution in solutions if solution.bound.name]
    if not bounds:
        return ""
    ends = any(bound.joints is not None or bound.warping is not None for bound in bounds)
    seams = any(bound.seams is not None for bound in bounds)
    shell = any(bound.shell is not None for bound in bounds)
    left = [words for words, on in ((ENDS_OPEN, ends), (SEAMS_OPEN, seams), (SHELL_OPEN, shell)) if on]
    apart = sum(bound.apart is not None for bound in bounds)
    mixed = (f"{apart} mixtures of ends that are unlike",) if apart else ()
    names = "; ".join((*(bound.name for bound in bounds if bound.apart is None), *mixed))
    return f"{'; '.join(left)}, so both ends of the range were solved ({names}); the worse one is shown."


def shop_table(results: Results, units: Units, width: int) -> str:
    """Return the torques, legs, sleeves and doublers that the joints ask for."""
    rows = shop_rows(results, units)
    return table([TextColumn(each, n > 1) for n, each in enumerate(HEADINGS)], rows, width) if rows else ""


def mass_lines(results: Results, units: Units, width: int) -> str:
    """Return the whole mass, the frame's own, where the centre of gravity lies, and the axle loads at rest."""
    account = results.masses
    if account is None:
        return ""
    frame = sum(row.mass for row in account.rows if row.kind == "frame")
    x, y, z = (with_unit(value, "length", units) for value in account.cg)
    front, rear = (with_unit(load / 9.80665, "mass", units) for load in account.axles)
    text = (
        f"{with_unit(account.total, 'mass', units)} in all, {with_unit(frame, 'mass', units)} of it the frame; centre of "
        f"gravity at x {x}, y {y}, z {z}; at rest {front} on the front axle and {rear} on the rear."
    )
    return wrapped(text, width)


def notes(results: Results, units: Units) -> Iterator[str]:
    """Yield what the load cases and the solution have to say, once each."""
    said = [f"{loads.name}: {spoken(note, units)}" for loads in results.outcome.loads for note in loads.notes]
    said += [note for solution in results.outcome.solutions for note in solution.notes]
    said += [f"section {name}: {note}" for name, each in results.outcome.sections.items() for note in each.notes]
    said += [f"large movement: {wording.movement_words(each)}" for each in large_movements(results.outcome)]
    yield from dict.fromkeys(said)


SPOKEN = 0.01
"""A number from here on is one that people say, as digits lost are; less stands as a power of ten."""


def self_check_sentence(solutions: tuple[FrameSolution, ...]) -> str:
    """Return how the solution's own checks went: the worst of each kind, and each that fails in full."""
    checks = [each for solution in solutions for each in solution.self_checks]
    worst: dict[str, float] = {}
    for each in checks:
        worst[each.name] = max(worst.get(each.name, 0.0), each.value)
    shown = "; ".join(f"{name} {value:.1f}" if value >= SPOKEN else f"{name} {value:.0e}" for name, value in worst.items())
    failed = [f"{each.name} in '{each.load_case}': {each.says}" for each in checks if not each.holds]
    return f"{shown}. " + ("FAILED: " + "; ".join(failed) if failed else "All hold.")


def remarks(results: Results) -> Iterator[str]:
    """Yield what was taken on the unfavourable side and what no answer covers, once each."""
    yield from dict.fromkeys(f"{each.subject}: {each.reason}" for each in results.remarks)
