"""Column and beam strength against buckling. Nominal values; the safety factor is asked outside. SI."""

from __future__ import annotations

from math import pi, sqrt

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


def coupled_stress(stresses: tuple[float, float, float], offsets: tuple[float, float], polar_radius: float) -> float:
    """Return the lowest elastic stress at which bending and twist buckle together, Pa. ANSI/AISC 360-22, eq. (E4-4).

    (Fe - Fx)(Fe - Fy)(Fe - Fz) - Fe2 (Fe - Fy)(x0 / r0)2 - Fe2 (Fe - Fx)(y0 / r0)2 = 0. stresses: Fx (bending vertically), Fy
    (sideways), Fz (twist); offsets: (sideways x0, vertical y0) of the shear centre from the centroid, m.
    """
    scale = max(stresses)
    fx, fy, fz = (each / scale for each in stresses)
    x, y = ((each / polar_radius) ** 2 for each in offsets)
    cubic = np.poly1d((1, -fx)) * np.poly1d((1, -fy)) * np.poly1d((1, -fz))
    cubic = cubic - np.poly1d((x, -x * fy, 0, 0)) - np.poly1d((y, -y * fx, 0, 0))
    real = [root.real for root in cubic.roots if abs(root.imag) < 1e-6 * abs(root) and root.real > 0]
    return float(min(*real, fx, fy, fz) * scale)


def column_stress(yield_strength: float, elastic_stress: float) -> float:
    """Return the nominal column stress, Pa: 0.658^(Fy / Fe) Fy, or 0.877 Fe where Fy / Fe > 2.25.

    ANSI/AISC 360-22, eq. (E3-2), (E3-3).
    """
    ratio = yield_strength / elastic_stress
    return 0.658**ratio * yield_strength if ratio <= 2.25 else 0.877 * elastic_stress


def plastic_length(radius: float, youngs_modulus: float, yield_strength: float) -> float:
    """Return Lp, up to which an open member reaches its full moment, m: 1.76 ry sqrt(E / Fy). ANSI/AISC 360-22, eq. (F2-5)."""
    return 1.76 * radius * sqrt(youngs_modulus / yield_strength)


def critical_moment(lateral: float, warping: float, torsion: float, length: float) -> float:
    """Return the elastic lateral buckling moment under even bending, Nm.

    (pi / L) sqrt(E Iy G J + (pi / L)2 E Iy E Cw): S. Timoshenko; the same as ANSI/AISC 360-22, eq. (F2-4), times Sx.
    lateral: E Iy, warping: E Cw, torsion: G J, SI.
    """
    turn = (pi / length) ** 2
    return sqrt(turn * lateral * torsion + turn**2 * lateral * warping)


def elastic_length(lateral: float, warping: float, torsion: float, moment: float) -> float:
    """Return Lr, at which the elastic buckling moment is `moment` (0.7 Fy Sx, Nm), m.

    `critical_moment` solved for its length: ANSI/AISC 360-22, eq. (F2-6), in closed form.
    """
    linear, square = lateral * torsion, lateral * warping
    turn = 2 * moment**2 / (linear + sqrt(linear**2 + 4 * square * moment**2))
    return pi / sqrt(turn)


def box_plastic_length(youngs_modulus: float, radius: float, torsion_area: float, plastic_moment: float) -> float:
    """Return Lp of a closed rectangular tube, m: 0.13 E ry sqrt(J A) / Mp. ANSI/AISC 360-22, eq. (F7-12); torsion_area: J A, m6."""
    return 0.13 * youngs_modulus * radius * sqrt(torsion_area) / plastic_moment


def inelastic_moment(gradient: Array, plastic: float, yielding: float, lengths: tuple[float, float, float]) -> Array:
    """Return the moment between full strength and elastic buckling, Nm, (n_case,). ANSI/AISC 360-22, eq. (F2-2).

    Cb (Mp - (Mp - 0.7 Fy S)(L - Lp) / (Lr - Lp)) <= Mp. gradient: Cb; yielding: 0.7 Fy S; lengths: L, Lp, Lr.
    """
    length, full, elastic = lengths
    share = (length - full) / max(elastic - full, 1e-12)
    return np.minimum(gradient * (plastic - (plastic - yielding) * min(max(share, 0.0), 1.0)), plastic)


def moment_gradient(moments: Array) -> Array:
    """Return Cb, (n_case,), of moments (4, n_case): the largest of a length, and those at its quarter, half and three quarters.

    12.5 Mmax / (2.5 Mmax + 3 MA + 4 MB + 3 MC). ANSI/AISC 360-22, eq. (F1-1); at most 3 is counted (2005 edition).
    """
    size = np.abs(moments)
    most = np.maximum(size.max(axis=0), 1e-12)
    gradient: Array = 12.5 * most / (2.5 * most + 3 * size[1] + 4 * size[2] + 3 * size[3])
    return np.minimum(gradient, 3.0)


def amplification(compression: Array, critical: float) -> Array:
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
