"""The flat walls of a shape, for local buckling: where they lie, how wide the flat is, what holds their edges. SI."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from framecheck.model.frame import Cut
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    Hat,
    IShape,
    Pairing,
    Plate,
    Plated,
    RectTube,
    Shape,
    Side,
    Sleeve,
    Worn,
    ZShape,
)
from framecheck.section.paths import BentSheet, Point, mid_line
from framecheck.section.properties import Wall


def walls_of(shape: Shape) -> tuple[Wall, ...]:
    """Return the walls of a shape, measured from its reference point; none where it has no flat wall."""
    match shape:
        case RectTube():
            return _tube_walls(shape)
        case Channel() | Angle() | Hat() | ZShape():
            return _sheet_walls(shape)
        case IShape():
            return _i_walls(shape)
        case Flat():
            return _flat_walls(shape)
        case BoxedChannel() | FloorClosed() | Plated() | Sleeve() | ChannelPair():
            return _built_up_walls(shape)
        case Worn():
            return tuple(_thinned(wall, shape) for wall in walls_of(shape.base))
        case Drilled():
            return walls_of(shape.base)
        case _:
            return ()


def _tube_walls(shape: RectTube) -> tuple[Wall, ...]:
    """Return the four walls; flat width: between the corners' arcs, or between the faces of sharp ones."""
    y, z = shape.width / 2 - shape.wall / 2, shape.height / 2 - shape.wall / 2
    arc = max(shape.outside_radius, shape.wall)
    wide, high = shape.width - 2 * arc, shape.height - 2 * arc
    corners = ((-y, -z), (y, -z), (y, z), (-y, z))
    widths = (wide, high, wide, high)
    ends = zip(corners, (*corners[1:], corners[0]), widths, strict=True)
    return tuple(Wall(start, end, width, shape.wall) for start, end, width in ends)


def _sheet_walls(shape: BentSheet) -> tuple[Wall, ...]:
    """Return the walls of a bent sheet along its mid-line; its two tips are free."""
    path = mid_line(shape)
    last = len(path) - 2
    return tuple(
        Wall(start, end, _flat(shape, start, end, (i > 0) + (i < last)), shape.wall, i == 0, i == last)
        for i, (start, end) in enumerate(pairwise(path))
    )


def _flat(shape: BentSheet, start: Point, end: Point, bends: int) -> float:
    """Return a wall's flat width: its mid-line length less the arc at each bend."""
    length = abs(end[0] - start[0]) + abs(end[1] - start[1])
    return length - bends * (shape.inside_radius + shape.wall / 2)


def _i_walls(shape: IShape) -> tuple[Wall, ...]:
    """Return web and four half flanges."""
    z = shape.height / 2 - shape.flange / 2
    clear = shape.height - 2 * shape.flange - 2 * shape.root_radius
    outstand = (shape.width - shape.web) / 2 - shape.root_radius
    half = shape.width / 2
    web = Wall((0.0, -z), (0.0, z), clear, shape.web)
    halves = (
        Wall((0.0, level), (tip, level), outstand, shape.flange, False, True)
        for level in (z, -z)
        for tip in (half, -half)
    )
    return (web, *halves)


def _flat_walls(shape: Flat) -> tuple[Wall, ...]:
    """Return a flat bar as one wall free on both edges."""
    if shape.height >= shape.width:
        return (Wall((0.0, -shape.height / 2), (0.0, shape.height / 2), shape.height, shape.width, True, True),)
    return (Wall((-shape.width / 2, 0.0), (shape.width / 2, 0.0), shape.width, shape.height, True, True),)


def _built_up_walls(shape: BoxedChannel | FloorClosed | Plated | Sleeve | ChannelPair) -> tuple[Wall, ...]:
    """Return the walls of each part; a tip that carries a plate is held by it."""
    match shape:
        case BoxedChannel():
            return (*_held(_sheet_walls(shape.channel)), _boxing_wall(shape))
        case FloorClosed():
            return (*_held(_sheet_walls(shape.base)), _floor_wall(shape))
        case Plated():
            return (*walls_of(shape.base), *(_plate_wall(shape, plate) for plate in shape.plates))
        case Sleeve():
            return (*walls_of(shape.outer), *walls_of(shape.core))
        case ChannelPair():
            return _pair_walls(shape)


def _held(walls: tuple[Wall, ...]) -> Iterator[Wall]:
    """Yield walls with every edge held."""
    return (replace(wall, free_start=False, free_end=False) for wall in walls)


def _boxing_wall(shape: BoxedChannel) -> Wall:
    """Return the plate of a boxed channel between its welds."""
    channel = shape.channel
    tips = -channel.flange / 2
    inset = -shape.plate if shape.inset is None else shape.inset
    y, half = tips + inset + shape.plate / 2, channel.height / 2 - channel.wall / 2
    return Wall((y, -half), (y, half), channel.height - 2 * channel.wall, shape.plate)


