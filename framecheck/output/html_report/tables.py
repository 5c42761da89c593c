"""The report's tables of results, one function a table, and how a table's cells are made."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.output.charts.along import COMPONENTS, LookedAlong
from framecheck.output.display import Units, bare, shown_unit, with_unit
from framecheck.output.wording import NONE as NONE
from framecheck.output.wording import heading, is_number, station_text, texts
from framecheck.results.readings import readings_table
from framecheck.results.row import CheckResult
from framecheck.results.summary import AT, load_case_rows, member_rows
from framecheck.results.tables import ResultTable, clearances_table, kinds_table, load_cases_table, members_table
from framecheck.run import Results
from framecheck.stress import MemberStress
from framecheck.value_class import value_class

ROUNDING, ROUNDED = 1e-6, 1e-5
"""What is less in SI, or as a share of the largest of its kind, is rounding."""


@value_class
class Heading:
    """The head of a column; is_number: its cells stand right."""

    text: str
    is_number: bool = False


@value_class
class HtmlTable:
    """A table with its caption; note: a sentence under it."""

    caption: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""

    @property
    def is_narrow(self) -> bool:
        """Return whether it has few columns, all numbers but the first: across a whole page the eye would lose the row."""
        return len(self.headings) <= 4 and all(heading.is_number for heading in self.headings[1:])


def words(*texts: str) -> tuple[Heading, ...]:
    """Return headings of word columns."""
    return tuple(Heading(text) for text in texts)


def numbers(*texts: str) -> tuple[Heading, ...]:
    """Return headings of number columns."""
    return tuple(Heading(text, is_number=True) for text in texts)


def label(quantity: str, units: Units) -> str:
    """Return the unit in which a quantity is shown."""
    return shown_unit(quantity, units).label


def bare_forces(values: Iterable[float], quantity: str, units: Units) -> tuple[str, ...]:
    """Return forces or moments in the shown unit; what is less than a millionth is rounding, and shown as 0."""
    return tuple(bare(value if abs(value) > ROUNDING else 0.0, quantity, units) for value in values)


def plain(values: Array) -> Array:
    """Return numbers (n,), with 0 where one is less than a hundred-thousandth of the largest: the solution's rounding."""
    return np.where(np.abs(values) > ROUNDED * np.max(np.abs(values), initial=0.0), values, 0.0)


def shown(of: ResultTable, units: Units) -> HtmlTable:
    """Return a table of results as the page shows it."""
    headings = tuple(Heading(heading(column, units) or "grade", is_number(column)) for column in of.columns)
    return HtmlTable(of.caption, headings, texts(of, units))


def spread(count: int, most: int = 24) -> list[int]:
    """Return at most `most` of so many numbers, evenly spread, the first and the last among them."""
    return sorted({round(i * (count - 1) / (most - 1)) for i in range(most)}) if count > most else list(range(count))


def place(at: Vector | Array, units: Units) -> tuple[str, ...]:
    """Return coordinates."""
    return tuple(bare(value if abs(value) > ROUNDING else 0.0, "length", units) for value in at)


def kinds(results: Results, units: Units) -> HtmlTable:
    """Return the worst row of every kind of check."""
    return shown(kinds_table(results.outcome.case.frame, results.rows), units)


def load_cases(results: Results, units: Units) -> HtmlTable:
    """Return every load case with its governing row, the governing one first."""
    return shown(load_cases_table(results.outcome.case.frame, load_case_rows(results.outcome, results.rows)), units)


def members(results: Results, units: Units) -> HtmlTable:
    """Return every member with its governing row and mass."""
    return shown(members_table(results.outcome.case.frame, member_rows(results.outcome, results.rows)), units)


def clearances(results: Results, units: Units) -> HtmlTable:
    """Return every gap in the load case that leaves least of it, the smallest first."""
    return shown(clearances_table(results.gaps), units)


def all_clearances(results: Results, units: Units) -> HtmlTable:
    """Return every gap in every load case, the smallest first."""
    return shown(clearances_table(results.gaps, every_case=True), units)


def readings(results: Results, units: Units) -> HtmlTable:
    """Return what is read at the places that the file names."""
    return shown(readings_table(results.readings, tuple(each.name for each in results.outcome.loads)), units)


