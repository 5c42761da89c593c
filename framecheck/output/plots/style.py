"""How every figure looks, and how it becomes bytes: the same input gives the same bytes."""

from __future__ import annotations

from collections.abc import Iterable
from io import BytesIO
from typing import TYPE_CHECKING, Any
from warnings import catch_warnings, filterwarnings

from framecheck.errors import Fault, InputError
from framecheck.output.charts.colours import INK
from framecheck.output.origin import MADE_BY
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

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
