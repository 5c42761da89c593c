"""Grid lines of a joint's shell model along its three axes: their numbers depend on what the joint is, never on its sizes. SI."""

from __future__ import annotations

import numpy as np

from framecheck.frame.joint.data import Branch, BranchMake, Chord, Outline, RailFinish, full_reach
from framecheck.frame.joint.outlines import SAME
from framecheck.frame.joint.panels import even, graded, joined
from framecheck.model.arrays import Array
from framecheck.value_class import array_class, value_class

LEAST_REACH = 0.5  # of a rail held in shape nearby
LEAST_OVERHANG = 0.5  # walls of a rail that is kept beyond the branch at its open end
BRANCH_REACH = 1.5  # length of branch kept, in branch sizes


@value_class
class GridDivision:
    """Numbers of elements.

    high, half: under the branch, half its depth and half its width; gap: from there to the rail's corner, beside: from a branch
    without depth; out: along the branch; rail, across: along and across the rail; leg: along a gusset's. Twice as many change a
    T joint's turn by 3 % at the most.
    """

    high: int = 3
    half: int = 2
    gap: int = 2
    beside: int = 4
    out: int = 6
    rail: int = 9
    across: int = 4
    leg: int = 4


DIVISION = GridDivision()


@array_class
class GridLines:
    """Grid lines along an axis: at (n,), rising; corners: places of the branch's corners, and the number of the line at each."""

    at: Array
    corners: tuple[float, ...]
    numbers: tuple[int, ...]

    def number(self, place: float) -> int:
        """Return the number of the line at a corner's place."""
        return min(zip(self.corners, self.numbers, strict=True), key=lambda each: abs(each[0] - place))[1]


def _leg(branch: Branch, sign: int) -> float:
    """Return the length of the gussets' legs along the rail on one side, m; 0: there are none."""
    return max((each.along_rail for each in branch.gussets if sign in each.sides), default=0.0)


def kept_length(chord: Chord, branch: Branch, sign: int) -> float:
    """Return the length of rail kept to one side (-1, 1), from the branch's middle to the cut or the end, m."""
    end, span = chord.ends[(1 + sign) // 2], branch.outline.span(0)
    half, leg, overhang = max(sign * span[0], sign * span[1]), _leg(branch, sign), LEAST_OVERHANG * chord.wall
    least = LEAST_REACH * max(chord.outline.sizes) if end.finish is RailFinish.HELD else overhang
    return half + max(min(full_reach(chord), end.away - half), least, leg + overhang if leg else 0.0)


def branch_length(chord: Chord, branch: Branch, make: BranchMake) -> float:
    """Return the length of branch kept, from the face to the tip, m."""
    leg = max((each.along_branch for each in branch.gussets), default=0.0)
    between = -chord.outline.span(0)[0] if make is BranchMake.FLANGES else 0.0
    return max(leg, between) + BRANCH_REACH * max(branch.outline.sizes)


def _places(outline: Outline, axis: int) -> list[float]:
    """Return the places of an outline's corners along an axis, rising, each once, m."""
    found: list[float] = []
    for place in sorted(corner[axis] for corner in outline.corners):
        if not found or place - found[-1] > SAME:
            found.append(place)
    return found


def _under(places: list[float], parts: int, mirrored: bool) -> Array:
    """Return the lines from the branch's first to its last corner; parts: of half its size."""
    gaps = len(places) - 1
    if not gaps:
        return np.array(places)
    counts = [parts] * gaps if mirrored or gaps != 1 else [2 * parts]
    if gaps == 3 and not mirrored:
        counts[1] = 2 * parts
    return joined(*(even(a, b, n) for a, b, n in zip(places, places[1:], counts, strict=False)))


def lines_under(branch: Branch) -> Array:
    """Return the grid lines across the face under a whole branch, rising, m."""
    return _under(_places(branch.outline, 1), DIVISION.high, False)


def _with_corners(before: list[Array], under: Array, after: list[Array], places: list[float]) -> GridLines:
    """Return lines as one; the branch's corners are known by their place among those under it."""
    first = sum(len(each) - 1 for each in before)
    numbers = [first + int(np.argmin(np.abs(under - place))) for place in places]
    return GridLines(joined(*before, under, *after), tuple(places), tuple(numbers))


@value_class
class Extent:
    """What of a joint is meshed, m: rail to -x and +x, branch; first: the rail's grid steps begin with it; out: the branch's."""

    rail: tuple[float, float]
    branch: float
    first: float
    out: float


def extent_of(chord: Chord, branch: Branch, make: BranchMake) -> Extent:
    """Return what of a whole joint is meshed."""
    wide, deep = branch.outline.sizes
    low, high = chord.face
    return Extent(
        rail=(kept_length(chord, branch, -1), kept_length(chord, branch, 1)),
        branch=branch_length(chord, branch, make),
        first=min((wide or deep) / 6, (high - low) / 16),
        out=(deep or wide) / 16,
    )


def x_lines(branch: Branch, extent: Extent, mirrored: bool) -> GridLines:
    """Return the grid lines along the rail; mirrored: from the middle on."""
    places = _places(branch.outline, 0)

    def beyond(sign: int) -> Array:
        edge, leg = places[0 if sign < 0 else -1], _leg(branch, sign)
        start = edge + sign * leg
        beside = [even(edge, start, DIVISION.leg)] if leg else []
        return joined(*beside, graded(start, sign * extent.rail[(1 + sign) // 2], DIVISION.rail, extent.first))

    under = _under(places, DIVISION.half, mirrored)
    return _with_corners([] if mirrored else [beyond(-1)[::-1]], under, [beyond(1)], places)


def z_lines(chord: Chord, branch: Branch, mirrored: bool) -> GridLines:
    """Return the grid lines across the face; mirrored: from the middle up."""
    (low, high), places = chord.face, _places(branch.outline, 1)
    gap = DIVISION.gap if len(places) > 1 else DIVISION.beside
    below = [even(low, places[0], gap)] if places[0] - low > SAME else []
    above = [even(places[-1], high, gap)] if high - places[-1] > SAME else []
    return _with_corners(below, _under(places, DIVISION.high, mirrored), above, places)


def branch_lines(branch: Branch, extent: Extent, flange: Array) -> Array:
    """Return the grid lines along the branch from the face on, falling; flange: those across the flanges it is welded to, or none."""
    leg = max((each.along_branch for each in branch.gussets), default=0.0)
    start = even(0.0, -leg, DIVISION.leg) if leg else np.zeros(1)
    start = flange if len(flange) else start
    return joined(start, graded(float(start[-1]), -extent.branch, DIVISION.out, extent.out))
