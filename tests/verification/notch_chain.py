"""A cantilever of beam pieces with warping, for the notch checks: cubic elements, many per piece, nothing of the engine.

Thin walls (Vlasov): axial displacement u + z (-w') + y (-v') - omega theta', v and w those of the shear centre.
Between pieces the movements of the box's middle, the turns v', w', the twist and, if both are open, its rate go on.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from framecheck.frame.notch_beams import Thin
from framecheck.model.arrays import Array
from framecheck.section.properties import SectionProperties

PARTS = 12
GAUSS, WEIGHTS = np.polynomial.legendre.leggauss(4)
PER_NODE = 7  # u, v, v', w, w', theta, theta'


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one section. spring: holds its warping at both its ends, N m3.

    step: what of u, -w', -v' at the piece's ends its neighbours don't share, per unit rate of twist (m2, m, m).
    A tube (closed) carries no warping; where tube and open stretch meet, each has its own rate of twist.
    """

    length: float
    section: SectionProperties
    spring: float = 0.0
    step: tuple[float, float, float] = (0.0, 0.0, 0.0)


def properties(thin: Thin, e: float, g: float, closed: bool) -> SectionProperties:
    """Return the thin-walled section as the engine's record; centroid from the middle of the box."""
    area = thin.rigid[0, 0]
    z, y = thin.rigid[1:3, 0] / area
    second = thin.rigid[1:3, 1:3] - area * np.outer([z, y], [z, y])
    return SectionProperties(
        name="", area=area, mass_per_length=0.0, centroid=(y, z), i_vertical=second[0, 0], i_sideways=second[1, 1],
        i_product=second[0, 1], torsion_constant=thin.j, warping_constant=thin.warping,
        shear_centre=(thin.pole[0] - y, thin.pole[1] - z), shear_area_vertical=thin.shear[1],
        shear_area_sideways=thin.shear[0], plastic_modulus_vertical=0.0, plastic_modulus_sideways=0.0,
        box=(0.0, 0.0, 0.0, 0.0), closed=closed, youngs_modulus=e, shear_modulus=g, yield_strength=0.0, engine="mid-line",
    )  # fmt: skip


def rigidity(section: SectionProperties) -> Array:
    """Return E times the integral (4, 4) of r r^T dA, r = (1, z, y, omega), z and y from the box's middle."""
    y, z = section.centroid
    own = np.diag([section.area, section.i_vertical, section.i_sideways, section.warping_constant])
    own[1, 2] = own[2, 1] = section.i_product
    shape = np.eye(4)
    shape[1, 0], shape[2, 0] = z, y
    return section.youngs_modulus * shape @ own @ shape.T


def to_pole(piece: Piece) -> Array:
    """Return (7, 7): the piece's own freedoms, at its shear centre, from the shared ones at the box's middle."""
    y, z = (c + s for c, s in zip(piece.section.centroid, piece.section.shear_centre, strict=True))
    own = np.eye(PER_NODE)
    own[1, 5], own[3, 5] = -z, y
    own[[0, 4, 2], 6] = -piece.step[0], piece.step[1], piece.step[2]
    return own


def _shapes(t: float, h: float) -> tuple[Array, Array]:
    """Return the strains' rows (4, 14) and the rate of twist's (14,) at share t of an element of length h."""
    rows, rate = np.zeros((4, 2 * PER_NODE)), np.zeros(2 * PER_NODE)
    bend = np.array([12 * t - 6, (6 * t - 4) * h, 6 - 12 * t, (6 * t - 2) * h]) / h**2
    slope = np.array([6 * t * (t - 1), (3 * t**2 - 4 * t + 1) * h, 6 * t * (1 - t), (3 * t**2 - 2 * t) * h]) / h
    rows[0, [0, 7]] = -1 / h, 1 / h
    for row, first in ((2, 1), (1, 3), (3, 5)):
        rows[row, [first, first + 1, first + 7, first + 8]] = -bend
    rate[[5, 6, 12, 13]] = slope
    return rows, rate


def _element(piece: Piece, h: float) -> Array:
    """Return the stiffness (14, 14); u' is made linear within the element by condensing a quadratic term out."""
    size = 2 * PER_NODE
    stiff, matrix = np.zeros((size + 1, size + 1)), rigidity(piece.section)
    for point, weight in zip((GAUSS + 1) / 2, WEIGHTS / 2 * h, strict=True):
        rows, rate = _shapes(point, h)
        rows, rate = np.c_[rows, [[1 - 2 * point], [0], [0], [0]]], np.r_[rate, 0.0]
        twist = piece.section.shear_modulus * piece.section.torsion_constant
        stiff += weight * (rows.T @ matrix @ rows + twist * np.outer(rate, rate))
    own = np.kron(np.eye(2), to_pole(piece))
    return own.T @ (stiff[:size, :size] - np.outer(stiff[:size, -1], stiff[-1, :size]) / stiff[-1, -1]) @ own


def _numbers(pieces: tuple[Piece, ...]) -> list[tuple[list[int], list[int]]]:
    """Return the freedoms of each element's two nodes: a new theta' where a tube meets an open stretch."""
    numbers, last, count = [], list(range(PER_NODE)), PER_NODE
    for i, piece in enumerate(pieces):
        if i and piece.section.closed != pieces[i - 1].section.closed:
            last, count = [*last[:-1], count], count + 1
        for _ in range(PARTS):
            following = list(range(count, count + PER_NODE))
            numbers.append((last, following))
            last, count = following, count + PER_NODE
    return numbers


def tip_flexibility(pieces: tuple[Piece, ...]) -> Array:
    """Return (3, 3): tip movement sideways, upwards and twist per unit Vy, Vz, T at the box's middle; m, rad, N, Nm.

    Held at the start, warping too; a rigid plate at the tip.
    """
    numbers = _numbers(pieces)
    size = max(numbers[-1][1]) + 1
    stiff = np.zeros((size, size))
    for i, (first, second) in enumerate(numbers):
        piece = pieces[i // PARTS]
        both = np.array([*first, *second])
        stiff[np.ix_(both, both)] += _element(piece, piece.length / PARTS)
        for node in ([first[6]] if i % PARTS == 0 else []) + ([second[6]] if i % PARTS == PARTS - 1 else []):
            stiff[node, node] += min(piece.spring, 1e12)
    tip = numbers[-1][1]
    free = [i for i in range(size) if i not in numbers[0][0] and i != tip[6]]
    loads = np.zeros((size, 3))
    loads[[tip[1], tip[3], tip[5]], [0, 1, 2]] = 1.0
    flexibility = loads[free].T @ np.linalg.solve(stiff[np.ix_(free, free)], loads[free])
    for piece in pieces:
        areas = np.array([piece.section.shear_area_sideways, piece.section.shear_area_vertical])
        flexibility[[0, 1], [0, 1]] += piece.length / (piece.section.shear_modulus * areas)
    return flexibility
