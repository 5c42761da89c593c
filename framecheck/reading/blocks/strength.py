"""What is asked beyond yield: buckling lengths, notches, rare load cases, readings at places on members."""

from __future__ import annotations

from framecheck.reading.blocks.common import LENGTH, LENGTH_OR_ZERO, NAME, POSITIVE_LENGTH, SHARE, SOURCE
from framecheck.reading.blocks.frame import CUT_SIDES
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import NameOf, TextKind

READING = Form(
    "reading",
    "A place on a member, as a strain gauge sits on it: its section forces, bimoment, movement and stress in every load case.",
    (
        Field("name", NAME, "of the place"),
        Field("member", NameOf("member"), "which member; 'rails' for both rails alike"),
        Field("at", LENGTH_OR_ZERO, "along the member, from its first point"),
        Field("side", CUT_SIDES, "on which side, as seen looking along the member", None, "none: no stress is given"),
        Field("offset", LENGTH, "along that side from the middle of the outline, + up or left", 0.0, "0, in the middle"),
    ),
)
READINGS = ListOf(READING, 1, 500)


LOAD_CASE = NameOf("load case")

BUCKLING_LENGTH = Form(
    "buckling length",
    "Effective lengths of a member, where they are known better than by its crossmembers.",
    (
        Field("member", NameOf("member"), "which member; 'rails' for both rails alike"),
        Field("vertical", POSITIVE_LENGTH, "as a column that bends vertically", None, "bracketed"),
        Field("sideways", POSITIVE_LENGTH, "as a column that bends sideways", None, "bracketed"),
        Field("lateral", POSITIVE_LENGTH, "between points held against twist and sideways movement", None, "bracketed"),
        Field("source", SOURCE, "where they come from", "case file", "case file"),
    ),
)
NOTCHES = Form(
    "notches",
    "What is asked of notches.",
    (
        Field("zone share", SHARE, "a rail may be cut where stress over yield is below this", 0.33, "0.33"),
        Field(
            "local yield",
            ListOf(NameOf("member"), 1, 50, lone=True),
            "members whose notch corners are asked for local yield",
            (),
            "none",
        ),
    ),
)
RARE = ListOf(LOAD_CASE, 1, 100)

ACCEPTED = Form(
    "accepted",
    "Something that is left open, and why that is accepted; it is shown as accepted, never as judged.",
    (
        Field("what", TextKind("the words under which it is listed as open", 200), "as listed; `words: name` for one thing alone"),
        Field("because", TextKind("a reason", 400), "why it is accepted"),
    ),
)
