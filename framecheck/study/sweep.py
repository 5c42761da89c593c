"""Which variants a study runs and in what order, run here or by an executor, and what is kept of them."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass, field
from itertools import chain
from math import prod
from typing import Any, Protocol

from framecheck.errors import FramecheckError
from framecheck.model.arrays import Array, frozen
from framecheck.model.case import Case
from framecheck.model.study import Aims, Engine, Sampling, Study, Varied
from framecheck.section.store import SectionStore
from framecheck.study.measure import VariantRow, VariantRun, faulty, measured
from framecheck.value_class import array_class, value_class


@array_class
class Variants:
    """The variants of a study. shares: (count, n_field) on 0 to 1 of a hypercube, None for the others."""

    varied: tuple[Varied, ...]
    sampling: Sampling
    count: int
    shares: Array | None = None

    def texts(self, number: int) -> tuple[str, ...]:
        """Return what each field holds in a variant (0 to count - 1)."""
        if self.shares is not None:
            return tuple(text_at(each, float(u)) for each, u in zip(self.varied, self.shares[number], strict=True))
        if self.sampling is Sampling.LIST:
            return tuple(each.values[number] for each in self.varied)
        return every(self.varied, number)


def variants_of(study: Study) -> Variants:
    """Return the variants of a study."""
    match study.sampling:
        case Sampling.EVERY:
            return Variants(study.varied, study.sampling, prod(len(each.values) for each in study.varied))
        case Sampling.LIST:
            return Variants(study.varied, study.sampling, len(study.varied[0].values))
        case Sampling.HYPERCUBE:
            shares = hypercube(len(study.varied), study.samples, study.seed)
            return Variants(study.varied, study.sampling, study.samples, shares)


def every(varied: tuple[Varied, ...], number: int) -> tuple[str, ...]:
    """Return one combination of the full factorial; the last field turns fastest."""
    texts = []
    for each in reversed(varied):
        number, place = divmod(number, len(each.values))
        texts.append(each.values[place])
    return tuple(reversed(texts))


def text_at(varied: Varied, share: float) -> str:
    """Return what a field holds at a share (0 to 1): anywhere in its range, else one of its values, all alike often."""
    if varied.range is not None:
        return varied.range.text(share)
    return varied.values[min(int(share * len(varied.values)), len(varied.values) - 1)]


def hypercube(fields: int, samples: int, seed: int) -> Array:
    """Return a Latin hypercube (samples, fields) on 0 to 1: each of `samples` even slices of every field holds one point.

    M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 21 (1979), 239-245, from memory; scipy.stats.qmc draws it.
    """
    from scipy.stats.qmc import LatinHypercube

    return frozen(LatinHypercube(d=fields, rng=seed).random(samples))


Build = Callable[[Sequence[str]], Case]
"""From what the varied fields hold to a case; InputError where no case follows. Pickled for workers in other processes."""

Chunk = Callable[[range], tuple[VariantRow, ...]]
"""Runs the variants of some numbers. Pickled for workers in other processes."""


class Numbered(Protocol):
    """What gives the texts of varied fields by number: the variants of a study, or draws of its tolerances."""

    @property
    def count(self) -> int:
        """Return how many there are."""
        ...

    def texts(self, number: int) -> tuple[str, ...]:
        """Return what each field holds in one of them (0 to count - 1)."""
        ...


AHEAD = 4
"""Chunks under way for each worker: enough that none waits, few enough that memory stays bounded."""


@value_class
class WholeChunk:
    """Runs variants one by one through every check."""

    build: Build
    variants: Numbered
    aims: Aims
    store: SectionStore | None = None

    def __call__(self, numbers: range) -> tuple[VariantRow, ...]:
        return tuple(self.row(number) for number in numbers)

    def row(self, number: int) -> VariantRow:
        """Return the row of one variant."""
        place = VariantRun(number, self.variants.texts(number), Engine.WHOLE.value)
        try:
            case = self.build(place.values)
        except FramecheckError as error:
            return faulty(place, error)
        return measured(place, case, self.aims, self.store)


def sweep(
    chunk: Chunk,
    count: int,
    size: int = 1,
    *,
    start: int = 0,
    executor: Executor | None = None,
    workers: int = 1,
) -> Iterator[VariantRow]:
    """Yield the rows of variants `start` to `count` in the order of their numbers, whoever runs them.

    size: variants a chunk. Chunks begin at multiples of it whatever `start` is, so that a run taken up again multiplies the same
    matrices and gives the same digits. executor: any of concurrent.futures' kind, dask's among them
    (`distributed.Client.get_executor()`); it stays the caller's to shut down. workers: how many it has.
    """
    first = start - start % size
    chunks = (range(low, min(low + size, count)) for low in range(first, count, size))
    found = map(chunk, chunks) if executor is None else ordered(executor, chunk, chunks, AHEAD * workers)
    return (row for row in chain.from_iterable(found) if row.number >= start)


def ordered(executor: Executor, task: Callable[[Any], Any], items: Iterable[Any], ahead: int) -> Iterator[Any]:
    """Yield what an executor makes of each item, in the items' order; at most `ahead` of them are under way."""
    under_way: deque[Future[Any]] = deque()
    try:
        for item in items:
            under_way.append(executor.submit(task, item))
            if len(under_way) >= ahead:
                yield under_way.popleft().result()
        while under_way:
            yield under_way.popleft().result()
    finally:
        for future in under_way:
            future.cancel()


