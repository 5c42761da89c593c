"""What a test found: the block that `framecheck test --fit --write` adds to a case."""

from __future__ import annotations

from framecheck.model.frame import Kinks, Make
from framecheck.reading.form import Field, Form, ListOf, Named
from framecheck.reading.kinds import AllowedSign, Number, QuantityKind, TextKind

FACTOR = Number(AllowedSign.POSITIVE, 100.0)
TURNING, PUSHING = QuantityKind("turning stiffness", AllowedSign.POSITIVE), QuantityKind("stiffness", AllowedSign.POSITIVE)
ENDS = {each.value: each for each in Make}
KINKS = {each.value: each for each in Kinks}
AS_MEASURED = Form(
    "as measured",
    "What a test found against the drawing: every answer is then of the frame as measured, and says what it was as drawn.",
    (
        Field("because", TextKind("which test", 400), "which test, when, by which readings"),
        Field("joints", FACTOR, "so many times as soft as drawn is every joint", 1.0, "1"),
        Field("ends", Named(FACTOR, "a kind of end"), "of one kind of end, in place of `joints`", {}, "as `joints`"),
        Field("kinks", Named(FACTOR, "a kind of kink"), "so many times as soft as drawn are kinks of one kind", {}, "as drawn"),
        Field("splices", FACTOR, "so many times as soft as drawn is every splice", 1.0, "1"),
        Field("walls", Named(FACTOR, "the name of a section"), "so many times as thick are the walls of a section", {}, "as drawn"),
        Field("panels", FACTOR, "so many times as thick acts the sheet of panels", 1.0, "1"),
        Field("modulus", FACTOR, "so many times as stiff is the metal", 1.0, "1"),
        Field("body torsion", ListOf(TURNING, 1, 2, lone=True, alike=True), "torsional stiffness of the stated body", (), "as stated"),
        Field("body bending", ListOf(PUSHING, 1, 2, lone=True, alike=True), "bending stiffness of the stated body", (), "as stated"),
    ),
)
