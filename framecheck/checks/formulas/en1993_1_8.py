"""EN 1993-1-8:2005, chapter 7: welded joints of a branch on the wall of a rectangular or round hollow section; 4.5.3.3: fillets. SI.

From memory, but for what a docstring says was seen. Symbols as printed: b0, h0, t0 rail: width of the wall that is met, depth of the
walls beside it, thickness; b1, h1, t1 branch: across the rail, along the rail, thickness; beta = b1 / b0, eta = h1 / b0.
CIDECT design guide 3 and ISO 14346:2013 print the same yield lines. Forces are strengths without a partial factor (gamma M5 = 1).
"""

from __future__ import annotations

from math import pi, sqrt

import numpy as np

from framecheck.model.arrays import Array

FACE = "yield lines of the wall: EN 1993-1-8:2005, tables 7.11 and 7.14, from memory; ANSI/AISC 360-10, eq. (K2-7)"
SIDES = "walls beside it: EN 1993-1-8:2005, tables 7.11 and 7.14, from memory"
PUNCHING = "EN 1993-1-8:2005, table 7.11, from memory: fy t0 / sqrt(3) along what counts of the outline"
UNEVEN = "EN 1993-1-8:2005, tables 7.11, 7.13 and 7.14, from memory: effective width of the branch"
DISTORTION = "EN 1993-1-8:2005, table 7.14, from memory; ANSI/AISC 360-16, eq. (K4-7): the rail's outline distorts"
WIDEST = 0.85
"""Widest branch, over the wall that it stands on, for which the wall's yield lines are the rule."""


BETA_W = ((235e6, 0.80), (275e6, 0.85), (355e6, 0.90), (420e6, 1.00))
"""Correlation factor of fillets by the yield strength of the grade, Pa. EN 1993-1-8:2005, table 4.1, as opened programs quote it."""


def fillet_shear(yield_strength: float, ultimate: float) -> float:
    """Return fvw of a fillet on metal of a tensile strength fu, Pa: fu / (sqrt(3) beta_w), without the partial factor.

    4.5.3.3, eq. (4.4), from memory. beta_w of metals between the grades of table 4.1 is taken straight between them, beyond as theirs.
    """
    grades, factors = zip(*BETA_W, strict=True)
    return ultimate / (sqrt(3) * float(np.interp(yield_strength, grades, factors)))


def strength_that_counts(yield_strength: float) -> float:
    """Return the yield strength that the formulas are used with, Pa: 0.9 of it above 355 MPa.

    EN 1993-1-8:2005, 7.1.1(4), from memory; ANSI/AISC 360-22, table K3.2A, takes it whole up to 360 MPa (seen): from 355 to 360 MPa
    it is taken straight from the one to the other, so that no strength makes it jump.
    """
    ramp = min(max((yield_strength - 355e6) / 5e6, 0.0), 1.0)
    return yield_strength * (1.0 - 0.1 * ramp)


def compressed_wall(n: Array, beta: float) -> Array:
    """Return kn, what compression in the rail leaves of a wall's yield lines: 1.3 - 0.4 n / beta, 0.4 to 1.

    EN 1993-1-8:2005, table 7.11, from memory; ANSI/AISC 360-22, eq. (K1-4), seen, with the lower bound. n: largest compressive
    stress over the yield strength, any shape.
    """
    return np.clip(1.3 - 0.4 * n / beta, 0.4, 1.0)


def face_axial(fold: float, beta: float, eta: float) -> float:
    """Return the force square to a wall that folds it, N: (2 eta / (1 - beta) + 4 / sqrt(1 - beta)) fy t0^2. Table 7.11.

    fold: fy t0^2, N.
    """
    rest = 1.0 - beta
    return fold * (2 * eta / rest + 4 / sqrt(rest))


def face_in_plane(fold: float, beta: float, eta: float, h1: float) -> float:
    """Return the moment in the plane of rail and branch that folds a wall, Nm. Table 7.14.

    fy t0^2 h1 (1 / (2 eta) + 2 / sqrt(1 - beta) + eta / (1 - beta)).
    """
    rest = 1.0 - beta
    return fold * h1 * (1 / (2 * eta) + 2 / sqrt(rest) + eta / rest)


def face_out_of_plane(fold: float, beta: float, b0: float, h1: float) -> float:
    """Return the moment about the rail that folds a wall, Nm. Table 7.14.

    fy t0^2 (h1 (1 + beta) / (2 (1 - beta)) + sqrt(2 b0 b1 (1 + beta) / (1 - beta))).
    """
    grown = (1 + beta) / (1 - beta)
    return fold * (h1 * grown / 2 + sqrt(2 * b0 * b0 * beta * grown))


def punching_width(b0: float, t0: float, b1: float) -> float:
    """Return be,p, what counts of a branch's side across the rail against punching, m: 10 b1 / (b0 / t0), at most b1. Table 7.13."""
    return min(10 * t0 / b0, 1.0) * b1


def effective_width(b0: float, walls: tuple[float, float], strengths: tuple[float, float], b1: float) -> float:
    """Return beff, what counts of a branch's wall across the rail, m: 10 / (b0 / t0) x (fy0 t0) / (fy1 t1) x b1, at most b1.

    Table 7.13. walls: (t0, t1), m; strengths: (fy0, fy1), Pa.
    """
    share = 10 * walls[0] / b0 * (strengths[0] * walls[0]) / (strengths[1] * walls[1])
    return min(share, 1.0) * b1


