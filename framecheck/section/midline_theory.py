"""Thin-wall theory on a graph of walls: inertias, torsion, warping, shear centre, shear areas, for many variants at once.

Sources: V. Z. Vlasov, Thin-walled elastic beams (2nd ed. 1961), for open walls; R. Bredt (1896) and Batho for cells;
von Karman and Christensen (1944) for the warping of cells; all from memory. Warping is u = omega x rate of twist, so
d(omega)/ds = flow / thickness - distance to the tangent.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.midline_walls import (
    LinearField,
    Topology,
    WallGraph,
    WallVectors,
    coordinate,
    integral,
    lines_of,
    mix,
    product,
    scaled,
    topology,
    total,
)
from framecheck.value_class import array_class

END_LOSS = 0.105  # of t4 per free end: half of 0.21 t4 of a narrow rectangle, b t3/3 (1 - 0.63 t/b); Roark table 10.1, from memory


@array_class
class ShearFlow:
    """Shear flow for a unit force, N/m, at start, middle and stop of each wall, (..., n_walls); positive along the wall.

    across: force that crosses the thickness per unit length of wall, (..., n_walls), at its start and stop.
    """

    start: Array
    middle: Array
    stop: Array
    across_start: Array
    across_stop: Array


@array_class
class Inertias:
    """Second moments about the centroid, (...,), m4: z2, y2 and y z."""

    vertical: Array
    sideways: Array
    product: Array


@array_class
class MidlineTwist:
    """How the section twists. flow: shear flow over thickness per rate of twist and shear modulus, (..., n_walls), m, zero in open
    walls; omega: warping per rate of twist about the shear centre, m2."""

    flow: Array
    torsion_constant: Array
    shear_centre: Array
    omega: LinearField
    warping_constant: Array


@array_class
class MidlineResults:
    """Mid-line properties of every variant, SI; scalars (...,), vectors (..., 2) as y, z.

    centroid: from the middle of the outline's box; twist.shear_centre: from the centroid. flows: for unit Vy, Vz and warping torque.
    lever: from where the flows of Vy and Vz act to the shear centre, (..., 2); zero but for parts joined at intervals.
    """

    graph: WallGraph
    lines: WallVectors
    area: Array
    centroid: Array
    inertias: Inertias
    twist: MidlineTwist
    flows: tuple[ShearFlow, ShearFlow, ShearFlow]
    shear_area_vertical: Array
    shear_area_sideways: Array
    lever: Array


def midline_variants(graph: WallGraph) -> MidlineResults:
    """Return the properties of every variant of a graph."""
    shape = topology(graph.ends)
    lines, centroid = lines_of(graph)
    y, z = coordinate(lines, 0), coordinate(lines, 1)
    inertias = Inertias(product(lines, z, z), product(lines, y, y), product(lines, y, z))
    twist = twisting(graph, lines, shape, inertias)
    per_ms, per_mv = bending_fields(y, z, inertias)
    vy, vz = shear_flow(lines, shape, graph, per_ms), shear_flow(lines, shape, graph, per_mv)
    return MidlineResults(
        graph=graph,
        lines=lines,
        area=total(lines.area),
        centroid=centroid,
        inertias=inertias,
        twist=twist,
        flows=(vy, vz, warping_flow(lines, shape, graph, twist)),
        shear_area_vertical=shear_area(lines, graph, vz),
        shear_area_sideways=shear_area(lines, graph, vy),
        lever=np.zeros_like(centroid),
    )


def twisting(graph: WallGraph, lines: WallVectors, shape: Topology, inertias: Inertias) -> MidlineTwist:
    """Return how each variant twists."""
    y, z = coordinate(lines, 0), coordinate(lines, 1)
    flow, j_cells = twist_flow(lines, shape)
    raw = sectorial(lines, shape, flow / lines.rigid)
    centre = shear_centre(product(lines, raw, y), product(lines, raw, z), inertias)
    omega = about_shear_centre(raw, centre, y, z)
    warping = _or_nothing(product(lines, omega, omega), total(lines.area))
    return MidlineTwist(flow, j_cells + open_torsion(graph, lines, shape), centre, omega, warping)


def warping_flow(lines: WallVectors, shape: Topology, graph: WallGraph, twist: MidlineTwist) -> ShearFlow:
    """Return the flow of a unit warping torque: what balances normal stress -omega / warping constant per unit length."""
    per = -1.0 / np.where(twist.warping_constant > 0.0, twist.warping_constant, np.inf)
    return shear_flow(lines, shape, graph, scaled(twist.omega, per))


def _or_nothing(warping: Array, area: Array) -> Array:
    """Return the warping constant, zero where only rounding (or a polygon in place of a circle) makes it: under 1e-5 area3."""
    return np.asarray(np.where(warping > 1e-5 * area * area * area, warping, 0.0))


def open_torsion(graph: WallGraph, lines: WallVectors, shape: Topology) -> Array:
    """Return the part of the torsion constant due to shear that varies across the thickness, sum of b t3/3, m4.

    Less the loss at free ends (END_LOSS), never more than both ends of a square would lose.
    """
    plain = lines.area * (lines.rigid / lines.young) * lines.thickness**2 / 3.0
    square = lines.thickness**2
    loss = square * square * (END_LOSS * np.sum(shape.free, axis=-1) * graph.solid) * lines.rigid
    return total(plain - np.minimum(loss, 0.63 * plain)) + graph.extra_torsion


def twist_flow(lines: WallVectors, shape: Topology) -> tuple[Array, Array]:
    """Return Bredt's flow over thickness per unit rate of twist and shear modulus, (..., n_walls), and the cells' torsion constant.

    Bredt-Batho: for every cell, sum over its walls of flow x length / thickness = twice its enclosed area.
    """
    if not len(shape.cells):
        return np.zeros_like(lines.length), np.zeros(lines.length.shape[:-1])
    twice_area = (_lever(lines) * lines.length) @ shape.cells.T
    circulation = solve_cells(lines, shape, twice_area)
    flow = circulation @ shape.cells
    return flow / lines.thickness, total(circulation * twice_area)


def solve_cells(lines: WallVectors, shape: Topology, sides: Array) -> Array:
    """Return the circulating flow of each cell, (..., n_cells), from the wanted sums of flow x length / thickness."""
    give = lines.length / (lines.thickness * lines.rigid)
    if len(shape.cells) == 1:
        return np.asarray(sides / (give @ (shape.cells**2).T))
    matrix = (shape.cells * give[..., None, :]) @ shape.cells.T
    return np.asarray(np.linalg.solve(matrix, sides[..., None])[..., 0])


def _lever(lines: WallVectors) -> Array:
    """Return each wall's distance from the centroid, (..., n_walls), positive where its flow turns right-handed about x."""
    return np.asarray(lines.y0 * lines.ez - lines.z0 * lines.ey)


