"""Fatigue: records to the duty and the details that may crack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import inf

from framecheck.frame.geometry import point_stations
from framecheck.frame.kinks import Covered, covered, kinks_of
from framecheck.frame.stand_in import as_rail
from framecheck.model.case import LoadCase
from framecheck.model.duty import BaseMetal, Detail, DetailClass, Fatigue, HoleClasses
from framecheck.model.frame import Frame, Kinks
from framecheck.model.weld_joints import Joint
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.life_details import (
    Names,
    bolt_details,
    duty_of,
    seam_details,
    splice_details,
    weld_details,
)
from framecheck.reading.build.strength import members_meant
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record, refuse_second
from framecheck.reading.library import Library
from framecheck.reading.shop_tables import class_beside, fatigue_class, finish
from framecheck.results.ledger import is_kinked

FACES = ("EN hot spot at a fillet", "IIW aluminium hot spot at a fillet")
"""The classes that walls under member ends are read with, where they bend beside the weld."""


CLAMPED, LOOSE = "EN hole", "EN bolt hole"
"""The classes that the holes of bolts through members are read with: of faces that a clamp is known to hold, and of others."""


def fatigue_of(
    builder: FrameBuilder, record: Record, library: Library, joints: tuple[Joint, ...], runs: tuple[tuple[LoadCase, ...], Names]
) -> Fatigue:
    """Return the fatigue check: the details of the file, and every weld and bolt that it names no class for.

    runs: load cases of the vehicle, and the names under which load cases are run by those in the file.
    """
    refuse_second(builder.diagnostics, (*record["details"], *record["welds"]), "detail")
    return Fatigue(
        duty=duty_of(builder, record["duty"], *runs),
        details=(
            *(detail for each in record["details"] for detail in details_of(builder, each, library)),
            *splice_details(builder, library),
        ),
        welds=weld_details(builder, record["welds"], library, joints),
        bolts=bolt_details(library, joints),
        seams=seam_details(builder, library),
        faces=tuple(fatigue_class(library, name) for name in FACES),
        holes=HoleClasses(fatigue_class(library, CLAMPED), fatigue_class(library, LOOSE), class_beside(library, CLAMPED)),
    )


def details_of(builder: FrameBuilder, record: Record, library: Library) -> Iterator[Detail]:
    """Yield a place that may crack, on both rails where both are meant."""
    if (record["class"] is None) == (record["base metal"] is None):
        builder.diagnostics.refuse(
            record.line, record.subject, "is neither a class nor base metal", "write one of 'class', 'base metal'"
        )
        return
    metal = record["base metal"]
    resistance = fatigue_class(library, record["class"]) if metal is None else base_metal(metal, library)
    beside = other_class(builder, record, library, resistance)
    for name in members_meant(record["member"]):
        cut = record["cut"]
        if cut is not None and cut not in {each.name for each in builder.members[name].cuts}:
            fault = f"'{name}' has no cut '{cut}'"
            builder.diagnostics.refuse(record.line_of("cut"), record.subject, fault, "name one of its cuts, or give from and to")
        refuse_off_member(builder, record, name)
        for key, one in (("class" if metal is None else "base metal", resistance), ("other class", beside)):
            refuse_other_metal(builder, record, key, one, metals_along(builder, record, name))
        refuse_thin_wall(builder, record, resistance, name)
        yield Detail(
            name=record["name"] if len(members_meant(record["member"])) == 1 else f"{record['name']}, {name}",
            member=name,
            resistance=resistance,
            start=record["from"],
            end=record["to"],
            side=builder.seen_side(record, name),
            cut=cut,
            concentration=record["concentration"],
            beside=beside,
        )


def base_metal(record: Record, library: Library) -> BaseMetal:
    """Return unwelded metal."""
    return BaseMetal(finish(library, record["finish"]), record["mean stress"], record["reliability"])


def metals_along(builder: FrameBuilder, record: Record, name: str) -> frozenset[str]:
    """Return the kinds of metal of a member where a detail sits, or all along it where the detail is a notch's.

    A section of both counts as aluminium, which bears less.
    """
    begun, kinds = 0.0, set()
    for stretch in builder.members[name].stretches:
        if record["cut"] is not None or (begun <= record["to"] and stretch.until >= record["from"]):
            section = builder.catalogue.section(stretch.section)
            found = {metal.kind for metal in (section.material, *section.metals)}
            kinds.add("aluminium" if "aluminium" in found else section.material.kind)
        begun = stretch.until
    return frozenset(kinds)


def other_class(
    builder: FrameBuilder, record: Record, library: Library, resistance: DetailClass | BaseMetal
) -> DetailClass | None:
    """Return the class for the stress that a detail's class isn't read with: the file's, or that of the table; None for base metal."""
    if isinstance(resistance, BaseMetal):
        if record["other class"] is not None:
            fault = "has both an other class and base metal, which needs none"
            builder.diagnostics.refuse(record.line_of("other class"), record.subject, fault, "leave one of them out")
        return None
    if record["other class"] is None:
        return class_beside(library, resistance.name)
    found = fatigue_class(library, record["other class"])
    if found.stress is resistance.stress:
        fault = f"both its classes are for {found.stress.value} stress"
        remedy = "name one for the other stress, or leave it out"
        builder.diagnostics.refuse(record.line_of("other class"), record.subject, fault, remedy)
    return found


