"""A section as seen along its member: outline, axes, centroid, shear centre; its stress under given forces."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.output.charts.chart import (
    Area,
    Chart,
    Dots,
    Drawn,
    Line,
    Mark,
    Note,
    Range,
    Scale,
    Side,
    Sign,
    Stroke,
    level,
    span,
    upright,
)
from framecheck.output.charts.colours import INK, LINE, QUIET, WARN, colours_of
from framecheck.output.display import Units, bare, shown_unit, with_unit
from framecheck.section.assembly import parts_of
from framecheck.section.properties import SectionProperties
from framecheck.stress import components

if TYPE_CHECKING:
    from shapely import Polygon

METAL = "#d8dee4"
ROOM = 0.22
"""Room beside a section, as a share of its size."""


def outlines(section: Section, properties: SectionProperties) -> list[Polygon]:
    """Return the parts' outlines from the centroid, m."""
    from shapely.affinity import translate

    y, z = properties.centroid
    return [translate(scaled(each), -y, -z) for each in parts_of(section.shape).polygons]


def scaled(polygon: Polygon) -> Polygon:
    """Return a polygon in m, y to the left and z up."""
    from shapely.affinity import scale

    return scale(polygon, 1e-3, 1e-3, origin=(0.0, 0.0))


def outline_areas(polygons: Sequence[Polygon], size: float) -> list[Drawn]:
    """Return outlines filled, in shown units."""
    found: list[Drawn] = []
    for polygon in polygons:
        rings = (np.asarray(ring.coords)[:, :2] / size for ring in (polygon.exterior, *polygon.interiors))
        found.append(Area(tuple(rings), METAL, edge=INK))
    return found


def ends_of(properties: SectionProperties, size: float) -> tuple[Range, Range]:
    """Return the ends of both axes in shown units, with room; y runs to the left, as seen looking along the member."""
    y_low, y_high, z_low, z_high = (value / size for value in properties.box)
    most = max(y_high - y_low, z_high - z_low)
    left, right = span(np.array([y_low, y_high, *shear_and_centroid(properties, size, 0)]), room=0.0)
    room = ROOM * most
    up = span(np.array([z_low, z_high, *shear_and_centroid(properties, size, 1)]), room=0.0)
    return (right + room, left - room), (up[0] - room, up[1] + room)


def shear_and_centroid(properties: SectionProperties, size: float, axis: int) -> tuple[float, float]:
    """Return where the centroid and the shear centre lie along one axis, in shown units."""
    return 0.0, properties.shear_centre[axis] / size


def section_chart(section: Section, properties: SectionProperties, units: Units) -> Chart:
    """Return a section with its overall sizes, axes through the centroid, and shear centre."""
    unit = shown_unit("length", units)
    x, y = ends_of(properties, unit.size)
    shear = shear_and_centroid(properties, unit.size, 0)[1], shear_and_centroid(properties, unit.size, 1)[1]
    marks = (
        *outline_areas(outlines(section, properties), unit.size),
        level(x, 0.0, QUIET, 0.7, Stroke.CHAIN),
        upright(0.0, y, QUIET, 0.7, Stroke.CHAIN),
        Mark((0.0, 0.0), Sign.PLUS, LINE, 11.0, "centroid"),
        Mark(shear, Sign.CROSS, WARN, 8.0, "shear centre"),
        *sizes(properties, units),
    )
    return Chart(section.name, f"y to the left, {unit.label}", f"z up, {unit.label}", x, y, marks, is_equal=True)


def sizes(properties: SectionProperties, units: Units) -> list[Drawn]:
    """Return the overall height and width as dimension lines outside the section."""
    unit = shown_unit("length", units)
    y_low, y_high, z_low, z_high = (value / unit.size for value in properties.box)
    off = 0.09 * max(y_high - y_low, z_high - z_low)
    height = bare(properties.box[3] - properties.box[2], "length", units)
    width = bare(properties.box[1] - properties.box[0], "length", units)
    return [
        *dimension((y_low - off, z_low), (y_low - off, z_high), off / 2),
        *dimension((y_low, z_high + off), (y_high, z_high + off), off / 2),
        Note(height, (y_low - off, (z_low + z_high) / 2), Side.RIGHT),
        Note(width, ((y_low + y_high) / 2, z_high + off), Side.ABOVE),
    ]


def dimension(start: tuple[float, float], end: tuple[float, float], cap: float) -> list[Drawn]:
    """Return a dimension line with slanted strokes at its ends, as on a drawing. cap: how wide a stroke is."""
    found: list[Drawn] = [Line(np.array([start[0], end[0]]), np.array([start[1], end[1]]), INK, 0.9)]
    for y, z in (start, end):
        found.append(Line(np.array([y + cap / 2, y - cap / 2]), np.array([z - cap / 2, z + cap / 2]), INK, 1.4))
    return found


def stress_chart(section: Section | None, properties: SectionProperties, forces: Array, units: Units) -> Chart:
    """Return the equivalent stress round the surface under a row of section forces (9,), SI; the largest nominal one is ringed.

    section None: the outline is not drawn, as at a notch.
    """
    fields = properties.fields
    if fields is None:
        raise InputError([Fault("", properties.name, "no stress can be given for it", "give its fibre distances")])
    unit, stress = shown_unit("length", units), shown_unit("stress", units)
    found = components(fields, forces).von_mises
    points, worst = fields.points / unit.size, worst_point(properties, found)
    top = max(float(found.max()), 1.0) / stress.size
    name = "nominal face" if fields.sharp.any() else "largest"
    x, y = ends_of(properties, unit.size)
    marks: list[Drawn] = outline_areas(() if section is None else outlines(section, properties), unit.size)
    marks += [Dots(points, colours_of(found / stress.size, 0.0, top))]
    marks += [Mark((float(points[worst, 0]), float(points[worst, 1])), Sign.RING, WARN, 12.0)]
    return Chart(
        f"{name}: {with_unit(float(found[worst]), 'stress', units)} (ringed)",
        f"y to the left, {unit.label}",
        f"z up, {unit.label}",
        x,
        y,
        tuple(marks),
        scale=Scale(f"von Mises stress, {stress.label}", 0.0, top),
        is_equal=True,
    )


def worst_point(properties: SectionProperties, stress: Array) -> int:
    """Return the number of the surface point with the largest stress (n,) away from sharp corners."""
    fields = properties.fields
    return int(np.argmax(stress if fields is None or fields.sharp.all() else np.where(fields.sharp, -1.0, stress)))
