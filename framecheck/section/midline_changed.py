"""Worn and drilled pieces as walls."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.shape_parts import united
from framecheck.model.shapes import ChannelPair, Drilled, Flat, Hole, IShape, RectTube, RoundTube, Side, Worn
from framecheck.section.midline_parts import NEAR, MidlineStrip
from framecheck.section.midline_shapes import (
    PIECES,
    closed_strip,
    flat_graph,
    i_graph,
    junction_torsion,
    mid_radius,
    open_strip,
    ring,
    tube_radius,
)
from framecheck.section.midline_walls import WallGraph
from framecheck.section.shape_geometry import BentSheet, box_of, mid_line
from framecheck.value_class import value_class

DRILLED_NOTE = "holes: stretching and bending on the net section; twist as undrilled; shear raised by what the drilled wall has lost"


@value_class
class Faces:
    """Where the worn outline box ends: low and high y, low and high z, m."""

    y: tuple[float, float]
    z: tuple[float, float]


def worn_graph(shape: Worn) -> WallGraph:
    """Return what rust leaves of a piece: each side's loss is taken from the outside of its outline box."""
    base = shape.base
    match base:
        case RoundTube():
            return ring(base.diameter - 2 * shape.top, base.wall - shape.top)
        case Flat():
            return _worn_flat(base, shape)
        case IShape():
            return _worn_i(base, shape)
        case RectTube():
            y, z = (base.width - base.wall) / 2, (base.height - base.wall) / 2
            path = np.array([(-y, -z), (y, -z), (y, z), (-y, z), (-y, -z)])
            corners, thickness = _worn_path(path, base.wall, _faces(base.width, base.height, shape))
            corners[0] = corners[-1] = [corners[-1, 0], corners[0, 1]]
            radius = tube_radius(np.array(base.outside_radius), np.array(base.wall))
            return closed_strip(corners[:-1], radius, thickness, np.full(4, _bend(base.wall, shape)), PIECES)
        case _:
            return _worn_sheet(base, shape)


def _worn_sheet(base: BentSheet, shape: Worn) -> WallGraph:
    """Return a worn bent sheet."""
    path = np.array(mid_line(base))
    width = box_of(base).width
    corners, thickness = _worn_path(path, base.wall, _faces(width, base.height, shape))
    radius = mid_radius(np.array(base.inside_radius), np.array(base.wall))
    return open_strip(corners, radius, thickness, np.full(len(thickness) - 1, _bend(base.wall, shape)), PIECES)


def _bend(wall: float, worn: Worn) -> float:
    """Return the mean thickness of a bend whose middle has lost most; the slabs that rust takes hardly touch it."""
    return wall - worn.bends / 2


def _faces(width: float, height: float, worn: Worn) -> Faces:
    """Return the worn outline box of a piece."""
    return Faces((-width / 2 + worn.right, width / 2 - worn.left), (-height / 2 + worn.bottom, height / 2 - worn.top))


def _worn_path(path: Array, wall: float, faces: Faces) -> tuple[Array, Array]:
    """Return corners and thickness of a path of level and upright walls, each cut back to the worn box from outside."""
    corners = path.copy()
    corners[:, 0] = np.clip(path[:, 0], *faces.y)
    corners[:, 1] = np.clip(path[:, 1], *faces.z)
    thickness = []
    for i in range(len(path) - 1):
        axis = 1 if path[i, 1] == path[i + 1, 1] else 0
        low, high = faces.z if axis else faces.y
        inner, outer = max(path[i, axis] - wall / 2, low), min(path[i, axis] + wall / 2, high)
        corners[i : i + 2, axis] = (inner + outer) / 2
        thickness.append(outer - inner)
    return corners, np.array(thickness)


def _worn_flat(base: Flat, worn: Worn) -> WallGraph:
    """Return a worn flat bar."""
    left = flat_graph(base.height - worn.top - worn.bottom, base.width - worn.left - worn.right)
    return replace(left, nodes=left.nodes + np.array([worn.right - worn.left, worn.bottom - worn.top]) / 2)


def _worn_i(base: IShape, worn: Worn) -> WallGraph:
    """Return a worn I: flanges thinner from outside; its root fillets stay whole, and lie on what is left of the flanges."""
    whole = i_graph(base)
    nodes, thickness, solid = whole.nodes.copy(), whole.thickness.copy(), whole.solid.copy()
    left = base.flange - worn.top, base.flange - worn.bottom
    nodes[[0, 1, 2], 1] -= worn.top / 2
    nodes[[5, 6, 7], 1] += worn.bottom / 2
    thickness[[0, 1]], thickness[[5, 6]] = left
    solid[[2, 4]] *= base.flange / np.array(left)
    fillets = np.array(sum(junction_torsion(replace(base, flange=flange)) for flange in left))
    return replace(whole, nodes=nodes, thickness=thickness, solid=solid, extra_torsion=fillets)


