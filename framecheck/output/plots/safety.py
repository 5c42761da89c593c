"""The lowest safety factor of every load case beside its target."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.output.display import factor
from framecheck.output.plots.style import INK, LINE, WARN, figure_with_margins, margin_for, shortened
from framecheck.summary import LoadCaseRow

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_SHOWN = 10.0


def draw_safety_by_load_case(axes: Axes, rows: Sequence[LoadCaseRow]) -> Axes:
    """Draw a bar a load case, the governing one on top; a stroke marks each target; each bar says its number and verdict."""
    shown = [(row.load_case, row.worst) for row in rows if row.worst is not None]
    for number, (_, row) in enumerate(shown):
        length, low = min(row.safety_factor, MOST_SHOWN), row.verdict.value == "LOW"
        axes.barh(
            number, length, color=WARN if low else LINE, height=0.62, hatch="///" if low else None, edgecolor="white"
        )
        axes.plot([row.target, row.target], [number - 0.42, number + 0.42], color=INK, linewidth=2.0)
        axes.text(length + 0.1, number, f"{factor(row.safety_factor)} {row.verdict.value}", va="center", color=INK)
    axes.set_yticks(range(len(shown)), [shortened(name) for name, _ in shown])
    axes.invert_yaxis()
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_xlim(0.0, MOST_SHOWN * 1.15)
    axes.set_xlabel("lowest safety factor (10 = 10 or more); the stroke is the target")
    return axes


def safety_figure(rows: Sequence[LoadCaseRow]) -> Figure:
    """Return the chart by itself, as tall as its rows ask."""
    left = margin_for(shortened(row.load_case) for row in rows)
    figure = figure_with_margins(7.6, 0.9 + 0.3 * len(rows), (left, 0.1, 0.6, 0.1))
    draw_safety_by_load_case(figure.add_subplot(), rows)
    return figure
