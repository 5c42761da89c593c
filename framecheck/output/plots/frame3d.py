"""The frame in three dimensions: its members coloured by how much of the yield strength they use, still and moved."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from framecheck.output.charts.colours import INK, QUIET
from framecheck.output.charts.space import MOVED_SHARE, arms, own_scale, used
from framecheck.output.display import Units, shown_unit
from framecheck.output.plots.style import MAP
from framecheck.stress import Outcome

if TYPE_CHECKING:
    from mpl_toolkits.mplot3d import Axes3D

AXES = "length"


def draw_frame(
    axes: Axes3D, outcome: Outcome, bound: int, case: int, scale: float | None = None, units: Units = Units.SI
) -> Axes3D:
    """Draw the frame moved in one load case and, thin, as built; colour: share of the yield strength used.

    scale: how many times the movements are drawn; None: so that they can be seen.
    """
    from matplotlib.colors import Normalize
    from mpl_toolkits.mplot3d.art3d import Line3DCollection

    times = own_scale(outcome, bound, case) if scale is None else scale
    stresses, size = outcome.stresses[bound], shown_unit(AXES, units).size
    top = max(1e-9, *(float(used(stress, case).max()) for stress in stresses))
    for places, movements in arms(outcome, bound, case):
        axes.plot(*(places + times * movements).T / size, color=INK, linewidth=1.2)
    for stress in stresses:
        places = stress.forces.places
        axes.plot(*places.T / size, color=QUIET, linewidth=0.7)
        moved = (places + times * stress.forces.displacements[:, case]) / size
        share = used(stress, case)
        lines = Line3DCollection(
            np.stack([moved[:-1], moved[1:]], axis=1), cmap=MAP, norm=Normalize(0.0, top), linewidths=2.6
        )
        lines.set_array(np.maximum(share[:-1], share[1:]))
        axes.add_collection3d(lines)
    axes.figure.colorbar(lines, ax=axes, shrink=0.55, pad=0.09, label="share of the yield strength used")
    return framed_in_space(axes, outcome, f"{outcome.loads[case].name}, movements times {times:.0f}", units)


def framed_in_space(axes: Axes3D, outcome: Outcome, title: str, units: Units) -> Axes3D:
    """Give a three-dimensional axes equal scales, labels and the vehicle's directions."""
    from matplotlib.ticker import MaxNLocator

    unit = shown_unit(AXES, units)
    places = np.concatenate([member.places for member in outcome.solutions[0].members]) / unit.size
    low, high = places.min(axis=0), places.max(axis=0)
    middle, half = (low + high) / 2, max(float((high - low).max()) * (0.5 + MOVED_SHARE), 1e-3 / unit.size)
    axes.set_xlim(middle[0] - half, middle[0] + half)
    axes.set_ylim(middle[1] - half / 2, middle[1] + half / 2)
    axes.set_zlim(middle[2] - half / 3, middle[2] + half / 3)
    axes.set_box_aspect((6, 3, 2), zoom=1.35)
    axes.yaxis.set_major_locator(MaxNLocator(3))
    axes.zaxis.set_major_locator(MaxNLocator(3))
    axes.set_title(title, loc="left", color=INK)
    axes.set_xlabel(f"x forward, {unit.label}")
    axes.set_ylabel(f"y left, {unit.label}")
    axes.set_zlabel(f"z up, {unit.label}")
    axes.view_init(elev=24, azim=-62)
    return axes
