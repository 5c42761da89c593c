"""How each member's end hangs on its point: a rigid arm, then springs; also where it lies across a wall. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field, replace
from functools import lru_cache
from math import inf

import numpy as np

from framecheck.frame.branch_turns import BranchTurn, turns_of
from framecheck.frame.end_arms import arm_to_face
from framecheck.frame.end_springs import models_of, seat_centre, seat_springs
from framecheck.frame.geometry import MemberRun, OneFrame, cross, member_axes
from framecheck.frame.joint.data import full_reach, level_of, lies_flat
from framecheck.frame.joint.outlines import outline_of, turned
from framecheck.frame.joint_faces import (
    JointFace,
    branch_end,
    chord_of,
    drawn_axes,
    ends_at,
    face_met,
    rails_at,
    seat,
    seat_on_ends,
    section_beside,
    softness,
    stand_in_face,
    way_between,
    way_of_run,
    why_unmodelled,
)
from framecheck.frame.leaning import FACING
from framecheck.frame.meetings import MetEnd, met_ends, springs_at
from framecheck.frame.member_ends import ends_seen
from framecheck.frame.number_cache import NumberStore
from framecheck.frame.results import Bound, Joints
from framecheck.frame.stand_in import MODEL_ERROR, ON_PLATE, OPEN_RAIL, Unmodelled, as_rail
from framecheck.model.arrays import Array
from framecheck.model.frame import LAID, PLATED, STANDING, Frame, Make, Member, MemberEnd
from framecheck.value_class import array_class, value_class


def laid_seat(frame: Frame, rail: tuple[MemberRun, int], branch: Member, at_start: bool) -> JointFace:
    """Return where a branch that lies across a rail's top or bottom wall leaves the rail, at the height of its own middle.

    Where the rail's section changes there, it lies on the thinner side.
    """
    run, number = rail
    beside = [leg for leg in (number - 1, number) if 0 <= leg < len(run.legs)]
    found = [_laid_on(frame, run, (leg, number), (branch, at_start)) for leg in beside]
    return min(found, key=lambda each: (each.unmodelled is None, *softness(each.chord)))


def _laid_on(frame: Frame, run: MemberRun, place: tuple[int, int], end: tuple[Member, bool]) -> JointFace:
    leg, number = run.legs[place[0]], place[1]
    branch, at_start = end
    toward = way_between(frame, *branch.points[:2]) if at_start else way_between(frame, *branch.points[:-3:-1])
    made = branch.start if at_start else branch.end
    on = section_beside(frame, leg, at_first=(place[0] == number) != leg.reversed)
    of = frame.sections[branch.stretches[0 if at_start else -1].section]
    along = way_of_run(frame, run, number)
    own = drawn_axes(-along if leg.reversed else along, leg.member)
    up = max(own, key=lambda each: abs(float(each[2])))
    way = up if (float(up[2]) >= 0.0) == (made.make is Make.ON_TOP) else -up
    side = cross(along, way) if float(cross(along, way) @ toward) >= 0.0 else cross(way, along)
    known, foot = outline_of(on.shape), outline_of(of.shape)
    face = None if known is None else face_met(known, own, along, way)
    why = why_unmodelled(known is not None and foot is not None, face is not None and float(side @ toward) >= FACING)
    face = face or stand_in_face(as_rail(on.shape), own, way)
    seen = face.outline if float(cross(along, way) @ side) > 0.0 else turned(face.outline, (1, 0), (0, -1))
    chord, nearest = chord_of(on, seen), turns_of(of, branch_end(branch, at_start, toward), np.stack([along, side, -way]))[0]
    lies = replace(nearest.branch, gussets=())
    if why is None and not lies_flat(lies):
        why = Unmodelled.SHAPES
    ends = ends_seen(frame, run, (number, float(np.dot(made.arm, along))), seen, full_reach(chord))
    height = max(face.distance + level_of(chord, lies), float(np.dot(made.arm, way)))
    arm = side * -chord.face[0] + way * height + along * float(np.dot(made.arm, along))
    share = 1.0 if why is None else MODEL_ERROR * OPEN_RAIL
    axes, seen_chord = np.stack([along, side, cross(along, side)]), replace(chord, ends=ends.soft)
    return JointFace(arm, axes, seen_chord, (BranchTurn(lies),), ends, why, share, on.name, of.name)


RIGID = (inf,) * 6
PINNED = (inf, inf, inf, inf, 0.0, 0.0)
SEATED = (Make.UNSAID, Make.RIGID, *STANDING)
Place = tuple[MemberRun, int]


AT_THE_END = np.zeros(3)


@array_class
class EndConnection:
    """How one member's end hangs on its frame point.

    end: 0 start, 1 end. arm: (3,) from the point to the member's end, vehicle axes. axes: (3, 3) rows, or (6, 3) where it turns about
    others than it moves along; stiffness: along and about them, N/m and Nm/rad; inf rigid, 0 released. centre (3,): from the member's
    end to the place that it turns about.
    """

    member: int
    end: int
    arm: Array
    axes: Array
    stiffness: tuple[float, ...]
    centre: Array = AT_THE_END


def is_plain(end: MemberEnd) -> bool:
    """Return whether an end says nothing of joints or arms: rigid at its point unless it meets a rail."""
    return end.make in (Make.UNSAID, Make.RIGID, Make.FLANGES) and not end.has_arm


def seats_of(frame: Frame) -> Mapping[tuple[int, int], JointFace]:
    """Return where members' ends (member, 0 start or 1 end) sit on other members, for ends that would sit there."""
    return _seats(OneFrame(frame))


