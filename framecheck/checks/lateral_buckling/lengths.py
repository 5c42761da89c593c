"""The lengths over which a member may buckle: stated or bracketed; members that go on end to end buckle as one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from enum import Enum
from itertools import pairwise
from math import cos, dist, hypot, radians

import numpy as np

from framecheck.frame.results import FrameSolution
from framecheck.model.arrays import Array, IntArray, Vector
from framecheck.model.case import BucklingLength, Case
from framecheck.model.frame import Frame, Make, Member, MemberEnd
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class, value_class

MOST_TURN = radians(45)
"""Two members that meet end to end and turn by more hold each other as a corner does; below it they are one. Common practice."""
HINGED = (Make.PINNED, Make.GIVEN)
Terminal = tuple[int, int]
"""A member by its place in the frame, and its end: 0 start, 1 end."""


@value_class
class Chain:
    """Members end to end, by their places in the frame; backward: which of them run against the chain."""

    members: tuple[int, ...]
    backward: tuple[bool, ...]

    def points(self, frame: Frame) -> tuple[str, ...]:
        """Return the points along the chain, each once."""
        found: list[str] = []
        for number, back in zip(self.members, self.backward, strict=True):
            points = frame.members[number].points[:: -1 if back else 1]
            found += points[1:] if found else points
        return tuple(found)

    def stations(self, frame: Frame) -> dict[str, float]:
        """Return the station of each of its points, m from its first."""
        points, passed = self.points(frame), 0.0
        found = {points[0]: 0.0}
        for first, second in pairwise(points):
            passed += dist(frame.points[first], frame.points[second])
            found[second] = passed
        return found


@array_class
class ChainLine:
    """Section forces along a chain in one list, (n_station, n_bound x n_case, 9): bound after bound.

    stations: (n_station,) m along it. sections: one a station. owner (n_station,): the member each station belongs to; own
    (n_station,): its station there, m.
    """

    stations: Array
    sections: tuple[SectionProperties, ...]
    forces: Array
    owner: IntArray
    own: Array


def chains_of(frame: Frame) -> Mapping[int, Chain]:
    """Return the chain that each member is part of, by the member's place in the frame."""
    joined = dict(_joints(frame))
    found: dict[int, Chain] = {}
    for number in range(len(frame.members)):
        if number not in found:
            chain = _walked(joined, number)
            found |= dict.fromkeys(chain.members, chain)
    return found


def _joints(frame: Frame) -> Iterator[tuple[Terminal, Terminal]]:
    """Yield pairs of ends that go on into each other, both ways round."""
    through = {point for member in frame.members for point in member.points[1:-1]}
    at: dict[str, list[Terminal]] = {}
    for number, member in enumerate(frame.members):
        at.setdefault(member.points[0], []).append((number, 0))
        at.setdefault(member.points[-1], []).append((number, 1))
    for point, ends in at.items():
        if len(ends) == 2 and point not in through and ends[0][0] != ends[1][0] and _goes_on(frame, *ends):
            yield ends[0], ends[1]
            yield ends[1], ends[0]


def _goes_on(frame: Frame, first: Terminal, second: Terminal) -> bool:
    """Return whether one end goes on into another without a hinge or a sharp corner."""
    if any(_end(frame.members[number], end).make in HINGED for number, end in (first, second)):
        return False
    one, two = (_outward(frame, *each) for each in (first, second))
    return bool(-(one @ two) >= cos(MOST_TURN))


def _end(member: Member, end: int) -> MemberEnd:
    """Return one of a member's ends."""
    return member.end if end else member.start


def _outward(frame: Frame, number: int, end: int) -> Array:
    """Return the unit direction (3,) in which a member leaves by one of its ends."""
    last, before = frame.members[number].points[:: 1 if end else -1][-1], frame.members[number].points[:: 1 if end else -1][-2]
    way = np.subtract(frame.points[last], frame.points[before])
    return np.asarray(way / max(float(np.linalg.norm(way)), 1e-12))


def _walked(joined: Mapping[Terminal, Terminal], number: int) -> Chain:
    """Return the chain of a member; a ring is no chain."""
    links = [(number, False)]
    for forward in (True, False):
        at = (number, 1 if forward else 0)
        while at in joined:
            other, end = joined[at]
            if other in (member for member, _ in links):
                return Chain((number,), (False,))
            back = (end == 1) if forward else (end == 0)
            links = [*links, (other, back)] if forward else [(other, back), *links]
            at = (other, 1 - end)
    return Chain(tuple(member for member, _ in links), tuple(back for _, back in links))


def line_of(frame: Frame, solutions: Sequence[FrameSolution], chain: Chain) -> ChainLine:
    """Return the section forces along a chain under all bounds; of a member that runs against it, shear forces change their sign."""
    parts, passed = [], 0.0
    for number, back in zip(chain.members, chain.backward, strict=True):
        line, points = solutions[0].members[number], frame.members[number].points
        length = sum(dist(frame.points[a], frame.points[b]) for a, b in pairwise(points))
        order = slice(None, None, -1 if back else 1)
        along = passed + (length - line.stations if back else line.stations)[order]
        forces = np.concatenate([each.members[number].forces for each in solutions], axis=1)[order]
        if back:
            forces = forces * np.where(np.isin(np.arange(9), (1, 2)), -1.0, 1.0)
        parts.append(ChainLine(along, line.sections[order], forces, np.full(len(along), number), line.stations[order]))
        passed += length
    if len(parts) == 1:
        return parts[0]
    sections = tuple(section for each in parts for section in each.sections)
    stations, forces, owner, own = (
        np.concatenate([getattr(each, name) for each in parts]) for name in ("stations", "forces", "owner", "own")
    )
    return ChainLine(stations, sections, forces, owner, own)


