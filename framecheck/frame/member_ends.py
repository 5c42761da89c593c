"""What a member's end meets: gussets and welded sides on the joint's own axes, and how far the rail runs on beyond. SI."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from framecheck.frame.geometry import MemberRun, lengths
from framecheck.frame.joint.data import RUNNING_ON, Gussets, Outline, RailEnd, RailFinish
from framecheck.frame.joint.outlines import SAME, side_of
from framecheck.model.frame import STANDING, Frame, Member, MemberEnd
from framecheck.model.joining import EndFinish as Said
from framecheck.model.joining import GussetPair, GussetPlace
from framecheck.model.shapes import Side
from framecheck.value_class import value_class


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


Ends = tuple[RailEnd, RailEnd]


@value_class
class RailEnds:
    """A rail's ends towards its run's first and last point, at the soft and at the stiff end of the range. unsaid: they differ
    because the file does not say how the rail ends; unmodelled: because no model covers the plate."""

    soft: Ends
    stiff: Ends
    unsaid: bool = False
    unmodelled: bool = False


@value_class
class End:
    """One end of a rail at the soft and at the stiff end of the range; unsaid, unmodelled: as of `RailEnds`."""

    soft: RailEnd
    stiff: RailEnd
    unsaid: bool = False
    unmodelled: bool = False


AFAR = End(RUNNING_ON, RUNNING_ON)


def closes(outline: Outline) -> bool:
    """Return whether a plate over the end of a rail so shaped is modelled: its face and two equal walls square to it behind."""
    face = [z for y, z in outline.corners if y == 0.0]
    depths = [_depth_behind(outline, edge) for edge in (min(face), max(face))]
    return depths[0] == depths[1] > 0.0 and len(outline.corners) == 4


def _depth_behind(outline: Outline, edge: float) -> float:
    """Return how deep a wall reaches behind the face's edge at that z, m; 0: there is none."""
    walls = ((outline.corners[each.first], outline.corners[each.second]) for each in outline.strips)
    return max((max(a[0], b[0]) for a, b in walls if a[1] == b[1] == edge and min(a[0], b[0]) == 0.0), default=0.0)


def ends_seen(frame: Frame, run: MemberRun, place: tuple[int, float], outline: Outline, reach: float) -> RailEnds:
    """Return how a rail ends, seen from so far beside one of its points, towards its last one; what is farther off than `reach` tells
    nothing.
    """
    (number, beside), legs = place, lengths(frame, run.points)
    wall = min(each.wall for each in outline.strips)
    plate = closes(outline), wall
    sides = []
    for point, made, away in (
        (run.points[0], first_end(run), max(0.0, sum(legs[:number]) + beside)),
        (run.points[-1], last_end(run), max(0.0, sum(legs[number:]) - beside)),
    ):
        sides.append(_end_seen(frame, (point, made), away, plate) if away < reach and not run.is_ring else AFAR)
    one, other = sides
    return RailEnds((one.soft, other.soft), (one.stiff, other.stiff), one.unsaid or other.unsaid, one.unmodelled or other.unmodelled)


def first_end(run: MemberRun) -> MemberEnd:
    """Return how a run's first end is made."""
    leg = run.legs[0]
    return leg.member.end if leg.reversed else leg.member.start


def last_end(run: MemberRun) -> MemberEnd:
    """Return how a run's last end is made."""
    leg = run.legs[-1]
    return leg.member.start if leg.reversed else leg.member.end


def _end_seen(frame: Frame, end: tuple[str, MemberEnd], away: float, plate: tuple[bool, float]) -> End:
    """Return an end; plate: whether one over it is modelled, and the rail's wall, m.

    A clamp holds the outline; an end that stands on another member's face is closed by that wall.
    """
    point, made = end
    modelled, wall = plate
    bare, held = RailEnd(RailFinish.OPEN, away), RailEnd(RailFinish.HELD, away)
    if point in frame.clamped:
        return End(held, held)
    if made.cap.finish is Said.RUNS_ON:
        return AFAR
    if made.cap.finish is Said.OPEN:
        return End(bare, bare)
    said = made.cap.finish is Said.PLATE
    if not modelled:
        return End(bare, held, not said, True)
    if not said and made.make not in STANDING:
        return End(bare, held, True)
    closed = RailEnd(RailFinish.PLATE, away, made.cap.thickness if said else wall)
    return End(closed, closed)
