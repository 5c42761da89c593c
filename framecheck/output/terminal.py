"""Results as plain text for a terminal, 80 columns wide unless told otherwise."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from framecheck.frame.results import FrameSolution
from framecheck.output.display import Units, factor, shown_unit, with_unit
from framecheck.output.display import bare as shown
from framecheck.output.shop_rows import HEADINGS, TITLE, shop_rows
from framecheck.output.text_table import Column, table
from framecheck.results.row import Check, CheckResult, Grade, governing_first, worst_by
from framecheck.results.summary import LoadCaseRow, MemberRow, load_case_rows, member_rows
from framecheck.run import Results
from framecheck.vehicle.clearance import GapLeft

NONE = "-"
MOST_LINES = 12


def as_text(results: Results, caution: str, units: Units = Units.SI, width: int = 80) -> str:
    """Return the whole result as text: caution, what governs, load cases, members, gaps, masses, what was not checked."""
    case = results.outcome.case
    parts = [
        wrapped(case.title, width),
        wrapped(caution, width),
        wrapped(f"{governing_sentence(results, units)} {caution.split('.')[0]}.", width),
        wrapped(open_sentence(results.outcome.solutions), width),
        titled("Load cases, the governing one first", load_case_table(results, units, width)),
        titled("Members, the governing one first", member_table(results, units, width)),
        titled("Checks other than yield: the worst of each kind, and what is LOW", check_table(results, units, width)),
        titled(TITLE, shop_table(results, units, width)),
        titled("Clearances, the smallest first", gap_table(results, units, width)),
        titled("Masses", mass_lines(results, units, width)),
        titled("Notes", "\n".join(wrapped(f"- {note}", width, "  ") for note in notes(results))),
        titled("Self-checks", wrapped(self_check_sentence(results.outcome.solutions), width)),
        titled("Not checked", "\n".join(wrapped(f"- {line}", width, "  ") for line in not_checked(results))),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def wrapped(text: str, width: int, indent: str = "") -> str:
    """Return text wrapped to a width, later lines indented."""
    return textwrap.fill(text, width, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)


def titled(title: str, body: str) -> str:
    """Return a block under its title, or nothing where the block is empty."""
    return f"{title}\n\n{body}" if body else ""


def governing_sentence(results: Results, units: Units) -> str:
    """Return what governs, in one sentence."""
    row = results.governing
    if row is None:
        return "Nothing could be judged: see what was not checked."
    first = "Every target is met" if row.grade is Grade.PASS else f"{row.grade.value}: a target is missed"
    return (
        f"{first}. {row.where} governs ({row.check.words}){in_case(row)}{place(row, units)}: "
        f"safety factor {factor(row.safety_factor)} against a target of {factor(row.target)}"
        f"{f', {row.words}' if row.words else ''}."
    )


def in_case(row: CheckResult) -> str:
    """Return the load case of a row, in words; "" where it holds in all."""
    return "" if row.load_case is None else f" in '{row.load_case}'"


def place(row: CheckResult, units: Units) -> str:
    """Return where along its member a row was found, in words."""
    return "" if row.station is None else f", {with_unit(row.station, 'station', units)} from its first point"


def open_sentence(solutions: tuple[FrameSolution, ...]) -> str:
    """Return what the case file left open, and that the worse end is shown."""
    names = [solution.bound.name for solution in solutions if solution.bound.name]
    if not names:
        return ""
    return (
        "The case file leaves open how some member ends are made, so both ends of the range were solved "
        f"({'; '.join(names)}); the worse one is shown."
    )


LOAD_CASE_COLUMNS = ("load case", "safety\nfactor", "target", "", "where", "station", "deflection", "balance")
WORDS = {"load case", "where", "", "member", "section", "check", "gap"}


def columns(headings: tuple[str, ...]) -> list[Column]:
    """Return columns: words left, numbers right."""
    return [Column(heading, heading not in WORDS) for heading in headings]


def load_case_table(results: Results, units: Units, width: int) -> str:
    """Return the table of load cases."""
    rows = [load_case_line(row, units) for row in load_case_rows(results.outcome, results.rows)]
    headings = list(LOAD_CASE_COLUMNS)
    headings[5] = f"station\n{shown_unit('station', units).label}"
    headings[6] = f"deflec-\ntion {shown_unit('deflection', units).label}"
    return table(columns(tuple(headings)), rows, width)


def load_case_line(row: LoadCaseRow, units: Units) -> tuple[str, ...]:
    """Return the cells of a load case."""
    moved, balance = shown(row.deflection.amount, "deflection", units), f"{row.balance:.0e}"
    if row.worst is None:
        return (row.load_case, NONE, NONE, NONE, NONE, NONE, moved, balance)
    return (row.load_case, *verdict_cells(row.worst), row.worst.where, station_cell(row.worst, units), moved, balance)


def verdict_cells(row: CheckResult) -> tuple[str, str, str]:
    """Return safety factor, target and verdict."""
    return factor(row.safety_factor), factor(row.target), row.grade.value


def station_cell(row: CheckResult, units: Units) -> str:
    """Return the station as a whole number or to a hundredth of an inch."""
    return NONE if row.station is None else station_text(row.station, units)


def station_text(station: float, units: Units) -> str:
    """Return a length along a member: whole millimetres, or tenths of an inch."""
    size = shown_unit("station", units).size
    return f"{station / size:.0f}" if units is Units.SI else f"{station / size:.1f}"


def member_table(results: Results, units: Units, width: int) -> str:
    """Return the table of members."""
    rows = [member_line(row, units) for row in member_rows(results.outcome, results.rows)]
    headings = ("member", "safety\nfactor", "", "load case", f"station\n{shown_unit('station', units).label}",
                "section", f"mass\n{shown_unit('mass', units).label}")  # fmt: skip
    return table(columns(headings), rows, width)


def member_line(row: MemberRow, units: Units) -> tuple[str, ...]:
    """Return the cells of a member."""
    mass = f"{row.mass / shown_unit('mass', units).size:.1f}"
    if row.worst is None:
        return (row.member, NONE, NONE, NONE, NONE, row.section, mass)
    sf, _, verdict = verdict_cells(row.worst)
    return (row.member, sf, verdict, row.worst.load_case or NONE, station_cell(row.worst, units), row.section, mass)


def check_table(results: Results, units: Units, width: int) -> str:
    """Return the worst row of every check but yield, and every subject that misses its target; each one's mode below it."""
    others = [row for row in results.rows if row.check is not Check.YIELD]
    worst = worst_by(others, lambda row: row.check).values()
    low = [row for row in worst_by(others, lambda row: (row.check, row.subject)).values() if row.grade is Grade.LOW]
    shown = governing_first(dict.fromkeys([*low[:MOST_LINES], *worst]))
    rows = [(row.check.words, row.where, *verdict_cells(row), row.load_case or NONE) for row in shown]
    headings = ("check", "where", "safety\nfactor", "target", "", "load case")
    more = f"\n({len(low) - MOST_LINES} more rows are LOW: see the report or --json)" if len(low) > MOST_LINES else ""
    return table(columns(headings), rows, width, [row.words for row in shown]) + more if rows else ""


