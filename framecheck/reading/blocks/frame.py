"""The frame: ladder, points, members, supports, springs, cuts."""

from __future__ import annotations

from enum import Enum

from framecheck.model.frame import Kinks, Splices
from framecheck.model.panels import SheetKnown
from framecheck.model.shapes import Side
from framecheck.reading.blocks.body import STATED_BODY
from framecheck.reading.blocks.common import (
    GROUND_SPRINGS,
    LENGTH,
    LENGTH_OR_ZERO,
    NAME,
    PLACE,
    POSITIVE_LENGTH,
)
from framecheck.reading.blocks.joining import END_KIND, SPLICE
from framecheck.reading.blocks.panels import OPENING, PANEL
from framecheck.reading.form import Either, Field, Form, LazyForm, ListOf, Named
from framecheck.reading.kinds import Choice, NameOf, QuantityKind, TextKind, choice_of

POINT_NAME = TextKind("a name without commas")


class Toward(Enum):
    """Which way the open side of a section looks."""

    INBOARD = "inboard"
    OUTBOARD = "outboard"
    FORWARD = "forward"
    REARWARD = "rearward"
    LEFT = "left"
    RIGHT = "right"
    UP = "up"
    DOWN = "down"


RAIL_SIDES = Choice({each.value: each for each in (Toward.INBOARD, Toward.OUTBOARD, Toward.UP, Toward.DOWN)})
CROSS_SIDES = Choice({each.value: each for each in (Toward.FORWARD, Toward.REARWARD, Toward.UP, Toward.DOWN)})
MEMBER_SIDES = Choice({each.value: each for each in Toward if each not in (Toward.INBOARD, Toward.OUTBOARD)})
CUT_SIDES = Choice({**{each.value: each for each in Side}, "inboard": Toward.INBOARD, "outboard": Toward.OUTBOARD})


def end_field(key: str, about: str) -> Field:
    """Return the field of a member's end."""
    return Field(key, END_KIND, about, None, "unsaid: both ends of the range are solved")


MADE = (
    Field(
        "kinks",
        choice_of(Kinks, Kinks.UNSAID),
        "how it turns at its inner points",
        Kinks.UNSAID,
        "mitred, bent and giving nothing are all solved; the worst counts",
    ),
    Field(
        "bend radius",
        POSITIVE_LENGTH,
        "of the middle line, where its kinks are bent",
        None,
        "from the tube's depth, the tightest, to 12 times it: the worst counts",
    ),
    Field("kink plate", POSITIVE_LENGTH, "thickness of the plate inside its mitred kinks", None, "taken as 1 mm at the worst"),
    Field(
        "splices",
        choice_of(Splices, Splices.UNSAID),
        "how one section is joined to the next",
        Splices.UNSAID,
        "taken as welded",
    ),
)
"""Heat of welding softens aluminium, cold-drawn and heat-treated steel: what is bent, bolted or formed keeps its strength."""