def buckling_stress_of_sides(fy: float, youngs_modulus: float, slenderness: float) -> float:
    """Return fb of compressed walls beside a branch, Pa: chi fy. Table 7.11, with curve a of EN 1993-1-1:2005, 6.3.1.2, from memory.

    slenderness: h0 / t0; lambda = 3.46 (h0 / t0 - 2) / (pi sqrt(E / fy)).
    """
    lam = max(3.46 * (slenderness - 2.0) / (pi * sqrt(youngs_modulus / fy)), 0.0)
    phi = 0.5 * (1 + 0.21 * (lam - 0.2) + lam**2)
    return fy * min(1.0, 1 / (phi + sqrt(max(phi**2 - lam**2, 0.0))))


def sides_axial(fb: float, t0: float, h1: float) -> float:
    """Return the force that yields or buckles both walls beside a branch as wide as the rail, N: fb t0 (2 h1 + 10 t0). Table 7.11."""
    return fb * t0 * (2 * h1 + 10 * t0)


def sides_in_plane(fy: float, t0: float, h1: float) -> float:
    """Return the in-plane moment that yields the walls beside a branch, Nm: 0.5 fy t0 (h1 + 5 t0)^2. Table 7.14, T joint."""
    return 0.5 * fy * t0 * (h1 + 5 * t0) ** 2


def sides_out_of_plane(fy: float, t0: float, b0: float, h1: float) -> float:
    """Return the moment about the rail that yields the walls beside a branch, Nm: fy t0 (b0 - t0)(h1 + 5 t0). Table 7.14, T joint."""
    return fy * t0 * (b0 - t0) * (h1 + 5 * t0)


def distortion(fy: float, t0: float, rail: tuple[float, float], h1: float) -> float:
    """Return the moment about the rail at which its outline distorts, Nm: 2 fy t0 (h1 t0 + sqrt(b0 h0 t0 (b0 + h0))). Table 7.14.

    rail: (b0, h0), m.
    """
    b0, h0 = rail
    return 2 * fy * t0 * (h1 * t0 + sqrt(b0 * h0 * t0 * (b0 + h0)))


def branch_axial(fy1: float, t1: float, h1: float, beff: float) -> float:
    """Return the force that yields a branch of which beff counts across the rail, N: fy1 t1 (2 h1 - 4 t1 + 2 beff). Table 7.11."""
    return fy1 * t1 * (2 * h1 - 4 * t1 + 2 * beff)


def plastic_modulus(high: float, wide: float, t: float) -> float:
    """Return the plastic modulus of a box with sharp corners, m3: (b h^2 - (b - 2 t)(h - 2 t)^2) / 4. high: across its axis."""
    inner = max(high - 2 * t, 0.0)
    return (wide * high**2 - max(wide - 2 * t, 0.0) * inner**2) / 4


def branch_in_plane(fy1: float, t1: float, sizes: tuple[float, float], beff: float) -> float:
    """Return the in-plane moment that yields a branch, Nm: fy1 (Wpl - (1 - beff / b1) b1 (h1 - t1) t1). Table 7.14.

    sizes: (b1, h1), m.
    """
    b1, h1 = sizes
    return fy1 * (plastic_modulus(h1, b1, t1) - (b1 - beff) * (h1 - t1) * t1)


def branch_out_of_plane(fy1: float, t1: float, sizes: tuple[float, float], beff: float) -> float:
    """Return the moment about the rail that yields a branch, Nm: fy1 (Wpl - 0.5 (1 - beff / b1)^2 b1^2 t1). Table 7.14."""
    b1, h1 = sizes
    return fy1 * (plastic_modulus(b1, h1, t1) - 0.5 * (b1 - beff) ** 2 * t1)


def on_round_axial(fold: float, beta: float, gamma: float) -> float:
    """Return the force that folds a round rail's wall under a round branch, N: gamma^0.2 fy t0^2 (2.8 + 14.2 beta^2). Table 7.2, T.

    gamma: d0 / (2 t0).
    """
    slender: float = gamma**0.2
    return fold * slender * (2.8 + 14.2 * beta**2)


def on_round_in_plane(fold: float, beta: float, gamma: float, d1: float) -> float:
    """Return the in-plane moment that folds a round rail's wall under a round branch: 4.85 fy t0^2 d1 sqrt(gamma) beta. Table 7.5."""
    return fold * 4.85 * d1 * sqrt(gamma) * beta


def on_round_out_of_plane(fold: float, beta: float, d1: float) -> float:
    """Return the moment about a round rail that folds its wall under a round branch: 2.7 fy t0^2 d1 / (1 - 0.81 beta). Table 7.5."""
    return fold * d1 * 2.7 / (1 - 0.81 * beta)


def compressed_round(n: Array) -> Array:
    """Return kp, what compression in a round rail leaves: 1 - 0.3 n (1 + n), here not below 0.05. Table 7.2."""
    return np.clip(1 - 0.3 * n * (1 + n), 0.05, 1.0)


def box_on_round(fold: float, beta: float, eta: float) -> float:
    """Return the force that folds a round rail's wall under a box, N: fy t0^2 (4 + 20 beta^2)(1 + 0.25 eta); its moments are h1 and
    b1 / 2 times that. Table 7.4. eta: h1 / d0.
    """
    return fold * (4 + 20 * beta**2) * (1 + 0.25 * eta)
