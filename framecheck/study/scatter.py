"""Tolerances drawn many times: the spread of the lowest safety factor, and the likeliest way to miss a target.

Tolerances are told as independent standard normal variables u. The likeliest miss is the point of the limit (what is asked is
just met) nearest to u = 0; its distance is the reliability index. A. M. Hasofer, N. C. Lind, J. Eng. Mech. Div. ASCE 100 (1974),
111-121; found by the steps of R. Rackwitz, B. Fiessler, Computers & Structures 9 (1978), 489-494; both from memory.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import sqrt

import numpy as np

from framecheck.model.arrays import Array, BoolArray, frozen
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


Margins = Callable[[Array], Array]
"""From places (n, n_tolerance) of the normal variables to margins (n,): above zero where every target is met."""

STEP = 0.1
"""Over which slopes are taken, standard deviations."""
NEAR = 0.02
"""How near two steps have to come, standard deviations."""
MOST_STEPS = 15
FURTHEST = 8.0
"""A chance of 1e-15: what lies further never happens."""


@array_class
class LikeliestMiss:
    """The point of the limit nearest to the middle. place (n,): in standard deviations; index: its distance, below zero where the
    middle itself misses; chance: of a miss to first order; shares (n,): of the index squared, how much each tolerance counts.
    settled: whether the search came to rest.
    """

    place: Array
    index: float
    chance: float
    shares: Array
    settled: bool
    runs: int


@value_class
class Chance:
    """A chance with its standard error, from so many weighed draws."""

    chance: float
    error: float
    draws: int


def likeliest_miss(margins: Margins, count: int) -> LikeliestMiss:
    """Return the likeliest miss of `count` tolerances."""
    from scipy.special import ndtr

    place, runs, settled = np.zeros(count), 0, False
    middle = 1.0
    for step in range(MOST_STEPS):
        here, slope = slopes(margins, place)
        runs += 1 + count
        middle = here if step == 0 else middle
        if not slope.any():
            break
        further = (slope @ place - here) / (slope @ slope) * slope
        further *= min(1.0, FURTHEST / max(float(np.linalg.norm(further)), 1e-12))
        settled = bool(np.linalg.norm(further - place) < NEAR)
        place = further
        if settled:
            break
    distance = float(np.linalg.norm(place))
    index = distance if middle >= 0 else -distance
    shares = place**2 / distance**2 if distance > 0 else np.zeros(count)
    return LikeliestMiss(frozen(place), index, float(ndtr(-index)), frozen(shares), settled, runs)


def slopes(margins: Margins, place: Array) -> tuple[float, Array]:
    """Return the margin at a place and its slopes (n,), by differences toward the outside."""
    outward = np.where(place < 0, -STEP, STEP)
    found = margins(np.vstack([place, place + np.diag(outward)]))
    return float(found[0]), np.asarray((found[1:] - found[0]) / outward)


def chance_about(missed: Callable[[Array], BoolArray], place: Array, draws: int, seed: int) -> Chance:
    """Return the chance of a miss from draws about the likeliest one, each weighed by how much likelier it is there than by nature.

    Importance sampling (H. Kahn, A. W. Marshall, J. Oper. Res. Soc. Am. 1 (1953), 263-278; from memory). The error is that of a
    mean of independent draws.
    """
    drawn = place + np.random.default_rng(seed).standard_normal((draws, len(place)))
    weights = np.exp(0.5 * place @ place - drawn @ place)
    counted = np.where(missed(drawn), weights, 0.0)
    return Chance(float(counted.mean()), float(counted.std(ddof=1)) / sqrt(draws), draws)
