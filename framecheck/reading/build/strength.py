"""Buckling lengths, notches, rare load cases: records to what the checks are asked."""

from __future__ import annotations

from framecheck.model.case import Accepted
from framecheck.model.strength import BucklingLength, NotchAsked, StrengthAsked
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.frame import RAILS
from framecheck.reading.desk import Desk, Taken, did_you_mean, listed
from framecheck.reading.form import Record
from framecheck.results.subjects import Question


def members_meant(name: str) -> tuple[str, ...]:
    """Return the members that a name stands for."""
    return RAILS if name == "rails" else (name,)


def strength_of(desk: Desk, record: Record) -> StrengthAsked:
    """Return what a case says beyond its targets."""
    notches = record["notches"]
    taken = Taken()
    for each in record["buckling lengths"]:
        for name in members_meant(each["member"]):
            if fault := taken.take(name, each.line, "buckling length of"):
                desk.refuse(each.line, each.subject, fault, "write one entry for each member")
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


def accepted_of(draft: Draft, record: Record) -> tuple[Accepted, ...]:
    """Return what the file accepts; a thing that can't be open is refused."""
    titles = [question.title for question in Question]
    for each in record["accepted"]:
        title = each["what"].partition(":")[0].strip()
        if title not in titles:
            remedy = did_you_mean(title, titles, f"what can be left open: {listed(titles, 40)}")
            draft.desk.refuse(each.line, each.subject, f"'{title}' is nothing that can be left open", remedy)
    return tuple(Accepted(each["what"], each["because"]) for each in record["accepted"])
