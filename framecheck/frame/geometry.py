"""Where members lie and how a section is turned in them; members that run on in one line. SI; vehicle axes x forward, y left, z
up.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from itertools import accumulate, combinations, pairwise
from math import dist
from operator import attrgetter
from typing import Any

import numpy as np

from framecheck.model.arrays import Array, BoolArray, Vector
from framecheck.model.frame import Frame, Make, Member, MemberEnd
from framecheck.value_class import value_class

VERTICAL = 1e-3
"""Sine of the angle to the vertical below which a member counts as vertical: 1 mm in a metre, so that neither rounding of a drawing
nor a hair of a place turns a post's section round. Common practice, no source."""


def member_axes(along: Array) -> Array:
    """Return members' axes (n, 3, 3), x, y, z as rows, from unit directions (n, 3).

    z is the direction square to the member that is nearest to up; of a vertical member, y is the vehicle's left.
    """
    left = np.stack([-along[:, 1], along[:, 0], np.zeros(len(along))], axis=1)
    size = np.linalg.norm(left, axis=1)
    upright = size < VERTICAL
    left[upright] = np.array([0.0, 1.0, 0.0]) - along[upright] * along[upright, 1:2]
    left /= np.linalg.norm(left, axis=1)[:, None]
    return np.stack([along, left, cross(along, left)], axis=1)


def section_turns(angles: Array, mirrored: BoolArray) -> Array:
    """Return matrices (n, 2, 2) from a section's own (y, z) to the member's: first mirrored, then turned by the angle, rad."""
    c, s, flip = np.cos(angles), np.sin(angles), np.where(mirrored, -1.0, 1.0)
    return np.stack([c * flip, -s, s * flip, c], axis=1).reshape(-1, 2, 2)


def cross_rows(arms: Array, axes: Array) -> Array:
    """Return arms x axes (n, m, 3): rows that give, times a turn, how far a point at the end of an arm moves along each axis.

    arms (n, m, 3), axes (n, m, 3): axis . (turn x arm) = (arm x axis) . turn.
    """
    return cross(arms, axes)


def cross(first: Array, second: Array) -> Array:
    """Return vector products (..., 3); numpy's own takes ten times as long for few."""
    found = np.empty(np.broadcast_shapes(first.shape, second.shape))
    for way, (one, two) in enumerate(((1, 2), (2, 0), (0, 1))):
        found[..., way] = first[..., one] * second[..., two] - first[..., two] * second[..., one]
    return found


def point_stations(frame: Frame, member: Member) -> list[float]:
    """Return the station of each of a member's points, m."""
    places = [frame.points[name] for name in member.points]
    stations = [0.0]
    for first, second in pairwise(places):
        stations.append(stations[-1] + dist(first, second))
    return stations


DOUBLED = 0.99985
"""Cosine of the angle (1 degree) under which two members that leave a point lie on each other."""
RUNS_ON = 0.7  # least cosine of the turn between two of several members that are one; where just two meet, any turn is a kink
FIRM = (Make.UNSAID, Make.RIGID)

End = tuple[int, int]
"""A member's end: its place in frame.members; 0 start, 1 end."""


DRAWN = ("points", "members", "sections", "splices", "panels", "body", "openings", "sheet", "kink_softness")
"""What is drawn of a frame, whatever holds or loads it."""
drawn = attrgetter(*DRAWN)


class OneFrame:
    """A frame that is equal to those alone that share all that is drawn of it, clamped alike: what is found of it is found once."""

    __slots__ = ("frame", "parts")

    def __init__(self, frame: Frame) -> None:
        self.frame, self.parts = frame, (frame.clamped, *map(id, drawn(frame)))

    def __hash__(self) -> int:
        return hash(self.parts)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, OneFrame) and other.parts == self.parts


class _ByContent:
    """A frame that is equal to those drawn alike, in the same order."""

    __slots__ = ("frame", "words")

    def __init__(self, frame: Frame) -> None:
        self.frame, self.words = frame, repr((frame.points, list(frame.sections)))

    def __hash__(self) -> int:
        return hash(self.words)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ByContent) and other.words == self.words and drawn(other.frame) == drawn(self.frame)


