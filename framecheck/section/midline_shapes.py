"""One-piece shapes by mid-line theory: graphs of walls of bent sheets and other shapes; round tubes and bars by closed forms."""

from __future__ import annotations

from math import pi, sin

import numpy as np

from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.frame import Section
from framecheck.model.shapes import Angle, Channel, Flat, Hat, IShape, RectTube, RoundBar, RoundTube, ZShape
from framecheck.section.midline_walls import WallGraph
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.section.shape_geometry import mid_line

PIECES = 4
"""Straight pieces that stand for a bend of a quarter turn; variants by the thousand take VARIANT_PIECES."""
VARIANT_PIECES = 2
RING = 64
"""Straight pieces that stand for a round tube."""


def open_strip(corners: Array, radius: Array, thickness: Array, bend_thickness: Array, pieces: int) -> WallGraph:
    """Return a sheet bent along a path of right-angled corners. corners: (..., k, 2); radius: of the mid-line at bends, (...,);
    thickness: (..., k - 1) of each straight; bend_thickness: (..., k - 2)."""
    arcs = _arcs(corners[..., :-2, :], corners[..., 1:-1, :], corners[..., 2:, :], radius, pieces)
    nodes = np.concatenate([corners[..., :1, :], _in_line(arcs), corners[..., -1:, :]], axis=-2)
    pieces = arcs.shape[-2] - 1
    n_walls = nodes.shape[-2] - 1
    bend = np.array(([False] + [True] * pieces) * (corners.shape[-2] - 2) + [False])
    walls = _alternating(thickness[..., 1:], bend_thickness, pieces)
    thick = np.concatenate([thickness[..., :1], _bend_first(walls, pieces)], axis=-1)
    turn = _turns(corners[..., :-2, :], corners[..., 1:-1, :], corners[..., 2:, :])
    curved = np.concatenate([np.zeros_like(thick[..., :1]), _curvature(turn, radius, pieces)], axis=-1)
    ends = tuple((i, i + 1) for i in range(n_walls))
    return _graph(nodes, ends, thick, curved, bend, pieces)


def closed_strip(corners: Array, radius: Array, thickness: Array, bend_thickness: Array, pieces: int) -> WallGraph:
    """Return a tube with right-angled corners. corners: (..., k, 2) in order; thickness: (..., k), each of the straight that
    follows its corner; bend_thickness: (..., k)."""
    before, after = np.roll(corners, 1, axis=-2), np.roll(corners, -1, axis=-2)
    arcs = _arcs(before, corners, after, radius, pieces)
    nodes = _in_line(arcs)
    pieces, n_walls = arcs.shape[-2] - 1, nodes.shape[-2]
    thick = _bend_first(_alternating(thickness, bend_thickness, pieces), pieces)
    curved = _curvature(_turns(before, corners, after), radius, pieces)
    bend = np.array(([True] * pieces + [False]) * corners.shape[-2])
    ends = tuple((i, (i + 1) % n_walls) for i in range(n_walls))
    return _graph(nodes, ends, thick, curved, bend, pieces)


def _graph(
    nodes: Array, ends: tuple[tuple[int, int], ...], thickness: Array, curvature: Array, bend: BoolArray, pieces: int
) -> WallGraph:
    """Return a graph of solid walls; a chord weighs as much as its arc."""
    half = pi / 4 / max(pieces, 1)
    solid = np.where(bend, half / sin(half), 1.0)
    return WallGraph(nodes, ends, thickness, solid, curvature, bend, np.zeros(nodes.shape[:-2]))


def _arcs(before: Array, corner: Array, after: Array, radius: Array, pieces: int) -> Array:
    """Return points along the arc at each corner, (..., k, pieces + 1, 2); just the corner where every radius is zero."""
    u, v = _unit(corner - before), _unit(after - corner)
    steps = np.linspace(0.0, pi / 2, pieces + 1 if np.any(radius > 0.0) else 1)
    outward = radius[..., None, None, None] * (np.sin(steps) - 1.0)[:, None]
    inward = radius[..., None, None, None] * (1.0 - np.cos(steps))[:, None]
    return np.asarray(corner[..., None, :] + outward * u[..., None, :] + inward * v[..., None, :])


def _unit(step: Array) -> Array:
    """Return directions, (..., 2)."""
    return np.asarray(step / np.sqrt(np.sum(step**2, axis=-1))[..., None])


def _turns(before: Array, corner: Array, after: Array) -> Array:
    """Return +1 where the path turns left at a corner (from y to z), -1 right, (..., k)."""
    u, v = corner - before, after - corner
    return np.asarray(np.sign(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]))


def _in_line(arcs: Array) -> Array:
    """Return the points of all arcs in one row, (..., k x points, 2)."""
    return arcs.reshape(*arcs.shape[:-3], -1, 2)


