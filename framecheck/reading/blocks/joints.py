"""Joints: each kind is a form; `kind` chooses it."""

from __future__ import annotations

from framecheck.model.weld_joints import Direction, ShearWay, SpotKind, WeldedOn
from framecheck.reading.blocks.common import LENGTH_OR_ZERO, NAME, POSITIVE_LENGTH
from framecheck.reading.blocks.joint_parts import (
    AROUND,
    BOLT,
    CLAMPED,
    CONTACT,
    ELECTRODE,
    HEAD,
    PLACED,
    PLANE,
    PLY,
    PRESSED,
    PRYING,
    RUN,
    SHARES,
    WELDED_PARTS,
)
from framecheck.reading.form import Field, Form, ListOf, OneForm
from framecheck.reading.kinds import AllowedSign, NameOf, QuantityKind, Whole, choice_of

JOINT = OneForm(
    "kind",
    {
        "bolts": Form(
            "bolts",
            "Equal bolts in one plane.",
            (
                *HEAD,
                Field("plane", PLANE, "how they lie"),
                *PLACED,
                Field("bolt", BOLT, "each of them"),
                Field("plies", ListOf(PLY, 1, 6, alike=True), "the parts they hold together"),
                Field("contact", CONTACT, "the face that is pressed on", None, "as far as the outermost heads"),
                Field("prying", PRYING, "of a flange or plate that bends", None, "by the plates' own size"),
                Field("tube", CLAMPED, "the tube they pass through", None, "none"),
                SHARES,
            ),
        ),
        "pinned sleeve": Form(
            "pinned sleeve",
            "One tube in another, held by bolts through both.",
            (
                *HEAD,
                Field("bolt", BOLT, "each bolt"),
                Field("bolts", Whole(1, 20), "how many pass through both tubes"),
                Field("depth", POSITIVE_LENGTH, "outside, along the bolts"),
                Field("walls", ListOf(PLY, 2, 2, alike=True), "of the outer and of the inner tube"),
                Field("clearance", LENGTH_OR_ZERO, "gap on each side of the fit", None, "not known"),
            ),
        ),
        "welds": Form(
            "welds",
            "Fillets that hold one part to another.",
            (
                *HEAD,
                Field("runs", ListOf(RUN, 1, 50), "the fillets", (), "see `around`"),
                Field("around", AROUND, "all round a rectangle, in place of `runs`", None, "see `runs`"),
                ELECTRODE,
                Field("parts", WELDED_PARTS, "what is welded"),
                Field("on", choice_of(WeldedOn), "what the welds join", None, "plates; at a member's end the end of a tube"),
                Field(
                    "direction",
                    choice_of(Direction),
                    "whether strength grows with the load's angle",
                    Direction.IGNORED,
                    "ignored",
                ),
                SHARES,
            ),
        ),
        "stitch welds along a member": Form(
            "stitch welds along a member",
            "Fillets with gaps along a built-up member, loaded by its shear flow.",
            (
                Field("name", NAME, "of the joint"),
                Field("member", NameOf("member"), "which member"),
                Field("length", POSITIVE_LENGTH, "of one stitch"),
                Field("pitch", POSITIVE_LENGTH, "from middle to middle"),
                Field("leg", POSITIVE_LENGTH, "of the fillet"),
                Field("seams", Whole(1, 8), "equal lines of them"),
                Field("shear", choice_of(ShearWay), "which shear force loads them"),
                Field(
                    "first moment",
                    QuantityKind("volume", AllowedSign.POSITIVE),
                    "of the part they hold on, about the section's axis",
                ),
                Field("second moment", QuantityKind("second moment", AllowedSign.POSITIVE), "of the whole section about that axis"),
                Field(
                    "enclosed area",
                    QuantityKind("area", AllowedSign.POSITIVE),
                    "inside the mid-line, where the seams close a cell",
                    None,
                    "none",
                ),
                ELECTRODE,
                Field("parts", WELDED_PARTS, "what is welded"),
                SHARES,
            ),
        ),
        "spot welds": Form(
            "spot welds",
            "Equal plug or spot welds in one plane.",
            (
                *HEAD,
                Field("plane", PLANE, "how they lie"),
                *PLACED,
                Field("spot", choice_of(SpotKind), "how they are made"),
                Field("diameter", POSITIVE_LENGTH, "of the hole or of the visible spot"),
                ELECTRODE,
                Field("parts", WELDED_PARTS, "what is welded, the outer part first"),
            ),
        ),
        "bracket": Form(
            "bracket",
            "A bracket or mount pad that presses on a member's face.",
            (
                *HEAD,
                Field("plane", PLANE, "how the face lies; along: along the member"),
                Field("width", POSITIVE_LENGTH, "of the pad, across the face"),
                Field("length", POSITIVE_LENGTH, "of the pad, along the member"),
                Field("on", PRESSED, "the wall under it"),
                Field("end distance", LENGTH_OR_ZERO, "to the nearest end of the member", None, "not known"),
                Field(
                    "doubler", QuantityKind("thickness", AllowedSign.NOT_NEGATIVE), "thickness of a plate on the face", 0.0, "none"
                ),
                Field("doubler material", NameOf("material"), "of that plate", None, "taken as that of the member, and left open"),
            ),
        ),
    },
)
JOINTS = ListOf(JOINT, 1, 300)