def shop_table(results: Results, units: Units, width: int) -> str:
    """Return the torques, legs, sleeves and doublers that the joints ask for."""
    rows = shop_rows(results, units)
    return table([Column(each, n > 1) for n, each in enumerate(HEADINGS)], rows, width) if rows else ""


def gap_table(results: Results, units: Units, width: int) -> str:
    """Return the gaps left, each gap in its worst load case."""
    worst: dict[str, GapLeft] = {}
    for gap in results.gaps:
        worst.setdefault(gap.name, gap)
    rows = [
        (
            gap.name,
            shown(gap.today, "deflection", units),
            shown(gap.left, "deflection", units),
            gap.load_case,
            gap.verdict,
        )
        for gap in worst.values()
    ]
    unit = shown_unit("deflection", units).label
    return table(columns(("gap", f"today\n{unit}", f"left\n{unit}", "load case", "")), rows, width) if rows else ""


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


def notes(results: Results) -> Iterator[str]:
    """Yield what the load cases and the solution have to say, once each."""
    said = [f"{loads.name}: {note}" for loads in results.outcome.loads for note in loads.notes]
    said += [note for solution in results.outcome.solutions for note in solution.notes]
    said += [f"section {name}: {note}" for name, each in results.outcome.sections.items() for note in each.notes]
    yield from dict.fromkeys(said)


def self_check_sentence(solutions: tuple[FrameSolution, ...]) -> str:
    """Return how the solution's own checks went: the worst of each kind, and each that fails in full."""
    checks = [each for solution in solutions for each in solution.self_checks]
    worst: dict[str, float] = {}
    for each in checks:
        worst[each.name] = max(worst.get(each.name, 0.0), each.value)
    listed = "; ".join(f"{name} {value:.0e}" for name, value in worst.items())
    failed = [f"{each.name} in '{each.load_case}': {each.says}" for each in checks if not each.holds]
    return f"{listed}. " + ("FAILED: " + "; ".join(failed) if failed else "All hold.")


def not_checked(results: Results) -> list[str]:
    """Return what was not checked, once each."""
    return list(dict.fromkeys(f"{each.subject}: {each.reason}" for each in results.remarks))