def as_met(frame: Frame) -> Frame:
    """Return a frame as the very one that was drawn alike, where it was among the last few: what was found of that one stands."""
    return replace(frame, **dict(zip(DRAWN, _met(_ByContent(frame)), strict=True)))


@lru_cache(maxsize=4)
def _met(of: _ByContent) -> tuple[Any, ...]:
    found: tuple[Any, ...] = drawn(of.frame)
    return found


@value_class
class RunLeg:
    """A straight length of a run: between two neighbouring points of a member; reversed: the member is drawn the other way."""

    member: Member
    number: int
    reversed: bool


@value_class
class MemberRun:
    """Members that run on, as one line. points: n + 1 names, legs: n; numbers: the members' places in frame.members.

    is_ring: the last runs on into the first.
    """

    points: tuple[str, ...]
    legs: tuple[RunLeg, ...]
    numbers: frozenset[int]
    is_ring: bool = False

    @property
    def is_rail(self) -> bool:
        """Return whether any of its members is a rail by its role."""
        return any(leg.member.role == "rail" for leg in self.legs)

    def inner_places(self) -> Iterator[tuple[MemberRun, int]]:
        """Yield the run and the number of each point in it between two of its legs; of a ring also where it closes, in the same ring
        begun one leg sooner.
        """
        yield from ((self, number) for number in range(1, len(self.legs)))
        if self.is_ring:
            yield replace(self, points=(self.points[-2], *self.points[:-1]), legs=(self.legs[-1], *self.legs[:-1])), 1


def counted_from(line: tuple[Array, Array, Array], second: float) -> float:
    """Return the station that a leg whose start an arm moved counts from, so that it ends at its second point's station. line: its
    start, its end and its first point's place; nothing moves where the arm is longer."""
    start, end, point = line
    reach = float((end - point) @ (end - start) / np.linalg.norm(end - start))
    return second - (reach if reach > 0 else float(np.linalg.norm(end - point)))


def outward(frame: Frame, end: End) -> Vector:
    """Return the unit direction from a member's end into the member."""
    points = frame.members[end[0]].points
    here, there = (points[0], points[1]) if end[1] == 0 else (points[-1], points[-2])
    a, b = frame.points[here], frame.points[there]
    length = dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length


def _firm_ends(frame: Frame) -> Mapping[str, list[End]]:
    """Return, per point, the members' ends that are joined to it firmly and without an arm."""
    found: dict[str, list[End]] = {}
    for number, member in enumerate(frame.members):
        for end, made in ((0, member.start), (1, member.end)):
            if made.make in FIRM and not made.has_arm:
                found.setdefault(member.points[-end], []).append((number, end))
    return found


def running_on(frame: Frame) -> Mapping[End, End]:
    """Return each end's partner: the end of the member that runs on from it, both ways.

    One pair a point: rails before others, else what lies most fore and aft, else what is straightest. Where a member passes
    through the point, other members end on it, and only rails run on. Where just two ends meet and neither says how, they are one
    however sharply they turn; but a rail's end has a wall, on which another kind of member stands. Two ends that say they are a corner
    are one, whatever else ends there.
    """
    passed = {point for member in frame.members for point in member.points[1:-1]}
    pairs: dict[End, End] = {}
    for point, ends in _firm_ends(frame).items():
        said = [end for end in ends if _end_of(frame, end).corner is not None]
        if len(said) == 2:
            pairs[said[0]], pairs[said[1]] = said[1], said[0]
            continue
        if len(ends) == 2 and point not in passed and _is_corner(frame, *ends):
            pairs[ends[0]], pairs[ends[1]] = ends[1], ends[0]
            continue
        best = max(_candidates(frame, ends, point in passed), default=None)
        if best is not None:
            one, other = ends[-best[3]], ends[-best[4]]
            pairs[one], pairs[other] = other, one
    return pairs


def _end_of(frame: Frame, end: End) -> MemberEnd:
    member = frame.members[end[0]]
    return member.end if end[1] else member.start


