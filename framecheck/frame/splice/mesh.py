"""The shell model of a lap: both tubes as flat walls along their middle lines, on grids whose counts no size changes.

A wall is divided by lines that run along the tubes: at its corners, beside every spot, at the edges of the other tube's wall.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.quad import Plates
from framecheck.frame.splice.data import Lap, Tube
from framecheck.model.arrays import Array, IntArray
from framecheck.model.splices import Spot

REACH = 3.0
"""Lengths of tube kept beyond the lap, in the larger size of the tube: the outline, pulled out of shape, has regained it."""
ACROSS, BESIDE, WITHIN = (
    8,
    3,
    2,
)  # elements across a plain wall; between its corner and a spot or between spots; across a spot
LAP, BETWEEN, BEYOND = 24, 6, 12  # elements along a lap without spots; along between spots and ends; along the reach
EVEN = 8**-0.5
"""Half the side of the square within a circle, in its diameter: what a plug or bolt holds is taken no larger than it is."""


class Grid(NamedTuple):
    """A tube's nodes: x (a,) along; ring (b, 2) of (y, z) round it; start: first node's number. closed: a tube, else a flat plate."""

    x: Array
    ring: Array
    start: int
    closed: bool = True

    @property
    def nodes(self) -> int:
        """Return the number of nodes."""
        return len(self.x) * len(self.ring)

    def number(self, along: int, round_it: int) -> int:
        """Return a node's number."""
        return self.start + along * len(self.ring) + round_it % len(self.ring)


def marks(ends: tuple[float, float], spots: list[tuple[float, float]], plain: int, between: int) -> Array:
    """Return grid lines from one end to another; spots: (middle, half side) of each, which get lines at both their sides."""
    if not spots:
        return np.linspace(*ends, plain + 1)
    stops = sorted({(middle, half) for middle, half in spots})
    places, counts = [ends[0]], []
    for middle, half in stops:
        places += [middle - half, middle + half]
        counts += [between, WITHIN]
    lines = [
        np.linspace(low, high, count + 1)[:-1]
        for (low, high), count in zip(pairwise([*places, ends[1]]), [*counts, between], strict=True)
    ]
    return np.concatenate((*lines, [ends[1]]))


def along_lines(lap: Lap) -> Array:
    """Return the grid lines along the lap."""
    spots = [(each.along, EVEN * each.diameter) for each in lap.spots]
    return marks((-lap.length / 2, lap.length / 2), spots, LAP, BETWEEN)


def inset_of(lap: Lap) -> float:
    """Return by how much the lower of two tubes side by side lies within the higher one's wall, m."""
    return 0.0 if lap.in_each_other else abs(lap.first.height - lap.second.height) / 2


def wall_lines(lap: Lap, tube: Tube, axis: int, stepped: bool) -> Array:
    """Return the grid lines across the two walls of a tube that look along an axis (1: y, 2: z).

    stepped: the higher of two tubes side by side has lines where the lower one's edges lie, at least a wall from its own corners.
    """
    half = (tube.height if axis == 1 else tube.width) / 2
    spots = [(each.aside, EVEN * each.diameter) for each in lap.spots if each.wall[0] == axis]
    if not (stepped and axis == 1 and tube.height > min(lap.first.height, lap.second.height)):
        return marks((-half, half), spots, ACROSS, BESIDE)
    edge = half - max(inset_of(lap), tube.wall)
    inner = marks((-edge, edge), spots, ACROSS, BESIDE)
    outside = np.linspace(edge, half, BESIDE + 1)[1:]
    return np.concatenate((-outside[::-1], inner, outside))


def ring_of(lap: Lap, tube: Tube, stepped: bool) -> Array:
    """Return the points (b, 2) round a tube."""
    return ring_from(tube, wall_lines(lap, tube, 1, stepped), wall_lines(lap, tube, 2, stepped))


def ring_from(tube: Tube, upright: Array, level: Array) -> Array:
    """Return the points (b, 2) round a tube: up its left wall, over the top to the right, down, and back along the bottom.

    upright, level: grid lines across its walls that stand and that lie.
    """
    y, z = tube.width / 2, tube.height / 2
    up, over = upright[:-1], level[:0:-1]
    sides = (
        np.stack((np.full(len(up), y), up), -1),
        np.stack((over, np.full(len(over), z)), -1),
        np.stack((np.full(len(up), -y), upright[:0:-1]), -1),
        np.stack((level[:-1], np.full(len(over), -z)), -1),
    )
    return np.concatenate(sides)


def reach_of(tube: Tube) -> float:
    """Return the length of a tube that is kept beyond the lap, m."""
    return REACH * max(tube.height, tube.width)


def grids_of(lap: Lap, stepped: bool = False) -> tuple[Grid, Grid]:
    """Return the grids of both tubes."""
    inside = along_lines(lap)
    growing = (np.linspace(0.0, 1.0, BEYOND + 1) ** 1.5)[1:]
    before = inside[0] - reach_of(lap.first) * growing[::-1]
    beyond = inside[-1] + reach_of(lap.second) * growing
    first = Grid(np.concatenate((before, inside)), ring_of(lap, lap.first, stepped), 0)
    ring = ring_of(lap, lap.second, stepped) + np.array([lap.aside, 0.0])
    return first, Grid(np.concatenate((inside, beyond)), ring, first.nodes)


def nodes_of(grid: Grid) -> Array:
    """Return the places (n, 3) of a grid's nodes, m."""
    found = np.empty((len(grid.x), len(grid.ring), 3))
    found[:, :, 0], found[:, :, 1:] = grid.x[:, None], grid.ring[None]
    return found.reshape(-1, 3)


def corners_of(grid: Grid) -> IntArray:
    """Return the corners (m, 4) of a grid's rectangles: (0, 0), (p, 0), (0, q), (p, q), p along."""
    number = grid.start + np.arange(grid.nodes).reshape(len(grid.x), -1)
    closed = np.concatenate((number, number[:, :1]), axis=1) if grid.closed else number
    return np.stack((closed[:-1, :-1], closed[1:, :-1], closed[:-1, 1:], closed[1:, 1:]), axis=-1).reshape(-1, 4)


def plates_of(grid: Grid, tube: Tube) -> Plates:
    """Return the rectangles of a grid, in the order of their corners."""
    places = nodes_of(grid)[corners_of(grid) - grid.start]
    return Plates(places, *(np.full(len(places), value) for value in (tube.wall, tube.e, tube.nu)))


def on_spot(grid: Grid, spot: Spot, tube: Tube, aside: float) -> list[int]:
    """Return the numbers of a tube's nodes within a spot; aside: of the tube's middle line, m."""
    half = EVEN * spot.diameter * (1 + 1e-9)
    axis, side = spot.wall
    away = side * (tube.width if axis == 1 else tube.height) / 2 + (aside if axis == 1 else 0.0)
    near = 1e-6 * tube.wall
    here = (np.abs(grid.ring[:, axis - 1] - away) < near) & (np.abs(grid.ring[:, 2 - axis] - spot.aside) <= half)
    along = np.flatnonzero(np.abs(grid.x - spot.along) <= half)
    return [grid.number(int(i), int(j)) for i in along for j in np.flatnonzero(here)]
