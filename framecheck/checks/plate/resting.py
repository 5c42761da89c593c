"""What a plate lies against: faces of the members that its bolts go into, ledges round other bolts; and how the frame gives way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from math import inf

import numpy as np

from framecheck.checks.heat.footprint import outline_corners, stations_at
from framecheck.frame.at import at
from framecheck.frame.mass import reference_line
from framecheck.frame.report import Answered
from framecheck.frame.solve import answered, bounds_of
from framecheck.frame.structure import Structure, structure_of
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Make, Member, sections_at
from framecheck.model.loads import CaseLoads, MemberLoad, PointLoad
from framecheck.model.plate import Lies, Plate, Rest, Strike
from framecheck.model.supports import Support
from framecheck.section.properties import SectionProperties
from framecheck.vehicle.masses import wheels_of

ALONG = 9  # rests along a member under the plate, besides those at bolts
WIDEST = 1.5  # half of what lies round a bolt that names no member, over its seat's diameter, at most (common practice, no source)
SAME_SPOT = 1e-6  # m: rests nearer than this to one another are one
HELD = (inf, inf, inf, 0.0, 0.0, 0.0)


Sections = Mapping[str, SectionProperties]
Cuts = Mapping[tuple[str, str], SectionProperties]


def with_rests(case: Case, structure: Structure, sections: Sections, cuts: Cuts) -> Case:
    """Return the case with what each of its plates lies against, and how the frame gives way there."""
    if not any(plate.bolts for plate in case.plates):
        return case
    stiff = stiffened(structure, sections, cuts) if any(hangs_struck(plate) for plate in case.plates) else None
    return replace(case, plates=tuple(rested(case, (structure, stiff), sections, plate) for plate in case.plates))


def hangs_struck(plate: Plate) -> bool:
    """Return whether a plate hangs on points of the frame and is struck."""
    return hangs(plate) and any(isinstance(load, Strike) for load in plate.loads)


def hangs(plate: Plate) -> bool:
    """Return whether all of a plate's bolts name points of the frame."""
    return bool(plate.bolts) and all(bolt.frame_point is not None for bolt in plate.bolts)


def stiffened(structure: Structure, sections: Sections, cuts: Cuts) -> Structure | None:
    """Return the frame with every made end rigid and what is left open at its stiff bound; None: it is the same."""
    frame = replace(structure.frame, members=tuple(with_rigid_ends(member) for member in structure.frame.members))
    bound = bounds_of(frame, sections)[-1]
    if frame == structure.frame and bound.warping is structure.bound.warping:
        return None
    return structure_of(frame, sections, replace(bound, seams=structure.bound.seams), cuts)


def with_rigid_ends(member: Member) -> Member:
    """Return a member with rigid ends where they are neither pinned nor given as springs."""
    start, end = (
        each if each.make in (Make.PINNED, Make.GIVEN) else replace(each, make=Make.RIGID) for each in (member.start, member.end)
    )
    return replace(member, start=start, end=end)


def rested(case: Case, structures: tuple[Structure, Structure | None], sections: Sections, plate: Plate) -> Plate:
    """Return a plate with its rests on members and the frame's give, as made and, where it is struck, with rigid joints (None: no
    other).
    """
    rests = tuple(rests_of(case, sections, plate))
    made, stiff = structures
    give = give_of(case, made, plate, rests) if hangs(plate) else ()
    hard = () if stiff is None or not hangs_struck(plate) else give_of(case, stiff, plate, rests)
    return replace(plate, rests=rests, give=give, stiff_give=hard)


def rests_of(case: Case, sections: Mapping[str, SectionProperties], plate: Plate) -> Iterator[Rest]:
    """Yield where the plate presses: along the faces of the members that its bolts go into."""
    if plate.lies is Lies.SPACERS:
        return
    for member in case.frame.members:
        if any(bolt.frame_point in member.points for bolt in plate.bolts):
            yield from apart(along_member(case, sections, plate, member), plate)


