"""Many variants run in a fixed order, here or by an executor, a few chunks ahead of what is taken: memory stays bounded."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future
from itertools import chain
from typing import Any, Protocol

from framecheck.errors import FramecheckError
from framecheck.model.case import Case
from framecheck.model.study import Aims, Engine
from framecheck.section.store import SectionStore
from framecheck.study.measure import Place, VariantRow, faulty, measured
from framecheck.value_class import value_class

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
        place = Place(number, self.variants.texts(number), Engine.WHOLE.value)
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
