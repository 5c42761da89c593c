"""A section drawn as seen along its member: outline, axes, centroid, shear centre; its stress under given forces."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import GivenProperties
from framecheck.output.charts.section import section_chart, stress_chart
from framecheck.output.display import Units
from framecheck.output.plots.put import put
from framecheck.output.plots.style import Picture, as_bytes, new_figure
from framecheck.section.properties import SectionProperties

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


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
