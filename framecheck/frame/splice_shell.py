"""How the shell model of a lap gives under loads at its far end; the same of two tubes end to end under fish plates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from framecheck.frame.joint.shell_elements import Plates, stiffness
from framecheck.frame.splice_springs import (
    ACROSS,
    BESIDE,
    BEYOND,
    Grid,
    corners_of,
    grids_of,
    inset_of,
    nodes_of,
    on_spot,
    plates_of,
    reach_of,
    ring_from,
    springs_of,
)
from framecheck.frame.splice_tubes import Butt, Lap, PlateOn, Tube
from framecheck.frame.supports import carried
from framecheck.model.arrays import Array, IntArray
from framecheck.model.joining import LapHold, LapSpot


class Ties(NamedTuple):
    """What moves together: bodies, each the nodes of one rigid body; pairs of nodes that move alike across the tubes."""

    bodies: list[list[int]]
    alike: list[tuple[int, int]]


def lap_ties(lap: Lap, grids: tuple[Grid, Grid]) -> Ties:
    """Return what holds the tubes together, and the two rigid plates at the far ends first."""
    first, second = grids
    ring = range(len(first.ring))
    plates = [
        [first.number(0, k) for k in ring],
        [second.number(len(second.x) - 1, k) for k in range(len(second.ring))],
    ]
    spots = [
        on_spot(first, each, lap.first, 0.0) + on_spot(second, facing(lap, each), lap.second, lap.aside)
        for each in lap.spots
    ]
    found = {*edge_pairs(lap, grids), *end_pairs(lap, grids), *mouth_pairs(lap, grids)}
    tied = {node for pair in found for node in pair}
    alike = [pair for pair in bearing_pairs(lap, grids) if not tied.intersection(pair)]
    return Ties([*plates, *spots, *([a, b] for a, b in sorted(found))], alike)


def facing(lap: Lap, spot: LapSpot) -> LapSpot:
    """Return a spot as the second tube has it: side by side, the wall that faces the first."""
    return spot if lap.in_each_other else replace(spot, wall=(spot.wall[0], -spot.wall[1]))


def corner_numbers(grid: Grid) -> list[int]:
    """Return the places in the ring of its corners."""
    y, z = np.abs(grid.ring - grid.ring.mean(axis=0)).T
    corner = (y > y.max() * (1 - 1e-9)) & (z > z.max() * (1 - 1e-9))
    return [int(k) for k in np.flatnonzero(corner)]


def shared(grids: tuple[Grid, Grid]) -> list[tuple[int, int]]:
    """Return the grid lines along that both tubes have in the lap, as numbers in each."""
    first, second = grids
    count = int(np.searchsorted(second.x, first.x[-1] + 1e-12, side="right"))
    return [(len(first.x) - count + k, k) for k in range(count)]


def opposite(lap: Lap, grids: tuple[Grid, Grid]) -> list[tuple[int, int]]:
    """Return the places in the rings of nodes of both facing walls that lie opposite each other, from the bottom up."""
    toward = np.sign(lap.aside)
    middles = (0.0, lap.aside)
    sides = (toward, -toward)
    tubes = (lap.first, lap.second)
    walls = []
    for grid, middle, side, tube in zip(grids, middles, sides, tubes, strict=True):
        on = np.flatnonzero(np.abs(grid.ring[:, 0] - middle - side * tube.width / 2) < 1e-6 * tube.wall)
        walls.append(on[np.argsort(grid.ring[on, 1])])
    spare = [
        (len(wall) - min(map(len, walls))) // 2 for wall in walls
    ]  # lines of the higher wall beyond the lower one's edges
    kept = [wall[out : len(wall) - out] for wall, out in zip(walls, spare, strict=True)]
    return [(int(a), int(b)) for a, b in zip(*kept, strict=True)]


def edge_pairs(lap: Lap, grids: tuple[Grid, Grid]) -> list[tuple[int, int]]:
    """Return the nodes joined by welds along the edges where the tubes touch."""
    if LapHold.EDGES not in lap.holds:
        return []
    lines = opposite(lap, grids)
    return [(grids[0].number(i, a), grids[1].number(j, b)) for i, j in shared(grids) for a, b in (lines[0], lines[-1])]


def end_pairs(lap: Lap, grids: tuple[Grid, Grid]) -> list[tuple[int, int]]:
    """Return the nodes joined by welds across the ends of the facing walls."""
    if LapHold.ENDS not in lap.holds:
        return []
    ends = (shared(grids)[0], shared(grids)[-1])
    return [(grids[0].number(i, a), grids[1].number(j, b)) for i, j in ends for a, b in opposite(lap, grids)]


def mouth_pairs(lap: Lap, grids: tuple[Grid, Grid]) -> list[tuple[int, int]]:
    """Return the nodes joined by a weld all round the mouth of the outer tube."""
    if LapHold.MOUTH not in lap.holds:
        return []
    i, j = shared(grids)[-1 if lap.first.width > lap.second.width else 0]
    return [(grids[0].number(i, k), grids[1].number(j, k)) for k in range(len(grids[0].ring))]


def bearing_pairs(lap: Lap, grids: tuple[Grid, Grid]) -> list[tuple[int, int]]:
    """Return the corners that press on each other where a tube ends in or on the other."""
    if LapHold.BEARING not in lap.holds:
        return []
    ends = (shared(grids)[0], shared(grids)[-1])
    corners = list(zip(corner_numbers(grids[0]), corner_numbers(grids[1]), strict=True))
    return [(grids[0].number(i, a), grids[1].number(j, b)) for i, j in ends for a, b in corners]


class Follow:
    """Entries of the matrix by which all freedoms follow the free ones, as they are found."""

    def __init__(self) -> None:
        self.rows: list[IntArray] = []
        self.columns: list[IntArray] = []
        self.values: list[Array] = []

    def add(self, rows: IntArray, columns: IntArray, values: Array) -> None:
        """Add entries."""
        self.rows.append(rows)
        self.columns.append(columns)
        self.values.append(values)

    def matrix(self, size: tuple[int, int]) -> Any:
        """Return the sparse matrix."""
        from scipy.sparse import coo_array

        places = np.concatenate(self.rows), np.concatenate(self.columns)
        return coo_array((np.concatenate(self.values), places), shape=size).tocsc()


def followers(nodes: Array, ties: Ties) -> Any:
    """Return (6 n, k) by which all freedoms follow k free ones; those of the bodies come first, six each, about their middles."""
    found, free = Follow(), np.ones(6 * len(nodes), dtype=bool)
    for number, body in enumerate(ties.bodies):
        middle = nodes[body].mean(axis=0)
        for node in body:
            block = carried(nodes[node] - middle)
            i, j = np.nonzero(block)
            found.add(6 * node + i, 6 * number + j, block[i, j])
            free[6 * node : 6 * node + 6] = False
    alike = np.array([(6 * a + way, 6 * b + way) for a, b in ties.alike for way in (1, 2)], dtype=np.int64).reshape(
        -1, 2
    )
    free[alike[:, 1]] = False
    own = np.full(len(free), -1)
    own[free] = 6 * len(ties.bodies) + np.arange(int(free.sum()))
    found.add(np.flatnonzero(free), own[free], np.ones(int(free.sum())))
    found.add(alike[:, 1], own[alike[:, 0]], np.ones(len(alike)))
    return found.matrix((len(free), 6 * len(ties.bodies) + int(free.sum())))


def assembled(corners: Array, elements: Array, count: int) -> Any:
    """Return the sparse stiffness (6 n, 6 n) of elements (m, 24, 24) at corners (m, 4)."""
    from scipy.sparse import coo_array

    freedoms = (6 * corners[:, :, None] + np.arange(6)).reshape(-1, 24)
    rows = np.broadcast_to(freedoms[:, :, None], elements.shape).ravel()
    columns = np.broadcast_to(freedoms[:, None, :], elements.shape).ravel()
    return coo_array((elements.ravel(), (rows, columns)), shape=(6 * count, 6 * count)).tocsc()


def lap_flexibility(lap: Lap) -> Array:
    """Return the far plate's movements (6, 6) under unit loads on it, at its middle, the near plate held: m, rad by N, Nm.

    Tubes side by side of nearly one height: between edges on corners and edges a wall within, so that a hair changes a hair.
    """
    share = min(inset_of(lap) / max(lap.first.wall, lap.second.wall), 1.0)
    level = meshed(lap, False) if share < 1.0 else np.zeros((6, 6))
    return level if share == 0.0 else np.asarray((1.0 - share) * level + share * meshed(lap, True))


def meshed(lap: Lap, stepped: bool) -> Array:
    """Return the flexibility of one mesh of the lap; stepped: see `wall_lines`."""
    grids = grids_of(lap, stepped)
    return solved(grids, (lap.first, lap.second), lap_ties(lap, grids))


def solved(grids: Sequence[Grid], tubes: Sequence[Tube], ties: Ties) -> Array:
    """Return the movements (6, 6) of the second body of `ties` under unit loads on it, the first body held. tubes: of each grid."""
    from scipy.sparse.linalg import splu

    nodes = np.concatenate([nodes_of(grid) for grid in grids])
    corners = np.concatenate([corners_of(grid) for grid in grids])
    plates = [plates_of(grid, tube) for grid, tube in zip(grids, tubes, strict=True)]
    elements = stiffness(Plates(*(np.concatenate(parts) for parts in zip(*plates, strict=True))))
    follow = followers(nodes, ties)
    whole = (follow.T @ assembled(corners, elements, len(nodes)) @ follow).tocsc()[6:, 6:]
    loads = np.eye(whole.shape[0], 6)
    factors = splu(whole, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    return np.asarray(factors.solve(loads)[:6])


HALF = 10  # elements along half a plate, finer toward the butt
SHORT = 1.0
"""Plate thicknesses by which the welds along a plate's edges stop short of the butt (common practice, no source)."""


