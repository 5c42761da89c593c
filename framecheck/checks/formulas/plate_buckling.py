"""Buckling of flat walls: factors, critical stress, what is left effective. psi: stress at the less over the more compressed edge."""

from __future__ import annotations

from math import pi

import numpy as np

from framecheck.model.arrays import Array, BoolArray

STEEPEST = -3.0
INTERNAL_BENDING = 7.81


FLAT = 1e-6
"""b/t below which a wall is all corner and has no flat to buckle."""


def critical_stress(youngs_modulus: Array | float, poissons_ratio: float, slenderness: Array, factor: Array) -> Array:
    """Return the elastic buckling stress of a flat wall, Pa: k pi2 E / (12 (1 - nu2) (b/t)2). EN 1993-1-5:2006, eq. (A.1)."""
    ratio: Array = np.maximum(slenderness, FLAT)
    return factor * pi**2 * youngs_modulus / (12 * (1 - poissons_ratio**2)) / ratio**2


def factor_internal(psi: Array) -> Array:
    """Return k of a wall held at both edges. EN 1993-1-5:2006, table 4.1 (k at psi 1, 0, -1: 4.0, 7.81, 23.9)."""
    gentle = 8.2 / (1.05 + np.maximum(psi, 0.0))
    mixed = INTERNAL_BENDING - 6.29 * psi + 9.78 * psi**2
    return np.select([psi >= 0.0, psi > -1.0], [gentle, mixed], 5.98 * (1 - psi) ** 2)


def factor_free_tip(psi: Array) -> Array:
    """Return k of a wall with a free edge that is the most compressed one. EN 1993-1-5:2006, table 4.2, upper part."""
    return np.asarray(0.57 - 0.21 * psi + 0.07 * psi**2, dtype=np.float64)


def factor_free_root(psi: Array) -> Array:
    """Return k of a wall with a free edge whose held edge is the most compressed. EN 1993-1-5:2006, table 4.2, lower part.

    Beyond psi = -1, where the table ends, 23.8 is kept (unfavourable).
    """
    gentle = 0.578 / (np.maximum(psi, 0.0) + 0.34)
    limited = np.clip(psi, -1.0, 0.0)
    return np.where(psi >= 0.0, gentle, 1.7 - 5 * limited + 17.1 * limited**2)


def share_left_internal(slenderness: Array, psi: Array) -> Array:
    """Return rho of a wall held at both edges. EN 1993-1-5:2006, eq. (4.2), with the limit of its 2009 corrigendum.

    (lambda - 0.055 (3 + psi)) / lambda2, 1 up to lambda = 0.5 + sqrt(0.085 - 0.055 psi). At psi = 1 it is G. Winter's
    (1 - 0.22 / lambda) / lambda of AISI S100-16, appendix 1, eq. (1.1-2).
    """
    limit = 0.5 + np.sqrt(np.maximum(0.085 - 0.055 * psi, 0.0))
    reduced = (slenderness - 0.055 * (3 + psi)) / np.maximum(slenderness, 1e-9) ** 2
    return np.where(slenderness <= limit, 1.0, np.clip(reduced, 0.0, 1.0))


def share_left_free(slenderness: Array) -> Array:
    """Return rho of a wall with a free edge. EN 1993-1-5:2006, eq. (4.3): (lambda - 0.188) / lambda2, 1 up to 0.748."""
    reduced = (slenderness - 0.188) / np.maximum(slenderness, 1e-9) ** 2
    return np.where(slenderness <= 0.748, 1.0, np.clip(reduced, 0.0, 1.0))


def shear_share_left(slenderness: Array) -> Array:
    """Return chi_w, the share of Fy / sqrt(3) a slender web carries in shear. EN 1993-1-5:2006, table 5.1, soft end post.

    eta = 1.0 (no gain from strain hardening). slenderness: lambda_w = sqrt(shear yield / critical shear stress).
    """
    return np.asarray(np.minimum(0.83 / np.maximum(slenderness, 1e-9), 1.0), dtype=np.float64)


def shear_slenderness(width_ratio: Array, epsilon: Array) -> Array:
    """Return lambda_w = (h/t) / (86.4 epsilon) of a web stiffened at its supports only. EN 1993-1-5:2006, eq. (5.5)."""
    return width_ratio / (86.4 * epsilon)


def epsilon_of(yield_strength: Array | float) -> Array:
    """Return epsilon = sqrt(235 MPa / fy). EN 1993-1-1:2005, table 5.2."""
    return np.asarray(np.sqrt(235e6 / np.asarray(yield_strength)), dtype=np.float64)


def class_internal(width_ratio: Array, psi: Array, epsilon: Array) -> Array:
    """Return the class 1 to 4 of walls held at both edges. EN 1993-1-1:2005, table 5.2, sheet 1.

    The compressed share alpha of classes 1 and 2 is taken from the elastic stress, 1 / (1 - psi): equal to the table's where
    the wall is wholly compressed (1) or bent about its middle (1/2).
    """
    alpha = 1 / (1 - np.minimum(psi, 0.0))
    mostly = alpha > 0.5
    first = np.where(mostly, 396 / (13 * alpha - 1), 36 / alpha)
    second = np.where(mostly, 456 / (13 * alpha - 1), 41.5 / alpha)
    steep = np.minimum(psi, -1.0)
    third = np.where(psi > -1.0, 42 / np.maximum(0.67 + 0.33 * psi, 1e-9), 62 * (1 - steep) * np.sqrt(-steep))
    return _class(width_ratio / epsilon, first, second, third)


def class_free(width_ratio: Array, psi: Array, factor: Array, tip: BoolArray, epsilon: Array) -> Array:
    """Return the class 1 to 4 of walls with a free edge; tip: where that edge is the most compressed. Table 5.2, sheet 2."""
    alpha = 1 / (1 - np.minimum(psi, 0.0))
    spread = np.where(tip, alpha, alpha**1.5)
    return _class(width_ratio / epsilon, 9 / spread, 10 / spread, np.asarray(21 * np.sqrt(factor), dtype=np.float64))


def _class(ratio: Array, first: Array, second: Array, third: Array) -> Array:
    """Return the class of a ratio between limits that grow."""
    passed = (ratio > first).astype(np.float64) + (ratio > second) + (ratio > np.maximum(third, second))
    return np.asarray(1.0 + passed, dtype=np.float64)
