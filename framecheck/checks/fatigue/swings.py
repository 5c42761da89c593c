"""A duty as blocks of equal swings, recorded histories counted by rainflow; the stress ranges and means that they make at surface
points.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.model.duty import Duty, Event, History, Per
from framecheck.value_class import array_class, value_class


@value_class
class SwingBlock:
    """Equal swings: `cycles` per km or year (the duty's own unit of life).

    A swing goes over `spread` of the way from load case `low` to `high` (numbers; None: nothing on the frame), about `middle` of it.
    """

    name: str
    high: int | None
    low: int | None
    spread: float
    middle: float
    cycles: float


def rainflow_cycles(values: tuple[float, ...]) -> tuple[tuple[float, float, float], ...]:
    """Return (range, mean, count) of each counted cycle, halves as 0.5. ASTM E1049-85, 5.4.4, by the package `rainflow`."""
    import rainflow

    return tuple((float(span), float(mean), float(count)) for span, mean, count, _, _ in rainflow.extract_cycles(values))


def rate(cycles: float, per: Per, duty: Duty) -> float | None:
    """Return cycles per unit of the duty's life; None where km and years can't be joined."""
    if per is duty.life_in:
        return cycles
    if duty.km_per_year is None:
        return None
    return cycles / duty.km_per_year if per is Per.YEAR else cycles * duty.km_per_year


def blocks(duty: Duty, cases: Mapping[str, int]) -> tuple[SwingBlock, ...]:
    """Return the duty's blocks; cases: load case names to their numbers. Call `faults` first."""
    return tuple(block for event in duty.events for block in of_event(event, duty, cases))


def of_event(event: Event | History, duty: Duty, cases: Mapping[str, int]) -> Iterator[SwingBlock]:
    """Yield the blocks of one event: one, or one a counted cycle of its record."""
    high, low = cases.get(event.high), None if event.low is None else cases.get(event.low)
    if isinstance(event, Event):
        yield SwingBlock(event.name, high, low, event.share, event.share / 2, rate(event.cycles, event.per, duty) or 0.0)
        return
    each = rate(event.repeats, event.per, duty) or 0.0
    for spread, middle, count in rainflow_cycles(event.values):
        yield SwingBlock(event.name, high, low, spread, middle, count * each)


def faults(duty: Duty, cases: Mapping[str, int]) -> Iterator[str]:
    """Yield what keeps the duty from being counted, in words."""
    for event in duty.events:
        for name in (event.high, event.low):
            if name is not None and name not in cases:
                yield f"event '{event.name}' names load case '{name}', which is not solved"
        if event.per is not duty.life_in and duty.km_per_year is None:
            yield f"event '{event.name}' counts per {event.per.value}, the life is in {duty.life_in.value}: give the km per year"


@array_class
class Swings:
    """What acts at each place in every block, Pa, (n_swing, ...): range and mean of the normal stress, and of the shear stress,
    whose range is the length of the change of a vector.
    """

    normal: Array
    mean: Array
    shear: Array
    shear_mean: Array

    @property
    def largest(self) -> Array:
        """Return the largest range at each place, (...,): shear as the normal stress that yields as soon, sqrt(3) times it."""
        return np.asarray(np.maximum(self.normal, 3**0.5 * self.shear).max(axis=0), dtype=np.float64)

    def times(self, factor: float) -> Swings:
        """Return the swings with every stress raised."""
        return Swings(factor * self.normal, factor * self.mean, factor * self.shear, factor * self.shear_mean)

    def one_by_one(self) -> Swings:
        """Return the swings at one place, (n_swing, 1), each as if it were a place of one swing, (1, n_swing)."""
        return Swings(self.normal.T, self.mean.T, self.shear.T, self.shear_mean.T)


def worse(swings: Sequence[Swings]) -> Swings:
    """Return swings of which each part is the worst of some."""
    first, *others = swings
    for other in others:
        normal, mean = np.maximum(first.normal, other.normal), np.maximum(first.mean, other.mean)
        shear, shear_mean = np.maximum(first.shear, other.shear), np.maximum(first.shear_mean, other.shear_mean)
        first = Swings(normal, mean, shear, shear_mean)
    return first


def at(stress: Array, case: int | None) -> Array:
    """Return the stress (k, ...) in a load case by its number; nothing on the frame: zero. stress: (k, n_case, ...)."""
    return np.zeros_like(stress[:, 0]) if case is None else stress[:, case]


def ends(stress: Array, blocks: Sequence[SwingBlock]) -> tuple[Array, Array]:
    """Return the stress (n_block, k, ...) in the load cases at both ends of every block, low and high; nothing on the frame: zero.

    stress: (k, n_case, ...).
    """
    bare = stress.shape[1]
    padded = np.moveaxis(np.concatenate((stress, np.zeros_like(stress[:, :1])), axis=1), 1, 0)
    low = [bare if each.low is None else each.low for each in blocks]
    high = [bare if each.high is None else each.high for each in blocks]
    return padded[low], padded[high]


def along(values: Sequence[float], stress: Array) -> Array:
    """Return a number of every block so that it multiplies a stress (n_block, ...)."""
    return np.array(values).reshape((-1,) + (1,) * (stress.ndim - 1))


def ranges(stress: Array, blocks: Sequence[SwingBlock]) -> Array:
    """Return the range of a stress in every block, (n_block, k, n_point); stress: (k, n_case, n_point), Pa.

    Both ends of a swing are whole load cases: what acts together stays together.
    """
    low, high = ends(stress, blocks)
    return np.asarray(along([each.spread for each in blocks], low) * np.abs(high - low), dtype=np.float64)


def vector_ranges(stress: Array, blocks: Sequence[SwingBlock]) -> Array:
    """Return the length of the change of a stress vector in every block, (n_block, k, n_point); stress: (k, n_case, n_point, 2)."""
    low, high = ends(stress, blocks)
    length = np.linalg.norm(high - low, axis=-1)
    return np.asarray(along([each.spread for each in blocks], length) * length, dtype=np.float64)


NOTHING = -1
"""Number of the load case in which nothing is on the frame: it stands behind the last."""


@array_class
class Spectra:
    """Swings (n_swing,) of a duty, spectrum by spectrum, in each the widest first.

    high, low: (n_spectrum,) numbers of the load cases between which a spectrum swings; first: (n_spectrum,) number of its first swing.
    of: the spectrum of each swing; spread, middle, cycles, names: as in Block.
    """

    high: IntArray
    low: IntArray
    first: IntArray
    of: IntArray
    spread: Array
    middle: Array
    cycles: Array
    names: tuple[str, ...]

    @property
    def widest(self) -> Array:
        """Return the widest swing of each spectrum, (n_spectrum,)."""
        return self.spread[self.first]

    def between(self, number: int) -> slice:
        """Return which swings a spectrum has."""
        last = self.first[number + 1] if number + 1 < len(self.first) else len(self.of)
        return slice(int(self.first[number]), int(last))


def spectra_of(blocks: Sequence[SwingBlock]) -> Spectra:
    """Return the spectra of a duty's blocks, those between the same two load cases side by side."""
    together: dict[tuple[int | None, int | None], list[SwingBlock]] = {}
    for block in blocks:
        together.setdefault((block.high, block.low), []).append(block)
    ordered = [block for each in together.values() for block in sorted(each, key=lambda block: -block.spread)]
    counts = [len(each) for each in together.values()]
    return Spectra(
        high=np.array([NOTHING if high is None else high for high, _ in together], dtype=np.int64),
        low=np.array([NOTHING if low is None else low for _, low in together], dtype=np.int64),
        first=np.cumsum([0, *counts[:-1]]) if counts else np.zeros(0, dtype=np.int64),
        of=np.repeat(np.arange(len(counts)), counts),
        spread=np.array([block.spread for block in ordered]),
        middle=np.array([block.middle for block in ordered]),
        cycles=np.array([block.cycles for block in ordered]),
        names=tuple(block.name for block in ordered),
    )


def coarser(spectra: Spectra, parts: int) -> tuple[Spectra, Spectra]:
    """Return two spectra of at most so many swings a spectrum, so that every swing lies between both: the worse of both damages more.

    Neighbours in width are joined, as wide as the widest of them; about their lowest middle in the one, the highest in the other.
    """
    starts = [each for number in range(len(spectra.first)) for each in _starts(spectra.between(number), parts)]
    of = spectra.of[starts]
    joined = replace(
        spectra,
        first=np.searchsorted(of, np.arange(len(spectra.first))),
        of=of,
        spread=spectra.spread[starts],
        middle=np.minimum.reduceat(spectra.middle, starts),
        cycles=np.add.reduceat(spectra.cycles, starts),
        names=tuple(spectra.names[each] for each in starts),
    )
    return joined, replace(joined, middle=np.maximum.reduceat(spectra.middle, starts))


def _starts(swings: slice, parts: int) -> list[int]:
    """Return the numbers of the swings with which the parts of a spectrum begin."""
    count = swings.stop - swings.start
    return sorted({swings.start + number * count // parts for number in range(parts)})
