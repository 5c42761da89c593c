"""What the colours of a chart mean, as SVG beside its plot."""

from __future__ import annotations

from html import escape

from framecheck.output.charts.chart import ABOVE, WORSE, Scale, View
from framecheck.output.charts.ticks import ticks

AXIS = "#57606a"
APART_UP = 34.0
"""Pixels that numbers of an upright axis keep from each other."""
BAR, LEAST = 12.0, 4
OVER = 17.0
"""Pixels of the scale of colours that stand for more than is allowed."""


def most(pixels: float, apart: float) -> int:
    """Return how many intervals have room; fewer than LEAST may leave but one number."""
    return max(LEAST, int(pixels / apart))


def colour_bar(scale: Scale, view: View, name: str) -> str:
    """Return the colours from nothing to what is allowed beside the plot, what is above it on top, with numbers and a name."""
    x, up = view.right + 14, view.up - OVER
    step = up / len(WORSE)
    bars = "".join(
        f'<path d="M{x:.1f} {view.bottom - step * (n + 0.5):.1f}h{BAR:g}" stroke="{colour}" stroke-width="{step + 0.4:.2f}"/>'
        for n, colour in enumerate(WORSE)
    )
    box = f"M{x:.1f} {view.top:.1f}h{BAR:g}v{OVER - 3:g}h-{BAR:g}Z"
    over = f'<path d="{box}" fill="{ABOVE}"/><path d="{box}" fill="url(#{name}-hatch)"/>'
    over += f'<text x="{x + BAR + 4:.1f}" y="{view.top + 9:.1f}">more</text>'
    numbers = "".join(
        f'<text x="{x + BAR + 4:.1f}" y="{view.bottom - up * place / scale.high + 4:.1f}">{text}</text>'
        for place, text in ticks((0.0, scale.high), most(up, APART_UP))
    )
    place = f"translate({x + 62:.1f} {view.top + view.up / 2:.1f}) rotate(-90)"
    return f'<g fill="{AXIS}">{bars}{over}{numbers}<text transform="{place}" text-anchor="middle">{escape(scale.label)}</text></g>'
