"""A table as plain words and numbers, and how its cells are made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from framecheck.checks.result import CheckResult
from framecheck.model.arrays import Vector
from framecheck.output.display import Units, bare, factor, shown_unit
from framecheck.output.terminal import station_cell

NONE = "-"
ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a column; is_number: its cells stand right."""

    text: str
    is_number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its caption; note: a sentence under it."""

    caption: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


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
    """Return forces or moments in the shown unit; what is less than a millionth of a newton is rounding, and shown as 0."""
    return tuple(bare(value if abs(value) > ROUNDING else 0.0, quantity, units) for value in values)


def judged(row: CheckResult | None, units: Units) -> tuple[str, str, str, str, str]:
    """Return safety factor, target, verdict, place and station of a row."""
    if row is None:
        return (NONE,) * 5
    factors = (factor(row.safety_factor), factor(row.target), row.verdict.value)
    return (*factors, row.where, station_cell(row, units))


def spread(count: int, most: int = 24) -> list[int]:
    """Return at most `most` of so many numbers, evenly spread, the first and the last among them."""
    return sorted({round(i * (count - 1) / (most - 1)) for i in range(most)}) if count > most else list(range(count))


def place(at: Vector, units: Units) -> tuple[str, str, str]:
    """Return three coordinates."""
    x, y, z = (bare(value, "length", units) for value in at)
    return x, y, z
