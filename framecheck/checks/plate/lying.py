"""What a plate lies against: faces of the members over it, ledges round bolts that go into none.

The plate lies on the faces of the members that its bolts go into, and on every other face at that level over its outline, bolted or
not. A face at another level it touches when it has moved so far, which two answers, touching and not, stand round: such a rest
says how far.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from framecheck.checks.heat.footprint import outline_corners, stations_at
from framecheck.frame.vibration import reference_line
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member, sections_at
from framecheck.model.plate import BoltedPlate, Lies, Mounting, PlateBolt, Rest
from framecheck.section.properties import SectionProperties

ALONG = 9  # rests along each length of a member between bolts, besides those at bolts
ALONG_FREE = 17  # the same of a member that no bolt goes into: one length reaches across the plate
WIDEST = 1.5  # half of what lies round a bolt that names no member, over its seat's diameter, at most (common practice, no source)
SAME_SPOT = 1e-6  # m: rests nearer than this to one another are one
FLUSH = 1e-3  # m: faces nearer than this to one level are at one (common practice, no source)
FARTHEST = 0.25  # of the plate's smaller side: faces that far from it are out of its reach (common practice, no source)
STEEPEST = 0.7  # cosine to the plate's normal: what leads away from it more steeply has no face over it

Sections = Mapping[str, SectionProperties]


class PlateScene(NamedTuple):
    """A plate on its frame. axes (2, 3), toward (3,): unit vehicle directions of plate x and y, and from the plate to the frame."""

    frame: Frame
    sections: Sections
    plate: BoltedPlate
    axes: Array
    toward: Array

    def origin(self, bolts: list[PlateBolt]) -> Array:
        """Return where the plate's corner is along its axes (2,), m: the mean of what its bolts say."""
        places = [self.axes @ np.array(self.frame.points[str(bolt.frame_point)]) - np.array(bolt.at) for bolt in bolts]
        return np.asarray(np.mean(places, axis=0))


class Length(NamedTuple):
    """A straight length of a member: its points, where its reference line begins and stops (3,), and its section half way."""

    first: str
    last: str
    begins: Array
    stops: Array
    section: SectionProperties


class Placing(NamedTuple):
    """Bolts that say where the plate is under a member, and the level of the faces that they go into, m toward the frame."""

    bolts: list[PlateBolt]
    levels: list[float]

    @property
    def along(self) -> int:
        """Return how many rests stand along a length."""
        return ALONG_FREE

    def rise(self, level: float) -> float | None:
        """Return how far the plate has to move to reach a face at a level, m (below 0: it would lie in it); None: it lies on it."""
        if max(abs(level - each) for each in self.levels) <= FLUSH:
            return None
        return level - max(self.levels)


class Bolted(Placing):
    """Bolts that go into the member itself: the plate is drawn to it between their levels."""

    @property
    def along(self) -> int:
        """Return how many rests stand along a length."""
        return ALONG

    def rise(self, level: float) -> float | None:
        """Return the same as for any member, the plate's level there that of the nearest bolt's face."""
        return Placing(self.bolts, [float(np.clip(level, min(self.levels), max(self.levels)))]).rise(level)


def rests_of(case: Case, sections: Sections, plate: BoltedPlate) -> Iterator[Rest]:
    """Yield where the plate presses: along the faces of the members over it."""
    bolts = [bolt for bolt in plate.bolts if bolt.frame_point is not None]
    if plate.lies is Lies.SPACERS or not bolts:
        return
    toward = np.cross(plate.along, plate.across) * (1.0 if plate.mounting is Mounting.UNDER else -1.0)
    scene = PlateScene(case.frame, sections, plate, np.array([plate.along, plate.across]), toward)
    levels = {member.name: levels_at(scene, member, bolts) for member in case.frame.members}
    every = Placing(bolts, [level for found in levels.values() for level in found])
    for member in case.frame.members:
        own = Bolted([bolt for bolt in bolts if bolt.frame_point in member.points], levels[member.name])
        yield from apart(along_member(scene, member, own if own.levels else every), plate)


