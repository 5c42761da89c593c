"""The report's tables as plain words and numbers: one function a table."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from framecheck.checks.result import CheckResult
from framecheck.model.arrays import Vector
from framecheck.output.display import Units, bare, factor, number, shown_unit, with_unit
from framecheck.output.plots.diagrams import COMPONENTS
from framecheck.output.terminal import station_cell, station_text
from framecheck.run import Results
from framecheck.stress import MemberStress
from framecheck.summary import load_case_rows, member_rows, worst_by
from framecheck.vehicle.clearance import GapLeft

NONE = "-"


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a column; is_number: its cells stand right."""

    text: str
    is_number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its caption; note: a sentence under it."""

    caption: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


def words(*texts: str) -> tuple[Heading, ...]:
    """Return headings of word columns."""
    return tuple(Heading(text) for text in texts)


def numbers(*texts: str) -> tuple[Heading, ...]:
    """Return headings of number columns."""
    return tuple(Heading(text, is_number=True) for text in texts)


def label(quantity: str, units: Units) -> str:
    """Return the unit in which a quantity is shown."""
    return shown_unit(quantity, units).label


def judged(row: CheckResult | None, units: Units) -> tuple[str, str, str, str, str]:
    """Return safety factor, target, verdict, place and station of a row."""
    if row is None:
        return (NONE,) * 5
    factors = (factor(row.safety_factor), factor(row.target), row.verdict.value)
    return (*factors, row.where, station_cell(row, units))


def load_cases(results: Results, units: Units) -> Table:
    """Return every load case with its lowest safety factor, the governing one first."""
    rows = tuple(
        (
            row.load_case,
            *judged(row.worst, units),
            bare(row.deflection.amount, "deflection", units),
            row.deflection.member,
            f"{row.balance:.0e}",
        )
        for row in load_case_rows(results.outcome, results.rows)
    )
    headings = (
        *words("load case"),
        *numbers("safety factor", "target"),
        *words("verdict", "where"),
        *numbers(f"station, {label('station', units)}", f"largest deflection, {label('deflection', units)}"),
        *words("on member"),
        *numbers("balance residual"),
    )
    return Table("Load cases, the governing one first", headings, rows)


def members(results: Results, units: Units) -> Table:
    """Return every member with its lowest safety factor and mass."""
    rows = tuple(
        (
            row.member,
            row.section,
            *judged(row.worst, units)[:3],
            row.worst.load_case if row.worst else NONE,
            judged(row.worst, units)[4],
            bare(row.mass, "mass", units),
        )
        for row in member_rows(results.outcome, results.rows)
    )
    headings = (
        *words("member", "section"),
        *numbers("safety factor", "target"),
        *words("verdict", "load case"),
        *numbers(f"station, {label('station', units)}", f"mass, {label('mass', units)}"),
    )
    return Table("Members, the governing one first", headings, rows)


def other_checks(results: Results, units: Units) -> Table:
    """Return the worst row of every check but yield for each member or joint: joints, notches, buckling, fatigue."""
    return check_table(
        "Checks other than yield, the governing one first", other_rows(results), lambda row: (row.check, row.where)
    )


def all_modes(results: Results, units: Units) -> Table:
    """Return the worst row of each mode of every check but yield."""
    return check_table("Every mode that was checked", other_rows(results), lambda row: (row.check, row.where, row.mode))


def other_rows(results: Results) -> list[CheckResult]:
    """Return the rows of every check but yield."""
    return [row for row in results.rows if row.check != "yield"]


def check_table(caption: str, rows: Iterable[CheckResult], key: Callable[[CheckResult], tuple[str, ...]]) -> Table:
    """Return the worst row for each key."""
    worst = worst_by(rows, key)
    body = tuple(
        (row.check, row.where, row.mode, factor(row.safety_factor), factor(row.target), row.verdict.value, row.load_case,
         f"{number(row.demand, 3)} of {number(row.capacity, 3)} {row.unit}")
        for row in worst.values()
    )  # fmt: skip
    headings = (
        *words("check", "where", "mode"),
        *numbers("safety factor", "target"),
        *words("verdict", "load case", "demand of capacity, SI"),
    )
    return Table(caption, headings, body)


def clearances(results: Results, units: Units) -> Table:
    """Return every gap in the load case that leaves least of it, the smallest first."""
    worst: dict[str, GapLeft] = {}
    for gap in results.gaps:
        worst.setdefault(gap.name, gap)
    return gap_table("Clearances, the smallest first", worst.values(), units)


def all_clearances(results: Results, units: Units) -> Table:
    """Return every gap in every load case, the smallest first."""
    return gap_table("Clearances in every load case", results.gaps, units)


def gap_table(caption: str, gaps: Iterable[GapLeft], units: Units) -> Table:
    """Return gaps as a table."""
    unit = label("deflection", units)
    rows = tuple(
        (
            gap.name,
            gap.load_case,
            *(bare(value, "deflection", units) for value in (gap.today, gap.left, gap.least)),
            gap.verdict,
        )
        for gap in gaps
    )
    headings = (
        *words("clearance", "load case"),
        *numbers(f"today, {unit}", f"left, {unit}", f"asked, {unit}"),
        *words("verdict"),
    )
    return Table(caption, headings, rows)


def masses(results: Results, units: Units) -> Table:
    """Return the mass account: each mass and where it is."""
    account = results.masses
    if account is None:
        return Table("Masses", words("mass"), ())
    rows = tuple((row.name, row.kind, bare(row.mass, "mass", units), *place(row.at, units)) for row in account.rows)
    unit = label("length", units)
    front, rear = (with_unit(load, "force", units) for load in account.axles)
    headings = (*words("mass", "kind"), *numbers(label("mass", units), f"x, {unit}", f"y, {unit}", f"z, {unit}"))
    total = ("all", "", bare(account.total, "mass", units), *place(account.cg, units))
    return Table(
        "Masses", headings, (*rows, total), f"At rest the front axle carries {front} and the rear axle {rear}."
    )


def place(at: Vector, units: Units) -> tuple[str, str, str]:
    """Return three coordinates."""
    x, y, z = (bare(value, "length", units) for value in at)
    return x, y, z


def brackets(results: Results, units: Units) -> Table:
    """Return what the suspension does to each frame bracket, in every load case of the vehicle."""
    rows = tuple(
        (loads.loads.name, row.foot.name, row.foot.point, *(bare(value, "force", units) for value in row.force))
        for loads in results.vehicle_loads
        for row in loads.brackets
    )
    unit = label("force", units)
    headings = (
        *words("load case", "bracket", "frame point"),
        *numbers(f"forward, {unit}", f"left, {unit}", f"up, {unit}"),
    )
    return Table("Forces of the suspension on the frame's brackets", headings, rows)


def wheels(results: Results, units: Units) -> Table:
    """Return what the ground does to each wheel in every load case of the vehicle."""
    rows = tuple(
        (loads.loads.name, row.wheel, *(bare(value, "force", units) for value in row.force))
        for loads in results.vehicle_loads
        for row in loads.wheels
    )
    unit = label("force", units)
    headings = (*words("load case", "wheel"), *numbers(f"forward, {unit}", f"left, {unit}", f"up, {unit}"))
    return Table("Forces of the ground on the wheels", headings, rows)


def load_factors(results: Results) -> Table:
    """Return the factors that make each load case, apart from the safety factors, each with its source."""
    rows = tuple(
        (case.name, name, value if isinstance(value, str) else number(value), case.sources.get(name, NONE))
        for case in results.outcome.case.load_cases
        for name, value in case.factors.items()
    )
    headings = (*words("load case", "factor"), Heading("value, SI", is_number=True), *words("source"))
    return Table("Load factors: how hard the vehicle is used", headings, rows)


def targets(results: Results) -> Table:
    """Return the safety factors that are asked."""
    asked = results.outcome.case.targets
    rows = tuple((loads.name, factor(asked.of(loads.name))) for loads in results.outcome.loads)
    note = "A load factor says how hard the vehicle is used, a safety factor what is left; neither counts in the other."
    return Table("Safety factors asked on yield", (*words("load case"), *numbers("target")), rows, note)


def sections(results: Results, units: Units) -> Table:
    """Return the sections used with their main properties."""
    rows = tuple(
        (
            name,
            each.engine,
            bare(each.area, "area", units),
            bare(each.i_vertical, "inertia", units),
            bare(each.i_sideways, "inertia", units),
            bare(each.torsion_constant, "inertia", units),
            bare(each.warping_constant, "warping", units),
            bare(each.yield_strength, "stress", units),
        )
        for name, each in results.outcome.sections.items()
    )
    inertia = label("inertia", units)
    headings = (
        *words("section", "computed by"),
        *numbers(f"area, {label('area', units)}", f"inertia vertically, {inertia}", f"inertia sideways, {inertia}",
                 f"torsion constant, {inertia}", f"warping constant, {label('warping', units)}",
                 f"yield, {label('stress', units)}"),
    )  # fmt: skip
    return Table("Sections", headings, rows)


def materials(results: Results, units: Units) -> Table:
    """Return the materials used, each with its source."""
    used = {each.material.name: each.material for each in results.outcome.case.frame.sections.values()}
    rows = tuple(
        (
            name,
            bare(each.yield_strength, "stress", units),
            NONE if each.welded_yield is None else bare(each.welded_yield, "stress", units),
            bare(each.ultimate_strength, "stress", units),
            bare(each.youngs_modulus, "stress", units),
            each.source,
        )
        for name, each in used.items()
    )
    unit = label("stress", units)
    headings = (
        *words("material"),
        *numbers(f"yield, {unit}", f"yield beside welds, {unit}", f"ultimate, {unit}", f"Young's modulus, {unit}"),
        *words("source"),
    )
    return Table("Materials", headings, rows)


def points(results: Results, units: Units) -> Table:
    """Return the frame's points as read."""
    unit = label("length", units)
    rows = tuple((name, *place(at, units)) for name, at in results.outcome.case.frame.points.items())
    note = f"x forward, y left, z up; origin: {results.outcome.case.frame.origin}."
    return Table("Points", (*words("point"), *numbers(f"x, {unit}", f"y, {unit}", f"z, {unit}")), rows, note)


