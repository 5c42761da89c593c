"""Which engine runs a study's variants, and the lightest sizes between those of a study's ranges."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import field, replace
from typing import Any

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.study import Engine, Scatter, Study, Varied
from framecheck.section.store import SectionStore
from framecheck.study.measure import VariantRow
from framecheck.study.scatter import (
    Chance,
    LikeliestMiss,
    Nominal,
    Scattered,
    chance_about,
    draws_at,
    draws_of,
    likeliest_miss,
    summed_up,
)
from framecheck.study.screen import SIZE, ScreenChunk, Sections
from framecheck.study.sweep import Build, Chunk, Shortlist, WholeChunk, shortlist, sweep, variants_of
from framecheck.value_class import array_class, value_class

Drawn = tuple[Scatter, Sequence[Nominal], Sequence[str]]
"""Tolerances, what their fields hold where nothing scatters, and what the study's own fields hold."""


@value_class
class Builders:
    """How variants become cases, and where sections are kept. sections, key: for a screen (study/screen.py)."""

    build: Build
    store: SectionStore | None = None
    sections: Sections | None = None
    key: str = ""


def run_variants(
    study: Study, means: Builders, *, start: int = 0, executor: Executor | None = None, workers: int = 1
) -> Iterator[VariantRow]:
    """Yield the rows of a study's variants from number `start`, in order, the same whatever runs them.

    executor: any of concurrent.futures' kind (`distributed.Client.get_executor()` gives dask's); None: this process.
    """
    variants = variants_of(study)
    chunk: Chunk = WholeChunk(means.build, variants, study.aims, means.store)
    size = 1
    if study.engine is Engine.SCREEN and means.sections is not None:
        chunk = ScreenChunk(means.key, means.build, means.sections, variants, study.aims, means.store)
        size = SIZE
    return sweep(chunk, variants.count, size, start=start, executor=executor, workers=workers)


def confirmed(found: Shortlist, study: Study, means: Builders, executor: Executor | None, workers: int) -> Shortlist:
    """Return the shortlist of a screen with its best run by every check, the lightest first, until enough of them pass.

    The near misses of the screen stay as it gave them: what fails by yield fails.
    """
    picked = Picked(tuple(row.values for row in found.winners))
    chunk = WholeChunk(means.build, picked, study.aims, means.store)
    run = sweep(chunk, picked.count, executor=executor, workers=workers)
    whole = until((replace(row, number=of.number) for row, of in zip(run, found.winners, strict=False)), study.show)
    sorted_out = shortlist(whole, study.show)
    near = tuple(sorted((*sorted_out.near, *found.near), key=lambda row: -row.ratio))[: study.show]
    return replace(found, winners=sorted_out.winners, near=near, passed=sorted_out.passed)


def until(rows: Iterable[VariantRow], enough: int) -> Iterator[VariantRow]:
    """Yield rows until enough of them pass."""
    passed = 0
    for row in rows:
        yield row
        passed += row.passes
        if passed == enough:
            return


@value_class
class Picked:
    """Variants by their values."""

    values: tuple[tuple[str, ...], ...]

    @property
    def count(self) -> int:
        """Return how many there are."""
        return len(self.values)

    def texts(self, number: int) -> tuple[str, ...]:
        """Return what each field holds in one of them."""
        return self.values[number]


def run_scatter(
    study: Study, means: Builders, drawn: Drawn, executor: Executor | None = None, workers: int = 1
) -> Scattered:
    """Return what a study's tolerances do to one variant, each draw run by every check."""
    scatter, nominal, values = drawn
    draws = draws_of(scatter, nominal, values)
    chunk = WholeChunk(means.build, draws, study.aims, means.store)
    return summed_up(sweep(chunk, draws.count, executor=executor, workers=workers), scatter.seed)


@value_class
class RareMiss:
    """The likeliest miss, what the tolerances' fields hold there, and the chance from draws about it."""

    point: LikeliestMiss
    amounts: tuple[str, ...]
    about: Chance


def run_rare(study: Study, means: Builders, drawn: Drawn, executor: Executor | None = None, workers: int = 1) -> RareMiss:
    """Return the likeliest miss of a study's tolerances for one variant, and the chance about it."""
    scatter, nominal, values = drawn

    def margins(places: Array) -> Array:
        draws = draws_at(scatter, nominal, values, places)
        chunk = WholeChunk(means.build, draws, study.aims, means.store)
        rows = sweep(chunk, draws.count, executor=executor, workers=workers)
        return np.array([min(row.ratio, MOST_RATIO) - 1.0 for row in rows])

    point = likeliest_miss(margins, len(nominal))
    amounts = draws_at(scatter, nominal, values, point.place[None]).texts(0)[len(values) :]
    return RareMiss(point, amounts, chance_about(lambda u: margins(u) < 0, point.place, scatter.draws, scatter.seed))


MOST_RATIO = 100.0
"""Of what is asked; more tells no slope."""

CONFIRMED = 8
"""Of a screen, so many times the winners shown are kept, to be run again."""


def kept_of(study: Study) -> int:
    """Return how many winners a shortlist has to hold."""
    return study.show * (CONFIRMED if study.engine is Engine.SCREEN else 1)


def engine_notes(study: Study) -> tuple[str, ...]:
    """Return how variants were run, in words."""
    said = f"Sampling: {study.sampling.value}. Ranked by the mass of members, plates, ribs and doublers."
    if study.engine is Engine.WHOLE:
        return (said, "Engine: every variant was run through every check, as framecheck check runs it.")
    return (
        said,
        "Engine: all variants were screened at once by mid-line sections and yield alone, with the loads and joints of the first; "
        f"the lightest {kept_of(study)} that passed the screen were then run through every check until {study.show} passed.",
        "Near misses of the screen are as the screen gave them; torsional stiffness and clearances count in the run through every "
        "check.",
    )


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