def _is_corner(frame: Frame, one: End, other: End) -> bool:
    """Return whether two ends that meet alone are a corner as a member has one between its points: neither says how it is made,
    neither is a rail's wall to the other, and the one does not lie on the other (a bar doubled runs on nowhere).
    """
    if sum(a * b for a, b in zip(outward(frame, one), outward(frame, other), strict=True)) > DOUBLED:
        return False
    unsaid = all(_end_of(frame, each).make is Make.UNSAID for each in (one, other))
    roles = {frame.members[number].role for number, _ in (one, other)}
    return unsaid and (len(roles) == 1 or "rail" not in roles)


def _candidates(frame: Frame, ends: list[End], passed: bool) -> Iterator[tuple[bool, float, float, int, int]]:
    """Yield (rails, how far fore and aft, how straight, less the places of both) of the pairs of ends that may be one member."""
    members, ways = frame.members, [outward(frame, end) for end in ends]
    for i, j in combinations(range(len(ends)), 2):
        straight = -sum(a * b for a, b in zip(ways[i], ways[j], strict=True))
        one, other = members[ends[i][0]], members[ends[j][0]]
        if one is other or one.role != other.role or straight < RUNS_ON or (passed and one.role != "rail"):
            continue
        yield one.role == "rail", round(abs(ways[i][0]) + abs(ways[j][0]), 6), round(straight, 6), -i, -j


def runs_of(frame: Frame) -> Iterator[MemberRun]:
    """Yield every run of members, in the order of the frame's members; most are of one member."""
    pairs = running_on(frame)
    seen: set[int] = set()
    for number in range(len(frame.members)):
        if number not in seen:
            entries = _chain(pairs, number)
            seen.update(member for member, _ in entries)
            yield _run(frame, pairs, entries)


def _chain(pairs: Mapping[End, End], number: int) -> list[End]:
    """Return the ends at which a run's members are entered, from its first to its last."""
    entered = (number, 0)
    while entered in pairs and pairs[entered][0] != number:  # back to where the run begins
        before = pairs[entered]
        entered = (before[0], 1 - before[1])
    found, known = [entered], {entered[0]}
    while (left := (found[-1][0], 1 - found[-1][1])) in pairs and pairs[left][0] not in known:
        found.append(pairs[left])
        known.add(pairs[left][0])
    return found


def _run(frame: Frame, pairs: Mapping[End, End], entries: list[End]) -> MemberRun:
    """Return a run from the ends at which its members are entered."""
    points: list[str] = []
    legs: list[RunLeg] = []
    for number, end in entries:
        member = frame.members[number]
        count = len(member.points) - 1
        points += (member.points if end == 0 else member.points[::-1])[bool(points) :]
        legs += [RunLeg(member, leg if end == 0 else count - 1 - leg, end == 1) for leg in range(count)]
    is_ring = pairs.get((entries[-1][0], 1 - entries[-1][1])) == entries[0]
    return MemberRun(tuple(points), tuple(legs), frozenset(number for number, _ in entries), is_ring)


def lengths(frame: Frame, points: tuple[str, ...]) -> list[float]:
    """Return the length of each leg between points, m."""
    return [dist(frame.points[a], frame.points[b]) for a, b in pairwise(points)]


def run_seen_from(frame: Frame, number: int) -> tuple[frozenset[int], Mapping[str, tuple[float, ...]]]:
    """Return the members of the run that one belongs to, and the station of each of the run's points along that member, m: negative
    before its first point, more than its length beyond its last; of the point where a ring closes both.
    """
    return _seen_from(OneFrame(frame), number)


@lru_cache(maxsize=16)
def _seen_from(of: OneFrame, number: int) -> tuple[frozenset[int], Mapping[str, tuple[float, ...]]]:
    frame = of.frame
    member = frame.members[number]
    run = next(each for each in runs_of(frame) if number in each.numbers)
    first = next(place for place, leg in enumerate(run.legs) if leg.member is member)
    along = [0.0, *accumulate(lengths(frame, run.points))]
    start, last = along[first], along[first + len(member.points) - 1]
    way, zero = (-1.0, last) if run.legs[first].reversed else (1.0, start)
    stations: dict[str, tuple[float, ...]] = {}
    for point, place in zip(run.points, along, strict=True):
        stations[point] = (*stations.get(point, ()), way * (place - zero))
    return run.numbers, stations
