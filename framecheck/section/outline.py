"""The outline of a one-piece shape as polygons in mm, the origin in the middle of its outline box."""

from __future__ import annotations

from math import ceil, pi
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
from framecheck.section.corners import SEGMENTS, Corner, Point, circle, rounded, strip
from framecheck.section.paths import mid_line

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
