"""Figures of results on an `ax` of matplotlib: the frame, diagrams along a member, load cases, a section, the twist."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import GivenProperties
from framecheck.output.charts.along import COMPONENTS, LookedAlong, along_chart, height_of
from framecheck.output.charts.diagrams import safety_chart, shortened, twist_chart, twist_diagram
from framecheck.output.charts.drawings import BY_ITSELF, Lying, StressPicture, section_chart, stress_chart
from framecheck.output.charts.frame_chart import Pictured, frame_chart
from framecheck.output.charts.on_axes import Picture, as_bytes, figure_with_margins, margin_for, new_figure, put
from framecheck.output.charts.room import Pixels
from framecheck.output.display import Units, with_unit
from framecheck.results.summary import LoadCaseRow
from framecheck.results.tables import Scope
from framecheck.section.properties import SectionProperties
from framecheck.stress import MemberStress, SolvedCase

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def draw_twist_of(axes: Axes, stress: MemberStress, twist: Array, load_case: str, units: Units) -> Axes:
    """Draw how far each station has turned about its member against the first one, twist (n_station,) in rad."""
    return put(axes, twist_diagram(stress, twist, load_case, units))


def along_figure(stress: MemberStress, along: LookedAlong, units: Units, title: str = "") -> Figure:
    """Return all section forces along a member in one load case, with the share of what is allowed, on one axis of stations."""
    chart = along_chart(stress, along, units, FRAME_WIDE * PIXELS)
    figure = figure_with_margins(FRAME_WIDE, height_of(chart) / PIXELS + 0.3, (2.35, 1.5, 0.55, 0.35))
    put(figure.add_subplot(), chart)
    figure.suptitle(title, x=0.02, ha="left", fontsize=9)
    return figure


FRAME_WIDE, FRAME_HIGH = 9.6, 5.2
"""Of the picture of the frame, inches."""
PIXELS = 86.0
"""Pixels of a chart's words to an inch of a figure."""


def frame_figure(outcome: SolvedCase, shown: Pictured, units: Units, title: str) -> Figure:
    """Return the frame moved in one load case and, thin, as built; colour: the share of what is allowed on yield."""
    figure = new_figure(FRAME_WIDE, FRAME_HIGH)
    axes = put(figure.add_subplot(), frame_chart(outcome, shown, units, Pixels(FRAME_WIDE * PIXELS, FRAME_HIGH * PIXELS)))
    axes.set_axis_off()
    figure.suptitle(title, x=0.02, ha="left", fontsize=9)
    return figure


def draw_safety_by_load_case(axes: Axes, rows: Sequence[LoadCaseRow]) -> Axes:
    """Draw a bar a load case, the governing one on top; a stroke marks what is allowed; each bar says its number and grade."""
    return put(axes, safety_chart(rows))


def safety_figure(rows: Sequence[LoadCaseRow], title: str = "") -> Figure:
    """Return the chart by itself, as tall as its rows ask."""
    left = margin_for(shortened(row.load_case or Scope.ALL.value) for row in rows)
    figure = figure_with_margins(7.6, 1.25 + 0.3 * len(rows), (left, 0.1, 0.6, 0.5))
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
        figure = station_figure(StressPicture(section, properties, free_to_warp(forces)), units)
        said = fill(f"Seen looking along its member, under {under_words(forces, units)}", WORDS_WIDE)
        figure.suptitle(said, x=0.02, ha="left", fontsize=9)
        return as_bytes(figure, picture)
    figure = new_figure(5.2, 5.4)
    draw_section(figure.add_subplot(), section, properties, units)
    figure.suptitle("Seen looking along its member, sizes as on the axes", x=0.02, ha="left", fontsize=9)
    return as_bytes(figure, picture)


WORDS_WIDE = 150
"""Letters of a line over two pictures side by side."""


def under_words(forces: Sequence[float], units: Units) -> str:
    """Return a row of section forces N, Vy, Vz, T, Mv, Ms (SI) in words; what is none is left out."""
    told = zip(COMPONENTS.items(), forces, strict=True)
    said = [f"{name} {with_unit(each, kind, units)}" for (name, (_, kind)), each in told if each]
    return ", ".join(said) or "no force"


def station_figure(shown: StressPicture, units: Units) -> Figure:
    """Return a section beside its stress under a row of section forces; where its outline is not drawn, the stress alone."""
    figure = new_figure(5.2 if shown.section is None else 10.4, 5.2)
    places = figure.subplots(1, 1 if shown.section is None else 2, squeeze=False)[0]
    if shown.section is not None:
        draw_section(places[0], shown.section, shown.properties, units, shown.lies)
    put(places[-1], stress_chart(shown, units))
    return figure


def without_outline(name: str) -> InputError:
    """Return why numbers without an outline can't be drawn."""
    return InputError([Fault("", name, "is given by numbers, so it has no outline to draw", "describe its shape")])


def free_to_warp(forces: Sequence[float]) -> Array:
    """Return a full row of section forces (9,) from N, Vy, Vz, T, Mv, Ms, SI: all twist is Saint-Venant's."""
    return np.array([*forces[:6], 0.0, forces[3], 0.0])


def draw_section(axes: Axes, section: Section, properties: SectionProperties, units: Units, lies: Lying = BY_ITSELF) -> Axes:
    """Draw a section with its sizes, axes through the centroid, and shear centre."""
    return put(axes, section_chart(section, properties, units, lies))


def twist_figure(found: Sequence[FrameStiffness], picture: Picture, units: Units) -> bytes:
    """Return the figure as png, svg or pdf."""
    figure = new_figure(7.0, 3.6)
    put(figure.add_subplot(), twist_chart(found, units))
    return as_bytes(figure, picture)
