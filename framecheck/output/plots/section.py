"""A section drawn as seen along its member: outline, axes, centroid, shear centre; its stress under given forces."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import GivenProperties
from framecheck.output.display import Units, bare, shown_unit, with_unit
from framecheck.output.plots.style import INK, LINE, MAP, QUIET, WARN, as_bytes, framed, new_figure
from framecheck.section.assembly import parts_of
from framecheck.section.properties import SectionProperties
from framecheck.stress import components

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from shapely import Polygon


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


def outlines(section: Section, properties: SectionProperties) -> list[Polygon]:
    """Return the parts' outlines from the centroid, m."""
    from shapely.affinity import translate

    y, z = properties.centroid
    return [translate(scaled(each), -y, -z) for each in parts_of(section.shape).polygons]


def scaled(polygon: Polygon) -> Polygon:
    """Return a polygon in m, y to the left and z up."""
    from shapely.affinity import scale

    return scale(polygon, 1e-3, 1e-3, origin=(0.0, 0.0))


def draw_outline(axes: Axes, polygons: Sequence[Polygon], size: float) -> Axes:
    """Draw outlines filled, in shown units; y runs to the left, as seen looking along the member."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    for polygon in polygons:
        rings = [np.asarray(ring.coords)[:, :2] / size for ring in (polygon.exterior, *polygon.interiors)]
        path = Path.make_compound_path(*(Path(ring, closed=True) for ring in rings))
        axes.add_patch(PathPatch(path, facecolor="#d8dee4", edgecolor=INK, linewidth=1.0))
    axes.set_aspect("equal")
    axes.autoscale_view()
    axes.margins(0.22)
    if not axes.xaxis_inverted():
        axes.invert_xaxis()
    return axes


def draw_section(axes: Axes, section: Section, properties: SectionProperties, units: Units) -> Axes:
    """Draw a section with its overall sizes, axes through the centroid, and shear centre."""
    unit = shown_unit("length", units)
    draw_outline(axes, outlines(section, properties), unit.size)
    axes.axhline(0.0, color=QUIET, linewidth=0.7, linestyle="-.")
    axes.axvline(0.0, color=QUIET, linewidth=0.7, linestyle="-.")
    axes.plot(0.0, 0.0, "+", color=LINE, markersize=11, markeredgewidth=2, label="centroid")
    y, z = (value / unit.size for value in properties.shear_centre)
    axes.plot(y, z, "x", color=WARN, markersize=9, markeredgewidth=2, label="shear centre")
    draw_sizes(axes, properties, units)
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.12), ncols=2, frameon=False)
    return framed(axes, section.name, f"y to the left, {unit.label}", f"z up, {unit.label}")


def draw_sizes(axes: Axes, properties: SectionProperties, units: Units) -> None:
    """Draw the overall height and width as dimension lines outside the section."""
    unit = shown_unit("length", units)
    y_low, y_high, z_low, z_high = (value / unit.size for value in properties.box)
    off = 0.09 * max(y_high - y_low, z_high - z_low)
    arrow = {"arrowstyle": "<->", "color": INK, "linewidth": 0.9}
    axes.annotate("", (y_low - off, z_low), (y_low - off, z_high), arrowprops=arrow)
    axes.annotate("", (y_low, z_high + off), (y_high, z_high + off), arrowprops=arrow)
    height, width = (
        bare(size, "length", units)
        for size in (properties.box[3] - properties.box[2], properties.box[1] - properties.box[0])
    )
    axes.text(y_low - 1.6 * off, (z_low + z_high) / 2, height, rotation=90, ha="center", va="center")
    axes.text((y_low + y_high) / 2, z_high + 1.15 * off, width, ha="center", va="bottom")


def free_to_warp(forces: Sequence[float]) -> Array:
    """Return a full row of section forces (9,) from N, Vy, Vz, T, Mv, Ms, SI: all twist is Saint-Venant's."""
    return np.array([*forces[:6], 0.0, forces[3], 0.0])


def draw_stress(
    axes: Axes, section: Section | None, properties: SectionProperties, forces: Array, units: Units
) -> Axes:
    """Draw the equivalent stress round the surface under a row of section forces (9,), SI; the nominal face stress is marked.

    section None: the outline is not drawn, as at a notch. A peak is marked too where every bend is modelled with its radius;
    beside a sharp corner it would mean nothing.
    """
    fields = properties.fields
    if fields is None:
        raise InputError([Fault("", properties.name, "no stress can be given for it", "give its fibre distances")])
    unit, stress = shown_unit("length", units), shown_unit("stress", units)
    found = components(fields, forces).von_mises
    draw_outline(axes, () if section is None else outlines(section, properties), unit.size)
    points = fields.points / unit.size
    dots = axes.scatter(points[:, 0], points[:, 1], c=found / stress.size, cmap=MAP, s=14, zorder=3)
    axes.figure.colorbar(dots, ax=axes, shrink=0.8, label=f"von Mises stress, {stress.label}")
    worst = worst_point(properties, found)
    axes.plot(*points[worst], "o", markersize=12, markerfacecolor="none", markeredgecolor=WARN, markeredgewidth=2)
    name = "nominal face" if fields.sharp.any() else "largest"
    title = f"{name}: {with_unit(float(found[worst]), 'stress', units)} (ringed)"
    return framed(axes, title, f"y to the left, {unit.label}", f"z up, {unit.label}")


def worst_point(properties: SectionProperties, stress: Array) -> int:
    """Return the number of the surface point with the largest stress (n,) away from sharp corners."""
    fields = properties.fields
    return int(np.argmax(stress if fields is None or fields.sharp.all() else np.where(fields.sharp, -1.0, stress)))
