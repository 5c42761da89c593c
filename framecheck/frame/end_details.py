"""What the file says of a member's end beside its make, laid on the joint's own axes: welded sides, gussets. SI."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from framecheck.frame.joint.data import Gussets, Outline
from framecheck.frame.joint.mirrors import SAME
from framecheck.frame.joint.outlines import side_of
from framecheck.model.ends import GussetPair, GussetPlace
from framecheck.model.frame import Member, MemberEnd
from framecheck.model.shapes import Side


def welded_outline(outline: Outline, member: Member, end: MemberEnd) -> Outline:
    """Return a section's outline, in its own axes, with the walls that are welded at an end marked."""
    if not end.welded:
        return outline
    sides = {member.orientation.own_side(side) for side in end.welded}
    return replace(outline, strips=tuple(replace(each, welded=side_of(outline, each) in sides) for each in outline.strips))


def sides_of(outline: Outline, member: Member) -> set[Side]:
    """Return the sides on which a section has a wall, as seen looking along its member."""
    own = {side_of(outline, each) for each in outline.strips}
    return {side for side in Side if member.orientation.own_side(side) in own}


def gussets_on(pair: GussetPair | None, outline: Outline, up: int) -> tuple[Gussets, ...]:
    """Return a member's gussets in the joint's axes; outline: of the branch there; up: 1 where the member's up is +z, else -1."""
    if pair is None:
        return ()
    low, high = outline.span(1)
    return tuple(
        Gussets(pair.along_rail, pair.along_member, pair.thickness, min(max(z, low), high)) for z in _heights(pair, low, high, up)
    )


def has_room(outline: Outline, gussets: tuple[Gussets, ...]) -> bool:
    """Return whether a branch has a wall at its edge for each gusset to stand on."""
    return all(_stands_on_edge(outline, each, sign) for each in gussets for sign in each.sides)


def _stands_on_edge(outline: Outline, gusset: Gussets, sign: int) -> bool:
    edge = outline.span(0)[(1 + sign) // 2]
    for strip in outline.strips:
        ends = [outline.corners[number] for number in (strip.first, strip.second)]
        there = [z for x, z in ends if abs(x - edge) < SAME]
        upright = len(there) == 2 and min(there) - SAME <= gusset.z <= max(there) + SAME
        flat = len(there) == 1 and all(abs(z - gusset.z) < SAME for _, z in ends)
        if upright or flat:
            return True
    return False


def _heights(pair: GussetPair, low: float, high: float, up: int) -> Iterator[float]:
    middle = (low + high) / 2
    if pair.height is not None:
        yield middle + up * pair.height
    elif pair.place is GussetPlace.MIDDLE:
        yield middle
    else:
        if pair.place is GussetPlace.BOTH or (pair.place is GussetPlace.BOTTOM) == (up > 0):
            yield low
        if pair.place is GussetPlace.BOTH or (pair.place is GussetPlace.TOP) == (up > 0):
            yield high
