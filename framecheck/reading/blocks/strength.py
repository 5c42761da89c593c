"""What is asked beyond yield: buckling lengths, notches, rare load cases."""

from __future__ import annotations

from framecheck.reading.blocks.common import POSITIVE_LENGTH, SHARE, SOURCE
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import NameOf, Words

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
        Field("what", Words("the words under which it is listed as open", 200), "as listed; `words: name` for one thing alone"),
        Field("because", Words("a reason", 400), "why it is accepted"),
    ),
    "{what: kinks of members, because: bent on a mandrel; the shop has tested it}",
)
