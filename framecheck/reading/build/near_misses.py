"""Members that lie in one another, cross without a joint, or end just short of one another. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from itertools import combinations

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.reading.diagnostics import length
from framecheck.value_class import array_class

Told = tuple[str, str, str]
"""The member it is told of, what is doubtful, what would settle it."""

PARALLEL = 0.999
"""Cosine from which on two straight lengths are said to run along one another: 2.5 degrees."""
WITHIN = 0.25
"""Share of the smaller member's least outside size: with their axes nearer than that, one lies inside the other."""
MEET = 0.5
"""Share of the smaller member's least outside size: with their axes nearer than that, the two members are in one another."""
MOST = 1500
"""Straight lengths up to which all pairs are looked at."""


@array_class
class MemberLine:
    """A member as a line through places (n, 3), m; least, largest: of its outside sizes, m, 0 where they are not known.

    spliced: the members that it laps, as the file says.
    """

    name: str
    points: tuple[str, ...]
    places: Array
    least: float
    largest: float
    spliced: frozenset[str] = frozenset()


@array_class
class Lengths:
    """Straight lengths of members: start, end (m, 3) in m, whose they are (m,)."""

    start: Array
    end: Array
    of: IntArray

    @property
    def along(self) -> Array:
        """Return the unit direction (m, 3) of each."""
        step = self.end - self.start
        unit: Array = step / np.linalg.norm(step, axis=1)[:, None]
        return unit


def lengths_of(lines: Sequence[MemberLine]) -> Lengths:
    """Return the straight lengths of all members."""
    return Lengths(
        np.concatenate([line.places[:-1] for line in lines]),
        np.concatenate([line.places[1:] for line in lines]),
        np.repeat(np.arange(len(lines)), [len(line.places) - 1 for line in lines]),
    )


def pairs_of(lines: Sequence[MemberLine], all_lengths: Lengths) -> tuple[IntArray, IntArray]:
    """Return the pairs of lengths of different members whose boxes, widened by their sizes, touch."""
    wide = np.array([line.largest for line in lines])[all_lengths.of, None]
    low = np.minimum(all_lengths.start, all_lengths.end) - wide
    high = np.maximum(all_lengths.start, all_lengths.end) + wide
    first, second = np.triu_indices(len(all_lengths.of), 1)
    near: BoolArray = all_lengths.of[first] != all_lengths.of[second]
    for axis in range(3):
        near &= (low[first, axis] <= high[second, axis]) & (low[second, axis] <= high[first, axis])
    if any(line.spliced for line in lines):
        of = all_lengths.of
        near &= [lines[of[b]].name not in lines[of[a]].spliced for a, b in zip(first, second, strict=True)]
    return first[near], second[near]


def shares(first: MemberLine, second: MemberLine, at: Array) -> bool:
    """Return whether two members are joined at a point near a place: within their sizes of it."""
    reach = first.largest + second.largest
    common = [n for n, point in enumerate(first.points) if point in second.points]
    return any(float(np.linalg.norm(first.places[n] - at)) <= reach for n in common)


def on_one_line(lines: Sequence[MemberLine]) -> Iterator[Told]:
    """Yield members that lie inside one another along a stretch, each pair once."""
    if not 1 < sum(len(line.places) - 1 for line in lines) <= MOST:
        return
    every, told = lengths_of(lines), set[tuple[int, int]]()
    for one, other in zip(*pairs_of(lines, every), strict=True):
        pair = (int(every.of[one]), int(every.of[other]))
        first, second = lines[pair[0]], lines[pair[1]]
        common = overlap(every, int(one), int(other), WITHIN * min(first.least, second.least))
        if pair not in told and common > MEET * min(first.least, second.least) > 0:
            told.add(pair)
            what = f"it lies on one line with '{first.name}' over {length(common)}: the two are taken as side by side"
            yield second.name, what, "write a sleeve or a plated section where one is inside the other, or leave one out"


def overlap(every: Lengths, one: int, other: int, apart: float) -> float:
    """Return how far two lengths run along one another, m, nearer than `apart`; 0 where they don't."""
    along = every.along[one]
    if abs(float(along @ every.along[other])) < PARALLEL:
        return 0.0
    origin = every.start[one]
    ends = [float((place - origin) @ along) for place in (every.start[other], every.end[other])]
    low, high = max(0.0, min(ends)), min(float((every.end[one] - origin) @ along), max(ends))
    if high <= low:
        return 0.0
    middle = origin + (low + high) / 2 * along
    step = middle - every.start[other]
    across = step - (step @ every.along[other]) * every.along[other]
    return high - low if float(np.linalg.norm(across)) < apart else 0.0


