"""The mesh of a lap's shell model, and the springs by which the lap holds two beams to each other.

A wall is divided by lines that run along the tubes: at its corners, beside every spot, at the edges of the other tube's wall.

Both tubes run on as beams over the lap, tied at two places (the ends of what holds them; at one, where it is one). Each tie has six
springs midway between the tubes. Four numbers are sought, one after the other, until the four movements of the far end agree:
along, twist, and bending about y and z, where the springs across go with those about (a couple over half the distance).
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.shell_elements import Plates
from framecheck.frame.splice_tubes import Lap, Tube
from framecheck.frame.supports import carried
from framecheck.model.arrays import Array, IntArray
from framecheck.model.joining import LapSpot, tied_at
from framecheck.value_class import value_class

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


def on_spot(grid: Grid, spot: LapSpot, tube: Tube, aside: float) -> list[int]:
    """Return the numbers of a tube's nodes within a spot; aside: of the tube's middle line, m."""
    half = EVEN * spot.diameter * (1 + 1e-9)
    axis, side = spot.wall
    away = side * (tube.width if axis == 1 else tube.height) / 2 + (aside if axis == 1 else 0.0)
    near = 1e-6 * tube.wall
    here = (np.abs(grid.ring[:, axis - 1] - away) < near) & (np.abs(grid.ring[:, 2 - axis] - spot.aside) <= half)
    along = np.flatnonzero(np.abs(grid.x - spot.along) <= half)
    return [grid.number(int(i), int(j)) for i in along for j in np.flatnonzero(here)]


STIFFEST, SOFTEST = 1e3, 1e-5
"""Springs are sought between these multiples of the softer tube's own stiffness over half the lap."""
HALVINGS, SWEEPS = 60, 4
SHEAR = 5 / 6


@value_class
class Rigidity:
    """A tube as a beam: EA, N; GAy, GAz, N; GJ, EIy, EIz, Nm2."""

    along: float
    shear: tuple[float, float]
    twist: float
    bending: tuple[float, float]


def rigidity_of(tube: Tube) -> Rigidity:
    """Return a thin tube's rigidities by its middle lines; torsion by R. Bredt (1896), shear in its two walls."""
    h, b, t = tube.height, tube.width, tube.wall
    g = tube.e / (2 * (1 + tube.nu))
    upright, sideways = 2 * (t * h**3 / 12 + b * t * (h / 2) ** 2), 2 * (t * b**3 / 12 + h * t * (b / 2) ** 2)
    torsion = 4 * (h * b) ** 2 * t / (2 * (h + b))
    return Rigidity(
        along=2 * tube.e * t * (h + b),
        shear=(2 * SHEAR * g * t * b, 2 * SHEAR * g * t * h),
        twist=g * torsion,
        bending=(tube.e * upright, tube.e * sideways),
    )


def beam(of: Rigidity, length: float) -> Array:
    """Return a straight beam's stiffness (12, 12) between its ends, x along: Timoshenko's, by its flexibility at the far end."""
    flexible = np.diag([length / of.along, 0, 0, length / of.twist, length / of.bending[0], length / of.bending[1]])
    for move, turn, sign in ((1, 5, 1.0), (2, 4, -1.0)):
        bend = of.bending[0 if move == 2 else 1]
        flexible[move, move] = length**3 / (3 * bend) + length / of.shear[move - 1]
        flexible[move, turn] = flexible[turn, move] = sign * length**2 / (2 * bend)
    far = np.linalg.inv(flexible)
    relative = np.hstack((-carried(np.array([length, 0.0, 0.0])), np.eye(6)))
    return np.asarray(relative.T @ far @ relative)


def tie(aside: float, stiffness: Array) -> Array:
    """Return a tie's stiffness (12, 12) between two nodes that lie `aside` from each other; springs midway."""
    half = np.array([0.0, aside / 2, 0.0])
    rows = np.hstack((-carried(half), carried(-half)))
    return np.asarray(rows.T @ (stiffness[:, None] * rows))


def movements(lap: Lap, at: tuple[float, ...], stiffness: Array) -> Array:
    """Return the far end's movements (6,), each under a unit load of its own, both tubes as beams tied at places."""
    first, second = rigidity_of(lap.first), rigidity_of(lap.second)
    half, count = lap.length / 2, len(at)
    a = [-half - reach_of(lap.first), *at]
    b = [*at, half + reach_of(lap.second)]
    size = 6 * (2 * count + 2)
    matrix = np.zeros((size, size))

    def add(i: int, j: int, block: Array) -> None:
        rows = np.r_[6 * i : 6 * i + 6, 6 * j : 6 * j + 6]
        matrix[np.ix_(rows, rows)] += block

    for k in range(count):
        add(k, k + 1, beam(first, a[k + 1] - a[k]))
        add(count + 1 + k, count + 2 + k, beam(second, b[k + 1] - b[k]))
        add(k + 1, count + 1 + k, tie(lap.aside, stiffness))
    return np.asarray(np.diag(np.linalg.inv(matrix[6:, 6:])[-6:, -6:]))


def springs_of(lap: Lap, flexibility: Array, at: tuple[float, ...] = ()) -> list[float]:
    """Return the springs of each of a lap's ties: along x, y, z of the lap, N/m, and about them, Nm/rad.

    flexibility (6, 6): of its shell model's far end. at: where the ties are, m from the middle, (): at the ends of what holds.
    """
    at = at or tied_at(lap.length, lap.holds, lap.spots, lap.first.width > lap.second.width)
    apart = (at[-1] - at[0]) / 2 or lap.length / 2
    soft = [min(getattr(rigidity_of(tube), each) for tube in (lap.first, lap.second)) for each in ("along", "twist")]
    bends = [min(rigidity_of(tube).bending[n] for tube in (lap.first, lap.second)) for n in (0, 1)]
    unit = np.array([soft[0], bends[1] / apart**2, bends[0] / apart**2, soft[1], *bends]) / (lap.length / 2)
    groups = [((0,), 0), ((3,), 3), ((2, 4), 4), ((1, 5), 5)]
    if lap.aside:
        groups = [((3,), 3), ((2, 4), 4), ((0, 1, 5), 5)]
    scale = np.ones(6)
    for _ in range(SWEEPS):
        for members, moved in groups:
            scale[list(members)] = sought(lap, at, (unit, scale), members, (moved, float(flexibility[moved, moved])))
    return [float(each) for each in unit * scale]


def sought(
    lap: Lap, at: tuple[float, ...], now: tuple[Array, Array], members: tuple[int, ...], wanted: tuple[int, float]
) -> float:
    """Return the multiple of some springs at which one movement is as wanted; the more, the stiffer."""
    low, high = np.log(SOFTEST), np.log(STIFFEST)
    unit, scale = now[0], now[1].copy()
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        scale[list(members)] = np.exp(middle)
        softer = movements(lap, at, unit * scale)[wanted[0]] > wanted[1]
        low, high = (middle, high) if softer else (low, middle)
    return float(np.exp((low + high) / 2))
