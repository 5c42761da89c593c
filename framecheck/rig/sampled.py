"""The spread of a fit checked by sampling: draws about the fit, each weighed by how well it fits. SI.

Self-normalised importance sampling: weights are the posterior over the normal density of Gauss and Newton's spread. The effective
number is (sum of weights)^2 / sum of their squares (A. Kong, 1992; from memory). One frame a draw, and no chain that must settle.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.rig.fit import FitOfReadings, model_of
from framecheck.rig.unknowns import priors
from framecheck.value_class import array_class

SEED = 20


@array_class
class Sampled:
    """Draws of a fit: their number, how many they are worth, and the standard deviation (k,) of each unknown by them."""

    count: int
    worth: float
    sigma: Array


def sampled(fit: FitOfReadings, count: int) -> Sampled:
    """Return the spread of a fit by so many draws, the same ones every time."""
    model = model_of(fit.springy, fit.bound, fit.unknowns, fit.data)
    slopes, sigma = (np.concatenate(each) for each in ([d.slopes for d in fit.data], [d.sigma for d in fit.data]))
    prior = priors(fit.unknowns)
    turned = np.linalg.cholesky(fit.spread / np.outer(prior, prior)) * prior[:, None]
    draws = np.random.default_rng(SEED).normal(size=(count, len(prior)))
    values = fit.values + draws @ turned.T
    missed = np.array([np.sum(((model(each) - slopes) / sigma) ** 2) + np.sum((each / prior) ** 2) for each in values])
    weights = np.exp(-0.5 * (missed - missed.min()) + 0.5 * (np.sum(draws**2, axis=1) - np.sum(draws**2, axis=1).min()))
    weights /= weights.max()
    mean = weights @ values / weights.sum()
    spread = np.sqrt(weights @ (values - mean) ** 2 / weights.sum())
    return Sampled(count, float(weights.sum() ** 2 / np.sum(weights**2)), np.asarray(spread, dtype=np.float64))