def crossings(lines: Sequence[MemberLine]) -> Iterator[Told]:
    """Yield members that pass through one another with no point of both near, each pair once."""
    if not 1 < sum(len(line.places) - 1 for line in lines) <= MOST:
        return
    every, told = lengths_of(lines), set[tuple[int, int]]()
    first, second = pairs_of(lines, every)
    at, apart = nearest(every, first, second)
    for number, (one, other) in enumerate(zip(first, second, strict=True)):
        pair = (int(every.of[one]), int(every.of[other]))
        here, there = lines[pair[0]], lines[pair[1]]
        if pair in told or apart[number] >= MEET * min(here.least, there.least) or shares(here, there, at[number]):
            continue
        if overlap(every, int(one), int(other), WITHIN * min(here.least, there.least)) == 0.0 and passes(there, at[number]):
            told.add(pair)
            what = f"it crosses '{here.name}' at {place_words(at[number])} without a joint: each passes the other freely"
            yield there.name, what, "write a point of both there, or move one of them clear of the other"


def passes(line: MemberLine, at: Array) -> bool:
    """Return whether a place lies within a member and not at one of its ends."""
    ends = (line.places[0], line.places[-1])
    return all(float(np.linalg.norm(end - at)) > line.least / 2 for end in ends)


def nearest(every: Lengths, first: IntArray, second: IntArray) -> tuple[Array, Array]:
    """Return where (k, 3) and how near (k,) pairs of lengths come to one another, m.

    Closest points of two segments: least squares of the distance over both parameters, each held to 0..1 in turn (geometry).
    """
    p, q = every.start[first], every.start[second]
    u, v = every.end[first] - p, every.end[second] - q
    w = p - q
    a, b, c = (np.einsum("ij,ij->i", *pair) for pair in ((u, u), (u, v), (v, v)))
    d, e = np.einsum("ij,ij->i", u, w), np.einsum("ij,ij->i", v, w)
    spread = a * c - b * b
    s = np.clip(np.where(spread > 1e-12 * a * c, (b * e - c * d) / np.where(spread > 0, spread, 1.0), 0.0), 0.0, 1.0)
    t = np.clip((b * s + e) / c, 0.0, 1.0)
    s = np.clip((b * t - d) / a, 0.0, 1.0)
    here, there = p + s[:, None] * u, q + t[:, None] * v
    return here, np.linalg.norm(here - there, axis=1)


def near_ends(lines: Sequence[MemberLine], linked: AbstractSet[frozenset[str]]) -> Iterator[Told]:
    """Yield ends of members that no other member has, and that stop within another member's size of it.

    linked: pairs of points that a spring joins.
    """
    used: dict[str, int] = {}
    for line in lines:
        for point in set(line.points):
            used[point] = used.get(point, 0) + 1
    for one, other in combinations(lines, 2):
        if one.name in other.spliced:
            continue
        for line, of in ((one, other), (other, one)):
            for end in (0, -1):
                point, place = line.points[end], line.places[end]
                if used[point] > 1 or any(frozenset((point, each)) in linked for each in of.points):
                    continue
                gap = distance_to(of, place)
                if gap <= of.largest and not shares(line, of, place):
                    what = f"its end '{point}' stops {length(gap)} from the axis of '{of.name}' and is not joined to it"
                    yield line.name, what, f"end it at a point of '{of.name}', or move it clear"


def distance_to(line: MemberLine, place: Array) -> float:
    """Return how far a place is from a member's line, m."""
    start, step = line.places[:-1], np.diff(line.places, axis=0)
    share = np.clip(np.einsum("ij,ij->i", place - start, step) / np.einsum("ij,ij->i", step, step), 0.0, 1.0)
    return float(np.linalg.norm(start + share[:, None] * step - place, axis=1).min())


def place_words(at: Array) -> str:
    """Return a place for messages."""
    return ", ".join(f"{axis} {length(float(value))}" for axis, value in zip("xyz", at, strict=True))
