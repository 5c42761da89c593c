"""Strength of one bolt: shear, tension, both at once. Nominal values; the safety factor is asked outside."""

from __future__ import annotations

from math import pi

from framecheck.model.joints import Bolt, Threads

SHEAR_SOURCE = "EN 1993-1-8:2005, table 3.4, without the partial factor; target: ANSI/AISC 360-22, J3.7 (ASD 2.00)"
TENSION_SOURCE = "EN 1993-1-8:2005, table 3.4 (0.9 fub As), without the partial factor; target: ANSI/AISC 360-22, J3.7"
BOTH_SOURCE = "ANSI/AISC 360-22, eq. (J3-3b), for proportional growth of both"


def shear_through_threads(shear_factor: float, tensile: float, stress_area: float) -> float:
    """Return the shear strength of one plane through the threads, N. EN 1993-1-8:2005, table 3.4: alpha_v fub As."""
    return shear_factor * tensile * stress_area


def shear_through_shank(tensile: float, diameter: float) -> float:
    """Return the shear strength of one plane through the full shank, N. EN 1993-1-8:2005, table 3.4: 0.6 fub A."""
    return 0.6 * tensile * pi * diameter**2 / 4


def shear_strength(bolt: Bolt) -> float:
    """Return the shear strength of the bolt over all its planes, N."""
    if bolt.threads is Threads.IN:
        one = shear_through_threads(bolt.grade.shear_factor, bolt.grade.tensile, bolt.thread.stress_area)
    else:
        one = shear_through_shank(bolt.grade.tensile, bolt.thread.diameter)
    return bolt.shear_planes * one


def tension_strength(bolt: Bolt) -> float:
    """Return the tensile strength, N. EN 1993-1-8:2005, table 3.4: 0.9 fub As."""
    return 0.9 * bolt.grade.tensile * bolt.thread.stress_area


def used_by_both(shear_use: float, tension_use: float) -> float:
    """Return the share of strength used by shear and tension together (1: the limit), both growing in proportion.

    ANSI/AISC 360-22, eq. (J3-3): F'nt = 1.3 Fnt - (Fnt / Fnv) frv <= Fnt, solved for the common factor. shear_use,
    tension_use: each force over its own strength.
    """
    return max(shear_use, tension_use, (shear_use + tension_use) / 1.3)
