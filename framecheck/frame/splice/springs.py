"""The springs by which a lap holds two beams to each other, so that beams and springs together turn as its shell model does.

Both tubes run on as beams over the lap, tied at two places (the ends of what holds them; at one, where it is one). Each tie has six
springs midway between the tubes. Four numbers are sought, one after the other, until the four movements of the far end agree:
along, twist, and bending about y and z, where the springs across go with those about (a couple over half the distance).
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.links import carried
from framecheck.frame.splice.data import Lap, Tube
from framecheck.frame.splice.mesh import reach_of
from framecheck.model.arrays import Array
from framecheck.model.splices import tied_at
from framecheck.value_class import value_class

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
