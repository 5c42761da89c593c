"""The report's tables of results: one function a table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from framecheck.output.cells import station_text
from framecheck.output.charts.along import COMPONENTS
from framecheck.output.display import Units, bare, with_unit
from framecheck.output.html_report.table import (
    NONE,
    Table,
    bare_forces,
    label,
    numbers,
    place,
    plain,
    shown,
    spread,
    words,
)
from framecheck.results.readings_table import readings_table
from framecheck.results.row import CheckResult
from framecheck.results.summary import load_case_rows, member_rows
from framecheck.results.tables import clearances_table, kinds_table, load_cases_table, members_table
from framecheck.run import Results
from framecheck.stress import MemberStress


def kinds(results: Results, units: Units) -> Table:
    """Return the worst row of every kind of check."""
    return shown(kinds_table(results.outcome.case.frame, results.rows), units)


def load_cases(results: Results, units: Units) -> Table:
    """Return every load case with its governing row, the governing one first."""
    return shown(load_cases_table(results.outcome.case.frame, load_case_rows(results.outcome, results.rows)), units)


def members(results: Results, units: Units) -> Table:
    """Return every member with its governing row and mass."""
    return shown(members_table(results.outcome.case.frame, member_rows(results.outcome, results.rows)), units)


def clearances(results: Results, units: Units) -> Table:
    """Return every gap in the load case that leaves least of it, the smallest first."""
    return shown(clearances_table(results.gaps), units)


def all_clearances(results: Results, units: Units) -> Table:
    """Return every gap in every load case, the smallest first."""
    return shown(clearances_table(results.gaps, every_case=True), units)


def readings(results: Results, units: Units) -> Table:
    """Return what is read at the places that the file names."""
    return shown(readings_table(results.readings, tuple(each.name for each in results.outcome.loads)), units)


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


def brackets(results: Results, units: Units) -> Table:
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
    return Table("Forces of the suspension on the frame's brackets", headings, rows)


def wheels(results: Results, units: Units) -> Table:
    """Return what the ground does to each wheel in every load case of the vehicle."""
    rows = tuple(
        (loads.loads.name, row.wheel, *bare_forces(row.force, "force", units))
        for loads in results.vehicle_loads
        for row in loads.wheels
    )
    unit = label("force", units)
    headings = (*words("load case", "wheel"), *numbers(f"forward, {unit}", f"left, {unit}", f"up, {unit}"))
    return Table("Forces of the ground on the wheels", headings, rows)


def along(stress: MemberStress, case: int, units: Units) -> Table:
    """Return a member's section forces in one load case at some of its stations: the data under the diagrams."""
    forces = [(plain(stress.forces.member_forces[:, case, column]), kind) for column, kind in COMPONENTS.values()]
    nominal = plain(stress.nominal[:, case])
    rows = tuple(
        (
            station_text(float(stress.forces.stations[i]), units),
            *(bare_forces([float(values[i])], kind, units)[0] for values, kind in forces),
            bare(float(nominal[i]), "stress", units),
        )
        for i in spread(len(stress.forces.stations))
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
    found = dict.fromkeys((row.check.words, row.source) for row in rows)
    return Table("Sources of the checks", words("check", "source"), tuple(found))


def remarks(results: Results) -> Sequence[tuple[str, str]]:
    """Return what was taken on the safe side and what no answer covers, once each."""
    return tuple(dict.fromkeys((each.subject, each.reason) for each in results.remarks))
