"""Safety factor against the depth of a notch, one line for each corner radius."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from framecheck.output.charts.colours import INK, LINE, QUIET
from framecheck.output.display import Units, bare, shown_unit
from framecheck.output.plots.style import MAP, Picture, as_bytes, framed, new_figure
from framecheck.study.notch import NotchStudy

if TYPE_CHECKING:
    from matplotlib.axes import Axes

STROKES = ("-", "--", "-.", ":")
MOST_SHOWN = 10.0


def draw_notch(axes: Axes, study: NotchStudy, units: Units) -> Axes:
    """Draw yield of the net section and of the corner at each radius against the depth; higher is safer.

    The grey lines are the depth as written and the target on yield.
    """
    from matplotlib import colormaps

    curve, unit = study.curve, shown_unit("length", units)
    depths = curve.depths / unit.size
    colours = colormaps[MAP](np.linspace(0.0, 0.85, len(curve.radii)))
    axes.plot(depths, curve.on_yield, color=INK, linewidth=2.0, marker="o", markersize=3, label="net section")
    for number, radius in enumerate(curve.radii):
        label = f"corner, R {bare(float(radius), 'length', units)} {unit.label}"
        axes.plot(depths, curve.at_corner[:, number], color=colours[number], linestyle=STROKES[number % 4], label=label)
    axes.axvline(study.cut.depth / unit.size, color=QUIET, linewidth=0.8)
    said, top = (study.cut.depth / unit.size, 0.98), ("data", "axes fraction")
    axes.annotate("as written", said, xycoords=top, rotation=90, ha="right", va="top", color=INK)
    target = study.asked.safety_factor
    axes.axhline(target, color=LINE, linewidth=0.8)
    right = ("axes fraction", "data")
    axes.annotate("target on yield", (0.99, target), xycoords=right, ha="right", va="bottom", color=LINE)
    axes.set_ylim(0.0, max(min(MOST_SHOWN, 1.1 * highest(study)), 1.2 * target))
    axes.legend(frameon=False)
    return framed(axes, f"notch '{study.cut.name}' in {study.member}", f"depth, {unit.label}", "lowest safety factor")


def highest(study: NotchStudy) -> float:
    """Return the highest safety factor of the curve."""
    values = np.concatenate([study.curve.on_yield, study.curve.at_corner.ravel()])
    known = values[np.isfinite(values) & (values < 1e6)]
    return float(known.max()) if len(known) else 1.0


def notch_figure(study: NotchStudy, picture: Picture, units: Units) -> bytes:
    """Return the figure as png, svg or pdf."""
    figure = new_figure(6.4, 4.0)
    draw_notch(figure.add_subplot(), study, units)
    return as_bytes(figure, picture)
