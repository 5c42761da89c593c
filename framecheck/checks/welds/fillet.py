"""Strength of fillet welds per length, N/m: weld metal, the metal beside it, and sheet."""

from __future__ import annotations

import math
from math import sin, sqrt

from framecheck.model.weld_joints import Direction

THROAT = sqrt(0.5)
SHEET = 3 / 16 * 0.0254
LONG_SOURCE = "a run beyond 100 legs: ANSI/AISC 360-22, eq. (J2-1)"
METAL_SOURCE = "ANSI/AISC 360-22, J2.4, table J2.5: nominal shear strength (0.60 FEXX) on the throat (ASD 2.00)"
YIELD_SOURCE = "ANSI/AISC 360-22, eq. (J4-3): 0.60 Fy t (ASD 1.50), strength beside the weld"
RUPTURE_SOURCE = "ANSI/AISC 360-22, eq. (J4-4): 0.60 Fu t (ASD 2.00), strength beside the weld"
SHEET_SOURCE = "AISI S100-16, J2.5, longitudinal, from memory (ASD 2.55 to 25 t of length, 3.05 beyond)"


def weld_metal(shear: float, leg: float) -> float:
    """Return the strength of an equal-leg fillet, N/m: nominal shear strength (0.60 FEXX for steel) x 0.707 leg.

    ANSI/AISC 360-22, J2.4 and table J2.5.
    """
    return shear * THROAT * leg


def directional_factor(angle: float) -> float:
    """Return 1 + 0.50 sin^1.5(angle): strength of a fillet loaded at an angle (rad) to its length. AISC 360-22,
    J2.4(a)(1).
    """
    return 1.0 + 0.50 * math.pow(sin(angle), 1.5)


def allowed_factor(angle: float, ends_a_tube: bool, direction: Direction) -> float:
    """Return the directional factor where it may be used, else 1.

    ANSI/AISC 360-22, J2.4(a)(2) and the note to K5: 1.0 for fillets to the end of a rectangular tube. Tests on tube
    joints
    found the increase unsafe together with effective lengths (McFadden, Sun, Packer: Weld Design and Fabrication for
    RHS
    Connections).
    """
    if direction is Direction.IGNORED or ends_a_tube:
        return 1.0
    return directional_factor(angle)


def wall_yield(yield_strength: float, thickness: float) -> float:
    """Return the shear yield of the wall beside the weld, N/m. ANSI/AISC 360-22, eq. (J4-3): 0.60 Fy t."""
    return 0.60 * yield_strength * thickness


def wall_rupture(ultimate: float, thickness: float) -> float:
    """Return the shear rupture of the wall beside the weld, N/m. ANSI/AISC 360-22, eq. (J4-4): 0.60 Fu t."""
    return 0.60 * ultimate * thickness


def sheet_longitudinal(ultimate: float, thickness: float, length: float) -> float:
    """Return the strength of a fillet along its force on sheet up to 3/16 in, N/m. AISI S100-16, J2.5, from memory.

    (1 - 0.01 L/t) t Fu for L/t < 25, else 0.75 t Fu.
    """
    return max(1.0 - 0.01 * length / thickness, 0.75) * thickness * ultimate


def sheet_target(thickness: float, length: float) -> float:
    """Return the ASD factor of a longitudinal fillet on sheet: 2.55 for L/t < 25, else 3.05. AISI S100-16, from
    memory.
    """
    return 2.55 if length / thickness < 25 else 3.05


def end_loaded_factor(length: float, leg: float) -> float:
    """Return the length reduction of an end-loaded fillet: 1.2 - 0.002 L/w, 1 up to 100 w. ANSI/AISC 360-22, eq.
    (J2-1).

    Beyond 300 w the effective length is 180 w (J2.2b(d)), from memory.
    """
    slenderness = length / leg
    if slenderness > 300:
        return 180 / slenderness
    return min(1.2 - 0.002 * slenderness, 1.0)


def leg_required(force_per_length: float, shear: float, target: float, length: float) -> float:
    """Return the leg, m, at which the weld metal of a run (length: m) meets the target under a force per length, N/m.

    The throat strength solved for the leg; a run beyond 100 legs counts by its end_loaded_factor, solved with it.
    """
    effective = force_per_length * target / (shear * THROAT)
    if length <= 100 * effective:
        return effective
    leg = (effective + 0.002 * length) / 1.2
    return leg if length <= 300 * leg else sqrt(effective * length / 180)
