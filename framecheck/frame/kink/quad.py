"""Flat quadrilateral shell elements, four nodes of six freedoms, many at once: stiffness, and what stress they feel at their middle.

Membrane: bilinear with two incompatible modes, made to pass the patch test (R. L. Taylor, P. J. Beresford, E. L. Wilson 1976).
Bending: the mixed-interpolation plate (K.-J. Bathe, E. N. Dvorkin 1985) with the residual bending flexibility of R. H. MacNeal (1978),
as the rectangles of frame/joint/quad.py have it. Drilling: each node's turn about the normal follows the element's spin through a
weak spring. (From memory; tests hold them to closed forms.)
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.quad import DRILLING, RX, RY, RZ, SHEAR_CORRECTION, U, V, W
from framecheck.model.arrays import Array

# Corners in the order (0, 0), (1, 0), (0, 1), (1, 1) of the two grid directions.
XI = np.array([-1.0, 1.0, -1.0, 1.0])
ETA = np.array([-1.0, -1.0, 1.0, 1.0])
GAUSS = [(x / 3**0.5, y / 3**0.5) for x in (-1, 1) for y in (-1, 1)]


class Quads(NamedTuple):
    """m quadrilaterals. places (m, 4, 3): corners, m; wall (m,), m; e in Pa and nu of all."""

    places: Array
    wall: Array
    e: float
    nu: float

    @property
    def axes(self) -> Array:
        """Return each one's own axes (m, 3, 3) as rows: first along the first grid direction, last the normal."""
        a, b, c, d = self.places.transpose(1, 0, 2)
        normal = np.cross(d - a, c - b)
        normal /= np.linalg.norm(normal, axis=1)[:, None]
        along = b - a + d - c
        along -= np.sum(along * normal, axis=1)[:, None] * normal
        along /= np.linalg.norm(along, axis=1)[:, None]
        return np.stack((along, np.cross(normal, along), normal), axis=1)

    @property
    def flat(self) -> Array:
        """Return the corners (m, 4, 2) in each one's own axes, from its middle."""
        from_middle = self.places - self.places.mean(axis=1, keepdims=True)
        return np.asarray(from_middle @ self.axes[:, :2].transpose(0, 2, 1), dtype=np.float64)


class At(NamedTuple):
    """A place within the elements: slopes (m, 2, 4) of the corners' shape functions, weight (m,): area of the parameter's unit."""

    slopes: Array
    weight: Array
    jacobian: Array


def at(flat: Array, xi: float, eta: float) -> At:
    """Return what a place (-1 to 1 both ways) needs."""
    natural = np.array([XI * (1 + ETA * eta), ETA * (1 + XI * xi)]) / 4
    jacobian = natural @ flat
    slopes = np.linalg.solve(jacobian, np.broadcast_to(natural, (len(flat), 2, 4)))
    weight = jacobian[:, 0, 0] * jacobian[:, 1, 1] - jacobian[:, 0, 1] * jacobian[:, 1, 0]
    return At(np.asarray(slopes, dtype=np.float64), weight, jacobian)


def plane_strains(slopes: Array, first: int, second: int, sign: float) -> Array:
    """Return rows (m, 3, 4, 6): xx, yy, xy of two fields, first and sign * second, from their slopes (m, 2, 4)."""
    rows = np.zeros((len(slopes), 3, 4, 6))
    rows[:, 0, :, first], rows[:, 1, :, second] = slopes[:, 0], sign * slopes[:, 1]
    rows[:, 2, :, first], rows[:, 2, :, second] = slopes[:, 1], sign * slopes[:, 0]
    return rows


def elasticity(nu: float) -> Array:
    """Return plane stress per strain (3, 3) over E: xx, yy, xy."""
    matrix: Array = np.array([[1.0, nu, 0.0], [nu, 1.0, 0.0], [0.0, 0.0, (1 - nu) / 2]]) / (1 - nu**2)
    return matrix


def _bubbles(centre: At, here: At, xi: float, eta: float) -> Array:
    """Return rows (m, 3, 4) of the strains of two incompatible modes of u and two of v; of no mean, so that patches pass."""
    natural = np.array([[-2 * xi, 0.0], [0.0, -2 * eta]])
    slopes = np.linalg.solve(centre.jacobian, np.broadcast_to(natural, (len(here.weight), 2, 2)))
    slopes *= (centre.weight / here.weight)[:, None, None]
    rows = np.zeros((len(here.weight), 3, 4))
    rows[:, 0, :2], rows[:, 1, 2:], rows[:, 2, :2], rows[:, 2, 2:] = slopes[:, 0], slopes[:, 1], slopes[:, 1], slopes[:, 0]
    return rows


def _membrane(quads: Quads, flat: Array) -> Array:
    """Return the stiffness (m, 24, 24) in the walls' own planes."""
    m, centre, law = len(flat), at(flat, 0.0, 0.0), elasticity(quads.nu)
    whole = np.zeros((m, 28, 28))
    for xi, eta in GAUSS:
        here = at(flat, xi, eta)
        shown = plane_strains(here.slopes, U, V, 1.0).reshape(m, 3, 24)
        rows = np.concatenate((shown, _bubbles(centre, here, xi, eta)), axis=2)
        whole += (quads.e * quads.wall * here.weight)[:, None, None] * (rows.transpose(0, 2, 1) @ law @ rows)
    own, mixed = whole[:, 24:, 24:], whole[:, 24:, :24]
    return np.asarray(whole[:, :24, :24] - mixed.transpose(0, 2, 1) @ np.linalg.solve(own, mixed), dtype=np.float64)