@lru_cache(maxsize=4)
def _seats(of: OneFrame) -> Mapping[tuple[int, int], JointFace]:
    frame = of.frame
    rails = rails_at(frame) if frame.sections else {}
    corners = ends_at(frame) if frame.sections and any(_stands(end) for end in _ends(frame)) else {}
    seats: dict[tuple[int, int], JointFace] = {}
    for number, member in enumerate(frame.members) if rails or corners else ():
        for end, point, made in ((0, member.points[0], member.start), (1, member.points[-1], member.end)):
            found = _seat_at(frame, (number, end), rails.get(point), corners.get(point, []))
            if found is not None and (found.unmodelled is None or made.make is not Make.RIGID):
                seats[number, end] = found
    return seats


def meetings_of(frame: Frame) -> Mapping[tuple[int, int], MetEnd]:
    """Return the ends (member, 0 start or 1 end) that meet others where none runs on or offers a wall."""
    return _meetings(OneFrame(frame))


@lru_cache(maxsize=4)
def _meetings(of: OneFrame) -> Mapping[tuple[int, int], MetEnd]:
    frame = of.frame
    if not frame.sections:
        return {}
    rails, seats = rails_at(frame), seats_of(frame)
    on_walls = {(number, end) for number, end in seats if frame.members[number].points[-end] in rails}
    return {(each.number, each.end): each for each in met_ends(frame, on_walls | flanged_seats(frame).keys())}


def flanged_seats(frame: Frame) -> Mapping[tuple[int, int], JointFace]:
    """Return where ends that are flange to flange with a rail would stand on it, at their points; no model covers them."""
    return _flanged(OneFrame(frame))


@lru_cache(maxsize=4)
def _flanged(of: OneFrame) -> Mapping[tuple[int, int], JointFace]:
    frame = of.frame
    here = [(n, end) for n, member in enumerate(frame.members) for end in (0, 1) if _end(member, end).make is Make.FLANGES]
    rails = rails_at(frame) if here and frame.sections else {}
    found: dict[tuple[int, int], JointFace] = {}
    for number, end in here:
        member = frame.members[number]
        rail = rails.get(member.points[-end])
        if rail is not None and number not in rail[0].numbers:
            where = seat(frame, rail, member, end == 0)
            found[number, end] = replace(_on_plate(where), arm=np.zeros(3), unmodelled=Unmodelled.FLANGES)
    return found


def _seat_at(frame: Frame, at: tuple[int, int], rail: Place | None, corner: list[Place]) -> JointFace | None:
    """Return where one end (member, 0 start or 1 end) sits: on the rail that passes, else, made to stand on a face, on other ends."""
    member, end = frame.members[at[0]], at[1]
    made = _end(member, end)
    if rail is not None and made.make in LAID:
        return None if at[0] in rail[0].numbers else laid_seat(frame, rail, member, end == 0)
    if rail is not None:
        on_rail = at[0] not in rail[0].numbers and made.make in SEATED
        found = seat(frame, rail, member, end == 0) if on_rail else None
        return _on_plate(found) if found is not None and made.make in PLATED else found
    others = [each for each in corner if at[0] not in each[0].numbers]
    return seat_on_ends(frame, others, member, end == 0) if others and _stands(made) else None


