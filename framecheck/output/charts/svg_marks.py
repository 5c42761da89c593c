"""Each mark of a chart as SVG."""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch
from html import escape
from itertools import groupby

import numpy as np

from framecheck.output.charts.chart import Area, Chart, Dots, Drawn, Line, Mark, Note, Side, Sign, Stroke, Strokes
from framecheck.output.charts.view import View, letters_wide, path

PIXELS = 4 / 3
"""Pixels in a point."""
DASHES = {Stroke.DASHED: "6 4", Stroke.DOTTED: "1.5 3.5", Stroke.CHAIN: "8 3 2 3"}
ANCHORS = {Side.LEFT: "end", Side.RIGHT: "start", Side.MIDDLE: "middle", Side.ABOVE: "middle"}
KEY = 20.0
"""Pixels from one row of the key to the next."""
BESIDE, ABOVE, MIDDLE = 5.0, -5.0, 4.0
"""Pixels from a place to a text on its side and above it, and from a text's middle to its foot."""


@singledispatch
def drawn(mark: Drawn, view: View, name: str) -> str:
    """Return a mark as SVG. name: of the figure, which its ids carry."""
    raise TypeError(f"no way to draw {type(mark).__name__}")


@drawn.register
def _(mark: Line, view: View, name: str) -> str:
    return line(path(view.places(np.column_stack([mark.x, mark.y]))), mark)


def line(commands: str, mark: Line) -> str:
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
    pixels = view.places(mark.points)
    runs = (
        f'<path d="{path(pixels[first : last + 2])}" stroke="{colour}"/>'
        for colour, first, last in runs_of(mark.colours)
    )
    return f'<g fill="none" stroke-width="{mark.width * PIXELS:.1f}" stroke-linecap="round">{"".join(runs)}</g>'


def runs_of(colours: tuple[str, ...]) -> Iterator[tuple[str, int, int]]:
    """Yield each colour with the first and the last number of a run of it."""
    for colour, run in groupby(enumerate(colours), key=lambda pair: pair[1]):
        numbers = [number for number, _ in run]
        yield colour, numbers[0], numbers[-1]


@drawn.register
def _(mark: Dots, view: View, name: str) -> str:
    radius = mark.size * PIXELS / 2
    places = zip(view.places(mark.points).tolist(), mark.colours, strict=True)
    return "".join(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" fill="{colour}"/>' for (x, y), colour in places)


@drawn.register
def _(mark: Mark, view: View, name: str) -> str:
    return sign(*view.place(*mark.at), mark)


def sign(x: float, y: float, mark: Mark) -> str:
    """Return a sign at pixels."""
    r = mark.size * PIXELS / 2
    how = f'fill="none" stroke="{mark.colour}" stroke-width="2.6"'
    if mark.sign is Sign.RING:
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" {how}/>'
    ends = ((0, r), (r, 0)) if mark.sign is Sign.PLUS else ((r, r), (r, -r))
    strokes = "".join(f"M{x - dx:.1f} {y - dy:.1f}L{x + dx:.1f} {y + dy:.1f}" for dx, dy in ends)
    return f'<path d="{strokes}" {how}/>'


@drawn.register
def _(mark: Note, view: View, name: str) -> str:
    x, y = view.place(*mark.at)
    aside = {Side.LEFT: -BESIDE, Side.RIGHT: BESIDE}.get(mark.side, 0.0)
    lift = ABOVE if mark.side is Side.ABOVE else MIDDLE
    place = f'x="{aside:.1f}" y="{lift:.1f}" transform="translate({x:.1f} {y:.1f}){" rotate(-90)" if mark.is_turned else ""}"'
    return f'<text {place} text-anchor="{ANCHORS[mark.side]}" fill="{mark.colour}">{escape(mark.text)}</text>'


def key(chart: Chart, view: View, room: tuple[float, float], name: str) -> str:
    """Return what the labelled marks are, in rows from the plot's left edge. room: the first row's y, and how wide it may be."""
    parts = []
    for mark, row, x in key_places(chart, room[1]):
        at = view.left + x, room[0] + KEY * row
        parts.append(sample(mark, *at, name))
        parts.append(f'<text x="{at[0] + 30:.1f}" y="{at[1] + MIDDLE:.1f}">{escape(mark.label)}</text>')
    return "".join(parts)


def key_places(chart: Chart, wide: float) -> list[tuple[Line | Area | Mark, int, float]]:
    """Return each labelled mark with its row and its pixels from the left: as many to a row as have room."""
    found, row, x = [], 0, 0.0
    for mark in chart.labelled:
        room = 48 + letters_wide(mark.label)
        if x > 0 and x + room > wide:
            row, x = row + 1, 0.0
        found.append((mark, row, x))
        x += room
    return found


def sample(mark: Line | Area | Mark, x: float, y: float, name: str) -> str:
    """Return a mark as its key shows it, at pixels."""
    match mark:
        case Line():
            return line(f"M{x:.1f} {y:.1f}h24", mark)
        case Area():
            return area(f"M{x:.1f} {y - 5:.1f}h24v10h-24Z", mark, name)
        case Mark():
            return sign(x + 12, y, mark)
