"""Suspensions, one form for each kind; the left side is written, the right one is its mirror image."""

from __future__ import annotations

from framecheck.model.suspension import Carries
from framecheck.reading.blocks.common import LENGTH, NAME, PLACE, POSITIVE_LENGTH
from framecheck.reading.form import Either, Field, Form, ListOf, OneForm
from framecheck.reading.kinds import AllowedSign, NameOf, QuantityKind, YesNo, choice_of

RATE = QuantityKind("stiffness", AllowedSign.POSITIVE)

BRACKET = Form(
    "suspension bracket",
    "Where the suspension meets the frame: a frame point of the left side, and the pivot's own place if that is elsewhere.",
    (
        Field("point", NameOf("left point"), "which frame point carries it"),
        Field("x", LENGTH, "of the pivot, forward", None, "at the point"),
        Field("y", LENGTH, "of the pivot, to the left", None, "at the point"),
        Field("z", LENGTH, "of the pivot, up", None, "at the point"),
    ),
)
AT = Either(NameOf("left point"), BRACKET)

BUMP_STOP = Form(
    "bump stop",
    "Where the bump stop pushes.",
    (Field("end", PLACE, "on the part that carries the spring"), Field("bracket", AT, "on the frame")),
)
STIFF = "five times the spring (common practice, no source)"
DROOP_STRAP = Form(
    "droop strap",
    "Where the droop strap pulls.",
    (Field("end", PLACE, "on the part that carries the spring"), Field("bracket", AT, "on the frame")),
)
TRAVEL = (
    Field("bump", POSITIVE_LENGTH, "how far the wheel can go up from rest", None, "no limit known"),
    Field("droop", POSITIVE_LENGTH, "how far it can go down", None, "no limit known"),
    Field("bump stop rate", RATE, "of the bump stop itself, once it touches", None, STIFF),
    Field("droop strap rate", RATE, "of the droop strap itself, once it is tight", None, STIFF),
)
SPRING = Form(
    "suspension spring",
    "A coil spring or coil-over.",
    (
        Field("end", PLACE, "its end on the suspension"),
        Field("bracket", AT, "its end on the frame"),
        Field("rate", RATE, "of the spring itself"),
        *TRAVEL,
        Field("stop", BUMP_STOP, "a bump stop of its own", None, "in the spring's line"),
        Field("droop strap", DROOP_STRAP, "a droop strap of its own", None, "in the spring's line"),
    ),
)
ARM = Form(
    "arm",
    "A wishbone.",
    (
        Field("front", AT, "its front pivot on the frame"),
        Field("rear", AT, "its rear pivot on the frame"),
        Field("ball", PLACE, "its ball joint"),
    ),
)
TIE_ROD = Form(
    "tie rod",
    "A tie rod or toe link.",
    (Field("end", PLACE, "its end at the wheel"), Field("bracket", AT, "its other end, on the frame")),
)
LINK = Form(
    "link",
    "A link of a live axle.",
    (
        Field("name", NAME, "of the link"),
        Field("end", PLACE, "on the axle"),
        Field("bracket", AT, "on the frame"),
        Field(
            "both sides",
            YesNo(),
            "whether the right side has its mirror image; no for a single lateral rod",
            True,
            "yes",
        ),
    ),
)
LATERAL_LINKAGE = Form(
    "lateral linkage",
    "A pivot in the middle of the axle that two equal cross links hold sideways.",
    (Field("pivot", PLACE, "on the axle"), Field("bracket", AT, "of the left cross link, on the frame")),
)

SUSPENSION = OneForm(
    "kind",
    {
        "double wishbone": Form(
            "double wishbone",
            "Two wishbones, a tie rod and a coil-over.",
            (
                Field("upper arm", ARM, "the upper wishbone"),
                Field("lower arm", ARM, "the lower wishbone"),
                Field("tie rod", TIE_ROD, "tie rod or toe link"),
                Field("spring", SPRING, "the coil-over"),
                Field("spring on", choice_of(Carries), "what the spring stands on", Carries.LOWER_ARM, "lower arm"),
            ),
        ),
        "strut": Form(
            "strut",
            "A strut clamped to the upright, with a lower arm and a tie rod.",
            (
                Field("lower arm", ARM, "the lower arm"),
                Field("tie rod", TIE_ROD, "tie rod or toe link"),
                Field("spring", SPRING, "the strut; its bracket is the top mount"),
            ),
        ),
        "trailing arm": Form(
            "trailing arm",
            "An arm that holds the hub, hinged on two brackets.",
            (
                Field("inner", AT, "the inner pivot"),
                Field("outer", AT, "the outer pivot"),
                Field("spring", SPRING, "the spring"),
            ),
        ),
        "leaf springs": Form(
            "leaf springs",
            "A live axle clamped on two leaf springs.",
            (
                Field("eye", AT, "the fixed eye, on the frame"),
                Field("shackle eye", PLACE, "the spring's other eye"),
                Field("shackle", AT, "the shackle's pin on the frame"),
                Field("rate", RATE, "of one spring, at the axle"),
                *TRAVEL,
                Field("stop", AT, "the frame's bracket that the axle strikes", None, "not known: the spring's eyes take it"),
            ),
        ),
        "links": Form(
            "links",
            "A live axle on links and two springs.",
            (
                Field("links", ListOf(LINK, 1, 12), "the links"),
                Field("spring", SPRING, "the left spring"),
                Field(
                    "lateral linkage", LATERAL_LINKAGE, "what holds the axle sideways, unless a link does", None, "none"
                ),
                Field("link rate", RATE, "of a link with its bushes, along itself", 1e7, "10 kN/mm"),
            ),
        ),
    },
)
ANTI_ROLL_BAR = Form(
    "anti-roll bar",
    "A bar across the frame in two bushes, with an upright drop link at each end; the left side is written.",
    (
        Field("rate", RATE, "force in each link per difference of the link ends' travel"),
        Field("end", PLACE, "where the left link acts"),
        Field("bush", AT, "the left bush, on the frame"),
        Field("on", choice_of(Carries), "what the link acts on", Carries.CARRIER, "carrier"),
    ),
)
DAMPER = Form(
    "damper",
    "A damper between the wheel's carrier or the axle and the frame; the left one is written.",
    (
        Field("end", PLACE, "its end at the wheel"),
        Field("bracket", AT, "its end on the frame"),
        Field("force", QuantityKind("force", AllowedSign.POSITIVE), "when pushed in at a speed"),
        Field("at speed", QuantityKind("speed", AllowedSign.POSITIVE), "the speed of its stroke"),
    ),
)
