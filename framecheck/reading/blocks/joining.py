"""How the parts of a built-up section are held together along the member."""

from __future__ import annotations

from framecheck.model.joining import CONTINUOUS
from framecheck.reading.blocks.common import POSITIVE_LENGTH
from framecheck.reading.form import Either, Field, Form
from framecheck.reading.kinds import Amount, Choice, NameOf, Sign

FORCE = Amount("force", Sign.POSITIVE)

STITCHES = Form(
    "stitch welds",
    "Welds of one length at even distances along each seam.",
    (
        Field("length", POSITIVE_LENGTH, "of one weld"),
        Field("pitch", POSITIVE_LENGTH, "middle to middle"),
        Field("leg", POSITIVE_LENGTH, "of the fillet", None, "not known: the leg that is needed is told"),
        Field("electrode", NameOf("electrode"), "the weld metal", None, "E70"),
    ),
    "{length: 1 in, pitch: 4 in, leg: 1/8 in}",
)
CONTINUOUS_WELD = Form(
    "continuous weld",
    "A fillet weld all along each seam, of a size that is known.",
    (
        Field("leg", POSITIVE_LENGTH, "of the fillet"),
        Field("electrode", NameOf("electrode"), "the weld metal", None, "E70"),
    ),
    "{leg: 1/8 in}",
)
BOLT_ROW = Form(
    "bolt row",
    "Bolts, rivets or spot welds along each seam.",
    (
        Field("pitch", POSITIVE_LENGTH, "from one to the next"),
        Field("holds", FORCE, "shear strength of one", None, "not known: what one must hold is told"),
    ),
    "{pitch: 4 in, holds: 1900 lb}",
)
JOINED = Form(
    "joined",
    "How the parts of a built-up section are held together, by one of these keys.",
    (
        Field("weld", CONTINUOUS_WELD, "welded all along", None, "none"),
        Field("stitches", STITCHES, "welds with gaps", None, "none"),
        Field("bolts", BOLT_ROW, "bolts, rivets or spot welds", None, "none"),
    ),
    "{stitches: {length: 1 in, pitch: 4 in}}",
)
HOW_JOINED = Field(
    "joined",
    Either(Choice({"welded all along": CONTINUOUS}), JOINED),
    "how the parts are held together along the member",
    CONTINUOUS,
    "welded all along",
)
