"""Slip of faces pressed together by bolts, by three published rules."""

from __future__ import annotations

from collections.abc import Callable

from framecheck.model.joint_tables import SlipRule
from framecheck.model.joints import MEAN_OVER_LEAST, Bolt, Tightened

SOURCES = {
    SlipRule.AISC: "ANSI/AISC 360-22, J3.9 and J3.10 (mu Du Tb ns; Du 1.13 for a controlled least clamp, 1 for the least of a torque)",
    SlipRule.EN: "EN 1993-1-8:2005, 3.9.1 and 3.9.2, from memory, without the partial factor",
    SlipRule.PLAIN: "friction on the clamp force; the coefficient is common practice, no source",
}


def slip_aisc(friction: float, clamp: float, planes: int, tension: float) -> float:
    """Return the slip resistance of one bolt, N. ANSI/AISC 360-22, eq. (J3-4) and (J3-5b); 1.5: its ASD load factor.

    clamp: Du Tb, what is counted on.
    """
    return friction * clamp * planes * max(1.0 - 1.5 * tension / max(clamp, 1e-12), 0.0)


def slip_en(friction: float, clamp: float, planes: int, tension: float) -> float:
    """Return the slip resistance of one bolt, N. EN 1993-1-8:2005, eq. (3.6), (3.8), from memory, no gamma_M3."""
    return friction * planes * max(clamp - 0.8 * tension, 0.0)


def slip_plain(friction: float, clamp: float, planes: int, tension: float) -> float:
    """Return mu n (F - T), N: friction on what is left of the clamp force (statics)."""
    return friction * planes * max(clamp - tension, 0.0)


RULES: dict[SlipRule, Callable[[float, float, int, float], float]] = {
    SlipRule.AISC: slip_aisc,
    SlipRule.EN: slip_en,
    SlipRule.PLAIN: slip_plain,
}


def clamp_counted(bolt: Bolt) -> float | None:
    """Return the clamp that slip may count on, N: the least that the tightening makes; by AISC the mean of a controlled one."""
    if bolt.least_clamp is None or bolt.surface is None:
        return None
    mean = bolt.surface.rule is SlipRule.AISC and bolt.tightened is Tightened.CONTROLLED
    return bolt.least_clamp * (MEAN_OVER_LEAST if mean else 1.0)


def slip_as_aimed(bolt: Bolt, tension: float) -> float | None:
    """Return the slip resistance with the clamp that the tightening aims at, N; None: not known, or no less is counted on."""
    clamp, counted = bolt.clamp, clamp_counted(bolt)
    if clamp is None or counted is None or bolt.surface is None or counted >= clamp:
        return None
    return RULES[bolt.surface.rule](bolt.surface.friction, clamp, bolt.shear_planes, tension)


def slip_resistance(bolt: Bolt, tension: float) -> float | None:
    """Return the slip resistance of a bolt under tension (N) by its surface's rule, N; None: not known."""
    clamp = clamp_counted(bolt)
    if clamp is None or bolt.surface is None:
        return None
    return RULES[bolt.surface.rule](bolt.surface.friction, clamp, bolt.shear_planes, tension)
