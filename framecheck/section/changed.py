"""What rust, holes and notches leave of a section."""

from __future__ import annotations

from typing import TYPE_CHECKING

from framecheck.model.frame import Cut
from framecheck.model.shapes import ChannelPair, Hole, RoundTube, Shape, Side, Worn
from framecheck.section.outline import MM, polygon
from framecheck.section.parts import Parts, without
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

FAR = 1e5
"""mm: beyond any section."""
FINE = 1e-6
"""mm between the points of a worn piece, so that what is laid on its faces touches them exactly."""
FLAT = 1e-3
"""mm between two walls that lie on one another."""
Bounds = tuple[float, float, float, float]


def worn_polygon(shape: Worn) -> Polygon:
    """Return what rust leaves: each side's loss is taken from the outside of the outline box, mm."""
    from shapely import set_precision

    base = shape.base
    if isinstance(base, RoundTube):
        return polygon(RoundTube(base.diameter - 2 * shape.top, base.wall - shape.top))
    full = polygon(base, shape.bends)
    losses = {Side.TOP: shape.top, Side.BOTTOM: shape.bottom, Side.LEFT: shape.left, Side.RIGHT: shape.right}
    for side, loss in losses.items():
        if loss:
            full = full.difference(slab(polygon(base).bounds, side, loss * MM))
    return set_precision(full, FINE)


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


@value_class
class HoleIn:
    """A hole and the section it is drilled in: the polygons of its parts by number, and the box that its place is measured in, mm."""

    hole: Hole
    parts: tuple[tuple[int, Polygon], ...]
    bounds: Bounds

    @property
    def band(self) -> Polygon:
        """Return the strip across the section that the hole would take if it went all the way through, mm."""
        return band(self.bounds, self.hole)

    def walls(self) -> tuple[tuple[Polygon, Polygon], ...]:
        """Return the pieces of wall that it takes, each with the part it is in: the first met, and what lies flat behind it."""
        from shapely import get_parts

        through = self.band
        found = [(wall, part) for _, part in self.parts for wall in get_parts(part.intersection(through)) if wall.area > 0]
        found.sort(key=lambda each: _reach(each[0].bounds, self.hole.side), reverse=True)
        taken = found[:1]
        for wall, part in found[1:]:
            if all(part is not other for _, other in taken) and taken[-1][0].distance(wall) < FLAT:
                taken.append((wall, part))
        return tuple(taken)


def holes_in(shape: Shape, parts: Parts, holes: tuple[Hole, ...]) -> tuple[HoleIn, ...]:
    """Return holes in the parts of a shape, measured from the piece that was there first, in a pair from the whole."""
    from shapely import total_bounds

    numbered = tuple(zip(parts.numbers, parts.polygons, strict=True))
    found = []
    for hole in holes:
        within = tuple(each for each in numbered if each[0] in hole.of or not hole.of)
        first = tuple(part for number, part in within if number == within[0][0])
        whole = first if hole.of or not isinstance(shape, ChannelPair) else parts.polygons
        y_low, z_low, y_high, z_high = (float(each) for each in total_bounds(whole))
        found.append(HoleIn(hole, within, (y_low, z_low, y_high, z_high)))
    return tuple(found)


def drilled_walls(shape: Shape, parts: Parts, holes: tuple[Hole, ...]) -> BaseGeometry:
    """Return what holes take out of the parts of a shape, mm."""
    from shapely import union_all

    return union_all([wall for each in holes_in(shape, parts, holes) for wall, _ in each.walls()])


def band(bounds: Bounds, hole: Hole) -> Polygon:
    """Return the strip across the section that a hole would take if it went all the way through, mm."""
    from shapely import box

    at, half = hole.position * MM, hole.size * MM / 2
    if hole.side in (Side.TOP, Side.BOTTOM):
        middle = (bounds[0] + bounds[2]) / 2 + at
        return box(middle - half, -FAR, middle + half, FAR)
    middle = (bounds[1] + bounds[3]) / 2 + at
    return box(-FAR, middle - half, FAR, middle + half)


def _reach(bounds: Bounds, side: Side) -> float:
    """Return how far towards a side a box lies."""
    y_low, z_low, y_high, z_high = bounds
    return {Side.TOP: z_high, Side.BOTTOM: -z_low, Side.LEFT: y_high, Side.RIGHT: -y_low}[side]


def box_sides(parts: Parts) -> tuple[float, float, float, float]:
    """Return how far the outline reaches from the reference point: left, right, up, down, m."""
    from shapely import total_bounds

    y_low, z_low, y_high, z_high = (float(each) / MM for each in total_bounds(parts.polygons))
    return y_high, -y_low, z_high, -z_low
