"""Splices of two members: what a file may say of them."""

from __future__ import annotations

from framecheck.model.shapes import Side
from framecheck.model.splices import Hold
from framecheck.reading.blocks.common import LENGTH, LENGTH_OR_ZERO, POSITIVE_LENGTH, THICKNESS
from framecheck.reading.blocks.joint_parts import BOLT
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import Choice, NameOf, Words, YesNo, choice_of

POINT_NAME = Words("a name without commas")
"""Points at the splice are called by its name."""
MEMBER_WALLS = Choice({each.value: each for each in Side})
SPLICE_WELDS = choice_of(Hold, Hold.BEARING)
PLUGS = Form(
    "splice plugs",
    "Plug welds that hold one lapped tube to the other: a row of them on each wall that is named.",
    (
        Field(
            "on", ListOf(MEMBER_WALLS, 1, 4), "walls of the first member", (), "both sides; side by side: those that touch"
        ),
        Field("along", ListOf(LENGTH, 1, 40), "of each from the middle of the lap, toward the first member's end"),
        Field("aside", LENGTH, "of the row from the wall's middle line", 0.0, "0, in the middle of the wall"),
        Field("diameter", POSITIVE_LENGTH, "of the plug"),
    ),
    "{on: [left, right], along: [-120 mm, -40 mm, 40 mm, 120 mm], diameter: 16 mm}",
)
SPLICE_BOLTS = Form(
    "splice bolts",
    "Bolts through the lapped walls: a row of them on each wall that is named.",
    (
        *PLUGS.fields[:3],
        Field("edge", POSITIVE_LENGTH, "least distance from a hole's middle to an edge", None, "not known"),
        Field("bolt", BOLT, "each of them"),
    ),
    "{on: [left, right], along: [-3 in, 0 in, 3 in], bolt: {thread: 1/2-13, grade: grade 8}}",
)
FISH_PLATES = Form(
    "fish plates",
    "Plates over the butt of two tubes, one on each wall that is named, welded to both tubes along their edges and square ends."
    " What they stiffen beside the butt is not counted.",
    (
        Field("on", ListOf(MEMBER_WALLS, 1, 4), "walls of the first member", (), "both sides"),
        Field("length", POSITIVE_LENGTH, "of each, half of it on either tube"),
        Field("height", POSITIVE_LENGTH, "of each, across the tubes"),
        Field("thickness", THICKNESS, "of each"),
        Field("taper", LENGTH_OR_ZERO, "length of each of its pointed ends", 0.0, "0, cut square"),
        Field("material", NameOf("material"), "of each", None, "that of the first member"),
    ),
    "{on: [left, right], length: 12 in, height: 3 in, thickness: 1/4 in, taper: 3 in}",
)
SPLICE = Form(
    "splice",
    "Two box tubes that lap, side by side or one in the other: draw both members as long as they are. How far they lap, and how,"
    " follows from where they lie; a shell model gives how much they give to each other. Or two that meet end to end at a point of"
    " both, welded all round, under fish plates, or both.",
    (
        Field("name", POINT_NAME, "of the splice"),
        Field("members", ListOf(NameOf("member"), 2, 2), "the two that lap"),
        Field(
            "welds",
            ListOf(SPLICE_WELDS, 1, 3),
            "along the edges or across the ends of walls that touch; round the mouth of the outer tube; all round a butt",
            (),
            "none",
        ),
        Field("plugs", PLUGS, "plug welds", None, "none"),
        Field("bolts", SPLICE_BOLTS, "bolts, in place of plugs", None, "none"),
        Field("plates", FISH_PLATES, "over the butt of tubes that meet end to end", None, "none"),
        Field("bears", YesNo(), "whether one tube fits in the other without play, and presses on it at both ends", False, "no"),
        Field("leg", POSITIVE_LENGTH, "of the welds: a fillet's, or its like in throat", None, "not known"),
        Field("electrode", NameOf("electrode"), "E70 ...: a row of shared/welds.yaml", "E70", "E70"),
    ),
    "{name: rail lap, members: [front rail, rear rail], welds: [along the edges], leg: 3 mm}",
)
