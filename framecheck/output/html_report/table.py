"""A table as plain words and numbers, and how its cells are made."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.output.cells import NONE as NONE
from framecheck.output.cells import heading, is_number, texts
from framecheck.output.display import Units, bare, shown_unit
from framecheck.results.tables import ResultTable
from framecheck.value_class import value_class

ROUNDING, ROUNDED = 1e-6, 1e-5
"""What is less in SI, or as a share of the largest of its kind, is rounding."""


@value_class
class Heading:
    """The head of a column; is_number: its cells stand right."""

    text: str
    is_number: bool = False


@value_class
class Table:
    """A table with its caption; note: a sentence under it."""

    caption: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""

    @property
    def is_narrow(self) -> bool:
        """Return whether it has few columns, all numbers but the first: across a whole page the eye would lose the row."""
        return len(self.headings) <= 4 and all(heading.is_number for heading in self.headings[1:])


def words(*texts: str) -> tuple[Heading, ...]:
    """Return headings of word columns."""
    return tuple(Heading(text) for text in texts)


def numbers(*texts: str) -> tuple[Heading, ...]:
    """Return headings of number columns."""
    return tuple(Heading(text, is_number=True) for text in texts)


def label(quantity: str, units: Units) -> str:
    """Return the unit in which a quantity is shown."""
    return shown_unit(quantity, units).label


def bare_forces(values: Iterable[float], quantity: str, units: Units) -> tuple[str, ...]:
    """Return forces or moments in the shown unit; what is less than a millionth is rounding, and shown as 0."""
    return tuple(bare(value if abs(value) > ROUNDING else 0.0, quantity, units) for value in values)


def plain(values: Array) -> Array:
    """Return numbers (n,), with 0 where one is less than a hundred-thousandth of the largest: the solution's rounding."""
    return np.where(np.abs(values) > ROUNDED * np.max(np.abs(values), initial=0.0), values, 0.0)


def shown(of: ResultTable, units: Units) -> Table:
    """Return a table of results as the page shows it."""
    headings = tuple(Heading(heading(column, units) or "grade", is_number(column)) for column in of.columns)
    return Table(of.caption, headings, texts(of, units))


def spread(count: int, most: int = 24) -> list[int]:
    """Return at most `most` of so many numbers, evenly spread, the first and the last among them."""
    return sorted({round(i * (count - 1) / (most - 1)) for i in range(most)}) if count > most else list(range(count))


def place(at: Vector | Array, units: Units) -> tuple[str, ...]:
    """Return coordinates."""
    return tuple(bare(value if abs(value) > ROUNDING else 0.0, "length", units) for value in at)
