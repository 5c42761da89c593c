"""The face of a tube under a pad: it folds along yield lines or is punched. The pad is narrower than the face."""

from __future__ import annotations

from math import sqrt

FACE_SOURCE = (
    "yield lines on the face: ANSI/AISC 360-10, eq. (K2-7), ASD 1.50; EN 1993-1-8:2005, table 7.13, from memory"
)
BENDING_SOURCE = "EN 1993-1-8:2005, table 7.14, from memory, with linear interaction"
PUNCHING_SOURCE = "ANSI/AISC 360-22, table K3.2 shear yielding: 0.60 Fy t along the pad's outline, ASD 1.58"
WIDEST = 0.85


def axial(wall_strength: float, width_ratio: float, length_ratio: float) -> float:
    """Return the force that folds the face, N: Fy t2 (2 eta / (1 - beta) + 4 / sqrt(1 - beta)), beta <= 0.85.

    ANSI/AISC 360-10, eq. (K2-7), without Qf; wall_strength: Fy t2, N; width_ratio beta: pad over face; length_ratio
    eta:
    pad's length over the face's width.
    """
    open_share = 1.0 - width_ratio
    return wall_strength * (2 * length_ratio / open_share + 4 / sqrt(open_share))


def bending_along(wall_strength: float, width_ratio: float, length_ratio: float, length: float) -> float:
    """Return the moment that folds the face when the pad rocks along the member, Nm.

    EN 1993-1-8:2005, table 7.14 (in-plane), from memory: Fy t2 h (1 / 2 eta + 2 / sqrt(1 - beta) + eta / (1 - beta)).
    """
    open_share = 1.0 - width_ratio
    return wall_strength * length * (1 / (2 * length_ratio) + 2 / sqrt(open_share) + length_ratio / open_share)


def bending_across(wall_strength: float, width_ratio: float, length: float, widths: tuple[float, float]) -> float:
    """Return the moment that folds the face when the pad rocks across the member, Nm. widths: (face, pad), m.

    EN 1993-1-8:2005, table 7.14 (out of plane), from memory:
    Fy t2 (h (1 + beta) / (2 (1 - beta)) + sqrt(2 b0 b1 (1 + beta) / (1 - beta))).
    """
    grown = (1 + width_ratio) / (1 - width_ratio)
    return wall_strength * (length * grown / 2 + sqrt(2 * widths[0] * widths[1] * grown))


def punching(yield_strength: float, thickness: float, outline: tuple[float, float], slenderness: float) -> float:
    """Return the force that punches the face, N: 0.60 Fy t (2 length + 2 x effective width).

    ANSI/AISC 360-22, K1 (effective width 10 / (B/t) x pad's width) and table K3.2. outline: (width, length) of the
    pad, m.
    """
    effective = min(10 / slenderness, 1.0) * outline[0]
    return 0.60 * yield_strength * thickness * (2 * outline[1] + 2 * effective)


def compressed_face(utilisation: float, width_ratio: float) -> float:
    """Return Qf, what a compressed face has left: 1.3 - 0.4 U / beta, 0.4 to 1. ANSI/AISC 360-22, K1.3."""
    return min(max(1.3 - 0.4 * utilisation / width_ratio, 0.4), 1.0)


def least_end_distance(width: float, width_ratio: float) -> float:
    """Return the distance to an open end under which half the strength is left, m. ANSI/AISC 360-22, K1.4."""
    return width * sqrt(1.0 - width_ratio)


def doubler_thickness(
    force: float, wall: tuple[float, float], doubler_yield: float, ratios: tuple[float, float]
) -> float:
    """Return the thickness of a doubler with which the face carries `force` (N), m; 0 where none is needed.

    Wall and doubler fold together, their plastic moments added (Fy t2 each), no composite action counted: a lower
    bound of
    plastic theory. wall: (Fy t2 of the bare wall, share left by compression and end); ratios: (beta, eta) of the pad.
    """
    per_strength = axial(1.0, *ratios) * wall[1]
    missing = force / per_strength - wall[0]
    return sqrt(max(missing, 0.0) / doubler_yield)
