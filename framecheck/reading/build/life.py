"""Fatigue: records to the duty and the details that may crack."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.duty import BaseMetal, Detail, Duty, Event, Fatigue, History, PartialFactors, Per, WeldDetail
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.strength import members_meant
from framecheck.reading.fatigue_tables import fatigue_class, finish
from framecheck.reading.form import Record, refuse_second
from framecheck.reading.library import Library

KM = 1e3


def fatigue_of(draft: Draft, record: Record, library: Library) -> Fatigue:
    """Return the fatigue check."""
    refuse_second(draft.desk, (*record["details"], *record["welds"]), "detail")
    return Fatigue(
        duty=duty_of(draft, record["duty"]),
        details=tuple(detail for each in record["details"] for detail in details_of(draft, each, library)),
        welds=tuple(weld_detail(each, library) for each in record["welds"]),
    )


def duty_of(draft: Draft, record: Record) -> Duty:
    """Return the life asked for and its events."""
    factors, yearly = record["partial factors"], record["distance per year"]
    refuse_second(draft.desk, (*record["events"], *record["histories"]), "event")
    if (record["life"] is None) == (record["life in years"] is None):
        draft.desk.refuse(
            record.line, record.subject, "does not say the life in one way", "write 'life', or 'life in years'"
        )
    by_km = record["life"] is not None
    events: tuple[Event | History, ...] = (
        *(event_of(draft, each) for each in record["events"]),
        *(history_of(draft, each) for each in record["histories"]),
    )
    if not events:
        draft.desk.refuse(record.line, record.subject, "nothing happens in it", "write 'events'")
    return Duty(
        events=events,
        life=record["life"] / KM if by_km else record["life in years"] or 1.0,
        life_in=Per.KM if by_km else Per.YEAR,
        km_per_year=None if yearly is None else yearly / KM,
        factors=PartialFactors() if factors is None else PartialFactors(factors["load"], factors["strength"]),
        damage_limit=record["damage limit"],
    )


def event_of(draft: Draft, record: Record) -> Event:
    """Return one kind of swing."""
    cycles, per = _often(draft, record, "cycles")
    return Event(record["name"], record["to"], cycles, record["from"], per, record["share"], record["source"])


def history_of(draft: Draft, record: Record) -> History:
    """Return a recorded swing."""
    repeats, per = _often(draft, record, "repeats")
    return History(record["name"], record["to"], record["from"], record["values"], repeats, per, record["source"])


def _often(draft: Draft, record: Record, word: str) -> tuple[float, Per]:
    """Return how often, and by what it is counted."""
    by_km, by_year = record[f"{word} per km"], record[f"{word} per year"]
    if (by_km is None) == (by_year is None):
        remedy = f"write '{word} per km' or '{word} per year'"
        draft.desk.refuse(record.line, record.subject, "does not say how often in one way", remedy)
    return (by_year or 1.0, Per.YEAR) if by_km is None else (by_km, Per.KM)


def details_of(draft: Draft, record: Record, library: Library) -> Iterator[Detail]:
    """Yield a place that may crack, on both rails where both are meant."""
    if (record["class"] is None) == (record["base metal"] is None):
        draft.desk.refuse(
            record.line, record.subject, "is neither a class nor base metal", "write one of 'class', 'base metal'"
        )
        return
    metal = record["base metal"]
    resistance = fatigue_class(library, record["class"]) if metal is None else base_metal(metal, library)
    for name in members_meant(record["member"]):
        cut = record["cut"]
        if cut is not None and cut not in {each.name for each in draft.members[name].cuts}:
            fault = f"'{name}' has no cut '{cut}'"
            draft.desk.refuse(record.line_of("cut"), record.subject, fault, "name one of its cuts, or give from and to")
        yield Detail(
            name=record["name"] if len(members_meant(record["member"])) == 1 else f"{record['name']}, {name}",
            member=name,
            resistance=resistance,
            start=record["from"],
            end=record["to"],
            side=draft.seen_side(record, name),
            cut=cut,
            concentration=record["concentration"],
        )


def base_metal(record: Record, library: Library) -> BaseMetal:
    """Return unwelded metal."""
    return BaseMetal(finish(library, record["finish"]), record["mean stress"], record["reliability"])


def weld_detail(record: Record, library: Library) -> WeldDetail:
    """Return the throat of a weld group."""
    along = record["along"]
    return WeldDetail(
        name=record["name"],
        weld=record["weld"],
        across=fatigue_class(library, record["across"]),
        along=None if along is None else fatigue_class(library, along),
    )
