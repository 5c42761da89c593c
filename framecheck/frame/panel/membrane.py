"""Four-sided membranes with incompatible modes: stiffness and stress of many cells at once. SI.

Displacements straight between the corners and, within each cell, (1 - r2) and (1 - s2) both ways, so that a cell bends in its plane
as a beam does; their slopes are taken with the middle's Jacobian, so that any even stress is told exactly (E. L. Wilson et al.,
Incompatible displacement models, 1973; R. L. Taylor, P. J. Beresford, E. L. Wilson, Int. J. Numer. Methods Eng. 10, 1976; from
memory).
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.shop_tables import Material
from framecheck.value_class import array_class

CORNERS = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
GAUSS = CORNERS / np.sqrt(3.0)


@array_class
class Cells:
    """m membranes. stiffness (m, 8, 8), N/m; strain (m, 4, 3, 8): corners' movements to strains x, y, xy at four places within;
    area (m,), m2.
    """

    stiffness: Array
    strain: Array
    area: Array


def elasticity(material: Material, thickness: float) -> Array:
    """Return (3, 3): strains of a sheet's plane to force per length, N/m; plane stress (elasticity)."""
    nu = material.poissons_ratio
    rows = np.array([[1.0, nu, 0.0], [nu, 1.0, 0.0], [0.0, 0.0, (1 - nu) / 2]])
    return np.asarray(material.youngs_modulus * thickness / (1 - nu**2) * rows)


def cells_of(corners: Array, elastic: Array) -> Cells:
    """Return the membranes with corners (m, 4, 2) in order round them; elastic (m, 3, 3): of elasticity."""
    m = len(corners)
    middle = _jacobian(corners, np.zeros(2))
    size = _determinant(middle)
    own, inner, weights = [], [], []
    for place in GAUSS:
        jacobian = _jacobian(corners, place)
        weights.append(np.abs(_determinant(jacobian)))
        own.append(
            _strain_rows(
                np.asarray(np.linalg.solve(jacobian, np.broadcast_to(_slopes(place), (m, 2, 4))), dtype=np.float64)
            )
        )
        modes = np.linalg.solve(middle, np.broadcast_to(np.diag(-2.0 * place), (m, 2, 2)))
        inner.append(_strain_rows(modes * (size / _determinant(jacobian))[:, None, None]))
    outer, within, weight = np.stack(own, 1), np.stack(inner, 1), np.stack(weights, 1)
    both = (
        _summed(outer, elastic, outer, weight),
        _summed(within, elastic, outer, weight),
        _summed(within, elastic, within, weight),
    )
    follow = np.linalg.solve(both[2], both[1])
    stiffness = both[0] - both[1].transpose(0, 2, 1) @ follow
    return Cells(stiffness, outer - within @ follow[:, None], weight.sum(axis=1))


def _slopes(place: Array) -> Array:
    """Return (2, 4): slopes of the corners' shapes along both own axes of a cell."""
    (r, s), (a, b) = place, CORNERS.T
    return np.array([a * (1 + b * s), b * (1 + a * r)]) / 4


def _jacobian(corners: Array, place: Array) -> Array:
    """Return (m, 2, 2): slopes of x and y along both own axes."""
    found: Array = _slopes(place) @ corners
    return found


def _determinant(matrices: Array) -> Array:
    """Return the determinants (m,) of (m, 2, 2)."""
    found: Array = matrices[:, 0, 0] * matrices[:, 1, 1] - matrices[:, 0, 1] * matrices[:, 1, 0]
    return found


def _strain_rows(slopes: Array) -> Array:
    """Return (m, 3, 2 n): strains x, y, xy of movements from the slopes (m, 2, n) of n shapes."""
    m, _, n = slopes.shape
    rows = np.zeros((m, 3, 2 * n))
    rows[:, 0, ::2] = rows[:, 2, 1::2] = slopes[:, 0]
    rows[:, 1, 1::2] = rows[:, 2, ::2] = slopes[:, 1]
    return rows


def _summed(first: Array, elastic: Array, second: Array, weight: Array) -> Array:
    """Return the integrals (m, a, b) of rows (m, 4, 3, a) and (m, 4, 3, b) over cells."""
    found: Array = np.einsum("mgia,mgib,mg->mab", first, elastic[:, None] @ second, weight, optimize=True)
    return found
