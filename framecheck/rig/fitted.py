"""A fit and what follows of it: stiffness before and after, what one more dial would tell, the factors to write into the case. SI."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import exp

import numpy as np

from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array
from framecheck.model.as_measured import AsMeasured
from framecheck.model.body import Range
from framecheck.model.case import Case
from framecheck.rig.fit import (
    DEFAULT,
    FitData,
    FitOfReadings,
    Told,
    fitted,
    jacobian_of,
    model_of,
    predicted,
    told_of,
)
from framecheck.rig.foretold import Foretold, foretold, rigs_not_made, stiffness_on
from framecheck.rig.measured import MeasuredTest
from framecheck.rig.rigs import rig_of
from framecheck.rig.sampled import Sampled, refuse_no_sampler, sampled
from framecheck.rig.unknowns import Sort, of_frame, stated
from framecheck.rig.variants import NOTHING_FOUND, middle
from framecheck.section.store import SectionStore
from framecheck.value_class import array_class, value_class

FACTORS = (Sort.PANELS, Sort.MODULUS, Sort.SPLICES)
MANY_PLANES = 7
"""Pairs of dials between the axles among which the most telling place of one more dial is sought."""


@value_class
class Next:
    """The place where one more dial would tell most: of which unknown, and its standard deviation before and after it. x: m."""

    place: str
    x: float
    unknown: str
    before: float
    after: float


@array_class
class Fitted:
    """A fit with the first test's stiffness as drawn and as fitted, Nm/rad or N/m, and its standard deviation.

    others: tests that were not made.
    """

    fit: FitOfReadings
    tests: tuple[MeasuredTest, ...]
    drawn: float
    stiffness: float
    sigma: float
    next: Next | None
    others: tuple[Foretold, ...] = ()
    sampled: Sampled | None = None

    @property
    def is_twist(self) -> bool:
        """Return whether the first test twists."""
        return bool(self.tests[0].sheet.rig.torque)

    @property
    def as_measured(self) -> AsMeasured:
        """Return what was found, for the case; a stated body's stiffness with two standard deviations, where this test tells it."""
        rows = told_of(self.fit)
        by = {each.unknown.sort: each.factor for each in rows if each.unknown.sort in FACTORS}
        body = self.fit.springy.frame.body
        measured = {} if body is None else {sort: range_of(rows, sort, middle(of)) for sort, of in stated(body)}
        return AsMeasured(
            "; ".join(f"{each.sheet.rig.asked.kind.value} test, {each.record.file}" for each in self.tests),
            walls=tuple((each.unknown.section, each.factor) for each in rows if each.unknown.sort is Sort.WALLS),
            modulus=by.get(Sort.MODULUS, 1.0),
            panels=by.get(Sort.PANELS, 1.0),
            ends=tuple((each.unknown.make, each.factor) for each in rows if each.unknown.make is not None),
            torsion=measured.get(Sort.TORSION),
            bending=measured.get(Sort.BENDING),
            kinks=tuple((each.unknown.kinks, each.factor) for each in rows if each.unknown.kinks is not None),
            splices=by.get(Sort.SPLICES, 1.0),
        )


def range_of(rows: Sequence[Told], sort: Sort, stiffness: float) -> Range | None:
    """Return the least and the most of a stated body's stiffness, two standard deviations to each side; None where it is not told."""
    found = next((each for each in rows if each.unknown.sort is sort and each.is_told), None)
    if found is None:
        return None
    low, high = (stiffness * found.factor * exp(way * 2 * found.after) for way in (-1, 1))
    return low, high


def fit_of(
    case: Case, tests: Sequence[MeasuredTest], asked: Sequence[Sort] = DEFAULT, store: SectionStore | None = None, steps: int = 0
) -> Fitted:
    """Return the case's frame fitted to one test or several. steps: of a chain that checks the spread, 0: none does."""
    if steps:
        refuse_no_sampler()
    fit = fitted(tests, asked, store)
    rigs = (tests[0].sheet.rig, *rigs_not_made(case, tests))

    def give(structure: Structure) -> Array:
        return np.array([1.0 / stiffness_on(rig, structure) for rig in rigs])

    soft, sigma = predicted(fit, give)
    drawn, found = 1.0 / give(fit.springy.structure(NOTHING_FOUND, fit.bound)), 1.0 / soft
    off = sigma / soft**2
    others = tuple(foretold(rigs[1:], fit, drawn[1:], soft[1:], sigma[1:]))
    own = float(drawn[0]), float(found[0]), float(off[0])
    return Fitted(fit, tuple(tests), *own, next_dial(case, fit), others, sampled(fit, steps) if steps else None)


def next_dial(case: Case, fit: FitOfReadings) -> Next | None:
    """Return where one more dial, read as well as the others, would tell most of the frame's unknowns.

    What it leaves of the spread S: S - S r r'S / (sigma^2 + r'S r), r its row of the Jacobian.
    """
    rig = rig_of(case, replace(fit.data[0].rig.asked, planes=MANY_PLANES))
    taken = {tuple(np.round(place, 3)) for place in fit.data[0].places.tolist()}
    free = [row for row, dial in enumerate(rig.dials) if tuple(np.round(dial.spot.at[:2], 3)) not in taken]
    if not free:
        return None
    places = np.array([rig.dials[row].spot.at[:2] for row in free])
    up = np.array([rig.dials[row].direction[2] for row in free])
    data = FitData(rig, np.zeros(len(free)), np.ones(len(free)), places, up, tuple(free))
    rows = jacobian_of(model_of(fit.springy, fit.bound, fit.unknowns, (data,)), fit.values, fit.unknowns)
    sigma = float(np.concatenate([each.sigma for each in fit.data]).mean())
    own, prior = of_frame(fit.unknowns), np.array([each.prior for each in fit.unknowns])
    after = [np.sqrt(np.diag(fit.spread) - (fit.spread @ row) ** 2 / (sigma**2 + row @ fit.spread @ row)) for row in rows]
    best = int(np.argmin([np.sum((each / prior)[own]) for each in after]))
    gain = (fit.sigma - after[best])[own] / prior[own]
    unknown = own[int(np.argmax(gain))]
    dial = rig.dials[free[best]]
    return Next(dial.spot.name, dial.spot.at[0], fit.unknowns[unknown].name, float(fit.sigma[unknown]), float(after[best][unknown]))