def masses(results: Results, units: Units) -> HtmlTable:
    """Return the mass account: each mass and where it is."""
    account = results.masses
    if account is None:
        return HtmlTable("Masses", words("mass"), ())
    rows = tuple((row.name, row.kind, bare(row.mass, "mass", units), *place(row.at, units)) for row in account.rows)
    unit = label("length", units)
    front, rear = (with_unit(load, "force", units) for load in account.axles)
    headings = (*words("mass", "kind"), *numbers(label("mass", units), f"x, {unit}", f"y, {unit}", f"z, {unit}"))
    total = ("all", "", bare(account.total, "mass", units), *place(account.cg, units))
    return HtmlTable(
        "Masses", headings, (*rows, total), f"At rest the front axle carries {front} and the rear axle {rear}."
    )


def brackets(results: Results, units: Units) -> HtmlTable:
    """Return what the suspension does to each frame bracket, in every load case of the vehicle."""
    rows = tuple(
        (loads.loads.name, row.foot.name, row.foot.point, *bare_forces(row.force, "force", units))
        for loads in results.vehicle_loads
        for row in loads.brackets
    )
    unit = label("force", units)
    headings = (
        *words("load case", "bracket", "frame point"),
        *numbers(f"forward, {unit}", f"left, {unit}", f"up, {unit}"),
    )
    return HtmlTable("Forces of the suspension on the frame's brackets", headings, rows)


def wheels(results: Results, units: Units) -> HtmlTable:
    """Return what the ground does to each wheel in every load case of the vehicle."""
    rows = tuple(
        (loads.loads.name, row.wheel, *bare_forces(row.force, "force", units))
        for loads in results.vehicle_loads
        for row in loads.wheels
    )
    unit = label("force", units)
    headings = (*words("load case", "wheel"), *numbers(f"forward, {unit}", f"left, {unit}", f"up, {unit}"))
    return HtmlTable("Forces of the ground on the wheels", headings, rows)


def along(stress: MemberStress, looked: LookedAlong, load_case: str, units: Units) -> HtmlTable:
    """Return a member's section forces in one load case at its points, at the peaks and where one looks: the data of the diagrams."""
    forces = [(plain(stress.forces.member_forces[:, looked.case, column]), kind) for column, kind in COMPONENTS.values()]
    nominal, stations = plain(stress.nominal[:, looked.case]), stress.forces.stations
    peaks = {int(np.argmax(np.abs(values))) for values in (*(each for each, _ in forces), nominal)}
    places = {at: name for name, at in looked.points} | ({} if looked.at is None else {looked.at: "here"})
    marked = {int(i): name for at, name in places.items() for i in np.flatnonzero(np.abs(stations - at) <= AT)}
    rows = tuple(
        (
            station_text(float(stations[i]), units),
            *(bare_forces([float(values[i])], kind, units)[0] for values, kind in forces),
            bare(float(nominal[i]), "stress", units),
            marked.get(i, ""),
        )
        for i in sorted({*marked, *peaks, 0, len(stations) - 1})
    )
    heads = [f"{name}, {label(kind, units)}" for name, (_, kind) in COMPONENTS.items()]
    headings = numbers(f"station, {label('station', units)}", *heads, f"von Mises stress, {label('stress', units)}")
    return HtmlTable(f"Along {stress.forces.member} in '{load_case}'", (*headings, *words("at")), rows)


SPOKEN = 0.01
"""A limit from here on is a number that people say, as digits lost are; less stands as a power of ten."""


def self_checks(results: Results) -> HtmlTable:
    """Return what the solution checks of itself, the worst of each kind."""
    found = [each for solution in results.outcome.solutions for each in solution.self_checks]
    worst = {each.name: each for each in sorted(found, key=lambda each: each.value)}
    rows = tuple(
        (
            each.name,
            each.load_case or NONE,
            *(f"{value:.1e}" if each.limit < SPOKEN else f"{value:.1f}" for value in (each.value, each.limit)),
            "holds" if each.holds else "FAILS",
            each.says,
        )
        for each in worst.values()
    )
    headings = (*words("check", "worst in"), *numbers("value", "limit"), *words("verdict", "means"))
    return HtmlTable("Self-checks, the worst of each", headings, rows)


def sources(rows: Iterable[CheckResult]) -> HtmlTable:
    """Return where each check's rule stands."""
    found = dict.fromkeys((row.check.words, row.source) for row in rows)
    return HtmlTable("Sources of the checks", words("check", "source"), tuple(found))


def remarks(results: Results) -> Sequence[tuple[str, str]]:
    """Return what was taken on the safe side and what no answer covers, once each."""
    return tuple(dict.fromkeys((each.subject, each.reason) for each in results.remarks))