def ends(results: Results) -> Table:
    """Return the members as read: points, sections, how the ends are made."""
    rows = tuple(
        (
            member.name,
            ", ".join((member.points[0], member.points[-1])),
            ", ".join(dict.fromkeys(stretch.section for stretch in member.stretches)),
            member.start.make.value,
            member.end.make.value,
        )
        for member in results.outcome.case.frame.members
    )
    return Table("Members as read", words("member", "from, to", "sections", "start made", "end made"), rows)


def along(stress: MemberStress, case: int, units: Units, most: int = 24) -> Table:
    """Return a member's section forces in one load case at up to `most` stations: the data under the diagrams."""
    count = len(stress.forces.stations)
    chosen = sorted({round(i * (count - 1) / (most - 1)) for i in range(most)}) if count > most else range(count)
    rows = tuple(
        (
            station_text(float(stress.forces.stations[i]), units),
            *(bare(float(stress.forces.member_forces[i, case, c]), kind, units) for c, kind in COMPONENTS.values()),
            bare(float(stress.nominal[i, case]), "stress", units),
        )
        for i in chosen
    )
    heads = [f"{name}, {label(kind, units)}" for name, (_, kind) in COMPONENTS.items()]
    headings = numbers(f"station, {label('station', units)}", *heads, f"von Mises stress, {label('stress', units)}")
    return Table(f"Along {stress.forces.member}", headings, rows)


def self_checks(results: Results) -> Table:
    """Return what the solution checks of itself, the worst of each kind."""
    found = [each for solution in results.outcome.solutions for each in solution.self_checks]
    worst = {each.name: each for each in sorted(found, key=lambda each: each.value)}
    rows = tuple(
        (
            each.name,
            each.load_case or NONE,
            f"{each.value:.1e}",
            f"{each.limit:.1e}",
            "holds" if each.holds else "FAILS",
            each.says,
        )
        for each in worst.values()
    )
    headings = (*words("check", "worst in"), *numbers("value", "limit"), *words("verdict", "means"))
    return Table("Self-checks, the worst of each", headings, rows)


def sources(rows: Iterable[CheckResult]) -> Table:
    """Return where each check's rule stands."""
    found = dict.fromkeys((row.check, row.source) for row in rows)
    return Table("Sources of the checks", words("check", "source"), tuple(found))


def not_checked(results: Results) -> Sequence[tuple[str, str]]:
    """Return what was not checked and why, once each."""
    return tuple(dict.fromkeys((each.subject, each.reason) for each in results.not_checked))
