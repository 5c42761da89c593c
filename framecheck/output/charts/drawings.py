"""Drawings of a section: its outline with its sizes, and the stress round it, as drawn or as it sits in the vehicle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    LINE,
    QUIET,
    WARN,
    Area,
    Chart,
    ChartLine,
    Dots,
    Drawn,
    Mark,
    Note,
    PointMark,
    Range,
    Scale,
    Stroke,
    TextSide,
    colours_of,
    level,
    span,
    upright,
)
from framecheck.output.display import Units, bare, shown_unit, with_unit
from framecheck.section.outline_built_up import parts_of
from framecheck.section.properties import SectionProperties
from framecheck.surface_stress import components
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from shapely import Polygon


METAL = "#d8dee4"
ROOM = 0.34
"""Room beside a section, as a share of its size."""


@array_class
class Lying:
    """How a section lies on the paper. turn: (2, 2) from its own y and z to across and up; across, up: what the axes are called.

    sides: what lies at the left, the right, below and above, in words; none where it is drawn by itself.
    is_leftward: its numbers across grow to the left.
    """

    turn: Array
    across: str
    up: str
    sides: tuple[str, ...] = ()
    is_leftward: bool = False

    def on_paper(self, points: Array) -> Array:
        """Return points (n, 2) of the section's own axes as across and up."""
        placed: Array = points @ self.turn.T
        return placed


BY_ITSELF = Lying(np.eye(2), "y to the left", "z up", is_leftward=True)
"""As seen looking along its member."""


def outlines(section: Section, properties: SectionProperties) -> list[Polygon]:
    """Return the parts' outlines from the centroid, m."""
    from shapely.affinity import scale, translate

    y, z = properties.centroid
    in_metres = (scale(each, 1e-3, 1e-3, origin=(0.0, 0.0)) for each in parts_of(section.shape).polygons)
    return [translate(each, -y, -z) for each in in_metres]


def outline_areas(polygons: Sequence[Polygon], lies: Lying, size: float) -> list[Drawn]:
    """Return outlines filled, in shown units."""
    found: list[Drawn] = []
    for polygon in polygons:
        rings = (lies.on_paper(np.asarray(ring.coords)[:, :2]) / size for ring in (polygon.exterior, *polygon.interiors))
        found.append(Area(tuple(rings), METAL, edge=INK))
    return found


def box_of(properties: SectionProperties, lies: Lying, size: float) -> tuple[float, float, float, float]:
    """Return left, right, low and high of a section on the paper, in shown units; of its surface where that is known."""
    y_low, y_high, z_low, z_high = properties.box
    fields = properties.fields
    corners = np.array([(y, z) for y in (y_low, y_high) for z in (z_low, z_high)])
    placed = lies.on_paper(corners if fields is None else fields.points) / size
    return float(placed[:, 0].min()), float(placed[:, 0].max()), float(placed[:, 1].min()), float(placed[:, 1].max())


def ends_of(properties: SectionProperties, lies: Lying, size: float) -> tuple[Range, Range]:
    """Return the ends of both axes in shown units, with room; centroid and shear centre lie within."""
    left, right, low, high = box_of(properties, lies, size)
    shear = shear_centre(properties, lies, size)
    room = ROOM * max(right - left, high - low)
    x, y = span(np.array([left, right, 0.0, shear[0]]), room=0.0), span(np.array([low, high, 0.0, shear[1]]), room=0.0)
    across = (x[0] - room, x[1] + room)
    return across[::-1] if lies.is_leftward else across, (y[0] - room, y[1] + room)


def shear_centre(properties: SectionProperties, lies: Lying, size: float) -> tuple[float, float]:
    """Return where the shear centre lies on the paper, in shown units."""
    across, up = (lies.on_paper(np.array([properties.shear_centre]))[0] / size).tolist()
    return across, up


def section_chart(section: Section, properties: SectionProperties, units: Units, lies: Lying = BY_ITSELF) -> Chart:
    """Return a section with its overall sizes, its walls, axes through the centroid, and shear centre."""
    unit = shown_unit("length", units)
    x, y = ends_of(properties, lies, unit.size)
    marks = (
        *outline_areas(outlines(section, properties), lies, unit.size),
        level(x, 0.0, QUIET, 0.7, Stroke.CHAIN),
        upright(0.0, y, QUIET, 0.7, Stroke.CHAIN),
        *measured(properties, lies, units),
        *sides_named(lies, x, y),
    )
    across, up = f"{lies.across}, {unit.label}", f"{lies.up}, {unit.label}"
    return Chart(titled(section, units), across, up, x, y, marks, is_equal=True)


def measured(properties: SectionProperties, lies: Lying, units: Units) -> Iterator[Drawn]:
    """Yield a section's sizes, its walls, its centroid and its shear centre."""
    yield from sizes(properties, lies, units)
    yield from walls(properties, lies, units)
    yield Mark((0.0, 0.0), PointMark.PLUS, LINE, 11.0, "centroid")
    yield Mark(shear_centre(properties, lies, shown_unit("length", units).size), PointMark.CROSS, WARN, 8.0, "shear centre")


RADII = ("outside_radius", "inside_radius", "root_radius")


def titled(section: Section, units: Units) -> str:
    """Return a section's name with the radii of its bends."""
    found = {name: getattr(section.shape, name, 0.0) for name in RADII}
    said = [f"{name.replace('_', ' ')} {bare(value, 'size', units)}" for name, value in found.items() if value]
    return ", ".join((section.name, *said))


