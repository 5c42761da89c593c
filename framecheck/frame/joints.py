"""How each member's end hangs on its point: a rigid arm, then springs; what is left open where the user has not said. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf

import numpy as np

from framecheck.frame.geometry import member_axes
from framecheck.frame.joint.data import JointStiffness
from framecheck.frame.joint.data import Make as JointMake
from framecheck.frame.kept import NumberStore, joint_springs
from framecheck.frame.results import Joints
from framecheck.frame.seats import Seat, rails_at, seat
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Make, Member, MemberEnd
from framecheck.model.loads import ZERO
from framecheck.value_class import array_class

RIGID = (inf,) * 6
PINNED = (inf, inf, inf, inf, 0.0, 0.0)
SPRINGS_OF = {Make.BUTT: JointMake.BUTT, Make.THROUGH: JointMake.THROUGH, Make.GUSSETED: JointMake.THROUGH}
"""A gusset's size is not in the model: a gusseted end is taken no stiffer than one that passes through."""

SEATED = (Make.UNSAID, Make.RIGID, Make.BUTT, Make.THROUGH, Make.GUSSETED)


@array_class
class Hang:
    """How one member's end hangs on its frame point.

    end: 0 start, 1 end. arm: (3,) from the point to the member's end, vehicle axes. axes: (3, 3) rows; stiffness: along and
    about them, N/m and Nm/rad; inf rigid, 0 released.
    """

    member: int
    end: int
    arm: Array
    axes: Array
    stiffness: tuple[float, ...]


def is_plain(end: MemberEnd) -> bool:
    """Return whether an end says nothing of joints or arms: rigid at its point unless it meets a rail."""
    return end.make in (Make.UNSAID, Make.RIGID, Make.FLANGES) and end.arm == ZERO


def seats_of(frame: Frame) -> dict[tuple[int, int], Seat]:
    """Return where members' ends (member, 0 start or 1 end) sit on rails of known make, for ends that would sit there."""
    rails = rails_at(frame) if frame.sections else {}
    seats: dict[tuple[int, int], Seat] = {}
    for number, member in enumerate(frame.members) if rails else ():
        for end, point, made in ((0, member.points[0], member.start), (1, member.points[-1], member.end)):
            rail = rails.get(point)
            if rail is None or number in rail[0].numbers or made.make not in SEATED:
                continue
            found = seat(frame, rail, member, end == 0)
            if found is not None:
                seats[number, end] = found
    return seats


def leaves_joints_open(frame: Frame) -> bool:
    """Return whether any end meets a rail whose joint would have springs, and its make is not said."""
    seats = seats_of(frame)
    return any(_end(frame.members[number], end).make is Make.UNSAID for number, end in seats)


def hangs_of(frame: Frame, joints: Joints | None, store: NumberStore | None) -> Iterator[Hang]:
    """Yield every end that does not simply start at its point, rigidly."""
    seats = seats_of(frame)
    ends = {id(end): end for member in frame.members for end in (member.start, member.end)}
    plain = {number for number, end in ends.items() if is_plain(end)}
    busy = [
        number
        for number, member in enumerate(frame.members)
        if id(member.start) not in plain or id(member.end) not in plain
    ]
    for number in sorted({*busy, *(number for number, _ in seats)}):
        for end in (0, 1):
            where, made = seats.get((number, end)), _end(frame.members[number], end)
            if where is not None:
                yield _seated(number, end, made, where, joints, store)
            elif not is_plain(made):
                yield _unseated(frame, number, end, made)


def _end(member: Member, end: int) -> MemberEnd:
    return member.start if end == 0 else member.end


def _seated(
    number: int, end: int, made: MemberEnd, where: Seat, joints: Joints | None, store: NumberStore | None
) -> Hang:
    """Return the end on a rail's face. A user's own arm goes before the one to the face."""
    make = made.make
    if make is Make.UNSAID:
        make = Make.BUTT if joints is Joints.SOFT else Make.RIGID
    arm = where.arm if made.arm == ZERO else np.array(made.arm)
    if make is Make.RIGID:
        return Hang(number, end, arm, where.axes, RIGID)
    return Hang(
        number,
        end,
        arm,
        where.axes,
        _along_and_about(joint_springs(where.chord, where.branch, SPRINGS_OF[make], store)),
    )


def _along_and_about(found: JointStiffness) -> tuple[float, ...]:
    """Return the springs along and about the seat's axes: along the rail, out of its face, square to both."""
    moves = found.shear_sideways, found.axial, found.shear_vertical
    return *moves, found.bending_vertical, found.twist, found.bending_sideways


def _unseated(frame: Frame, number: int, end: int, made: MemberEnd) -> Hang:
    """Return an end with an arm, a pin or springs given. A butt or gusset with no rail under it is rigid."""
    member = frame.members[number]
    first = 0 if end == 0 else len(member.points) - 2
    start, stop = (np.array(frame.points[name]) for name in member.points[first : first + 2])
    axes = member_axes(((stop - start) / np.linalg.norm(stop - start))[None])[0]
    stiffness: Mapping[Make, tuple[float, ...]] = {Make.PINNED: PINNED, Make.GIVEN: made.stiffness or RIGID}
    return Hang(number, end, np.array(made.arm), axes, stiffness.get(made.make, RIGID))
