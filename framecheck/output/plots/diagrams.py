"""Along one member: moments, shears, torsion, and the safety factor on yield."""

from __future__ import annotations

from typing import TYPE_CHECKING

from framecheck.model.arrays import Array
from framecheck.output.charts.along import diagrams, twist_diagram
from framecheck.output.display import Units
from framecheck.output.plots.put import put
from framecheck.output.plots.style import figure_with_margins
from framecheck.stress import MemberStress

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def draw_twist_of(axes: Axes, stress: MemberStress, twist: Array, load_case: str, units: Units) -> Axes:
    """Draw how far each station has turned about its member against the first one, twist (n_station,) in rad."""
    return put(axes, twist_diagram(stress, twist, load_case, units))


def along_figure(stress: MemberStress, case: int, target: float, units: Units, title: str = "") -> Figure:
    """Return a member's shear, torsion, bending and safety factor along its length in one load case."""
    figure = figure_with_margins(8.6, 6.9, (0.85, 0.3, 0.55, 0.65))
    axes = figure.subplots(3, 2)
    for one, chart in zip(axes.flat, diagrams(stress, case, target, units), strict=True):
        put(one, chart)
    figure.suptitle(title, x=0.02, ha="left")
    return figure
