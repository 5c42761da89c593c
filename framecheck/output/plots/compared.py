"""The lowest safety factor of every load case in two or more cases, bars side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.output.display import factor
from framecheck.output.plots.style import INK, new_figure
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
    axes.set_yticks(range(len(rows)), [row.name.removeprefix("safety factor, ") for row in rows])
    axes.invert_yaxis()
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_xlim(0.0, MOST_SHOWN * 1.15)
    axes.set_xlabel("lowest safety factor (10 = 10 or more)")
    axes.legend(
        loc="upper center", bbox_to_anchor=(0.4, 1.0 + 0.5 / max(len(rows), 1)), ncols=len(letters), frameon=False
    )
    return axes


def compared_figure(letters: Sequence[str], rows: Sequence[ComparedRow]) -> Figure:
    """Return the chart by itself, as tall as its bars ask."""
    figure = new_figure(7.2, 1.1 + (0.12 + 0.17 * len(letters)) * len(rows))
    draw_compared(figure.add_subplot(), letters, rows)
    return figure
