"""Forms that several blocks share: places, directions, stiffnesses; rows of materials and gauges."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf

from framecheck.model.arrays import Vector
from framecheck.model.shop_tables import BucklingClass, Seen
from framecheck.reading.form import Field, Form, ListOf, Record
from framecheck.reading.kinds import AllowedSign, Choice, Number, QuantityKind, TextKind, Whole, choice_of

WAYS: Mapping[str, Vector] = {
    "forward": (1.0, 0.0, 0.0),
    "rearward": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}


LENGTH = QuantityKind("length")
POSITIVE_LENGTH = QuantityKind("length", AllowedSign.POSITIVE)
LENGTH_OR_ZERO = QuantityKind("length", AllowedSign.NOT_NEGATIVE)
THICKNESS = QuantityKind("thickness", AllowedSign.POSITIVE)
MASS = QuantityKind("mass", AllowedSign.POSITIVE)
RATIO = Number(AllowedSign.POSITIVE)
SHARE = Number(AllowedSign.NOT_NEGATIVE, 1.0)
NAME = TextKind("a name")
SOURCE = TextKind("where it comes from", 400)
SEEN = Field("seen", choice_of(Seen), "from memory: nobody could open its source", Seen.OPENED, "opened")

RIGID_OR_FREE = {"rigid": inf, "free": 0.0}
SPRING = QuantityKind("stiffness", AllowedSign.NOT_NEGATIVE, RIGID_OR_FREE)
TURNING_SPRING = QuantityKind("turning stiffness", AllowedSign.NOT_NEGATIVE, RIGID_OR_FREE)

XYZ = ("x", "y", "z")

PLACE = Form(
    "place",
    "A place in the vehicle's axes: x forward, y to the left, z up, from the origin of the file.",
    (
        Field("x", LENGTH, "forward"),
        Field("y", LENGTH, "to the left", 0.0, "0"),
        Field("z", LENGTH, "up", 0.0, "0"),
    ),
)

OFFSET = Form(
    "offset",
    "A step from one place to another along the vehicle's axes; what is left out is zero.",
    (
        Field("x", LENGTH, "forward", 0.0, "0"),
        Field("y", LENGTH, "to the left", 0.0, "0"),
        Field("z", LENGTH, "up", 0.0, "0"),
    ),
)

DIRECTION = Form(
    "direction",
    "A direction in the vehicle's axes, by plain numbers; its length does not matter.",
    (
        Field("x", Number(), "forward", 0.0, "0"),
        Field("y", Number(), "to the left", 0.0, "0"),
        Field("z", Number(), "up", 0.0, "0"),
    ),
)

FORCE = Form(
    "force",
    "A force along the vehicle's axes; what is left out is zero.",
    tuple(
        Field(axis, QuantityKind("force"), about, 0.0, "0") for axis, about in (("x", "forward"), ("y", "left"), ("z", "up"))
    ),
)

MOMENT = Form(
    "moment",
    "A moment about the vehicle's axes, right-handed; what is left out is zero.",
    tuple(Field(axis, QuantityKind("moment"), f"about {axis}", 0.0, "0") for axis in XYZ),
)

LOAD_PER_LENGTH = Form(
    "load per length",
    "A load per length along the vehicle's axes; what is left out is zero.",
    tuple(Field(axis, QuantityKind("load per length"), f"along {axis}", 0.0, "0") for axis in XYZ),
)

GROUND_SPRINGS = Form(
    "springs to the ground",
    "Stiffness of what holds a point, by direction; what is left out is free.",
    (
        *(Field(axis, SPRING, f"along {axis}", 0.0, "free") for axis in XYZ),
        *(Field(f"turn {axis}", TURNING_SPRING, f"against turning about {axis}", 0.0, "free") for axis in XYZ),
    ),
)

MOUNT_STIFFNESS = Form(
    "mount stiffness",
    "Stiffness of a rubber mount along the vehicle's axes.",
    tuple(Field(axis, QuantityKind("stiffness", AllowedSign.POSITIVE), f"along {axis}") for axis in XYZ),
)


def vector(record: Record) -> Vector:
    """Return a record with keys x, y, z as a vector."""
    return (record["x"], record["y"], record["z"])


METAL = Choice({"steel": "steel", "aluminium": "aluminium"})
STRESS = QuantityKind("stress", AllowedSign.POSITIVE)

MATERIAL = Form(
    "material",
    "A metal with its least strengths.",
    (
        Field("name", NAME, "as sections call it"),
        Field(
            "kind",
            METAL,
            "what welding and fatigue rules go by",
            "steel",
            "steel",
        ),
        Field("youngs modulus", STRESS, "E"),
        Field("shear modulus", STRESS, "G", None, "from E and Poisson's ratio"),
        Field("poissons ratio", Number(AllowedSign.POSITIVE, 0.5), "used where no shear modulus is given", 0.3, "0.3"),
        Field("density", QuantityKind("density", AllowedSign.POSITIVE), "mass per volume"),
        Field("yield strength", STRESS, "least yield strength"),
        Field("ultimate strength", STRESS, "least tensile strength"),
        Field("elongation", Number(AllowedSign.POSITIVE, 1.0), "at break, in 2 in", None, "not known"),
        Field("welded yield strength", STRESS, "left beside a weld", None, "welding does not lower it"),
        Field("welded ultimate strength", STRESS, "left beside a weld", None, "welding does not lower it"),
        Field("thermal expansion", QuantityKind("expansion", AllowedSign.POSITIVE), "per degree", 11.7e-6, "11.7e-6 1/K"),
        Field(
            "buckling class",
            choice_of(BucklingClass),
            "of aluminium: A heat-treated (T5, T6), B the rest",
            BucklingClass.B,
            "B, which bears less",
        ),
        Field("design share", Number(AllowedSign.POSITIVE, 1.0), "of the wall that its tubes are sold by, what counts", 1.0, "1"),
        Field("source", SOURCE, "where the numbers come from", "case file", "case file"),
        SEEN,
    ),
)
MATERIALS = ListOf(MATERIAL, 0, 500)

GAUGE = Form(
    "gauge",
    "One number on one gauge scale.",
    (
        Field("scale", TextKind("a gauge scale"), "sheet, tube ..."),
        Field("gauge", Whole(0, 50), "the number"),
        Field("thickness", THICKNESS, "of the metal that carries load"),
        Field("coated", THICKNESS, "with its zinc, as a caliper finds it", None, "it has no coat"),
        Field("source", SOURCE, "where it comes from"),
    ),
)
GAUGES = ListOf(GAUGE, 0, 500)
