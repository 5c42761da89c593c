"""Charts as one SVG element: axes, marks, numbers. Text stays text; the same input gives the same bytes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import singledispatch
from html import escape
from itertools import groupby

import numpy as np

from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    Area,
    Chart,
    ChartLine,
    Dots,
    Drawn,
    DrawnThing,
    Group,
    Mark,
    Note,
    PointMark,
    Stroke,
    Strokes,
    TextSide,
    View,
    letters_wide,
)
from framecheck.output.charts.colour_bar import APART_UP, AXIS, colour_bar, most
from framecheck.output.charts.once import may_come_again
from framecheck.output.charts.straightened import path
from framecheck.output.charts.ticks import ticks
from framecheck.value_class import value_class

TITLE, FOOT, BESIDE, TICKS, SCALE = 26.0, 46.0, 16.0, 66.0, 84.0
"""Pixels kept for the title, what stands below, the free side, the numbers of the upright axis, the colours."""
NAMES_PADDING = 14.0


@value_class
class SvgSheet:
    """Charts side by side and below each other, each `wide` by `high` pixels."""

    charts: Sequence[Chart]
    columns: int
    wide: float
    high: float


def as_svg(sheet: SvgSheet, name: str, title: str, description: str, role: str = "img") -> str:
    """Return the charts as an SVG element with a title and a description; ids carry the figure's name. role: "group" of things."""
    rows = -(-len(sheet.charts) // sheet.columns)
    size = (sheet.columns * sheet.wide, rows * sheet.high)
    parts = [
        panel(chart, (number % sheet.columns) * sheet.wide, (number // sheet.columns) * sheet.high, sheet, name)
        for number, chart in enumerate(sheet.charts)
    ]
    return (
        f'<svg viewBox="0 0 {size[0]:g} {size[1]:g}" width="{size[0]:g}" height="{size[1]:g}" role="{role}" '
        f'aria-labelledby="{name}-title {name}-desc" font-size="12"><title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-desc">{escape(description)}</desc>{hatch(name)}{"".join(parts)}</svg>'
    )


def hatch(name: str) -> str:
    """Return the strokes that tell an area apart without its colour."""
    return (
        f'<defs><pattern id="{name}-hatch" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path d="M0 0V6" stroke="#fff" stroke-width="2.4"/></pattern></defs>'
    )


def panel(chart: Chart, left: float, top: float, sheet: SvgSheet, name: str) -> str:
    """Return one chart at its place."""
    view = view_of(chart, sheet.wide, sheet.high)
    head = f'<text x="{view.left:.1f}" y="16" font-size="13" font-weight="600">{escape(chart.title)}</text>'
    marks = "".join(drawn(mark, view, name) for mark in chart.marks)
    shift = f' transform="translate({left:g} {top:g})"' if left or top else ""
    named = key(chart, view, (TITLE + 8, sheet.wide - view.left - BESIDE), name)
    return f'<g{shift} fill="{INK}">{head}{frame_of(chart, view, name)}{marks}{named}</g>'


def view_of(chart: Chart, wide: float, high: float) -> View:
    """Return where the chart's own units lie within its margins; equal scales leave the rest of the room empty."""
    left = max(map(letters_wide, chart.names)) + NAMES_PADDING if chart.names else TICKS if chart.has_axes else BESIDE
    right = SCALE if chart.scale else max(BESIDE, chart.beside)
    across = wide - left - right
    rows = 1 + max((row for _, row, _ in key_places(chart, wide - left - BESIDE)), default=-1)
    top, foot = (TITLE if chart.title or rows else 8.0) + KEY * rows, FOOT if chart.has_axes else BESIDE
    up = high - top - foot
    if not chart.is_equal:
        return View(left, top, across, up, chart.x, chart.y)
    units = abs(chart.x[1] - chart.x[0]), abs(chart.y[1] - chart.y[0])
    scale = min(across / units[0], up / units[1])
    return View(left, top, scale * units[0], scale * units[1], chart.x, chart.y)


TICK, GRID, APART_ACROSS = 4.0, "#e3e6ea", 62.0


def frame_of(chart: Chart, view: View, name: str) -> str:
    """Return all but the marks of a chart."""
    parts = [colour_bar(chart.scale, view, name)] if chart.scale else []
    if chart.has_axes:
        parts += [across_axis(chart, view), names_axis(chart, view) if chart.names else up_axis(chart, view)]
    return "".join(parts)


def across_axis(chart: Chart, view: View) -> str:
    """Return the lower axis with its numbers and its name."""
    y, top = view.bottom, top_of(chart, view)
    parts = [f'<path d="M{view.left:.1f} {y:.1f}H{view.right:.1f}" stroke="{AXIS}"/>']
    for place, text in ticks(view.x, most(view.across, APART_ACROSS)):
        x = view.place(place, view.y[0])[0]
        parts.append(f'<path d="M{x:.1f} {top:.1f}V{y:.1f}" stroke="{GRID}"/>')
        parts.append(
            f'<path d="M{x:.1f} {y:.1f}v{TICK:g}" stroke="{AXIS}"/><text x="{x:.1f}" y="{y + 17:.1f}">{text}</text>'
        )
    middle = view.left + view.across / 2
    name = f'<text x="{middle:.1f}" y="{y + 36:.1f}">{escape(chart.across)}</text>'
    return f'<g text-anchor="middle" fill="{AXIS}">{"".join(parts)}{name}</g>'


def top_of(chart: Chart, view: View) -> float:
    """Return where the lines of a plot begin, pixels: over its rows only words stand."""
    return max(view.top, view.place(view.x[0], -0.5)[1]) if chart.names else view.top


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
    parts = [f'<path d="M{view.left:.1f} {top_of(chart, view):.1f}V{view.bottom:.1f}" stroke="{AXIS}"/>']
    for row, text in enumerate(chart.names):
        y = view.place(view.x[0], row)[1]
        parts.append(f'<text x="{view.left - 7:.1f}" y="{y + 4:.1f}">{escape(text)}</text>')
    return f'<g text-anchor="end">{"".join(parts)}</g>'


PIXELS = 4 / 3
"""Pixels in a point."""
DASHES = {Stroke.DASHED: "6 4", Stroke.DOTTED: "1.5 3.5", Stroke.CHAIN: "8 3 2 3"}
ANCHORS = {TextSide.LEFT: "end", TextSide.RIGHT: "start", TextSide.MIDDLE: "middle", TextSide.ABOVE: "middle"}
KEY = 20.0
"""Pixels from one row of the key to the next."""
BESIDE_MARK, ABOVE_MARK, MIDDLE = 5.0, -5.0, 4.0
"""Pixels from a place to a text on its side and above it, and from a text's middle to its foot."""


@singledispatch
def drawn(mark: Drawn, view: View, name: str) -> str:
    """Return a mark as SVG. name: of the figure, which its ids carry."""
    raise TypeError(f"no way to draw {type(mark).__name__}")


@drawn.register
def _(mark: ChartLine, view: View, name: str) -> str:
    return line(path(view.places(np.column_stack([mark.x, mark.y]))), mark)


def line(commands: str, mark: ChartLine) -> str:
    """Return a path as a line's stroke."""
    dashes = f' stroke-dasharray="{DASHES[mark.stroke]}"' if mark.stroke in DASHES else ""
    return f'<path d="{commands}" fill="none" stroke="{mark.colour}" stroke-width="{mark.width * PIXELS:.1f}"{dashes}/>'


@drawn.register
def _(mark: Area, view: View, name: str) -> str:
    return area("".join(path(view.places(ring), "Z") for ring in mark.rings), mark, name)


def area(commands: str, mark: Area, name: str) -> str:
    """Return what a path encloses, filled, and hatched where asked."""
    opacity = f' fill-opacity="{mark.opacity:g}"' if mark.opacity < 1 else ""
    filled = f'<path d="{commands}" fill="{mark.colour}"{opacity} fill-rule="evenodd" stroke="{mark.edge}"/>'
    return filled + (f'<path d="{commands}" fill="url(#{name}-hatch)"/>' if mark.is_hatched else "")


@drawn.register
def _(mark: Strokes, view: View, name: str) -> str:
    pixels, wide = view.places(mark.points), mark.width * PIXELS
    whole = f'<path d="{path(pixels)}" stroke="{INK}" stroke-width="{wide + CASING:.1f}"/>'
    runs = [(path(pixels[first : last + 2]), colour) for colour, first, last in runs_of(mark.colours)]
    shown = "".join(f'<path d="{commands}" stroke="{colour}"/>' for commands, colour in runs)
    hatched = "".join(
        f'<path d="{commands}" stroke="#fff" stroke-width="{wide / 2:.1f}" stroke-dasharray="2 3" stroke-linecap="butt"/>'
        for commands, colour in runs
        if colour == ABOVE
    )
    return f'<g fill="none" stroke-width="{wide:.1f}" stroke-linecap="round">{whole}{shown}{hatched}</g>'


CASING = 1.6
"""Pixels by which the dark line under a coloured one is wider."""


def runs_of(colours: tuple[str, ...]) -> Iterator[tuple[str, int, int]]:
    """Yield each colour with the first and the last number of a run of it."""
    for colour, run in groupby(enumerate(colours), key=lambda pair: pair[1]):
        numbers = [number for number, _ in run]
        yield colour, numbers[0], numbers[-1]


@drawn.register
def _(mark: Dots, view: View, name: str) -> str:
    r = mark.size * PIXELS / 2
    places = zip(view.places(mark.points).tolist(), mark.colours, strict=True)
    dots = "".join(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" fill="{colour}"/>' for (x, y), colour in places)
    return f'<g stroke="{INK}" stroke-width="0.5">{dots}</g>'


@drawn.register
def _(mark: Mark, view: View, name: str) -> str:
    return sign(*view.place(*mark.at), mark)


def sign(x: float, y: float, mark: Mark) -> str:
    """Return a sign at pixels."""
    r = mark.size * PIXELS / 2
    how = f'fill="none" stroke="{mark.colour}" stroke-width="2.6"'
    if mark.sign is PointMark.RING:
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" {how}/>'
    ends = ((0, r), (r, 0)) if mark.sign is PointMark.PLUS else ((r, r), (r, -r))
    strokes = "".join(f"M{x - dx:.1f} {y - dy:.1f}L{x + dx:.1f} {y + dy:.1f}" for dx, dy in ends)
    return f'<path d="{strokes}" {how}/>'


@drawn.register
def _(mark: Note, view: View, name: str) -> str:
    x, y = view.place(*mark.at)
    aside = {TextSide.LEFT: -BESIDE_MARK, TextSide.RIGHT: BESIDE_MARK}.get(mark.side, 0.0)
    lift = ABOVE_MARK if mark.side is TextSide.ABOVE else MIDDLE
    place = f'x="{aside:.1f}" y="{lift:.1f}" transform="translate({x:.1f} {y:.1f}){" rotate(-90)" if mark.is_turned else ""}"'
    return f'<text class="n" {place} text-anchor="{ANCHORS[mark.side]}" fill="{mark.colour}">{escape(mark.text)}</text>'


@drawn.register
def _(mark: Group, view: View, name: str) -> str:
    inner = "".join(drawn(each, view, "") for each in mark.marks)
    return may_come_again(inner)


@drawn.register
def _(mark: DrawnThing, view: View, name: str) -> str:
    inner = "".join(drawn(each, view, name) for each in mark.marks)
    facts = "".join(f' data-{word}="{escape(value)}"' for word, value in mark.facts)
    how = f'class="thing" tabindex="0" role="button" aria-label="{escape(mark.said)}" data-name="{escape(mark.name)}"'
    return f"<g {how}{facts}><title>{escape(mark.said)}</title>{inner}</g>"


def key(chart: Chart, view: View, room: tuple[float, float], name: str) -> str:
    """Return what the labelled marks are, in rows from the plot's left edge. room: the first row's y, and how wide it may be."""
    parts = []
    for mark, row, x in key_places(chart, room[1]):
        at = view.left + x, room[0] + KEY * row
        parts.append(sample(mark, *at, name))
        parts.append(f'<text x="{at[0] + 30:.1f}" y="{at[1] + MIDDLE:.1f}">{escape(mark.label)}</text>')
    return "".join(parts)


def key_places(chart: Chart, wide: float) -> list[tuple[ChartLine | Area | Mark, int, float]]:
    """Return each labelled mark with its row and its pixels from the left: as many to a row as have room."""
    found, row, x = [], 0, 0.0
    for mark in chart.labelled:
        room = 48 + letters_wide(mark.label)
        if x > 0 and x + room > wide:
            row, x = row + 1, 0.0
        found.append((mark, row, x))
        x += room
    return found


def sample(mark: ChartLine | Area | Mark, x: float, y: float, name: str) -> str:
    """Return a mark as its key shows it, at pixels."""
    match mark:
        case ChartLine():
            return line(f"M{x:.1f} {y:.1f}h24", mark)
        case Area():
            return area(f"M{x:.1f} {y - 5:.1f}h24v10h-24Z", mark, name)
        case Mark():
            return sign(x + 12, y, mark)
