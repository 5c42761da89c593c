"""What is kept of a stream of variants: the lightest that pass, the near misses, the Pareto front. Memory stays bounded."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from framecheck.study.measure import VariantRow
from framecheck.value_class import value_class

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
