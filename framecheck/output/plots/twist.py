"""The twist along the frame under a couple at the front axle, the rear axle held."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.frame.stiffness import FrameStiffness
from framecheck.output.display import Units, shown_unit, with_unit
from framecheck.output.plots.style import INK, LINE, QUIET, WARN, as_bytes, framed, new_figure
from framecheck.output.stiffness_text import shown_couple

if TYPE_CHECKING:
    from matplotlib.axes import Axes

STROKES = ("-", "--", ":", "-.")


def draw_twist(axes: Axes, found: Sequence[FrameStiffness], units: Units) -> Axes:
    """Draw the twist along the frame, front at the left, one line per bound; a steep stretch is a soft one."""
    couple = shown_couple(found, units)
    along, turn = shown_unit("length", units), shown_unit("angle", units)
    for number, each in enumerate(found):
        colour, stroke = (LINE, WARN)[number % 2], STROKES[number % len(STROKES)]
        label = each.bound.name or "as written"
        axes.plot(each.x / along.size, each.twist * couple / turn.size, color=colour, linestyle=stroke, label=label)
    for place, name in ((found[0].front, "front axle"), (found[0].rear, "rear axle")):
        axes.axvline(place / along.size, color=QUIET, linewidth=0.8)
        axes.annotate(
            name,
            (place / along.size, 0.03),
            xycoords=("data", "axes fraction"),
            ha="right",
            va="bottom",
            rotation=90,
            color=INK,
        )
    axes.axhline(0.0, color=QUIET, linewidth=0.8)
    axes.invert_xaxis()
    axes.legend(frameon=False)
    title = f"twist under {with_unit(couple, 'moment', units)} between the axles"
    return framed(axes, title, f"x, {along.label} (front at the left)", f"twist, {turn.label}")


def twist_figure(found: Sequence[FrameStiffness], kind: str, units: Units) -> bytes:
    """Return the figure as png, svg or pdf."""
    figure = new_figure(7.0, 3.6)
    draw_twist(figure.add_subplot(), found, units)
    return as_bytes(figure, kind)
