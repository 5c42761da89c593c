"""Readings: places on members whose forces, bimoment and stress go into the JSON and CSV results."""

from __future__ import annotations

from framecheck.reading.blocks.common import LENGTH, LENGTH_OR_ZERO, NAME
from framecheck.reading.blocks.frame import CUT_SIDES
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import NameOf

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
    "{name: gauge 4, member: left rail, at: 40 in, side: top, offset: 1/2 in}",
)
READINGS = ListOf(READING, 1, 500)
