"""The likeliest way to miss a target, and the chance of it where plain draws would hardly ever meet one.

Tolerances are told as independent standard normal variables u. The likeliest miss is the point of the limit (what is asked is
just met) nearest to u = 0; its distance is the reliability index. A. M. Hasofer, N. C. Lind, J. Eng. Mech. Div. ASCE 100 (1974),
111-121; found by the steps of R. Rackwitz, B. Fiessler, Computers & Structures 9 (1978), 489-494; both from memory.
"""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

import numpy as np

from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.value_class import array_class, value_class

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
