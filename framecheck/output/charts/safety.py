"""The lowest safety factor of every load case beside its target."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from framecheck.output.charts.chart import Area, Chart, Drawn, Line, Note, bar
from framecheck.output.charts.colours import INK, LINE, WARN
from framecheck.output.display import factor
from framecheck.results.row import CheckResult, Grade
from framecheck.results.summary import LoadCaseRow

MOST_SHOWN = 10.0
IN_ALL = "holds in all load cases"
HIGH, REACH = 0.62, 0.42
"""How high a bar is, and how far a target's stroke reaches to both sides, rows."""


def safety_chart(rows: Sequence[LoadCaseRow]) -> Chart:
    """Return a bar a load case, the governing one on top; a stroke marks each target; each bar says its number and verdict."""
    shown = [(row.load_case or IN_ALL, row.worst) for row in rows if row.worst is not None]
    marks = [mark for number, (_, row) in enumerate(shown) for mark in bar_of(row, number)]
    return Chart(
        "",
        "lowest safety factor (10 = 10 or more); the stroke is the target",
        "",
        (0.0, MOST_SHOWN * 1.15),
        (len(shown) - 0.5, -0.5),
        tuple(marks),
        names=tuple(shortened(name) for name, _ in shown),
    )


def bar_of(row: CheckResult, number: int) -> Iterable[Drawn]:
    """Return one bar with its target and its number; a hatched one is LOW."""
    length, low = min(row.safety_factor, MOST_SHOWN), row.grade is Grade.LOW
    yield Area(bar(number, length, HIGH), WARN if low else LINE, is_hatched=low)
    yield Line(np.full(2, row.target), np.array([number - REACH, number + REACH]), INK, 2.0)
    yield Note(f"{factor(row.safety_factor)} {row.grade.value}", (max(length, row.target), float(number)))


def shortened(name: str, most: int = 36) -> str:
    """Return a name that leaves room for the drawing; the table beside it has it whole."""
    return name if len(name) <= most else f"{name[: most - 3]}..."