def pried(plate: Plate) -> Plate:
    """Return a plate whose bolts go into no member with a ledge round each: what it may lie against there, for their pull."""
    if plate.lies is Lies.SPACERS or plate.rests:
        return plate
    ledges = tuple(rest for n in range(len(plate.bolts)) for rest in apart(round_bolt(plate, n), plate))
    if not plate.give:
        return replace(plate, rests=ledges)
    order = [*range(len(plate.bolts)), *(rest.bolt or 0 for rest in ledges)]
    return replace(plate, rests=ledges, give=tuple(tuple(plate.give[i][j] for j in order) for i in order))


def round_bolt(plate: Plate, number: int) -> Iterator[Rest]:
    """Yield a square of rests round a bolt: as far out as the nearest edge of the plate, at most WIDEST seats."""
    bolt = plate.bolts[number]
    (x, y), sizes = bolt.at, (plate.length, plate.width)
    half = max(min(x, sizes[0] - x, y, sizes[1] - y, WIDEST * bolt.seat), bolt.seat / 2)
    for i in (-1, 0, 1):
        for j in (-1, 0, 1):
            if i or j:
                yield Rest((min(max(x + i * half, 0.0), sizes[0]), min(max(y + j * half, 0.0), sizes[1])), bolt=number)


def apart(rests: Iterator[Rest], plate: Plate) -> Iterator[Rest]:
    """Yield the rests that are a quarter of a seat or more from every bolt: nearer ones are the bolt's own seat."""
    for rest in rests:
        if all(np.hypot(rest.at[0] - bolt.at[0], rest.at[1] - bolt.at[1]) > bolt.seat / 4 for bolt in plate.bolts):
            yield rest


def along_member(case: Case, sections: Mapping[str, SectionProperties], plate: Plate, member: Member) -> Iterator[Rest]:
    """Yield rests along both edges of a member's face, within the plate, on each of its straight lengths that lies over it."""
    axes, stations = np.array([plate.along, plate.across]), stations_at(case.frame, member)
    bolts = [bolt for bolt in plate.bolts if bolt.frame_point in member.points]
    origin = np.mean([axes @ np.array(case.frame.points[str(bolt.frame_point)]) - np.array(bolt.at) for bolt in bolts], axis=0)
    named, done = {bolt.frame_point for bolt in bolts}, set[tuple[float, float]]()
    for first, last, begins, stops in lengths_of(case.frame, member):
        start, end = (axes @ place - origin for place in (begins, stops))
        span, length = inside(plate, start, end), float(np.linalg.norm(stops - begins))
        if span is None or not length > 0:
            continue
        section = sections[sections_at(member, (stations[first] + stations[last]) / 2)[0]]
        aside = to_face_edge(plate, member, (stops - begins) / length, section)
        at_bolts = [float(share) for share, name in enumerate((first, last)) if name in named]
        for share in (*np.linspace(*span, ALONG), *at_bolts):
            for way in (-1, 1):
                spot = np.clip(start + share * (end - start) + way * aside, 0.0, (plate.length, plate.width))
                place = float(spot[0]), float(spot[1])
                if all(np.hypot(place[0] - x, place[1] - y) > SAME_SPOT for x, y in done):
                    done.add(place)
                    yield Rest(place, member.name, stations[first] + float(share) * length)


def to_face_edge(plate: Plate, member: Member, line: Array, section: SectionProperties) -> Array:
    """Return the way (2,) from a member's line to the edge of its face, in the plate, m; line: unit direction of the member."""
    sideways = sideways_of(plate, line)
    in_vehicle = sideways[0] * np.array(plate.along) + sideways[1] * np.array(plate.across)
    half = float(np.abs(outline_corners(line, member, section) @ in_vehicle).max())
    return np.asarray(half * sideways)


def lengths_of(frame: Frame, member: Member) -> Iterator[tuple[str, str, Array, Array]]:
    """Yield a member's straight lengths: the two points, and where its reference line (ends moved by rigid arms) begins and stops."""
    line = reference_line(frame, member)
    for (first, last), (begins, stops) in zip(pairwise(member.points), pairwise(line), strict=True):
        yield first, last, begins, stops


def station_of(frame: Frame, member: Member, point: str) -> float:
    """Return the station of a member's point, m; of its last one, the end of its reference line."""
    stations = stations_at(frame, member)
    if point != member.points[-1]:
        return stations[point]
    *_, (first, _, begins, stops) = lengths_of(frame, member)
    return stations[first] + float(np.linalg.norm(stops - begins))


