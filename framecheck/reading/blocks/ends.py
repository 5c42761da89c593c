"""How a member's end is made: in a word, or in full."""

from __future__ import annotations

from math import inf

from framecheck.model.ends import LEAST_PLATE, Cap, Finish, GussetPlace
from framecheck.model.frame import EndWarping, Make
from framecheck.model.shapes import Side
from framecheck.reading.blocks.common import LENGTH, OFFSET, POSITIVE_LENGTH, SPRING, THICKNESS, TURNING_SPRING
from framecheck.reading.desk import MISSING, Desk, Missing
from framecheck.reading.form import Either, Field, Form, ListOf
from framecheck.reading.kinds import Amount, JsonSchema, Sign, choice_of
from framecheck.reading.yamltext import Node, described
from framecheck.value_class import value_class


@value_class
class CapKind:
    """How a member's own end is finished: open, runs on, or closed by a plate of a thickness."""

    amount: Amount = Amount("thickness", Sign.POSITIVE, {"open": 0.0, "runs on": inf})

    def read(self, node: Node, subject: str, desk: Desk) -> Cap | Missing:
        """Return the finish; a plate too thin to be one is refused."""
        value = self.amount.read(node, subject, desk)
        if isinstance(value, Missing):
            return MISSING
        if value == 0.0 or value == inf:
            return Cap(Finish.OPEN if value == 0.0 else Finish.RUNS_ON)
        if value < LEAST_PLATE:
            fault = f"{described(node)} is under 1 mm: no end plate"
            return desk.refuse(node.line, subject, fault, "write the thickness of the plate, or `open`")
        return Cap(Finish.PLATE, value)

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
    "{bending sideways: 20 kNm/deg}",
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
    "{along rail: 2 in, along member: 2 in, thickness: 3/16 in, at: top and bottom}",
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
        Field("warping stiffness", Amount("warping stiffness", Sign.POSITIVE), "in place of warping", None, "none"),
        Field("arm", OFFSET, "rigid arm from the frame point to the member's end", None, "none"),
        Field("leg", POSITIVE_LENGTH, "of the fillet all round it", None, "unsaid: the leg that it needs is told"),
    ),
    "{make: through both faces, warping: free}",
)
END_KIND = Either(MAKES, END)
