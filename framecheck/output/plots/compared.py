"""The lowest safety factor of every load case in two or more cases, bars side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.output.charts.compared import compared_chart
from framecheck.output.plots.put import put
from framecheck.study.compare import ComparedRow

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def draw_compared(axes: Axes, letters: Sequence[str], rows: Sequence[ComparedRow]) -> Axes:
    """Draw a group of bars a load case, one bar a case in the order of its letter; each bar says its number."""
    return put(axes, compared_chart(letters, rows))
