"""What a page says of a gap: how wide it is today, what is left and asked of it, and between which places it is."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.case import Case
from framecheck.model.vehicle import BodyPlace, Spot, VehiclePlace, WheelPlace
from framecheck.output.display import Units, with_unit
from framecheck.results.row import CheckResult
from framecheck.vehicle.clearance import where


def gap_facts(case: Case, row: CheckResult, units: Units) -> Iterator[tuple[str, str]]:
    """Yield what a gap measures: today, asked, left, and between which places."""
    gaps = () if case.vehicle is None else case.vehicle.clearances
    for gap in (each for each in gaps if each.name == row.subject.name):
        yield f"gap today, {gap.measured.value}", with_unit(gap.gap, "deflection", units)
        yield "left", with_unit(row.capacity, "deflection", units) if row.capacity > 0 else "none: the parts touch"
        yield "asked", with_unit(row.demand, "deflection", units)
        for name, spot in (("from", gap.first), ("to", gap.second)):
            yield name, "what stays still" if spot is None else spot_words(case, spot, units)


def spot_words(case: Case, spot: Spot, units: Units) -> str:
    """Return what a place is fixed to, and where it is."""
    x, y, z = (with_unit(each, "length", units) for each in where(spot, case.frame.points))
    match spot:
        case BodyPlace(body=name) | WheelPlace(wheel=name) | VehiclePlace(point=name):
            return f"{name}, x {x}, y {y}, z {z}"
