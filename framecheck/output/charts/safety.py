"""How much of what is allowed every load case uses."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from framecheck.output.cells import percent
from framecheck.output.charts.chart import Area, Chart, Drawn, Note, bar, upright
from framecheck.output.charts.colours import INK, LINE, WARN
from framecheck.results.row import CheckResult, Grade
from framecheck.results.summary import LoadCaseRow
from framecheck.results.tables import Scope

ALLOWED, MOST_SHOWN = 100.0, 125.0
"""What is allowed, and where a bar ends that uses more than there is room for, %."""
ROOM = 1.25
"""How much longer the axis is than the longest bar: for what stands beside it."""
HIGH = 0.62
"""How high a bar is, rows."""


def safety_chart(rows: Sequence[LoadCaseRow]) -> Chart:
    """Return a bar a load case, the governing one on top; a stroke marks what is allowed; each bar says its number and grade."""
    shown = [(row.load_case or Scope.ALL.value, row.worst) for row in rows if row.worst is not None]
    ends = (len(shown) - 0.5, -0.5)
    marks = [mark for number, (_, row) in enumerate(shown) for mark in bar_of(row, number)]
    return Chart(
        "",
        f"share of what is allowed that is used, % ({MOST_SHOWN:g}: or more)",
        "",
        (0.0, MOST_SHOWN * ROOM),
        ends,
        (*marks, upright(ALLOWED, ends, INK, 2.0)),
        names=tuple(shortened(name) for name, _ in shown),
    )


def bar_of(row: CheckResult, number: int) -> Iterable[Drawn]:
    """Return one bar with its number; a hatched one is LOW."""
    length, low = min(100.0 * row.used, MOST_SHOWN), row.grade is Grade.LOW
    yield Area(bar(number, length, HIGH), WARN if low else LINE, is_hatched=low)
    yield Note(f"{percent(row.used)} {row.grade.value}", (max(length, ALLOWED), float(number)))


def shortened(name: str, most: int = 36) -> str:
    """Return a name that leaves room for the drawing; the table beside it has it whole."""
    return name if len(name) <= most else f"{name[: most - 3]}..."
