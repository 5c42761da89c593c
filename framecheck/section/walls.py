"""The flat walls of a shape, for local buckling: where they lie, how wide the flat is, what holds their edges. SI."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from framecheck.model.frame import Cut, Section
from framecheck.model.joining import BoltRow, ContinuousWeld, Joining
from framecheck.model.shape_parts import part_count
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    BuiltUp,
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
from framecheck.section.properties import Wall, numbers_of
from framecheck.section.shape_geometry import BentSheet, Point, as_new, box_of, channel_in, mid_line, pair_places


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


def _built_up_walls(shape: BuiltUp) -> tuple[Wall, ...]:
    """Return the walls of each part; a tip that carries a plate is held by it where it is welded, else at its stitches or bolts."""
    match shape:
        case BoxedChannel():
            return (*_held(walls_of(shape.channel), shape.joined), *_of_part(1, [_boxing_wall(shape)]))
        case FloorClosed():
            return (*_held(walls_of(shape.base), shape.joined), *_of_part(1, _floor_walls(shape)))
        case Plated():
            plates = (_of_part(i, _plate_walls(shape, plate)) for i, plate in enumerate(shape.plates, part_count(shape.base)))
            return (*walls_of(shape.base), *(wall for each in plates for wall in each))
        case Sleeve():
            return (*walls_of(shape.outer), *_of_part(1, walls_of(shape.core)))
        case ChannelPair():
            return _pair_walls(shape)


def _of_part(number: int, walls: Iterable[Wall]) -> Iterator[Wall]:
    """Yield walls of a part, which hold its number until the section's metals are known (`in_metals`)."""
    return (replace(wall, metal=number) for wall in walls)


def _held(walls: Iterable[Wall], joining: Joining) -> Iterator[Wall]:
    """Yield walls whose free edges are held all along by a weld, or at stitches or bolts and free between them."""
    for wall in walls:
        if isinstance(joining, ContinuousWeld):
            yield replace(wall, free_start=False, free_end=False)
        else:
            yield replace(wall, tip_gap=joining.gap) if wall.free_start or wall.free_end else wall


def _gap(joining: Joining) -> float:
    """Return the clear length between the stitches or bolts of a sheet; 0 where it is welded all along."""
    return 0.0 if isinstance(joining, ContinuousWeld) else joining.gap


def _boxing_wall(shape: BoxedChannel) -> Wall:
    """Return the plate of a boxed channel between its welds."""
    channel, tips = channel_in(shape.channel), box_of(shape.channel).y[0]
    inset = -shape.plate if shape.inset is None else shape.inset
    y, half = tips + inset + shape.plate / 2, channel.height / 2 - channel.wall / 2
    return Wall((y, -half), (y, half), channel.height - 2 * channel.wall, shape.plate, gap=_gap(shape.joined))


def _floor_walls(shape: FloorClosed) -> Iterator[Wall]:
    """Yield the sheet between its seams, and what of it reaches beyond them, free."""
    base, box, gap, beyond = as_new(shape.base), box_of(shape.base), _gap(shape.joined), shape.overhang
    if isinstance(base, Channel):
        y, half = box.y[0] - shape.sheet / 2, base.height / 2 - base.wall / 2
        yield Wall((y, -half), (y, half), base.height - 2 * base.wall, shape.sheet, gap=gap)
        ends = [((y, side * base.height / 2), (y, side * (base.height / 2 + beyond))) for side in (1, -1)]
    else:
        assert isinstance(base, Hat)
        z, half = box.z[0] - shape.sheet / 2, base.crown / 2 + base.brim / 2
        yield Wall((-half, z), (half, z), 2 * half, shape.sheet, gap=gap)
        edge = base.crown / 2 + base.brim
        root = half if isinstance(shape.joined, BoltRow) else edge
        beyond += edge - root
        ends = [((side * root, z), (side * (root + beyond), z)) for side in (1, -1)]
    if beyond > 0:
        yield from (Wall(start, end, beyond, shape.sheet, False, True, gap=gap) for start, end in ends)


def _plate_walls(shape: Plated, plate: Plate) -> Iterator[Wall]:
    """Yield a plate: held along both edges by its welds, or along its middle by one row of bolts, both halves free."""
    box = box_of(shape.base)
    level = {Side.TOP: box.z[1], Side.BOTTOM: box.z[0], Side.LEFT: box.y[1], Side.RIGHT: box.y[0]}[plate.side]
    level += (plate.thickness if plate.side in (Side.TOP, Side.LEFT) else -plate.thickness) / 2
    low, middle, high = plate.offset - plate.width / 2, plate.offset, plate.offset + plate.width / 2

    def wall(start: float, end: float, free: bool) -> Wall:
        upright = plate.side in (Side.LEFT, Side.RIGHT)
        ends = [(level, each) if upright else (each, level) for each in (start, end)]
        return Wall(ends[0], ends[1], abs(end - start), plate.thickness, False, free, gap=_gap(shape.joined))

    if isinstance(shape.joined, BoltRow):
        yield from (wall(middle, edge, True) for edge in (low, high))
    else:
        yield wall(low, high, False)


def _pair_walls(shape: ChannelPair) -> tuple[Wall, ...]:
    """Return the walls of two channels where they stand."""
    first, second = walls_of(shape.first), walls_of(shape.second)
    at, other = pair_places(shape)
    if shape.pairing is Pairing.TOE_TO_TOE:
        first, second = tuple(_held(first, shape.joined)), tuple(_held(second, shape.joined))
    if shape.pairing is not Pairing.NESTED:
        second = tuple(map(_mirrored, second))
    return *(_moved(wall, at) for wall in first), *_of_part(1, (_moved(wall, other) for wall in second))


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


def in_metals(section: Section, walls: Iterable[Wall]) -> tuple[Wall, ...]:
    """Return walls that hold the number of their part with the number of their metal in its place."""
    found = tuple(walls)
    numbers = numbers_of(section, np.array([wall.metal for wall in found], dtype=np.int64)).tolist()
    return tuple(
        wall if wall.metal == number else replace(wall, metal=number)
        for wall, number in zip(found, numbers, strict=True)
    )


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
