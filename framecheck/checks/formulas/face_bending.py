"""How hard the wall under a branch is bent, elastically: a strip between the walls beside it, turned or moved by a stiff patch. SI.

Walls on their middle lines; a: free width on either side of the patch; L: how much of the strip's length works, h1 + share x b0.
Strip clamped at both edges, its rigidity D a length: moved by d and turned by phi at the patch, m = 6 D d / a^2 + 4 D phi / a there,
and force 12 D d / a^3 + 6 D phi / a^2 (slope-deflection). The shares are fitted to shell models of one box joint, plate bending in
the first ring of elements, two thirds of a wall from the branch's middle line: nearer than a weld's toe, which is unfavourable. Held
against shells of a round tube on a box and a box on a channel, and against the tables for square tubes of CIDECT design guide 8
(from memory), in tests/verification/test_face_fatigue.py. Stress is 6 m / t^2.
"""

from __future__ import annotations

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
