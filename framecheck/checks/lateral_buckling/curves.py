"""From elastic buckling to strength: each metal's curves for columns and bending, and how both act together. Nominal values, SI."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import Enum
from math import pi

import numpy as np

from framecheck.model.arrays import Array
from framecheck.value_class import value_class


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


class MetalKind(Enum):
    """Metals with rules of their own, as materials call their kind."""

    STEEL = "steel"
    ALUMINIUM = "aluminium"
    OTHER = "other"


def kind_of(kind: str) -> MetalKind:
    """Return the metal of a kind of material."""
    return next((each for each in MetalKind if each.value == kind), MetalKind.OTHER)


@value_class
class Curves:
    """A metal's curves. column: yield strength and elastic stress (n,), Pa, to column stress (n,); bent: full moment and elastic
    moment (n,), Nm, to what is left (n,). source: where they stand.
    """

    column: Callable[[float, Array], Array]
    bent: Callable[[float, Array], Array]
    source: str


def reduction(slenderness: Array, imperfection: float, plateau: float) -> Array:
    """Return chi, (n,): 1 / (phi + sqrt(phi2 - l2)) <= 1, phi = (1 + alpha (l - l0) + l2) / 2.

    J. Ayrton, J. Perry (1886); EN 1999-1-1:2007, eq. (6.50), and EN 1993-1-1:2005, eq. (6.49), have the same form.
    imperfection: alpha; plateau: l0.
    """
    phi = (1 + imperfection * (slenderness - plateau) + slenderness**2) / 2
    root = np.sqrt(np.maximum(phi**2 - slenderness**2, 0.0))
    return np.asarray(np.where(slenderness <= plateau, 1.0, np.minimum(1 / (phi + root), 1.0)), dtype=np.float64)


def perry_column(imperfection: float, plateau: float) -> Callable[[float, Array], Array]:
    """Return a column curve of Perry's form."""

    def stress(yield_strength: float, elastic: Array) -> Array:
        return yield_strength * reduction(np.sqrt(yield_strength / elastic), imperfection, plateau)

    return stress


def perry_bent(imperfection: float, plateau: float) -> Callable[[float, Array], Array]:
    """Return a lateral buckling curve of Perry's form."""

    def moment(full: float, critical: Array) -> Array:
        return full * reduction(np.sqrt(full / np.maximum(critical, 1e-12 * full)), imperfection, plateau)

    return moment


def steel_column(yield_strength: float, elastic: Array) -> Array:
    """Return the column stress of steel, Pa, (n,): `column_stress` case by case."""
    return np.array([column_stress(yield_strength, each) for each in elastic.tolist()])


CURVES: Mapping[MetalKind, Curves] = {
    MetalKind.STEEL: Curves(
        steel_column, bent_moment, "ANSI/AISC 360-22, E3, E4, E7 (column); AISI S100-16, F2.1 (lateral-torsional)"
    ),
    MetalKind.ALUMINIUM: Curves(
        perry_column(0.32, 0.0),
        perry_bent(0.20, 0.4),
        "EN 1999-1-1:2007, 6.3.1, buckling class B (the worse, for any temper), and 6.3.2.2, classes 3 and 4; from memory",
    ),
    MetalKind.OTHER: Curves(
        perry_column(0.76, 0.0),
        perry_bent(0.76, 0.0),
        "Euler's load with the imperfection of EN 1993-1-1:2005, curve d, without a plateau (no rule for this metal; from memory)",
    ),
}
