"""How much of what is allowed every load case uses."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.output.charts.safety import safety_chart, shortened
from framecheck.output.plots.put import put
from framecheck.output.plots.style import figure_with_margins, margin_for
from framecheck.results.summary import LoadCaseRow
from framecheck.results.tables import Scope

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def draw_safety_by_load_case(axes: Axes, rows: Sequence[LoadCaseRow]) -> Axes:
    """Draw a bar a load case, the governing one on top; a stroke marks what is allowed; each bar says its number and grade."""
    return put(axes, safety_chart(rows))


def safety_figure(rows: Sequence[LoadCaseRow], title: str = "") -> Figure:
    """Return the chart by itself, as tall as its rows ask."""
    left = margin_for(shortened(row.load_case or Scope.ALL.value) for row in rows)
    figure = figure_with_margins(7.6, 1.1 + 0.3 * len(rows), (left, 0.1, 0.6, 0.35))
    draw_safety_by_load_case(figure.add_subplot(), rows)
    figure.suptitle(title, x=0.02, ha="left", fontsize=9)
    return figure
