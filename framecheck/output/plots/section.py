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
from framecheck.output.plots.style import as_bytes, new_figure
from framecheck.section.properties import SectionProperties

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def section_figure(
    section: Section, properties: SectionProperties, forces: Sequence[float] | None, kind: str, units: Units
) -> bytes:
    """Return the picture of a section; forces N, Vy, Vz, T, Mv, Ms (SI): beside it, its stress under them."""
    if isinstance(section.shape, GivenProperties):
        raise without_outline(section.name)
    if forces is None:
        figure = new_figure(5.2, 5.2)
        draw_section(figure.add_subplot(), section, properties, units)
    else:
        figure = new_figure(10.4, 5.2)
        left, right = figure.subplots(1, 2)
        draw_section(left, section, properties, units)
        draw_stress(right, section, properties, free_to_warp(forces), units)
    return as_bytes(figure, kind)


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
