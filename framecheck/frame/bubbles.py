"""Shapes within a piece that leave its ends where they are: they let a single piece buckle between its nodes. SI.

The exact answer of an unloaded piece follows from its ends; to it are added polynomials that vanish at both ends with their slopes
(twist that does not warp: without them), the second integrals of Legendre's (B. Szabo, I. Babuska, Finite Element Analysis, 1991, 3;
from memory). They store no energy together with any unloaded answer, so the frame's own factors serve as they are and each piece's
shapes have a stiffness of their own.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.element import Beams
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

LONG, SHORT = (5, 8), (2, 5)
"""Shapes in each of v, w and twist, and Gauss points that are exact for their products with a straight moment: of a piece that may
buckle in itself, and of one that is short beside the frame."""
WAYS = 3  # v, w, twist


@array_class
class Shapes:
    """s shapes on a piece of length 1, at Gauss points (g,): place, weight; value, slope, curve (g, s) of each shape.

    turn, rate (g, s): value and slope of twist shapes where nothing warps: their slopes are Legendre polynomials.

    second, first (s, s): integrals of products of curves and of slopes; third (s,): of a curve's slope squared.
    """

    place: Array
    weight: Array
    value: Array
    slope: Array
    curve: Array
    turn: Array
    rate: Array
    second: Array
    first: Array
    third: Array

    @property
    def count(self) -> int:
        """Return the number of shapes in each way."""
        return int(self.value.shape[1])


@lru_cache(maxsize=2)
def unit_shapes(count: int, points: int) -> Shapes:
    """Return the shapes that vanish at both ends with their slopes; curves are Legendre polynomials of degree 2 and more."""
    place, weight = np.polynomial.legendre.leggauss(points)
    curves = [np.polynomial.Legendre.basis(degree, domain=[0.0, 1.0]) for degree in range(2, 2 + count)]
    at = (place + 1) / 2
    value, slope, curve = (
        np.stack([(each.integ(times, lbnd=0.0) if times else each)(at) for each in curves], axis=1) for times in (2, 1, 0)
    )
    rates = [np.polynomial.Legendre.basis(degree, domain=[0.0, 1.0]) for degree in range(1, 1 + count)]
    turn, rate = (np.stack([made(at) for made in each], axis=1) for each in ([r.integ(lbnd=0.0) for r in rates], rates))
    share = weight / 2
    third = np.array([each.deriv()(at) ** 2 @ share for each in curves])
    second, first = (values.T @ (share[:, None] * values) for values in (curve, slope))
    return Shapes(at, share, value, slope, curve, turn, rate, second, first, third)


def bending_flexibility(beams: Beams, which: IntArray, shapes: Shapes) -> Array:
    """Return (m, s, 2, 2): inverse stiffness of each shape in v and w together, shear counted as a spring in line.

    Curve over length squared bends, its slope over length cubed shears: 1 / stiffness is near to (D^-1 + S c / L^2) L^3 / integral.
    """
    own, length = np.diag(shapes.second), beams.length[which]
    sheared = (shapes.third / own)[None, :, None, None] * (beams.slip[which] / length[:, None, None] ** 2)[:, None]
    flexible: Array = (beams.flexibility[which, None] + sheared) * (length[:, None] ** 3 / own)[..., None, None]
    return flexible


def bending_share(beams: Beams, which: IntArray, shapes: Shapes) -> Array:
    """Return (m, s, 2, 2): how much of each shape's movement in v and w is bending; the rest is shear, which turns no section."""
    own = np.diag(shapes.second)
    sheared = (shapes.third / own)[None, :, None, None] * (beams.slip[which] / beams.length[which, None, None] ** 2)[:, None]
    bent: Array = beams.flexibility[which, None] @ np.linalg.inv(beams.flexibility[which, None] + sheared)
    return bent


def twist_flexibility(beams: Beams, which: IntArray, shapes: Shapes) -> Array:
    """Return (m, s, s): inverse stiffness of the twist shapes, Saint-Venant's and warping's together."""
    length, twist, warping = (each[which, None, None] for each in (beams.length, beams.twist, beams.warping))
    plain = shapes.rate.T @ (shapes.weight[:, None] * shapes.rate)
    stiff = twist * np.where(warping > 0, shapes.first, plain) / length + warping * shapes.second / length**3
    return np.asarray(np.linalg.inv(stiff), dtype=np.float64)


def own_movements(bend: Array, twist: Array, forces: Array) -> Array:
    """Return the shapes' amounts (m, 3 s, k) under forces on them; v's, then w's, then twist's."""
    (m, count), k = bend.shape[:2], forces.shape[2]
    both = forces[:, : 2 * count].reshape(m, 2, count, k)
    moved = np.einsum("nsij,njsk->nisk", bend, both).reshape(m, 2 * count, k)
    return np.concatenate((moved, twist @ forces[:, 2 * count :]), axis=1)
