"""Charts as one SVG element: text stays text; nothing is dated or numbered by chance: the same input gives the same bytes."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from framecheck.output.charts.chart import Chart
from framecheck.output.charts.svg_axes import frame_of
from framecheck.output.charts.svg_marks import KEY, drawn, key, key_places
from framecheck.output.charts.view import View, letters_wide
from framecheck.value_class import value_class

TITLE, FOOT, BESIDE, TICKS, SCALE = 26.0, 46.0, 16.0, 66.0, 84.0
"""Pixels kept for the title, what stands below, the free side, the numbers of the upright axis, the colours."""
NAMES_PADDING = 14.0


@value_class
class Sheet:
    """Charts side by side and below each other, each `wide` by `high` pixels."""

    charts: Sequence[Chart]
    columns: int
    wide: float
    high: float


def as_svg(sheet: Sheet, name: str, title: str, description: str) -> str:
    """Return the charts as an SVG element with a title and a description; ids carry the figure's name."""
    rows = -(-len(sheet.charts) // sheet.columns)
    size = (sheet.columns * sheet.wide, rows * sheet.high)
    parts = [
        panel(chart, (number % sheet.columns) * sheet.wide, (number // sheet.columns) * sheet.high, sheet, name)
        for number, chart in enumerate(sheet.charts)
    ]
    return (
        f'<svg viewBox="0 0 {size[0]:g} {size[1]:g}" width="{size[0]:g}" height="{size[1]:g}" role="img" '
        f'aria-labelledby="{name}-title {name}-desc" font-size="12"><title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-desc">{escape(description)}</desc>{hatch(name)}{"".join(parts)}</svg>'
    )


def hatch(name: str) -> str:
    """Return the strokes that tell an area apart without its colour."""
    return (
        f'<defs><pattern id="{name}-hatch" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path d="M0 0V6" stroke="#fff" stroke-width="2.4"/></pattern></defs>'
    )


def panel(chart: Chart, left: float, top: float, sheet: Sheet, name: str) -> str:
    """Return one chart at its place."""
    view = view_of(chart, sheet.wide, sheet.high)
    head = f'<text x="{view.left:.1f}" y="16" font-size="13" font-weight="600">{escape(chart.title)}</text>'
    marks = "".join(drawn(mark, view, name) for mark in chart.marks)
    shift = f' transform="translate({left:g} {top:g})"' if left or top else ""
    named = key(chart, view, (TITLE + 8, sheet.wide - view.left - BESIDE), name)
    return f'<g{shift} fill="#1b1f24">{head}{frame_of(chart, view)}{marks}{named}</g>'


def view_of(chart: Chart, wide: float, high: float) -> View:
    """Return where the chart's own units lie within its margins; equal scales leave the rest of the room empty."""
    left = max(map(letters_wide, chart.names)) + NAMES_PADDING if chart.names else TICKS if chart.has_axes else BESIDE
    right = SCALE if chart.scale else BESIDE
    across = wide - left - right
    rows = 1 + max((row for _, row, _ in key_places(chart, wide - left - BESIDE)), default=-1)
    top, foot = (TITLE if chart.title or rows else 8.0) + KEY * rows, FOOT if chart.has_axes else BESIDE
    up = high - top - foot
    if not chart.is_equal:
        return View(left, top, across, up, chart.x, chart.y)
    units = abs(chart.x[1] - chart.x[0]), abs(chart.y[1] - chart.y[0])
    scale = min(across / units[0], up / units[1])
    return View(left, top, scale * units[0], scale * units[1], chart.x, chart.y)
