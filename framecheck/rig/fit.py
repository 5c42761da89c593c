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
from framecheck.model.frame import Make
from framecheck.rig.measured import MeasuredTest, share_of
from framecheck.rig.response import responses
from framecheck.rig.setup import Rig
from framecheck.rig.slopes import pooled
from framecheck.rig.spread import singular_of, spread_of
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
DEFAULT = (Sort.JOINTS, Sort.KINKS, Sort.SPLICES, Sort.WALLS, Sort.PANELS, Sort.TORSION, Sort.BENDING, Sort.MODULUS)
Model = Callable[[Array], Array]
Moves = Callable[[FoundFactors], tuple[Array, ...]]


@array_class
class FitData:
    """What is fitted to: slopes (n,), m/N, with their standard deviations; places (n, 2) x and y, m; up (n,): how far a dial reads up,
    1 to -1. dials: their numbers on the rig. top: the largest load, N.
    """

    rig: Rig
    slopes: Array
    sigma: Array
    places: Array
    up: Array
    dials: tuple[int, ...]
    top: float = 1.0


@array_class
class FitOfReadings:
    """A fit. values (k,): logarithms of factors, or give per newton; spread (k, k): their covariance. misfit: chi square over readings
    less told ones. singular (f,): of the frame's unknowns, counted by their priors, force and stands taken out, largest first; combos
    (f, f): the combination of each, a row.

    cost: what was made least, chi square and what the unknowns are off their priors. jacobian (n, k): of slopes by unknowns. bound:
    under which the frame fits best.
    """

    unknowns: tuple[Unknown, ...]
    data: tuple[FitData, ...]
    values: Array
    spread: Array
    misfit: float
    singular: Array
    combos: Array
    cost: float
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
    """Return what readings give to fit to: the slope of each dial that was read, not of those that read wrong; the scatter is of all.

    sigma^2 = (sum of squared misses of all / their degrees of freedom) / that dial's squared loads, at least the dials' own error.
    """
    rig, rows = found.sheet.rig, [row for row, each in enumerate(found.slopes) if each is not None and row not in found.wrong]
    if not rows:
        raise InputError([Fault(found.record.file, "readings", "no dial is left to fit to: each reads wrong", "see what is odd")])
    slopes, sigma = pooled(found.record.loads, found.raw[:, rows], found.sheet.dial_error)
    spots = [rig.dials[row] for row in rows]
    places = np.array([dial.spot.at[:2] for dial in spots])
    return FitData(rig, slopes, sigma, places, np.array([dial.direction[2] for dial in spots]), tuple(rows), top_of(found))


def top_of(found: MeasuredTest) -> float:
    """Return the largest load of a test, N."""
    return float(np.abs(found.record.loads).max())


def fitted(found: Sequence[MeasuredTest], asked: Sequence[Sort] = DEFAULT, store: SectionStore | None = None) -> FitOfReadings:
    """Return the frame fitted to the readings of one test or several. InputError: no dial was read under two loads."""
    data = tuple(data_of(each) for each in found)
    frame = data[0].rig.frame
    off = [(share_of(each.sheet.rig, None), top_of(each)) for each in found]
    unknowns = unknowns_of(frame, asked, off)
    refuse_no_unknown(unknowns)
    springy = Springy(frame, store, any(each.sort in (Sort.TORSION, Sort.BENDING) for each in unknowns))
    tries = [solve(model_of(springy, bound, unknowns, data), unknowns, data, bound, springy) for bound in springy.bounds]
    return min(tries, key=lambda each: each.cost)


@value_class
class Found:
    """What unknowns stand for: the frame's factors, the modulus; level: of all movements of each test; give: of each test's stands,
    (3,) per newton.
    """

    frame: FoundFactors
    modulus: float
    level: tuple[float, ...]
    give: tuple[tuple[float, ...], ...]


