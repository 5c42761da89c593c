"""The shell model of two tubes that meet end to end under fish plates: welded along edges and ends, to both tubes."""

from __future__ import annotations

import numpy as np

from framecheck.frame.splice.data import Butt, Lap, PlateOn, Tube
from framecheck.frame.splice.mesh import ACROSS, BESIDE, BEYOND, Grid, reach_of, ring_from
from framecheck.frame.splice.shell import Ties, solved
from framecheck.frame.splice.springs import springs_of
from framecheck.model.arrays import Array

HALF = 10  # elements along half a plate, finer toward the butt
SHORT = 1.0
"""Plate thicknesses by which the welds along a plate's edges stop short of the butt (common practice, no source)."""


def springs(butt: Butt) -> list[float]:
    """Return the springs between the two ends: along x, y, z, N/m, and about them, Nm/rad."""
    return springs_of(Lap(butt.first, butt.second, length_of(butt), 0.0), flexibility(butt), (0.0,))


def length_of(butt: Butt) -> float:
    """Return the length over which the tubes are meshed about the butt, m: of the plates; without any as wide as the tube."""
    return max((plate.length for plate in butt.plates), default=2 * butt.first.width)


def flexibility(butt: Butt) -> Array:
    """Return the far end's movements (6, 6) under unit loads on it, the near one held: m, rad by N, Nm."""
    grids = grids_of(butt)
    tubes = [butt.first, butt.second, *(Tube(p.height, p.height, p.thickness, p.e, p.nu) for p in butt.plates)]
    return solved(grids, tubes, ties_of(butt, grids))


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


def grids_of(butt: Butt) -> list[Grid]:
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


def ties_of(butt: Butt, grids: list[Grid]) -> Ties:
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
