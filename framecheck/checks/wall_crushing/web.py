"""The walls beside a pad that bears on the whole width: local yielding and crippling."""

from __future__ import annotations

from math import sqrt

from framecheck.model.joint_tables import CripplingRow

YIELD_SOURCE = "ANSI/AISC 360-22, J10.2: Fy t (5k + lb) each wall, 2.5k near an end (ASD 1.50)"
CRIPPLE_SOURCE = "ANSI/AISC 360-22, J10.3, wall and flange equally thick (ASD 2.00)"


def local_yielding(
    yield_strength: float, thickness: float, bearing: float, corner: float, spread: float = 5.0
) -> float:
    """Return the force that yields one wall, N. ANSI/AISC 360-22, eq. (J10-2), (J10-3): Fy t (5k + lb); spread 2.5 at
    an end.

    corner: k, outside of the face to the end of the bend, m; bearing: length along the member, m.
    """
    return yield_strength * thickness * (spread * corner + bearing)


def crippling(strengths: tuple[float, float], thickness: float, bearing: float, depth: float) -> float:
    """Return the force that cripples one wall away from an end, N. ANSI/AISC 360-22, eq. (J10-4) with tw = tf, Qf = 1.

    0.80 t2 (1 + 3 lb / d) sqrt(E Fy); strengths: (E, Fy), Pa; at least d / 2 from an end.
    """
    return 0.80 * thickness**2 * (1 + 3 * bearing / depth) * sqrt(strengths[0] * strengths[1])


def crippling_at_end(strengths: tuple[float, float], thickness: float, bearing: float, depth: float) -> float:
    """Return the force that cripples one wall within d / 2 of an end, N. ANSI/AISC 360-22, eq. (J10-5a), (J10-5b)."""
    ratio = bearing / depth
    growth = 3 * ratio if ratio <= 0.2 else 4 * ratio - 0.2
    return 0.40 * thickness**2 * (1 + growth) * sqrt(strengths[0] * strengths[1])


def crippling_cold_formed(
    row: CripplingRow, yield_strength: float, thickness: float, radius: float, lengths: tuple[float, float]
) -> float:
    """Return the web crippling strength of one cold-formed web, N. AISI S100-16, eq. (G5-1), web upright.

    C t2 Fy (1 - CR sqrt(R/t)) (1 + CN sqrt(N/t)) (1 - Ch sqrt(h/t)); radius: inside bend, m; lengths: (bearing N, flat
    web
    h), m.
    """
    return (
        row.c
        * thickness**2
        * yield_strength
        * (1 - row.c_radius * sqrt(radius / thickness))
        * (1 + row.c_bearing * sqrt(lengths[0] / thickness))
        * (1 - row.c_slenderness * sqrt(lengths[1] / thickness))
    )
