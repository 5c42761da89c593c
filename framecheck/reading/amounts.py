"""Amounts of any kind as number and unit, where the field's own kind isn't known: ends of a range, a tolerance."""

from __future__ import annotations

from framecheck.errors import InputError
from framecheck.model.study import Range
from framecheck.units import AMOUNT, FEET_AND_INCHES, GAUGE, LENGTHS, Gauges, number_of, refusal, to_si

MILLIMETRE = "mm"


def amount_of(text: str, gauges: Gauges) -> tuple[float, str]:
    """Return number and unit of "3 mm", "1 1/2 in" or "1.5" as written; of "14 ga tube" or "2 ft 6 in" in millimetres."""
    matched = AMOUNT.fullmatch(text)
    if matched is None:
        raise refusal(f"'{text}' is not an amount", "write a number with its unit, such as 3 mm, or a plain number")
    if GAUGE.fullmatch(text) or FEET_AND_INCHES.fullmatch(text):
        return to_si(text, "thickness", gauges) * 1e3, MILLIMETRE
    unit = " ".join(matched[2].split())
    if unit[:1].isdigit() or unit[:1] in {",", "/"}:
        raise refusal(f"'{text}' is not an amount", "write a number with its unit, such as 3 mm, or a plain number")
    return number_of(matched[1]), unit


def range_of(low: str, high: str, gauges: Gauges) -> Range:
    """Return a range in the unit of both ends, in millimetres where two lengths are written in different ones."""
    (least, unit), (most, other) = amount_of(low, gauges), amount_of(high, gauges)
    if unit != other:
        least, most, unit = in_millimetres(low, unit, gauges), in_millimetres(high, other, gauges), MILLIMETRE
    if not least < most:
        raise refusal(f"the range from {low} to {high} is empty", "write the smaller end first")
    return Range(least, most, unit)


def in_millimetres(text: str, unit: str, gauges: Gauges) -> float:
    """Return a length in mm; InputError where the two ends of a range differ in kind."""
    if unit not in LENGTHS:
        raise refusal(f"'{text}' and the other end have different units", "write both ends with the same unit")
    return to_si(text, "thickness", gauges) * 1e3


def share_or_amount(text: str, gauges: Gauges) -> tuple[float, str | None]:
    """Return a deviation: a share ("5 %") with None, or an amount with its unit."""
    value, unit = amount_of(text, gauges)
    if value <= 0:
        raise refusal(f"'{text}' spreads nothing", "write a share or an amount above zero")
    return (value / 100, None) if unit == "%" else (value, unit)


def first_fault(error: InputError) -> tuple[str, str]:
    """Return fault and remedy of an error's first fault."""
    return error.faults[0].fault, error.faults[0].remedy
