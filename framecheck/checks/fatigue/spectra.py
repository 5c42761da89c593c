"""A duty's swings as load spectra: all between the same two load cases stand together, so that what they do is worked out once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.fatigue.counting import Block
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

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


def spectra_of(blocks: Sequence[Block]) -> Spectra:
    """Return the spectra of a duty's blocks, those between the same two load cases side by side."""
    together: dict[tuple[int | None, int | None], list[Block]] = {}
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