def springs(butt: Butt) -> list[float]:
    """Return the springs between the two ends: along x, y, z, N/m, and about them, Nm/rad."""
    return springs_of(Lap(butt.first, butt.second, length_of(butt), 0.0), butt_flexibility(butt), (0.0,))


def length_of(butt: Butt) -> float:
    """Return the length over which the tubes are meshed about the butt, m: of the plates; without any as wide as the tube."""
    return max((plate.length for plate in butt.plates), default=2 * butt.first.width)


def butt_flexibility(butt: Butt) -> Array:
    """Return the far end's movements (6, 6) under unit loads on it, the near one held: m, rad by N, Nm."""
    grids = butt_grids(butt)
    tubes = [butt.first, butt.second, *(Tube(p.height, p.height, p.thickness, p.e, p.nu) for p in butt.plates)]
    return solved(grids, tubes, butt_ties(butt, grids))


def edge_of(butt: Butt, plate: PlateOn) -> float:
    """Return how far a plate's edge lies from the middle of its wall, m: at least a wall within the tube's corner."""
    half = min((t.height if plate.wall[0] == 1 else t.width) / 2 - t.wall for t in (butt.first, butt.second))
    return min(plate.height / 2, half)


def lines(butt: Butt, tube: Tube, axis: int) -> Array:
    """Return the grid lines across the walls of a tube that look along an axis, with lines at a plate's edges."""
    half = (tube.height if axis == 1 else tube.width) / 2
    edges = [edge_of(butt, plate) for plate in butt.plates if plate.wall[0] == axis]
    if not edges:
        return np.linspace(-half, half, ACROSS + 1)
    inner, outer = np.linspace(-edges[0], edges[0], ACROSS + 1), np.linspace(edges[0], half, BESIDE + 1)[1:]
    return np.concatenate((-outer[::-1], inner, outer))


