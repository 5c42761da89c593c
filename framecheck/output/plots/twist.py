"""The twist along the frame under a couple at the front axle, the rear axle held."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from framecheck.frame.stiffness import FrameStiffness
from framecheck.output.charts.twist import twist_chart
from framecheck.output.display import Units
from framecheck.output.plots.put import put
from framecheck.output.plots.style import Picture, as_bytes, new_figure

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def draw_twist(axes: Axes, found: Sequence[FrameStiffness], units: Units) -> Axes:
    """Draw the twist along the frame, front at the left, one line per bound; a steep stretch is a soft one."""
    return put(axes, twist_chart(found, units))


def twist_figure(found: Sequence[FrameStiffness], picture: Picture, units: Units) -> bytes:
    """Return the figure as png, svg or pdf."""
    figure = new_figure(7.0, 3.6)
    draw_twist(figure.add_subplot(), found, units)
    return as_bytes(figure, picture)
