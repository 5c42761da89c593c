"""A chart as data: marks in its own units between stated ends. `charts/svg.py` writes it for a page, `plots/put.py` on an `ax`."""

from __future__ import annotations

from enum import Enum

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.colours import INK, LINE
from framecheck.value_class import array_class, value_class

Range = tuple[float, float]
"""The ends of an axis: left and right, or bottom and top. It runs backwards where the first is the greater."""


class Stroke(Enum):
    """How a line is drawn."""

    SOLID = "-"
    DASHED = "--"
    DOTTED = ":"
    CHAIN = "-."


class Sign(Enum):
    """What a point is marked with."""

    PLUS = "+"
    CROSS = "x"
    RING = "o"


class Side(Enum):
    """Where a text stands beside its place."""

    LEFT = "left"
    RIGHT = "right"
    MIDDLE = "middle"
    ABOVE = "above"


@array_class
class Line:
    """A line through x, y (n,); a gap where y is NaN. width in points."""

    x: Array
    y: Array
    colour: str = LINE
    width: float = 1.4
    stroke: Stroke = Stroke.SOLID
    label: str = ""


@array_class
class Area:
    """What closed rings (n, 2) enclose; a ring in another is a hole. is_hatched: told apart without its colour."""

    rings: tuple[Array, ...]
    colour: str
    opacity: float = 1.0
    edge: str = "none"
    is_hatched: bool = False
    label: str = ""


@array_class
class Strokes:
    """A line through points (n, 2), each of its n - 1 pieces in its colour. width in points."""

    points: Array
    colours: tuple[str, ...]
    width: float = 2.6


@array_class
class Dots:
    """Dots at points (n, 2), each in its colour. size: across, in points."""

    points: Array
    colours: tuple[str, ...]
    size: float = 4.0


@value_class
class Mark:
    """A sign at one place. size: across, in points."""

    at: tuple[float, float]
    sign: Sign
    colour: str
    size: float = 10.0
    label: str = ""


@value_class
class Note:
    """A text beside a place. is_turned: it reads upwards."""

    text: str
    at: tuple[float, float]
    side: Side = Side.RIGHT
    colour: str = INK
    is_turned: bool = False


Drawn = Line | Area | Strokes | Dots | Mark | Note


@value_class
class Scale:
    """What the colours mean: from low to high, with the name and unit."""

    label: str
    low: float
    high: float


@array_class
class Chart:
    """A chart. names: the rows of its upright axis (0, 1 ...), top first; none: that axis has numbers.

    is_equal: both axes have one scale. has_axes: False for a picture that needs none.
    """

    title: str
    across: str
    up: str
    x: Range
    y: Range
    marks: tuple[Drawn, ...]
    names: tuple[str, ...] = ()
    scale: Scale | None = None
    is_equal: bool = False
    has_axes: bool = True

    @property
    def labelled(self) -> tuple[Line | Area | Mark, ...]:
        """Return the marks that the key names."""
        return tuple(each for each in self.marks if isinstance(each, Line | Area | Mark) and each.label)


def level(x: Range, y: float, colour: str, width: float = 0.8, stroke: Stroke = Stroke.SOLID) -> Line:
    """Return a level line right across."""
    return Line(np.array(x), np.array([y, y]), colour, width, stroke)


def upright(x: float, y: Range, colour: str, width: float = 0.8, stroke: Stroke = Stroke.SOLID) -> Line:
    """Return an upright line from bottom to top."""
    return Line(np.array([x, x]), np.array(y), colour, width, stroke)


def bar(row: float, length: float, height: float) -> tuple[Array, ...]:
    """Return the ring of a level bar from 0, `height` rows high, at a row."""
    low, high = row - height / 2, row + height / 2
    return (np.array([(0.0, low), (length, low), (length, high), (0.0, high), (0.0, low)]),)


def under(x: Array, y: Array) -> tuple[Array, ...]:
    """Return the ring between a line and zero."""
    zeros = np.zeros(1)
    return (np.column_stack([np.concatenate([x[:1], x, x[-1:]]), np.concatenate([zeros, y, zeros])]),)


def span(*values: Array | float, room: float = 0.08) -> Range:
    """Return ends that leave room, as a share of what lies between, on both sides of all finite values; never nothing."""
    every = np.concatenate([np.atleast_1d(np.asarray(each, dtype=np.float64)) for each in values])
    known = every[np.isfinite(every)]
    low, high = (float(known.min()), float(known.max())) if len(known) else (0.0, 1.0)
    wide = high - low if high - low > 1e-9 * max(abs(low), abs(high), 1e-9) else max(abs(high), 1.0)
    return low - room * wide, high + room * wide
