"""A thin-walled section as a graph: points joined by straight walls along their mid-lines.

The graph is the same for every variant of a shape, so all that depends on it alone (paths, cells, which wall feeds which) is
worked out once, as small matrices of -1, 0 and 1.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.value_class import array_class

Ends = tuple[tuple[int, int], ...]


@array_class
class WallGraph:
    """Walls between nodes; any leading axes (...) are variants of the same graph.

    nodes: (..., n_nodes, 2) y, z from the middle of the outline's box, m. ends: first and last node of each wall.
    thickness: (..., n_walls), m.
    solid: (n_walls,) or (..., n_walls), 1 for material, 0 for a link that only carries shear flow (a weld, or the part of a wall
    that lies inside its neighbour), a little over 1 for the chord of an arc.
    curvature: (..., n_walls) of a wall that stands for a piece of an arc, 1/m, positive turning left; 0 where straight.
    bend: (n_walls,) True for such pieces, and for links. extra_torsion: (...,) added to the torsion constant for fillets, m4.
    part: (n_walls,) the number of the part that each is of, the piece that was there first being 0; young, rigid: (n_walls,) Young's
    and shear modulus over those that the whole is referred to. None: one part, one metal.
    """

    nodes: Array
    ends: Ends
    thickness: Array
    solid: Array
    curvature: Array
    bend: BoolArray
    extra_torsion: Array
    part: IntArray | None = None
    young: Array | None = None
    rigid: Array | None = None


ALIKE = frozen(np.ones(1))
"""Moduli over those of the whole where there is one metal."""


def stacked(graphs: Sequence[WallGraph]) -> WallGraph:
    """Return single graphs with the same ends as variants of one, (n,)."""
    columns = zip(*((g.nodes, g.thickness, g.solid, g.curvature, g.extra_torsion) for g in graphs), strict=True)
    nodes, thickness, solid, curvature, extra = (np.stack(column) for column in columns)
    return WallGraph(nodes, graphs[0].ends, thickness, solid, curvature, graphs[0].bend, extra)


@array_class
class Topology:
    """What follows from the ends of the walls alone. Read-only arrays.

    ends: (n_walls, 2), first and last node.
    path: (n_nodes, n_walls), the walls walked from the first node to each, -1 where walked backward.
    cells: (n_cells, n_walls), the walls walked round each cell.
    feed: (n_walls, n_walls), flow at the start of each wall for a unit flow lost along each, with every cell cut open.
    free: (n_walls, 2), True where a wall's start or end is joined to nothing.
    """

    ends: IntArray
    path: Array
    cells: Array
    feed: Array
    free: BoolArray


@cache
def topology(ends: Ends) -> Topology:
    """Return the topology of a connected graph."""
    n_walls, n_nodes = len(ends), max(max(pair) for pair in ends) + 1
    path = np.zeros((n_nodes, n_walls))
    tree = set()
    for wall, near, far, sense in _spanning_tree(ends):
        path[far] = path[near]
        path[far, wall] = sense
        tree.add(wall)
    if len(tree) != n_nodes - 1:
        raise ValueError("the walls do not hang together")
    arrives = np.zeros((n_nodes, n_walls))
    arrives[[last for _, last in ends], range(n_walls)] = 1.0
    loops = [_loop(path, wall, ends[wall]) for wall in range(n_walls) if wall not in tree]
    cells = np.array(loops) if loops else np.zeros((0, n_walls))
    pairs = np.array(ends, dtype=np.int64)
    count = np.bincount(pairs.ravel(), minlength=n_nodes)
    return Topology(pairs, frozen(path), frozen(cells), frozen(path.T @ arrives), count[pairs] == 1)


def hangs_together(ends: Ends) -> bool:
    """Return whether every wall can be reached from every other."""
    return len(list(_spanning_tree(ends))) == max(max(pair) for pair in ends)


def _loop(path: Array, wall: int, ends: tuple[int, int]) -> Array:
    """Return the cell closed by a wall that is not in the tree: along it, then back through the tree."""
    loop: Array = path[ends[0]] - path[ends[1]]
    loop[wall] += 1.0
    return loop


def _spanning_tree(ends: Ends) -> Iterator[tuple[int, int, int, int]]:
    """Yield (wall, near node, far node, +1 forward or -1 backward), breadth first from node 0."""
    reached, queue = {0}, [0]
    while queue:
        near = queue.pop(0)
        for wall, (first, last) in enumerate(ends):
            if near not in (first, last):
                continue
            far = last if near == first else first
            if far not in reached:
                reached.add(far)
                queue.append(far)
                yield wall, near, far, 1 if near == first else -1


@array_class
class WallVectors:
    """The walls as vectors about the centroid, components apart for speed. All (..., n_walls), m.

    y0, z0 to y1, z1: start and stop; ey, ez: unit vector along, zero for a wall of no length. area: of material, m2, of the
    transformed section where metals differ (times young); young, rigid: as in WallGraph.
    """

    y0: Array
    z0: Array
    y1: Array
    z1: Array
    ey: Array
    ez: Array
    length: Array
    thickness: Array
    area: Array
    young: Array
    rigid: Array


@array_class
class LinearField:
    """A quantity that runs linearly along each wall and across its thickness. All (..., n_walls).

    start, stop: on the mid-line; across_start, across_stop: gradient along the wall's normal (z of along, -y of along).
    """

    start: Array
    stop: Array
    across_start: Array
    across_stop: Array


def lines_of(graph: WallGraph) -> tuple[WallVectors, Array]:
    """Return the walls about their centroid, and the centroid in the graph's own coordinates, (..., 2)."""
    ends = np.array(graph.ends)
    y, z = np.ascontiguousarray(graph.nodes[..., 0]), np.ascontiguousarray(graph.nodes[..., 1])
    y0, y1, z0, z1 = (np.take(each, ends[:, i], axis=-1) for each in (y, z) for i in (0, 1))
    dy, dz = y1 - y0, z1 - z0
    length = np.sqrt(dy * dy + dz * dz)
    young, rigid = (ALIKE if each is None else each for each in (graph.young, graph.rigid))
    area = length * graph.thickness * graph.solid * young
    whole = total(area)
    cy, cz = 0.5 * total(area * (y0 + y1)) / whole, 0.5 * total(area * (z0 + z1)) / whole
    per = 1.0 / np.where(length > 0.0, length, 1.0)
    about_y, about_z = cy[..., None], cz[..., None]
    thickness = np.ascontiguousarray(graph.thickness)
    places = (y0 - about_y, z0 - about_z, y1 - about_y, z1 - about_z)
    lines = WallVectors(*places, dy * per, dz * per, length, thickness, area, young, rigid)
    return lines, np.stack([cy, cz], axis=-1)


