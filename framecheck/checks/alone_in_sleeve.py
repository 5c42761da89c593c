"""Where one of two tubes that lie in each other carries all: beside the first bolts that go through both."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from framecheck.checks.hole_places import stations_of
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.model.frame import SAME_STATION, Frame, Member
from framecheck.model.shape_parts import outline_box
from framecheck.model.shapes import RectTube, RoundTube, Sleeve
from framecheck.results.subjects import drilled
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class

ALIKE = 1e-6
"""How far two outlines may differ and still be one, m."""


@array_class
class Alone:
    """A tube that runs on by itself beyond one end of a length of one tube in another: its section, and whether that end is the
    length's start.
    """

    section: SectionProperties
    at_start: bool

    def shares(self, stations: Array, holes: Array, size: float) -> Array:
        """Return how much of the load this tube carries by itself at most, (n,): all up to the first hole from its own end, and at
        every further one what those before it have not handed over, an equal part each.

        By statics of bolts that share alike; a moment is handed over no later. What both tubes carry by their stiffness is judged
        beside it. holes (m,), m; a hole counts as passed from its size on, so that a hair moves no share by more than a hair.
        """
        way = 1.0 if self.at_start else -1.0
        ahead = 1.0 + way * (holes - np.asarray(stations)[:, None]) / size
        return np.asarray(np.clip(ahead, 0.0, 1.0).mean(axis=1))


Part = tuple[SectionProperties, Array, Array]
"""A section that carries forces: it, stations (k,), m, and forces (k, n_case, 9), as of a member."""


def parts_alone(case: Case, member: Member, line: MemberForces, start: float, end: float) -> Iterator[Part]:
    """Yield what each tube carries by itself at most between two stations of a member, beside the bolts that go through both."""
    if not any(isinstance(section.shape, Sleeve) for section in case.frame.sections.values()):
        return
    through = [(group, stations_of(case.frame, group, member)) for group, each in drilled(case) if each is member]
    for first, last in lengths(line) if through else ():
        low, high = line.stations[first] - SAME_STATION, line.stations[last] + SAME_STATION
        at = np.arange(first, last + 1)
        at = at[(line.stations[at] >= start - SAME_STATION) & (line.stations[at] <= end + SAME_STATION)]
        for tube in alone_beside(case.frame, line, first) if len(at) else ():
            kept = [(group.bolt.hole, holes[(holes >= low) & (holes <= high)]) for group, holes in through]
            shares = [tube.shares(line.stations[at], holes, size) for size, holes in kept if len(holes)]
            if shares:
                yield tube.section, line.stations[at], np.max(shares, axis=0)[:, None, None] * line.forces[at]


def lengths(line: MemberForces) -> Iterator[tuple[int, int]]:
    """Yield the first and last station of each length of a member with one section."""
    first = 0
    for number in range(1, len(line.sections) + 1):
        if number == len(line.sections) or line.sections[number] is not line.sections[first]:
            yield first, number - 1
            first = number


def alone_beside(frame: Frame, line: MemberForces, at: int) -> Iterator[Alone]:
    """Yield the tubes that run on by themselves beyond the length of one tube in another on which a station lies."""
    section = line.sections[at]
    known = frame.sections.get(section.name)
    if known is None or not isinstance(known.shape, Sleeve):
        return
    first, last = next(each for each in lengths(line) if each[0] <= at <= each[1])
    for beyond, at_start in ((first - 1, True), (last + 1, False)):
        if 0 <= beyond < len(line.sections) and is_part(frame, line.sections[beyond].name, known.shape):
            yield Alone(line.sections[beyond], at_start)


def is_part(frame: Frame, name: str, sleeve: Sleeve) -> bool:
    """Return whether a section is one of the two tubes of a sleeve, by its outline."""
    known = frame.sections.get(name)
    if known is None or not isinstance(known.shape, RectTube | RoundTube):
        return False
    parts = (part for part in (sleeve.outer, sleeve.core) if isinstance(part, RectTube | RoundTube))
    box = np.array(outline_box(known.shape))
    return any(bool(np.all(np.abs(box - outline_box(part)) < ALIKE)) for part in parts)


def open_part_beside(frame: Frame, line: MemberForces) -> str:
    """Return the name of what runs on beyond a length of one shape in another, is the inner one, and is no tube; "": nothing does."""
    pieces = [frame.sections.get(line.sections[first].name) for first, _ in lengths(line)]
    for here, beside in (*pairwise(pieces), *pairwise(pieces[::-1])):
        if here is None or beside is None or not isinstance(here.shape, Sleeve):
            continue
        if beside.shape == here.shape.core and not isinstance(beside.shape, RectTube | RoundTube):
            return beside.name
    return ""
