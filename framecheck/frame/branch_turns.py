"""In which quarter turns a branch's section lies against its rail, and where its gussets stand in each. SI.

A section turned by about 45 degrees lies as near to one quarter turn as to the next: both count, so that a hair of turn moves nothing.
So do both heights of gussets that stand at one side of the branch, where the member's height lies as near to one as to the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import atan2, degrees

from framecheck.frame.geometry import member_axes
from framecheck.frame.joint.data import Branch, Chord, Point
from framecheck.frame.joint.outlines import SAME, box, outline_of, turned
from framecheck.frame.member_ends import gussets_on, has_room, welded_outline
from framecheck.frame.stand_in import as_branch, round_middle
from framecheck.model.arrays import Array
from framecheck.model.frame import SAME_STATION, Member, Section
from framecheck.model.joining import GussetPair, GussetPlace
from framecheck.value_class import array_class, value_class

LEANS = 35.0, 45.0
"""Degrees that a section is turned about its branch against the rail from where the next quarter turn counts too, to where it does so
by half. Judgement, no source: no shell of such a joint was made."""


@value_class
class BranchTurn:
    """A branch's end in one quarter turn. share: how far it counts, all of one end to 1; bare: it has gussets that stand on no wall of
    it, which no model covers; over: how much of what may reach over the wall's edge does, 0 to 1."""

    branch: Branch
    share: float = 1.0
    bare: bool = False
    over: float = 0.0


@array_class
class DrawnEnd:
    """A member's end: at_start or at its other end. own: its section's y and z in space; way: (3,) along the member as it is drawn."""

    member: Member
    at_start: bool
    own: tuple[Array, Array]
    way: Array


def share_of_other(one: float, other: float) -> float:
    """Return by what share the next of two counts, up to half; one, other: the cosines of both, of which the larger is nearest."""
    turn = degrees(atan2(abs(one), abs(other)))
    return max(0.0, (min(turn, 90.0 - turn) - LEANS[0]) / (LEANS[1] - LEANS[0])) / 2


def turns_of(section: Section, end: DrawnEnd, axes: Array) -> tuple[BranchTurn, ...]:
    """Return a branch's end in each quarter turn that counts, the nearest first; axes: (3, 3) rows of the joint."""
    known, middle, material = outline_of(section.shape), round_middle(section.shape), section.material
    if known is None:
        foot = as_branch(section.shape)
        known = box(foot.height, foot.width, (foot.wall,) * 4)
    made = end.member.start if end.at_start else end.member.end
    welded = welded_outline(known, end.member, made)
    turns = []
    for rows, share in _lying(end.own, axes):
        outline = turned(welded, *rows)
        for up, more in _heights(made.gussets, end.way, axes):
            gussets = gussets_on(made.gussets, outline, up)
            bare = not has_room(outline, gussets)
            branch = Branch(outline, material.youngs_modulus, material.poissons_ratio, middle, () if bare else gussets)
            turns.append(BranchTurn(branch, share * more, bare))
    return tuple(turns)


Rows = tuple[tuple[int, int], tuple[int, int]]


def _lying(own: tuple[Array, Array], axes: Array) -> Iterator[tuple[Rows, float]]:
    """Yield how a section is turned into the joint's axes, the nearest way first, and how far each counts."""
    left, up = own
    along, third = axes[0], axes[2]
    upright = (_sign(left @ along), 0), (0, -_sign(up @ third))
    flat = (0, _sign(up @ along)), (-_sign(left @ third), 0)
    share = share_of_other(float(up @ along), float(up @ third))
    nearest, other = (upright, flat) if abs(float(up @ third)) >= abs(float(up @ along)) else (flat, upright)
    yield nearest, 1.0 - share
    if share:
        yield other, share


def _heights(pair: GussetPair | None, way: Array, axes: Array) -> Iterator[tuple[int, float]]:
    """Yield to which side (1 or -1) of the third axis the member's up looks for its gussets, and how far each counts."""
    one, other = (float(each @ axes[2]) for each in member_axes(way[None])[0][1:])
    high, low = (one, other) if abs(one) >= abs(other) else (other, one)
    at_one_side = pair is not None and (pair.height is not None or pair.place in (GussetPlace.TOP, GussetPlace.BOTTOM))
    share = share_of_other(one, other) if at_one_side and _sign(high) != _sign(low) else 0.0
    yield -_sign(high), 1.0 - share
    if share:
        yield -_sign(low), share


def _sign(cosine: float) -> int:
    return 1 if cosine >= 0.0 else -1


EDGE = 1e-6
"""m; what reaches less over an edge is flush with it."""
LEAST_FOOTING = 0.25
"""Share of a branch's depth that is taken to stand on the rail's face, however far it reaches over the edge."""


def moved_across(branch: Branch, by: float, face: Point) -> Branch:
    """Return a branch that stands off the middle of the rail's face, m, gussets with it; what reaches over an edge counts as at it."""
    low, high = branch.outline.span(1)
    footing = LEAST_FOOTING * (high - low)
    by = min(max(by, face[0] + footing - high), face[1] - footing - low)
    outline = turned(branch.outline, (1, 0), (0, 1), (0.0, by))
    return replace(branch, outline=outline, gussets=tuple(replace(each, z=each.z + by) for each in branch.gussets))


def standing_at(chord: Chord, turn: BranchTurn, across: float) -> BranchTurn:
    """Return a branch that stands so far off the middle of its face, m, where that can be meshed: elsewhere in the middle, and all
    that it stands off counts as reaching over the edge.
    """
    moved = moved_across(turn.branch, across, chord.face) if abs(across) > SAME_STATION else turn.branch
    if can_be_meshed(chord, moved):
        return replace(turn, branch=moved, over=share_over(chord, turn.branch, across))
    return replace(turn, over=min(1.0, 2 * abs(across) / (chord.face[1] - chord.face[0])))


def share_over(chord: Chord, branch: Branch, across: float) -> float:
    """Return how much of a branch so far off the middle of its face, m, reaches over the edge: 1 where no more than its least footing
    stands on it. Outside to outside; one that is wider than the face is refused where its make is said.
    """
    low, high = branch.outline.span(1)
    own = max(each.wall for each in branch.outline.strips) if branch.outline.closed else 0.0
    past = max(across + high - chord.face[1], chord.face[0] - across - low) + (own - chord.wall) / 2
    return min(1.0, max(0.0, past - EDGE) / ((1.0 - LEAST_FOOTING) * max(high - low, chord.wall)))


def can_be_meshed(chord: Chord, branch: Branch) -> bool:
    """Return whether the branch's grid lines meet every wall that stands on the face from behind: those at its middle."""
    low, high = chord.face
    inner = [z for y, z in chord.outline.corners if y == 0.0 and low < z < high]
    start, end = branch.outline.span(1)
    return all(abs(z) < SAME for z in inner) and (not inner or (abs(low + high) < SAME and abs(start + end) < SAME))
