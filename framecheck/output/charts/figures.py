"""Figures of results on an `ax` of matplotlib: the frame, diagrams along a member, load cases, a section, the twist."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import GivenProperties
from framecheck.output.charts.chart import INK, QUIET
from framecheck.output.charts.diagrams import diagrams, safety_chart, shortened, twist_chart, twist_diagram
from framecheck.output.charts.drawings import MOVED_SHARE, arms, own_scale, section_chart, stress_chart, used
from framecheck.output.charts.on_axes import MAP, Picture, as_bytes, figure_with_margins, margin_for, new_figure, put
from framecheck.output.display import Units, shown_unit
from framecheck.results.summary import LoadCaseRow
from framecheck.results.tables import Scope
from framecheck.section.properties import SectionProperties
from framecheck.stress import MemberStress, SolvedCase

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from mpl_toolkits.mplot3d import Axes3D


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


AXES = "length"


def draw_frame(
    axes: Axes3D, outcome: SolvedCase, bound: int, case: int, scale: float | None = None, units: Units = Units.SI
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


def framed_in_space(axes: Axes3D, outcome: SolvedCase, title: str, units: Units) -> Axes3D:
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


def draw_safety_by_load_case(axes: Axes, rows: Sequence[LoadCaseRow]) -> Axes:
    """Draw a bar a load case, the governing one on top; a stroke marks what is allowed; each bar says its number and grade."""
    return put(axes, safety_chart(rows))


def safety_figure(rows: Sequence[LoadCaseRow], title: str = "") -> Figure:
    """Return the chart by itself, as tall as its rows ask."""
    left = margin_for(shortened(row.load_case or Scope.ALL.value) for row in rows)
    figure = figure_with_margins(7.6, 1.1 + 0.3 * len(rows), (left, 0.1, 0.6, 0.35))
    draw_safety_by_load_case(figure.add_subplot(), rows)
    figure.suptitle(title, x=0.02, ha="left", fontsize=9)
    return figure


def section_figure(
    section: Section, properties: SectionProperties, forces: Sequence[float] | None, picture: Picture, units: Units
) -> bytes:
    """Return the picture of a section; forces N, Vy, Vz, T, Mv, Ms (SI): beside it, its stress under them."""
    if isinstance(section.shape, GivenProperties):
        raise without_outline(section.name)
    if forces is not None:
        return as_bytes(station_figure(section, properties, free_to_warp(forces), units), picture)
    figure = new_figure(5.2, 5.2)
    draw_section(figure.add_subplot(), section, properties, units)
    return as_bytes(figure, picture)


def station_figure(section: Section | None, properties: SectionProperties, forces: Array, units: Units) -> Figure:
    """Return a section beside its stress under a row of section forces (9,), SI; section None: the stress alone."""
    figure = new_figure(5.2 if section is None else 10.4, 5.2)
    places = figure.subplots(1, 1 if section is None else 2, squeeze=False)[0]
    if section is not None:
        draw_section(places[0], section, properties, units)
    draw_stress(places[-1], section, properties, forces, units)
    return figure


def without_outline(name: str) -> InputError:
    """Return why numbers without an outline can't be drawn."""
    return InputError([Fault("", name, "is given by numbers, so it has no outline to draw", "describe its shape")])


def free_to_warp(forces: Sequence[float]) -> Array:
    """Return a full row of section forces (9,) from N, Vy, Vz, T, Mv, Ms, SI: all twist is Saint-Venant's."""
    return np.array([*forces[:6], 0.0, forces[3], 0.0])


def draw_section(axes: Axes, section: Section, properties: SectionProperties, units: Units) -> Axes:
    """Draw a section with its overall sizes, axes through the centroid, and shear centre."""
    return put(axes, section_chart(section, properties, units))


def draw_stress(
    axes: Axes, section: Section | None, properties: SectionProperties, forces: Array, units: Units
) -> Axes:
    """Draw the equivalent stress round the surface under a row of section forces (9,), SI; the largest nominal one is ringed.

    section None: the outline is not drawn, as at a notch.
    """
    return put(axes, stress_chart(section, properties, forces, units))


def draw_twist(axes: Axes, found: Sequence[FrameStiffness], units: Units) -> Axes:
    """Draw the twist along the frame, front at the left, one line per bound; a steep stretch is a soft one."""
    return put(axes, twist_chart(found, units))


def twist_figure(found: Sequence[FrameStiffness], picture: Picture, units: Units) -> bytes:
    """Return the figure as png, svg or pdf."""
    figure = new_figure(7.0, 3.6)
    draw_twist(figure.add_subplot(), found, units)
    return as_bytes(figure, picture)
