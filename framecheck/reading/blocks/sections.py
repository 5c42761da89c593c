"""Sections: one form for each shape. To add a shape: its dataclass in the model, a row here."""

from __future__ import annotations

from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    GivenProperties,
    Hat,
    IShape,
    OutlinePolygon,
    Pairing,
    Plated,
    RectTube,
    RoundBar,
    RoundTube,
    Side,
    Sleeve,
    Worn,
    ZShape,
)
from framecheck.reading.blocks.common import LENGTH, LENGTH_OR_ZERO, POSITIVE_LENGTH, SOURCE, THICKNESS
from framecheck.reading.blocks.joining import HOW_JOINED
from framecheck.reading.blocks.outlines import OUTLINE
from framecheck.reading.form import Either, Field, Form, ListOf, OneForm
from framecheck.reading.kinds import AllowedSign, NameOf, Number, QuantityKind, choice_of

LOSS = QuantityKind("thickness", AllowedSign.NOT_NEGATIVE)
AREA = QuantityKind("area", AllowedSign.POSITIVE)
SECOND_MOMENT = QuantityKind("second moment", AllowedSign.POSITIVE)

HEIGHT = Field("height", POSITIVE_LENGTH, "outside, top to bottom")
WIDTH = Field("width", POSITIVE_LENGTH, "outside, left to right")
WALL = Field("wall", THICKNESS, "thickness of the wall")
DESIGN_SHARE = Field(
    "design share",
    Number(AllowedSign.POSITIVE, 1.0),
    "of the wall that strength and stiffness count on, such as 0.93 where a tube is sold by its nominal wall; weight counts all",
    1.0,
    "1",
)
SHARP = "taken as 0, sharp corners, and left open"
BEND = Field("inside radius", LENGTH_OR_ZERO, "of the bends, on the inside", None, SHARP)
OUTSIDE = Field("outside radius", LENGTH_OR_ZERO, "of the corners, on the outside", None, SHARP)
RADII = (BEND, OUTSIDE)
DIAMETER = Field("diameter", POSITIVE_LENGTH, "outside")

ONE_PIECE: dict[str, tuple[type, str, tuple[Field, ...]]] = {
    "rectangular tube": (
        RectTube,
        "A box tube.",
        (
            HEIGHT,
            WIDTH,
            WALL,
            OUTSIDE,
            DESIGN_SHARE,
        ),
    ),
    "channel": (
        Channel,
        "A stamped channel, drawn as the letter C: web on the left, open to the right.",
        (
            HEIGHT,
            Field("flange", POSITIVE_LENGTH, "outside width of the flanges"),
            WALL,
            BEND,
            Field("lip", LENGTH_OR_ZERO, "outside length of the lips turned inward", 0.0, "0, no lips"),
        ),
    ),
    "angle": (
        Angle,
        "An angle, drawn as the letter L: upright on the left, foot along the bottom.",
        (HEIGHT, WIDTH, WALL, BEND),
    ),
    "hat": (
        Hat,
        "A hat, crown up, open downward.",
        (
            HEIGHT,
            Field("crown", POSITIVE_LENGTH, "outside width of the top"),
            Field("brim", POSITIVE_LENGTH, "what each foot reaches beyond the web's outside"),
            WALL,
            BEND,
        ),
    ),
    "Z": (
        ZShape,
        "A Z drawn as the letter: upper flange to the left, lower one to the right.",
        (HEIGHT, Field("flange", POSITIVE_LENGTH, "outside width of each flange, the web included"), WALL, BEND),
    ),
    "I": (
        IShape,
        "An I beam.",
        (
            HEIGHT,
            Field("width", POSITIVE_LENGTH, "of both flanges"),
            Field("web", THICKNESS, "thickness of the web"),
            Field("flange", THICKNESS, "thickness of the flanges"),
            Field("root radius", LENGTH_OR_ZERO, "of the fillets at the root", 0.0, "0"),
        ),
    ),
    "round tube": (RoundTube, "A round tube.", (DIAMETER, WALL)),
    "flat": (Flat, "A flat bar or a plate on edge, solid.", (HEIGHT, WIDTH)),
    "round bar": (RoundBar, "A round bar, solid.", (DIAMETER,)),
}

OWN_METAL = Field("material", NameOf("material"), "the metal of this part", None, "that of the section")
PIECE_FORMS = {
    word: Form(f"{word} piece", about, (*fields, OWN_METAL)) for word, (_, about, fields) in ONE_PIECE.items()
}


def piece(*words: str) -> Either:
    """Return the kind of a part of a section: the name of a section (new, worn or drilled), or one of some shapes."""
    return Either(NameOf("section"), OneForm("shape", {word: PIECE_FORMS[word] for word in words}))


BOXED_FIELDS = (
    Field("channel", piece("channel"), "the channel that is closed, new, worn or drilled"),
    Field("plate", THICKNESS, "thickness of the plate that closes it"),
    Field(
        "inset",
        LENGTH_OR_ZERO,
        "of the plate's outside face inside the flange tips (0: flush)",
        None,
        "the plate lies over the tips",
    ),
    HOW_JOINED,
)
BOXED_PIECE = Form("boxed channel piece", "A channel closed by a plate along its open side.", (*BOXED_FIELDS, OWN_METAL))
DRILLABLE = Either(
    NameOf("section"),
    OneForm(
        "shape",
        {**{word: form for word, form in PIECE_FORMS.items() if word != "round bar"}, "boxed channel": BOXED_PIECE},
    ),
)

