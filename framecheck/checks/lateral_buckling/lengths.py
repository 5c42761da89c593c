"""The lengths over which a member may buckle: stated, or bracketed between crossmember to crossmember and end to end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from enum import Enum
from itertools import pairwise
from math import hypot

from framecheck.checks.lateral_buckling.chains import Chain
from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.model.strength import BucklingLength
from framecheck.value_class import value_class

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


def brace_stations(frame: Frame, chain: Chain) -> list[float]:
    """Return the stations where another member, or a support or spring that holds sideways, braces a chain, in order, m."""
    own = {frame.members[number].name for number in chain.members}
    holding = {point for other in frame.members if other.name not in own for point in other.points}
    stations = chain.stations(frame)
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


def unbraced_lengths(case: Case, chain: Chain, member: Member, whole: float, first: float = 0.0) -> tuple[Unbraced, ...]:
    """Return the parts of a member's chain that may buckle. Both brackets are there where nothing is stated.

    first, whole, m: stations of its metal's ends, which may lie beyond its points, or short of them.
    """
    braces = _to_the_metal(case.frame, chain, first, whole)
    brackets = [*between(braces, whole, first), *end_to_end(braces, whole)]
    stated = next((each for each in case.strength.buckling_lengths if each.member == member.name), None)
    if stated is not None:
        brackets = [as_stated(each, stated) for each in between(braces, whole, first)]
    return tuple(dict.fromkeys(brackets))


def _to_the_metal(frame: Frame, chain: Chain, first: float, whole: float) -> list[float]:
    """Return the braces of a chain; one at its first or last point holds the metal's end that stands beyond that point on a wall:
    a crossmember that reaches past a channel's middle line to its web does not stick out of it.
    """
    last = max(chain.stations(frame).values())
    ends = {0.0: min(first, 0.0), last: max(whole, last)}
    return [ends.get(each, each) for each in brace_stations(frame, chain)]


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
