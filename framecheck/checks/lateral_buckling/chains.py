"""Members that go on into each other end to end buckle as one: a rail written as two is the same rail. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from math import cos, dist, radians

import numpy as np

from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame, Make, Member, MemberEnd
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
    """Section forces along a chain in one list. owner (n,): the member each station belongs to; own (n,): its station there, m."""

    line: MemberForces
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


def line_of(frame: Frame, solution: FrameSolution, chain: Chain) -> ChainLine:
    """Return the section forces along a chain; of a member that runs against it, shear forces change their sign."""
    if chain.members == (chain.members[0],) and not chain.backward[0]:
        line = solution.members[chain.members[0]]
        return ChainLine(line, np.full(len(line.stations), chain.members[0]), line.stations)
    parts, passed = [], 0.0
    for number, back in zip(chain.members, chain.backward, strict=True):
        line, points = solution.members[number], frame.members[number].points
        length = sum(dist(frame.points[a], frame.points[b]) for a, b in pairwise(points))
        order = slice(None, None, -1 if back else 1)
        along = passed + (length - line.stations if back else line.stations)[order]
        forces = line.forces[order] * np.where(np.isin(np.arange(9), (1, 2)) & back, -1.0, 1.0)
        parts.append((line, along, forces, np.full(len(along), number), line.stations[order], order))
        passed += length
    whole = MemberForces(
        parts[0][0].member,
        np.concatenate([each[1] for each in parts]),
        tuple(section for each in parts for section in each[0].sections[each[5]]),
        np.concatenate([each[2] for each in parts]),
        *(
            np.concatenate([getattr(each[0], name)[each[5]] for each in parts])
            for name in ("member_forces", "displacements", "places", "axes")
        ),
    )
    return ChainLine(whole, np.concatenate([each[3] for each in parts]), np.concatenate([each[4] for each in parts]))
