"""The model fitted to readings: least squares with what is known beforehand, what the readings can tell apart, how sure it is. SI.

Unknown factors are found by their logarithms; the residuals are (model - reading) / sigma and unknown / prior. Found by
scipy.optimize.least_squares with central differences of fixed steps. The spread is that of Gauss and Newton, (J'J)^-1: A. Tarantola,
Inverse Problem Theory, SIAM 2005, 3.2.3 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.frame.results import Bound
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array
from framecheck.rig.measured import MeasuredTest, share_of
from framecheck.rig.response import responses
from framecheck.rig.setup import Rig
from framecheck.rig.slopes import pooled
from framecheck.rig.unknowns import Sort, Unknown, of_frame, priors, unknowns_of
from framecheck.rig.variants import FoundFactors, Springy
from framecheck.section.store import SectionStore
from framecheck.value_class import array_class, value_class

STEP = 0.02
"""Step of a logarithm in central differences."""
TOLD = 1.0
"""A combination of unknowns whose singular value is more than this is told by the readings more than by what was known before."""
MOST = 3.0
"""Unknowns are kept within so many standard deviations of what is known."""
ALIKE = 0.9
"""Two unknowns whose errors go together by more than this can't be told apart."""
DEFAULT = (Sort.JOINTS, Sort.WALLS, Sort.PANELS, Sort.MODULUS)
Model = Callable[[Array], Array]


@array_class
class FitData:
    """What is fitted to: slopes (n,), m/N, with their standard deviations; places (n, 2) x and y, m; up (n,): how far a dial reads up,
    1 to -1. dials: their numbers on the rig.
    """

    rig: Rig
    slopes: Array
    sigma: Array
    places: Array
    up: Array
    dials: tuple[int, ...]


@array_class
class FitOfReadings:
    """A fit. values (k,): logarithms of factors, or give per newton; spread (k, k): their covariance; singular (k,) of the Jacobian by
    the priors, largest first, and combos (k, k): the combination of each, a row. misfit: chi square over readings less told ones.

    jacobian (n, k): of slopes by unknowns. bound: under which the frame fits best.
    """

    unknowns: tuple[Unknown, ...]
    data: tuple[FitData, ...]
    values: Array
    spread: Array
    singular: Array
    combos: Array
    misfit: float
    bound: Bound
    jacobian: Array
    springy: Springy

    @property
    def sigma(self) -> Array:
        """Return each unknown's standard deviation after the test."""
        return np.sqrt(np.diag(self.spread))

    @property
    def told(self) -> int:
        """Return how many combinations of unknowns the readings tell."""
        return int(np.sum(self.singular > TOLD))

    def factor(self, row: int) -> float:
        """Return the factor that an unknown was found to be."""
        return float(np.exp(self.values[row]))

    @property
    def alike(self) -> tuple[tuple[int, int], ...]:
        """Return pairs of the frame's unknowns that can't be told apart."""
        apart = self.spread / np.outer(self.sigma, self.sigma)
        rows = of_frame(self.unknowns)
        return tuple((a, b) for n, a in enumerate(rows) for b in rows[n + 1 :] if abs(apart[a, b]) > ALIKE)


@value_class
class Told:
    """One unknown as found: factor, one standard deviation of its logarithm before and after; is_told: whether the test tells it."""

    unknown: Unknown
    factor: float
    before: float
    after: float

    @property
    def is_told(self) -> bool:
        """Return whether the test knows it more than twice as well as was known before."""
        return self.after < self.before / 2


def data_of(found: MeasuredTest) -> FitData:
    """Return what readings give to fit to: the slope of every dial that was read, the scatter that of all of them together.

    sigma^2 = (sum of squared misses of all / their degrees of freedom) / that dial's squared loads, at least the dials' own error.
    """
    rig, rows = found.sheet.rig, [row for row, each in enumerate(found.slopes) if each is not None]
    slopes, sigma = pooled(found.record.loads, found.raw[:, rows], found.sheet.dial_error)
    spots = [rig.dials[row] for row in rows]
    places = np.array([dial.spot.at[:2] for dial in spots])
    return FitData(rig, slopes, sigma, places, np.array([dial.direction[2] for dial in spots]), tuple(rows))


def fitted(found: Sequence[MeasuredTest], asked: Sequence[Sort] = DEFAULT, store: SectionStore | None = None) -> FitOfReadings:
    """Return the frame fitted to the readings of one test or several. InputError: no dial was read under two loads."""
    data = tuple(data_of(each) for each in found)
    rig = data[0].rig
    top = max(float(np.abs(each.record.loads).max()) for each in found)
    unknowns = unknowns_of(rig.frame, asked, share_of(rig, None), top)
    springy = Springy(rig.frame, store)
    tries = [solve(model_of(springy, bound, unknowns, data), unknowns, data, bound, springy) for bound in springy.bounds]
    return min(tries, key=lambda each: each.misfit)


