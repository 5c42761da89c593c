"""A leg of a kink, held by its rigid plate and by the mirror between both legs: how the plate answers, and every node with it. SI.

The mirror holds other freedoms under even loads than under odd ones, but in its own plane alone. So the leg is factored once up to
that plane, from the plate on, and what it leaves there is solved as even and as odd.
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.joint.shell import freedoms_of, held_by_mirror, lower_band, resisted_by
from framecheck.frame.joint.shell_elements import stiffness
from framecheck.frame.kink_mesh import LegMesh
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

EVEN, ODD = np.array([0, 4, 5]), np.array([1, 2, 3])
"""The plate's freedoms that load the leg evenly and oddly about the mirror; the others only move it as a whole."""


@array_class
class KinkPlateAnswer:
    """even, odd (3, 3): movements of the plate in its EVEN and ODD freedoms under unit loads on them, about the origin.

    even_moves, odd_moves (n_node, 6, 3): those of the leg's nodes (an inner plate's left out), in the order of the mesh.
    """

    even: Array
    odd: Array
    even_moves: Array
    odd_moves: Array


def numbers_of(leg: LegMesh) -> IntArray:
    """Return a number for each node: ring by ring from the plate to the mitre, within a ring from one side to the other, so that
    neighbours are never far; an inner plate's last, as they are.
    """
    rows, around = leg.ring.shape
    half = np.arange(around) < around // 2
    rank = np.where(half, 2 * np.arange(around), 2 * (around - np.arange(around)) - 1)
    rings = (around * np.arange(rows)[::-1, None] + rank).ravel()
    return np.concatenate((rings, np.arange(leg.ring.size, len(leg.places))))


def plate_modes(places: Array) -> Array:
    """Return the freedoms (6 n, 6) of the nodes at these places (n, 3) under the rigid plate's six about the origin."""
    x, y, z = places.T
    moves = np.tile(np.eye(6), (len(places), 1, 1))
    moves[:, 0, 4], moves[:, 0, 5], moves[:, 1, 3] = z, -y, -z
    moves[:, 1, 5], moves[:, 2, 3], moves[:, 2, 4] = x, y, -x
    return moves.reshape(-1, 6)


def _entries(band: Array, rows: IntArray, columns: IntArray) -> Array:
    """Return the entries (rows, columns) of a matrix's lower half from its band, zero above it."""
    depth = rows[:, None] - columns
    within = (depth >= 0) & (depth < len(band))
    return np.where(within, band[np.where(within, depth, 0), columns], 0.0)


def _of_inner_plate(leg: LegMesh, number: IntArray, first: int) -> Array:
    """Return the stiffness of the mitre's plane, its freedoms from number `first` on, of an inner plate alone."""
    count = 6 * len(leg.places) - first
    if len(leg.plates) == 1:
        return np.zeros((count, count))
    begun = len(leg.plates[0].wall)
    own = freedoms_of(number[leg.corners[begun:]]) - first
    elements = stiffness(leg.plates[1]) * leg.share[begun:, None, None]
    place = own[:, :, None] * count + own[:, None, :]
    total: Array = np.bincount(place.ravel(), elements.ravel(), count * count).astype(np.float64, copy=False)
    return total.reshape(count, count)


def _held_in_mirror(stiff: Array, pushed: Array) -> Array:
    """Return the freedoms (m, 6) of the mitre's plane under the push (m, 6) of the plate's six; stiff (m, m)."""
    moved: Array = np.zeros_like(pushed)
    for columns, even in ((EVEN, 1), (ODD, -1)):
        free = np.flatnonzero(np.tile(~np.isin(range(6), held_by_mirror(0, even)), len(stiff) // 6))
        own: Array = stiff[np.ix_(free, free)]
        moved[np.ix_(free, columns)] = np.linalg.solve(own, pushed[free][:, columns])
    return moved


def plate_answer(leg: LegMesh) -> KinkPlateAnswer:
    """Return how a leg's plate, and each node with it, answers to unit loads on the plate."""
    from scipy.linalg import cho_solve_banded, cholesky_banded

    number, (rows, around) = numbers_of(leg), leg.ring.shape
    elements = stiffness(leg.plates[0])
    freedoms = freedoms_of(number[leg.corners[: len(elements)]])
    plate, mitre, last = 6 * around, 6 * around * (rows - 1), 6 * leg.ring.size
    modes = np.zeros((last, 6))
    modes[:plate] = plate_modes(leg.places[np.argsort(number)[:around]])
    push = resisted_by(elements, freedoms, modes)
    band = lower_band(elements, freedoms, last)
    beside = _entries(band, np.arange(mitre, last), np.arange(mitre - plate, mitre))
    factor = cholesky_banded(band[:, plate:], overwrite_ab=True, lower=True, check_finite=False)
    inner = factor[:, : mitre - plate], True
    own = np.arange(mitre - plate, last - plate)
    corner = _entries(factor, own, own)
    stiff = _of_inner_plate(leg, number, mitre)
    stiff[: len(own), : len(own)] += corner @ corner.T
    alone = cho_solve_banded(inner, push[plate:mitre], check_finite=False)
    pushed = np.zeros((len(stiff), 6))
    pushed[: len(own)] = push[mitre:] - beside @ alone[-plate:]
    moved = modes.copy()
    moved[mitre:] = -_held_in_mirror(stiff, pushed)[: len(own)]
    back = np.zeros_like(alone)
    back[-plate:] = beside.T @ moved[mitre:]
    moved[plate:mitre] = -alone - cho_solve_banded(inner, back, overwrite_b=True, check_finite=False)
    return _answered(moved, modes.T @ push + push.T @ np.where(np.arange(last)[:, None] < plate, 0.0, moved), number[: leg.ring.size])


def _answered(moved: Array, stiff: Array, number: IntArray) -> KinkPlateAnswer:
    """Return the answer to unit loads; moved (6 n, 6), stiff (6, 6): under unit movements of the plate."""
    even, odd = (np.asarray(np.linalg.inv(stiff[np.ix_(each, each)]), dtype=np.float64) for each in (EVEN, ODD))
    even_moves, odd_moves = ((moved[:, each] @ give).reshape(-1, 6, 3)[number] for each, give in ((EVEN, even), (ODD, odd)))
    return KinkPlateAnswer(even, odd, even_moves, odd_moves)
