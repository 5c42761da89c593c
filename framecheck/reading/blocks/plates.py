"""Skid plates: what a file may say of them, and records to plates with what holds, stiffens and strikes them."""

from __future__ import annotations

from framecheck.model.plate import (
    Edge,
    EdgeHold,
    InPlane,
    Lies,
    Mounting,
    PlateSide,
    StiffenerRun,
)
from framecheck.reading.blocks.common import LENGTH, LENGTH_OR_ZERO, MASS, NAME, POSITIVE_LENGTH, THICKNESS
from framecheck.reading.blocks.joint_parts import BOLT, WAY
from framecheck.reading.form import Field, Form, ListOf, OneForm
from framecheck.reading.kinds import AllowedSign, NameOf, Number, QuantityKind, choice_of

X = "from the plate's rear edge, forward"
Y = "from its right edge, to the left"

PLATE_BOLT = Form(
    "plate bolt",
    "A bolt that holds the plate.",
    (
        Field("name", NAME, "of the bolt"),
        Field("x", LENGTH_OR_ZERO, X),
        Field("y", LENGTH_OR_ZERO, Y),
        Field("seat", POSITIVE_LENGTH, "diameter of the head or washer on the plate"),
        Field("point", NameOf("point"), "frame point that its force goes into", None, "none of the frame"),
        Field("bolt", BOLT, "its size and grade", None, "not checked"),
        Field("stiffness", QuantityKind("stiffness", AllowedSign.POSITIVE), "of what it hangs on", float("inf"), "rigid"),
    ),
)
HELD_EDGE = Form(
    "held edge",
    "An edge held along its whole length.",
    (
        Field("edge", choice_of(Edge), "which edge"),
        Field("hold", choice_of(EdgeHold), "how it is held"),
        Field("stiffness", QuantityKind("stiffness per length", AllowedSign.NOT_NEGATIVE), "where elastic", 0.0, "0"),
        Field(
            "turning stiffness", QuantityKind("turning stiffness per length", AllowedSign.NOT_NEGATIVE), "where elastic", 0.0, "0"
        ),
        Field(
            "points",
            ListOf(NameOf("point"), 2, 2),
            "frame points at its ends, rear or right one first",
            None,
            "none of the frame",
        ),
    ),
)
LINE = (
    Field("name", NAME, "of it"),
    Field("runs", choice_of(StiffenerRun), "which way it runs"),
    Field("at", LENGTH_OR_ZERO, "where its line is, across its run"),
    Field("from", LENGTH_OR_ZERO, "where it begins, along its run"),
    Field("to", POSITIVE_LENGTH, "where it ends"),
    Field("height", POSITIVE_LENGTH, "of a bead's middle surface, or of the bar"),
)
STIFFENER = OneForm(
    "kind",
    {
        "bead": Form(
            "bead",
            "A bead pressed into the sheet.",
            (
                *LINE,
                Field("width", POSITIVE_LENGTH, "at its foot"),
                Field("crest", LENGTH_OR_ZERO, "width of its flat top", 0.0, "0, a V"),
                Field("facing", choice_of(PlateSide), "the side it stands out from", PlateSide.DOWN, "down"),
            ),
        ),
        "rib": Form(
            "rib",
            "A flat bar welded on edge.",
            (
                *LINE,
                Field("thickness", THICKNESS, "of the bar"),
                Field("facing", choice_of(PlateSide), "the side it stands out from", PlateSide.UP, "up"),
            ),
        ),
    },
)
PATCH = Form(
    "patch",
    "Where something presses.",
    (
        Field("x", LENGTH_OR_ZERO, f"of its middle {X}"),
        Field("y", LENGTH_OR_ZERO, f"of its middle {Y}"),
        Field("length", POSITIVE_LENGTH, "along x"),
        Field("width", POSITIVE_LENGTH, "along y"),
        Field("drag", Number(AllowedSign.NOT_NEGATIVE), "force in the plane over the force that presses", 0.0, "0"),
        Field("drag angle", QuantityKind("angle"), "of that force from the plate's x", 0.0, "0"),
        Field("rock", POSITIVE_LENGTH, "diameter of the sharp end of what presses", None, "blunt"),
    ),
)
STRUCK = (Field("name", NAME, "of the load"), Field("patch", PATCH, "where"))
SHARE_OF_MASS = Field("mass", MASS, "the share of the vehicle's mass that falls or comes on")
PLATE_LOAD = OneForm(
    "kind",
    {
        "press": Form("press", "A force on a patch.", (*STRUCK, Field("force", QuantityKind("force"), "upward"))),
        "pressure": Form(
            "pressure",
            "A pressure over the whole plate.",
            (Field("name", NAME, "of the load"), Field("pressure", QuantityKind("stress"), "upward")),
        ),
        "drop": Form(
            "drop", "The vehicle falls.", (*STRUCK, SHARE_OF_MASS, Field("height", POSITIVE_LENGTH, "of the fall"))
        ),
        "step": Form(
            "step",
            "A wheel rolls off a step.",
            (
                *STRUCK,
                SHARE_OF_MASS,
                Field("step", POSITIVE_LENGTH, "how high it is"),
                Field("clearance", LENGTH_OR_ZERO, "under the plate"),
            ),
        ),
        "closing speed": Form(
            "closing speed",
            "The vehicle meets what strikes at a speed square to the plate.",
            (*STRUCK, SHARE_OF_MASS, Field("speed", QuantityKind("speed", AllowedSign.POSITIVE), "square to the plate")),
        ),
    },
)
SKID_PLATE = Form(
    "skid plate",
    "A rectangular plate under the frame; x from its rear edge forward, y from its right edge to the left.",
    (
        Field("name", NAME, "of the plate"),
        Field("length", POSITIVE_LENGTH, "along x"),
        Field("width", POSITIVE_LENGTH, "along y"),
        Field("thickness", THICKNESS, "of the sheet"),
        Field("material", NameOf("material"), "of the sheet"),
        Field("bolts", ListOf(PLATE_BOLT, 1, 60), "that hold it", (), "none"),
        Field("edges", ListOf(HELD_EDGE, 1, 4), "held along their length", (), "none"),
        Field("stiffeners", ListOf(STIFFENER, 1, 40), "beads and ribs", (), "none"),
        Field("loads", ListOf(PLATE_LOAD, 1, 100), "what strikes it"),
        Field("gap", LENGTH, "free height above it, to the pan", None, "not known"),
        Field(
            "in plane", choice_of(InPlane), "whether its bolts keep it from drawing in", InPlane.FREE, "free to draw in"
        ),
        Field(
            "mounting",
            choice_of(Mounting),
            "which side of the frame it lies against",
            Mounting.UNDER,
            "under the frame",
        ),
        Field(
            "lies",
            choice_of(Lies, Lies.UNSAID),
            "whether it lies against the members over it, bolted or not, or stands off them on spacers",
            Lies.UNSAID,
            "judged both ways, and said to be open",
        ),
        Field("along", WAY, "vehicle direction of the plate's x", (1.0, 0.0, 0.0), "forward"),
        Field("across", WAY, "vehicle direction of the plate's y", (0.0, 1.0, 0.0), "left"),
    ),
)
SKID_PLATES = ListOf(SKID_PLATE, 1, 20)
