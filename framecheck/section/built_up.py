"""The parts of built-up shapes, each where it stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from framecheck.model.joining import ContinuousWeld, Joining
from framecheck.model.shapes import (
    BoxedChannel,
    BuiltUp,
    Channel,
    ChannelPair,
    FloorClosed,
    Pairing,
    Plate,
    Plated,
    Side,
    Sleeve,
)
from framecheck.section.corners import Point
from framecheck.section.outline import MM, loops, polygon, polygon_mm
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
    """Return the parts of a built-up shape, measured from the middle of the box of the piece that was there first."""
    if isinstance(shape, Sleeve):
        return Parts((polygon(shape.outer), polygon(shape.core)), Bond.APART, (SLEEVE_NOTE,))
    return joined(_polygons(shape), shape.joined)


def joined(polygons: tuple[Polygon, ...], joining: Joining) -> Parts:
    """Return touching parts joined along their contact."""
    if isinstance(joining, ContinuousWeld):
        return Parts(polygons)
    return Parts(polygons, Bond.SEAMED, (SEAMED_NOTE,))


def _polygons(shape: BoxedChannel | FloorClosed | Plated | ChannelPair) -> tuple[Polygon, ...]:
    """Return the polygons of touching parts, the first piece first."""
    match shape:
        case BoxedChannel():
            return polygon(shape.channel), _boxing_plate(shape)
        case FloorClosed():
            return polygon(shape.base), _floor(shape)
        case Plated():
            return polygon(shape.base), *(_plate(shape, plate) for plate in shape.plates)
        case ChannelPair():
            return _pair(shape)


def box_polygon(y: tuple[float, float], z: tuple[float, float]) -> Polygon:
    """Return a rectangle in mm from its ranges in m."""
    return polygon_mm([(y[0], z[0]), (y[1], z[0]), (y[1], z[1]), (y[0], z[1])])


def _boxing_plate(shape: BoxedChannel) -> Polygon:
    """Return the plate that boxes a channel: over its tips, or between its flanges."""
    channel = shape.channel
    tips = -channel.flange / 2
    if shape.inset is None:
        half = channel.height / 2
        return box_polygon((tips - shape.plate, tips), (-half, half))
    half = channel.height / 2 - channel.wall
    return box_polygon((tips + shape.inset, tips + shape.inset + shape.plate), (-half, half))


def _floor(shape: FloorClosed) -> Polygon:
    """Return the sheet over the open side."""
    base = shape.base
    if isinstance(base, Channel):
        tips, half = -base.flange / 2, base.height / 2 + shape.overhang
        return box_polygon((tips - shape.sheet, tips), (-half, half))
    under, half = -base.height / 2, base.crown / 2 + base.brim + shape.overhang
    return box_polygon((-half, half), (under - shape.sheet, under))


def _plate(shape: Plated, plate: Plate) -> Polygon:
    """Return a plate flat on one side of the base's box."""
    y_low, z_low, y_high, z_high = (each / MM for each in polygon(shape.base).bounds)
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
    first, second = shape.first, shape.second
    match shape.pairing:
        case Pairing.NESTED:
            inside = first.flange / 2 - first.wall
            return polygon(first), _placed(second, inside - second.flange / 2)
        case Pairing.BACK_TO_BACK:
            middle = (second.flange - first.flange) / 2
            return _placed(first, -first.flange / 2 - middle), _mirrored(second, second.flange / 2 - middle)
        case Pairing.TOE_TO_TOE:
            middle = (first.flange - second.flange) / 2
            return _placed(first, first.flange / 2 - middle), _mirrored(second, -second.flange / 2 - middle)


def _placed(channel: Channel, y: float) -> Polygon:
    """Return a channel with the middle of its box at y."""
    return polygon_mm(_moved(loops(channel)[0], y))


def _mirrored(channel: Channel, y: float) -> Polygon:
    """Return a channel open to the left with the middle of its box at y."""
    return polygon_mm(_moved([(-point[0], point[1]) for point in reversed(loops(channel)[0])], y))


def _moved(loop: list[Point], y: float) -> list[Point]:
    """Return a loop moved along y."""
    return [(point[0] + y, point[1]) for point in loop]
