"""Forms that several blocks share: places, directions, stiffnesses."""

from __future__ import annotations

from math import inf

from framecheck.model.arrays import Vector
from framecheck.model.seen import Seen
from framecheck.reading.form import Field, Form, Record
from framecheck.reading.kinds import Amount, Number, Sign, Words, choice_of

LENGTH = Amount("length")
POSITIVE_LENGTH = Amount("length", Sign.POSITIVE)
LENGTH_OR_ZERO = Amount("length", Sign.NOT_NEGATIVE)
THICKNESS = Amount("thickness", Sign.POSITIVE)
MASS = Amount("mass", Sign.POSITIVE)
RATIO = Number(Sign.POSITIVE)
SHARE = Number(Sign.NOT_NEGATIVE, 1.0)
NAME = Words("a name")
SOURCE = Words("where it comes from", 400)
SEEN = Field("seen", choice_of(Seen), "from memory: nobody could open its source", Seen.OPENED, "opened")

RIGID_OR_FREE = {"rigid": inf, "free": 0.0}
SPRING = Amount("stiffness", Sign.NOT_NEGATIVE, RIGID_OR_FREE)
TURNING_SPRING = Amount("turning stiffness", Sign.NOT_NEGATIVE, RIGID_OR_FREE)

XYZ = ("x", "y", "z")

PLACE = Form(
    "place",
    "A place in the vehicle's axes: x forward, y to the left, z up, from the origin of the file.",
    (
        Field("x", LENGTH, "forward"),
        Field("y", LENGTH, "to the left", 0.0, "0"),
        Field("z", LENGTH, "up", 0.0, "0"),
    ),
    "{x: -40 in, y: 13 in, z: 22 in}",
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
    "{x: 1, z: 1}",
)

FORCE = Form(
    "force",
    "A force along the vehicle's axes; what is left out is zero.",
    tuple(
        Field(axis, Amount("force"), about, 0.0, "0") for axis, about in (("x", "forward"), ("y", "left"), ("z", "up"))
    ),
    "{z: -500 lb}",
)

MOMENT = Form(
    "moment",
    "A moment about the vehicle's axes, right-handed; what is left out is zero.",
    tuple(Field(axis, Amount("moment"), f"about {axis}", 0.0, "0") for axis in XYZ),
    "{y: 180 lb·ft}",
)

LOAD_PER_LENGTH = Form(
    "load per length",
    "A load per length along the vehicle's axes; what is left out is zero.",
    tuple(Field(axis, Amount("load per length"), f"along {axis}", 0.0, "0") for axis in XYZ),
    "{z: -20 lb/ft}",
)

GROUND_SPRINGS = Form(
    "springs to the ground",
    "Stiffness of what holds a point, by direction; what is left out is free.",
    (
        *(Field(axis, SPRING, f"along {axis}", 0.0, "free") for axis in XYZ),
        *(Field(f"turn {axis}", TURNING_SPRING, f"against turning about {axis}", 0.0, "free") for axis in XYZ),
    ),
    "{z: 200 N/mm}",
)

MOUNT_STIFFNESS = Form(
    "mount stiffness",
    "Stiffness of a rubber mount along the vehicle's axes.",
    tuple(Field(axis, Amount("stiffness", Sign.POSITIVE), f"along {axis}") for axis in XYZ),
    "{x: 300 N/mm, y: 300 N/mm, z: 600 N/mm}",
)


def vector(record: Record) -> Vector:
    """Return a record with keys x, y, z as a vector."""
    return (record["x"], record["y"], record["z"])
