"""Checks other than yield as tables, each kind of thing by itself, the governing mode first."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from framecheck.output.display import QUANTITIES, Units, bare, factor, number, with_unit
from framecheck.output.html_report.table import NONE, Table, label, numbers, words
from framecheck.output.shop_rows import HEADINGS, TITLE, shop_rows
from framecheck.output.terminal import station_cell
from framecheck.results.row import Check, CheckResult, worst_by
from framecheck.results.subjects import Thing
from framecheck.run import Results


def joints(results: Results, units: Units) -> Table:
    """Return the mode that governs each joint."""
    return worst("Joints: the mode that governs each", of(results, Thing.JOINT), units)


def shop(results: Results, units: Units) -> Table:
    """Return what the joints ask of the shop."""
    return Table(TITLE, (*words(*HEADINGS[:2]), *numbers(*HEADINGS[2:])), shop_rows(results, units))


def joint_modes(results: Results, units: Units) -> Table:
    """Return every mode of every joint."""
    return modes("Joints: every mode", of(results, Thing.JOINT), units)


def notches(results: Results, units: Units) -> Table:
    """Return every mode of every notch."""
    return modes("Notches", of(results, Thing.CUT), units)


def plates(results: Results, units: Units) -> Table:
    """Return every mode of every skid plate."""
    return modes("Skid plates", of(results, Thing.PLATE), units)


def member_checks(results: Results, units: Units) -> Table:
    """Return the row that governs each member besides yield: buckling, permanent set."""
    return worst("Members besides yield: what governs each", of_members(results), units)


def every_member_check(results: Results, units: Units) -> Table:
    """Return the worst row of each check of each member besides yield."""
    rows = worst_by(of_members(results), lambda row: (row.check, row.subject)).values()
    return listed("Members besides yield: every check", rows, units)


def fatigue(results: Results, units: Units) -> Table:
    """Return the life of every detail."""
    rows = worst_by(of(results, Thing.DETAIL), lambda row: row.subject).values()
    return listed("Fatigue", rows, units)


def of_members(results: Results) -> list[CheckResult]:
    """Return the rows that speak of members and their seams, without yield."""
    return [row for row in results.rows if row.subject.thing in (Thing.MEMBER, Thing.SEAM) and row.check is not Check.YIELD]


def of(results: Results, thing: Thing) -> list[CheckResult]:
    """Return the rows that speak of one kind of thing."""
    return [row for row in results.rows if row.subject.thing is thing]


def worst(caption: str, rows: Iterable[CheckResult], units: Units) -> Table:
    """Return the worst row of each joint."""
    return listed(caption, worst_by(rows, lambda row: row.subject).values(), units)


def modes(caption: str, rows: Iterable[CheckResult], units: Units) -> Table:
    """Return the worst row of each mode, thing by thing: that with the least margin first, its modes governing first."""
    by_thing: dict[str, list[CheckResult]] = {}
    for row in worst_by(rows, key_of_mode).values():
        by_thing.setdefault(row.where, []).append(row)
    return listed(caption, (row for each in by_thing.values() for row in each), units)


def key_of_mode(row: CheckResult) -> Hashable:
    """Return what a mode is known by: its words without numbers that change from load case to load case."""
    return (row.check, row.subject, row.mode, row.part)


def listed(caption: str, rows: Iterable[CheckResult], units: Units) -> Table:
    """Return rows as a table, with demand and capacity in shown units."""
    body = tuple(
        (
            row.where,
            row.check.words,
            row.words or NONE,
            factor(row.safety_factor),
            factor(row.target),
            row.grade.value,
            row.load_case or NONE,
            station_cell(row, units),
            demand_of_capacity(row, units),
        )
        for row in rows
    )
    headings = (
        *words("where", "check", "mode"),
        *numbers("safety factor", "target"),
        *words("verdict", "load case"),
        *numbers(f"station, {label('station', units)}"),
        *words("demand of capacity"),
    )
    return Table(caption, headings, body)


def demand_of_capacity(row: CheckResult, units: Units) -> str:
    """Return "165 of 345 MPa"; a share of what is allowed has no unit."""
    quantity = QUANTITIES.get(row.unit)
    if quantity is None:
        unit = "" if row.unit == "1" else f" {row.unit}"
        return f"{number(row.demand, 3)} of {number(row.capacity, 3)}{unit}"
    return f"{bare(row.demand, quantity, units)} of {with_unit(row.capacity, quantity, units)}"
