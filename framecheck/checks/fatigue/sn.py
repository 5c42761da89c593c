"""Damage: S-N lines of detail classes, unwelded metal from its tensile strength and surface, Miner's sum."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from framecheck.checks.fatigue.swings import Spectra, Swings
from framecheck.model.arrays import Array
from framecheck.model.duty import BaseMetal, DetailClass, MeanStress, SurfaceFinish

REFERENCE_CYCLES = 2e6


def knee_range(detail: DetailClass) -> float:
    """Return the range at the knee, Pa: reference (2e6 / knee)^(1 / m). EN 1993-1-9:2005, 7.1(2): 0.737 of the class."""
    return float(detail.reference * (REFERENCE_CYCLES / detail.knee) ** (1 / detail.slope))


def cut_off_range(detail: DetailClass) -> float:
    """Return the range below which nothing is damaged, Pa, 0 where every range damages.

    EN 1993-1-9:2005, 7.1(3): 0.549 of the range at the knee.
    """
    if np.isinf(detail.cut_off):
        return 0.0
    return float(knee_range(detail) * (detail.knee / detail.cut_off) ** (1 / detail.slope_beyond))


def endurance_limit(detail: DetailClass) -> float:
    """Return the range under which no cycle at all cracks the detail, if none is ever larger, Pa; 0: the standard gives none.

    EN 1993-1-9:2005, 7.1(2) (constant amplitude limit). IIW, Recommendations for Fatigue Design: there is none to count on.
    """
    return knee_range(detail) if np.isfinite(detail.cut_off) else 0.0


def cycles_to_failure(ranges: Array, detail: DetailClass) -> Array:
    """Return the cycles that a detail bears at ranges (Pa), inf below its cut-off; any shape.

    EN 1993-1-9:2005, 7.1: N = 2e6 (class / range)^m to the knee, from there with the second slope to the cut-off.
    """
    knee, least = knee_range(detail), cut_off_range(detail)
    size = np.maximum(ranges, 1e-3)
    upper = REFERENCE_CYCLES * (detail.reference / size) ** detail.slope
    lower = detail.knee * (knee / size) ** detail.slope_beyond
    found = np.where(size >= knee, upper, lower)
    return np.where((ranges <= 0) | (size < least * (1 - 1e-12)), np.inf, found)


def damage(ranges: Array, cycles: Array, detail: DetailClass) -> Array:
    """Return Miner's sum n / N, (...,), of one kind of stress; ranges (n_block, ...), Pa, with partial factors; cycles (n_block,).

    A. Palmgren, M. A. Miner; EN 1993-1-9:2005, annex A. Nothing where the largest range stays under the endurance limit.
    """
    return damage_together(((ranges, detail),), cycles)


def damage_together(parts: Sequence[tuple[Array, DetailClass]], cycles: Array) -> Array:
    """Return Miner's sum of normal and shear stress at one place, (...,); parts: ranges (n_block, ...) of each, and its class.

    EN 1993-1-9:2005, 8(3), from memory: (dsigma / dsigma_C)^3 + (dtau / dtau_C)^5 <= 1 of equivalent ranges, which is the sum of both
    damages. Nothing where each stays under its endurance limit; where one passes it, both wear (unfavourable).
    """
    spared = np.all([ranges.max(axis=0) <= endurance_limit(detail) for ranges, detail in parts], axis=0)
    total = np.sum([summed(ranges, cycles, detail) for ranges, detail in parts], axis=0)
    return np.where(spared, 0.0, total)


def summed(ranges: Array, cycles: Array, detail: DetailClass) -> Array:
    """Return the sum of n / N over the blocks, (...,); ranges under the cut-off do nothing."""
    counted = cycles.reshape((-1,) + (1,) * (ranges.ndim - 1))
    return np.asarray(np.sum(counted / cycles_to_failure(ranges, detail), axis=0), dtype=np.float64)


def damage_of_spectra(parts: Sequence[tuple[Array, DetailClass]], spectra: Spectra) -> Array:
    """Return Miner's sum as damage_together, (n_place,), of spectra.

    parts: ranges (n_spectrum, n_place) of whole swings, and the class of each.
    A place where nothing passes its endurance limit is looked at no further, and a long record costs no more than a short one.
    """
    widest = spectra.widest[:, None]
    worn = np.any([(widest * ranges).max(axis=0) > endurance_limit(detail) for ranges, detail in parts], axis=0)
    total = np.zeros(worn.shape)
    if worn.any():
        total[worn] = sum(_summed_of_spectra(ranges[:, worn], spectra, detail) for ranges, detail in parts)
    return total


def _summed_of_spectra(ranges: Array, spectra: Spectra, detail: DetailClass) -> Array:
    """Return the sum of n / N over all swings of spectra, (n_place,); ranges (n_spectrum, n_place) of whole swings."""
    if len(spectra.of) == len(spectra.first):
        return summed(spectra.widest[:, None] * ranges, spectra.cycles, detail)
    swings = [spectra.between(number) for number in range(len(spectra.first))]
    of_each = [
        damage_of_spectrum(each, (spectra.spread[at], spectra.cycles[at]), detail)
        for each, at in zip(ranges, swings, strict=True)
    ]
    return np.asarray(np.sum(of_each, axis=0), dtype=np.float64)


def damage_of_spectrum(ranges: Array, swings: tuple[Array, Array], detail: DetailClass) -> Array:
    """Return the sum of n / N, (n_place,), of swings that are parts of one; ranges: of the whole swing, (n_place,), Pa.

    swings: their spreads, the widest first, and their cycles, (n_swing,). The line is straight between knee and cut-off, so that the
    swings that pass each of the two have their sum of n spread^m once for all places.
    """
    spread, cycles = swings
    size = np.maximum(ranges, 1e-3)
    knee, least = knee_range(detail), cut_off_range(detail) * (1 - 1e-12)
    steep, all_told = (np.searchsorted(-spread, -limit / size, side="right") for limit in (knee, least))
    upper, lower = (np.cumsum(np.append(0.0, cycles * spread**slope)) for slope in (detail.slope, detail.slope_beyond))
    beyond = lower[np.maximum(all_told, steep)] - lower[steep]
    above_knee = upper[steep] * (size / detail.reference) ** detail.slope / REFERENCE_CYCLES
    found = above_knee + beyond * (size / knee) ** detail.slope_beyond / detail.knee
    return np.where(ranges > 0.0, found, 0.0)


SOURCE = (
    "J. E. Shigley, Mechanical Engineering Design, 9th ed., eq. (6-55), (6-56): normal and shear stress together (von Mises), normal "
    "amplitude over 0.85; eq. (6-8), (6-14), (6-19), from memory; beyond 1e6 cycles E. Haibach's slope 2k - 1, from memory"
)
KNEE = 1e6
AXIAL = 0.85
"""A wall that is pulled all through bears less than the skin of a bar that is bent. Shigley, 9th ed., section 6-14: the normal
amplitude is divided by it; shear is not, for von Mises holds shear's own factor.
"""


def surface_factor(finish: SurfaceFinish, ultimate: float) -> float:
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


def cycles_of_base_metal(reversed_amplitude: Array, limit: float, ultimate: float) -> Array:
    """Return the cycles that the metal bears at fully reversed amplitudes (Pa), any shape.

    O. H. Basquin's line through 0.9 Su at 1e3 and the limit at 1e6 cycles (J. E. Shigley, eq. (6-14), f = 0.9), from there on with
    slope 2k - 1. Amplitudes of the tensile strength or more bear nothing.
    """
    slope = 3.0 / np.log10(0.9 * ultimate / limit)
    size = np.maximum(reversed_amplitude, 1e-3)
    beyond = np.where(size >= limit, slope, 2 * slope - 1)
    found = KNEE * (limit / size) ** beyond
    return np.where(size >= ultimate, 1e-9, found)


def damage_of_base_metal(stress: Swings, cycles: Array, metal: BaseMetal, strengths: tuple[float, float]) -> Array:
    """Return Miner's sum, (...,). strengths: (ultimate, partial factor on strength).

    Nothing where the largest reversed amplitude stays under the fatigue limit.
    """
    ultimate, factor = strengths
    reversed_amplitude = RULES[metal.mean_stress](*equivalent(stress), ultimate)
    limit = fatigue_limit(metal, ultimate)
    counted = cycles.reshape((-1,) + (1,) * (reversed_amplitude.ndim - 1))
    total = np.sum(counted / cycles_of_base_metal(reversed_amplitude * factor, limit, ultimate), axis=0)
    return np.where(reversed_amplitude.max(axis=0) * factor <= limit, 0.0, total)
