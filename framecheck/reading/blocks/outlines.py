"""Blocks of sections drawn as outlines."""

from __future__ import annotations

from enum import Enum

from framecheck.reading.blocks.common import LENGTH, POSITIVE_LENGTH
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import TextKind, choice_of


class DrawingUnit(Enum):
    """What a drawing's numbers measure."""

    MM = "mm"
    CM = "cm"
    M = "m"
    IN = "in"
    FT = "ft"


CORNER = Form(
    "corner",
    "A corner of an outline.",
    (Field("y", LENGTH, "to the left"), Field("z", LENGTH, "up")),
)


LOOP = ListOf(CORNER, 3, 500)


OUTLINE: tuple[Field, ...] = (
    Field("corners", LOOP, "round the outside, in order; the last is joined to the first", None, "see `drawing`"),
    Field("holes", ListOf(LOOP, 0, 20), "round each hollow inside it", (), "none"),
    Field(
        "drawing", TextKind("the name of a DXF file"), "beside the case file, in place of `corners`", None, "see `corners`"
    ),
    Field(
        "unit",
        choice_of(DrawingUnit),
        "of the drawing's numbers; its header is not trusted",
        None,
        "needed with `drawing`",
    ),
    Field("tolerance", POSITIVE_LENGTH, "ends in the drawing that are nearer to each other are joined", 1e-4, "0.1 mm"),
)
