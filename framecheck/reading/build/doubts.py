"""What a file says and may not mean: refused where it can't be true, told as a doubt where it may be.

Each threshold is a share of a size of the thing itself, and is named here with its reason.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import dist
from typing import Any

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Member, Section
from framecheck.model.joints import AtMemberEnd, AtPoint, BoltGroup, Terminal
from framecheck.model.shape_parts import outline_box, thinnest_wall
from framecheck.model.shop_tables import Material
from framecheck.model.vehicle import Clearance
from framecheck.model.weld_joints import Bracket, Joint, SpotGroup, WeldGroup
from framecheck.reading.blocks.common import XYZ
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.near_misses import MOST, MemberLine, crossings, near_ends, on_one_line
from framecheck.reading.diagnostics import Diagnostics, length
from framecheck.reading.form import Record
from framecheck.vehicle.clearance import SAME_PLACE, no_direction, where

GAP_NEAR = 1e-3
"""m: a written gap may differ from that between its coordinates by a division of a ruler (common practice, no source)."""
ACROSS = 0.1
"""Share of half the track beyond the vehicle's middle from which on a point is of the other side: a differential may sit off it."""
FOIL = 4e-4
"""m: sheet of car bodies begins at about 0.5 mm; a thinner wall is inches written as mm (common practice, no source)."""
SLIGHT, BULKY = 6e-3, 0.6
"""m: outside sizes between which members of road vehicles' frames lie, with room (common practice, no source)."""
STIFF = {"steel": (170e9, 230e9), "aluminium": (60e9, 80e9)}
"""Pa: Young's moduli of metals of a kind, with room: 190 to 212 GPa and 68 to 73 GPa in handbooks."""
HARDENED = 480e6
"""Pa: steel that yields later is cold-worked or heat-treated; EN 1993-1-1 ends at S460, ASTM A500 and A1011 near 70 ksi."""
SLACK = 1e-4
"""m: a wall may be written as its gauge on one scale or as its decimals (common practice, no source)."""
REACH = 3.0
"""Member sizes from its place beyond which a pattern is not where it is said to be (common practice, no source)."""
WIDEST = 4.0
"""m: no track on a road reaches it (common practice, no source)."""


def doubt_materials(diagnostics: Diagnostics, metals: Iterable[tuple[Record, Material]]) -> None:
    """Refuse metals that yield after they tear; note those whose kind and stiffness differ, and those that welding may soften."""
    for record, metal in metals:
        if metal.yield_strength > metal.ultimate_strength:
            fault = "its yield strength is above its ultimate strength: it would tear before it yields"
            diagnostics.refuse(record.line_of("yield strength"), record.subject, fault, "exchange them, or mend the one that is wrong")
        low, high = STIFF.get(metal.kind, (0.0, np.inf))
        if not low <= metal.youngs_modulus <= high:
            what = f"a Young's modulus of {metal.youngs_modulus / 1e9:.3g} GPa is not that of {metal.kind}"
            said = "" if record.given("kind") else ", which is taken where 'kind' is not written"
            diagnostics.doubt(record.line_of("youngs modulus"), record.subject, what + said, "write 'kind', or mend the modulus")
        if metal.welded_yield is None and (metal.kind == "aluminium" or metal.yield_strength > HARDENED):
            what = "'welded yield strength' is not written, so welds are taken to leave it as strong as it is"
            remedy = "write 'welded yield strength' and 'welded ultimate strength', as they are if welding does not lower them"
            diagnostics.doubt(record.line, record.subject, what, remedy)