def parts(unknowns: Sequence[Unknown], values: Array) -> Found:
    """Return what unknowns (k,) stand for. Springs that are given and a stated body do not follow the metal's modulus: in a frame that
    is worked out with the modulus as drawn they are as much stiffer.
    """
    pairs = list(zip(unknowns, values.tolist(), strict=True))

    def factor(sort: Sort) -> float:
        return float(np.exp(sum(v for u, v in pairs if u.sort is sort)))

    modulus = factor(Sort.MODULUS)
    ends = {u.make: float(np.exp(v)) for u, v in pairs if u.make is not None}
    if Make.GIVEN in ends:
        ends[Make.GIVEN] *= modulus
    has_body = any(u.sort in (Sort.TORSION, Sort.BENDING) for u in unknowns)
    frame = FoundFactors(
        walls=tuple((u.section, float(np.exp(v))) for u, v in pairs if u.sort is Sort.WALLS),
        ends=tuple(ends.items()),
        panels=factor(Sort.PANELS),
        body=(factor(Sort.TORSION) / modulus, factor(Sort.BENDING) / modulus) if has_body else None,
        kinks=tuple((u.kinks, float(np.exp(v))) for u, v in pairs if u.kinks is not None),
        splices=factor(Sort.SPLICES),
    )
    forces = [float(np.exp(v)) for u, v in pairs if u.sort is Sort.FORCE]
    give = tuple(tuple(v for u, v in pairs if u.sort is Sort.GIVE and u.test[0] == test) for test in range(len(forces)))
    return Found(frame, modulus, tuple(force / modulus for force in forces), give)


def model_of(springy: Springy, bound: Bound, unknowns: tuple[Unknown, ...], data: tuple[FitData, ...]) -> Model:
    """Return what the dials should read per newton for unknowns, frames solved. data: of the first tests."""
    return model_by(moves_of(springy, bound, data), unknowns, data)


def moves_of(springy: Springy, bound: Bound, data: tuple[FitData, ...]) -> Moves:
    """Return what the dials of each test read per newton for a frame's factors; frames that were solved are kept."""

    @cache
    def moves(frame: FoundFactors) -> tuple[Array, ...]:
        with_bodies = {each.rig.frame.stiff_bodies: None for each in data}
        structures = {bodies: springy.structure(frame, bound, bodies) for bodies in with_bodies}
        return tuple(
            next(iter(responses(each.rig, (structures[each.rig.frame.stiff_bodies],)))).moves[list(each.dials)] for each in data
        )

    return moves


def model_by(moves: Moves, unknowns: tuple[Unknown, ...], data: tuple[FitData, ...]) -> Model:
    """Return what the dials should read per newton for unknowns, by what they read for a frame's factors."""

    def model(values: Array) -> Array:
        found = parts(unknowns, values)
        read = []
        for each, own, level, give in zip(data, moves(found.frame), found.level, found.give, strict=False):
            tilt = give[0] + give[1] * (each.places[:, 0] - middle_of_stands(each.rig)) + give[2] * each.places[:, 1]
            read.append(level * own + each.up * tilt)
        return np.concatenate(read)

    return model


def middle_of_stands(rig: Rig) -> float:
    """Return the x about which stands are taken to tilt, m."""
    return float(np.mean([stand.at[0] for stand in rig.stands]))


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
    by_prior = own * prior / sigma[:, None]
    spread = spread_of(by_prior) * np.outer(prior, prior)
    missed = float(np.sum(((model(values) - slopes) / sigma) ** 2))
    free = max(len(slopes) - int(np.sum(np.linalg.svd(by_prior, compute_uv=False) > TOLD)), 1)
    singular, combos = singular_of(by_prior, of_frame(unknowns))
    return FitOfReadings(unknowns, data, values, spread, missed / free, singular, combos, 2 * float(found.cost), bound, own, springy)


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
        found = parts(fit.unknowns, values)
        return np.asarray(of(fit.springy.structure(found.frame, fit.bound)) / found.modulus)

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
        kinds = "joints (where not all are rigid), kinks, splices, walls, panels, body (where the file states one), modulus"
        remedy = f"name another: {kinds}"
        raise InputError([Fault("", "--find", "this frame has nothing of that kind to be found", remedy)])
