"""What the joints ask of the shop, as cells: torques, legs, sleeves, doublers."""

from __future__ import annotations

from framecheck.output.display import QUANTITIES, Units, with_unit
from framecheck.results.row import Sizing
from framecheck.run import Results

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
