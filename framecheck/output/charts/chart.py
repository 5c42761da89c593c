"""A chart as data: marks in its own units between stated ends, its colours, its ticks, and where its units lie on a panel."""

from __future__ import annotations

from enum import Enum

import numpy as np

from framecheck.model.arrays import Array
from framecheck.value_class import array_class, value_class

INK = "#1b1f24"
QUIET = "#8b949e"
LINE = "#0b5fa5"
WARN = "#b3261e"

# fmt: off
STEPS = (
    "#00224e", "#00285b", "#002e6a", "#053371", "#1c396f", "#293f6e", "#33446d", "#3c4a6c",
    "#45506c", "#4d556c", "#555b6d", "#5c616e", "#646770", "#6b6d72", "#727274", "#787877",
    "#807f78", "#888578", "#908b78", "#979177", "#a09875", "#a89e73", "#b0a571", "#b9ab6d",
    "#c2b369", "#cbb965", "#d3c05f", "#dcc859", "#e6d051", "#efd748", "#f8df3c", "#fee838",
)
# fmt: on
"""The map cividis in 32 even steps, which the colour-blind see as others do: J. Nunez, C. Anderton, R. Renslow, "Optimizing
colormaps with consideration for color vision deficiency", PLoS ONE 13(7), 2018, e0199239, as matplotlib 3 gives it."""


WORSE = STEPS[::-1]
"""From nothing to all that is allowed: the darker, the worse, in colour and in grey."""
ABOVE = WARN
"""What uses more than is allowed; lines and bars of it are hatched as well."""


def colour_of(share: float) -> str:
    """Return the colour of a share of what is allowed: from none to all of it, and one colour above."""
    return ABOVE if is_above(share) else WORSE[round(min(max(share, 0.0), 1.0) * (len(WORSE) - 1))]


def is_above(share: float) -> bool:
    """Return whether a share is more than all, but for rounding."""
    return share > 1.0 + 1e-9


def colours_of(values: Array, high: float) -> tuple[str, ...]:
    """Return the colour of each value (n,) on a scale from 0 to what is allowed."""
    return tuple(colour_of(float(each)) for each in values / high)


Range = tuple[float, float]
"""The ends of an axis: left and right, or bottom and top. It runs backwards where the first is the greater."""


class Stroke(Enum):
    """How a line is drawn."""

    SOLID = "-"
    DASHED = "--"
    DOTTED = ":"
    CHAIN = "-."


class PointMark(Enum):
    """What a point is marked with."""

    PLUS = "+"
    CROSS = "x"
    RING = "o"


class TextSide(Enum):
    """Where a text stands beside its place."""

    LEFT = "left"
    RIGHT = "right"
    MIDDLE = "middle"
    ABOVE = "above"


@array_class
class ChartLine:
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
    """A line through points (n, 2), each of its n - 1 pieces in its colour, dark on both sides so that light ones show on white.

    width in points. Pieces in ABOVE are hatched. name: of the member that it is, "" for none.
    """

    points: Array
    colours: tuple[str, ...]
    width: float = 2.6
    name: str = ""


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
    sign: PointMark
    colour: str
    size: float = 10.0
    label: str = ""


@value_class
class Note:
    """A text beside a place. is_turned: it reads upwards."""

    text: str
    at: tuple[float, float]
    side: TextSide = TextSide.RIGHT
    colour: str = INK
    is_turned: bool = False


@value_class
class Group:
    """Marks that belong together. Where the same group comes again on a page, it is written once (svg.py)."""

    marks: tuple[ChartLine | Area | Strokes, ...]


@value_class
class DrawnThing:
    """Marks that stand for one thing of the case, which a page may lead to: its name, what it is in words.

    facts: further words for the page, each with a name of its own.
    """

    marks: tuple[ChartLine | Area | Strokes | Dots | Mark | Note | Group, ...]
    name: str
    said: str
    facts: tuple[tuple[str, str], ...] = ()


Drawn = ChartLine | Area | Strokes | Dots | Mark | Note | Group | DrawnThing


@value_class
class Scale:
    """What the colours mean: from 0 to what is allowed, and one hatched colour above; with the name and unit."""

    label: str
    high: float


@array_class
class Chart:
    """A chart. names: the rows of its upright axis (0, 1 ...), top first; none: that axis has numbers.

    is_equal: both axes have one scale. has_axes: False for a picture that needs none.
    beside: pixels at the right of the plot for words.
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
    beside: float = 0.0

    @property
    def labelled(self) -> tuple[ChartLine | Area | Mark, ...]:
        """Return the marks that the key names."""
        return tuple(each for each in self.marks if isinstance(each, ChartLine | Area | Mark) and each.label)


def level(x: Range, y: float, colour: str, width: float = 0.8, stroke: Stroke = Stroke.SOLID) -> ChartLine:
    """Return a level line right across."""
    return ChartLine(np.array(x), np.array([y, y]), colour, width, stroke)


def upright(x: float, y: Range, colour: str, width: float = 0.8, stroke: Stroke = Stroke.SOLID) -> ChartLine:
    """Return an upright line from bottom to top."""
    return ChartLine(np.array([x, x]), np.array(y), colour, width, stroke)


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


LETTER = 6.7
"""Width of a letter of the page's usual font at 12 pixels, a little more than most have, so that names fit."""


def letters_wide(text: str) -> float:
    """Return about how wide a text is, pixels."""
    return LETTER * len(text)


@value_class
class View:
    """The plot's box, pixels from the panel's upper left corner, and the units at its ends."""

    left: float
    top: float
    across: float
    up: float
    x: Range
    y: Range

    @property
    def right(self) -> float:
        """Return the box's right edge."""
        return self.left + self.across

    @property
    def bottom(self) -> float:
        """Return the box's lower edge."""
        return self.top + self.up

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Return the pixels of a place."""
        return (
            self.left + self.across * (x - self.x[0]) / (self.x[1] - self.x[0]),
            self.bottom - self.up * (y - self.y[0]) / (self.y[1] - self.y[0]),
        )

    def places(self, points: Array) -> Array:
        """Return the pixels (n, 2) of places (n, 2)."""
        low, high = np.array([self.x[0], self.y[0]]), np.array([self.x[1], self.y[1]])
        share = (points - low) / (high - low)
        pixels: Array = np.array([self.left, self.bottom]) + share * np.array([self.across, -self.up])
        return pixels
