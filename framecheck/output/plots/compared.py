"""The lowest safety factor of every load case in two or more cases, bars side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.output.display import factor
from framecheck.output.plots.style import INK, figure_with_margins, margin_for, shortened
from framecheck.study.compare import ComparedRow

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_SHOWN = 10.0
FILLS = (("#0b5fa5", ""), ("#e0a100", "///"), ("#5a6472", "..."), ("#8fc1e3", "xx"))
"""Colour and hatch of each case: either alone tells them apart."""


def draw_compared(axes: Axes, letters: Sequence[str], rows: Sequence[ComparedRow]) -> Axes:
    """Draw a group of bars a load case, one bar a case in the order of its letter; each bar says its number."""
    height = 0.8 / len(letters)
    for i, letter in enumerate(letters):
        colour, hatch = FILLS[i % len(FILLS)]
        known = [(number, row.values[i]) for number, row in enumerate(rows)]
        placed = [(number - 0.4 + height * (i + 0.5), value) for number, value in known if value is not None]
        lengths = [min(value, MOST_SHOWN) for _, value in placed]
        axes.barh(
            [at for at, _ in placed],
            lengths,
            height=height * 0.9,
            color=colour,
            hatch=hatch,
            edgecolor="white",
            label=letter,
        )
        for (at, value), length in zip(placed, lengths, strict=True):
            axes.text(length + 0.1, at, f"{letter} {factor(value)}", va="center", color=INK, fontsize=7.5)
    axes.set_yticks(range(len(rows)), load_cases(rows))
    axes.invert_yaxis()
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_xlim(0.0, MOST_SHOWN * 1.15)
    axes.set_xlabel("lowest safety factor (10 = 10 or more)")
    axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=len(letters), frameon=False)
    return axes


def load_cases(rows: Sequence[ComparedRow]) -> list[str]:
    """Return the load cases' names as the chart has room for them."""
    return [shortened(row.name.removeprefix("safety factor, ")) for row in rows]


def compared_figure(letters: Sequence[str], rows: Sequence[ComparedRow]) -> Figure:
    """Return the chart by itself, as tall as its bars ask."""
    height = 1.1 + (0.12 + 0.17 * len(letters)) * len(rows)
    figure = figure_with_margins(7.6, height, (margin_for(load_cases(rows)), 0.1, 0.6, 0.5))
    draw_compared(figure.add_subplot(), letters, rows)
    return figure