def _floor_wall(shape: FloorClosed) -> Wall:
    """Return the sheet between its seams."""
    base = shape.base
    if isinstance(base, Channel):
        y, half = -base.flange / 2 - shape.sheet / 2, base.height / 2 - base.wall / 2
        return Wall((y, -half), (y, half), base.height - 2 * base.wall, shape.sheet)
    z, half = -base.height / 2 - shape.sheet / 2, base.crown / 2 + base.brim / 2
    return Wall((-half, z), (half, z), 2 * half, shape.sheet)


def _plate_wall(shape: Plated, plate: Plate) -> Wall:
    """Return a plate held along both edges by its welds."""
    low, high = plate.offset - plate.width / 2, plate.offset + plate.width / 2
    y, z = _half_sizes(shape.base)
    out = plate.thickness / 2
    match plate.side:
        case Side.TOP:
            return Wall((low, z + out), (high, z + out), plate.width, plate.thickness)
        case Side.BOTTOM:
            return Wall((low, -z - out), (high, -z - out), plate.width, plate.thickness)
        case Side.LEFT:
            return Wall((y + out, low), (y + out, high), plate.width, plate.thickness)
        case Side.RIGHT:
            return Wall((-y - out, low), (-y - out, high), plate.width, plate.thickness)


def _half_sizes(base: RectTube | Channel | Hat | IShape | ZShape | Angle | Flat) -> Point:
    """Return half the width and half the height of a piece's outline box."""
    match base:
        case Channel():
            return base.flange / 2, base.height / 2
        case Hat():
            return base.crown / 2 + base.brim, base.height / 2
        case ZShape():
            return base.flange - base.wall / 2, base.height / 2
        case _:
            return base.width / 2, base.height / 2


def _pair_walls(shape: ChannelPair) -> tuple[Wall, ...]:
    """Return the walls of two channels where they stand."""
    first, second = shape.first, shape.second
    a, b = _sheet_walls(first), _sheet_walls(second)
    match shape.pairing:
        case Pairing.NESTED:
            return (*a, *(_moved(w, first.flange / 2 - first.wall - second.flange / 2) for w in b))
        case Pairing.BACK_TO_BACK:
            middle = (second.flange - first.flange) / 2
            return (
                *(_moved(w, -first.flange / 2 - middle) for w in a),
                *(_moved(_mirrored(w), second.flange / 2 - middle) for w in b),
            )
        case Pairing.TOE_TO_TOE:
            middle = (first.flange - second.flange) / 2
            return (
                *(_moved(w, first.flange / 2 - middle) for w in _held(a)),
                *(_moved(_mirrored(w), -second.flange / 2 - middle) for w in _held(b)),
            )


def _moved(wall: Wall, y: float, z: float = 0.0) -> Wall:
    """Return a wall moved by (y, z)."""
    return replace(wall, start=(wall.start[0] + y, wall.start[1] + z), end=(wall.end[0] + y, wall.end[1] + z))


def _mirrored(wall: Wall) -> Wall:
    """Return a wall mirrored left to right."""
    return replace(wall, start=(-wall.start[0], wall.start[1]), end=(-wall.end[0], wall.end[1]))


def _thinned(wall: Wall, worn: Worn) -> Wall:
    """Return a wall less the rust on its side of the section."""
    y, z = (wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2
    if wall.start[1] == wall.end[1]:
        return replace(wall, thickness=wall.thickness - (worn.top if z > 0 else worn.bottom))
    return replace(wall, thickness=wall.thickness - (worn.left if y > 0 else worn.right))


def from_centroid(walls: Iterable[Wall], centroid: Point) -> tuple[Wall, ...]:
    """Return walls measured from the centroid."""
    return tuple(_moved(wall, -centroid[0], -centroid[1]) for wall in walls)


def cut_walls(walls: Iterable[Wall], cut: Cut, half_sizes: tuple[float, float, float, float]) -> tuple[Wall, ...]:
    """Return what a notch leaves of walls; half_sizes: how far the outline reaches left, right, up, down, m."""
    left, right, top, bottom = half_sizes
    axis, level, sign = {
        Side.TOP: (1, top - cut.depth, 1.0),
        Side.BOTTOM: (1, cut.depth - bottom, -1.0),
        Side.LEFT: (0, left - cut.depth, 1.0),
        Side.RIGHT: (0, cut.depth - right, -1.0),
    }[cut.side]
    return tuple(left_of for wall in walls for left_of in _below(wall, axis, level, sign))


def _below(wall: Wall, axis: int, level: float, sign: float) -> Iterator[Wall]:
    """Yield what is left of a wall on the inner side of a level; its new edge is free."""
    start, end = (sign * (wall.start[axis] - level), sign * (wall.end[axis] - level))
    if start <= 0 and end <= 0:
        yield wall
        return
    if start >= 0 and end >= 0:
        return
    share = start / (start - end)
    at = tuple(a + share * (b - a) for a, b in zip(wall.start, wall.end, strict=True))
    gone = (start if start > 0 else end) / abs(end - start)
    length = abs(wall.end[axis] - wall.start[axis])
    width = max(wall.width - gone * length + (length - wall.width) / 2, 0.0)
    if start > 0:
        yield replace(wall, start=(at[0], at[1]), width=width, free_start=True)
    else:
        yield replace(wall, end=(at[0], at[1]), width=width, free_end=True)