def sectorial(lines: WallVectors, shape: Topology, slope: Array) -> LinearField:
    """Return warping per rate of twist about the centroid, m2, with no mean; slope is the cells' flow over thickness."""
    step = (slope - _lever(lines)) * lines.length
    node = step @ shape.path.T
    field = LinearField(
        np.take(node, shape.ends[:, 0], axis=-1),
        np.take(node, shape.ends[:, 1], axis=-1),
        lines.y0 * lines.ey + lines.z0 * lines.ez,
        lines.y1 * lines.ey + lines.z1 * lines.ez,
    )
    mean = (integral(lines, field) / total(lines.area))[..., None]
    return LinearField(field.start - mean, field.stop - mean, field.across_start, field.across_stop)


def shear_centre(omega_y: Array, omega_z: Array, i: Inertias) -> Array:
    """Return the shear centre from the centroid, (..., 2), m: where warping has no moment about y or z.

    Moving the pole to (ys, zs) adds ys z - zs y to omega; Vlasov (1961), ch. I, from memory. omega_y, omega_z: integrals of
    omega y and omega z about the centroid, m5.
    """
    determinant = i.vertical * i.sideways - i.product**2
    y = (omega_y * i.product - i.sideways * omega_z) / determinant
    z = (i.vertical * omega_y - i.product * omega_z) / determinant
    return np.stack([y, z], axis=-1)


def about_shear_centre(raw: LinearField, centre: Array, y: LinearField, z: LinearField) -> LinearField:
    """Return omega about the shear centre from omega about the centroid."""
    shift = mix(z, centre[..., 0], y, -centre[..., 1])
    return LinearField(
        raw.start + shift.start,
        raw.stop + shift.stop,
        raw.across_start + shift.across_start,
        raw.across_stop + shift.across_stop,
    )


def bending_fields(y: LinearField, z: LinearField, i: Inertias) -> tuple[LinearField, LinearField]:
    """Return normal stress per unit Ms and per unit Mv as fields (unsymmetric bending)."""
    determinant = i.vertical * i.sideways - i.product**2
    per_ms = mix(y, i.vertical / determinant, z, -i.product / determinant)
    per_mv = mix(z, i.sideways / determinant, y, -i.product / determinant)
    return per_ms, per_mv


def shear_flow(lines: WallVectors, shape: Topology, graph: WallGraph, field: LinearField) -> ShearFlow:
    """Return the flow that balances a normal stress growing by `field` per unit length.

    dq/ds = -t f along each wall, flows in balance at each node, no twist of any cell (sum of q ds / t = 0 round each).
    """
    weight = lines.thickness * graph.solid * lines.length * lines.young
    lost = 0.5 * weight * (field.start + field.stop)
    start = lost @ shape.feed.T
    if len(shape.cells):
        mean = start - weight * (2 * field.start + field.stop) / 6.0
        gap = (mean * lines.length / (lines.thickness * lines.rigid)) @ shape.cells.T
        start = start - solve_cells(lines, shape, gap) @ shape.cells
    across = lines.thickness * lines.thickness**2 * (graph.solid / 12.0) * lines.young
    middle = start - weight * (3 * field.start + field.stop) / 8.0
    return ShearFlow(start, middle, start - lost, across * field.across_start, across * field.across_stop)


def shear_area(lines: WallVectors, graph: WallGraph, flow: ShearFlow) -> Array:
    """Return the area that shears as much as the section under a unit force, m2: 1 / integral of q2/t.

    The flow is a parabola along each wall (Simpson's weights are exact for q, not q2: the product of parabolas is used);
    force across the thickness counts 6/5, as in a rectangle (Timoshenko, from memory).
    """
    a, m, b = flow.start, flow.middle, flow.stop
    square = (4 * a * a + 16 * m * m + 4 * b * b + 4 * a * m + 4 * m * b - 2 * a * b) / 30.0
    p, q = flow.across_start, flow.across_stop
    square = square + 1.2 * (p * p + p * q + q * q) / 3.0
    return 1.0 / total(graph.solid * square * lines.length / (lines.thickness * lines.rigid))


def raised(flow: ShearFlow, share: float) -> ShearFlow:
    """Return a flow carried by a share of its walls."""
    along = (flow.start / share, flow.middle / share, flow.stop / share)
    return ShearFlow(*along, flow.across_start / share, flow.across_stop / share)
