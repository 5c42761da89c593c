"""Drawings: a section as seen along its member, and the frame in three dimensions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, sin
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.frame.panel.results import PanelForces
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.output.charts.chart import (
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
    Strokes,
    TextSide,
    colours_of,
    level,
    span,
    upright,
)
from framecheck.output.display import Units, bare, shown_unit, with_unit
from framecheck.section.outline_built_up import parts_of
from framecheck.section.properties import SectionProperties
from framecheck.stress import MemberStress, SolvedCase, components

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
        Mark((0.0, 0.0), PointMark.PLUS, LINE, 11.0, "centroid"),
        Mark(shear, PointMark.CROSS, WARN, 8.0, "shear centre"),
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
        Note(height, (y_low - off, (z_low + z_high) / 2), TextSide.RIGHT),
        Note(width, ((y_low + y_high) / 2, z_high + off), TextSide.ABOVE),
    ]


def dimension(start: tuple[float, float], end: tuple[float, float], cap: float) -> list[Drawn]:
    """Return a dimension line with slanted strokes at its ends, as on a drawing. cap: how wide a stroke is."""
    found: list[Drawn] = [ChartLine(np.array([start[0], end[0]]), np.array([start[1], end[1]]), INK, 0.9)]
    for y, z in (start, end):
        found.append(ChartLine(np.array([y + cap / 2, y - cap / 2]), np.array([z - cap / 2, z + cap / 2]), INK, 1.4))
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
    marks += [Mark((float(points[worst, 0]), float(points[worst, 1])), PointMark.RING, WARN, 12.0)]
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


NEAR = 1e-6
YAW, PITCH = -0.9, 0.45
"""From where the report's view begins (templates/view.js), rad."""
COMPASS = 0.09
"""How long the directions are drawn, as a share of the picture's width."""
DIRECTIONS = {"x forward": (1.0, 0.0, 0.0), "y left": (0.0, 1.0, 0.0), "z up": (0.0, 0.0, 1.0)}

MOVED_SHARE = 0.08
"""The largest movement is drawn as this share of the frame's length unless a scale is asked for."""


def used(stress: MemberStress, case: int) -> Array:
    """Return the share of the yield strength used at each station (n,), 0 where no stress is known."""
    return np.asarray(stress.nominal[:, case] / stress.strength[:, case], dtype=np.float64)


def own_scale(outcome: SolvedCase, bound: int, case: int) -> float:
    """Return the scale at which the largest movement is MOVED_SHARE of the frame's extent; 1 where nothing moves."""
    members = outcome.solutions[bound].members
    moved = max(float(np.linalg.norm(member.displacements[:, case], axis=1).max()) for member in members)
    places = np.concatenate([member.places for member in members])
    extent = float(np.ptp(places, axis=0).max())
    return MOVED_SHARE * extent / moved if moved > 0 else 1.0


def arms(outcome: SolvedCase, bound: int, case: int) -> list[tuple[Array, Array]]:
    """Return the stiff arms from frame points to member ends beside them, and panels' rims: places and movements (2, 3), m."""
    solution, frame = outcome.solutions[bound], outcome.case.frame
    number = {name: i for i, name in enumerate(solution.points)}
    found = []
    for member, forces in zip(frame.members, solution.members, strict=True):
        for point, end in ((member.points[0], 0), (member.points[-1], -1)):
            places = np.array([frame.points[point], forces.places[end]])
            if np.ptp(places, axis=0).max() > NEAR:
                moved = solution.displacements[number[point], case, :3]
                found.append((places, np.array([moved, forces.displacements[end, case]])))
    return [*found, *(each for panel in solution.panels.values() for each in rims(panel, case))]


def rims(panel: PanelForces, case: int) -> Iterator[tuple[Array, Array]]:
    """Yield the lines round a panel: places (2, 3) and movements (2, 3), m."""
    moves = panel.rim_moves[:, case]
    for row in range(len(panel.rim)):
        ends = [row - 1, row]
        yield panel.rim[ends], moves[ends]


def flat(places: Array) -> Array:
    """Return places (n, 3) as seen from where the view begins: right and up (n, 2), m."""
    x, y, z = places.T
    depth = x * sin(YAW) + y * cos(YAW)
    return np.column_stack([x * cos(YAW) - y * sin(YAW), z * cos(PITCH) + depth * sin(PITCH)])


def still_chart(outcome: SolvedCase, bound: int, case: int) -> Chart:
    """Return the frame moved in one load case and, thin, as built; colour: share of the yield strength used, %."""
    times, stresses = own_scale(outcome, bound, case), outcome.stresses[bound]
    top = 100 * max(1e-9, *(float(used(stress, case).max()) for stress in stresses))
    built: list[Drawn] = [line(flat(stress.forces.places), QUIET, 0.7) for stress in stresses]
    stiff = [line(flat(places + times * moved), INK, 1.2) for places, moved in arms(outcome, bound, case)]
    moved = [strokes(stress, case, times, top) for stress in stresses]
    everything = np.concatenate(
        [*(flat(stress.forces.places) for stress in stresses), *(each.points for each in moved)]
    )
    x, y = span(everything[:, 0], room=0.04), span(everything[:, 1], room=0.06)
    return Chart(
        f"{outcome.loads[case].name}, movements times {times:.0f}",
        "",
        "",
        x,
        y,
        (*built, *stiff, *moved, *compass(x, y)),
        scale=Scale("share of the yield strength used, %", 0.0, top),
        is_equal=True,
        has_axes=False,
    )


def line(points: Array, colour: str, width: float) -> ChartLine:
    """Return a plain line through points (n, 2)."""
    return ChartLine(points[:, 0], points[:, 1], colour, width)


def strokes(stress: MemberStress, case: int, times: float, top: float) -> Strokes:
    """Return a member moved, coloured by the share of the yield strength that it uses, between 0 and top, %."""
    share = 100 * used(stress, case)
    moved = stress.forces.places + times * stress.forces.displacements[:, case]
    return Strokes(flat(moved), colours_of(np.maximum(share[:-1], share[1:]), 0.0, top))


def compass(x: tuple[float, float], y: tuple[float, float]) -> list[Drawn]:
    """Return the vehicle's directions in the lower left corner."""
    size = COMPASS * (x[1] - x[0])
    corner = np.array([x[0] + 0.8 * size, y[0] + 1.2 * size])
    found: list[Drawn] = []
    for name, direction in DIRECTIONS.items():
        tip = corner + size * flat(np.array([direction]))[0]
        found += [line(np.array([corner, tip]), INK, 1.2)]
        found += [Note(name, (float(tip[0]), float(tip[1])), TextSide.ABOVE if name == "z up" else TextSide.RIGHT)]
    return found
