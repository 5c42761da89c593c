"""The outlines of built-up shapes, and what rust, holes and notches leave of a section. From any shape to its parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from framecheck.model.frame import Cut
from framecheck.model.joining import ContinuousWeld
from framecheck.model.shape_parts import built_up_in
from framecheck.model.shapes import (
    BoxedChannel,
    BuiltUp,
    Channel,
    ChannelPair,
    Drilled,
    FloorClosed,
    GivenProperties,
    Hole,
    Pairing,
    Plate,
    Plated,
    RoundTube,
    Shape,
    Side,
    Sleeve,
    Worn,
)
from framecheck.section.outline import MM, polygon, polygon_mm
from framecheck.section.parts import Bond, Parts, without
from framecheck.section.shape_geometry import as_new, channel_in, pair_places
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


SEAMED_NOTE = (
    "joined at intervals: bends as one piece if the joints carry the shear flow; twist is between that of its parts "
    "side by side (used here) and that of the welded cell"
)
SLEEVE_NOTE = (
    "sleeve and core: separate beams sharing curvature and twist; what joins their ends carries the core's share across"
)


def built_up_parts(shape: BuiltUp) -> Parts:
    """Return the parts of a built-up shape, measured from the middle of the box of the piece that was there first.

    Where any of its levels is joined at intervals, all parts are taken to twist each by itself (unfavourable).
    """
    if isinstance(shape, Sleeve):
        return Parts((*polygons(shape.outer), *polygons(shape.core)), Bond.APART, (SLEEVE_NOTE,))
    if all(isinstance(each.joined, ContinuousWeld) for each in built_up_in(shape)):
        return Parts(polygons(shape))
    return Parts(polygons(shape), Bond.SEAMED, (SEAMED_NOTE,))


def polygons(shape: Shape) -> tuple[Polygon, ...]:
    """Return the polygons of a piece, worn or not, or of parts that touch, the first piece first; mm."""
    match shape:
        case Worn():
            return (worn_polygon(shape),)
        case BoxedChannel():
            return *polygons(shape.channel), _boxing_plate(shape)
        case FloorClosed():
            return *polygons(shape.base), _floor(shape)
        case Plated():
            base = polygons(shape.base)
            return *base, *(_plate(base, plate) for plate in shape.plates)
        case ChannelPair():
            return _pair(shape)
        case _:
            return (polygon(shape),)  # type: ignore[arg-type]


def box_polygon(y: tuple[float, float], z: tuple[float, float]) -> Polygon:
    """Return a rectangle in mm from its ranges in m."""
    return polygon_mm([(y[0], z[0]), (y[1], z[0]), (y[1], z[1]), (y[0], z[1])])


def _boxing_plate(shape: BoxedChannel) -> Polygon:
    """Return the plate that boxes a channel: over its tips, or between its flanges."""
    tips, _, low, high = _bounds(polygons(shape.channel))
    if shape.inset is None:
        return box_polygon((tips - shape.plate, tips), (low, high))
    channel = channel_in(shape.channel)
    half = channel.height / 2 - channel.wall
    return box_polygon((tips + shape.inset, tips + shape.inset + shape.plate), (-half, half))


def _floor(shape: FloorClosed) -> Polygon:
    """Return the sheet over the open side."""
    right, left, under, top = _bounds(polygons(shape.base))
    beyond = shape.overhang
    if isinstance(as_new(shape.base), Channel):
        return box_polygon((right - shape.sheet, right), (under - beyond, top + beyond))
    return box_polygon((right - beyond, left + beyond), (under - shape.sheet, under))


def _bounds(parts: tuple[Polygon, ...]) -> tuple[float, float, float, float]:
    """Return low and high y, low and high z of polygons, m."""
    from shapely import total_bounds

    y_low, z_low, y_high, z_high = (float(each) / MM for each in total_bounds(parts))
    return y_low, y_high, z_low, z_high


def _plate(base: tuple[Polygon, ...], plate: Plate) -> Polygon:
    """Return a plate flat on one side of the base's box."""
    y_low, y_high, z_low, z_high = _bounds(base)
    along = plate.offset - plate.width / 2, plate.offset + plate.width / 2
    match plate.side:
        case Side.TOP:
            return box_polygon(along, (z_high, z_high + plate.thickness))
        case Side.BOTTOM:
            return box_polygon(along, (z_low - plate.thickness, z_low))
        case Side.LEFT:
            return box_polygon((y_high, y_high + plate.thickness), along)
        case Side.RIGHT:
            return box_polygon((y_low - plate.thickness, y_low), along)


def _pair(shape: ChannelPair) -> tuple[Polygon, Polygon]:
    """Return two channels: the whole pair centred, a nested one on the outer channel."""
    (first,), (second,) = polygons(shape.first), polygons(shape.second)
    at, other = pair_places(shape)
    return _placed(first, at, 1.0), _placed(second, other, 1.0 if shape.pairing is Pairing.NESTED else -1.0)


def _placed(piece: Polygon, y: float, sense: float) -> Polygon:
    """Return a piece moved to the left; sense -1: turned left to right before."""
    loops = (piece.exterior, *piece.interiors)
    outside, *holes = ([(sense * at / MM + y, z / MM) for at, z in loop.coords[:-1]] for loop in loops)
    return polygon_mm(outside, holes)


def parts_of(shape: Shape) -> Parts:
    """Return the parts of a shape that has an outline, in mm.

    The origin is the middle of the outline box of the piece that was there first: of the base of a plated, boxed, worn or
    drilled one, so that a rail does not move when something is added to it.
    """
    match shape:
        case GivenProperties():
            raise TypeError("given properties have no outline")
        case BoxedChannel() | Sleeve() | FloorClosed() | Plated() | ChannelPair():
            return built_up_parts(shape)
        case Worn():
            return Parts((worn_polygon(shape),))
        case Drilled():
            base = parts_of(shape.base)
            return without(base, drilled_walls(shape.base, base, shape.holes))
        case _:
            return Parts((polygon(shape),))
