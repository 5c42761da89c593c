"""Units against NIST SP 811 (2008), appendix B, from memory, where not said otherwise; shop forms by hand."""

from __future__ import annotations

from math import pi

import pytest

from framecheck.errors import InputError
from framecheck.units import plain_number, to_si

GAUGES = {("sheet", 14): 0.0747 * 0.0254, ("tube", 14): 0.083 * 0.0254}

NIST = [
    ("1 in", "length", 2.54e-2),
    ("1 ft", "length", 3.048e-1),
    ("1 mi", "distance", 1.609344e3),
    ("1 lb", "mass", 4.5359237e-1),
    ("1 oz", "mass", 2.834952e-2),
    ("1 lbf", "force", 4.448222),
    ("1 lb", "force", 4.448222),
    ("1 kip", "force", 4.448222e3),
    ("1 kgf", "force", 9.80665),
    ("1 psi", "stress", 6.894757e3),
    ("1 ksi", "stress", 6.894757e6),
    ("1 lbf·ft", "moment", 1.355818),
    ("1 lbf·in", "moment", 1.129848e-1),
    ("1 lb/ft", "load per length", 1.459390e1),
    ("1 lb/in", "stiffness", 1.751268e2),
    ("1 in2", "area", 6.4516e-4),
    ("1 in3", "volume", 1.638706e-5),
    ("1 in4", "second moment", 4.162314e-7),
    ("1 hp", "power", 7.456999e2),
    ("1 mph", "speed", 4.4704e-1),
    ("1 km/h", "speed", 2.777778e-1),
    ("1 rpm", "turning speed", 1.047198e-1),
    ("1 deg", "angle", 1.745329e-2),
    ("1 lb/in3", "density", 2.767990e4),
    ("1 g", "acceleration", 9.80665),
    ("9 degF", "temperature difference", 5.0),
]


@pytest.mark.parametrize(("text", "quantity", "expected"), NIST)
def test_factors_are_those_of_the_standard(text: str, quantity: str, expected: float) -> None:
    """To the seven digits printed there."""
    assert to_si(text, quantity) == pytest.approx(expected, rel=5.1e-7)


SHOP = [
    ("3 in", 3.0),
    ('3"', 3.0),
    ("3.0in", 3.0),
    ("1/8 in", 0.125),
    ("1 1/2 in", 1.5),
    ("1-1/2 in", 1.5),
    ("-1 1/2 in", -1.5),
    ("2 ft 6 in", 30.0),
    ("2' 6\"", 30.0),
    ("2'-6 1/2\"", 30.5),
    ("-2 ft 6 in", -30.0),
    ("76.2 mm", 3.0),
    ("7.62 cm", 3.0),
    ("0.0762 m", 3.0),
    ("3e0 in", 3.0),
    (".5 in", 0.5),
    ("3 IN", 3.0),
]


@pytest.mark.parametrize(("text", "inches"), SHOP)
def test_lengths_as_a_shop_writes_them(text: str, inches: float) -> None:
    assert to_si(text, "length") == pytest.approx(inches * 0.0254, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["180 lb·ft", "180 lb-ft", "180 lb ft", "180 lbf*ft", "180 ft·lb", "180 ft-lbs", "180 ft lbf"]
)
def test_torques_as_a_shop_writes_them(text: str) -> None:
    """180 x 1.355818 Nm."""
    assert to_si(text, "moment") == pytest.approx(180 * 1.355818, rel=1e-6)


@pytest.mark.parametrize("text", ["12 in2", "12 in²", "12 in^2"])
def test_powers_as_people_write_them(text: str) -> None:
    assert to_si(text, "area") == pytest.approx(12 * 0.0254**2, rel=1e-12)


def test_stiffness_against_turning_is_per_radian_inside() -> None:
    assert to_si("500 Nm/deg", "turning stiffness") == pytest.approx(500 * 180 / pi)
    assert to_si("1 lb·ft/deg", "turning stiffness") == pytest.approx(1.355818 * 180 / pi, rel=1e-6)


def test_a_weight_may_be_read_off_a_scale() -> None:
    assert to_si("100 kg", "weight") == pytest.approx(980.665)
    assert to_si("100 lb", "weight") == pytest.approx(444.8222, rel=1e-6)
    assert to_si("100 N", "weight") == 100.0


def test_a_gauge_needs_its_scale() -> None:
    """0.0747 in (sheet) and 0.083 in (tube): four published tables."""
    assert to_si("14 ga sheet", "thickness", GAUGES) == pytest.approx(0.0747 * 0.0254)
    assert to_si("14 gauge tube", "thickness", GAUGES) == pytest.approx(0.083 * 0.0254)
    assert refused("14 ga", "thickness").startswith(
        "'14 ga' is a different thickness on each scale; write '14 ga sheet'"
    )
    assert refused("14 ga stove", "thickness").startswith("'stove' is not a gauge scale; write '14 ga sheet'")
    assert refused("15 ga tube", "thickness").startswith("the scale 'tube' has no 15 gauge")
    assert refused("14 ga sheet", "length") == "a gauge is a thickness, and a length is due here; write it in in or mm"


def refused(text: str, quantity: str) -> str:
    """Return what is said about a text."""
    with pytest.raises(InputError) as caught:
        to_si(text, quantity, GAUGES)
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("3", "'3' has no unit"),
        ("in", "'in' is not a length"),
        ("3 kgs", "'kgs' is not a unit of length"),
        ("3 in 4", "'in 4' is not a unit of length"),
        ("1,5 in", "the comma in '1,5 in' is not read as a point; write '1.5 in'"),
        ("1,500 in", "the comma in '1,500 in' can be read two ways; write '1.500 in' (a decimal) or '1500 in' (thousands)"),
        ("1/0 in", "'1/0' divides by zero"),
        ("nan in", "'nan in' is not a finite number"),
        ("-.inf in", "'-.inf in' is not a finite number"),
        ("1e400 in", "'1e400 in' is too large a number"),
        ("", "'' is not a length"),
    ],
)
def test_what_is_no_length_says_why(text: str, fault: str) -> None:
    assert refused(text, "length").startswith(fault)


def test_a_near_miss_is_offered() -> None:
    assert refused("3 inchs", "length").endswith("did you mean 'inches'?")
    assert refused("3 kips/in", "stiffness").endswith("did you mean 'kip/in'?")


def test_plain_numbers() -> None:
    assert [plain_number(text) for text in ("1.5", "29e6", "1e-3", "3/4", "80 %", "-2")] == [
        1.5,
        29e6,
        1e-3,
        0.75,
        0.8,
        -2.0,
    ]
    for text in ("1.5 in", "one", "1,5", ".nan", ""):
        with pytest.raises(InputError):
            plain_number(text)
