"""Buckling lengths, notches, rare load cases and readings: records to what is asked at places on members."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.case import Accepted, BucklingLength, NotchAsked, Reading, StrengthAsked
from framecheck.model.frame import sections_at
from framecheck.model.shape_parts import outline_box
from framecheck.model.shapes import Side
from framecheck.reading.build.frame import RAILS
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.diagnostics import RENAME, Diagnostics, Taken, did_you_mean, length, listed
from framecheck.reading.form import Record
from framecheck.results.subjects import Question


def members_meant(name: str) -> tuple[str, ...]:
    """Return the members that a name stands for."""
    return RAILS if name == "rails" else (name,)


def strength_of(diagnostics: Diagnostics, record: Record) -> StrengthAsked:
    """Return what a case says beyond its targets."""
    notches = record["notches"]
    taken = Taken()
    for each in record["buckling lengths"]:
        for name in members_meant(each["member"]):
            if fault := taken.take(name, each.line, "buckling length of"):
                diagnostics.refuse(each.line, each.subject, fault, "write one entry for each member")
    return StrengthAsked(
        buckling_lengths=tuple(
            BucklingLength(name, each["vertical"], each["sideways"], each["lateral"], each["source"])
            for each in record["buckling lengths"]
            for name in members_meant(each["member"])
        ),
        notches=NotchAsked() if notches is None else notches_of(notches),
        rare=record["rare load cases"],
    )


def notches_of(record: Record) -> NotchAsked:
    """Return what is asked of notches."""
    return NotchAsked(
        record["zone share"], tuple(name for each in record["local yield"] for name in members_meant(each))
    )


def accepted_of(builder: FrameBuilder, record: Record) -> tuple[Accepted, ...]:
    """Return what the file accepts; a thing that can't be open is refused."""
    titles = [question.title for question in Question]
    for each in record["accepted"]:
        title = each["what"].partition(":")[0].strip()
        if title not in titles:
            remedy = did_you_mean(title, titles, f"what can be left open: {listed(titles, 40)}")
            builder.diagnostics.refuse(each.line, each.subject, f"'{title}' is nothing that can be left open", remedy)
    return tuple(Accepted(each["what"], each["because"]) for each in record["accepted"])


def readings_of(builder: FrameBuilder, record: Record) -> tuple[Reading, ...]:
    """Return the places that are to be read, each under a name of its own."""
    taken = Taken()
    for each in record["readings"]:
        if fault := taken.take(each["name"], each.line, "reading"):
            builder.diagnostics.refuse(each.line, each.subject, fault, RENAME)
    return tuple(found for each in record["readings"] for found in _placed(builder, each))


def _placed(builder: FrameBuilder, record: Record) -> Iterator[Reading]:
    """Yield a reading, or one on each rail."""
    names = members_meant(record["member"])
    for member in names:
        if member not in builder.members:
            continue
        whole = builder.length(member)
        if record["at"] > whole:
            fault = f"lies beyond the end of '{member}'"
            builder.diagnostics.refuse(record.line_of("at"), record.subject, fault, f"choose from 0 to {length(whole)}")
            return
        name = record["name"] if len(names) == 1 else f"{member}: {record['name']}"
        seen = None if record["side"] is None else builder.seen_side(record, member)
        own = None if seen is None else builder.members[member].orientation.own_side(seen)
        if own is not None:
            _refuse_beyond(builder, record, member, own)
        yield Reading(name, member, record["at"], own, record["offset"])


def _refuse_beyond(builder: FrameBuilder, record: Record, member: str, side: Side) -> None:
    """Note an offset that leaves the side."""
    section = sections_at(builder.members[member], record["at"])[0]
    height, width = outline_box(builder.catalogue.section(section).shape)
    half = (width if side in (Side.TOP, Side.BOTTOM) else height) / 2
    if half and abs(record["offset"]) > half:
        fault = f"reaches beyond the edge of '{section}'"
        builder.diagnostics.refuse(record.line_of("offset"), record.subject, fault, f"choose up to {length(half)} from the middle")
