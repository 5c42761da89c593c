"""How far from a joint its rail ends, and what it is there: open, closed by a plate, held, running on; both where nobody said. SI."""

from __future__ import annotations

from math import isinf

from framecheck.frame.joint.data import RUNNING_ON, Finish, Outline, RailEnd
from framecheck.frame.runs import Run, lengths
from framecheck.model.ends import Finish as Said
from framecheck.model.frame import STANDING, Frame, MemberEnd
from framecheck.value_class import value_class

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


def ends_seen(frame: Frame, run: Run, number: int, outline: Outline, reach: float) -> RailEnds:
    """Return how a rail ends, seen from one of its points; what is farther off than `reach` tells nothing."""
    legs = lengths(frame, run.points)
    wall = min(each.wall for each in outline.strips)
    plate = closes(outline), wall
    sides = []
    for point, made, away in (
        (run.points[0], first_end(run), sum(legs[:number])),
        (run.points[-1], last_end(run), sum(legs[number:])),
    ):
        sides.append(_end_seen(frame, (point, made), away, plate) if away < reach and not run.is_ring else AFAR)
    one, other = sides
    return RailEnds((one.soft, other.soft), (one.stiff, other.stiff), one.unsaid or other.unsaid, one.unmodelled or other.unmodelled)


def first_end(run: Run) -> MemberEnd:
    """Return how a run's first end is made."""
    leg = run.legs[0]
    return leg.member.end if leg.reversed else leg.member.start


def last_end(run: Run) -> MemberEnd:
    """Return how a run's last end is made."""
    leg = run.legs[-1]
    return leg.member.start if leg.reversed else leg.member.end


def _end_seen(frame: Frame, end: tuple[str, MemberEnd], away: float, plate: tuple[bool, float]) -> End:
    """Return an end; plate: whether one over it is modelled, and the rail's wall, m.

    A clamp holds the outline; an end that stands on another member's face is closed by that wall.
    """
    point, made = end
    modelled, wall = plate
    bare, held = RailEnd(Finish.OPEN, away), RailEnd(Finish.HELD, away)
    if any(each.point == point and all(map(isinf, each.stiffness)) for each in frame.supports):
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
    closed = RailEnd(Finish.PLATE, away, made.cap.thickness if said else wall)
    return End(closed, closed)
