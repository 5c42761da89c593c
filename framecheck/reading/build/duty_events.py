"""A duty: records to the life asked for and the events that fill it, on both sides of the truck."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from framecheck.model.case import LoadCase
from framecheck.model.duty import Duty, Event, History, PartialFactors, Per
from framecheck.reading.build.draft import Draft
from framecheck.reading.form import Record, refuse_second

KM = 1e3
Names = Mapping[str, tuple[str, ...]]
"""Names under which load cases are run, by those in the file."""
TWINS = {"cornering left": "cornering right", "cornering right": "cornering left"}
"""Kinds of load case (shared/load_cases.yaml) that do on one side what another kind does on the other."""


def duty_of(draft: Draft, record: Record, of_vehicle: tuple[LoadCase, ...], names: Names) -> Duty:
    """Return the life asked for and its events; of_vehicle: the load cases of the vehicle as they are run."""
    factors, yearly = record["partial factors"], record["distance per year"]
    refuse_second(draft.desk, (*record["events"], *record["histories"]), "event")
    if (record["life"] is None) == (record["life in years"] is None):
        draft.desk.refuse(
            record.line, record.subject, "does not say the life in one way", "write 'life', or 'life in years'"
        )
    refuse_still(draft, (*record["events"], *record["histories"]), names)
    by_km = record["life"] is not None
    events: tuple[Event | History, ...] = (
        *(event for each in record["events"] for event in both_sides(event_of(draft, each), names)),
        *(event for each in record["histories"] for event in both_sides(history_of(draft, each), names)),
    )
    if not events:
        draft.desk.refuse(record.line, record.subject, "nothing happens in it", "write 'events'")
    mirrored, one_sided = other_sides(events, of_vehicle)
    return Duty(
        events=(*events, *mirrored),
        one_sided=one_sided,
        life=record["life"] / KM if by_km else record["life in years"] or 1.0,
        life_in=Per.KM if by_km else Per.YEAR,
        km_per_year=None if yearly is None else yearly / KM,
        factors=PartialFactors() if factors is None else PartialFactors(factors["load"], factors["strength"]),
        damage_limit=record["damage limit"],
    )


def refuse_still(draft: Draft, records: tuple[Record, ...], names: Names) -> None:
    """Note events that go from a load case to itself, where that one is run once: nothing swings."""
    for each in records:
        if each["from"] == each["to"] and len(names.get(each["to"], (each["to"],))) == 1:
            fault, remedy = f"swings from '{each['to']}' to itself: nothing swings", "name two load cases, or leave out 'from'"
            draft.desk.refuse(each.line_of("from"), each.subject, fault, remedy)


def both_sides(event: Event | History, names: Names) -> Iterator[Event | History]:
    """Yield an event once for each pairing of the runs that its two load cases have, each with all of its cycles.

    Where a load case is run on both sides, nobody has said how the count is shared: each side sees all of it. A swing within
    one load case that is run on both sides goes from its one side to its other.
    """
    ends = names.get(event.high, (event.high,)), (None,) if event.low is None else names.get(event.low, (event.low,))
    pairs = [(high, low) for high in ends[0] for low in ends[1]]
    if event.high == event.low and len(ends[0]) > 1:
        pairs = [(high, low) for number, low in enumerate(ends[0]) for high in ends[0][number + 1 :]]
    if len(pairs) == 1:
        yield replace(event, high=pairs[0][0], low=pairs[0][1])
        return
    for high, low in pairs:
        name = f"{event.name} ({high if low is None or low == event.low else f'{low} to {high}'})"
        yield replace(event, name=name, high=high, low=low, source=f"{event.source}; counted in full for each side")


def other_sides(
    events: tuple[Event | History, ...], of_vehicle: tuple[LoadCase, ...]
) -> tuple[tuple[Event | History, ...], tuple[str, ...]]:
    """Return the swings of the truck's other side that no event names, each with all of its cycles, and events without another side.

    A road bends both ways and lifts wheels of both sides: what is counted on one side happens on the other too, unless the file
    counts it there itself.
    """
    told = {frozenset((event.low, event.high)) for event in events}
    found, alone = list[Event | History](), list[str]()
    for event in events:
        ends = other_side(event.high, of_vehicle), (None,) if event.low is None else other_side(event.low, of_vehicle)
        swings = [(high, low) for high in ends[0] for low in ends[1] if high != low]
        alone += () if swings else (event.name,)
        if not any(frozenset(swing) in told for swing in swings):
            for high, low in swings:
                name, source = f"{event.name} ({high})", f"{event.source}; counted in full for each side"
                found.append(replace(event, name=name, high=high, low=low, source=source))
    return tuple(found), tuple(alone)


def other_side(name: str, of_vehicle: tuple[LoadCase, ...]) -> tuple[str, ...]:
    """Return the load cases that do on the other side what one does on its own; the load case itself where it has no side."""
    case = next((each for each in of_vehicle if each.name == name), None)
    if case is None:
        return (name,)
    if case.kind in TWINS:
        return tuple(each.name for each in of_vehicle if each.kind == TWINS[case.kind])
    if case.side is None:
        return (name,)
    across = [each for each in of_vehicle if each.kind == case.kind and each.side not in (None, case.side)]
    of_one = [each for each in across if each.in_file == case.in_file]
    return tuple(each.name for each in of_one or across)


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
