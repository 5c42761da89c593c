"""The spread of a fit checked by a chain: emcee's ensemble sampler on the posterior, dials read off a surface through frames. SI.

The surface: of each dial a full quadratic in how soft every part of the frame is (a factor of softness, or one over a factor of walls,
sheet or body), through frames solved 1.5 standard deviations about the fit. Ten draws of the chain are solved beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.rig.fit import MOST, FitOfReadings, Model, Moves, model_by, moves_of, parts
from framecheck.rig.unknowns import Sort, of_frame, priors
from framecheck.rig.variants import FoundFactors
from framecheck.value_class import array_class

SEED = 20
REACH = 1.5
"""Standard deviations from the fit at which frames are solved for the surface."""
SOLVED = 10
"""Draws of the chain whose frames are solved beside the surface."""
SETTLING = 4
"""One part in so many of the chain is left out, in which it settles."""


@array_class
class Sampled:
    """A chain: steps of how many walkers, how many draws of their own it is worth, the standard deviation (k,) of each unknown by it.

    frames: solved for the surface; off: by how much it missed a solved frame at most, in standard deviations of the dial's slope.
    """

    steps: int
    walkers: int
    worth: float
    sigma: Array
    frames: int
    off: float


def refuse_no_sampler() -> None:
    """Refuse where the sampler is not installed. InputError."""
    try:
        import emcee  # noqa: F401
    except ImportError:
        remedy = 'install it: pip install "framecheck[sample]"; or leave --sample out'
        raise InputError([Fault("", "--sample", "the sampler (emcee) is not installed", remedy)]) from None


def sampled(fit: FitOfReadings, steps: int) -> Sampled:
    """Return the spread of a fit by a chain of so many steps, the same one every time."""
    import emcee

    solved = moves_of(fit.springy, fit.bound, fit.data)
    points = about(fit)
    surface = surface_of(fit, solved, points)
    prior, read = priors(fit.unknowns), model_by(surface, fit.unknowns, fit.data)
    slopes, sigma = (np.concatenate(each) for each in ([d.slopes for d in fit.data], [d.sigma for d in fit.data]))

    def log_posterior(shares: Array) -> float:
        if np.abs(shares).max() > MOST:
            return float("-inf")
        return -0.5 * float(np.sum(((read(shares * prior) - slopes) / sigma) ** 2) + shares @ shares)

    count, random = len(prior), np.random.RandomState(SEED)
    walkers = 2 * (count + 1)
    start = fit.values / prior + random.normal(size=(walkers, count)) @ np.linalg.cholesky(fit.spread / np.outer(prior, prior)).T
    sampler = emcee.EnsembleSampler(walkers, count, log_posterior)
    first = emcee.State(np.clip(start, 0.99 - MOST, MOST - 0.99), random_state=random.get_state())
    sampler.run_mcmc(first, steps, skip_initial_state_check=True)
    chain = sampler.get_chain(discard=steps // SETTLING, flat=True) * prior
    together = float(np.max(sampler.get_autocorr_time(discard=steps // SETTLING, tol=0)[of_frame(fit.unknowns)]))
    off = missed(model_by(solved, fit.unknowns, fit.data), read, chain[:: max(len(chain) // SOLVED, 1)][:SOLVED], sigma)
    return Sampled(steps, walkers, len(chain) / max(together, 1.0), np.std(chain, axis=0), len(points), off)


def missed(solved: Model, read: Model, draws: Array, sigma: Array) -> float:
    """Return by how many standard deviations of a slope a surface misses solved frames at most."""
    return max(float(np.max(np.abs(solved(each) - read(each)) / sigma)) for each in draws)


def about(fit: FitOfReadings) -> list[Array]:
    """Return the unknowns (k,) of the frames to be solved: the fit, each unknown of the frame to both sides, each two together."""
    rows = [row for row in of_frame(fit.unknowns) if fit.unknowns[row].sort is not Sort.MODULUS]
    ways = []
    for row in rows:
        way = np.zeros(len(fit.values))
        way[row] = REACH * fit.sigma[row]
        ways.append(way)
    both = [one + other for one, other in combinations(ways, 2)]
    return [fit.values + way for way in (np.zeros(len(fit.values)), *ways, *(-each for each in ways), *both)]


def softness_of(found: FoundFactors) -> Array:
    """Return how soft each part of a frame is (f,), times what is drawn."""
    stiff = (*(factor for _, factor in found.walls), found.panels, *(found.body or ()))
    soft = (*(factor for _, factor in found.ends), *(factor for _, factor in found.kinks), found.splices)
    return np.array([*soft, *(1 / each for each in stiff)])


def surface_of(fit: FitOfReadings, solved: Moves, points: Sequence[Array]) -> Moves:
    """Return what dials read, off a quadratic through frames at points."""
    frames = [parts(fit.unknowns, point).frame for point in points]
    at = np.array([softness_of(each) for each in frames])
    spread = np.ptp(at, axis=0)
    moved = spread > 0.0

    def terms(soft: Array) -> Array:
        away = ((soft - at[0]) / np.where(moved, spread, 1.0))[moved]
        return np.concatenate(([1.0], away, np.outer(away, away)[np.triu_indices(len(away))]))

    rows = np.array([terms(each) for each in at])
    read = [solved(each) for each in frames]
    weights = [np.linalg.lstsq(rows, np.array(of_test), rcond=None)[0] for of_test in zip(*read, strict=True)]

    def moves(found: FoundFactors) -> tuple[Array, ...]:
        own = terms(softness_of(found))
        return tuple(own @ each for each in weights)

    return moves
