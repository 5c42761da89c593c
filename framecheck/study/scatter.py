"""Tolerances drawn many times: the spread of the lowest safety factor, and how often a target is missed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import sqrt

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.study import Scatter, Spread, Tolerance
from framecheck.study.measure import VariantRow
from framecheck.value_class import array_class, value_class

SURE = 0.95
QUANTILES = (0.01, 0.05, 0.5, 0.95)


@value_class
class Nominal:
    """What a field holds where nothing scatters: number and unit as written."""

    value: float
    unit: str


@array_class
class Draws:
    """Draws of the tolerances' fields as a case would hold them, laid out as the variants of a study.

    fixed: what the study's own fields hold; amounts: (n_draw, n_tolerance), each in its nominal's unit.
    """

    fixed: tuple[str, ...]
    nominal: tuple[Nominal, ...]
    amounts: Array

    @property
    def count(self) -> int:
        """Return the number of draws."""
        return len(self.amounts)

    def texts(self, number: int) -> tuple[str, ...]:
        """Return what each field holds in one draw."""
        drawn = zip(self.amounts[number].tolist(), self.nominal, strict=True)
        return (*self.fixed, *(f"{amount:.12g} {of.unit}".strip() for amount, of in drawn))


@value_class
class Scattered:
    """What the draws say. missed: how many miss a target (those that can't be run count as missed); chance: missed over draws;
    low, high: Wilson's interval of the chance at SURE. quantiles: of the lowest safety factor, by share. mean, deviation: of it.
    """

    draws: int
    missed: int
    faulty: int
    chance: float
    low: float
    high: float
    mean: float
    deviation: float
    quantiles: tuple[tuple[float, float], ...]
    seed: int


def draws_of(scatter: Scatter, nominal: Sequence[Nominal], fixed: Sequence[str]) -> Draws:
    """Return the draws from the fixed seed, each by itself, so that the interval of the chance holds whatever the frame does."""
    places = np.random.default_rng(scatter.seed).standard_normal((scatter.draws, len(nominal)))
    return draws_at(scatter, nominal, fixed, places)


def draws_at(scatter: Scatter, nominal: Sequence[Nominal], fixed: Sequence[str], places: Array) -> Draws:
    """Return the draws at places (n_draw, n_tolerance) of independent standard normal variables."""
    amounts = [spread(t, n, places[:, i]) for i, (t, n) in enumerate(zip(scatter.tolerances, nominal, strict=True))]
    return Draws(tuple(fixed), tuple(nominal), frozen(np.stack(amounts, axis=1)))


def spread(tolerance: Tolerance, nominal: Nominal, places: Array) -> Array:
    """Return amounts (n,) about a nominal value, the median of all three spreads, at places of a standard normal variable."""
    from scipy.special import ndtr

    relative = tolerance.unit is None
    size = tolerance.deviation * (abs(nominal.value) if relative else 1.0)
    match tolerance.spread:
        case Spread.NORMAL:
            return np.asarray(nominal.value + size * places)
        case Spread.UNIFORM:
            return np.asarray(nominal.value + size * (2.0 * ndtr(places) - 1.0))
        case Spread.LOGNORMAL:
            deviation = tolerance.deviation if relative else size / abs(nominal.value)
            return np.asarray(nominal.value * np.exp(deviation * places))


def summed_up(rows: Iterable[VariantRow], seed: int) -> Scattered:
    """Return what the rows of all draws say."""
    factors: list[float] = []
    count = missed = faulty = 0
    for row in rows:
        count, missed, faulty = count + 1, missed + (not row.passes), faulty + bool(row.fault)
        if row.safety_factor is not None:
            factors.append(row.safety_factor)
    low, high = wilson(missed, count)
    values = np.array(factors if factors else [np.nan])
    levels = tuple((share, float(np.quantile(values, share))) for share in QUANTILES)
    deviation = float(values.std(ddof=1)) if len(values) > 1 else 0.0
    return Scattered(count, missed, faulty, missed / count, low, high, float(values.mean()), deviation, levels, seed)


def wilson(missed: int, count: int, sure: float = SURE) -> tuple[float, float]:
    """Return Wilson's interval of a chance seen `missed` times in `count` draws.

    E. B. Wilson, J. Am. Stat. Assoc. 22 (1927), 209-212; as in the NIST/SEMATECH handbook, 7.2.4.1 (from memory).
    """
    from scipy.special import ndtri

    z2 = float(ndtri(0.5 + sure / 2)) ** 2
    share = missed / count
    middle = share + z2 / (2 * count)
    half = sqrt(z2 * (share * (1 - share) / count + z2 / (4 * count**2)))
    whole = 1 + z2 / count
    return max(0.0, (middle - half) / whole), min(1.0, (middle + half) / whole)
