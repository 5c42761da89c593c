"""Built-up shapes as walls, each part where it stands, measured from the middle of the box of the piece that was there first."""

from __future__ import annotations

from framecheck.model.joining import ContinuousWeld
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    Flat,
    FloorClosed,
    Hat,
    IShape,
    Pairing,
    Plate,
    Plated,
    RectTube,
    Side,
    ZShape,
)
from framecheck.section.midline_parts import Strip, joined, mirrored, moved, strips_of
from framecheck.section.midline_shapes import ThinPiece, piece_graph

Touching = BoxedChannel | FloorClosed | Plated | ChannelPair
SEAMED_NOTE = "joined at intervals: bends as one piece; in twist each part is taken by itself"


WELDED, LOOSE = 1.0, 1e-7
"""Thickness of a link over that of the thinner wall it joins: welded all along; or next to nothing."""


def built_strips(shape: Touching, link: float) -> list[Strip]:
    """Return the walls of a built-up shape whose parts touch; link: WELDED or LOOSE."""
    return joined(parts_of(shape), link)


def boxed_strips(shape: BoxedChannel, channel: list[Strip]) -> list[Strip]:
    """Return a boxed channel, welded, whose channel has walls of its own (drilled)."""
    return joined([channel, _boxing_plate(shape)], WELDED)


def seamed(shape: Touching) -> bool:
    """Return whether the parts are joined at intervals only."""
    return not isinstance(shape.joined, ContinuousWeld)


def strips(shape: ThinPiece) -> list[Strip]:
    """Return the walls of a piece."""
    return strips_of(piece_graph(shape))


def parts_of(shape: Touching) -> list[list[Strip]]:
    """Return the walls of each part, the piece that was there first leading."""
    match shape:
        case BoxedChannel():
            return [strips(shape.channel), _boxing_plate(shape)]
        case FloorClosed():
            return [strips(shape.base), _floor(shape)]
        case Plated():
            base = strips(shape.base)
            return [base, *(_plate(plate, half_sizes(shape.base)) for plate in shape.plates)]
        case ChannelPair():
            return _pair(shape)


def _upright(y: float, half: float, thickness: float, middle: float = 0.0) -> list[Strip]:
    """Return a plate on edge."""
    return [Strip((y, middle - half), (y, middle + half), thickness)]


def _level(z: float, half: float, thickness: float, middle: float = 0.0) -> list[Strip]:
    """Return a plate lying flat."""
    return [Strip((middle - half, z), (middle + half, z), thickness)]


def _boxing_plate(shape: BoxedChannel) -> list[Strip]:
    """Return the plate over the flange tips, or between the flanges."""
    channel, tips = shape.channel, -shape.channel.flange / 2
    if shape.inset is None:
        return _upright(tips - shape.plate / 2, channel.height / 2, shape.plate)
    return _upright(tips + shape.inset + shape.plate / 2, channel.height / 2 - channel.wall, shape.plate)


def _floor(shape: FloorClosed) -> list[Strip]:
    """Return the sheet over the open side."""
    base = shape.base
    if isinstance(base, Channel):
        return _upright(-base.flange / 2 - shape.sheet / 2, base.height / 2 + shape.overhang, shape.sheet)
    half = base.crown / 2 + base.brim + shape.overhang
    return _level(-base.height / 2 - shape.sheet / 2, half, shape.sheet)


def half_sizes(base: RectTube | Channel | Hat | IShape | ZShape | Angle | Flat) -> tuple[float, float]:
    """Return half the width and half the height of a piece's outline box, m."""
    match base:
        case Channel():
            return base.flange / 2, base.height / 2
        case Hat():
            return base.crown / 2 + base.brim, base.height / 2
        case ZShape():
            return base.flange - base.wall / 2, base.height / 2
        case _:
            return base.width / 2, base.height / 2


def _plate(plate: Plate, half: tuple[float, float]) -> list[Strip]:
    """Return a plate flat on one side of a box."""
    y, z = half[0] + plate.thickness / 2, half[1] + plate.thickness / 2
    reach, t, middle = plate.width / 2, plate.thickness, plate.offset
    match plate.side:
        case Side.TOP:
            return _level(z, reach, t, middle)
        case Side.BOTTOM:
            return _level(-z, reach, t, middle)
        case Side.LEFT:
            return _upright(y, reach, t, middle)
        case Side.RIGHT:
            return _upright(-y, reach, t, middle)


def _pair(shape: ChannelPair) -> list[list[Strip]]:
    """Return two channels: the whole pair centred, a nested one on the outer channel."""
    first, second = shape.first, shape.second
    a, b = strips(first), strips(second)
    match shape.pairing:
        case Pairing.NESTED:
            return [a, moved(b, first.flange / 2 - first.wall - second.flange / 2)]
        case Pairing.BACK_TO_BACK:
            middle = (second.flange - first.flange) / 2
            return [moved(a, -first.flange / 2 - middle), moved(mirrored(b), second.flange / 2 - middle)]
        case Pairing.TOE_TO_TOE:
            middle = (first.flange - second.flange) / 2
            return [moved(a, first.flange / 2 - middle), moved(mirrored(b), -second.flange / 2 - middle)]