OVERHANG = 2.1
"""Effective length factor of a column held at one end only: ANSI/AISC 360-22, table C-A-7.1, case e (recommended value)."""


class Known(Enum):
    """How a length that may buckle is known: (what it is in words)."""

    BETWEEN = "between crossmembers"
    END_TO_END = "end to end"
    UNHELD = "end to end, nothing holds its ends"
    OVERHANG = "of an end sticking out"
    STATED = "as stated"


@value_class
class Unbraced:
    """A part of a member from station `start` to `end` (m) and its lengths (m): column vertically, sideways; lateral for twist.

    known: how; held: True where both its ends are known to be held, so that the shape of the bending moment may be counted.
    """

    known: Known
    start: float
    end: float
    vertical: float
    sideways: float
    lateral: float
    held: bool


Meeting = Mapping[str, frozenset[int]]
"""The members at each point, by their places in the frame."""


def members_at(frame: Frame) -> Meeting:
    """Return the members that each point of a frame is a point of: looked up once for all chains."""
    found: dict[str, set[int]] = {}
    for number, member in enumerate(frame.members):
        for point in member.points:
            found.setdefault(point, set()).add(number)
    return {point: frozenset(members) for point, members in found.items()}


def brace_stations(frame: Frame, chain: Chain, meeting: Meeting) -> list[float]:
    """Return the stations where another member, or a support or spring that holds sideways, braces a chain, in order, m."""
    own, stations = frozenset(chain.members), chain.stations(frame)
    holding = {point for point in stations if meeting[point] - own}
    across = sideways_of(frame, tuple(stations))
    holding |= {each.point for each in frame.supports if holds(each.stiffness, across)}
    holding |= {point for each in frame.springs if holds(each.stiffness, across) for point in each.points}
    return sorted(station for point, station in stations.items() if point in holding)


def sideways_of(frame: Frame, points: tuple[str, ...]) -> Vector:
    """Return the unit direction level and square to a line from its first point to its last; y of an upright one."""
    first, last = frame.points[points[0]], frame.points[points[-1]]
    x, y = last[0] - first[0], last[1] - first[1]
    length = hypot(x, y)
    return (-y / length, x / length, 0.0) if length > 1e-9 else (0.0, 1.0, 0.0)


def holds(stiffness: tuple[float, ...], across: Vector) -> bool:
    """Return whether a support or spring (along x, y, z, ...) holds against movement along `across`, half of it at least."""
    return any(abs(share) > 0.5 and each > 0 for each, share in zip(stiffness, across, strict=False))


@value_class
class Brackets:
    """The parts of a chain that may buckle where nothing is stated: from brace to brace, and the whole."""

    between: tuple[Unbraced, ...]
    end_to_end: tuple[Unbraced, ...]


def brackets_of(frame: Frame, chain: Chain, meeting: Meeting, whole: float, first: float = 0.0) -> Brackets:
    """Return the parts of a chain that may buckle.

    first, whole, m: stations of its metal's ends, which may lie beyond its points, or short of them.
    """
    braces = _to_the_metal(frame, chain, meeting, (first, whole))
    return Brackets(tuple(between(braces, whole, first)), tuple(end_to_end(braces, whole)))


def unbraced_lengths(case: Case, member: Member, brackets: Brackets) -> tuple[Unbraced, ...]:
    """Return the parts of a member's chain that may buckle. Both brackets are there where nothing is stated."""
    stated = next((each for each in case.strength.buckling_lengths if each.member == member.name), None)
    if stated is None:
        return tuple(dict.fromkeys((*brackets.between, *brackets.end_to_end)))
    return tuple(dict.fromkeys(as_stated(each, stated) for each in brackets.between))


def _to_the_metal(frame: Frame, chain: Chain, meeting: Meeting, metal: tuple[float, float]) -> list[float]:
    """Return the braces of a chain; one at its first or last point holds the metal's end that stands beyond that point on a wall:
    a crossmember that reaches past a channel's middle line to its web does not stick out of it. metal: stations of its ends, m.
    """
    last = max(chain.stations(frame).values())
    ends = {0.0: min(metal[0], 0.0), last: max(metal[1], last)}
    return [ends.get(each, each) for each in brace_stations(frame, chain, meeting)]


def between(braces: list[float], whole: float, first: float = 0.0) -> Iterator[Unbraced]:
    """Yield the parts from one brace to the next, and the ends that stick out."""
    for start, end in pairwise(braces):
        inner = len(braces) > 2 or end - start < 0.999 * whole
        yield _part(Known.BETWEEN if inner else Known.END_TO_END, start, end, 1.0)
    if not braces:
        yield _part(Known.UNHELD, min(first, 0.0), whole, OVERHANG)
        return
    for start, end in ((min(first, 0.0), braces[0]), (braces[-1], whole)):
        if end - start > 1e-3 * whole:
            yield _part(Known.OVERHANG, start, end, OVERHANG)


def end_to_end(braces: list[float], whole: float) -> Iterator[Unbraced]:
    """Yield the whole member, as if its crossmembers moved with it."""
    if len(braces) > 1:
        yield _part(Known.END_TO_END, braces[0], braces[-1], 1.0)


def _part(known: Known, start: float, end: float, factor: float) -> Unbraced:
    length = end - start
    return Unbraced(known, start, end, factor * length, factor * length, length, factor == 1.0)


def as_stated(part: Unbraced, stated: BucklingLength) -> Unbraced:
    """Return a part with the lengths that the user states."""
    return replace(
        part,
        known=Known.STATED,
        vertical=stated.vertical or part.vertical,
        sideways=stated.sideways or part.sideways,
        lateral=stated.lateral or part.lateral,
        held=False,
    )
