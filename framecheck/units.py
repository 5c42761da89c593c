"""Units: a number with its unit, as a shop writes it, to SI.

Every dimensional number carries its unit: "3 in", "1 1/2 in", "2 ft 6 in", "14 ga tube", "55 ksi", "180 lb·ft". To add a unit, add it
to its quantity's row in QUANTITIES. Factors: international yard and pound (1 in = 25.4 mm, 1 lb = 0.45359237 kg, exact), standard
gravity 9.80665 m/s2 (exact), as in NIST SP 811, appendix B.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from enum import Enum
from math import isfinite, pi

from framecheck.errors import Fault, InputError
from framecheck.value_class import value_class


class Units(Enum):
    """Which units people are shown; never what is computed."""

    SI = "si"
    US = "us"


GRAVITY = 9.80665
INCH = 0.0254
FOOT = 12 * INCH
POUND = 0.45359237
POUND_FORCE = POUND * GRAVITY
PSI = POUND_FORCE / INCH**2
DEGREE = pi / 180

Factors = Mapping[str, float]
Gauges = Mapping[tuple[str, int], float]
"""Thickness in m by scale ("sheet", "tube") and gauge number."""

LENGTHS: Factors = {
    "in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "''": INCH, "″": INCH, "”": INCH,
    "ft": FOOT, "foot": FOOT, "feet": FOOT, "'": FOOT, "′": FOOT, "’": FOOT,
    "mm": 1e-3, "cm": 1e-2, "m": 1.0, "yd": 3 * FOOT,
}  # fmt: skip
MASSES: Factors = {"kg": 1.0, "g": 1e-3, "t": 1e3, "lb": POUND, "lbs": POUND, "lbm": POUND, "oz": POUND / 16}
FORCES: Factors = {
    "N": 1.0, "kN": 1e3, "daN": 10.0, "MN": 1e6, "kgf": GRAVITY,
    "lb": POUND_FORCE, "lbs": POUND_FORCE, "lbf": POUND_FORCE, "kip": 1e3 * POUND_FORCE, "kips": 1e3 * POUND_FORCE,
}  # fmt: skip
MOMENTS: Factors = {
    "Nm": 1.0, "kNm": 1e3, "Nmm": 1e-3, "kgfm": GRAVITY,
    "lbft": POUND_FORCE * FOOT, "ftlb": POUND_FORCE * FOOT, "lbfft": POUND_FORCE * FOOT, "ftlbf": POUND_FORCE * FOOT,
    "ftlbs": POUND_FORCE * FOOT, "lbsft": POUND_FORCE * FOOT,
    "lbin": POUND_FORCE * INCH, "inlb": POUND_FORCE * INCH, "lbfin": POUND_FORCE * INCH, "inlbf": POUND_FORCE * INCH,
    "kipin": 1e3 * POUND_FORCE * INCH, "kipft": 1e3 * POUND_FORCE * FOOT,
}  # fmt: skip


@value_class
class Quantity:
    """What a number measures: its word with an article, its units in SI, and what to write, as an example."""

    words: str
    units: Factors
    example: str


def powers(power: int) -> Factors:
    """Return the units of length to a power: in2, mm4 ..."""
    return {f"{unit}{power}": LENGTHS[unit] ** power for unit in ("mm", "cm", "m", "in", "ft")}


QUANTITIES: Mapping[str, Quantity] = {
    "length": Quantity("a length", LENGTHS, "3 in, 1 1/2 in, 2 ft 6 in or 76 mm"),
    "thickness": Quantity("a thickness", LENGTHS, "1/8 in, 3 mm, 14 ga sheet or 14 ga tube"),
    "distance": Quantity("a distance", {"km": 1e3, "mi": 1609.344, "mile": 1609.344, "miles": 1609.344}, "200000 km"),
    "area": Quantity("an area", powers(2), "1.2 in2 or 770 mm2"),
    "volume": Quantity("a volume (section modulus)", powers(3), "1.5 in3 or 24 cm3"),
    "second moment": Quantity("a second moment of area", powers(4), "2.5 in4 or 104 cm4"),
    "warping": Quantity("a warping constant", powers(6), "0.6 in6 or 160 cm6"),
    "mass": Quantity("a mass", MASSES, "520 lb or 236 kg"),
    "force": Quantity("a force", FORCES, "500 lb or 2.2 kN"),
    "weight": Quantity(
        "a weight", {**{unit: size * GRAVITY for unit, size in MASSES.items()}, **FORCES}, "1800 lb, 820 kg or 8 kN"
    ),
    "stress": Quantity(
        "a stress", {"Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "N/mm2": 1e6, "psi": PSI, "ksi": 1e3 * PSI, "Msi": 1e6 * PSI},
        "46 ksi or 315 MPa",
    ),
    "moment": Quantity("a moment", MOMENTS, "180 lb·ft or 245 Nm"),
    "stiffness": Quantity(
        "a stiffness",
        {"N/m": 1.0, "N/mm": 1e3, "kN/m": 1e3, "kN/mm": 1e6, "lb/in": POUND_FORCE / INCH, "lbf/in": POUND_FORCE / INCH,
         "lb/ft": POUND_FORCE / FOOT, "kip/in": 1e3 * POUND_FORCE / INCH, "kgf/mm": GRAVITY * 1e3},
        "250 lb/in or 44 N/mm",
    ),
    "turning stiffness": Quantity(
        "a stiffness against turning",
        {f"{unit}/{angle}": size / turn for unit, size in MOMENTS.items() for angle, turn in (("deg", DEGREE), ("rad", 1.0))},
        "500 Nm/deg or 370 lb·ft/deg",
    ),
    "stiffness per length": Quantity(
        "a stiffness per length",
        {"N/mm2": 1e6, "N/mm/mm": 1e6, "N/m/m": 1.0, "kN/m/m": 1e3, "lb/in2": PSI, "lb/in/in": PSI},
        "20 N/mm/mm or 3000 lb/in/in",
    ),
    "turning stiffness per length": Quantity(
        "a stiffness against turning per length",
        {"Nm/rad/m": 1.0, "kNm/rad/m": 1e3, "Nm/deg/m": 1 / DEGREE, "lbin/rad/in": POUND_FORCE, "lbin/deg/in": POUND_FORCE / DEGREE},
        "5 kNm/rad/m or 20 lb·in/deg/in",
    ),
    "warping stiffness": Quantity(
        "a stiffness against warping",
        {"Nm3": 1.0, "kNm3": 1e3, "lbin3": POUND_FORCE * INCH**3, "lbft3": POUND_FORCE * FOOT**3},
        "2 Nm3",
    ),
    "load per length": Quantity(
        "a load per length",
        {"N/m": 1.0, "N/mm": 1e3, "kN/m": 1e3, "kgf/m": GRAVITY, "lb/in": POUND_FORCE / INCH, "lb/ft": POUND_FORCE / FOOT,
         "lbf/in": POUND_FORCE / INCH, "lbf/ft": POUND_FORCE / FOOT},
        "20 lb/ft or 300 N/m",
    ),
    "angle": Quantity("an angle", {"deg": DEGREE, "degrees": DEGREE, "°": DEGREE, "rad": 1.0}, "15 deg"),
    "speed": Quantity(
        "a speed", {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 0.44704, "ft/s": FOOT, "in/s": INCH}, "5 mph, 8 km/h or 2 m/s"
    ),
    "turning speed": Quantity("a turning speed", {"rpm": pi / 30, "1/min": pi / 30, "rad/s": 1.0}, "2500 rpm"),
    "acceleration": Quantity("an acceleration", {"g": GRAVITY, "m/s2": 1.0, "ft/s2": FOOT}, "0.8 g or 8 m/s2"),
    "power": Quantity(
        "a power", {"W": 1.0, "kW": 1e3, "hp": 550 * FOOT * POUND_FORCE, "PS": 75 * GRAVITY}, "120 hp or 90 kW"
    ),
    "temperature difference": Quantity(
        "a temperature difference",
        {"K": 1.0, "degC": 1.0, "°C": 1.0, "C": 1.0, "degF": 5 / 9, "°F": 5 / 9, "F": 5 / 9},
        "40 K, 40 degC or 72 degF",
    ),
    "expansion": Quantity(
        "a thermal expansion",
        {"1/K": 1.0, "/K": 1.0, "1/degC": 1.0, "1/degF": 1.8, "/degC": 1.0, "/degF": 1.8},
        "11.7e-6 1/K",
    ),
    "density": Quantity(
        "a density",
        {"kg/m3": 1.0, "g/cm3": 1e3, "lb/in3": POUND / INCH**3, "lb/ft3": POUND / FOOT**3},
        "7850 kg/m3",
    ),
}  # fmt: skip

DECIMAL = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
MIXED = r"[+-]?(?:\d+(?:\s+|-))?\d+\s*/\s*\d+"
NUMBER = rf"(?:{MIXED}|{DECIMAL})"
PLAIN = re.compile(rf"\s*({NUMBER})\s*")
AMOUNT = re.compile(rf"\s*({NUMBER})\s*(.*?)\s*", re.DOTALL)
FEET_AND_INCHES = re.compile(
    rf"\s*([+-]?)({DECIMAL})\s*(?:ft|foot|feet|'|′|’)[\s-]*({NUMBER})\s*(?:in|inch|inches|\"|''|″|”)\s*"
)
GAUGE = re.compile(r"\s*(\d+)\s*(?:ga\.?|gauge|gage)\b\s*(.*?)\s*")
COMMA = re.compile(r"\d,\d")
THOUSANDS = re.compile(r"\d,\d{3}(?!\d)")
NOT_FINITE = re.compile(r"\s*[+-]?\.?(?:nan|inf|infinity)\b.*", re.IGNORECASE | re.DOTALL)
JOINTS = re.compile(r"(?<=\w)(?:[\s·⋅*.]+|-)(?=\w)")
SUPERSCRIPTS = str.maketrans("²³⁴⁶", "2346")


US_WORDS = re.compile(
    r"(?<![a-z])(?:in|inch|inches|ft|foot|feet|lbs?|lbf|lbm|oz|kips?|ksi|psi|ga|gauge|gage|mph|hp)(?![a-z])|[\"″”]", re.IGNORECASE
)
SI_WORDS = re.compile(r"(?<![A-Za-z])(?:mm|cm|m|kg|N|kN|Nm|kNm|Nmm|Pa|kPa|MPa|GPa|W|kW|km)(?![A-Za-z])")


def units_of(text: str) -> Units | None:
    """Return the units that an amount is written in; None for one that both kinds of shop write alike, such as an angle."""
    if US_WORDS.search(text):
        return Units.US
    return Units.SI if SI_WORDS.search(text) else None


def units_mostly(text: str) -> Units:
    """Return the units that most lines of a file are written in; SI where there are as many of both."""
    found = [units_of(line.partition("#")[0]) for line in text.splitlines()]
    return Units.US if found.count(Units.US) > found.count(Units.SI) else Units.SI


def to_si(text: str, quantity: str, gauges: Gauges | None = None) -> float:
    """Return the text of a quantity (a key of QUANTITIES) in SI; InputError with the fault and its remedy.

    gauges: needed to read "14 ga sheet" as a thickness.
    """
    kind = QUANTITIES[quantity]
    _refuse_strange_numbers(text, kind)
    if kind.units is LENGTHS:
        found = _feet_and_inches(text)
        if found is not None:
            return found
        gauge = GAUGE.fullmatch(text)
        if gauge:
            return _gauge(int(gauge[1]), gauge[2], gauges or {}, quantity)
    amount = AMOUNT.fullmatch(text)
    if amount is None:
        raise refusal(f"'{text}' is not {kind.words}", f"write a number with its unit, such as {kind.example}")
    return _finite(text, number_of(amount[1]) * _factor(text, amount[2], kind))


def number_of(text: str) -> float:
    """Return "3", "0.5", "29e6", "1/2" or "1 1/2" as a number."""
    if "/" not in text:
        return float(text)
    *whole, top, bottom = re.split(r"[\s/]+|(?<=\d)-", text.strip())
    if float(bottom) == 0:
        raise refusal(f"'{text}' divides by zero", "write a fraction such as 1/2")
    size = abs(float(top)) / float(bottom) + (abs(float(whole[0])) if whole else 0.0)
    return -size if text.lstrip().startswith("-") else size


def plain_number(text: str) -> float:
    """Return a number without a unit: "1.5", "3/4", "80 %"; InputError where it is none."""
    _refuse_strange_numbers(text, Quantity("a plain number", {}, "1.5"))
    share = text.strip().removesuffix("%")
    matched = PLAIN.fullmatch(share)
    if matched is None:
        raise refusal(f"'{text}' is not a plain number", "write a number without a unit, such as 1.5")
    return _finite(text, number_of(matched[1]) / (100 if share != text.strip() else 1))


def refusal(fault: str, remedy: str) -> InputError:
    """Return an input error without a place; whoever reads the file adds it."""
    return InputError([Fault("", "", fault, remedy)])


def _refuse_strange_numbers(text: str, kind: Quantity) -> None:
    if NOT_FINITE.fullmatch(text):
        raise refusal(f"'{text}' is not a finite number", f"write {kind.words} such as {kind.example}")
    if COMMA.search(text):
        point = f"'{text.replace(',', '.')}'"
        if not THOUSANDS.search(text):
            raise refusal(f"the comma in '{text}' is not read as a point", f"write {point}")
        both = f"{point} (a decimal) or '{text.replace(',', '')}' (thousands)"
        raise refusal(f"the comma in '{text}' can be read two ways", f"write {both}")


def _finite(text: str, value: float) -> float:
    if not isfinite(value):
        raise refusal(f"'{text}' is too large a number", "write a smaller one")
    return value


def _feet_and_inches(text: str) -> float | None:
    """Return "2 ft 6 in" or 2' 6" in m, None where the text is no such pair."""
    matched = FEET_AND_INCHES.fullmatch(text)
    if matched is None:
        return None
    size = abs(float(matched[2])) * FOOT + abs(number_of(matched[3])) * INCH
    return -size if (matched[1] + matched[2]).startswith("-") else size


