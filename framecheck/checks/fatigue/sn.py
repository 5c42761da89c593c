"""S-N lines of detail classes, and Miner's sum."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.checks.fatigue.spectra import Spectra
from framecheck.model.arrays import Array
from framecheck.model.duty import DetailClass

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
