"""Shapes within a piece that leave its ends where they are: they let a single piece buckle between its nodes. SI.

The exact answer of an unloaded piece follows from its ends; to it are added turns of the sections, movements and twist that vanish at
both ends (twist that warps: with its slope): integrals of Legendre's polynomials (B. Szabo, I. Babuska, Finite Element Analysis, 1991,
3; from memory). They store no energy together with any unloaded answer, so the frame's own factors serve as they are. A turn bends and
takes the movement along that shears least, evenly; movements by themselves shear alone. None stores energy with another.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.element import Beams, inverse_2x2
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class, value_class


@value_class
class Rule:
    """How finely a piece is looked at: polynomials of turns and of shear in each plane, of twist, and Gauss points."""

    turns: int
    shears: int
    twists: int
    points: int

    @property
    def polynomials(self) -> int:
        """Return how many polynomials movements are made of: those of a turn reach one degree above it."""
        return max(self.turns, self.shears, self.twists) + 1

    @property
    def bends(self) -> int:
        """Return the number of shapes in both planes."""
        return 2 * (self.turns + self.shears)


LONG, SHORT, TINY = Rule(8, 6, 7, 10), Rule(4, 3, 3, 6), Rule(1, 0, 2, 5)
"""Of a piece that may buckle in itself, of one that is short beside the frame, and of one that is nothing beside it."""
UNSHEARED = 1e-8  # shear give of a piece that has none, as a share of its bending give


@array_class
class Shapes:
    """On a piece of length 1, at Gauss points (g,): place, weight; value, slope (g, p): of the integrals of Legendre's polynomials.

    twisted, twisted_rate, twisted_curve (g, s): twist that warps; turned, turned_rate (g, s): twist that does not. rule: how many.
    """

    rule: Rule
    place: Array
    weight: Array
    value: Array
    slope: Array
    twisted: Array
    twisted_rate: Array
    twisted_curve: Array

    @property
    def count(self) -> int:
        """Return the number of unknowns of all shapes: two planes and twist."""
        return self.rule.bends + self.rule.twists

    @property
    def turned(self) -> Array:
        """Return the twist of shapes that do not warp."""
        return self.value[:, : self.rule.twists]

    @property
    def turned_rate(self) -> Array:
        """Return the rate of twist of shapes that do not warp."""
        return self.slope[:, : self.rule.twists]


@lru_cache(maxsize=3)
def unit_shapes(rule: Rule) -> Shapes:
    """Return the shapes of a rule."""
    place, weight = np.polynomial.legendre.leggauss(rule.points)
    at, share = (place + 1) / 2, weight / 2
    basis = [np.polynomial.Legendre.basis(degree, domain=[0.0, 1.0]) for degree in range(1, rule.polynomials + 1)]
    value, slope = (np.stack([made(at) for made in each], axis=1) for each in ([b.integ(lbnd=0.0) for b in basis], basis))
    curves = basis[1 : rule.twists + 1]
    twisted = (np.stack([(b.integ(n, lbnd=0.0) if n else b)(at) for b in curves], axis=1) for n in (2, 1, 0))
    return Shapes(rule, at, share, value, slope, *twisted)


@array_class
class Bends:
    """The r shapes of m pieces in both planes, each of unit stiffness. moved (m, 2, p, r): amounts of the polynomials in v and
    w, m; turned (m, 2, t, r): in the sections' turns v', w', shear left out.
    """

    moved: Array
    turned: Array


def bends_of(beams: Beams, which: IntArray, shapes: Shapes) -> Bends:
    """Return the shapes of some pieces. Turn k is the integral I of P(k), P Legendre's: I = (P(k+1) - P(k-1)) / (4 k + 2) over 0 to 1.

    So it moves by the integral of itself but for the first's mean, -1/6, which is even shear.
    """
    rule, length, m = shapes.rule, beams.length[which], len(which)
    t, e, p = rule.turns, rule.shears, rule.polynomials
    kept = np.linalg.inv(np.linalg.cholesky(_stiffness(beams, which, rule))).transpose(0, 1, 3, 2)
    moved, turned = np.zeros((m, 2, p, t + e, 2)), np.zeros((m, 2, t, t + e, 2))
    for k in range(1, t + 1):
        one = kept[:, k - 1]
        turned[:, :, k - 1, k - 1] = one
        moved[:, :, k, k - 1] = one * length[:, None, None] / (4 * k + 2)
        if k > 1:
            moved[:, :, k - 2, k - 1] = -one * length[:, None, None] / (4 * k + 2)
    for k in range(e):
        moved[:, :, k, t + k] = kept[:, t + k]
    return Bends(moved.reshape(m, 2, p, rule.bends), turned.reshape(m, 2, t, rule.bends))


def _stiffness(beams: Beams, which: IntArray, rule: Rule) -> Array:
    """Return (m, turns + shears, 2, 2): stiffness of each turn and of each shear in both planes."""
    length, bending = beams.length[which, None, None, None], beams.bending[which, None]
    shear = inverse_2x2(beams.slip[which] + UNSHEARED * length[:, 0] ** 2 * beams.flexibility[which])[:, None]
    turn, slide = (2 * np.arange(1, count + 1)[:, None, None] + 1 for count in (rule.turns, rule.shears))
    bent = bending / (length * turn) + np.where(turn == 3, shear * length / 36, 0.0)
    return np.concatenate((bent, shear / (length * slide)), axis=1)


def twist_flexibility(beams: Beams, which: IntArray, shapes: Shapes) -> Array:
    """Return (m, s, s): inverse stiffness of the twist shapes, Saint-Venant's and warping's together."""
    length, twist, warping = (each[which, None, None] for each in (beams.length, beams.twist, beams.warping))
    plain, first, second = (
        each.T @ (shapes.weight[:, None] * each) for each in (shapes.turned_rate, shapes.twisted_rate, shapes.twisted_curve)
    )
    stiff = twist * np.where(warping > 0, first, plain) / length + warping * second / length**3
    return np.asarray(np.linalg.inv(stiff), dtype=np.float64)


def own_movements(twist: Array, forces: Array) -> Array:
    """Return the shapes' amounts (m, 3 s, k) under forces on them: those of bending, of unit stiffness, then those of twist."""
    bent = forces.shape[1] - twist.shape[1]
    return np.concatenate((forces[:, :bent], twist @ forces[:, bent:]), axis=1)
