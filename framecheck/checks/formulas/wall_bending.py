"""A wall under a branch where no standard prints it, worked out here: its yield lines by virtual work, and how hard it is bent
elastically.

Plastic moment m = fy t^2 / 4 a length (fold: fy t^2, N). The pattern is that of EN 1993-1-8, table 7.11: panels beside the patch turn
about their edges, end panels reach x beyond the patch, x as it gives least. Like every such pattern it gives no less than the truth;
the standards use it with gamma M5 = 1. docs/theory/joints.md has the arithmetic.

Walls on their middle lines; a: free width on either side of the patch; L: how much of the strip's length works, h1 + share x b0.
Strip clamped at both edges, its rigidity D a length: moved by d and turned by phi at the patch, m = 6 D d / a^2 + 4 D phi / a there,
and force 12 D d / a^3 + 6 D phi / a^2 (slope-deflection). The shares are fitted to shell models of one box joint, plate bending in
the first ring of elements, two thirds of a wall from the branch's middle line: nearer than a weld's toe, which is unfavourable. Held
against shells of a round tube on a box and a box on a channel, and against the tables for square tubes of CIDECT design guide 8
(from memory), in tests/verification/test_face_fatigue.py. Stress is 6 m / t^2.
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


ABOUT_RAIL, IN_PLANE = 0.09, 0.33
"""Shares of b0: fitted to 18.64 and 19.71 times the branch's own stress (box 97 x 47 x 3 under box 47 x 47 x 3 mm)."""
ROUND_AS_SQUARE = 0.8
"""A round branch as a square patch of so much of its diameter: fitted to the shell of one round tube."""


def of_force(t: float, sizes: tuple[float, float, float]) -> float:
    """Return the bending stress a unit of force square to the wall, 1/m2: m = a / (4 L). sizes: (b0, b1, h1), m."""
    b0, b1, h1 = sizes
    return 6 / t**2 * (b0 - b1) / 2 / (4 * (h1 + ABOUT_RAIL * b0))


def of_moment_about_rail(t: float, sizes: tuple[float, float, float]) -> float:
    """Return the bending stress a unit of moment about the rail, 1/m3: m = (6 r + 4) / (2 L (12 r2 + 12 r + 4)), r = b1 / 2a."""
    b0, b1, h1 = sizes
    r = b1 / (b0 - b1)
    return 6 / t**2 * (6 * r + 4) / (12 * r**2 + 12 * r + 4) / (2 * (h1 + ABOUT_RAIL * b0))


def of_moment_in_plane(t: float, sizes: tuple[float, float, float]) -> float:
    """Return the bending stress a unit of moment in the plane of rail and branch, 1/m3: m = 1.5 h1 a / L3."""
    b0, b1, h1 = sizes
    return 6 / t**2 * 1.5 * h1 * (b0 - b1) / 2 / (h1 + IN_PLANE * b0) ** 3
