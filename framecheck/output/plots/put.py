"""A chart on an `ax` of matplotlib: what `framecheck draw` and a notebook show is what the report shows."""

from __future__ import annotations

from functools import singledispatch
from typing import TYPE_CHECKING

import numpy as np

from framecheck.output.charts.chart import Area, Chart, Dots, Drawn, Line, Mark, Note, Side, Strokes
from framecheck.output.charts.colours import INK
from framecheck.output.plots.style import MAP

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from framecheck.model.arrays import Array

BESIDE = 4.0
OFFSETS = {Side.LEFT: (-BESIDE, 0.0), Side.RIGHT: (BESIDE, 0.0), Side.MIDDLE: (0.0, 0.0), Side.ABOVE: (0.0, BESIDE)}
ACROSS = {Side.LEFT: "right", Side.RIGHT: "left", Side.MIDDLE: "center", Side.ABOVE: "center"}
KEY_HIGH = 20.0
"""Points between the plot and its title where the key stands between them."""


def put(axes: Axes, chart: Chart) -> Axes:
    """Draw a chart on an axes and return it."""
    for mark in chart.marks:
        put_mark(mark, axes)
    axes.set_xlim(*chart.x)
    axes.set_ylim(*chart.y)
    if chart.names:
        axes.set_yticks(range(len(chart.names)), list(chart.names))
    if chart.is_equal:
        axes.set_aspect("equal")
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_title(chart.title, loc="left", color=INK, pad=KEY_HIGH if chart.labelled else None)
    axes.set_xlabel(chart.across)
    axes.set_ylabel(chart.up)
    if chart.labelled:
        axes.legend(loc="lower left", bbox_to_anchor=(0.0, 0.98), ncols=len(chart.labelled), frameon=False)
    return with_scale(axes, chart)


def with_scale(axes: Axes, chart: Chart) -> Axes:
    """Give an axes the meaning of its colours where it has any."""
    if chart.scale is not None:
        from matplotlib.cm import ScalarMappable
        from matplotlib.colors import Normalize

        colours = ScalarMappable(Normalize(chart.scale.low, chart.scale.high), MAP)
        axes.figure.colorbar(colours, ax=axes, shrink=0.8, label=chart.scale.label)
    return axes


@singledispatch
def put_mark(mark: Drawn, axes: Axes) -> None:
    """Draw one mark on an axes."""
    raise TypeError(f"no way to draw {type(mark).__name__}")


@put_mark.register(Line)
def _(mark: Line, axes: Axes) -> None:
    axes.plot(
        mark.x, mark.y, color=mark.colour, linewidth=mark.width, linestyle=mark.stroke.value, label=mark.label or None
    )


def one_way(ring: Array, *, is_hole: bool) -> Array:
    """Return a ring run anticlockwise, a hole clockwise: matplotlib fills what both run round alike."""
    x, y = ring[:, 0], ring[:, 1]
    twice_area = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    return ring[::-1] if (twice_area < 0.0) != is_hole else ring


@put_mark.register(Area)
def _(mark: Area, axes: Axes) -> None:
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    turned = (one_way(ring, is_hole=n > 0) for n, ring in enumerate(mark.rings))
    closed = (np.vstack([ring, ring[:1]]) for ring in turned)  # matplotlib takes the last point for a mark of the end
    whole = Path.make_compound_path(*(Path(ring, closed=True) for ring in closed))
    edge = "white" if mark.is_hatched else mark.edge
    patch = PathPatch(whole, facecolor=mark.colour, edgecolor=edge, alpha=mark.opacity, label=mark.label or None)
    if mark.is_hatched:
        patch.set_hatch("///")
    axes.add_patch(patch)


@put_mark.register(Strokes)
def _(mark: Strokes, axes: Axes) -> None:
    from matplotlib.collections import LineCollection

    pieces = np.stack([mark.points[:-1], mark.points[1:]], axis=1)
    axes.add_collection(LineCollection(list(pieces), colors=mark.colours, linewidths=mark.width))


@put_mark.register(Dots)
def _(mark: Dots, axes: Axes) -> None:
    axes.scatter(mark.points[:, 0], mark.points[:, 1], c=list(mark.colours), s=mark.size**2, zorder=3)


@put_mark.register(Mark)
def _(mark: Mark, axes: Axes) -> None:
    axes.plot(
        [mark.at[0]],
        [mark.at[1]],
        mark.sign.value,
        markersize=mark.size,
        markerfacecolor="none",
        markeredgecolor=mark.colour,
        markeredgewidth=2.0,
        label=mark.label or None,
    )


@put_mark.register(Note)
def _(mark: Note, axes: Axes) -> None:
    axes.annotate(
        mark.text,
        mark.at,
        xytext=OFFSETS[mark.side],
        textcoords="offset points",
        ha=ACROSS[mark.side],
        va="bottom" if mark.side is Side.ABOVE else "center",
        rotation=90.0 if mark.is_turned else 0.0,
        color=mark.colour,
    )
