"""What rust, holes and notches leave of a section."""

from __future__ import annotations

from typing import TYPE_CHECKING

from framecheck.model.frame import Cut
from framecheck.model.shapes import Hole, RoundTube, Side, Worn
from framecheck.section.outline import MM, polygon
from framecheck.section.parts import Parts, without

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

FAR = 1e5
"""mm: beyond any section."""
Bounds = tuple[float, float, float, float]


def worn_polygon(shape: Worn) -> Polygon:
    """Return what rust leaves: each side's loss is taken from the outside of the outline box, mm."""
    base = shape.base
    if isinstance(base, RoundTube):
        return polygon(RoundTube(base.diameter - 2 * shape.top, base.wall - shape.top))
    full = polygon(base, shape.bends)
    losses = {Side.TOP: shape.top, Side.BOTTOM: shape.bottom, Side.LEFT: shape.left, Side.RIGHT: shape.right}
    for side, loss in losses.items():
        if loss:
            full = full.difference(slab(polygon(base).bounds, side, loss * MM))
    return full


def slab(bounds: Bounds, side: Side, depth: float) -> Polygon:
    """Return everything from `depth` inside one side of a box outward, mm; bounds: y low, z low, y high, z high."""
    from shapely import box

    y_low, z_low, y_high, z_high = bounds
    match side:
        case Side.TOP:
            return box(-FAR, z_high - depth, FAR, FAR)
        case Side.BOTTOM:
            return box(-FAR, -FAR, FAR, z_low + depth)
        case Side.LEFT:
            return box(y_high - depth, -FAR, FAR, FAR)
        case Side.RIGHT:
            return box(-FAR, -FAR, y_low + depth, FAR)


def cut_parts(parts: Parts, cut: Cut) -> Parts:
    """Return what a notch leaves; its depth is measured from the outline box of the whole section."""
    from shapely import total_bounds

    bounds = tuple(float(each) for each in total_bounds(parts.polygons))
    return without(parts, slab((bounds[0], bounds[1], bounds[2], bounds[3]), cut.side, cut.depth * MM))


def drilled_walls(base: Parts, holes: tuple[Hole, ...]) -> BaseGeometry:
    """Return what holes take out, mm: each goes through the first wall met from its side."""
    from shapely import union_all

    return union_all([drilled_wall(base.polygons[0], hole) for hole in holes])


def band(bounds: Bounds, hole: Hole) -> Polygon:
    """Return the strip across the section that a hole would take if it went all the way through, mm."""
    from shapely import box

    y_low, z_low, y_high, z_high = bounds
    at, half = hole.position * MM, hole.size * MM / 2
    if hole.side in (Side.TOP, Side.BOTTOM):
        middle = (y_low + y_high) / 2 + at
        return box(middle - half, z_low - 1, middle + half, z_high + 1)
    middle = (z_low + z_high) / 2 + at
    return box(y_low - 1, middle - half, y_high + 1, middle + half)


def drilled_wall(base: Polygon, hole: Hole) -> BaseGeometry:
    """Return the piece of wall a hole takes out: the first met from its side. Empty where there is none."""
    from shapely import Polygon, get_parts

    found = get_parts(base.intersection(band(base.bounds, hole)))
    walls = [each for each in found if each.area > 0]
    return max(walls, key=lambda wall: _reach(wall.bounds, hole.side), default=Polygon())


def _reach(bounds: Bounds, side: Side) -> float:
    """Return how far towards a side a box lies."""
    y_low, z_low, y_high, z_high = bounds
    return {Side.TOP: z_high, Side.BOTTOM: -z_low, Side.LEFT: y_high, Side.RIGHT: -y_low}[side]


def box_sides(parts: Parts) -> tuple[float, float, float, float]:
    """Return how far the outline reaches from the reference point: left, right, up, down, m."""
    from shapely import total_bounds

    y_low, z_low, y_high, z_high = (float(each) / MM for each in total_bounds(parts.polygons))
    return y_high, -y_low, z_high, -z_low
