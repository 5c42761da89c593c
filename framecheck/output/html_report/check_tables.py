"""Checks other than yield as tables, each kind of thing by itself, the governing mode first."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from framecheck.checks.result import CheckResult
from framecheck.model.weld_joints import SpotKind
from framecheck.output.display import QUANTITIES, Units, bare, factor, number, with_unit
from framecheck.output.html_report.table import NONE, Table, label, numbers, words
from framecheck.output.shop_rows import HEADINGS, TITLE, shop_rows
from framecheck.output.terminal import station_cell
from framecheck.run import Results
from framecheck.summary import worst_by

JOINTS = frozenset(
    {"bolts", "welds", "bolts with welds", "stitch weld", "wall under bracket", "crush sleeve", "pinned sleeve"}
    | {kind.value for kind in SpotKind}
)
NOTCHES = frozenset({"notch"})
PLATES = frozenset({"plate"})
FATIGUE = frozenset({"fatigue"})
APART = JOINTS | NOTCHES | PLATES | FATIGUE | {"yield"}
"""Checks with a table of their own; any other check speaks of members."""


def joints(results: Results, units: Units) -> Table:
    """Return the mode that governs each joint."""
    return worst("Joints: the mode that governs each", of(results, JOINTS), units)


def shop(results: Results, units: Units) -> Table:
    """Return what the joints ask of the shop."""
    return Table(TITLE, (*words(*HEADINGS[:2]), *numbers(*HEADINGS[2:])), shop_rows(results, units))


def joint_modes(results: Results, units: Units) -> Table:
    """Return every mode of every joint."""
    return modes("Joints: every mode", of(results, JOINTS), units)


def notches(results: Results, units: Units) -> Table:
    """Return every mode of every notch."""
    return modes("Notches", of(results, NOTCHES), units)


def plates(results: Results, units: Units) -> Table:
    """Return every mode of every skid plate."""
    return modes("Skid plates", of(results, PLATES), units)


def member_checks(results: Results, units: Units) -> Table:
    """Return the row that governs each member besides yield: buckling, permanent set."""
    return worst("Members besides yield: what governs each", of_members(results), units)


def every_member_check(results: Results, units: Units) -> Table:
    """Return the worst row of each check of each member besides yield."""
    rows = worst_by(of_members(results), lambda row: (row.check, row.where)).values()
    return listed("Members besides yield: every check", rows, units)


def fatigue(results: Results, units: Units) -> Table:
    """Return the life of every detail."""
    rows = worst_by(of(results, FATIGUE), lambda row: (row.where, row.mode.split(":")[0])).values()
    return listed("Fatigue", rows, units)


def of_members(results: Results) -> list[CheckResult]:
    """Return the rows that speak of members, without yield and fatigue."""
    return [row for row in results.rows if row.check not in APART]


def of(results: Results, checks: frozenset[str]) -> list[CheckResult]:
    """Return the rows of some checks."""
    return [row for row in results.rows if row.check in checks]


def worst(caption: str, rows: Iterable[CheckResult], units: Units) -> Table:
    """Return the worst row of each joint."""
    return listed(caption, worst_by(rows, lambda row: row.where).values(), units)


def modes(caption: str, rows: Iterable[CheckResult], units: Units) -> Table:
    """Return the worst row of each mode, thing by thing: that with the least margin first, its modes governing first."""
    by_thing: dict[str, list[CheckResult]] = {}
    for row in worst_by(rows, key_of_mode).values():
        by_thing.setdefault(row.where, []).append(row)
    return listed(caption, (row for each in by_thing.values() for row in each), units)


def key_of_mode(row: CheckResult) -> Hashable:
    """Return what a mode is known by: its words without numbers that change from load case to load case."""
    return (row.check, row.where, row.mode.split(",")[0])


def listed(caption: str, rows: Iterable[CheckResult], units: Units) -> Table:
    """Return rows as a table, with demand and capacity in shown units."""
    body = tuple(
        (
            row.where,
            row.check,
            row.mode or NONE,
            factor(row.safety_factor),
            factor(row.target),
            row.verdict.value,
            row.load_case,
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
