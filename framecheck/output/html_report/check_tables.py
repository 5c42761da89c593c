"""Checks other than yield as tables, each kind of thing by itself, the governing mode first."""

from __future__ import annotations

from collections.abc import Iterable

from framecheck.output.cells import without
from framecheck.output.display import Units
from framecheck.output.html_report.table import Table, numbers, shown, words
from framecheck.output.shop_rows import HEADINGS, TITLE, shop_rows
from framecheck.results.row import Check, CheckResult, worst_by
from framecheck.results.subjects import Thing
from framecheck.results.tables import checks_table, modes_table, rows_table
from framecheck.run import Results

TOLD = frozenset((
    Thing.JOINT, Thing.MEMBER_END, Thing.KINK, Thing.CUT, Thing.PLATE, Thing.MEMBER, Thing.SEAM, Thing.DETAIL, Thing.CLEARANCE
))  # fmt: skip
"""Things that have a table of their own."""


def joints(results: Results, units: Units) -> Table:
    """Return the mode that governs each joint."""
    return worst("Joints: the mode that governs each", of(results, Thing.JOINT), results, units)


def ends_judged(results: Results, units: Units) -> Table:
    """Return the worst of each check of each member end: the wall under it and its weld."""
    return each_check("Member ends: the wall under each, and its weld", of(results, Thing.MEMBER_END), results, units)


def kinks(results: Results, units: Units) -> Table:
    """Return the worst of each kink."""
    return worst("Kinks", of(results, Thing.KINK), results, units)


def others(results: Results, units: Units) -> Table:
    """Return the worst of each check of what has no table of its own: bolt holes, straps, the frame as a whole."""
    rows = [row for row in results.rows if row.subject.thing not in TOLD and row.check is not Check.CLEARANCE]
    return each_check("Holes, straps, the frame as a whole", rows, results, units)


def shop(results: Results, units: Units) -> Table:
    """Return what the joints ask of the shop."""
    return Table(TITLE, (*words(*HEADINGS[:2]), *numbers(*HEADINGS[2:])), shop_rows(results, units))


def joint_modes(results: Results, units: Units) -> Table:
    """Return every mode of every joint."""
    return modes("Joints: every mode", of(results, Thing.JOINT), results, units)


def notches(results: Results, units: Units) -> Table:
    """Return every mode of every notch."""
    return modes("Notches", of(results, Thing.CUT), results, units)


def plates(results: Results, units: Units) -> Table:
    """Return every mode of every skid plate."""
    return modes("Skid plates", of(results, Thing.PLATE), results, units)


def member_checks(results: Results, units: Units) -> Table:
    """Return the row that governs each member besides yield: buckling, permanent set."""
    return worst("Members besides yield: what governs each", of_members(results), results, units)


def every_member_check(results: Results, units: Units) -> Table:
    """Return the worst row of each check of each member besides yield."""
    table = checks_table(results.outcome.case.frame, of_members(results), "members", "Members besides yield: every check")
    return shown(table, units)


def fatigue(results: Results, units: Units) -> Table:
    """Return the life of every detail."""
    return worst("Fatigue", of(results, Thing.DETAIL), results, units)


def of_members(results: Results) -> list[CheckResult]:
    """Return the rows that speak of members and their seams, without yield."""
    return [row for row in results.rows if row.subject.thing in (Thing.MEMBER, Thing.SEAM) and row.check is not Check.YIELD]


def of(results: Results, thing: Thing) -> list[CheckResult]:
    """Return the rows that speak of one kind of thing."""
    return [row for row in results.rows if row.subject.thing is thing]


def worst(caption: str, rows: Iterable[CheckResult], results: Results, units: Units) -> Table:
    """Return the worst row of each thing."""
    chosen = worst_by(rows, lambda row: row.subject).values()
    return shown(rows_table(results.outcome.case.frame, chosen, "checks", caption), units)


def each_check(caption: str, rows: Iterable[CheckResult], results: Results, units: Units) -> Table:
    """Return the worst row of each check of each thing."""
    chosen = worst_by(rows, lambda row: (row.subject, row.check)).values()
    whole = rows_table(results.outcome.case.frame, chosen, "checks", caption)
    return shown(without(whole, "station_m", "near", "sides"), units)


def modes(caption: str, rows: Iterable[CheckResult], results: Results, units: Units) -> Table:
    """Return the worst row of each mode, thing by thing."""
    return shown(modes_table(results.outcome.case.frame, rows, "modes", caption), units)
