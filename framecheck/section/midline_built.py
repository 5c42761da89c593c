"""Built-up shapes as walls, each part where it stands, measured from the middle of the box of the piece that was there first."""

from __future__ import annotations

from framecheck.model.joining import ContinuousWeld
from framecheck.model.nesting import built_up_in
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    ChannelPair,
    FloorClosed,
    Pairing,
    Plate,
    Plated,
    Shape,
    Side,
    Worn,
)
from framecheck.section.boxes import Box, as_new, box_of, channel_in, pair_places
from framecheck.section.midline_changed import worn_graph
from framecheck.section.midline_parts import Strip, joined, mirrored, moved, strips_of
from framecheck.section.midline_shapes import ThinPiece, piece_graph

Touching = BoxedChannel | FloorClosed | Plated | ChannelPair
SEAMED_NOTE = "joined at intervals: bends as one piece; in twist each part is taken by itself"


WELDED, LOOSE = 1.0, 1e-7
"""Thickness of a link over that of the thinner wall it joins: welded all along; or next to nothing."""


def built_strips(shape: Touching, link: float) -> list[Strip]:
    """Return the walls of a built-up shape whose parts touch; link: WELDED or LOOSE."""
    return joined(parts_of(shape), link)


def seamed(shape: Touching) -> bool:
    """Return whether the parts are joined at intervals only, on any level."""
    return not all(isinstance(each.joined, ContinuousWeld) for each in built_up_in(shape))


def parts_of(shape: Shape) -> list[list[Strip]]:
    """Return the walls of each part, the piece that was there first leading; one part of a piece by itself."""
    match shape:
        case BoxedChannel():
            return [*parts_of(shape.channel), _boxing_plate(shape)]
        case FloorClosed():
            return [*parts_of(shape.base), _floor(shape)]
        case Plated():
            return [*parts_of(shape.base), *(_plate(plate, box_of(shape.base)) for plate in shape.plates)]
        case ChannelPair():
            return _pair(shape)
        case Worn():
            return [strips_of(worn_graph(shape))]
        case _:
            assert isinstance(shape, ThinPiece)
            return [strips_of(piece_graph(shape))]


def _upright(y: float, half: float, thickness: float, middle: float = 0.0) -> list[Strip]:
    """Return a plate on edge."""
    return [Strip((y, middle - half), (y, middle + half), thickness)]


def _level(z: float, half: float, thickness: float, middle: float = 0.0) -> list[Strip]:
    """Return a plate lying flat."""
    return [Strip((middle - half, z), (middle + half, z), thickness)]


def _boxing_plate(shape: BoxedChannel) -> list[Strip]:
    """Return the plate over the flange tips, or between the flanges."""
    channel, box = channel_in(shape.channel), box_of(shape.channel)
    if shape.inset is None:
        middle = (box.z[0] + box.z[1]) / 2
        return _upright(box.y[0] - shape.plate / 2, box.height / 2, shape.plate, middle)
    return _upright(box.y[0] + shape.inset + shape.plate / 2, channel.height / 2 - channel.wall, shape.plate)


def _floor(shape: FloorClosed) -> list[Strip]:
    """Return the sheet over the open side."""
    box = box_of(shape.base)
    if isinstance(as_new(shape.base), Channel):
        middle = (box.z[0] + box.z[1]) / 2
        return _upright(box.y[0] - shape.sheet / 2, box.height / 2 + shape.overhang, shape.sheet, middle)
    return _level(box.z[0] - shape.sheet / 2, box.width / 2 + shape.overhang, shape.sheet, (box.y[0] + box.y[1]) / 2)


def _plate(plate: Plate, box: Box) -> list[Strip]:
    """Return a plate flat on one side of a box."""
    half = plate.thickness / 2
    reach, t, middle = plate.width / 2, plate.thickness, plate.offset
    match plate.side:
        case Side.TOP:
            return _level(box.z[1] + half, reach, t, middle)
        case Side.BOTTOM:
            return _level(box.z[0] - half, reach, t, middle)
        case Side.LEFT:
            return _upright(box.y[1] + half, reach, t, middle)
        case Side.RIGHT:
            return _upright(box.y[0] - half, reach, t, middle)


def _pair(shape: ChannelPair) -> list[list[Strip]]:
    """Return two channels: the whole pair centred, a nested one on the outer channel."""
    (first,), (second,) = parts_of(shape.first), parts_of(shape.second)
    at, other = pair_places(shape)
    return [moved(first, at), moved(second if shape.pairing is Pairing.NESTED else mirrored(second), other)]