def levels_at(scene: PlateScene, member: Member, bolts: list[PlateBolt]) -> list[float]:
    """Return the level of a member's face at each bolt that goes into it, m toward the frame."""
    named = {bolt.frame_point for bolt in bolts}
    found = []
    for length in lengths_over(scene, member):
        deep = depth_before(scene, member, length)
        ends = ((length.first, length.begins), (length.last, length.stops))
        found += [float(place @ scene.toward) - deep for name, place in ends if name in named]
    return found


def depth_before(scene: PlateScene, member: Member, length: Length) -> float:
    """Return how far a member's face stands out from its line to the plate, m."""
    return -float((outline_corners(direction_of(length), member, length.section) @ scene.toward).min())


def direction_of(length: Length) -> Array:
    """Return the unit direction (3,) of a straight length."""
    return np.asarray((length.stops - length.begins) / np.linalg.norm(length.stops - length.begins))


def along_member(scene: PlateScene, member: Member, placing: Placing) -> Iterator[Rest]:
    """Yield rests along both edges of a member's face, within the plate, on each of its straight lengths that lies over it."""
    stations, origin = stations_at(scene.frame, member), scene.origin(placing.bolts)
    named, done = {bolt.frame_point for bolt in placing.bolts}, set[tuple[float, float]]()
    for length in lengths_over(scene, member):
        start, end = (scene.axes @ place - origin for place in (length.begins, length.stops))
        aside, far = to_face_edge(scene.plate, member, length), float(np.linalg.norm(length.stops - length.begins))
        begun = station_begun(member, stations, (length.first, length.last), far)
        at_bolts = [float(n) for n, name in enumerate((length.first, length.last)) if name in named]
        for share in (*shares_over(scene.plate, (start, end, aside), placing.along), *at_bolts):
            rise = placing.rise(level_at(scene, member, length, share))
            if rise is not None and out_of_reach(scene, member, length, rise):
                continue
            line = start + share * (end - start)
            for place in across_face(scene.plate, line, aside):
                if all(np.hypot(place[0] - x, place[1] - y) > SAME_SPOT for x, y in done):
                    done.add(place)
                    x, y, z = ((np.array(place) - line) @ scene.axes).tolist()
                    yield Rest(place, member.name, begun + share * far, arm=(x, y, z), rise=rise)


def level_at(scene: PlateScene, member: Member, length: Length, share: float) -> float:
    """Return the level of a member's face at a share of one of its lengths, m toward the frame."""
    return float((length.begins + share * (length.stops - length.begins)) @ scene.toward) - depth_before(scene, member, length)


def out_of_reach(scene: PlateScene, member: Member, length: Length, rise: float) -> bool:
    """Return whether a face is too far for the plate to reach, or all of the member is on the plate's other side."""
    least = -2 * depth_before(scene, member, length) - FLUSH
    return not least <= rise <= FARTHEST * min(scene.plate.length, scene.plate.width)


def shares_over(plate: BoltedPlate, strip: tuple[Array, Array, Array], count: int) -> list[float]:
    """Return at which shares of a straight length its face rests on the plate. strip: start, end, the way to its face's edge (2,)."""
    start, end, aside = strip
    spans = [inside(plate, start + way * aside, end + way * aside) for way in (-1, 0, 1)]
    over = [span for span in spans if span is not None]
    if not over:
        return []
    low, high = min(span[0] for span in over), max(span[1] for span in over)
    return [float(share) for share in np.linspace(low, high, count)]


def across_face(plate: BoltedPlate, middle: Array, aside: Array) -> Iterator[tuple[float, float]]:
    """Yield where the two edges of a face press on the plate at one of its places (2,): no further out than the plate reaches."""
    span = inside(plate, middle - aside, middle + aside)
    for share in span or ():
        x, y = np.clip(middle + (2 * share - 1) * aside, 0.0, (plate.length, plate.width)).tolist()
        yield x, y


