"""Which planes mirror a joint, and what is left of its outlines on one side of them. SI."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from framecheck.frame.joint.data import Branch, Chord, Outline, Point, Strip

SAME = 1e-9  # m; places nearer than this are one place


class Mirrors(NamedTuple):
    """Which planes mirror the joint: across x and across z."""

    x: bool
    z: bool

    @property
    def copies(self) -> int:
        """Return how many times the meshed part makes the whole."""
        return (1 + self.x) * (1 + self.z)


def mirrors_of(chord: Chord, branch: Branch) -> Mirrors:
    """Return which planes mirror the joint; a wall that lies in such a plane would be cut along it: then none does."""
    legs = branch.gussets
    along = _is_even(branch.outline, 0) and chord.ends[0] == chord.ends[1] and all(len(each.sides) == 2 for each in legs)
    heights = sorted(each.z for each in legs)
    paired = all(abs(a + b) < SAME and abs(a) > SAME for a, b in zip(heights, heights[::-1], strict=True))
    return Mirrors(along, paired and _is_even(branch.outline, 1) and _is_even(chord.outline, 1))


def _is_even(outline: Outline, axis: int) -> bool:
    """Return whether an outline is its own mirror image across an axis's zero, with no wall in that plane."""
    flat = any(all(abs(outline.corners[n][axis]) < SAME for n in (each.first, each.second)) for each in outline.strips)
    return not flat and sorted(_walls(outline, axis, 1.0)) == sorted(_walls(outline, axis, -1.0))


def _walls(outline: Outline, axis: int, sign: float) -> list[tuple[tuple[Point, ...], float, bool]]:
    """Return an outline's walls as places, wall and weld, turned over; 10 nm is no asymmetry."""
    found = []
    for each in outline.strips:
        ends = [list(outline.corners[number]) for number in (each.first, each.second)]
        for end in ends:
            end[axis] *= sign
        found.append((tuple(sorted((round(a, 8) + 0.0, round(b, 8) + 0.0) for a, b in ends)), each.wall, each.welded))
    return found


def halved(chord: Chord, branch: Branch, mirrors: Mirrors) -> tuple[Chord, Branch]:
    """Return the rail and the branch at x >= 0 and z >= 0, as far as planes there mirror them."""
    foot = branch.outline
    for axis, mirrored in enumerate(mirrors):
        foot = clipped(foot, axis) if mirrored else foot
    legs = tuple(
        replace(each, sides=(1,) if mirrors.x else each.sides) for each in branch.gussets if each.z >= 0.0 or not mirrors.z
    )
    rail = replace(chord, outline=clipped(chord.outline, 1)) if mirrors.z else chord
    return rail, replace(branch, outline=foot, gussets=legs)


def clipped(outline: Outline, axis: int) -> Outline:
    """Return what lies at or above zero along an axis."""
    corners, strips = list(outline.corners), []
    for each in outline.strips:
        a, b = (outline.corners[number] for number in (each.first, each.second))
        if max(a[axis], b[axis]) < SAME:
            continue
        ends = [each.first, each.second]
        if min(a[axis], b[axis]) < -SAME:
            share = a[axis] / (a[axis] - b[axis])
            ends[0 if a[axis] < 0.0 else 1] = len(corners)
            crossing = [x + share * (y - x) for x, y in zip(a, b, strict=True)]
            crossing[axis] = 0.0
            corners.append((crossing[0], crossing[1]))
        strips.append(replace(each, first=ends[0], second=ends[1]))
    used = dict.fromkeys(number for each in strips for number in (each.first, each.second))
    numbers, kept = {number: place for place, number in enumerate(used)}, tuple(corners[number] for number in used)
    return Outline(kept, tuple(Strip(numbers[each.first], numbers[each.second], each.wall, each.welded) for each in strips))
