"""Column and beam strength against buckling. Nominal values; the safety factor is asked outside. SI."""

from __future__ import annotations

from math import pi

import numpy as np

from framecheck.model.arrays import Array


def flexural_stress(youngs_modulus: float, length: float, radius: float) -> float:
    """Return the elastic flexural buckling stress of a column, Pa: pi2 E / (K L / r)2. ANSI/AISC 360-22, eq. (E3-4)."""
    return pi**2 * youngs_modulus / (length / radius) ** 2


def torsional_stress(stiffness: tuple[float, float], length: float, area: float, polar_radius: float) -> float:
    """Return the elastic twist buckling stress, Pa: (pi2 E Cw / L2 + G J) / (A r0^2). ANSI/AISC 360-22, eq. (E4-7).

    stiffness: (E Cw, N m4; G J, N m2); polar_radius: of gyration about the shear centre, m.
    """
    warping, torsion = stiffness
    return (pi**2 * warping / length**2 + torsion) / (area * polar_radius**2)


def coupled_stress(
    stresses: tuple[float, float, float], offsets: tuple[float, float], polar_radius: float, product: float = 0.0
) -> float:
    """Return the lowest elastic stress at which bending and twist buckle together, Pa. ANSI/AISC 360-22, eq. (E4-4).

    (Fe - Fx)(Fe - Fy)(Fe - Fz) - Fe2 (Fe - Fy)(x0 / r0)2 - Fe2 (Fe - Fx)(y0 / r0)2 = 0, as an eigenvalue of three movements, so that
    it holds for turned main axes too. stresses: Fx (bending vertically), Fy (sideways), Fz (twist); offsets: (sideways x0, vertical
    y0) of the shear centre from the centroid, m; product: pi2 E Ixy / (Lx Ly A), Pa, + where Ixy is.
    """
    vertical, sideways, twist = stresses
    x, y = (each / polar_radius for each in offsets)
    stiffness = np.array([[vertical, product, 0.0], [product, sideways, 0.0], [0.0, 0.0, twist]])
    push = np.array([[1.0, 0.0, -x], [0.0, 1.0, y], [-x, y, 1.0]])
    root = np.linalg.inv(np.linalg.cholesky(stiffness / vertical))
    return float(vertical / np.linalg.eigvalsh(root @ push @ root.T)[-1])


def column_stress(yield_strength: float, elastic_stress: float) -> float:
    """Return the nominal column stress, Pa: 0.658^(Fy / Fe) Fy, or 0.877 Fe where Fy / Fe > 2.25.

    ANSI/AISC 360-22, eq. (E3-2), (E3-3).
    """
    ratio = yield_strength / elastic_stress
    return 0.658**ratio * yield_strength if ratio <= 2.25 else 0.877 * elastic_stress


def bent_moment(full: float, critical: Array) -> Array:
    """Return the moment left by lateral buckling, Nm, (n_case,); full: without it; critical: elastic, Nm.

    AISI S100-16, F2.1, eq. (F2.1-3) to (F2.1-5): full above 2.78, 10/9 (1 - 10 full / 36 critical) full, critical below 0.56. The
    limits are taken where the branches meet, at 25/9 and 5/9. It serves any section, for it hangs on the critical moment alone.
    """
    ratio = np.maximum(critical / full, 1e-12)
    between = np.minimum(10 / 9 * (1 - 10 / (36 * ratio)), 1.0)
    return np.asarray(full * np.where(ratio <= 5 / 9, ratio, between), dtype=np.float64)


def amplification(compression: Array, critical: Array | float) -> Array:
    """Return B1, the growth of moments by compression (N) on a bent member: 1 / (1 - P / Pe), inf at Pe.

    ANSI/AISC 360-22, eq. (A-8-3), with Cm = 1 (unfavourable).
    """
    ratio = np.maximum(compression, 0.0) / critical
    return np.where(ratio < 1.0, 1.0 / np.maximum(1.0 - ratio, 1e-12), np.inf)


def interaction(axial: Array, bending: Array) -> Array:
    """Return the share of strength used by axial force and bending together (1: the limit).

    ANSI/AISC 360-22, eq. (H1-1a), (H1-1b). axial: P / Pc; bending: Mx / Mcx + My / Mcy.
    """
    return np.where(axial >= 0.2, axial + 8 / 9 * bending, axial / 2 + bending)