def _on_plate(where: JointFace) -> JointFace:
    """Return a seat with a plate between: it may give more than the wall alone, or hold far better; neither is modelled."""
    return replace(where, unmodelled=where.unmodelled or Unmodelled.FOOT_PLATE, share=min(where.share, ON_PLATE))


def _stands(made: MemberEnd) -> bool:
    """Return whether an end is said to stand on another member's face."""
    return made.make in STANDING


def _ends(frame: Frame) -> Iterator[MemberEnd]:
    for member in frame.members:
        yield from (member.start, member.end)


def hangs_of(frame: Frame, bound: Bound, store: NumberStore | None) -> tuple[EndConnection, ...]:
    """Return every end that does not simply start at its point, rigidly."""
    return _hangs(_Hanging(OneFrame(frame), bound, store))


@value_class
class _Hanging:
    """A frame under a bound; where numbers are kept tells nothing."""

    drawn: OneFrame
    bound: Bound
    store: NumberStore | None = field(compare=False)


@lru_cache(maxsize=8)
def _hangs(of: _Hanging) -> tuple[EndConnection, ...]:
    return tuple(_hanging_ends(of.drawn.frame, of.bound, of.store))


def _hanging_ends(frame: Frame, bound: Bound, store: NumberStore | None) -> Iterator[EndConnection]:
    seats = {**seats_of(frame), **flanged_seats(frame)}
    ends = {id(end): end for member in frame.members for end in (member.start, member.end)}
    plain = {number for number, end in ends.items() if is_plain(end)}
    busy = [
        number
        for number, member in enumerate(frame.members)
        if id(member.start) not in plain or id(member.end) not in plain
    ]
    met = {} if bound.joints is None else meetings_of(frame)
    for number in sorted({*busy, *(number for number, _ in (*seats, *met))}):
        for end in (0, 1):
            where, made, joints = seats.get((number, end)), _end(frame.members[number], end), bound.at_end(number, end)
            if (number, end) in met and joints is not Joints.STIFF:
                axes, stiffness = springs_at(met[number, end], store)
                yield EndConnection(number, end, np.array(made.arm), axes, tuple(each / made.softness for each in stiffness))
            elif where is not None:
                yield _seated(number, end, made, where, joints, store)
            elif not is_plain(made):
                yield _unseated(frame, number, end, made)


def _end(member: Member, end: int) -> MemberEnd:
    return member.start if end == 0 else member.end


def _seated(
    number: int, end: int, made: MemberEnd, where: JointFace, joints: Joints | None, store: NumberStore | None
) -> EndConnection:
    """Return the end on a rail's face."""
    arm = where.arm if made.make in LAID else arm_to_face((where.arm, where.axes[1]), np.array(made.arm))
    if not models_of(made.make, where, where.turns[0], joints):
        return EndConnection(number, end, arm, where.axes, RIGID)
    springs = seat_springs(where, made.make, joints, store) / made.softness
    return EndConnection(number, end, arm, where.axes, tuple(springs.tolist()), seat_centre(where, made.make, store))


def _unseated(frame: Frame, number: int, end: int, made: MemberEnd) -> EndConnection:
    """Return an end with an arm, a pin or springs given. A butt or gusset with no member under it is rigid."""
    member = frame.members[number]
    first = 0 if end == 0 else len(member.points) - 2
    start, stop = (np.array(frame.points[name]) for name in member.points[first : first + 2])
    axes = member_axes(((stop - start) / np.linalg.norm(stop - start))[None])[0]
    stiffness: Mapping[Make, tuple[float, ...]] = {Make.PINNED: PINNED, Make.GIVEN: made.stiffness or RIGID}
    springs = (each / made.softness for each in stiffness.get(made.make, RIGID))
    return EndConnection(number, end, np.array(made.arm), axes, tuple(springs))