def drilled(shape: Drilled, parts: Sequence[Sequence[MidlineStrip]]) -> list[list[MidlineStrip]]:
    """Return the walls of the parts of a drilled shape with the pieces marked that holes take, each from the first wall met from its
    side and from what lies flat behind it.

    InputError where a hole meets no wall that lies across its way.
    """
    left = [list(part) for part in parts]
    for hole in united(shape.holes):
        within = hole.of or tuple(range(len(left)))
        whole = parts if isinstance(shape.base, ChannelPair) and not hole.of else [parts[within[0]]]
        placed = replace(hole, position=hole.position + _middle([strip for part in whole for strip in part], hole.side))
        hits = list(_through([(number, strip) for number in within for strip in _hit(left[number], placed)], hole.side))
        if not hits:
            fault = f"mid-line theory finds no flat wall for a hole in its {hole.side.value}"
            raise InputError([Fault("", "section", fault, "use the mesher: pip install --force-reinstall pythoncdt")])
        for number in {number for number, _ in hits}:
            gone = [strip for each, strip in hits if each == number]
            left[number] = [
                piece for strip in left[number] for piece in (_without(strip, placed) if strip in gone else (strip,))
            ]
    return left


def _middle(strips: Sequence[MidlineStrip], side: Side) -> float:
    """Return the middle of a side of the box of some walls, m."""
    axis = 0 if side in (Side.TOP, Side.BOTTOM) else 1
    reach = [
        at[axis] + sense * strip.thickness / 2 * abs(strip.stop[1 - axis] - strip.start[1 - axis]) / strip.length
        for strip in strips
        for at in (strip.start, strip.stop)
        for sense in (1, -1)
    ]
    return (max(reach) + min(reach)) / 2


def _through(hits: Sequence[tuple[int, MidlineStrip]], side: Side) -> Iterator[tuple[int, MidlineStrip]]:
    """Yield the outermost of walls that lie across a hole's way, the others of its part, and walls of others flat behind them."""
    axis = 1 if side in (Side.TOP, Side.BOTTOM) else 0
    sense = 1.0 if side in (Side.TOP, Side.LEFT) else -1.0
    level = None
    for number, strip in sorted(hits, key=lambda each: -sense * each[1].start[axis]):
        if level is None or number == level[0] or abs(strip.start[axis] - level[1]) < strip.thickness / 2 + level[2] + NEAR:
            level = (number, strip.start[axis], strip.thickness / 2)
            yield number, strip


def opened(strips: Sequence[MidlineStrip]) -> list[MidlineStrip]:
    """Return walls with what holes take weighing nothing."""
    return [replace(strip, solid=0.0) if strip.hole else strip for strip in strips]


def _hit(strips: Sequence[MidlineStrip], hole: Hole) -> list[MidlineStrip]:
    """Return the walls a hole goes through: the outermost straight one, or the outer half of a round tube."""
    axis = 0 if hole.side in (Side.TOP, Side.BOTTOM) else 1
    sense = 1.0 if hole.side in (Side.TOP, Side.LEFT) else -1.0
    whole = [strip for strip in strips if strip.solid and not strip.hole]
    round_tube = all(strip.bend for strip in whole)
    found = [strip for strip in whole if (round_tube or not strip.bend) and _across(strip, hole, axis)]
    if round_tube:
        return [strip for strip in found if sense * strip.at(strip.length / 2)[1 - axis] > 0]
    return sorted(found, key=lambda strip: sense * strip.start[1 - axis])[-1:]


def _across(strip: MidlineStrip, hole: Hole, axis: int) -> bool:
    """Return whether a wall lies across the hole's way (more along `axis` than not) and under it."""
    low, high = sorted((strip.start[axis], strip.stop[axis]))
    lies = high - low > abs(strip.stop[1 - axis] - strip.start[1 - axis])
    return lies and low < hole.position + hole.size / 2 and high > hole.position - hole.size / 2


def _without(strip: MidlineStrip, hole: Hole) -> Iterator[MidlineStrip]:
    """Yield a wall before the hole, the hole, and the wall behind it."""
    axis = 0 if hole.side in (Side.TOP, Side.BOTTOM) else 1
    start, stop = strip.start[axis], strip.stop[axis]
    edges = sorted(
        (at - start) / (stop - start) for at in (hole.position - hole.size / 2, hole.position + hole.size / 2)
    )
    low, high = (min(max(share, 0.0), 1.0) * strip.length for share in edges)
    if low > 0.0:
        yield replace(strip, stop=strip.at(low))
    yield replace(strip, start=strip.at(low), stop=strip.at(high), bend=True, hole=True)
    if high < strip.length:
        yield replace(strip, start=strip.at(high))