def butt_grids(butt: Butt) -> list[Grid]:
    """Return the grids of both tubes and of every plate; x from the butt."""
    half = length_of(butt) / 2
    short = min([SHORT * plate.thickness for plate in butt.plates] or [butt.first.wall])
    near = np.concatenate(([0.0], short + (half - short) * np.linspace(0.0, 1.0, HALF) ** 1.5))
    far = half + reach_of(butt.first) * (np.linspace(0.0, 1.0, BEYOND + 1) ** 1.5)[1:]
    whole = np.concatenate((near, far))
    rings = [ring_from(tube, lines(butt, tube, 1), lines(butt, tube, 2)) for tube in (butt.first, butt.second)]
    grids = [Grid(-whole[::-1], rings[0], 0)]
    grids.append(Grid(whole, rings[1], grids[0].nodes))
    for plate in butt.plates:
        axis, side = plate.wall
        across = np.linspace(-edge_of(butt, plate), edge_of(butt, plate), ACROSS + 1)
        away = side * ((butt.first.width if axis == 1 else butt.first.height) + butt.first.wall + plate.thickness) / 2
        ring = np.stack((np.full(len(across), away), across) if axis == 1 else (across, np.full(len(across), away)), -1)
        grids.append(Grid(np.concatenate((-near[:0:-1], near)), ring, grids[-1].start + grids[-1].nodes, closed=False))
    return grids


def under(grid: Grid, plate: PlateOn, ring: Array) -> list[int]:
    """Return the places in a tube's ring that lie under the points of a plate's ring."""
    axis, side = plate.wall
    along, off = grid.ring[:, 2 - axis], side * grid.ring[:, axis - 1]
    face = np.flatnonzero(off > off.max() * (1 - 1e-9))
    return [int(face[np.argmin(np.abs(along[face] - point))]) for point in ring[:, 2 - axis]]


def butt_ties(butt: Butt, grids: list[Grid]) -> Ties:
    """Return what holds the parts together, and the two rigid plates at the far ends first."""
    first, second = grids[:2]
    bodies = [
        [first.number(0, k) for k in range(len(first.ring))],
        [second.number(len(second.x) - 1, k) for k in range(len(second.ring))],
    ]
    butted = (
        [[first.number(len(first.x) - 1, k), second.number(0, k)] for k in range(len(first.ring))]
        if butt.welded
        else []
    )
    for plate, grid in zip(butt.plates, grids[2:], strict=True):
        for tube, on, at in (
            (first, range(HALF), len(first.x) - HALF - 1),
            (second, range(HALF + 1, 2 * HALF + 1), -HALF),
        ):
            below = under(tube, plate, grid.ring)
            for i in on:
                ends = range(len(below)) if i in (0, 2 * HALF) else (0, len(below) - 1)
                bodies += [[grid.number(i, k), tube.number(i + at, below[k])] for k in ends]
    return Ties([*bodies, *butted], [])