OFF = 1e-3
"""A detail may pass its member's end by as much, m: sizes are rounded."""


def refuse_off_member(builder: FrameBuilder, record: Record, name: str) -> None:
    """Note a detail that ends before it begins, or lies off its member."""
    start, end, whole = record["from"], record["to"], builder.length(name)
    if record["cut"] is not None:
        return
    if start > end:
        fault, remedy, key = f"it begins at {start:.4g} m and ends before, at {end:.4g} m", "swap from and to", "from"
    elif start > whole + OFF or whole + OFF < end < inf:
        key = "from" if start > whole + OFF else "to"
        fault = f"it reaches {record[key]:.4g} m along '{name}', which is {whole:.4g} m long"
        remedy = f"keep it within 0 and {whole:.4g} m"
    else:
        return
    builder.diagnostics.refuse(record.line_of(key), record.subject, fault, remedy)


def refuse_thin_wall(builder: FrameBuilder, record: Record, resistance: DetailClass | BaseMetal, name: str) -> None:
    """Note a class that holds from a thickness of wall on, where a member's wall is thinner."""
    least = resistance.least_wall if isinstance(resistance, DetailClass) else 0.0
    wall = thinnest_wall(builder, record, name) if least else least
    if wall < least * (1 - 1e-6):
        fault = f"its class holds for walls of {length(least)} or more, and that of '{name}' is {length(wall)}"
        builder.diagnostics.refuse(record.line_of("class"), record.subject, fault, f"write '{THIN}', or the class of another detail")


def thinnest_wall(builder: FrameBuilder, record: Record, name: str) -> float:
    """Return the thinnest wall of a member where a detail sits, or all along it where the detail is a notch's, m."""
    begun, found = 0.0, [inf]
    for stretch in builder.members[name].stretches:
        if record["cut"] is not None or (begun <= record["to"] and stretch.until >= record["from"]):
            sizes = as_rail(builder.catalogue.section(stretch.section).shape)
            found += [each for each in (sizes.wall, sizes.wall_left, sizes.wall_right) if each > 0.0]
        begun = stretch.until
    return min(found)


def refuse_other_metal(
    builder: FrameBuilder, record: Record, key: str, resistance: DetailClass | BaseMetal | None, metals: Iterable[str]
) -> None:
    """Note a class of one metal on another, and unwelded metal judged by steel's rules where it is none."""
    if resistance is None or (key == "other class" and record[key] is None):
        return
    holds = resistance.metal if isinstance(resistance, DetailClass) else "steel"
    for metal in sorted(set(metals) - {holds}):
        fault = f"it lies on {metal}, and {NAMES[key]} is for {holds}"
        builder.diagnostics.refuse(
            record.line_of(key), record.subject, fault, f"write a class of {metal} (shared/fatigue_classes.yaml)"
        )


THIN = "EN tube butt weld, thin"
NAMES = {"class": "its class", "other class": "its other class", "base metal": "the rule for unwelded metal"}


THICK = 8e-3
"""m: from here on a tube butted end to end is in the better class. EN 1993-1-9:2005, table 8.6, from memory."""


def with_kinks(asked: Fatigue, frame: Frame, library: Library) -> Fatigue:
    """Return the fatigue check with a detail at every welded kink that the file names none for: a tube butted end to end."""
    thin = {each[:3]: each[3] for each in sorted(welded_kinks(frame), key=lambda each: -each[3])}
    found = (kink_detail(place, wall, library) for place, wall in thin.items())
    return replace(asked, details=(*asked.details, *(each for each in found if not covers(asked.details, each))))


def welded_kinks(frame: Frame) -> Iterator[tuple[str, str, float, float]]:
    """Yield member, point, station and wall (m) of each leg at every kink of a steel tube that is, or may be, welded."""
    for kink in kinks_of(frame):
        if kink.made is Kinks.BENT or not is_kinked(kink):
            continue
        for side in kink.sides:
            member, section = frame.members[side.member], side.section
            if section.material.kind == "steel" and covered(kink, side) is Covered.YES:
                station = point_stations(frame, member)[side.leg + side.end]
                yield member.name, kink.point, station, as_rail(section.shape).wall


def kink_detail(place: tuple[str, str, float], wall: float, library: Library) -> Detail:
    """Return the detail of a welded kink; place: member, point, station."""
    member, point, at = place
    name = "EN tube butt weld" if wall >= THICK else THIN
    beside = class_beside(library, name)
    return Detail(f"kink at {point}", member, fatigue_class(library, name), start=at, end=at, beside=beside)


def covers(details: Iterable[Detail], one: Detail) -> bool:
    """Return whether a detail of the file covers a kink."""
    return any(
        each.member == one.member and each.cut is None and each.start - OFF <= one.start <= each.end + OFF for each in details
    )