def _tied(flat: Array) -> Array:
    """Return rows (m, 4, 24): the transverse shear along each edge's middle, over half its length: two edges along, two across."""
    rows = np.zeros((len(flat), 4, 4, 6))
    for row, (i, j) in enumerate(((0, 1), (2, 3), (0, 2), (1, 3))):
        half = (flat[:, j] - flat[:, i]) / 2
        rows[:, row, i, W], rows[:, row, j, W] = -0.5, 0.5
        rows[:, row, i, RY] = rows[:, row, j, RY] = half[:, 0] / 2
        rows[:, row, i, RX] = rows[:, row, j, RX] = -half[:, 1] / 2
    return rows.reshape(-1, 4, 24)


def _shear_law(quads: Quads, flat: Array, plate: Array) -> Array:
    """Return the shear force per strain (m, 2, 2), softened by what bending within one element lacks: h^2 / 12 D each way."""
    g = quads.e / (2 * (1 + quads.nu))
    flexible = (1 / (SHEAR_CORRECTION * g * quads.wall))[:, None, None] * np.eye(2)
    lines = 2 * at(flat, 0.0, 0.0).jacobian
    flexible = flexible + np.einsum("mij,mik->mjk", lines, lines) / (12 * plate)[:, None, None]
    return np.asarray(np.linalg.inv(flexible), dtype=np.float64)


def _plate(quads: Quads, flat: Array) -> Array:
    """Return the stiffness (m, 24, 24) out of the walls' planes."""
    m, tied = len(flat), _tied(flat)
    plate = quads.e * quads.wall**3 / (12 * (1 - quads.nu**2))
    bends, law = elasticity(quads.nu) * (1 - quads.nu**2), _shear_law(quads, flat, plate)
    whole = np.zeros((m, 24, 24))
    for xi, eta in GAUSS:
        here = at(flat, xi, eta)
        turns = plane_strains(here.slopes, RY, RX, -1.0).reshape(m, 3, 24)
        natural = np.array([[1 - eta, 1 + eta, 0.0, 0.0], [0.0, 0.0, 1 - xi, 1 + xi]]) / 2
        shear = np.linalg.solve(here.jacobian, natural @ tied)
        bent = plate[:, None, None] * (turns.transpose(0, 2, 1) @ bends @ turns)
        whole += here.weight[:, None, None] * (bent + shear.transpose(0, 2, 1) @ law @ shear)
    return whole


def _drilling(quads: Quads, flat: Array) -> Array:
    """Return the stiffness (m, 24, 24) of each node's turn about the normal against the element's spin."""
    centre = at(flat, 0.0, 0.0)
    rows = np.zeros((len(flat), 4, 4, 6))
    rows[:, :, :, U], rows[:, :, :, V] = centre.slopes[:, None, 1] / 2, -centre.slopes[:, None, 0] / 2
    rows[:, range(4), range(4), RZ] = 1.0
    strength = DRILLING * quads.e / (2 * (1 + quads.nu)) * quads.wall * centre.weight
    flat_rows = rows.reshape(-1, 4, 24)
    return np.asarray(strength[:, None, None] * (flat_rows.transpose(0, 2, 1) @ flat_rows), dtype=np.float64)


def stiffness(quads: Quads) -> Array:
    """Return the stiffness (m, 24, 24) in global axes; per node three displacements, then three rotations; SI."""
    flat, axes = quads.flat, quads.axes
    own = (_membrane(quads, flat) + _plate(quads, flat) + _drilling(quads, flat)).reshape(-1, 8, 3, 8, 3)
    turned: Array = axes.transpose(0, 2, 1)[:, None, None] @ own.transpose(0, 1, 3, 2, 4) @ axes[:, None, None]
    return turned.transpose(0, 1, 3, 2, 4).reshape(-1, 24, 24)


def stresses(quads: Quads, moves: Array) -> tuple[Array, Array]:
    """Return the stress (m, 3, k) at the elements' middles, xx, yy, xy in their own axes, Pa: through the wall, and at its surface
    besides; moves (m, 24, k): of the corners, global axes.
    """
    flat = quads.flat
    slopes, count = at(flat, 0.0, 0.0).slopes, len(flat)
    own = (quads.axes[:, None] @ moves.reshape(count, 8, 3, -1)).reshape(count, 24, -1)
    law = quads.e * elasticity(quads.nu)
    pulled: Array = law @ (plane_strains(slopes, U, V, 1.0).reshape(count, 3, 24) @ own)
    turns = plane_strains(slopes, RY, RX, -1.0).reshape(count, 3, 24)
    bent: Array = law @ (turns @ own) * (quads.wall / 2)[:, None, None]
    return pulled, bent