def doubt_sections(diagnostics: Diagnostics, records: Mapping[str, Record], sections: Mapping[str, Section]) -> None:
    """Note the case's own sections whose sizes look like those of another unit."""
    for name, section in sections.items():
        record = records.get(name)
        if record is None:
            continue
        size, wall = max(outline_box(section.shape)), thinnest_wall(section.shape)
        if wall is not None and wall < FOIL:
            what = f"its thinnest metal is {length(wall)}, thinner than sheet of any frame"
            diagnostics.doubt(record.line, record.subject, what, "check the unit: 3/16 in and 3/16 mm differ by 25 times")
        if size and not SLIGHT <= size <= BULKY:
            what = f"it is {length(size)} outside, a size that members of frames don't have"
            diagnostics.doubt(record.line, record.subject, what, "check the unit of its sizes")


def doubt_axles(diagnostics: Diagnostics, axles: Record) -> None:
    """Refuse axles whose tyres would overlap, and note one wider than any road."""
    for key in ("front", "rear"):
        axle: Record = axles[key]
        track, radius = axle["track"], axle["tyre radius"]
        if track < radius:
            fault = f"a track of {length(track)} on tyres of {length(radius)} radius: the two tyres would be in one another"
            diagnostics.refuse(axle.line_of("track"), axle.subject, fault, "check the units of both")
        elif track > WIDEST:
            what = f"a track of {length(track)} is wider than any road allows"
            diagnostics.doubt(axle.line_of("track"), axle.subject, what, "check its unit")
    front, rear = axles["front"], axles["rear"]
    base = front["x"] - rear["x"]
    if 0.0 < base < front["tyre radius"] + rear["tyre radius"]:
        fault = f"the axles stand {length(base)} apart: front and rear tyres would be in one another"
        diagnostics.refuse(rear.line_of("x"), rear.subject, fault, "check the units of x and of the tyre radius")


def doubt_ground(builder: FrameBuilder, records: Iterable[Record]) -> None:
    """Note wheels whose ground is not written where the frame reaches below z = 0, which was taken for it.

    records: those that may write it. A ground too high brings the masses nearer to it, which reads kinder when braking and cornering.
    """
    lowest = min(builder.points, key=lambda name: builder.points[name][2], default=None)
    if lowest is None or builder.points[lowest][2] >= -SAME_PLACE:
        return
    for record in records:
        if not record.given("ground"):
            height = length(builder.points[lowest][2])
            what = f"the ground is not written and was taken at z = 0, and frame point '{lowest}' lies below it, at {height}"
            builder.diagnostics.take(record.line, record.subject, what, "write `ground`: z of what the tyres stand on")


def settled_gap(diagnostics: Diagnostics, record: Record, clearance: Clearance, points: Mapping[str, Vector]) -> float:
    """Return today's gap: as written, or between the coordinates where they give less; a doubt is noted where the two differ."""
    if clearance.second is None:
        return clearance.gap
    first, second = (where(place, points) for place in (clearance.first, clearance.second))
    apart = dist(first, second)
    if apart < SAME_PLACE:
        fault = no_direction(clearance)
        diagnostics.refuse(record.line, record.subject, fault.fault, fault.remedy)
    own = all(any(record[key][axis] is not None for axis in XYZ) for key in ("of", "to"))
    if apart < clearance.gap - GAP_NEAR or (own and apart > clearance.gap + GAP_NEAR):
        what = f"the gap is written as {length(clearance.gap)}, and its two places are {length(apart)} apart: the lesser counts"
        diagnostics.doubt(record.line_of("gap"), record.subject, what, "write the gap that the coordinates give, or mend them")
    return min(clearance.gap, apart)


def doubt_carriers(builder: FrameBuilder, vehicle: Record) -> None:
    """Note a gap whose place moves with a mount of a part, where the part itself moves on that mount's rubber."""
    driveline = vehicle["driveline"]
    of_engine = {} if driveline is None else dict.fromkeys(map(builder.point, driveline["mounts"]), "engine and gearbox")
    mounted = {builder.point(m["point"]): part["name"] for part in vehicle["masses"] for m in part["mounts"]}
    for record in vehicle["clearances"]:
        for spot in (record[key] for key in ("of", "to") if record[key] is not None):
            point = None if spot["point"] is None else builder.point(spot["point"])
            if point in mounted or point in of_engine:
                part = mounted.get(point) or of_engine[point]
                what = f"it moves with '{spot['point']}', a mount of '{part}': what the part moves on its rubber is not counted"
                remedy = f"write {{body: {part}, x: ..., y: ..., z: ...}} if it is on the part (give the part `mounts`)"
                builder.diagnostics.doubt(spot.line, record.subject, what, remedy)


