"""Yield lines of a strip of plate under a stiff patch, where no standard prints them: worked out here by virtual work. SI.

Plastic moment m = fy t^2 / 4 a length (fold: fy t^2, N). The pattern is that of EN 1993-1-8, table 7.11: panels beside the patch turn
about their edges, end panels reach x beyond the patch, x as it gives least. Like every such pattern it gives no less than the truth;
the standards use it with gamma M5 = 1. docs/theory/joints.md has the arithmetic.
"""

from __future__ import annotations

from math import sqrt

HINGED = "yield lines of a web whose flanges turn with it, worked out by virtual work (docs/theory/joints.md)"
OPEN_SIDED = "an open branch: yield lines at its open side left out (worked out, docs/theory/joints.md)"


def hinged_axial(fold: float, beta: float, eta: float) -> float:
    """Return the force that folds a strip whose edges turn freely, N: fold (eta / (1 - beta) + 2 sqrt(2) / sqrt(1 - beta)).

    Work for a patch moved by 1, a = b0 (1 - beta) / 2: patch sides 2 h1 / a, diagonals 4 x / a + 4 a / x, ends 2 (b1 + b0) / x; least
    at x = sqrt(a b0).
    """
    rest = 1.0 - beta
    return fold * (eta / rest + 2 * sqrt(2 / rest))


def hinged_in_plane(fold: float, beta: float, eta: float, h1: float) -> float:
    """Return the moment along the strip that folds it, Nm: fold h1 (eta / (4 (1 - beta)) + 1 + sqrt(2) / sqrt(1 - beta)).

    Patch turned by 1: panels beside it warp (lines h1^2 / 2 a, twist 4 h1), both ends as under a force at h1 / 2.
    """
    rest = 1.0 - beta
    return fold * h1 * (eta / (4 * rest) + 1.0 + sqrt(2 / rest))


def hinged_out_of_plane(fold: float, beta: float, b0: float, h1: float) -> float:
    """Return the moment across the strip that folds it, Nm: fold (h1 / (2 (1 - beta)) + half the ends of EN 1993-1-8, table 7.14).

    Panels beside the patch: 2 h1 / (1 - beta) m. Of the ends' work no more than half lies along the strip's edges: it is left out.
    """
    rest = 1.0 - beta
    return fold * (h1 / (2 * rest) + 0.5 * sqrt(2 * b0 * b0 * beta * (1 + beta) / rest))


def one_ended_axial(fold: float, beta: float, eta: float) -> float:
    """Return the force that folds a wall with one end panel counted, N: fold (2 eta / (1 - beta) + 2 / sqrt(1 - beta))."""
    rest = 1.0 - beta
    return fold * (2 * eta / rest + 2 / sqrt(rest))


def one_ended_out_of_plane(fold: float, beta: float, b0: float, h1: float) -> float:
    """Return the moment about the rail that folds a wall with one end panel counted, Nm: EN 1993-1-8, table 7.14, half of its ends."""
    grown = (1 + beta) / (1 - beta)
    return fold * (h1 * grown / 2 + 0.5 * sqrt(2 * b0 * b0 * beta * grown))
