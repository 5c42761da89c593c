"""A piece under load within it: one answer that balances the load, to which the ends' answer is added. SI.

Loads are powers that begin at a place a: p <x - a>^n / n!, n = -1 a point load, 0 even, 1 growing; a partial load is one that
begins less one that begins where it ends (W. H. Macaulay, Messenger of Mathematics 48, 1919; from memory). All forces and
movements begin from nothing at x = 0, but for warping, whose answer is that of an endless member: nothing in it grows with kx.
Components of p (6, ...): along x, y, z, torque about the shear centre, and the moments (y, z) that a pull beside the centroid
makes. Here and in fields.py components come first: each is one plain array.
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.element import Beams
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.value_class import array_class

FORCES = 8  # N, Vy, Vz, T, Ms, Mv, B, T warping
MOVES = 7  # stretch, v, w, twist, slope v', slope w', rate of twist
FACTORIAL = (1.0, 1.0, 2.0, 6.0, 24.0, 120.0)


@array_class
class Props:
    """What a load's answer needs of its piece, each broadcast against the loads: EA, GJ, 1/k (0: no warping); D^-1 and S (3, ...)
    as yy, yz, zz.
    """

    stretch: Array
    twist: Array
    decay: Array
    flexibility: Array
    slip: Array


def props(beams: Beams, which: IntArray | slice, axes: int) -> Props:
    """Return the properties of some pieces, with `axes` more axes of length 1 for what they are broadcast against."""
    more = (...,) + (None,) * axes
    z = beams.z[which]
    decay = np.where(z > 0, beams.length[which] / (2 * np.where(z > 0, z, 1.0)), 0.0)
    first, second = (symmetric(m[which])[more] for m in (beams.flexibility, beams.slip))
    return Props(beams.stretch[which][more], beams.twist[which][more], decay[more], first, second)


def symmetric(matrices: Array) -> Array:
    """Return yy, yz, zz (3, n) of symmetric matrices (n, 2, 2)."""
    return np.array((matrices[:, 0, 0], matrices[:, 0, 1], matrices[:, 1, 1]))


def times(matrix: Array, vector: Array) -> Array:
    """Return a symmetric matrix (3, ...) times a vector (2, ...)."""
    return np.array((matrix[0] * vector[0] + matrix[1] * vector[1], matrix[1] * vector[0] + matrix[2] * vector[1]))


def power(along: Array, reached: BoolArray, exponent: int) -> Array:
    """Return <x - a>^n / n!; along: x - a, reached: whether x lies beyond a."""
    if exponent == 0:
        return reached.astype(np.float64)
    beyond = np.where(reached, along, 0.0)
    return beyond**exponent / FACTORIAL[exponent] if exponent > 1 else beyond


def forces(prop: Props, p: Array, order: int, along: Array, reached: BoolArray) -> Array:
    """Return section forces (8, ...) at x - a = along, of loads p (6, ...)."""
    first, second = power(along, reached, order + 1), power(along, reached, order + 2)
    found = np.zeros((FORCES, *np.broadcast_shapes(p.shape[1:], along.shape)))
    found[:4] = -p[:4] * first
    found[4:6] = -p[1:3] * second - p[4:6] * first
    if prop.decay.any():
        shape, slope = _warp_shape(prop.decay, order, along, reached)
        found[6] = -p[3] * prop.decay**2 * shape
        found[7] = p[3] * prop.decay**2 * slope
    return found


def movements(prop: Props, p: Array, order: int, along: Array, reached: BoolArray) -> Array:
    """Return movements (7, ...): stretch, v, w, twist, slopes v' and w', rate of twist, of loads p (6, ...)."""
    first, g2, g3, g4 = (power(along, reached, order + k) for k in range(1, 5))
    push, lever = p[1:3], p[4:6]
    found = np.empty((MOVES, *np.broadcast_shapes(p.shape[1:], along.shape)))
    found[0] = -p[0] * g2 / prop.stretch
    found[1:3] = times(prop.flexibility, push * g4 + lever * g3) - times(prop.slip, push * g2)
    found[4:6] = times(prop.flexibility, push * g3 + lever * g2)
    found[3], found[6] = -p[3] / prop.twist * g2, -p[3] / prop.twist * first
    if prop.decay.any():
        shape, slope = _warp_shape(prop.decay, order, along, reached)
        found[3] -= p[3] / prop.twist * prop.decay**2 * shape
        found[6] -= p[3] / prop.twist * prop.decay**2 * slope
    return found


def _warp_shape(decay: Array, order: int, along: Array, reached: BoolArray) -> tuple[Array, Array]:
    """Return h and h' with psi' = -(t/GJ) h of an endless member under a torque t of that order; nothing without warping."""
    warps = decay > 0
    length = np.where(warps, decay, 1.0)
    tail = np.where(warps, np.exp(-np.abs(along) / length), 0.0)
    base = np.where(warps & reached, 1.0, 0.0)
    way = np.where(reached, -1.0, 1.0)
    point = tail / (2 * length)
    even = base + way * tail / 2
    if order == -1:
        return point, way * point / length
    if order == 0:
        return even, point
    return np.where(reached & warps, along, 0.0) + tail * length / 2, even
