"""The lowest safety factor of every load case in two or more cases, bars side by side."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.output.charts.along import MOST_SHOWN
from framecheck.output.charts.chart import Area, Chart, Note, bar
from framecheck.output.charts.safety import shortened
from framecheck.output.display import factor
from framecheck.study.compare import ComparedRow

FILLS = (("#0b5fa5", False), ("#b36b00", True), ("#5a6472", False), ("#5a8fb5", True))
"""Colour of each case, and whether it is hatched; each bar says its letter as well."""


def compared_chart(letters: Sequence[str], rows: Sequence[ComparedRow]) -> Chart:
    """Return a group of bars a load case, one bar a case in the order of its letter; each bar says its number."""
    height = 0.8 / len(letters)
    bars, notes = [], []
    for i, letter in enumerate(letters):
        colour, is_hatched = FILLS[i % len(FILLS)]
        placed = [(n - 0.4 + height * (i + 0.5), row.values[i]) for n, row in enumerate(rows)]
        known = [(at, value) for at, value in placed if value is not None]
        rings = tuple(ring for at, value in known for ring in bar(at, min(value, MOST_SHOWN), height * 0.9))
        bars += [Area(rings, colour, is_hatched=is_hatched, label=letter)] if rings else []
        notes += [Note(f"{letter} {factor(value)}", (min(value, MOST_SHOWN), at)) for at, value in known]
    return Chart(
        "",
        "lowest safety factor (10 = 10 or more)",
        "",
        (0.0, MOST_SHOWN * 1.15),
        (len(rows) - 0.5, -0.5),
        (*bars, *notes),
        names=tuple(load_cases(rows)),
    )


def load_cases(rows: Sequence[ComparedRow]) -> list[str]:
    """Return the load cases' names as the chart has room for them."""
    return [shortened(row.load_case or row.name) for row in rows]
