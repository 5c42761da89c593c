"""ANSI/AISC 360-22: walls of hollow sections and channels under concentrated loads. SI; strengths are nominal."""

from __future__ import annotations

from math import sqrt

PUNCHING = "ANSI/AISC 360-22, table K3.2 shear yielding: 0.60 Fy t along the pad's outline, ASD 1.58"
YIELDING = "ANSI/AISC 360-22, J10.2: Fy t (5k + lb) each wall, 2.5k near an end (ASD 1.50)"
CRIPPLING = "ANSI/AISC 360-22, J10.3, wall and flange equally thick (ASD 2.00)"


def punching(yield_strength: float, thickness: float, outline: tuple[float, float], slenderness: float) -> float:
    """Return the force that punches a face, N: 0.60 Fy t (2 length + 2 x effective width).

    K1 (effective width 10 / (B/t) x pad's width) and table K3.2. outline: (width, length) of the pad, m.
    """
    effective = min(10 / slenderness, 1.0) * outline[0]
    return 0.60 * yield_strength * thickness * (2 * outline[1] + 2 * effective)


def least_end_distance(width: float, width_ratio: float) -> float:
    """Return the distance to an open end under which half the strength of a wall is left, m: B sqrt(1 - beta). K1.4."""
    return width * sqrt(1.0 - width_ratio)


def local_yielding(yield_strength: float, thickness: float, bearing: float, corner: float, spread: float = 5.0) -> float:
    """Return the force that yields one wall, N: Fy t (5k + lb), eq. (J10-2), (J10-3); spread 2.5 at an end.

    corner: k, outside of the face to the end of the bend, m; bearing: length along the member, m.
    """
    return yield_strength * thickness * (spread * corner + bearing)


def crippling(strengths: tuple[float, float], thickness: float, bearing: float, depth: float) -> float:
    """Return the force that cripples one wall at least d / 2 from an end, N, eq. (J10-4) with tw = tf, Qf = 1.

    0.80 t2 (1 + 3 lb / d) sqrt(E Fy); strengths: (E, Fy), Pa.
    """
    return 0.80 * thickness**2 * (1 + 3 * bearing / depth) * sqrt(strengths[0] * strengths[1])


def crippling_at_end(strengths: tuple[float, float], thickness: float, bearing: float, depth: float) -> float:
    """Return the force that cripples one wall within d / 2 of an end, N, eq. (J10-5a), (J10-5b)."""
    ratio = bearing / depth
    growth = 3 * ratio if ratio <= 0.2 else 4 * ratio - 0.2
    return 0.40 * thickness**2 * (1 + growth) * sqrt(strengths[0] * strengths[1])
