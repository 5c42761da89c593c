"""Built-up shapes as graphs of walls, each part where it stands; from any shape to its graph."""

from __future__ import annotations

from framecheck.model.joining import ContinuousWeld
from framecheck.model.shape_parts import built_up_in
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    FloorClosed,
    IShape,
    Pairing,
    Plate,
    Plated,
    Shape,
    Side,
    Worn,
)
from framecheck.section.midline_changed import DRILLED_NOTE, drilled, opened, worn_graph
from framecheck.section.midline_parts import MidlineStrip, assembled, joined, mirrored, moved, strips_of
from framecheck.section.midline_shapes import ThinPiece, junction_torsion, piece_graph
from framecheck.section.midline_walls import WallGraph
from framecheck.section.shape_geometry import Box, as_new, box_of, channel_in, pair_places
from framecheck.value_class import array_class

Touching = BoxedChannel | FloorClosed | Plated | ChannelPair
SEAMED_NOTE = "joined at intervals: bends as one piece; in twist each part is taken by itself"


WELDED, LOOSE = 1.0, 1e-7
"""Thickness of a link over that of the thinner wall it joins: welded all along; or next to nothing."""


def built_strips(shape: Touching, link: float) -> list[MidlineStrip]:
    """Return the walls of a built-up shape whose parts touch; link: WELDED or LOOSE."""
    return joined(parts_of(shape), link)


def seamed(shape: Touching) -> bool:
    """Return whether the parts are joined at intervals only, on any level."""
    return not all(isinstance(each.joined, ContinuousWeld) for each in built_up_in(shape))


def parts_of(shape: Shape) -> list[list[MidlineStrip]]:
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


def _upright(y: float, half: float, thickness: float, middle: float = 0.0) -> list[MidlineStrip]:
    """Return a plate on edge."""
    return [MidlineStrip((y, middle - half), (y, middle + half), thickness)]


def _level(z: float, half: float, thickness: float, middle: float = 0.0) -> list[MidlineStrip]:
    """Return a plate lying flat."""
    return [MidlineStrip((middle - half, z), (middle + half, z), thickness)]


def _boxing_plate(shape: BoxedChannel) -> list[MidlineStrip]:
    """Return the plate over the flange tips, or between the flanges."""
    channel, box = channel_in(shape.channel), box_of(shape.channel)
    if shape.inset is None:
        middle = (box.z[0] + box.z[1]) / 2
        return _upright(box.y[0] - shape.plate / 2, box.height / 2, shape.plate, middle)
    return _upright(box.y[0] + shape.inset + shape.plate / 2, channel.height / 2 - channel.wall, shape.plate)


def _floor(shape: FloorClosed) -> list[MidlineStrip]:
    """Return the sheet over the open side."""
    box = box_of(shape.base)
    if isinstance(as_new(shape.base), Channel):
        middle = (box.z[0] + box.z[1]) / 2
        return _upright(box.y[0] - shape.sheet / 2, box.height / 2 + shape.overhang, shape.sheet, middle)
    return _level(box.z[0] - shape.sheet / 2, box.width / 2 + shape.overhang, shape.sheet, (box.y[0] + box.y[1]) / 2)


def _plate(plate: Plate, box: Box) -> list[MidlineStrip]:
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


def _pair(shape: ChannelPair) -> list[list[MidlineStrip]]:
    """Return two channels: the whole pair centred, a nested one on the outer channel."""
    (first,), (second,) = parts_of(shape.first), parts_of(shape.second)
    at, other = pair_places(shape)
    return [moved(first, at), moved(second if shape.pairing is Pairing.NESTED else mirrored(second), other)]


@array_class
class Drawn:
    """A section's walls, and what to tell the reader about them.

    twisting: the same walls, joint by joint, as they take part in twist, where that is not how they bend: with seams that carry
    next to nothing, where parts joined at intervals twist each by itself; or with the holes filled, for twist runs round a hole.
    """

    graph: WallGraph
    twisting: WallGraph | None = None
    notes: tuple[str, ...] = ()


def drawn(shape: Shape) -> Drawn | None:
    """Return a shape's walls, measured from its reference point; None where it has no mid-line, or walls that don't touch."""
    match shape:
        case BoxedChannel() | FloorClosed() | Plated() | ChannelPair():
            return _built(shape)
        case Worn():
            return Drawn(worn_graph(shape))
        case Drilled():
            filled, fillets = joined(drilled(shape, parts_of(shape.base)), WELDED), _fillets(shape.base)
            return Drawn(assembled(opened(filled), fillets), assembled(filled, fillets), (DRILLED_NOTE,))
        case _:
            return Drawn(piece_graph(shape)) if isinstance(shape, ThinPiece) else None


def _built(shape: BoxedChannel | FloorClosed | Plated | ChannelPair) -> Drawn:
    """Return the walls of a built-up shape whose parts touch."""
    fillets = _fillets(shape)
    graph = assembled(built_strips(shape, WELDED), fillets)
    if not seamed(shape):
        return Drawn(graph)
    return Drawn(graph, assembled(built_strips(shape, LOOSE), fillets), (SEAMED_NOTE,))


def _fillets(base: Shape) -> float:
    """Return what the root fillets of an I, new or worn, add to the torsion constant, m4."""
    match base:
        case IShape():
            return 2 * junction_torsion(base)
        case Worn():
            return float(worn_graph(base).extra_torsion) if isinstance(base.base, IShape) else 0.0
        case Plated():
            return _fillets(base.base)
        case _:
            return 0.0
