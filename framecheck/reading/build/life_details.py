"""A duty's events, and the details of joints and splices that may crack."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from math import dist

from framecheck.model.case import LoadCase
from framecheck.model.duty import (
    BoltDetail,
    Detail,
    DetailClass,
    Duty,
    Event,
    History,
    PartialFactors,
    Per,
    SeamDetail,
    StressKind,
    WeldDetail,
)
from framecheck.model.joining import LapHold, Splice
from framecheck.model.joints import BoltGroup
from framecheck.model.shape_parts import built_up_in
from framecheck.model.weld_joints import Joint, WeldGroup
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.form import Record, refuse_second
from framecheck.reading.library import Library
from framecheck.reading.shop_tables import class_beside, fatigue_class

KM = 1e3
Names = Mapping[str, tuple[str, ...]]
"""Names under which load cases are run, by those in the file."""
TWINS = {"cornering left": "cornering right", "cornering right": "cornering left"}
"""Kinds of load case (shared/load_cases.yaml) that do on one side what another kind does on the other."""


def duty_of(builder: FrameBuilder, record: Record, of_vehicle: tuple[LoadCase, ...], names: Names) -> Duty:
    """Return the life asked for and its events; of_vehicle: the load cases of the vehicle as they are run."""
    factors, yearly = record["partial factors"], record["distance per year"]
    refuse_second(builder.diagnostics, (*record["events"], *record["histories"]), "event")
    if (record["life"] is None) == (record["life in years"] is None):
        builder.diagnostics.refuse(
            record.line, record.subject, "does not say the life in one way", "write 'life', or 'life in years'"
        )
    refuse_still(builder, (*record["events"], *record["histories"]), names)
    by_km = record["life"] is not None
    events: tuple[Event | History, ...] = (
        *(event for each in record["events"] for event in both_sides(event_of(builder, each), names)),
        *(event for each in record["histories"] for event in both_sides(history_of(builder, each), names)),
    )
    if not events:
        builder.diagnostics.refuse(record.line, record.subject, "nothing happens in it", "write 'events'")
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


def refuse_still(builder: FrameBuilder, records: tuple[Record, ...], names: Names) -> None:
    """Note events that go from a load case to itself, where that one is run once: nothing swings."""
    for each in records:
        if each["from"] == each["to"] and len(names.get(each["to"], (each["to"],))) == 1:
            fault, remedy = f"swings from '{each['to']}' to itself: nothing swings", "name two load cases, or leave out 'from'"
            builder.diagnostics.refuse(each.line_of("from"), each.subject, fault, remedy)


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


def event_of(builder: FrameBuilder, record: Record) -> Event:
    """Return one kind of swing."""
    cycles, per = _often(builder, record, "cycles")
    return Event(record["name"], record["to"], cycles, record["from"], per, record["share"], record["source"])


def history_of(builder: FrameBuilder, record: Record) -> History:
    """Return a recorded swing."""
    repeats, per = _often(builder, record, "repeats")
    return History(record["name"], record["to"], record["from"], record["values"], repeats, per, record["source"])


def _often(builder: FrameBuilder, record: Record, word: str) -> tuple[float, Per]:
    """Return how often, and by what it is counted."""
    by_km, by_year = record[f"{word} per km"], record[f"{word} per year"]
    if (by_km is None) == (by_year is None):
        remedy = f"write '{word} per km' or '{word} per year'"
        builder.diagnostics.refuse(record.line, record.subject, "does not say how often in one way", remedy)
    return (by_year or 1.0, Per.YEAR) if by_km is None else (by_km, Per.KM)


NAMES = {"across": "the class across", "along": "the class along"}
STRESS = {"across": StressKind.NORMAL, "along": StressKind.SHEAR}
ROOTS = {"steel": "EN fillet root", "aluminium": "IIW aluminium fillet root"}
"""What a fillet whose class nobody names is read with, by metal: the crack from its root, through its throat."""
PULLED_BOLT = "EN bolt in tension"


def weld_details(
    builder: FrameBuilder, records: tuple[Record, ...], library: Library, joints: tuple[Joint, ...]
) -> tuple[WeldDetail, ...]:
    """Return the throats of every weld group: as the file asks, the others as roots that may crack."""
    groups = {each.name: each for each in joints if isinstance(each, WeldGroup)}
    written = tuple(weld_detail(builder, each, library, groups.get(each["weld"])) for each in records)
    named = {each.weld for each in written}
    return (*written, *(root_of(group, library) for group in groups.values() if group.name not in named))


def root_of(group: WeldGroup, library: Library) -> WeldDetail:
    """Return the root of a weld group, by the weaker metal of its parts."""
    root = ROOTS["aluminium" if "aluminium" in metals_of(group) else "steel"]
    return WeldDetail(f"root of {group.name}", group.name, fatigue_class(library, root), class_beside(library, root))


def metals_of(group: WeldGroup | None) -> frozenset[str]:
    """Return the kinds of metal that a weld group joins."""
    return frozenset() if group is None else frozenset(part.material.kind for part in group.parts)


def weld_detail(builder: FrameBuilder, record: Record, library: Library, group: WeldGroup | None) -> WeldDetail:
    """Return the throat of a weld group with the classes of the file; one of another metal or another stress is noted."""
    across = fatigue_class(library, record["across"])
    along = class_beside(library, across.name) if record["along"] is None else fatigue_class(library, record["along"])
    for key, found in (("across", across), ("along", along)):
        for fault, remedy in faults_of(key, found, group) if record[key] is not None else ():
            builder.diagnostics.refuse(record.line_of(key), record.subject, fault, remedy)
    return WeldDetail(name=record["name"], weld=record["weld"], across=across, along=along)


def faults_of(key: str, found: DetailClass, group: WeldGroup | None) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with a weld's class, and the remedy."""
    for metal in sorted(metals_of(group) - {found.metal}):
        fault = f"its weld is on {metal}, and {NAMES[key]} is for {found.metal}"
        yield fault, f"write a class of {metal} (shared/fatigue_classes.yaml)"
    if found.stress is not STRESS[key]:
        fault = f"{NAMES[key]} is read with {found.stress.value} stress"
        yield fault, f"write one for {STRESS[key].value} stress (shared/fatigue_classes.yaml)"


