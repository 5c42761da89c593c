"""Fatigue of unwelded metal from its tensile strength, its surface and the mean stress; normal and shear stress together."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from framecheck.checks.fatigue.swings import Swings
from framecheck.model.arrays import Array
from framecheck.model.duty import BaseMetal, Finish, MeanStress

SOURCE = (
    "J. E. Shigley, Mechanical Engineering Design, 9th ed., eq. (6-55), (6-56): normal and shear stress together (von Mises), normal "
    "amplitude over 0.85; eq. (6-8), (6-14), (6-19), from memory; beyond 1e6 cycles E. Haibach's slope 2k - 1, from memory"
)
KNEE = 1e6
AXIAL = 0.85
"""A wall that is pulled all through bears less than the skin of a bar that is bent. Shigley, 9th ed., section 6-14: the normal
amplitude is divided by it; shear is not, for von Mises holds shear's own factor.
"""


def surface_factor(finish: Finish, ultimate: float) -> float:
    """Return ka = a Su^b, at most 1; ultimate in Pa. J. E. Shigley, Mechanical Engineering Design, eq. (6-19)."""
    return float(min(finish.a * (ultimate / 1e6) ** finish.b, 1.0))


def fatigue_limit(metal: BaseMetal, ultimate: float) -> float:
    """Return the amplitude, fully reversed, that is borne for ever if never exceeded, Pa.

    0.5 Su (at most 700 MPa) times surface and reliability factors. J. E. Shigley, eq. (6-8), (6-18).
    """
    return min(0.5 * ultimate, 700e6) * surface_factor(metal.finish, ultimate) * metal.reliability


def von_mises(normal: Array, shear: Array) -> Array:
    """Return sqrt(sigma2 + 3 tau2), Pa. J. E. Shigley, Mechanical Engineering Design, 9th ed., eq. (6-55), (6-56)."""
    return np.asarray(np.sqrt(normal**2 + 3 * shear**2), dtype=np.float64)


def equivalent(stress: Swings) -> tuple[Array, Array]:
    """Return the amplitude and the mean of the one stress that wears as normal and shear stress do together, (n_block, ...), Pa.

    Shigley, 9th ed., eq. (6-55), (6-56). Unfavourable: the mean of a torque counts (in smooth bars it does no harm: section 6-13), a
    mean pressure does not help.
    """
    amplitude = von_mises(stress.normal / 2 / AXIAL, stress.shear / 2)
    return amplitude, von_mises(np.maximum(stress.mean, 0.0), stress.shear_mean)


def goodman(amplitude: Array, mean: Array, ultimate: float) -> Array:
    """Return the fully reversed amplitude sa / (1 - sm / Su), Pa. J. Goodman (1899)."""
    return amplitude / np.maximum(1 - np.maximum(mean, 0.0) / ultimate, 1e-12)


def gerber(amplitude: Array, mean: Array, ultimate: float) -> Array:
    """Return the fully reversed amplitude sa / (1 - (sm / Su)2), Pa. H. Gerber (1874)."""
    return amplitude / np.maximum(1 - (np.maximum(mean, 0.0) / ultimate) ** 2, 1e-12)


def smith_watson_topper(amplitude: Array, mean: Array, ultimate: float) -> Array:
    """Return the fully reversed amplitude sqrt(smax sa), Pa. K. N. Smith, P. Watson, T. H. Topper (1970); ultimate is not used."""
    return np.asarray(np.sqrt((np.maximum(mean, 0.0) + amplitude) * amplitude), dtype=np.float64)


RULES: dict[MeanStress, Callable[[Array, Array, float], Array]] = {
    MeanStress.GOODMAN: goodman,
    MeanStress.GERBER: gerber,
    MeanStress.SWT: smith_watson_topper,
}


def cycles_to_failure(reversed_amplitude: Array, limit: float, ultimate: float) -> Array:
    """Return the cycles that the metal bears at fully reversed amplitudes (Pa), any shape.

    O. H. Basquin's line through 0.9 Su at 1e3 and the limit at 1e6 cycles (J. E. Shigley, eq. (6-14), f = 0.9), from there on with
    slope 2k - 1. Amplitudes of the tensile strength or more bear nothing.
    """
    slope = 3.0 / np.log10(0.9 * ultimate / limit)
    size = np.maximum(reversed_amplitude, 1e-3)
    beyond = np.where(size >= limit, slope, 2 * slope - 1)
    found = KNEE * (limit / size) ** beyond
    return np.where(size >= ultimate, 1e-9, found)


def damage(stress: Swings, cycles: Array, metal: BaseMetal, strengths: tuple[float, float]) -> Array:
    """Return Miner's sum, (...,). strengths: (ultimate, partial factor on strength).

    Nothing where the largest reversed amplitude stays under the fatigue limit.
    """
    ultimate, factor = strengths
    reversed_amplitude = RULES[metal.mean_stress](*equivalent(stress), ultimate)
    limit = fatigue_limit(metal, ultimate)
    counted = cycles.reshape((-1,) + (1,) * (reversed_amplitude.ndim - 1))
    total = np.sum(counted / cycles_to_failure(reversed_amplitude * factor, limit, ultimate), axis=0)
    return np.where(reversed_amplitude.max(axis=0) * factor <= limit, 0.0, total)
