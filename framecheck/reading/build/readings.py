"""Readings: records to places on members."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.frame import sections_at
from framecheck.model.outline_box import outline_box
from framecheck.model.readings import Reading
from framecheck.model.shapes import Side
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.strength import members_meant
from framecheck.reading.desk import RENAME, Taken, length
from framecheck.reading.form import Record


def readings_of(draft: Draft, record: Record) -> tuple[Reading, ...]:
    """Return the places that are to be read, each under a name of its own."""
    taken = Taken()
    for each in record["readings"]:
        if fault := taken.take(each["name"], each.line, "reading"):
            draft.desk.refuse(each.line, each.subject, fault, RENAME)
    return tuple(found for each in record["readings"] for found in _placed(draft, each))


def _placed(draft: Draft, record: Record) -> Iterator[Reading]:
    """Yield a reading, or one on each rail."""
    names = members_meant(record["member"])
    for member in names:
        if member not in draft.members:
            continue
        whole = draft.length(member)
        if record["at"] > whole:
            fault = f"lies beyond the end of '{member}'"
            draft.desk.refuse(record.line_of("at"), record.subject, fault, f"choose from 0 to {length(whole)}")
            return
        name = record["name"] if len(names) == 1 else f"{member}: {record['name']}"
        seen = None if record["side"] is None else draft.seen_side(record, member)
        own = None if seen is None else draft.members[member].orientation.own_side(seen)
        if own is not None:
            _refuse_beyond(draft, record, member, own)
        yield Reading(name, member, record["at"], own, record["offset"])


def _refuse_beyond(draft: Draft, record: Record, member: str, side: Side) -> None:
    """Note an offset that leaves the side."""
    section = sections_at(draft.members[member], record["at"])[0]
    height, width = outline_box(draft.shelf.section(section).shape)
    half = (width if side in (Side.TOP, Side.BOTTOM) else height) / 2
    if half and abs(record["offset"]) > half:
        fault = f"reaches beyond the edge of '{section}'"
        draft.desk.refuse(record.line_of("offset"), record.subject, fault, f"choose up to {length(half)} from the middle")
