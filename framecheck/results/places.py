"""Where a row sits, in terms of the vehicle: the nearest named point, and the side of the section."""

from __future__ import annotations

from enum import Enum
from itertools import pairwise
from math import dist

from framecheck.model.arrays import Vector
from framecheck.model.frame import Frame, Member
from framecheck.results.row import CheckResult, Facing
from framecheck.results.subjects import Thing
from framecheck.value_class import value_class

AT = 0.002
"""A place nearer than this to a named point is at it, m."""
ON_SUBJECT = frozenset((Thing.MEMBER, Thing.CUT, Thing.SEAM, Thing.DETAIL))


class Way(Enum):
    """On which side of a named point a place lies; vehicle axes."""

    AHEAD = "ahead of"
    BEHIND = "behind"
    LEFT = "left of"
    RIGHT = "right of"
    ABOVE = "above"
    BELOW = "below"


WAYS = ((Way.AHEAD, Way.BEHIND), (Way.LEFT, Way.RIGHT), (Way.ABOVE, Way.BELOW))


@value_class
class Near:
    """The named point nearest to a place on a member: how far it is, m (0: the place is at it), and which way the place lies."""

    point: str
    distance: float
    way: Way | None


def near_row(frame: Frame, row: CheckResult) -> Near | None:
    """Return the point nearest to where a row was found; None for a row without a station on a member."""
    if row.station is None or row.subject.thing not in ON_SUBJECT:
        return None
    member = next((each for each in frame.members if each.name == row.subject.name), None)
    return None if member is None else near_station(frame, member, row.station)


def near_station(frame: Frame, member: Member, station: float) -> Near:
    """Return the point of a member nearest to a station, m from its first point; of two as near the first one."""
    places = [frame.points[name] for name in member.points]
    along = [0.0]
    for before, after in pairwise(places):
        along.append(along[-1] + dist(before, after))
    number = min(range(len(along)), key=lambda each: (round(abs(along[each] - station), 6), each))
    away = abs(along[number] - station)
    if away < AT:
        return Near(member.points[number], 0.0, None)
    return Near(member.points[number], away, way_of(places[number], place_at(places, along, station)))


def place_at(places: list[Vector], along: list[float], station: float) -> Vector:
    """Return the place at a station of a line through places."""
    part = next((each for each in range(len(places) - 2) if station <= along[each + 1]), len(places) - 2)
    share = (station - along[part]) / (along[part + 1] - along[part])
    x, y, z = (a + share * (b - a) for a, b in zip(places[part], places[part + 1], strict=True))
    return (x, y, z)


def way_of(point: Vector, place: Vector) -> Way:
    """Return the way from a point to a place along the vehicle axis in which they differ most."""
    apart = [b - a for a, b in zip(point, place, strict=True)]
    axis = max(range(3), key=lambda each: (round(abs(apart[each]), 9), -each))
    return WAYS[axis][0 if apart[axis] > 0 else 1]


NEAR_MIDDLE = 0.2
"""A fibre is on a side if its offset that way is more than this share of the largest: an inclined rail has no front side."""


def facings(offset: Vector, at: Vector) -> tuple[Facing, ...]:
    """Return the sides on which a fibre lies. offset: from the middle of the section; at: where the member is; m, vehicle axes."""
    x, y, z = offset
    least = NEAR_MIDDLE * max(abs(each) for each in offset)
    found = []
    if abs(z) > least:
        found.append(Facing.TOP if z > 0 else Facing.BOTTOM)
    if abs(y) > least:
        across = (Facing.LEFT if y > 0 else Facing.RIGHT) if abs(at[1]) < AT else None
        found.append(across or (Facing.OUTBOARD if y * at[1] > 0 else Facing.INBOARD))
    if abs(x) > least:
        found.append(Facing.FRONT if x > 0 else Facing.REAR)
    return tuple(found)