def _alternating(straight: Array, bent: Array, pieces: int) -> Array:
    """Return (..., k, pieces + 1): for each corner the values of its bend's pieces, then of the straight after it."""
    return np.concatenate([np.repeat(bent[..., None], pieces, axis=-1), straight[..., None]], axis=-1)


def _bend_first(walls: Array, pieces: int) -> Array:
    """Return (..., k x (pieces + 1))."""
    return walls.reshape(*walls.shape[:-2], walls.shape[-2] * (pieces + 1))


def _curvature(turn: Array, radius: Array, pieces: int) -> Array:
    """Return the curvature of each wall, (..., k x (pieces + 1)), zero for straights and where the radius is zero."""
    bent = turn * np.where(radius > 0.0, 1.0 / np.where(radius > 0.0, radius, 1.0), 0.0)[..., None]
    return _bend_first(_alternating(np.zeros_like(bent), bent, pieces), pieces)


def ring(diameter: float, wall: float) -> WallGraph:
    """Return a round tube; wall of half the diameter: a solid bar. The polygon is as long as the mid-line circle.

    Its torsion constant is that of a thick ring, pi/2 (outer radius4 - inner radius4) = 2 pi R t (R2 + t2/4), not R2 + t2/3.
    """
    radius = (diameter - wall) / 2
    angle = 2 * pi * np.arange(RING) / RING
    nodes = radius * (pi / RING) / sin(pi / RING) * np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    ends = tuple((i, (i + 1) % RING) for i in range(RING))
    shape, bend = np.ones(RING), np.ones(RING, dtype=np.bool_)
    extra = np.array(-2 * pi * radius * wall**3 / 12)
    return WallGraph(nodes, ends, wall * shape, shape, shape / radius, bend, extra)


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


ROUND = 48
"""Points round each surface."""


def round_properties(section: Section, shape: RoundTube | RoundBar) -> SectionProperties:
    """Return a round tube or bar. Area, inertia, torsion: mechanics texts; it does not warp."""
    outer = shape.diameter / 2
    inner = outer - shape.wall if isinstance(shape, RoundTube) else 0.0
    area, inertia = pi * (outer**2 - inner**2), pi / 4 * (outer**4 - inner**4)
    shear_area, plastic = area * shear_coefficient(inner / outer), 4 / 3 * (outer**3 - inner**3)
    material = section.material
    return SectionProperties(
        name=section.name,
        area=area,
        mass_per_length=area * material.density,
        centroid=(0.0, 0.0),
        i_vertical=inertia,
        i_sideways=inertia,
        i_product=0.0,
        torsion_constant=2 * inertia,
        warping_constant=0.0,
        shear_centre=(0.0, 0.0),
        shear_area_vertical=shear_area,
        shear_area_sideways=shear_area,
        plastic_modulus_vertical=plastic,
        plastic_modulus_sideways=plastic,
        box=(-outer, outer, -outer, outer),
        closed=inner > 0.0,
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=material.yield_strength,
        engine="mid-line",
        fields=round_fields(outer, inner),
    )


def shear_coefficient(m: float) -> float:
    """Return shear area over area of a round tube, m: inside over outside radius.

    G. R. Cowper, The shear coefficient in Timoshenko's beam theory (1966), with no Poisson's ratio; from memory.
    """
    square = (1 + m**2) ** 2
    return 6 * square / (7 * square + 20 * m**2)


def round_fields(outer: float, inner: float) -> UnitFields:
    """Return unit stress on the outside, and on the inside of a tube.

    Shear force: VQ/Ib along the surface, alike across the wall; at the axis 4 V/3 A (ro2 + ro ri + ri2)/(ro2 + ri2) (mechanics texts).
    """
    radii = (outer, inner) if inner > 0.0 else (outer,)
    angle = np.tile(2 * pi * np.arange(ROUND) / ROUND, len(radii))
    radius = np.repeat(radii, ROUND)
    area, inertia = pi * (outer**2 - inner**2), pi / 4 * (outer**4 - inner**4)
    y, z = radius * np.cos(angle), radius * np.sin(angle)
    none = np.zeros_like(y)
    normal = np.stack([np.full_like(y, 1 / area), z / inertia, y / inertia, none], axis=-1)
    most = 4 / (3 * area) * (outer**2 + outer * inner + inner**2) / (outer**2 + inner**2)
    along: Array = np.stack([-most * np.sin(angle), most * np.cos(angle), radius / (2 * inertia), none], axis=-1)
    tangent = np.stack([-np.sin(angle), np.cos(angle)], axis=-1)
    sharp = np.zeros(len(y), dtype=np.bool_)
    return UnitFields(
        frozen(np.stack([y, z], axis=-1)), frozen(normal), frozen(tangent[..., None] * along[:, None, :]), sharp
    )
