"""A chart on an `ax` of matplotlib, how every figure looks, and how it becomes bytes."""

from __future__ import annotations

from collections.abc import Iterable
from functools import singledispatch
from io import BytesIO
from typing import TYPE_CHECKING, Any
from warnings import catch_warnings, filterwarnings

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    WORSE,
    Area,
    Chart,
    ChartLine,
    Dots,
    Drawn,
    DrawnThing,
    Group,
    Mark,
    Note,
    Strokes,
    TextSide,
)  # fmt: skip
from framecheck.value_class import value_class
from framecheck.versions import MADE_BY

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from framecheck.model.arrays import Array


MAP = "cividis"
FORMATS = ("png", "svg", "pdf")
SETTINGS: Any = {"svg.hashsalt": "framecheck", "font.size": 9.0, "text.parse_math": False}


@value_class
class Picture:
    """How a figure is written: its format, and what it says of where it comes from."""

    kind: str
    about: str = ""

    @property
    def metadata(self) -> dict[str, str | None]:
        """Return what stands in the file beside the picture; no date."""
        match self.kind:
            case "png":
                return {"Software": MADE_BY, "Description": self.about}
            case "svg":
                return {"Date": None, "Title": MADE_BY, "Creator": MADE_BY, "Description": self.about}
            case _:
                return {"CreationDate": None, "Creator": MADE_BY, "Producer": None, "Subject": self.about}


def new_figure(width: float, height: float) -> Figure:
    """Return an empty figure, sizes in inches; no window system is ever asked for."""
    from matplotlib.figure import Figure

    return Figure(figsize=(width, height), layout="constrained")


def figure_with_margins(width: float, height: float, margins: tuple[float, float, float, float]) -> Figure:
    """Return an empty figure, sizes in inches, with margins (left, right, bottom, top) that are said and not measured.

    To measure every text, as `new_figure` does, takes half the time of a drawing.
    """
    from matplotlib.figure import Figure

    left, right, bottom, top = margins
    figure = Figure(figsize=(width, height))
    figure.subplots_adjust(left / width, bottom / height, 1 - right / width, 1 - top / height, wspace=0.3, hspace=0.65)
    return figure


def margin_for(names: Iterable[str]) -> float:
    """Return the width that the longest of some names takes beside an axis, inches."""
    return 0.3 + 0.082 * max(map(len, names), default=0)


def as_bytes(figure: Figure, picture: Picture, dpi: int = 150) -> bytes:
    """Return a figure as png, svg or pdf, without a date in it; InputError where the machine has no font at all."""
    import matplotlib as mpl

    plainly(figure)
    with mpl.rc_context(SETTINGS), catch_warnings(), BytesIO() as buffer:
        filterwarnings(
            "ignore", message="Glyph|.*layout not applied"
        )  # of a script that the font lacks: drawn as boxes, written in the tables
        try:
            if picture.kind == "svg":
                write_svg(figure, buffer, picture)
            else:
                figure.savefig(buffer, format=picture.kind, dpi=dpi, metadata=picture.metadata)
        except ValueError as error:
            if "font" not in str(error):
                raise
            remedy = "reinstall it with 'pip install --force-reinstall matplotlib'"
            raise InputError(
                [Fault("", "picture", "matplotlib finds none of the fonts it came with", remedy)]
            ) from None
        return buffer.getvalue()


def plainly(figure: Figure) -> None:
    """Set every text as it is written: a name with dollar signs is a name and no formula."""
    from matplotlib.text import Text

    for text in figure.findobj(lambda each: isinstance(each, Text)):
        text.set(parse_math=False)


def write_svg(figure: Figure, target: BytesIO, picture: Picture) -> None:
    """Write a figure as SVG by its own canvas: `savefig` lays out and draws every figure twice, which SVG has no need of."""
    from matplotlib.backends.backend_svg import FigureCanvasSVG

    canvas: Any = FigureCanvasSVG(figure)  # print_svg has no types of its own
    canvas.print_svg(target, metadata=picture.metadata)


def framed(axes: Axes, title: str, across: str, up: str) -> Axes:
    """Give an axes its title and labels."""
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_title(title, loc="left", color=INK)
    axes.set_xlabel(across)
    axes.set_ylabel(up)
    return axes


BESIDE = 4.0
OFFSETS = {TextSide.LEFT: (-BESIDE, 0.0), TextSide.RIGHT: (BESIDE, 0.0), TextSide.MIDDLE: (0.0, 0.0), TextSide.ABOVE: (0.0, BESIDE)}
ACROSS = {TextSide.LEFT: "right", TextSide.RIGHT: "left", TextSide.MIDDLE: "center", TextSide.ABOVE: "center"}
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
        axes.spines["left"].set_bounds(len(chart.names) - 0.5, max(-0.5, min(chart.y)))
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
        from matplotlib.colors import ListedColormap, Normalize

        colours = ScalarMappable(Normalize(0.0, chart.scale.high), ListedColormap(list(WORSE)).with_extremes(over=ABOVE))
        axes.figure.colorbar(colours, ax=axes, shrink=0.8, label=f"{chart.scale.label} (red: more)", extend="max")
    return axes


@singledispatch
def put_mark(mark: Drawn, axes: Axes) -> None:
    """Draw one mark on an axes."""
    raise TypeError(f"no way to draw {type(mark).__name__}")


@put_mark.register(ChartLine)
def _(mark: ChartLine, axes: Axes) -> None:
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

    pieces = list(np.stack([mark.points[:-1], mark.points[1:]], axis=1))
    axes.add_collection(LineCollection(pieces, colors=INK, linewidths=mark.width + CASING, capstyle="round"))
    axes.add_collection(LineCollection(pieces, colors=mark.colours, linewidths=mark.width, capstyle="round"))
    above = [piece for piece, colour in zip(pieces, mark.colours, strict=True) if colour == ABOVE]
    axes.add_collection(LineCollection(above, colors="white", linewidths=mark.width / 2, linestyles=(0, (1.0, 1.5))))


CASING = 1.2
"""Points by which the dark line under a coloured one is wider."""


@put_mark.register(Group)
def _(mark: Group, axes: Axes) -> None:
    for each in mark.marks:
        put_mark(each, axes)


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
    from matplotlib.patheffects import withStroke

    axes.annotate(
        mark.text,
        mark.at,
        xytext=OFFSETS[mark.side],
        textcoords="offset points",
        ha=ACROSS[mark.side],
        va="bottom" if mark.side is TextSide.ABOVE else "center",
        rotation=90.0 if mark.is_turned else 0.0,
        color=mark.colour,
        path_effects=[withStroke(linewidth=2.2, foreground="white")],
    )


@put_mark.register(DrawnThing)
def _(mark: DrawnThing, axes: Axes) -> None:
    for each in mark.marks:
        put_mark(each, axes)
