"""One-piece shapes as graphs of walls along their mid-lines, measured from the middle of the outline box."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.shapes import Angle, Channel, Flat, Hat, IShape, RectTube, RoundBar, RoundTube, ZShape
from framecheck.section.midline_bends import PIECES, VARIANT_PIECES, closed_strip, open_strip, ring
from framecheck.section.midline_walls import WallGraph
from framecheck.section.paths import mid_line

ThinPiece = RectTube | Channel | Angle | Hat | ZShape | IShape | RoundTube | Flat | RoundBar


def piece_graph(shape: ThinPiece) -> WallGraph:
    """Return a piece as a graph with no leading axes."""
    match shape:
        case RectTube():
            return tube_graph(*_arrays(shape.height, shape.width, shape.wall, shape.outside_radius), PIECES)
        case Channel() | Angle() | Hat() | ZShape():
            return _sheet(np.array(mid_line(shape)), shape.wall, shape.inside_radius)
        case IShape():
            return i_graph(shape)
        case RoundTube():
            return ring(shape.diameter, shape.wall)
        case RoundBar():
            return ring(shape.diameter, shape.diameter / 2)
        case Flat():
            return flat_graph(shape.height, shape.width)


def _arrays(*values: float) -> tuple[Array, Array, Array, Array]:
    """Return four numbers as arrays without axes."""
    a, b, c, d = (np.array(value) for value in values)
    return a, b, c, d


def tube_graph(
    height: Array, width: Array, wall: Array, outside_radius: Array, pieces: int = VARIANT_PIECES
) -> WallGraph:
    """Return rectangular tubes, sizes (...,) in m.

    An outside radius under the wall leaves a sharp inside corner: the mid-line's radius is then taken so that the area is right.
    """
    y, z = (width - wall) / 2, (height - wall) / 2
    corners = np.stack([np.stack([s * y, c * z], axis=-1) for s, c in ((-1, -1), (1, -1), (1, 1), (-1, 1))], axis=-2)
    thickness = np.repeat(wall[..., None], 4, axis=-1)
    return closed_strip(corners, tube_radius(outside_radius, wall), thickness, thickness, pieces)


def tube_radius(outside_radius: Array, wall: Array) -> Array:
    """Return the mid-line's corner radius of a tube."""
    return np.asarray(np.where(outside_radius < wall, outside_radius**2 / (2 * wall), outside_radius - wall / 2))


def channel_graph(height: Array, flange: Array, wall: Array, inside_radius: Array) -> WallGraph:
    """Return channels without lips, drawn as the letter C, sizes (...,) in m."""
    tip, web, z = -flange / 2, (flange - wall) / 2, (height - wall) / 2
    corners = np.stack([np.stack(pair, axis=-1) for pair in ((tip, z), (web, z), (web, -z), (tip, -z))], axis=-2)
    thickness = np.repeat(wall[..., None], 3, axis=-1)
    return open_strip(corners, mid_radius(inside_radius, wall), thickness, thickness[..., :2], VARIANT_PIECES)


def lipped_graph(height: Array, flange: Array, wall: Array, inside_radius: Array, lip: Array) -> WallGraph:
    """Return channels with lips, drawn as the letter C, sizes (...,) in m."""
    edge, web, z = -(flange - wall) / 2, (flange - wall) / 2, (height - wall) / 2
    end = height / 2 - lip
    path = ((edge, end), (edge, z), (web, z), (web, -z), (edge, -z), (edge, -end))
    corners = np.stack([np.stack(pair, axis=-1) for pair in path], axis=-2)
    thickness = np.repeat(wall[..., None], 5, axis=-1)
    return open_strip(corners, mid_radius(inside_radius, wall), thickness, thickness[..., :4], VARIANT_PIECES)


def mid_radius(inside_radius: Array, wall: Array) -> Array:
    """Return the mid-line's bend radius; inside radius 0 means sharp inside and outside."""
    return np.asarray(np.where(inside_radius > 0.0, inside_radius + wall / 2, 0.0))


def _sheet(corners: Array, wall: float, inside_radius: float) -> WallGraph:
    """Return a sheet of even thickness bent along a path."""
    k = len(corners)
    radius = mid_radius(np.array(inside_radius), np.array(wall))
    return open_strip(corners, radius, np.full(k - 1, wall), np.full(k - 2, wall), PIECES)


def flat_graph(height: float, width: float) -> WallGraph:
    """Return a solid rectangle as one wall.

    Torsion: b t3 (1/3 - 0.21 t/b (1 - t4 / 12 b4)); Roark table 10.1, from memory. Its last term is the extra here.
    """
    b, t = max(height, width), min(height, width)
    half = np.array([0.0, height / 2] if height >= width else [width / 2, 0.0])
    extra = np.array(0.21 * t**8 / (12 * b**4))
    none = np.zeros(1)
    return WallGraph(np.stack([-half, half]), ((0, 1),), np.array([t]), np.ones(1), none, none > 0, extra)


def i_graph(shape: IShape) -> WallGraph:
    """Return an I: four half flanges and a web, whose ends inside the flanges weigh only what the root fillets do."""
    y, z, t = shape.width / 2, (shape.height - shape.flange) / 2, shape.web
    inside = z - shape.flange / 2
    nodes = np.array([(-y, z), (0, z), (y, z), (0, inside), (0, -inside), (0, -z), (-y, -z), (y, -z)], dtype=np.float64)
    ends = ((0, 1), (1, 2), (1, 3), (3, 4), (4, 5), (6, 5), (5, 7))
    f = shape.flange
    thickness = np.array([f, f, t, t, t, f, f])
    fillets = (2 - np.pi / 2) * shape.root_radius**2 / (t * f / 2)
    solid = np.array([1, 1, fillets, 1, fillets, 1, 1])
    hidden = np.array([False, False, True, False, True, False, False])
    return WallGraph(nodes, ends, thickness, solid, np.zeros(7), hidden, np.array(2 * junction_torsion(shape)))


def junction_torsion(shape: IShape) -> float:
    """Return what a junction of web and flange adds to the torsion constant, alpha D4, m4.

    El Darwish and Johnston (1965): D, the largest circle that fits in the junction, and alpha for a T; from memory.
    """
    t, f, r = shape.web, shape.flange, shape.root_radius
    circle = ((f + r) ** 2 + t * (r + t / 4)) / (2 * r + f)
    alpha = -0.042 + 0.2204 * t / f + 0.1355 * r / f - 0.0865 * t * r / f**2 - 0.0725 * (t / f) ** 2
    return float(alpha * circle**4)
