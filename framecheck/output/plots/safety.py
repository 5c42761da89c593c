"""The lowest safety factor of every load case beside its target."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.output.charts.safety import IN_ALL, safety_chart, shortened
from framecheck.output.plots.put import put
from framecheck.output.plots.style import figure_with_margins, margin_for
from framecheck.results.summary import LoadCaseRow

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def draw_safety_by_load_case(axes: Axes, rows: Sequence[LoadCaseRow]) -> Axes:
    """Draw a bar a load case, the governing one on top; a stroke marks each target; each bar says its number and verdict."""
    return put(axes, safety_chart(rows))


def safety_figure(rows: Sequence[LoadCaseRow]) -> Figure:
    """Return the chart by itself, as tall as its rows ask."""
    left = margin_for(shortened(row.load_case or IN_ALL) for row in rows)
    figure = figure_with_margins(7.6, 0.9 + 0.3 * len(rows), (left, 0.1, 0.6, 0.1))
    draw_safety_by_load_case(figure.add_subplot(), rows)
    return figure