def parts(unknowns: Sequence[Unknown], values: Array) -> tuple[FoundFactors, float, Array]:
    """Return the frame's factors, the factor of all movements, and the stands' give (3,) of unknowns (k,)."""

    def sum_of(sort: Sort) -> float:
        return sum(float(v) for u, v in zip(unknowns, values, strict=True) if u.sort is sort)

    walls = tuple((u.section, float(np.exp(v))) for u, v in zip(unknowns, values, strict=True) if u.sort is Sort.WALLS)
    give = np.array([float(v) for u, v in zip(unknowns, values, strict=True) if u.sort is Sort.GIVE])
    frame = FoundFactors(walls, float(np.exp(sum_of(Sort.JOINTS))), float(np.exp(sum_of(Sort.PANELS))))
    return frame, float(np.exp(sum_of(Sort.FORCE) - sum_of(Sort.MODULUS))), give


def model_of(springy: Springy, bound: Bound, unknowns: tuple[Unknown, ...], data: tuple[FitData, ...]) -> Model:
    """Return what the dials should read per newton for unknowns; frames that were solved are kept."""

    @cache
    def moves(frame: FoundFactors) -> tuple[Array, ...]:
        structure: Structure = springy.structure(frame, bound)
        return tuple(next(iter(responses(each.rig, (structure,)))).moves[list(each.dials)] for each in data)

    def model(values: Array) -> Array:
        frame, level, give = parts(unknowns, values)
        read = []
        for each, own in zip(data, moves(frame), strict=True):
            tilt = give[0] + give[1] * (each.places[:, 0] - each.places[:, 0].mean()) + give[2] * each.places[:, 1]
            read.append(level * own + each.up * tilt)
        return np.concatenate(read)

    return model


def jacobian_of(model: Model, values: Array, unknowns: Sequence[Unknown]) -> Array:
    """Return (n, k) by central differences of fixed steps: STEP of logarithms, of give its prior, in which the model is linear."""
    columns = []
    for row, unknown in enumerate(unknowns):
        step = np.zeros(len(values))
        step[row] = unknown.prior if unknown.sort is Sort.GIVE else STEP
        columns.append((model(values + step) - model(values - step)) / (2 * step[row]))
    return np.array(columns).T


def solve(model: Model, unknowns: tuple[Unknown, ...], data: tuple[FitData, ...], bound: Bound, springy: Springy) -> FitOfReadings:
    """Return the fit of a model under one bound."""
    from scipy.optimize import least_squares

    slopes, sigma = (np.concatenate(each) for each in ([d.slopes for d in data], [d.sigma for d in data]))
    prior = priors(unknowns)

    def residuals(shares: Array) -> Array:
        return np.concatenate(((model(shares * prior) - slopes) / sigma, shares))

    def jacobian(shares: Array) -> Array:
        own = jacobian_of(model, shares * prior, unknowns) * prior / sigma[:, None]
        return np.vstack((own, np.eye(len(prior))))

    found = least_squares(residuals, np.zeros(len(prior)), jac=jacobian, bounds=(-MOST, MOST), xtol=1e-6, ftol=1e-8, gtol=1e-8)
    values = found.x * prior
    own = jacobian_of(model, values, unknowns)
    _, singular, rows = np.linalg.svd(own * prior / sigma[:, None], full_matrices=False)
    full: Array = np.zeros(len(prior))
    full[: len(singular)] = singular
    combos = np.zeros((len(prior), len(prior)))
    combos[: len(rows)] = rows
    spread = np.asarray(np.linalg.inv((own / sigma[:, None]).T @ (own / sigma[:, None]) + np.diag(prior**-2.0)), dtype=np.float64)
    missed = float(np.sum(((model(values) - slopes) / sigma) ** 2))
    free = max(len(slopes) - int(np.sum(full > TOLD)), 1)
    return FitOfReadings(unknowns, data, values, spread, full, combos, missed / free, bound, own, springy)


def told_of(fit: FitOfReadings) -> tuple[Told, ...]:
    """Return what was found of each unknown that is of the frame or a factor."""
    rows = (row for row, each in enumerate(fit.unknowns) if each.sort is not Sort.GIVE)
    return tuple(Told(fit.unknowns[row], fit.factor(row), fit.unknowns[row].prior, float(fit.sigma[row])) for row in rows)


def predicted(fit: FitOfReadings, of: Callable[[Structure], Array]) -> tuple[Array, Array]:
    """Return numbers (m,) of the fitted frame, in m or m/N, and their standard deviations. of: gives them of a frame as it is drawn;
    they go by the modulus' inverse.
    """
    rows = of_frame(fit.unknowns)

    def at(values: Array) -> Array:
        frame, _, _ = parts(fit.unknowns, values)
        modulus = sum(float(v) for u, v in zip(fit.unknowns, values, strict=True) if u.sort is Sort.MODULUS)
        return np.asarray(of(fit.springy.structure(frame, fit.bound)) / np.exp(modulus))

    columns = []
    for row in rows:
        step = np.zeros(len(fit.values))
        step[row] = STEP
        columns.append((at(fit.values + step) - at(fit.values - step)) / (2 * STEP))
    gradient = np.array(columns).reshape(len(rows), -1).T
    spread = fit.spread[np.ix_(rows, rows)]
    return at(fit.values), np.sqrt(np.einsum("mi,ij,mj->m", gradient, spread, gradient))


def refuse_no_unknown(unknowns: Sequence[Unknown]) -> None:
    """Refuse a fit of nothing."""
    if not of_frame(unknowns):
        raise InputError([Fault("", "--fit", "nothing of the frame is to be found", "name joints, walls or modulus")])
