"""A chart's axes, their numbers and names, and the meaning of its colours, as SVG."""

from __future__ import annotations

from html import escape

from framecheck.output.charts.chart import Chart, Scale
from framecheck.output.charts.colours import STEPS
from framecheck.output.charts.ticks import ticks
from framecheck.output.charts.view import View, letters_wide

TICK, GRID, AXIS = 4.0, "#e3e6ea", "#57606a"
APART_ACROSS, APART_UP = 62.0, 34.0
"""Pixels that numbers keep from each other."""
BAR, LEAST = 12.0, 4


def frame_of(chart: Chart, view: View) -> str:
    """Return all but the marks of a chart."""
    parts = [colour_bar(chart.scale, view)] if chart.scale else []
    if chart.has_axes:
        parts += [across_axis(chart, view), names_axis(chart, view) if chart.names else up_axis(chart, view)]
    return "".join(parts)


def most(pixels: float, apart: float) -> int:
    """Return how many intervals have room; fewer than LEAST may leave but one number."""
    return max(LEAST, int(pixels / apart))


def across_axis(chart: Chart, view: View) -> str:
    """Return the lower axis with its numbers and its name."""
    y = view.bottom
    parts = [f'<path d="M{view.left:.1f} {y:.1f}H{view.right:.1f}" stroke="{AXIS}"/>']
    for place, text in ticks(view.x, most(view.across, APART_ACROSS)):
        x = view.place(place, view.y[0])[0]
        parts.append(f'<path d="M{x:.1f} {view.top:.1f}V{y:.1f}" stroke="{GRID}"/>')
        parts.append(
            f'<path d="M{x:.1f} {y:.1f}v{TICK:g}" stroke="{AXIS}"/><text x="{x:.1f}" y="{y + 17:.1f}">{text}</text>'
        )
    middle = view.left + view.across / 2
    name = f'<text x="{middle:.1f}" y="{y + 36:.1f}">{escape(chart.across)}</text>'
    return f'<g text-anchor="middle" fill="{AXIS}">{"".join(parts)}{name}</g>'


def up_axis(chart: Chart, view: View) -> str:
    """Return the upright axis with its numbers and its name."""
    parts = [f'<path d="M{view.left:.1f} {view.top:.1f}V{view.bottom:.1f}" stroke="{AXIS}"/>']
    widest = 0.0
    for value, text in ticks(view.y, most(view.up, APART_UP)):
        y = view.place(view.x[0], value)[1]
        parts.append(f'<path d="M{view.left:.1f} {y:.1f}H{view.right:.1f}" stroke="{GRID}"/>')
        parts.append(f'<path d="M{view.left:.1f} {y:.1f}h-{TICK:g}" stroke="{AXIS}"/>')
        parts.append(f'<text x="{view.left - 7:.1f}" y="{y + 4:.1f}">{text}</text>')
        widest = max(widest, letters_wide(text))
    place = f"translate({view.left - 15 - widest:.1f} {view.top + view.up / 2:.1f}) rotate(-90)"
    name = f'<text transform="{place}" text-anchor="middle">{escape(chart.up)}</text>'
    return f'<g text-anchor="end" fill="{AXIS}">{"".join(parts)}{name}</g>'


def names_axis(chart: Chart, view: View) -> str:
    """Return the upright axis with a name for each row."""
    parts = [f'<path d="M{view.left:.1f} {view.top:.1f}V{view.bottom:.1f}" stroke="{AXIS}"/>']
    for row, text in enumerate(chart.names):
        y = view.place(view.x[0], row)[1]
        parts.append(f'<text x="{view.left - 7:.1f}" y="{y + 4:.1f}">{escape(text)}</text>')
    return f'<g text-anchor="end">{"".join(parts)}</g>'


def colour_bar(scale: Scale, view: View) -> str:
    """Return the colours from low to high beside the plot, with numbers and a name."""
    x, step = view.right + 14, view.up / len(STEPS)
    bars = "".join(
        f'<path d="M{x:.1f} {view.bottom - step * (n + 0.5):.1f}h{BAR:g}" stroke="{colour}" stroke-width="{step + 0.4:.2f}"/>'
        for n, colour in enumerate(STEPS)
    )
    numbers = "".join(
        f'<text x="{x + BAR + 4:.1f}" y="{view.bottom - view.up * (place - scale.low) / (scale.high - scale.low) + 4:.1f}">'
        f"{text}</text>"
        for place, text in ticks((scale.low, scale.high), most(view.up, APART_UP))
    )
    place = f"translate({x + 62:.1f} {view.top + view.up / 2:.1f}) rotate(-90)"
    return f'<g fill="{AXIS}">{bars}{numbers}<text transform="{place}" text-anchor="middle">{escape(scale.label)}</text></g>'
