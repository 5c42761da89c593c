"""Fatigue: records to the duty and the details that may crack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from framecheck.model.duty import (
    BaseMetal,
    Detail,
    DetailClass,
    Duty,
    Event,
    Fatigue,
    History,
    PartialFactors,
    Per,
    WeldDetail,
)
from framecheck.model.weld_joints import Joint, WeldGroup
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.strength import members_meant
from framecheck.reading.fatigue_tables import fatigue_class, finish
from framecheck.reading.form import Record, refuse_second
from framecheck.reading.library import Library

KM = 1e3


Names = Mapping[str, tuple[str, ...]]
"""Names under which load cases are run, by those in the file."""


def fatigue_of(draft: Draft, record: Record, library: Library, joints: Iterable[Joint], names: Names) -> Fatigue:
    """Return the fatigue check."""
    welds = {each.name: each for each in joints if isinstance(each, WeldGroup)}
    refuse_second(draft.desk, (*record["details"], *record["welds"]), "detail")
    return Fatigue(
        duty=duty_of(draft, record["duty"], names),
        details=tuple(detail for each in record["details"] for detail in details_of(draft, each, library)),
        welds=tuple(weld_detail(draft, each, library, welds) for each in record["welds"]),
    )


def duty_of(draft: Draft, record: Record, names: Names) -> Duty:
    """Return the life asked for and its events."""
    factors, yearly = record["partial factors"], record["distance per year"]
    refuse_second(draft.desk, (*record["events"], *record["histories"]), "event")
    if (record["life"] is None) == (record["life in years"] is None):
        draft.desk.refuse(
            record.line, record.subject, "does not say the life in one way", "write 'life', or 'life in years'"
        )
    by_km = record["life"] is not None
    events: tuple[Event | History, ...] = (
        *(event for each in record["events"] for event in both_sides(event_of(draft, each), names)),
        *(event for each in record["histories"] for event in both_sides(history_of(draft, each), names)),
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
        refuse_other_metal(draft, record, resistance, metals_along(draft, record, name))
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


def metals_along(draft: Draft, record: Record, name: str) -> frozenset[str]:
    """Return the kinds of metal of a member where a detail sits, or all along it where the detail is a notch's.

    A section of both counts as aluminium, which bears less.
    """
    begun, kinds = 0.0, set()
    for stretch in draft.members[name].stretches:
        if record["cut"] is not None or (begun <= record["to"] and stretch.until >= record["from"]):
            section = draft.shelf.section(stretch.section)
            found = {metal.kind for metal in (section.material, *section.metals)}
            kinds.add("aluminium" if "aluminium" in found else section.material.kind)
        begun = stretch.until
    return frozenset(kinds)


def refuse_other_metal(
    draft: Draft, record: Record, resistance: DetailClass | BaseMetal, metals: Iterable[str]
) -> None:
    """Note a class of one metal on another, and unwelded metal judged by steel's rules where it is none."""
    key, holds = ("class", resistance.metal) if isinstance(resistance, DetailClass) else ("base metal", "steel")
    for metal in sorted(set(metals) - {holds}):
        fault = f"it lies on {metal}, and {NAMES[key]} is for {holds}"
        draft.desk.refuse(
            record.line_of(key), record.subject, fault, f"write a class of {metal} (shared/fatigue_classes.yaml)"
        )


NAMES = {
    "class": "its class",
    "base metal": "the rule for unwelded metal",
    "across": "the class across",
    "along": "the class along",
}


def weld_detail(draft: Draft, record: Record, library: Library, welds: Mapping[str, WeldGroup]) -> WeldDetail:
    """Return the throat of a weld group; a class of another metal than that of the parts is noted."""
    group = welds.get(record["weld"])
    metals = frozenset(part.material.kind for part in group.parts) if group is not None else frozenset()
    found: dict[str, DetailClass | None] = {}
    for key in ("across", "along"):
        found[key] = fatigue_class(library, record[key]) if record[key] is not None else None
        resistance = found[key]
        for metal in sorted(metals - {resistance.metal}) if resistance is not None else ():
            fault = (
                f"its weld is on {metal}, and {NAMES[key]} is for {resistance.metal}" if resistance is not None else ""
            )
            draft.desk.refuse(
                record.line_of(key), record.subject, fault, f"write a class of {metal} (shared/fatigue_classes.yaml)"
            )
    across = found["across"]
    assert across is not None
    return WeldDetail(name=record["name"], weld=record["weld"], across=across, along=found["along"])
