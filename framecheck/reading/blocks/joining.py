"""How member ends, seams of built-up sections and splices of two members are made."""

from __future__ import annotations

from math import inf

from framecheck.model.frame import EndWarping, Make
from framecheck.model.joining import CONTINUOUS, LEAST_PLATE, Cap, EndFinish, GussetPlace, LapHold
from framecheck.model.shapes import Side
from framecheck.reading.blocks.common import (
    LENGTH,
    LENGTH_OR_ZERO,
    OFFSET,
    POSITIVE_LENGTH,
    SPRING,
    THICKNESS,
    TURNING_SPRING,
)
from framecheck.reading.blocks.joint_parts import BOLT
from framecheck.reading.diagnostics import MISSING, Diagnostics, Missing
from framecheck.reading.form import Either, Field, Form, ListOf
from framecheck.reading.kinds import AllowedSign, Choice, JsonSchema, NameOf, QuantityKind, TextKind, YesNo, choice_of
from framecheck.reading.yamltext import Node, described
from framecheck.value_class import value_class


@value_class
class CapKind:
    """How a member's own end is finished: open, runs on, or closed by a plate of a thickness."""

    amount: QuantityKind = QuantityKind("thickness", AllowedSign.POSITIVE, {"open": 0.0, "runs on": inf})

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Cap | Missing:
        """Return the finish; a plate too thin to be one is refused."""
        value = self.amount.read(node, subject, diagnostics)
        if isinstance(value, Missing):
            return MISSING
        if value == 0.0 or value == inf:
            return Cap(EndFinish.OPEN if value == 0.0 else EndFinish.RUNS_ON)
        if value < LEAST_PLATE:
            fault = f"{described(node)} is under 1 mm: no end plate"
            return diagnostics.refuse(node.line, subject, fault, "write the thickness of the plate, or `open`")
        return Cap(EndFinish.PLATE, value)

    def schema(self) -> JsonSchema:
        """Return a text with examples."""
        return self.amount.schema()

    def words(self) -> str:
        """Return what to write."""
        return self.amount.words()


MAKES = choice_of(Make, Make.GIVEN, Make.UNSAID)

END_STIFFNESS = Form(
    "end stiffness",
    "Stiffness of a member's end in the member's own axes; what is left out is rigid.",
    (
        Field("along", SPRING, "along the member", float("inf"), "rigid"),
        Field("sideways", SPRING, "sideways", float("inf"), "rigid"),
        Field("vertical", SPRING, "vertically", float("inf"), "rigid"),
        Field("twist", TURNING_SPRING, "against twisting", float("inf"), "rigid"),
        Field("bending vertically", TURNING_SPRING, "against bending vertically", float("inf"), "rigid"),
        Field("bending sideways", TURNING_SPRING, "against bending sideways", float("inf"), "rigid"),
    ),
)
GUSSETS = Form(
    "gussets",
    "A pair of triangular gussets, one each side of the member's end, in one plane with the member and what it stands on.",
    (
        Field("along rail", POSITIVE_LENGTH, "leg along what the member stands on"),
        Field("along member", POSITIVE_LENGTH, "leg along the member"),
        Field("thickness", THICKNESS, "of each"),
        Field("at", choice_of(GussetPlace), "at which height of the member", GussetPlace.MIDDLE, "middle"),
        Field("height", LENGTH, "above the member's middle, in place of `at`", None, "where `at` says"),
    ),
)
END = Form(
    "member end",
    "How a member's end is made, in full.",
    (
        Field("make", MAKES, "how it is joined", Make.UNSAID, "unsaid: both ends of the range are solved"),
        Field(
            "welded sides",
            ListOf(choice_of(Side), 1, 4),
            "the sides of the member that are welded, as seen looking along it",
            (),
            "all round",
        ),
        Field("gussets", GUSSETS, "where their sizes are known", None, "none; of `gusseted`: both ends of the range are solved"),
        Field(
            "cap",
            CapKind(),
            "of the member's own end: open, runs on beyond what is drawn, or the thickness of the plate that closes it",
            None,
            "unsaid: where another member stands near, open and closed are both solved",
        ),
        Field("stiffness", END_STIFFNESS, "in place of make, where it is known", None, "follows from make"),
        Field(
            "warping",
            choice_of(EndWarping, EndWarping.UNSAID, EndWarping.SPRING),
            "what the end does to an open section's warping",
            EndWarping.UNSAID,
            "unsaid: both ends of the range are solved",
        ),
        Field("warping stiffness", QuantityKind("warping stiffness", AllowedSign.POSITIVE), "in place of warping", None, "none"),
        Field(
            "arm",
            OFFSET,
            "rigid arm from the frame point to the member's end; one that ends within a rail goes on to the rail's face",
            None,
            "none: on a rail, to its face",
        ),
        Field("leg", POSITIVE_LENGTH, "of the fillet all round it", None, "unsaid: the leg that it needs is told"),
    ),
)
END_KIND = Either(MAKES, END)


FORCE = QuantityKind("force", AllowedSign.POSITIVE)

STITCHES = Form(
    "stitch welds",
    "Welds of one length at even distances along each seam.",
    (
        Field("length", POSITIVE_LENGTH, "of one weld"),
        Field("pitch", POSITIVE_LENGTH, "middle to middle"),
        Field("leg", POSITIVE_LENGTH, "of the fillet", None, "not known: the leg that is needed is told"),
        Field("electrode", NameOf("electrode"), "the weld metal", None, "E70"),
    ),
)
CONTINUOUS_WELD = Form(
    "continuous weld",
    "A fillet weld all along each seam, of a size that is known.",
    (
        Field("leg", POSITIVE_LENGTH, "of the fillet"),
        Field("electrode", NameOf("electrode"), "the weld metal", None, "E70"),
    ),
)
BOLT_ROW = Form(
    "bolt row",
    "Bolts, rivets or spot welds along each seam.",
    (
        Field("pitch", POSITIVE_LENGTH, "from one to the next"),
        Field("holds", FORCE, "shear strength of one", None, "not known: what one must hold is told"),
    ),
)
JOINED = Form(
    "joined",
    "How the parts of a built-up section are held together, by one of these keys.",
    (
        Field("weld", CONTINUOUS_WELD, "welded all along", None, "none"),
        Field("stitches", STITCHES, "welds with gaps", None, "none"),
        Field("bolts", BOLT_ROW, "bolts, rivets or spot welds", None, "none"),
    ),
)
HOW_JOINED = Field(
    "joined",
    Either(Choice({"welded all along": CONTINUOUS}), JOINED),
    "how the parts are held together along the member",
    CONTINUOUS,
    "welded all along",
)


POINT_NAME = TextKind("a name without commas")
"""Points at the splice are called by its name."""
MEMBER_WALLS = Choice({each.value: each for each in Side})
SPLICE_WELDS = choice_of(LapHold, LapHold.BEARING)
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
)
SPLICE_BOLTS = Form(
    "splice bolts",
    "Bolts through the lapped walls: a row of them on each wall that is named.",
    (
        *PLUGS.fields[:3],
        Field("edge", POSITIVE_LENGTH, "least distance from a hole's middle to an edge", None, "not known"),
        Field("bolt", BOLT, "each of them"),
    ),
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
)