def _gauge(number: int, scale: str, gauges: Gauges, quantity: str) -> float:
    if quantity != "thickness":
        raise refusal(f"a gauge is a thickness, and a {quantity} is due here", "write it in in or mm")
    if (scale, number) not in gauges:
        raise _gauge_refusal(number, scale, gauges)
    return gauges[scale, number]


def _gauge_refusal(number: int, scale: str, gauges: Gauges) -> InputError:
    """Return what is wrong with a gauge, and what it is on each scale."""
    scales = sorted({name for name, _ in gauges})
    sizes = {name: gauges[name, number] / INCH for name in scales if (name, number) in gauges}
    offered = " or ".join(f"'{number} ga {name}' ({size:.4f} in)" for name, size in sizes.items())
    remedy = f"write {offered}" if offered else f"write it in in or mm; gauge scales are: {', '.join(scales)}"
    if not scale:
        return refusal(f"'{number} ga' is a different thickness on each scale", remedy)
    if scale in scales:
        return refusal(f"the scale '{scale}' has no {number} gauge", remedy)
    return refusal(f"'{scale}' is not a gauge scale", remedy)


def _factor(text: str, unit: str, kind: Quantity) -> float:
    if not unit:
        raise refusal(f"'{text}' has no unit", f"write {kind.words} with its unit, such as {kind.example}")
    plain = JOINTS.sub("", unit.translate(SUPERSCRIPTS).replace("^", "")).replace(" ", "")
    if plain in kind.units:
        return kind.units[plain]
    alike = {size for name, size in kind.units.items() if name.lower() == plain.lower()}
    if len(alike) == 1:
        return alike.pop()
    raise refusal(f"'{unit}' is not a unit of {kind.words.split(' ', 1)[1]}", _unit_remedy(plain, unit, kind))


def _unit_remedy(plain: str, unit: str, kind: Quantity) -> str:
    near = get_close_matches(plain, kind.units, n=1, cutoff=0.75)
    measures = [each.words for each in QUANTITIES.values() if plain in each.units]
    if near:
        return f"did you mean '{near[0]}'?"
    if measures:
        return f"'{unit}' measures {measures[0]}; write {kind.words} such as {kind.example}"
    return f"write {kind.words} such as {kind.example}"