def total(values: Array) -> Array:
    """Return the sum over the last axis, (...,): as a matrix product, several times faster than a sum over a short axis."""
    return np.asarray(values @ np.ones(values.shape[-1]))


def coordinate(lines: WallVectors, axis: int) -> LinearField:
    """Return y (axis 0) or z (axis 1) as a field on the walls."""
    if axis == 0:
        return LinearField(lines.y0, lines.y1, lines.ez, lines.ez)
    across = -lines.ey
    return LinearField(lines.z0, lines.z1, across, across)


def mix(first: LinearField, a: Array, second: LinearField, b: Array) -> LinearField:
    """Return a x first + b x second; a, b (...,)."""
    a, b = a[..., None], b[..., None]
    across_start = a * first.across_start + b * second.across_start
    even = first.across_start is first.across_stop and second.across_start is second.across_stop
    across_stop = across_start if even else a * first.across_stop + b * second.across_stop
    return LinearField(a * first.start + b * second.start, a * first.stop + b * second.stop, across_start, across_stop)


def scaled(field: LinearField, by: Array) -> LinearField:
    """Return a field times (...,)."""
    by = by[..., None]
    return LinearField(by * field.start, by * field.stop, by * field.across_start, by * field.across_stop)


def integral(lines: WallVectors, field: LinearField) -> Array:
    """Return the integral of a field over the material, (...,)."""
    return 0.5 * total(lines.area * (field.start + field.stop))


def product(lines: WallVectors, f: LinearField, g: LinearField) -> Array:
    """Return the integral of f g over the material, (...,): exact for linear fields, the wall's own thickness included."""
    return total(lines.area * (_mean_product(f.start, f.stop, g.start, g.stop) + across_thickness(lines, f, g)))


def across_thickness(lines: WallVectors, f: LinearField, g: LinearField) -> Array:
    """Return the mean along each wall of what f and g make together across its thickness, (..., n_walls)."""
    t = lines.thickness
    return t * t / 12.0 * _mean_product(f.across_start, f.across_stop, g.across_start, g.across_stop)


def _mean_product(f0: Array, f1: Array, g0: Array, g1: Array) -> Array:
    """Return the mean of f g where both run linearly: (2 f0 g0 + 2 f1 g1 + f0 g1 + f1 g0) / 6."""
    return (f0 * (2.0 * g0 + g1) + f1 * (g0 + 2.0 * g1)) / 6.0
