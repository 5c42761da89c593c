"""Along one member: moments, shears, torsion, and the safety factor on yield."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.display import Units, shown_unit
from framecheck.output.plots.style import LINE, QUIET, WARN, figure_with_margins, framed
from framecheck.stress import MemberStress

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

COMPONENTS = {
    "axial force": (0, "force"),
    "shear sideways": (1, "force"),
    "shear vertical": (2, "force"),
    "torsion": (3, "moment"),
    "bending vertically": (4, "moment"),
    "bending sideways": (5, "moment"),
}
"""Column of MemberForces.member_forces and quantity by name."""

MOST_SHOWN = 10.0


def draw_diagram(axes: Axes, stress: MemberStress, case: int, component: str, units: Units) -> Axes:
    """Draw one section force along a member in one load case; + is tension, tension at top, tension on the left."""
    column, quantity = COMPONENTS[component]
    unit, along = shown_unit(quantity, units), shown_unit("station", units)
    stations = stress.forces.stations / along.size
    values = stress.forces.member_forces[:, case, column] / unit.size
    axes.fill_between(stations, values, 0.0, color=LINE, alpha=0.2, linewidth=0)
    axes.plot(stations, values, color=LINE, linewidth=1.4)
    axes.axhline(0.0, color=QUIET, linewidth=0.8)
    return framed(axes, component, f"station, {along.label}", f"{component}, {unit.label}")


def safety_along(stress: MemberStress, case: int) -> Array:
    """Return the safety factor on yield (n_station,) of parent metal, at most MOST_SHOWN; NaN where no stress is known."""
    strength = np.array([section.yield_strength for section in stress.forces.sections])
    factor = strength / np.maximum(stress.nominal[:, case], strength / MOST_SHOWN)
    return np.where(stress.known, factor, np.nan)


def draw_safety(axes: Axes, stress: MemberStress, case: int, target: float, units: Units) -> Axes:
    """Draw the safety factor on yield along a member in one load case, with its target."""
    along = shown_unit("station", units)
    axes.plot(stress.forces.stations / along.size, safety_along(stress, case), color=LINE, linewidth=1.4)
    axes.axhline(target, color=WARN, linewidth=1.0, linestyle="--")
    axes.annotate(
        f"target {target:g}", (1.0, target), xycoords=("axes fraction", "data"), ha="right", va="bottom", color=WARN
    )
    axes.set_ylim(0.0, MOST_SHOWN * 1.05)
    return framed(axes, "safety factor on yield (10: 10 or more)", f"station, {along.label}", "safety factor")


def along_figure(stress: MemberStress, case: int, target: float, units: Units) -> Figure:
    """Return a member's shear, torsion, bending and safety factor along its length in one load case."""
    figure = figure_with_margins(8.6, 6.6, (0.85, 0.1, 0.55, 0.35))
    axes = figure.subplots(3, 2)
    chosen = [each for each in COMPONENTS if each != "axial force"]
    for one, component in zip(axes.flat, chosen, strict=False):
        draw_diagram(one, stress, case, component, units)
    draw_safety(axes.flat[5], stress, case, target, units)
    return figure
