"""Figures of studies on an `ax` of matplotlib: notch depth against safety factor, mass against what is reached and stiffness."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.study import Aims
from framecheck.output.charts.chart import INK, LINE, QUIET, WARN
from framecheck.output.charts.on_axes import MAP, Picture, as_bytes, framed, new_figure
from framecheck.output.display import Units, bare, shown_unit
from framecheck.study.measure import VariantRow
from framecheck.study.notch import CORNER_TARGET, NotchStudy, asks_of_corner
from framecheck.study.sweep import Shortlist

if TYPE_CHECKING:
    from matplotlib.axes import Axes


STROKES = ("-", "--", "-.", ":")
MOST_SHOWN = 10.0


def draw_notch(axes: Axes, study: NotchStudy, units: Units) -> Axes:
    """Draw yield of the net section and of the corner at each radius against the depth; higher is safer.

    The level lines are what is asked, the upright one is the depth as written.
    """
    from matplotlib import colormaps

    curve, unit = study.curve, shown_unit("length", units)
    depths = curve.depths / unit.size
    colours = colormaps[MAP](np.linspace(0.0, 0.6, len(curve.radii)))
    axes.plot(depths, curve.on_yield, color=INK, linewidth=2.0, marker="o", markersize=3, label="net section")
    for number, radius in enumerate(curve.radii):
        label = f"corner, R {bare(float(radius), 'length', units)} {unit.label}"
        axes.plot(depths, curve.at_corner[:, number], color=colours[number], linestyle=STROKES[number % 4], label=label)
    has_corner = asks_of_corner(study)
    if has_corner:
        line_asked(axes, CORNER_TARGET, "target on local\nyield at the corner", is_above=study.asked.safety_factor <= CORNER_TARGET)
    axes.axvline(study.cut.depth / unit.size, color=QUIET, linewidth=0.8)
    said, top = (study.cut.depth / unit.size, 0.98), ("data", "axes fraction")
    axes.annotate("as written", said, xycoords=top, rotation=90, ha="right", va="top", color=INK)
    target = study.asked.safety_factor
    said_of_net = "target on yield of\nthe net section" if has_corner else "target\non yield"
    line_asked(axes, target, said_of_net, is_above=not has_corner or target > CORNER_TARGET)
    axes.set_ylim(0.0, max(min(MOST_SHOWN, 1.1 * highest(study)), 1.2 * target))
    axes.legend(frameon=False)
    title = f"What safety factor is left over the depth of notch '{study.cut.name}' in {study.member}"
    return framed(axes, title, f"depth, {unit.label}", "lowest safety factor")


def line_asked(axes: Axes, target: float, said: str, *, is_above: bool) -> None:
    """Draw a level line at what is asked, and beside the plot what it is: no word lies on a curve. is_above: the upper line."""
    axes.axhline(target, color=LINE, linewidth=0.8)
    side = "bottom" if is_above else "top"
    axes.annotate(said, (1.01, target), xycoords=("axes fraction", "data"), ha="left", va=side, color=LINE, annotation_clip=False)


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


Value = Callable[[VariantRow], float | None]
ROOM = 1.08
"""How far an axis reaches above the highest variant, so that its mark and name are whole."""


def draw_variants(axes: Axes, found: Shortlist, value: Value, size: float, units: Units) -> None:
    """Draw all variants that have a value: round where no target is missed, crossed where one is."""
    weigh = shown_unit("mass", units).size
    for passes, marker, colour, label in ((True, "o", LINE, "misses no target"), (False, "x", WARN, "misses one")):
        shown = [(row.mass, value(row)) for row in found.points if row.passes is passes]
        known = [(mass / weigh, high / size) for mass, high in shown if mass is not None and high is not None]
        if known:
            along, up = zip(*known, strict=True)
            axes.scatter(along, up, marker=marker, color=colour, s=22, linewidths=1.0, label=label)
    best = found.winners[0] if found.winners else None
    if best is not None and best.mass is not None and (high := value(best)) is not None:
        axes.annotate(
            f"variant {best.number + 1}: the lightest that misses none",
            (best.mass / weigh, high / size),
            xytext=(0, 7),
            textcoords="offset points",
            color=INK,
        )


def front_of(rows: Sequence[VariantRow], value: Value) -> list[tuple[float, float]]:
    """Return mass and value of the rows that no lighter one reaches, the lightest first."""
    known = ((row.mass, value(row)) for row in rows)
    front: list[tuple[float, float]] = []
    pairs = ((mass, high) for mass, high in known if mass is not None and high is not None)
    for mass, high in sorted(pairs, key=lambda pair: (pair[0], -pair[1])):
        if not front or high > front[-1][1]:
            front.append((mass, high))
    return front


def draw_front(axes: Axes, found: Shortlist, value: Value, size: float, units: Units) -> None:
    """Join the variants of the front by steps: to its right, nothing reaches more for less."""
    weigh = shown_unit("mass", units).size
    front = front_of(found.points, value)
    if front:
        along, high = zip(*front, strict=True)
        axes.step(
            [mass / weigh for mass in along],
            [each / size for each in high],
            where="post",
            color=QUIET,
            linewidth=1.0,
            label="lightest for what it reaches",
        )


MOST_REACHED = 300.0
"""What more than so much of what is asked is drawn as, %."""
REACHED = "reached of what is asked by what governs, %"


def reached(row: VariantRow) -> float | None:
    """Return how much of what is asked the aim reaches that is met by least, %; None where nothing was judged."""
    return None if row.fault or row.governs is None else min(100.0 * row.ratio, MOST_REACHED)


def pareto_figure(found: Shortlist, aims: Aims, picture: Picture, units: Units) -> bytes:
    """Return the figure as png, svg or pdf: how far each variant meets what is asked, and its stiffness where it was measured."""
    across = f"mass of the frame, {shown_unit('mass', units).label}"
    stiffness = shown_unit("twist stiffness", units)
    panels: list[tuple[Value, float, str, str, float | None]] = [
        (reached, 1.0, "How much of what is asked each variant reaches", REACHED, 100.0)
    ]
    if any(row.torsional_stiffness is not None for row in found.points):
        label = f"torsional stiffness, {stiffness.label}"
        panels.append((stiffness_of, stiffness.size, "How stiff each variant is in torsion", label, aims.torsional_stiffness))
    figure = new_figure(5.4 * len(panels), 4.2)
    for number, (value, size, title, up, asked) in enumerate(panels, 1):
        axes = figure.add_subplot(1, len(panels), number)
        draw_front(axes, found, value, size, units)
        draw_variants(axes, found, value, size, units)
        if asked is not None:
            axes.axhline(asked / size, color=WARN, linewidth=0.8, linestyle="--", label="what is asked")
        axes.set_ylim(0.0, ROOM * axes.get_ylim()[1])  # differences too small to matter look small
        framed(axes, title, across, up)
        if number == 1:
            axes.legend(frameon=False, loc="lower right")
    return as_bytes(figure, picture)


def stiffness_of(row: VariantRow) -> float | None:
    """Return a variant's torsional stiffness, Nm/rad."""
    return row.torsional_stiffness