def doubt_sides(builder: FrameBuilder, axle: Record) -> None:
    """Refuse a left bracket on a right-hand point, note a left suspension that hangs on one."""
    limit = ACROSS * axle["track"] / 2
    for bracket, name in (*left_brackets(axle["suspension"]), *left_brackets(axle["anti-roll bar"])):
        point = builder.point(name) if builder.point(name) in builder.points else builder.point(f"left {name}")
        y = builder.points[point][1]
        at = bracket["y"] if "y" in bracket.values else None
        if y < -limit and at is not None and at > limit:
            fault = f"'{name}' is on the right of the vehicle, and this bracket of the left side is on the left"
            remedy = f"write a point of the left side; the right suspension mirrors it (y of '{name}' is {length(y)})"
            builder.diagnostics.refuse(bracket.line, bracket.subject, fault, remedy)
        elif y < -limit:
            what = f"the left suspension hangs on '{name}', which is on the right of the vehicle"
            builder.diagnostics.doubt(bracket.line, bracket.subject, what, "write a point of the left side, or its y as it is")


def left_brackets(value: Any) -> Iterator[tuple[Record, str]]:
    """Yield every bracket of the left side within a record, with the name of its point."""
    if isinstance(value, tuple):
        for each in value:
            yield from left_brackets(each)
    if not isinstance(value, Record) or value.values.get("both sides") is False:
        return
    for key, inner in value.values.items():
        if key == "point" or (key in BRACKETS and isinstance(inner, str)):
            yield value, inner
        else:
            yield from left_brackets(inner)


BRACKETS = frozenset({"front", "rear", "inner", "outer", "bracket", "eye", "shackle", "bush"})
"""Keys of a suspension under which the name of a point may stand alone."""


def doubt_joint(builder: FrameBuilder, record: Record, joint: Joint) -> None:
    """Note a joint whose bolts, spots or welds lie, on the whole, farther from its place than its member is deep, if what acts
    along the way is not in its forces: another point of the member is nearer, or they lie REACH times that far.
    """
    middle, sizes = centre_of(joint), member_sizes(builder, joint)
    if middle is None or not sizes:
        return
    size, place, others = sizes
    away = float(np.linalg.norm(middle))
    passed = any(dist(place + middle, other) < away for other in others)
    if away <= size or not (passed or away > REACH * size):
        return
    what = (
        f"the middle of its {'welds' if isinstance(joint, WeldGroup) else 'pattern'} lies {length(away)} from its place, farther "
        f"than the member's {length(size)}: it is judged with the forces at its place, not with those where it lies"
    )
    remedy = "put the place where the pattern is (a point there, or the member's end), and `origin` near zero"
    builder.diagnostics.doubt(record.line, record.subject, what, remedy)


def doubt_pressed(builder: FrameBuilder, record: Record, joint: Joint) -> None:
    """Note a bracket whose wall is said to be thicker, or of a stronger metal, than any that the members at its place have."""
    members = members_at(builder, joint) if isinstance(joint, Bracket) else []
    sections = [builder.catalogue.section(stretch.section) for member in members for stretch in member.stretches]
    walls = [thinnest_wall(each.shape) for each in sections]
    if not isinstance(joint, Bracket) or not sections or None in walls:
        return
    wall, metal = max(each or 0.0 for each in walls), max((each.material for each in sections), key=lambda each: each.yield_strength)
    said = joint.member
    if said.wall > wall + SLACK:
        what = f"the wall under it is written as {length(said.wall)}, and its member has {length(wall)}"
        remedy = "write the member's own (design) wall; a plate on it is the `doubler`"
        builder.diagnostics.doubt(record.line_of("on"), record.subject, what, remedy)
    if said.material.yield_strength > metal.yield_strength * (1 + 1e-6):
        what = f"the wall under it is written as {said.material.name}, and its member is of {metal.name}, which bears less"
        builder.diagnostics.doubt(record.line_of("on"), record.subject, what, "write the member's own metal")