def place_at(frame: Frame, member: Member, station: float) -> Array:
    """Return the place (3,) on a member's reference line at a station (m): each length counts from its first point's."""
    stations = stations_at(frame, member)
    found = list(lengths_of(frame, member))
    first, _, begins, stops = next((each for each in reversed(found) if stations[each[0]] <= station), found[0])
    return np.asarray(begins + (station - stations[first]) * (stops - begins) / np.linalg.norm(stops - begins))


def sideways_of(plate: Plate, line: Array) -> Array:
    """Return the direction (2,) in the plate that is square to a line (3,) in the vehicle."""
    x, y = float(line @ np.array(plate.along)), float(line @ np.array(plate.across))
    size = float(np.hypot(x, y))
    return np.array([-y, x]) / size if size > 0 else np.array([1.0, 0.0])


def inside(plate: Plate, start: Array, end: Array) -> tuple[float, float] | None:
    """Return the shares of a line that lie over the plate, None where none does."""
    low, high = 0.0, 1.0
    for at_start, at_end, size in zip(start, end, (plate.length, plate.width), strict=True):
        step = float(at_end - at_start)
        if abs(step) < 1e-9:
            if not -1e-9 <= at_start <= size + 1e-9:
                return None
            continue
        cuts = sorted(((0.0 - at_start) / step, (size - at_start) / step))
        low, high = max(low, float(cuts[0])), min(high, float(cuts[1]))
    return (low, high) if high - low > 1e-6 else None


def grounded(case: Case, structure: Structure) -> Structure:
    """Return the frame on its supports; with a vehicle, on the points that its suspension hangs on."""
    if case.vehicle is None:
        return structure
    points = dict.fromkeys(point for wheel in wheels_of(case.vehicle) for point in wheel.on)
    frame = replace(structure.frame, supports=tuple(Support(point, HELD) for point in points))
    return replace(structure, frame=frame, factors={})


def give_of(case: Case, structure: Structure, plate: Plate, rests: Sequence[Rest]) -> tuple[tuple[float, ...], ...]:
    """Return how far the frame moves square to the plate at its bolts and rests (rows) per newton at each (columns), m/N."""
    normal = np.cross(plate.along, plate.across)
    up = (float(normal[0]), float(normal[1]), float(normal[2]))
    places: list[Place] = [str(bolt.frame_point) for bolt in plate.bolts]
    places += [(str(rest.member), rest.station) for rest in rests]
    distinct = list(dict.fromkeys(places))
    held = answered(grounded(case, structure), [unit_load(place, up) for place in distinct])
    moved = movements(case, held, distinct) @ normal
    order = [distinct.index(place) for place in places]
    full = moved[np.ix_(order, order)]
    return tuple(tuple(float(each) for each in row) for row in (full + full.T) / 2)


Place = str | tuple[str, float]


def unit_load(place: Place, up: tuple[float, float, float]) -> CaseLoads:
    """Return one newton square to the plate at a place of the frame."""
    if isinstance(place, str):
        return CaseLoads(f"give at {place}", point_loads=(PointLoad(place, up),))
    member, station = place
    return CaseLoads(f"give of {member} at {station}", member_loads=(MemberLoad(member, up, up, station, station),))


def movements(case: Case, held: Answered, places: Sequence[Place]) -> Array:
    """Return how far places of the frame move in each case (n, case, 3), m; all of one member at once."""
    stations = [on_member(case, place) for place in places]
    found: dict[tuple[str, float], Array] = {}
    for member in dict.fromkeys(name for name, _ in stations):
        rising = sorted({station for name, station in stations if name == member})
        moved = at(held, member, rising).displacements
        found |= {(member, station): moved[n] for n, station in enumerate(rising)}
    return np.stack([found[each] for each in stations])


def on_member(case: Case, place: Place) -> tuple[str, float]:
    """Return a member that a place of the frame lies on, and its station there, m."""
    if not isinstance(place, str):
        return place
    member = next(each for each in case.frame.members if place in each.points)
    return member.name, station_of(case.frame, member, place)
