"""The lightest sizes between those of a study's ranges: scipy's constrained minimiser with the checks as its constraint."""

from __future__ import annotations

from dataclasses import field
from typing import Any

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.study import Study, Varied
from framecheck.section.store import SectionStore
from framecheck.study.measure import VariantRow
from framecheck.study.sweep import Build, WholeChunk
from framecheck.value_class import array_class, value_class

MOST_RUNS = 80
FIRST_STEP = 0.25
LAST_STEP = 2e-3
"""Steps of the search, as shares of a range: how far it looks first, and how near two answers count as one."""


@value_class
class Optimum:
    """The lightest variant found that meets every target, or what came nearest; runs: how many variants were solved."""

    row: VariantRow
    runs: int


@array_class
class Trials:
    """Variants at shares (0 to 1) of a study's ranges, each run once. The fields without a range stay as in the first."""

    build: Build
    study: Study
    first: VariantRow
    store: SectionStore | None
    found: dict[tuple[str, ...], VariantRow] = field(default_factory=dict)

    def texts(self, shares: Array) -> tuple[str, ...]:
        """Return what each field holds at shares (n_range,) of the ranges, clipped to them."""
        left = iter(np.clip(shares, 0.0, 1.0).tolist())
        held = zip(self.study.varied, self.first.values, strict=True)
        return tuple(text if each.range is None else each.range.text(next(left)) for each, text in held)

    def row(self, shares: Array) -> VariantRow:
        """Return the variant at shares (n_range,) of the ranges."""
        texts = self.texts(shares)
        if texts not in self.found:
            alone = WholeChunk(self.build, One(texts), self.study.aims, self.store)
            self.found[texts] = alone.row(0)
        return self.found[texts]


@value_class
class One:
    """A single variant."""

    values: tuple[str, ...]
    count: int = 1

    def texts(self, number: int) -> tuple[str, ...]:
        """Return its values."""
        del number
        return self.values


def optimum(build: Build, study: Study, first: VariantRow, store: SectionStore | None = None) -> Optimum | None:
    """Return the lightest sizes within the ranges, from a variant to begin with; None where nothing has a range.

    COBYLA (M. J. D. Powell 1994, in scipy.optimize) needs no slopes: what governs changes from check to check, so the share of
    what is asked that is reached has kinks. Masses are told to it as shares of the first one's.
    """
    from scipy.optimize import minimize

    ranged = [(each, text) for each, text in zip(study.varied, first.values, strict=True) if each.range is not None]
    if not ranged or first.mass is None:
        return None
    trials, heavy = Trials(build, study, first, store), first.mass
    start = np.array([share_of(each, text) for each, text in ranged])
    walls = [
        {"type": "ineq", "fun": lambda x: np.concatenate((x, 1.0 - np.asarray(x)))},
        {"type": "ineq", "fun": lambda x: min(trials.row(x).ratio, 2.0) - 1.0},
    ]
    search: Any = minimize
    options = {"rhobeg": FIRST_STEP, "maxiter": MOST_RUNS}
    search(
        lambda x: (trials.row(x).mass or heavy) / heavy,
        start,
        method="COBYLA",
        constraints=walls,
        tol=LAST_STEP,
        options=options,
    )
    rows = (first, *trials.found.values())
    return Optimum(min(rows, key=rank), len(trials.found))


def share_of(varied: Varied, text: str) -> float:
    """Return at what share of its range a field's text lies; the steps of a range are written by it."""
    values = varied.values
    if text in values and len(values) > 1:
        return values.index(text) / (len(values) - 1)
    return 0.5


def rank(row: VariantRow) -> tuple[bool, float]:
    """Return the order of variants: those that meet every target by mass, then the others by how near they come."""
    if row.passes and row.mass is not None:
        return (False, row.mass)
    return (True, -row.ratio)