def members_at(builder: FrameBuilder, joint: Joint) -> list[Member]:
    """Return the members at a joint's place, none where it has loads of its own."""
    place = getattr(joint, "place", None)
    if isinstance(place, AtMemberEnd):
        end = builder.members[place.member].points[0 if place.end is Terminal.START else -1]
    else:
        end = place.point if isinstance(place, AtPoint) else ""
    return [each for each in builder.members.values() if end in each.points]


def centre_of(joint: Joint) -> Array | None:
    """Return the middle (3,) of a pattern from the joint's place, m; None for what has no pattern."""
    if isinstance(joint, WeldGroup):
        middles = [(np.array(run.start) + np.array(run.end)) / 2 for run in joint.runs]
        weights = [dist(run.start, run.end) for run in joint.runs]
        return np.asarray(np.average(middles, axis=0, weights=weights)) if sum(weights) else None
    if not isinstance(joint, (BoltGroup, SpotGroup)) or not joint.positions:
        return None
    across, along = np.mean(joint.positions, axis=0)
    plane = joint.plane
    return np.asarray(np.array(plane.origin) + across * np.array(plane.across) + along * np.array(plane.along))


def member_sizes(builder: FrameBuilder, joint: Joint) -> tuple[float, Array, list[Vector]] | None:
    """Return the largest outside size, m, of the members that a joint sits on, its place (3,) and their other points.

    None: it sits on none, or their sizes are not known.
    """
    place = getattr(joint, "place", None)
    if isinstance(place, AtMemberEnd):
        members = [builder.members[place.member]]
        point = members[0].points[0 if place.end is Terminal.START else -1]
    elif isinstance(place, AtPoint):
        members, point = [each for each in builder.members.values() if place.point in each.points], place.point
    else:
        return None
    names = [stretch.section for member in members for stretch in member.stretches]
    size = max((max(outline_box(builder.catalogue.section(name).shape)) for name in names), default=0.0)
    others = [builder.points[name] for member in members for name in member.points if name != point]
    return (size, np.array(builder.points[point]), others) if size else None


def doubt_geometry(builder: FrameBuilder, linked: frozenset[frozenset[str]]) -> None:
    """Note members on one line, members that cross without a joint, and ends that almost touch. linked: points that springs join."""
    lines = [line_of(builder, name) for name in builder.members]
    for found in (on_one_line(lines), crossings(lines), near_ends(lines, linked)):
        for member, what, remedy in found:
            line, subject = builder.member_places[member]
            builder.diagnostics.doubt(line, subject, what, remedy)
    if sum(len(line.places) - 1 for line in lines) > MOST:
        line, subject = builder.member_places[lines[0].name]
        what = f"it has more than {MOST} lengths between points: whether members cross without a joint was not looked for"
        builder.diagnostics.doubt(line, subject, what, "look at the drawing: framecheck draw")


def line_of(builder: FrameBuilder, name: str) -> MemberLine:
    """Return a member's line with its outside sizes."""
    member = builder.members[name]
    places = np.array([builder.points[point] for point in member.points], dtype=np.float64)
    places[0] += member.start.arm
    places[-1] += member.end.arm
    boxes = [outline_box(builder.catalogue.section(each.section).shape) for each in member.stretches]
    spliced = frozenset(other for each in builder.splices if name in each.members for other in each.members if other != name)
    return MemberLine(name, member.points, places, min(map(min, boxes)), max(map(max, boxes)), spliced)