def bolt_details(library: Library, joints: tuple[Joint, ...]) -> tuple[BoltDetail, ...]:
    """Return the bolts of every bolt group, pulled and sheared."""
    groups = [each for each in joints if isinstance(each, BoltGroup)]
    if not groups:
        return ()
    pulled, sheared = fatigue_class(library, PULLED_BOLT), class_beside(library, PULLED_BOLT)
    return tuple(BoltDetail(group.name, pulled, sheared) for group in groups)


def seam_details(builder: FrameBuilder, library: Library) -> tuple[SeamDetail, ...]:
    """Return the seams of every built-up section of every member, by the weaker metal of its parts."""
    found = list[SeamDetail]()
    for member in builder.members.values():
        for name in dict.fromkeys(each.section for each in member.stretches):
            section = builder.catalogue.section(name)
            if next(built_up_in(section.shape), None) is not None:
                kinds = {each.kind for each in (section.material, *section.metals)}
                root = ROOTS["aluminium" if "aluminium" in kinds else "steel"]
                found.append(SeamDetail(member.name, name, class_beside(library, root)))
    return tuple(found)


LAP, HOLE, PLATE, BUTT = "EN lap, lap plate", "EN bolt hole", "EN doubler end, thick", "EN tube butt weld, thin"
"""Classes of steel that the tubes of a splice are read with: the least that the standard gives the kind; a plug counts as a lap."""


def splice_details(builder: FrameBuilder, library: Library) -> Iterator[Detail]:
    """Yield the places of every splice on both of its members; of aluminium none: what no detail covers is left open."""
    for splice in builder.splices:
        metals = {builder.catalogue.section(name).material.kind for name in splice.sections}
        for number, name in enumerate(splice.members) if metals == {"steel"} else ():
            for start, end, row in places_of(builder, splice, number):
                words = f"{splice.name} on {name}: {row}"
                yield Detail(words, name, fatigue_class(library, row), start, end, beside=class_beside(library, row))


def places_of(builder: FrameBuilder, splice: Splice, number: int) -> Iterator[tuple[float, float, str]]:
    """Yield (from, to, class) along a member of a splice, m."""
    member = builder.members[splice.members[number]]
    places = [builder.points[point] for point in member.points]
    reached = [0.0]
    for first, second in pairwise(places):
        reached.append(reached[-1] + dist(first, second))
    stations = dict(zip(member.points, reached, strict=True))
    tied = [stations[pair[number]] for pair in splice.ties]
    if not splice.butts:
        yield min(tied), max(tied), HOLE if splice.bolt is not None and not set(splice.holds) - {LapHold.BEARING} else LAP
        return
    if LapHold.BUTT in splice.holds:
        yield tied[0], tied[0], BUTT
    half = max((plate.length for plate in splice.plates), default=0.0) / 2
    if half:
        far = tied[0] - half if tied[0] > reached[-1] / 2 else tied[0] + half
        yield max(far, 0.0), min(max(far, 0.0), reached[-1]), PLATE
