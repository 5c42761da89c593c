"""The parts of built-up shapes, each where it stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from framecheck.model.joining import ContinuousWeld
from framecheck.model.nesting import built_up_in
from framecheck.model.shapes import (
    BoxedChannel,
    BuiltUp,
    Channel,
    ChannelPair,
    FloorClosed,
    Pairing,
    Plate,
    Plated,
    Shape,
    Side,
    Sleeve,
    Worn,
)
from framecheck.section.boxes import as_new, channel_in, pair_places
from framecheck.section.changed import worn_polygon
from framecheck.section.outline import MM, polygon, polygon_mm
from framecheck.section.parts import Bond, Parts

if TYPE_CHECKING:
    from shapely import Polygon

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