MOST_POINTS = 5000
"""Variants that a plot shows; of more, the first."""

Key = Callable[[VariantRow], tuple[float, ...]]


@value_class
class Shortlist:
    """Of all variants run: those that pass, the lightest first; those that miss by least; how many; why some could not be run.

    near: that miss and are no heavier than the first pass, nearest first. front: none of the others is both lighter and reaches
    more of what is asked, the lightest first. points: variants to plot.
    """

    winners: tuple[VariantRow, ...]
    near: tuple[VariantRow, ...]
    front: tuple[VariantRow, ...]
    points: tuple[VariantRow, ...]
    count: int
    passed: int
    faulty: int
    first_fault: VariantRow | None

    @property
    def best(self) -> VariantRow | None:
        """Return the winner, else what came nearest."""
        return next(iter((*self.winners, *self.near)), None)


@dataclass(slots=True)
class Tally:
    """What grows while variants stream by."""

    winners: list[VariantRow] = field(default_factory=list)
    near: list[VariantRow] = field(default_factory=list)
    front: list[VariantRow] = field(default_factory=list)
    points: list[VariantRow] = field(default_factory=list)
    count: int = 0
    passed: int = 0
    faulty: int = 0
    first_fault: VariantRow | None = None


def shortlist(rows: Iterable[VariantRow], show: int) -> Shortlist:
    """Return the shortlist of a stream of rows: at most `show` winners and near misses."""
    tally = Tally()
    for row in rows:
        take(tally, row, show)
    lightest = weight(tally.winners[0]) if tally.winners else float("inf")
    near = [row for row in tally.near if weight(row) <= lightest][:show]
    return Shortlist(
        tuple(tally.winners),
        tuple(near),
        tuple(tally.front),
        tuple(tally.points),
        tally.count,
        tally.passed,
        tally.faulty,
        tally.first_fault,
    )


def take(tally: Tally, row: VariantRow, show: int) -> None:
    """Count a row, and keep it where it is worth keeping."""
    tally.count += 1
    if row.fault:
        tally.faulty += 1
        tally.first_fault = tally.first_fault or row
        return
    if row.passes:
        tally.passed += 1
        keep(tally.winners, row, lambda each: (weight(each), each.number), show)
    elif not tally.winners or weight(row) <= weight(tally.winners[0]):
        keep(tally.near, row, lambda each: (-each.ratio, weight(each), each.number), 20 * show)
    to_front(tally.front, row)
    if len(tally.points) < MOST_POINTS:
        tally.points.append(row)


def keep(kept: list[VariantRow], row: VariantRow, key: Key, most: int) -> None:
    """Put a row in its place in an ordered list that holds at most so many."""
    insort(kept, row, key=key)
    del kept[most:]


def to_front(front: list[VariantRow], row: VariantRow) -> None:
    """Put a row on the Pareto front where nothing lighter (or as light) reaches as much; take off what it beats."""
    place = bisect_left(front, weight(row), key=weight)
    same = place < len(front) and weight(front[place]) == weight(row)
    below = front[place] if same else front[place - 1] if place else None
    if below is not None and below.ratio >= row.ratio:
        return
    end = place
    while end < len(front) and front[end].ratio <= row.ratio:
        end += 1
    front[place:end] = [row]


def weight(row: VariantRow) -> float:
    """Return a variant's mass, kg."""
    return row.mass if row.mass is not None else float("inf")
