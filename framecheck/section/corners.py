"""Closed loops of points from corners with radii, and from a bent strip's mid-line. Any one length unit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt, tan

from framecheck.value_class import value_class

Point = tuple[float, float]
SEGMENTS = 16
"""Straight pieces in a quarter turn of a bend."""
SHARPEST = 1e-4
"""A radius below this share of the loop's size is none."""


@value_class
class Corner:
    """A corner of a loop at (y, z), rounded with `radius` (0: sharp); thinned: how far the middle of the arc is cut back."""

    y: float
    z: float
    radius: float = 0.0
    thinned: float = 0.0


def rounded(corners: Sequence[Corner]) -> list[Point]:
    """Return the points of a closed loop, each rounded corner as an arc of SEGMENTS pieces to the quarter turn.

    A radius too small to matter counts as sharp: its arc would only draw thousands of triangles to one spot.
    """
    points: list[Point] = []
    least = SHARPEST * max(abs(each) for corner in corners for each in (corner.y, corner.z))
    for before, corner, after in zip((corners[-1], *corners[:-1]), corners, (*corners[1:], corners[0]), strict=True):
        points += _arc(before, corner, after) if corner.radius > least else [(corner.y, corner.z)]
    return points


def _unit(start: Corner, end: Corner) -> Point:
    """Return the direction from one corner to another."""
    length = hypot(end.y - start.y, end.z - start.z)
    return (end.y - start.y) / length, (end.z - start.z) / length


def _arc(before: Corner, corner: Corner, after: Corner) -> Iterator[Point]:
    """Yield the points of the arc that rounds a corner, both tangent points included."""
    u, v = _unit(before, corner), _unit(corner, after)
    turn = acos(max(-1.0, min(1.0, u[0] * v[0] + u[1] * v[1])))
    reach = corner.radius * tan(turn / 2)
    middle = _bisector(u, v)
    centre_distance = corner.radius / cos(turn / 2)
    centre = corner.y + middle[0] * centre_distance, corner.z + middle[1] * centre_distance
    start = atan2(corner.z - u[1] * reach - centre[1], corner.y - u[0] * reach - centre[0])
    sweep = turn if u[0] * v[1] - u[1] * v[0] > 0 else -turn
    pieces = max(2, ceil(SEGMENTS * turn / (pi / 2) - 1e-9))
    for i in range(pieces + 1):
        radius = corner.radius - corner.thinned * sin(pi * i / pieces) ** 2
        angle = start + sweep * i / pieces
        yield centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)


def _bisector(u: Point, v: Point) -> Point:
    """Return the direction from a corner to the centre of its arc."""
    y, z = v[0] - u[0], v[1] - u[1]
    length = hypot(y, z)
    return y / length, z / length


def circle(diameter: float, sides: int = 4 * SEGMENTS) -> list[Point]:
    """Return a circle as a polygon of the same area: its points lie a little outside and the middles of its sides a little inside."""
    n = sides
    radius = diameter / 2 * sqrt(2 * pi / n / sin(2 * pi / n))
    return [(radius * cos(2 * pi * i / n), radius * sin(2 * pi * i / n)) for i in range(n)]


def strip(path: Sequence[Point], wall: float, inside_radius: float, thinned: float = 0.0) -> list[Corner]:
    """Return the corners of a sheet of thickness `wall` bent along a mid-line path; inside_radius 0: sharp inside and outside.

    thinned: thickness lost from the outside at the middle of each bend.
    """
    left = [_offset(path, i, wall / 2, inside_radius, thinned) for i in range(len(path))]
    right = [_offset(path, i, -wall / 2, inside_radius, thinned) for i in range(len(path))]
    return [*left, *reversed(right)]


def _offset(path: Sequence[Point], i: int, by: float, inside_radius: float, thinned: float) -> Corner:
    """Return the corner beside path point i, `by` to the left of the path, with the radius of that side of the bend."""
    here = Corner(*path[i])
    before = Corner(*path[i - 1]) if i else None
    after = Corner(*path[i + 1]) if i + 1 < len(path) else None
    u = _unit(before, here) if before else _unit(here, after or here)
    v = _unit(here, after) if after else u
    turn = atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
    share = by / (1 + u[0] * v[0] + u[1] * v[1])
    y, z = here.y - share * (u[1] + v[1]), here.z + share * (u[0] + v[0])
    if abs(turn) < 1e-9 or not inside_radius:
        return Corner(y, z)
    if turn * by > 0:
        return Corner(y, z, inside_radius)
    return Corner(y, z, inside_radius + 2 * abs(by), thinned)
