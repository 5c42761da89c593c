"""What joints are made of: where they sit, how they lie, bolts, plies, welds, walls."""

from __future__ import annotations

from framecheck.model.joints import PlyKind, Terminal, Threads, Tightened
from framecheck.model.weld_joints import Hollow, WeldAt
from framecheck.reading.blocks.common import (
    DIRECTION,
    FORCE,
    LENGTH,
    LENGTH_OR_ZERO,
    MOMENT,
    NAME,
    OFFSET,
    POSITIVE_LENGTH,
    THICKNESS,
    WAYS,
)
from framecheck.reading.form import Either, Field, Form, ListOf
from framecheck.reading.kinds import AllowedSign, Choice, NameOf, Number, TextKind, Whole, YesNo, choice_of

TERMINALS = Choice({"start": Terminal.START, "end": Terminal.END, "left": Terminal.START, "right": Terminal.END})
WAY = Either(Choice(WAYS), DIRECTION)

GIVEN_LOAD = Form(
    "joint load",
    "What the attached part puts on the joint, at its place.",
    (
        Field("load case", TextKind("a name"), "a name for it"),
        Field("force", FORCE, "along the vehicle's axes", None, "none"),
        Field("moment", MOMENT, "about the vehicle's axes", None, "none"),
    ),
)
SEAT = Form(
    "joint place",
    "Where a joint sits: at the end of a member, at a frame point, or under loads that are given.",
    (
        Field("member", NameOf("member"), "the member whose end it holds", None, "none"),
        Field("end", TERMINALS, "start or end of that member; left or right of a crossmember", Terminal.END, "end"),
        Field("point", NameOf("point"), "the frame point it holds a bracket on", None, "none"),
        Field("loads", ListOf(GIVEN_LOAD, 1, 200), "loads written here", None, "those of the solved frame"),
    ),
)
PLANE = Form(
    "joint plane",
    "How a pattern lies: the way it faces, from the holding part to the attached one, and which way counts as along.",
    (
        Field("facing", WAY, "a load that way pulls the joint open"),
        Field("along", WAY, "square to that", None, "up; forward for a joint that faces up or down"),
        Field("origin", OFFSET, "of the pattern, from the joint's place", None, "at the place"),
    ),
)
SPOT = Form(
    "pattern spot",
    "A bolt or spot in its pattern, from the origin: across is to the left of along, seen with the pattern facing you.",
    (Field("across", LENGTH, "across", 0.0, "0"), Field("along", LENGTH, "along", 0.0, "0")),
)
SPOTS = ListOf(SPOT, 1, 200)
RECTANGLE = Form(
    "pattern grid",
    "A rectangular pattern about the origin.",
    (
        Field("across", Whole(1, 20), "how many across"),
        Field("along", Whole(1, 20), "how many along"),
        Field("pitch across", LENGTH_OR_ZERO, "from one to the next across", 0.0, "0"),
        Field("pitch along", LENGTH_OR_ZERO, "from one to the next along", 0.0, "0"),
    ),
)
BOLT = Form(
    "bolt",
    "A bolt in its hole.",
    (
        Field("thread", NameOf("thread"), "3/8-16, M10 ...: a row of shared/bolts.yaml"),
        Field("grade", NameOf("bolt grade"), "grade 5, 8.8 ..."),
        Field("hole", POSITIVE_LENGTH, "diameter of the hole", None, "the standard hole"),
        Field("threads", choice_of(Threads), "where the threads are", Threads.IN, "in the shear plane"),
        Field("shear planes", Whole(1, 4), "how many", None, "1; 2 where they go through one tube in another, as the member is drawn"),
        Field("clamp share", Number(AllowedSign.POSITIVE, 1.0), "of the proof load it is tightened to", None, "not tightened"),
        Field(
            "tightened",
            choice_of(Tightened),
            "how: a torque scatters, slip counts on the least clamp it makes",
            Tightened.TORQUE,
            "by torque",
        ),
        Field(
            "threads are",
            NameOf("torque factor"),
            "dry, zinc and oil ...: for the tightening torque",
            None,
            "no torque is given",
        ),
        Field(
            "faces",
            NameOf("surface"),
            "that the clamp presses together: mill scale, painted ...",
            None,
            "slip is not checked",
        ),
    ),
)
PLY = Form(
    "ply",
    "A part that bolts bear on.",
    (
        Field("name", NAME, "of the part"),
        Field("thickness", THICKNESS, "of the part"),
        Field("material", NameOf("material"), "of the part"),
        Field("edge", POSITIVE_LENGTH, "least distance from a hole's middle to an edge", None, "not known"),
        Field("kind", choice_of(PlyKind), "what it is", PlyKind.PLATE, "plate"),
        Field(
            "share",
            Number(AllowedSign.POSITIVE, 1.0),
            "of the bolt's force it takes (1/2 for the outer ones in double shear)",
            1.0,
            "1",
        ),
    ),
)
CONTACT = Form(
    "contact face",
    "The face that the attached part presses on, from the pattern's origin.",
    (
        Field("across", ListOf(LENGTH, 2, 2), "from, to"),
        Field("along", ListOf(LENGTH, 2, 2), "from, to"),
    ),
)
PRYING = Form(
    "prying",
    "The flange or plate that bends between its bolts and what pulls it.",
    (
        Field("offset", POSITIVE_LENGTH, "bolt's middle to the face of what pulls"),
        Field("edge", POSITIVE_LENGTH, "bolt's middle to the plate's edge"),
        Field("pitch", POSITIVE_LENGTH, "length of plate for each bolt"),
        Field("thickness", THICKNESS, "of the plate"),
        Field("material", NameOf("material"), "of the plate"),
    ),
)
CRUSH_SLEEVE = Form(
    "crush sleeve",
    "A sleeve round a bolt through a tube.",
    (
        Field("outside diameter", POSITIVE_LENGTH, "of the sleeve"),
        Field("inside diameter", POSITIVE_LENGTH, "of the sleeve"),
        Field("material", NameOf("material"), "of the sleeve"),
    ),
)
CLAMPED = Form(
    "clamped tube",
    "The tube that the bolts pass through.",
    (
        Field("width", POSITIVE_LENGTH, "of the pressed face"),
        Field("depth", POSITIVE_LENGTH, "along the bolt"),
        Field("wall", THICKNESS, "of the tube"),
        Field("washer", POSITIVE_LENGTH, "diameter of the washer"),
        Field("material", NameOf("material"), "of the tube"),
        Field("sleeve", CRUSH_SLEEVE, "round each bolt", None, "none"),
    ),
)
HEAD = (Field("name", NAME, "of the joint"), Field("at", SEAT, "where it sits"))
SHARES = Field(
    "shares with",
    NameOf("joint"),
    "the bolts or welds that hold the same parts together with these",
    None,
    "those at the same place, if they name the same two parts",
)
PLACED = (
    Field("spots", SPOTS, "one by one", (), "see `grid`"),
    Field("grid", RECTANGLE, "in a rectangle, in place of `spots`", None, "see `spots`"),
)
WELDED_PART = Form(
    "welded part",
    "A part that a weld is made on.",
    (
        Field("name", NAME, "of the part"),
        Field("thickness", THICKNESS, "of the part"),
        Field("material", NameOf("material"), "of the part"),
        Field("weld", choice_of(WeldAt), "where the fillet sits", WeldAt.FACE, "on its face"),
        Field(
            "fillets",
            Whole(1, 4),
            "that load its wall at one place (2: one on each side of a plate)",
            None,
            "2 where two runs lie side by side, no farther apart than it is thick; else 1",
        ),
    ),
)
WELDED_PARTS = ListOf(WELDED_PART, 1, 10, alike=True)
RUN = Form(
    "weld run",
    "Fillets along straight lines through corners, from the joint's place.",
    (
        Field("corners", ListOf(OFFSET, 2, 100), "in order"),
        Field("closed", YesNo(), "whether the last is joined to the first", False, "no"),
        Field("leg", POSITIVE_LENGTH, "of the fillet"),
    ),
)
AROUND = Form(
    "weld around",
    "A fillet all round a rectangle, such as the end of a tube.",
    (
        Field("plane", PLANE, "how the rectangle lies"),
        Field("across", POSITIVE_LENGTH, "its size across"),
        Field("along", POSITIVE_LENGTH, "its size along"),
        Field("leg", POSITIVE_LENGTH, "of the fillet"),
    ),
)
ELECTRODE = Field("electrode", NameOf("electrode"), "E70 ...: a row of shared/welds.yaml")
PRESSED = Form(
    "pressed member",
    "The wall under a bracket.",
    (
        Field("kind", choice_of(Hollow), "what it is"),
        Field("width", POSITIVE_LENGTH, "of the pressed face"),
        Field("depth", POSITIVE_LENGTH, "of the walls beside it"),
        Field("wall", THICKNESS, "of the member"),
        Field("outside radius", LENGTH_OR_ZERO, "of its corners"),
        Field("material", NameOf("material"), "of the member"),
        Field(
            "utilisation",
            Number(AllowedSign.NOT_NEGATIVE, 1.0),
            "its own stress over yield there; what the frame says counts where it is more",
            None,
            "that of the frame; full where its loads are written",
        ),
    ),
)
