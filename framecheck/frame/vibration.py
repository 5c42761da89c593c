"""Natural frequencies from a flexibility: what moves under given forces is all that need be known of the structure.

A small space of shapes is grown by letting inertia push (block Krylov: each block is the static answer to the last one's
inertia forces), and the equation of motion is solved within it (Rayleigh-Ritz). A structure that hangs on nothing is pushed
by forces in balance with its own inertia (inertia relief), and its six free movements stand beside the shapes.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.value_class import array_class

Flexibility = Callable[[Array], Array]
"""Forces (n, k) in balance with the supports, or among themselves, to movements (n, k)."""

SPARE = 4  # shapes in a block beyond those asked for
MOST_BLOCKS = 12
CONVERGED = 1e-7  # relative change of a frequency from one block to the next
STILL = 1e-6  # of the highest frequency found: below this a mode is a free movement


@array_class
class GroundSprings:
    """Springs to the ground: directions (n, s), each a unit force on the freedoms; rates (s,) N/m or Nm/rad."""

    directions: Array
    rates: Array


@array_class
class Vibration:
    """Frequencies (k,) in Hz, rising; shapes (n, k), of unit modal mass. change: the last relative change of a frequency."""

    frequencies: Array
    shapes: Array
    change: float


@array_class
class _Space:
    """Shapes (n, m) and the forces (n, m) that hold the structure in them."""

    shapes: Array
    forces: Array


def no_springs(n: int) -> GroundSprings:
    """Return nothing between the structure and the ground."""
    return GroundSprings(np.zeros((n, 0)), np.zeros(0))


def _relief(mass: Array, free: Array) -> Array:
    """Return (n, 6): what takes the free movements (n, 6) off: forces less relief @ (free.T @ forces) are in balance."""
    if not free.shape[1]:
        return np.zeros_like(free)
    return np.asarray(mass @ free @ np.linalg.inv(free.T @ mass @ free), dtype=np.float64)


def _grown(flexibility: Flexibility, forces: Array, free: Array, relief: Array) -> _Space:
    """Return the shapes under forces made to balance, free of free movement, scaled to unit length."""
    balanced = forces - relief @ (free.T @ forces)
    moved = flexibility(balanced)
    moved = moved - free @ (relief.T @ moved)
    sizes = np.maximum(np.linalg.norm(moved, axis=0), 1e-300)
    return _Space(moved / sizes, balanced / sizes)


def _joined(first: _Space, second: _Space) -> _Space:
    return _Space(np.hstack((first.shapes, second.shapes)), np.hstack((first.forces, second.forces)))


def _solved(space: _Space, mass: Array, free: Array, springs: GroundSprings) -> tuple[Array, Array]:
    """Return eigenvalues (m,), rising, and shapes (n, m) of unit modal mass within the space and the free movements."""
    shapes = np.hstack((free, space.shapes))
    forces = np.hstack((np.zeros_like(free), space.forces))
    stretched = springs.directions.T @ shapes
    stiff = shapes.T @ forces + stretched.T * springs.rates @ stretched
    sizes, axes = np.linalg.eigh(shapes.T @ mass @ shapes)
    kept = sizes > 1e-12 * sizes[-1]
    basis = axes[:, kept] / np.sqrt(sizes[kept])
    reduced = basis.T @ (stiff + stiff.T) / 2 @ basis
    values, turned = np.linalg.eigh(reduced)
    return values, shapes @ (basis @ turned)


def _frequencies(values: Array) -> Array:
    """Return frequencies in Hz."""
    return np.asarray(np.sqrt(np.maximum(values, 0.0)) / (2 * pi), dtype=np.float64)


def vibration(flexibility: Flexibility, mass: Array, free: Array, springs: GroundSprings, count: int = 8) -> Vibration:
    """Return the first modes that are not free movement.

    mass: (n, n); free: (n, 6) the free movements of a structure that hangs on nothing, (n, 0) of a held one. The springs
    come on top of the flexibility.
    """
    relief, size = _relief(mass, free), count + SPARE
    start = mass @ np.random.default_rng(1).standard_normal((mass.shape[0], size))
    space = _grown(flexibility, np.hstack((springs.directions, start)), free, relief)
    found, change = np.zeros(count), np.inf
    for _ in range(MOST_BLOCKS):
        values, shapes = _solved(space, mass, free, springs)
        moving = np.flatnonzero(values > (STILL**2) * values[-1])[:size]
        now = _frequencies(values[moving[:count]])
        if len(now) == len(found):
            change = float(np.max(np.abs(now - found) / now))
        if change < CONVERGED or len(values) == mass.shape[0]:
            break
        found = now
        space = _joined(space, _grown(flexibility, mass @ shapes[:, moving], free, relief))
    return Vibration(frozen(now), frozen(shapes[:, moving[:count]]), change)