def to_face_edge(plate: BoltedPlate, member: Member, length: Length) -> Array:
    """Return the way (2,) from a member's line to the edge of its face, in the plate, m."""
    line = direction_of(length)
    sideways = sideways_of(plate, line)
    in_vehicle = sideways[0] * np.array(plate.along) + sideways[1] * np.array(plate.across)
    half = float(np.abs(outline_corners(line, member, length.section) @ in_vehicle).max())
    return np.asarray(half * sideways)


def lengths_over(scene: PlateScene, member: Member) -> Iterator[Length]:
    """Yield a member's straight lengths that run along the plate rather than away from it."""
    stations = stations_at(scene.frame, member)
    for first, last, begins, stops in lengths_of(scene.frame, member):
        if abs(float((stops - begins) @ scene.toward)) < STEEPEST * np.linalg.norm(stops - begins):
            section = scene.sections[sections_at(member, (stations[first] + stations[last]) / 2)[0]]
            yield Length(first, last, begins, stops, section)


def lengths_of(frame: Frame, member: Member) -> Iterator[tuple[str, str, Array, Array]]:
    """Yield a member's straight lengths: the two points, and where its reference line (ends moved by rigid arms) begins and stops."""
    line = reference_line(frame, member)
    for (first, last), (begins, stops) in zip(pairwise(member.points), pairwise(line), strict=True):
        yield first, last, begins, stops


def station_begun(member: Member, stations: Mapping[str, float], ends: tuple[str, str], far: float) -> float:
    """Return the station at which a straight length of that length, far, begins: the first of several ends where the next one goes on,
    however an arm moved its start.
    """
    first, last = ends
    return stations[last] - far if first == member.points[0] and last != member.points[-1] else stations[first]


def sideways_of(plate: BoltedPlate, line: Array) -> Array:
    """Return the direction (2,) in the plate that is square to a line (3,) in the vehicle."""
    x, y = float(line @ np.array(plate.along)), float(line @ np.array(plate.across))
    size = float(np.hypot(x, y))
    return np.array([-y, x]) / size if size > 0 else np.array([1.0, 0.0])


def inside(plate: BoltedPlate, start: Array, end: Array) -> tuple[float, float] | None:
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


def pried(plate: BoltedPlate) -> BoltedPlate:
    """Return a plate whose bolts go into no member with a ledge round each: what it may lie against there, for their pull."""
    if plate.lies is Lies.SPACERS or plate.rests:
        return plate
    ledges = tuple(rest for n in range(len(plate.bolts)) for rest in apart(round_bolt(plate, n), plate))
    if not plate.give:
        return replace(plate, rests=ledges)
    order = [*range(len(plate.bolts)), *(rest.bolt or 0 for rest in ledges)]
    return replace(plate, rests=ledges, give=tuple(tuple(plate.give[i][j] for j in order) for i in order))


def round_bolt(plate: BoltedPlate, number: int) -> Iterator[Rest]:
    """Yield a square of rests round a bolt: as far out as the nearest edge of the plate, at most WIDEST seats."""
    bolt = plate.bolts[number]
    (x, y), sizes = bolt.at, (plate.length, plate.width)
    half = max(min(x, sizes[0] - x, y, sizes[1] - y, WIDEST * bolt.seat), bolt.seat / 2)
    for i in (-1, 0, 1):
        for j in (-1, 0, 1):
            if i or j:
                yield Rest((min(max(x + i * half, 0.0), sizes[0]), min(max(y + j * half, 0.0), sizes[1])), bolt=number)


def apart(rests: Iterator[Rest], plate: BoltedPlate) -> Iterator[Rest]:
    """Yield the rests that are a quarter of a seat or more from every bolt: nearer ones are the bolt's own seat."""
    for rest in rests:
        if all(np.hypot(rest.at[0] - bolt.at[0], rest.at[1] - bolt.at[1]) > bolt.seat / 4 for bolt in plate.bolts):
            yield rest
