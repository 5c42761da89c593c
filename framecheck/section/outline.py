"""The outline of a one-piece shape as polygons in mm, and closed loops of points from corners with radii."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt, tan
from typing import TYPE_CHECKING

from framecheck.model.shapes import (
    Angle,
    Channel,
    Flat,
    Hat,
    IShape,
    OutlinePolygon,
    Piece,
    RectTube,
    RoundBar,
    RoundTube,
    ZShape,
)
from framecheck.section.shape_geometry import mid_line
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from shapely import Polygon


SHORT_SIDE = 0.5
"""Longest side of a round tube's polygon over its wall."""
MM = 1000.0
"""mm in a m: the mesher is fed millimetres."""


def rectangle(height: float, width: float, radius: float = 0.0) -> list[Point]:
    """Return a rectangle centred on the origin, its corners rounded."""
    y, z = width / 2, height / 2
    return rounded([Corner(*at, radius) for at in ((-y, -z), (y, -z), (y, z), (-y, z))])


def loops(shape: Piece, thinned: float = 0.0) -> tuple[list[Point], list[list[Point]]]:
    """Return the outside loop and the holes of a piece, m; thinned: thickness lost at the middle of each bend, m."""
    match shape:
        case RectTube():
            inside = max(shape.outside_radius - shape.wall, 0.0)
            hole = rectangle(shape.height - 2 * shape.wall, shape.width - 2 * shape.wall, inside)
            return _outside(shape, thinned), [hole]
        case Channel() | Angle() | Hat() | ZShape():
            return rounded(strip(mid_line(shape), shape.wall, shape.inside_radius, thinned)), []
        case IShape():
            return _i_shape(shape), []
        case RoundTube():
            sides = _sides(shape)
            return circle(shape.diameter, sides), [circle(shape.diameter - 2 * shape.wall, sides)]
        case Flat():
            return rectangle(shape.height, shape.width), []
        case RoundBar():
            return circle(shape.diameter), []
        case OutlinePolygon():
            return _centred(shape)


def _sides(shape: RoundTube) -> int:
    """Return how many sides a round tube's polygon has: none longer than most of the wall, so that the mesher divides none.

    Shear stress at a corner with points of the mesh beside it in the middle of flat sides comes out 1 to 2 % too high.
    """
    return 4 * max(SEGMENTS, ceil(pi * shape.diameter / (4 * SHORT_SIDE * shape.wall)))


def _outside(shape: RectTube, thinned: float) -> list[Point]:
    """Return the outside of a rectangular tube."""
    y, z = shape.width / 2, shape.height / 2
    return rounded([Corner(*at, shape.outside_radius, thinned) for at in ((-y, -z), (y, -z), (y, z), (-y, z))])


def _i_shape(shape: IShape) -> list[Point]:
    """Return the outside of an I, counter-clockwise from its lower right."""
    y, z, w, f, r = shape.width / 2, shape.height / 2, shape.web / 2, shape.height / 2 - shape.flange, shape.root_radius
    right = [Corner(y, -z), Corner(y, -f), Corner(w, -f, r), Corner(w, f, r), Corner(y, f), Corner(y, z)]
    return rounded([*right, *(Corner(-c.y, c.z, c.radius) for c in reversed(right))])


def _centred(shape: OutlinePolygon) -> tuple[list[Point], list[list[Point]]]:
    """Return a drawn outline moved so that the middle of its box is the origin."""
    ys, zs = zip(*shape.exterior, strict=True)
    y, z = (min(ys) + max(ys)) / 2, (min(zs) + max(zs)) / 2
    return _moved(shape.exterior, y, z), [_moved(hole, y, z) for hole in shape.holes]


def _moved(loop: tuple[Point, ...], y: float, z: float) -> list[Point]:
    """Return a loop measured from (y, z)."""
    return [(point[0] - y, point[1] - z) for point in loop]


def polygon(shape: Piece, thinned: float = 0.0) -> Polygon:
    """Return a piece as a polygon in mm, its points on a grid of 1e-6 mm so that touching faces touch exactly."""
    outside, holes = loops(shape, thinned)
    return polygon_mm(outside, holes)


def polygon_mm(outside: list[Point], holes: list[list[Point]] | None = None) -> Polygon:
    """Return loops in m as a polygon in mm."""
    from shapely import Polygon

    return Polygon(on_grid(outside), [on_grid(hole) for hole in holes or []])


def on_grid(loop: list[Point]) -> list[Point]:
    """Return points in m as mm on the grid."""
    return [(round(y * MM, 6), round(z * MM, 6)) for y, z in loop]


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