def sizes(properties: SectionProperties, lies: Lying, units: Units) -> list[Drawn]:
    """Return the overall height and width as dimension lines outside the section."""
    size = shown_unit("length", units).size
    left, right, low, high = box_of(properties, lies, size)
    off = 0.09 * max(right - left, high - low)
    tall, wide = (bare(each * size, "size", units) for each in (high - low, right - left))
    beside = left - off if lies.is_leftward else right + off
    return [
        *dimension((beside, low), (beside, high), off / 2),
        *dimension((left, high + off), (right, high + off), off / 2),
        Note(tall, (beside, (low + high) / 2), TextSide.RIGHT),
        Note(wide, ((left + right) / 2, high + off), TextSide.ABOVE),
    ]


def dimension(start: tuple[float, float], end: tuple[float, float], cap: float) -> list[Drawn]:
    """Return a dimension line with slanted strokes at its ends, as on a drawing. cap: how wide a stroke is."""
    found: list[Drawn] = [ChartLine(np.array([start[0], end[0]]), np.array([start[1], end[1]]), INK, 0.9)]
    for y, z in (start, end):
        found.append(ChartLine(np.array([y + cap / 2, y - cap / 2]), np.array([z - cap / 2, z + cap / 2]), INK, 1.4))
    return found


def walls(properties: SectionProperties, lies: Lying, units: Units) -> Iterator[Drawn]:
    """Yield each thickness of wall once, within the section, on a line to a wall that has it."""
    size, seen = shown_unit("length", units).size, set[str]()
    left, right, low, high = box_of(properties, lies, size)
    middle = np.array([(left + right) / 2, (low + high) / 2])
    for wall in properties.walls:
        said = bare(wall.thickness, "size", units)
        if said in seen:
            continue
        seen.add(said)
        at = lies.on_paper((np.array([wall.start]) + np.array([wall.end])) / 2)[0] / size
        aside = at + 0.55 * (middle - at) + np.array([0.0, 0.08 * (high - low) * (len(seen) - 1)])
        yield ChartLine(np.array([at[0], aside[0]]), np.array([at[1], aside[1]]), INK, 0.9)
        yield Note(f"wall {said}", (float(aside[0]), float(aside[1])), TextSide.MIDDLE)


def sides_named(lies: Lying, x: Range, y: Range) -> Iterator[Drawn]:
    """Yield what lies on each side of a section in the vehicle, along the edges of the picture."""
    if lies.sides:
        left, right, below, above = lies.sides
        mid_x, mid_y = sum(x) / 2, sum(y) / 2
        yield Note(left, (x[0] + 0.05 * (x[1] - x[0]), mid_y), TextSide.MIDDLE, LINE, is_turned=True)
        yield Note(right, (x[1] - 0.04 * (x[1] - x[0]), mid_y), TextSide.MIDDLE, LINE, is_turned=True)
        yield Note(below, (mid_x, y[0] + 0.01 * (y[1] - y[0])), TextSide.ABOVE, LINE)
        yield Note(above, (mid_x, y[1] - 0.06 * (y[1] - y[0])), TextSide.ABOVE, LINE)


@array_class
class StressPicture:
    """What a picture of stress round a section shows. forces: (9,), SI; allowed: Pa, None: the yield strength.

    section None: the outline is not drawn, as at a notch.
    """

    section: Section | None
    properties: SectionProperties
    forces: Array
    allowed: float | None = None
    lies: Lying = BY_ITSELF


MOST_DOTS = 200
"""So many points round a section are drawn, and the worst."""


def stress_chart(shown: StressPicture, units: Units) -> Chart:
    """Return the equivalent stress round the surface under a row of section forces; the largest nominal one is ringed."""
    properties, lies = shown.properties, shown.lies
    fields = properties.fields
    if fields is None:
        raise InputError([Fault("", properties.name, "no stress can be given for it", "give its fibre distances")])
    unit, stress = shown_unit("length", units), shown_unit("stress", units)
    found = components(fields, shown.forces).von_mises
    allowed = (shown.allowed or properties.yield_strength) / stress.size
    worst = worst_point(properties, found)
    some = sorted({*np.linspace(0, len(found) - 1, min(len(found), MOST_DOTS)).astype(int).tolist(), worst})
    points = lies.on_paper(fields.points) / unit.size
    name = "nominal face" if fields.sharp.any() else "largest"
    x, y = ends_of(properties, lies, unit.size)
    marks: list[Drawn] = [] if shown.section is None else outline_areas(outlines(shown.section, properties), lies, unit.size)
    marks += [Dots(points[some], colours_of(found[some] / stress.size, allowed))]
    marks += [Mark((float(points[worst, 0]), float(points[worst, 1])), PointMark.RING, ABOVE, 14.0), *sides_named(lies, x, y)]
    return Chart(
        f"{name}: {with_unit(float(found[worst]), 'stress', units)} (ringed)",
        f"{lies.across}, {unit.label}",
        f"{lies.up}, {unit.label}",
        x,
        y,
        tuple(marks),
        scale=Scale(f"stress, {stress.label} (top: {'yield strength' if shown.allowed is None else 'what is allowed'})", allowed),
        is_equal=True,
    )


def worst_point(properties: SectionProperties, stress: Array) -> int:
    """Return the number of the surface point with the largest stress (n,) away from sharp corners."""
    fields = properties.fields
    return int(np.argmax(stress if fields is None or fields.sharp.all() else np.where(fields.sharp, -1.0, stress)))
