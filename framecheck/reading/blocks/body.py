"""A body told by its stiffness alone."""

from __future__ import annotations

from framecheck.reading.blocks.common import SOURCE
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import AllowedSign, NameOf, QuantityKind

TURNING, PUSHING = QuantityKind("turning stiffness", AllowedSign.NOT_NEGATIVE), QuantityKind("stiffness", AllowedSign.NOT_NEGATIVE)
STATED_BODY = Form(
    "stated body",
    "A body that is not drawn: its stiffness, measured or stated, beside the drawn members. Least and most are both solved, and each"
    " check takes the worse, for what is stiff draws load to where it is held. Not known at all: a least of 0 and the most likely.",
    (
        Field(
            "corners", ListOf(NameOf("point"), 4, 4), "left front, right front, left rear, right rear: where it is held"
        ),
        Field(
            "middle",
            ListOf(NameOf("point"), 2, 2),
            "left and right, where its bending was measured",
            (),
            "no bending stiffness",
        ),
        Field(
            "torsion",
            ListOf(TURNING, 1, 2, lone=True, alike=True),
            "couple per angle, front to rear: one, or least and most",
        ),
        Field(
            "bending",
            ListOf(PUSHING, 1, 2, lone=True, alike=True),
            "force at `middle` per movement: one, or both",
            (),
            "none",
        ),
        Field("source", SOURCE, "who measured or stated it"),
    ),
)