STATION = Form(
    "station",
    "A named place along the left rail; the rail runs straight from one to the next, front to rear.",
    (
        Field("name", POINT_NAME, "its points are called 'left ...' and 'right ...'"),
        Field("x", LENGTH, "forward"),
        Field(
            "y",
            POSITIVE_LENGTH,
            "of the left rail's middle, from the middle of the frame",
            None,
            "straight between its neighbours",
        ),
        Field("z", LENGTH, "of the rail's middle, up", None, "straight between its neighbours"),
        Field("section", NameOf("section"), "of the rail from here rearward", None, "as before"),
        Field(
            "taper to",
            NameOf("section"),
            "of the same kind: every size changes evenly from here to the next station, and stays so from there on",
            None,
            "none",
        ),
    ),
)
RAIL = Form(
    "rail",
    "The left rail, front to rear; the right one is its mirror image. They are called 'left rail' and 'right rail'.",
    (
        Field("section", NameOf("section"), "from the front end rearward, until a station says otherwise"),
        Field("stations", ListOf(STATION, 2, 200), "front to rear"),
        Field("open side", RAIL_SIDES, "where a channel's open side looks", None, "inboard"),
        end_field("front end", "how the front end is held (rarely needed)"),
        end_field("rear end", "how the rear end is held (rarely needed)"),
        *MADE,
    ),
)
MID_POINT = Form(
    "crossmember point",
    "A named place on a crossmember, for a mount or a bracket.",
    (
        Field("name", POINT_NAME, "of the point"),
        Field("y", LENGTH, "to the left of the middle", 0.0, "0, in the middle"),
    ),
)
CROSSMEMBER = Form(
    "crossmember",
    "A member across the frame from rail to rail. Where no station is at its x, the rails get points 'left NAME' and 'right NAME'.",
    (
        Field("name", POINT_NAME, "of the crossmember"),
        Field("x", LENGTH, "forward", None, "that of `station`"),
        Field("station", TextKind("the name of a station"), "in place of x", None, "none"),
        Field("section", NameOf("section"), "of the crossmember"),
        end_field("ends", "how both ends are made"),
        end_field("left end", "how the left end is made, where the two differ"),
        end_field("right end", "how the right end is made, where the two differ"),
        Field("drop", LENGTH, "of its middle below the middle of the rails", 0.0, "0"),
        Field(
            "open side",
            CROSS_SIDES,
            "where the section's open side looks",
            None,
            "as drawn, seen from left to right: a channel opens rearward",
        ),
        Field("points", ListOf(MID_POINT, 1, 50), "named places on it", (), "none"),
    ),
)
LADDER = Form(
    "ladder",
    "Two rails and the crossmembers between them.",
    (
        Field("rail", RAIL, "the left rail"),
        Field("crossmembers", ListOf(CROSSMEMBER, 0, 100), "front to rear, or in any order", (), "none"),
    ),
)
CHANGE = Form(
    "section change",
    "Another section from a place along a member on, at once or over a tapered stretch.",
    (
        Field("at", LENGTH_OR_ZERO, "along the member from its first point"),
        Field("section", NameOf("section"), "from there on", None, "see `taper to`"),
        Field(
            "taper to",
            NameOf("section"),
            "of the same kind: every size changes evenly up to `until`",
            None,
            "see `section`",
        ),
        Field("until", POSITIVE_LENGTH, "where the taper ends, along the member", None, "needed with `taper to`"),
    ),
)
MEMBER = Form(
    "member",
    "A member through two or more points, straight between them.",
    (
        Field("name", POINT_NAME, "of the member"),
        Field("points", ListOf(NameOf("point"), 2, 200), "from its first to its last"),
        Field("section", NameOf("section"), "of the member"),
        Field("changes", ListOf(CHANGE, 1, 50), "where another section begins", (), "none"),
        Field(
            "open side",
            MEMBER_SIDES,
            "where the section's open side looks",
            None,
            "as drawn, seen looking along the member",
        ),
        Field("roll", QuantityKind("angle"), "turn of the section about the member, right-handed", 0.0, "0"),
        end_field("ends", "how both ends are made"),
        end_field("start", "how the first end is made, where the two differ"),
        end_field("end", "how the last end is made, where the two differ"),
        *MADE,
    ),
)
CUT = Form(
    "cut",
    "A notch: what is taken out of one side of a member.",
    (
        Field("name", NAME, "of the cut"),
        Field("member", NameOf("member"), "which member; 'rails' for both rails alike"),
        Field("side", CUT_SIDES, "which side, as seen looking along the member; inboard or outboard for rails"),
        Field("at", LENGTH_OR_ZERO, "of its middle along the member, from its first point", None, "where x says"),
        Field("x", LENGTH, "of its middle, in place of `at`", None, "where `at` says"),
        Field("depth", POSITIVE_LENGTH, "how deep"),
        Field("length", POSITIVE_LENGTH, "along the member"),
        Field("corner radius", LENGTH_OR_ZERO, "of its corners", 0.0, "0, sharp"),
    ),
)
DIRECTIONS = {"x": 0, "y": 1, "z": 2, "turn x": 3, "turn y": 4, "turn z": 5}
HELD = Either(Choice({"all": tuple(range(6)), "place": (0, 1, 2)}), ListOf(Choice(DIRECTIONS), 1, 6))
SUPPORT = Form(
    "support",
    "A point held to the ground, for load cases that you write yourself (those of the vehicle balance without any).",
    (
        Field("point", NameOf("point"), "which point"),
        Field(
            "held",
            HELD,
            "directions held: x, y, z, turn x, turn y, turn z; 'place' for the first three, or 'all'",
            (),
            "none",
        ),
        Field("springs", GROUND_SPRINGS, "directions held by springs", None, "none"),
    ),
)
SPRING_BETWEEN = Form(
    "spring",
    "A spring between two points, along and about the vehicle's axes; what is left out is free.",
    (
        Field("name", NAME, "of the spring"),
        Field("points", ListOf(NameOf("point"), 2, 2), "its two points"),
        Field("stiffness", GROUND_SPRINGS, "by direction"),
    ),
)
FRAME = Form(
    "frame",
    "The structure: a ladder or a unit body, points and members of your own, what holds them.",
    (
        Field("ladder", LADDER, "rails and crossmembers", None, "none"),
        Field("body", LazyForm("unit_body", "BODY"), "rails, rockers and sheet of a unit body", None, "none"),
        Field("points", Named(PLACE, "the name of a point"), "further points", {}, "none"),
        Field("members", ListOf(MEMBER, 0, 2000), "further members", (), "none"),
        Field("cuts", ListOf(CUT, 0, 100), "notches", (), "none"),
        Field("splices", ListOf(SPLICE, 0, 100), "tubes that lap", (), "none"),
        Field("panels", ListOf(PANEL, 0, 200), "flat sheet that shares the load", (), "none"),
        Field(
            "sheet carries",
            choice_of(SheetKnown),
            "what its panels carry; unknown: from nothing to all that is drawn, both are solved and each check takes the worse",
            SheetKnown.AS_DRAWN,
            "as drawn",
        ),
        Field("openings", ListOf(OPENING, 0, 40), "doors and glass, whose diagonals are watched", (), "none"),
        Field("stated body", STATED_BODY, "a body by its stiffness alone", None, "none"),
        Field("supports", ListOf(SUPPORT, 0, 200), "points held to the ground", (), "none"),
        Field("springs", ListOf(SPRING_BETWEEN, 0, 200), "springs between points", (), "none"),
    ),
)
