"""A piece under load within it: one answer that balances the load, to which the ends' answer is added. SI.

Loads are powers that begin at a place a: p <x - a>^n / n!, n = -1 a point load, 0 even, 1 growing; a partial load is one that
begins less one that begins where it ends (W. H. Macaulay, Messenger of Mathematics 48, 1919; from memory). All forces and
movements begin from nothing at x = 0, but for warping, whose answer is that of an endless member: nothing in it grows with kx.
Components of p (6): along x, y, z, torque about the shear centre, and the moments (y, z) that a pull beside the centroid makes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from framecheck.frame.element import Beams
from framecheck.model.arrays import Array, BoolArray, IntArray

FORCES = 8  # N, Vy, Vz, T, Ms, Mv, B, T warping
FACTORIAL = np.array([1.0, 1.0, 2.0, 6.0, 24.0, 120.0])


@dataclass(frozen=True, eq=False, slots=True)
class Props:
    """What a load's answer needs of its piece, each broadcast against the loads: EA, GJ, 1/k (0: no warping); D^-1, S."""

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
    rows = beams.stretch[which][more], beams.twist[which][more], decay[more]
    matrices = (beams.flexibility[which], beams.slip[which])
    first, second = (m.reshape(len(m), *([1] * axes), 2, 2) for m in matrices)
    return Props(*rows, first, second)


def power(along: Array, reached: BoolArray, exponent: int) -> Array:
    """Return <x - a>^n / n!; along: x - a, reached: whether x lies beyond a."""
    return np.where(reached, along, 0.0) ** exponent / FACTORIAL[exponent] if exponent else reached.astype(np.float64)


def forces(prop: Props, p: Array, order: int, along: Array, reached: BoolArray) -> Array:
    """Return section forces (..., 8) at x - a = along, of loads p (..., 6)."""
    first, second = power(along, reached, order + 1), power(along, reached, order + 2)
    found = np.empty((*np.broadcast_shapes(p.shape[:-1], along.shape), FORCES))
    found[..., :4] = -p[..., :4] * first[..., None]
    found[..., 4:6] = -p[..., 1:3] * second[..., None] - p[..., 4:6] * first[..., None]
    shape, slope = _warp_shape(prop.decay, order, along, reached)
    found[..., 6] = -p[..., 3] * prop.decay**2 * shape
    found[..., 7] = p[..., 3] * prop.decay**2 * slope
    return found


def movements(prop: Props, p: Array, order: int, along: Array, reached: BoolArray) -> Array:
    """Return movements (..., 7): stretch, v, w, twist, slopes v' and w', rate of twist, of loads p (..., 6)."""
    first, g2, g3, g4 = (power(along, reached, order + k) for k in range(1, 5))
    shape, slope = _warp_shape(prop.decay, order, along, reached)
    push, lever = p[..., 1:3], p[..., 4:6]
    found = np.empty((*np.broadcast_shapes(p.shape[:-1], along.shape), 7))
    found[..., 0] = -p[..., 0] * g2 / prop.stretch
    found[..., 1:3] = _times(prop.flexibility, push * g4[..., None] + lever * g3[..., None])
    found[..., 1:3] -= _times(prop.slip, push * g2[..., None])
    found[..., 3] = -p[..., 3] / prop.twist * (g2 + prop.decay**2 * shape)
    found[..., 4:6] = _times(prop.flexibility, push * g3[..., None] + lever * g2[..., None])
    found[..., 6] = -p[..., 3] / prop.twist * (first + prop.decay**2 * slope)
    return found


def _times(matrix: Array, vector: Array) -> Array:
    """Return matrix (..., 2, 2) times vector (..., 2)."""
    product: Array = (matrix @ vector[..., None])[..., 0]
    return product


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