PLATE = Form(
    "plate",
    "A doubler or fish plate flat on the outside of one side.",
    (
        Field("side", choice_of(Side), "which side"),
        Field("width", POSITIVE_LENGTH, "along that side"),
        Field("thickness", THICKNESS, "of the plate"),
        Field("offset", LENGTH, "of its middle from the middle of that side, + up or left", 0.0, "0"),
        OWN_METAL,
    ),
)
HOLE = Form(
    "hole",
    "A hole through one wall.",
    (
        Field("side", choice_of(Side), "which side"),
        Field("size", POSITIVE_LENGTH, "across: a diameter, or a slot's width"),
        Field("position", LENGTH, "of its middle from the middle of that side, + up or left", 0.0, "0"),
    ),
)
LOSSES = tuple(Field(side.value, LOSS, f"lost from the {side.value}", 0.0, "0") for side in Side)

BUILT_UP: dict[str, tuple[type, str, tuple[Field, ...]]] = {
    "boxed channel": (BoxedChannel, "A channel closed by a plate along its open side.", BOXED_FIELDS),
    "sleeve": (
        Sleeve,
        "A tube slid over another tube or over a channel.",
        (
            Field("outer", piece("rectangular tube", "round tube"), "the tube outside, new or worn"),
            Field("core", piece("rectangular tube", "round tube", "channel"), "what is inside, new or worn"),
            HOW_JOINED,
        ),
    ),
    "floor closed": (
        FloorClosed,
        "A channel or hat whose open side is closed by a floor sheet.",
        (
            Field("base", piece("channel", "hat"), "what is closed, new, worn or drilled"),
            Field("sheet", THICKNESS, "thickness of the sheet"),
            Field("overhang", LENGTH_OR_ZERO, "of the sheet beyond the piece on either side", 0.0, "0"),
            HOW_JOINED,
        ),
    ),
    "plated": (
        Plated,
        "A piece with plates on its sides.",
        (
            Field(
                "base",
                piece("rectangular tube", "channel", "hat", "I", "Z", "angle", "flat"),
                "what is plated: a piece, a boxed, floor-closed or paired one by its name; new, worn or drilled",
            ),
            Field("plates", ListOf(PLATE, 1, 12), "the plates"),
            HOW_JOINED,
        ),
    ),
    "channel pair": (
        ChannelPair,
        "Two channels: back to back, toe to toe, or the second nested in the first.",
        (
            Field("first", piece("channel"), "the first channel, new, worn or drilled"),
            Field("second", piece("channel"), "the second channel, new, worn or drilled"),
            Field("pairing", choice_of(Pairing), "how they stand to one another", Pairing.BACK_TO_BACK, "back to back"),
            HOW_JOINED,
        ),
    ),
    "worn": (
        Worn,
        "A piece with thickness lost from the outside of its walls (rust), side by side.",
        (
            Field(
                "base",
                piece(*(word for word in ONE_PIECE if word != "round bar")),
                "the piece as it was new, drilled or not; what is built up of worn pieces names them as its parts",
            ),
            *LOSSES,
            Field("bends", LOSS, "lost at the middle of each bend (thinned in forming)", 0.0, "0"),
        ),
    ),
    "drilled": (
        Drilled,
        "A piece seen where holes go through its walls: the net section there.",
        (
            Field("base", DRILLABLE, "a piece, new or worn, or a boxed, plated, floor-closed or paired one by its name"),
            Field("holes", ListOf(HOLE, 1, 50), "each through the first wall met from its side and what lies flat behind it"),
        ),
    ),
}

GIVEN = Form(
    "shear centre",
    "Where the shear centre is, from the centroid.",
    (Field("y", LENGTH, "to the left", 0.0, "0"), Field("z", LENGTH, "up", 0.0, "0")),
)
FIBRES = Form(
    "fibres",
    "Distances of the outermost fibres from the centroid.",
    tuple(Field(side.value, POSITIVE_LENGTH, f"to the {side.value}") for side in Side),
)
GIVEN_PROPERTIES: tuple[Field, ...] = (
    Field("area", AREA, "of the section"),
    Field("second moment vertical", SECOND_MOMENT, "for bending vertically: integral of z2 dA"),
    Field("second moment sideways", SECOND_MOMENT, "for bending sideways: integral of y2 dA"),
    Field("product", QuantityKind("second moment"), "integral of y z dA", 0.0, "0"),
    Field("torsion constant", SECOND_MOMENT, "J of uniform torsion"),
    Field("warping constant", QuantityKind("warping", AllowedSign.NOT_NEGATIVE), "of an open section", 0.0, "0"),
    Field("shear area vertical", AREA, "for shear vertically", None, "no shear deformation, shear stress not checked"),
    Field("shear area sideways", AREA, "for shear sideways", None, "no shear deformation, shear stress not checked"),
    Field("shear centre", GIVEN, "from the centroid", None, "at the centroid"),
    Field("fibres", FIBRES, "outermost fibres", None, "no bending stress is given"),
    Field(
        "torsion modulus",
        QuantityKind("volume", AllowedSign.POSITIVE),
        "twisting moment per largest twist stress",
        None,
        "twist stress not checked",
    ),
)


COMMON = (
    Field("material", NameOf("material"), "the metal; a part that is a section by name keeps its own"),
    Field("source", SOURCE, "where the sizes come from", "case file", "case file"),
)

ABOUT_GIVEN = "Numbers from a catalogue in place of a shape."
SHAPES: dict[str, tuple[type, str, tuple[Field, ...]]] = {
    **ONE_PIECE,
    **BUILT_UP,
    "outline": (OutlinePolygon, "Any shape, corner by corner, as seen looking along the member.", OUTLINE),
    "given properties": (GivenProperties, ABOUT_GIVEN, GIVEN_PROPERTIES),
}
SECTION = OneForm("shape", {word: Form(word, about, (*fields, *COMMON)) for word, (_, about, fields) in SHAPES.items()})
