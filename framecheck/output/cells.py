"""Values of a table as words for people: one rule a quantity, the same on every screen and page."""

from __future__ import annotations

from math import ceil

from framecheck.model.said import Said
from framecheck.output.display import Units, bare, factor, number, shown_unit, spoken
from framecheck.results.places import Near
from framecheck.results.row import Grade
from framecheck.results.tables import Column, ResultTable, Scope, Value
from framecheck.vehicle.clearance import GapState

NONE = "-"
NOISE = {"deflection": 1e-9, "station": 1e-7, "mass": 1e-9}
"""What is smaller is rounding, and shown as 0; SI."""


def cell(value: Value, column: Column, units: Units) -> str:
    """Return one value as shown."""
    if value is None or (isinstance(value, tuple) and not value):
        return NONE
    if isinstance(value, (Grade, GapState, Scope)):
        return str(value.value)
    if isinstance(value, Said):
        return spoken(value, units)
    if isinstance(value, Near):
        return near_words(value, units)
    if isinstance(value, tuple):
        return " ".join(side.value for side in value)
    if isinstance(value, str):
        return value
    return amount(value, column.quantity, units)


def amount(value: float, quantity: str, units: Units) -> str:
    """Return a number as its quantity is shown; shares in per cent, rounded up so that they never look better than they are."""
    if quantity == "share":
        return percent(value)
    if quantity == "factor":
        return factor(value)
    shown = 0.0 if abs(value) < NOISE.get(quantity, 0.0) else value
    if quantity == "station":
        return station_text(shown, units)
    return bare(shown, quantity, units)


def station_text(station: float, units: Units) -> str:
    """Return a length along a member: whole millimetres, or tenths of an inch."""
    size = shown_unit("station", units).size
    return f"{station / size:.0f}" if units is Units.SI else f"{station / size:.1f}"


def percent(share: float) -> str:
    """Return a share in whole per cent, rounded up."""
    return ">9999 %" if share >= 99.99 else f"{ceil(100 * share - 1e-6)} %"


def near_words(near: Near, units: Units) -> str:
    """Return a place by its nearest named point: "at left front arm front", "120 mm behind left spring eye"."""
    if near.way is None:
        return f"at {near.point}"
    unit = shown_unit("station", units)
    return f"{number(near.distance / unit.size, 3)} {unit.label} {near.way.value} {near.point}"


def heading(column: Column, units: Units) -> str:
    """Return a column's heading with the unit in which it is shown."""
    if column.quantity in ("", "share", "factor", "near", "sides"):
        return column.heading
    return f"{column.heading}, {shown_unit(column.quantity, units).label}"


def is_number(column: Column) -> bool:
    """Return whether the cells of a column are numbers, which stand right."""
    return column.quantity not in ("", "near", "sides")


def texts(table: ResultTable, units: Units) -> tuple[tuple[str, ...], ...]:
    """Return the cells of a table as shown."""
    return tuple(
        tuple(cell(value, column, units) for value, column in zip(row, table.columns, strict=True))
        for row in table.rows
    )


def without(table: ResultTable, *keys: str) -> ResultTable:
    """Return a table without some columns, where there is no room for them."""
    kept = [number for number, column in enumerate(table.columns) if column.key not in keys]
    rows = tuple(tuple(row[number] for number in kept) for row in table.rows)
    return ResultTable(table.name, table.caption, tuple(table.columns[number] for number in kept), rows)
