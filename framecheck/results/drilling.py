"""Which members the bolts of a case go through, from how their pattern lies."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import AtMemberEnd, AtPoint, BoltGroup, InSplice, Terminal

ACROSS = 0.5
"""The largest cosine of the angle between a bolt and a member that it goes through: bolts nearer to its direction hold a plate on
its end."""


def drilled(case: Case) -> Iterator[tuple[BoltGroup, Member]]:
    """Yield every bolt group with each member at its place that its bolts stand across."""
    for joint in case.joints:
        if isinstance(joint, BoltGroup):
            yield from (
                (joint, member)
                for member in case.frame.members
                if (point := seat_on(case.frame, joint, member)) is not None and stands_across(case.frame, joint, member, point)
            )


def seat_on(frame: Frame, joint: BoltGroup, member: Member) -> str | None:
    """Return the point of a member at which bolts sit; None where they do not sit on it."""
    if isinstance(joint.place, InSplice):
        return dict(joint.place.points).get(member.name)
    point = seat_of(frame, joint)
    return point if point in member.points else None


def middle_of(frame: Frame, joint: BoltGroup) -> Vector:
    """Return the place that a pattern of bolts is counted from, m, vehicle axes."""
    return joint.place.middle if isinstance(joint.place, InSplice) else frame.points[seat_of(frame, joint) or ""]


def seat_of(frame: Frame, joint: BoltGroup) -> str | None:
    """Return the frame point that bolts sit at; None where their loads are given."""
    match joint.place:
        case AtPoint(point):
            return point
        case AtMemberEnd(name, end):
            member = next((each for each in frame.members if each.name == name), None)
            return None if member is None else member.points[0 if end is Terminal.START else -1]
    return None


def stands_across(frame: Frame, joint: BoltGroup, member: Member, point: str) -> bool:
    """Return whether bolts stand across a member at one of its points."""
    return all(abs(dot(leg, joint.plane.facing)) <= ACROSS for leg in legs(frame, member, point))


def legs(frame: Frame, member: Member, point: str) -> tuple[Vector, ...]:
    """Return the unit directions of the one or two straight lengths of a member that meet at one of its points."""
    number = member.points.index(point)
    names = member.points[max(number - 1, 0) : number + 2]
    return tuple(direction(frame.points[first], frame.points[second]) for first, second in pairwise(names))


def direction(start: Vector, end: Vector) -> Vector:
    """Return the unit vector from one place to another."""
    x, y, z = (b - a for a, b in zip(start, end, strict=True))
    size = dot((x, y, z), (x, y, z)) ** 0.5
    return x / size, y / size, z / size


def dot(first: Vector, second: Vector) -> float:
    """Return the scalar product."""
    return sum(a * b for a, b in zip(first, second, strict=True))
