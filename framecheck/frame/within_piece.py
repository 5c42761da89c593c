"""What happens within a piece whose ends are held: the particular answer to its load, and shapes that let it bow and buckle. SI.

The exact answer of an unloaded piece follows from its ends; to it are added turns of the sections, movements and twist that vanish at
both ends (twist that warps: with its slope): integrals of Legendre's polynomials (B. Szabo, I. Babuska, Finite Element Analysis, 1991,
3; from memory). They store no energy together with any unloaded answer, so the frame's own factors serve as they are. A turn bends and
takes the movement along that shears least, evenly; movements by themselves shear alone. None stores energy with another.

Loads are powers that begin at a place a: p <x - a>^n / n!, n = -1 a point load, 0 even, 1 growing; a partial load is one that
begins less one that begins where it ends (W. H. Macaulay, Messenger of Mathematics 48, 1919; from memory). All forces and
movements begin from nothing at x = 0, but for warping, whose answer is that of an endless member: nothing in it grows with kx.
Components of p (6, ...): along x, y, z, torque about the shear centre, and the moments (y, z) that a pull beside the centroid
makes. Here and in fields.py components come first: each is one plain array.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.element import Beams, inverse_2x2
from framecheck.frame.stations import Stations
from framecheck.model.arrays import Array, BoolArray, IntArray
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


MOST = LONG.polynomials


@array_class
class Bow:
    """Of n pieces in k cases. bent (2, MOST, n, k): Ms and Mv of each Legendre polynomial, Nm; moved (2, MOST, n, k): amount of each
    integral of one in v and w, m; pushes (n, 2, 7, k): what is outside must do to the ends for it; length (n,).
    """

    bent: Array
    moved: Array
    pushes: Array
    length: Array

    def add_forces(self, forces: Array, stations: Stations) -> None:
        """Add shears and moments to forces (8, m, k) at stations."""
        length, (_, curve, rise) = self.length[stations.piece], _polynomials()
        at = stations.at / length
        for way in (0, 1):
            bent = self.bent[way][:, stations.piece]
            forces[4 + way] += np.einsum("sm,smk->mk", _at(curve, at), bent)
            forces[1 + way] += np.einsum("sm,smk->mk", _at(rise, at) / length, bent)

    def add_moves(self, moves: Array, stations: Stations) -> None:
        """Add movements of the shear centre to moves (6, m, k) at stations; slopes as if nothing sheared."""
        length, (value, slope, _) = self.length[stations.piece], _polynomials()
        at = stations.at / length
        for way in (0, 1):
            moved = self.moved[way][:, stations.piece]
            moves[1 + way] += np.einsum("sm,smk->mk", _at(value, at), moved)
            moves[4 + way] += np.einsum("sm,smk->mk", _at(slope, at) / length, moved)


Polynomials = tuple[np.polynomial.Legendre, ...]


@lru_cache(maxsize=1)
def _polynomials() -> tuple[Polynomials, Polynomials, Polynomials]:
    """Return the integrals of Legendre's polynomials over 0 to 1, the polynomials, their slopes."""
    basis = tuple(np.polynomial.Legendre.basis(degree, domain=[0.0, 1.0]) for degree in range(1, MOST + 1))
    return tuple(each.integ(lbnd=0.0) for each in basis), basis, tuple(each.deriv() for each in basis)


def _at(polynomials: Polynomials, place: Array) -> Array:
    """Return polynomials at places (m,) of 0 to 1, (s, m)."""
    return np.stack([each(place) for each in polynomials])
