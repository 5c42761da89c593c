"""Unit stress fields of mid-line theory; and parts that are not joined, as beams that share curvature and twist."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.model.frame import Section
from framecheck.section.midline_theory import MidlineResults, bending_fields
from framecheck.section.midline_walls import LinearField, WallGraph, coordinate
from framecheck.section.properties import (
    SectionProperties,
    Share,
    UnitFields,
    Wall,
    kinds_of,
    least_yield,
    mass_of,
    metals_in,
)
from framecheck.section.walls import from_centroid
from framecheck.value_class import array_class

STATIONS = (0.0, 0.5, 1.0)
"""Where stress is given along a straight wall; half-way only along a piece of a bend."""


@array_class
class MidlineFields:
    """Unit fields of every variant, laid out as UnitFields with leading axes (...): points (..., n, 2), normal (..., n, 4),
    shear (..., n, 2, 4)."""

    points: Array
    normal: Array
    shear: Array


@array_class
class Places:
    """Surface points: which wall, where along it (0 to 1), on which face (+1 or -1 along the wall's normal). Each (n,)."""

    wall: IntArray
    along: Array
    face: Array


def places(graph: WallGraph) -> Places:
    """Return the surface points of a graph: three along each straight, one along each piece of a bend, both faces; no links."""
    rows = [
        (wall, along, face)
        for wall in np.flatnonzero(graph.solid.reshape(-1, len(graph.ends))[0] > 0.0)
        for along in ((0.5,) if graph.bend[wall] else STATIONS)
        for face in (1.0, -1.0)
    ]
    wall, along, face = (np.array(column) for column in zip(*rows, strict=True))
    return Places(wall.astype(np.int64), along, face)


def midline_fields(m: MidlineResults) -> MidlineFields:
    """Return stress at surface points per unit force, for every variant."""
    at = places(m.graph)
    y, z = coordinate(m.lines, 0), coordinate(m.lines, 1)
    per_ms, per_mv = bending_fields(y, z, m.inertias)
    offset = 0.5 * at.face * _at(m.lines.thickness, at)
    points = np.stack([_face_value(each, at, offset) for each in (y, z)], axis=-1)
    bimoment = _face_value(m.twist.omega, at, offset) / _divisor(m.twist.warping_constant)
    stretch = np.broadcast_to(1.0 / m.area[..., None], bimoment.shape)
    normal = np.stack([stretch, _face_value(per_mv, at, offset), _face_value(per_ms, at, offset), bimoment], axis=-1)
    if m.graph.young is not None:
        normal = normal * _at(m.graph.young, at)[..., None]
    return MidlineFields(points, normal, _shear(m, at, offset))


def _divisor(values: Array) -> Array:
    """Return (..., 1) to divide by, infinite in place of zero."""
    return np.asarray(np.where(values > 0.0, values, np.inf)[..., None])


def _at(values: Array, at: Places) -> Array:
    """Return the wall's value at every place, (..., n)."""
    return np.take(values, at.wall, axis=-1)


def _face_value(field: LinearField, at: Places, offset: Array) -> Array:
    """Return a field on the faces, (..., n); offset: signed distance from the mid-line."""
    s = at.along
    middle = _at(field.start, at) * (1.0 - s) + _at(field.stop, at) * s
    across = _at(field.across_start, at) * (1.0 - s) + _at(field.across_stop, at) * s
    return np.asarray(middle + offset * across)


def _shear(m: MidlineResults, at: Places, offset: Array) -> Array:
    """Return shear along y and z per unit Vy, Vz, T, Tw, (..., n, 2, 4).

    Each flow over the thickness, alike on both faces; twist: T/J (flow over thickness x (1 - curvature x offset) + 2 offset),
    exact in a straight narrow wall and in a round tube.
    """
    s, thickness = at.along, _at(m.lines.thickness, at)
    weights = np.stack([(1 - s) * (1 - 2 * s), 4 * s * (1 - s), s * (2 * s - 1)])
    vy, vz, warping = (
        (weights[0] * _at(f.start, at) + weights[1] * _at(f.middle, at) + weights[2] * _at(f.stop, at)) / thickness
        for f in m.flows
    )
    cell = _at(m.twist.flow, at) * (1.0 - _at(m.graph.curvature, at) * offset)
    across = offset if m.graph.rigid is None else offset * _at(m.graph.rigid, at)
    twist = (cell + 2.0 * across) / m.twist.torsion_constant[..., None]
    vy, vz = vy - twist * m.lever[..., 1, None], vz + twist * m.lever[..., 0, None]
    along = np.stack([_at(m.lines.ey, at), _at(m.lines.ez, at)], axis=-1)
    return np.asarray(along[..., None] * np.stack([vy, vz, twist, warping], axis=-1)[..., None, :])


def unit_fields(m: MidlineResults, metal: IntArray | None = None) -> UnitFields:
    """Return the fields of a single section. No point is marked sharp: this theory has no peak at a corner.

    metal (n_walls,): the number of each wall's metal; None: one metal.
    """
    found = midline_fields(m)
    sharp = np.zeros(len(found.points), dtype=np.bool_)
    sharp.flags.writeable = False
    of_metal = None if metal is None else metal[places(m.graph).wall]
    return UnitFields(frozen(found.points), frozen(found.normal), frozen(found.shear), sharp, of_metal)


APART_NOTE = (
    "sleeve and core: separate beams sharing curvature and twist; what joins their ends carries the core's share across"
)
Parts = tuple[SectionProperties, ...]


def apart_properties(section: Section, found: Parts, note: str = APART_NOTE) -> SectionProperties:
    """Return parts side by side; bending splits by E times second moment (for parts symmetric about the horizontal or upright)."""
    parts = tuple(_transformed(section, part) for part in found)
    sums = {name: sum(getattr(part, name) for part in parts) for name in SUMMED}
    area = sums["area"]
    y, z = (sum(part.area * part.centroid[i] for part in parts) / area for i in (0, 1))
    sc_y = sum(p.i_vertical * (p.centroid[0] + p.shear_centre[0]) for p in parts) / sums["i_vertical"]
    sc_z = sum(p.i_sideways * (p.centroid[1] + p.shear_centre[1]) for p in parts) / sums["i_sideways"]
    warping = sum(_warping(part, (sc_y, sc_z)) for part in parts)
    metals = metals_in(section, _areas(section, found))
    return replace(
        parts[0],
        **sums,
        name=section.name,
        mass_per_length=mass_of(section, area, metals),
        centroid=(y, z),
        warping_constant=warping,
        shear_centre=(sc_y - y, sc_z - z),
        shear_area_vertical=1 / sum((p.i_vertical / sums["i_vertical"]) ** 2 / p.shear_area_vertical for p in parts),
        shear_area_sideways=1 / sum((p.i_sideways / sums["i_sideways"]) ** 2 / p.shear_area_sideways for p in parts),
        box=_box(found, y, z),
        closed=any(part.closed for part in parts),
        youngs_modulus=section.material.youngs_modulus,
        shear_modulus=section.material.shear_modulus,
        yield_strength=least_yield(section, metals),
        fields=_fields(section, parts, (y, z), (sc_y, sc_z), warping),
        walls=tuple(wall for number, part in enumerate(parts) for wall in _walls(section, number, part, (y, z))),
        notes=(*(each for part in found for each in part.notes), note),
        metals=metals,
        shares=tuple(_share(part, sums) for part in parts),
        wagner=_wagner(parts, (sc_y, sc_z)),
    )


SUMMED = (
    "area",
    "i_vertical",
    "i_sideways",
    "i_product",
    "torsion_constant",
    "plastic_modulus_vertical",
    "plastic_modulus_sideways",
)


def _transformed(section: Section, part: SectionProperties) -> SectionProperties:
    """Return a part with its numbers referred to the section's moduli and its least yield strength."""
    whole, kinds = section.material, kinds_of(section)
    young, rigid = part.youngs_modulus / whole.youngs_modulus, part.shear_modulus / whole.shear_modulus
    strong = part.yield_strength / min(each.yield_strength for each in kinds)
    return replace(
        part,
        area=young * part.area,
        i_vertical=young * part.i_vertical,
        i_sideways=young * part.i_sideways,
        i_product=young * part.i_product,
        warping_constant=young * part.warping_constant,
        torsion_constant=rigid * part.torsion_constant,
        shear_area_vertical=rigid * part.shear_area_vertical,
        shear_area_sideways=rigid * part.shear_area_sideways,
        plastic_modulus_vertical=strong * part.plastic_modulus_vertical,
        plastic_modulus_sideways=strong * part.plastic_modulus_sideways,
    )


def _metal(section: Section, number: int) -> int:
    """Return the number of the metal of a part."""
    return kinds_of(section).index(section.metals[number]) if section.metals else 0


def _areas(section: Section, parts: Parts) -> list[float]:
    """Return the area of each metal, m2."""
    found = [0.0] * len(kinds_of(section))
    for number, part in enumerate(parts):
        found[_metal(section, number)] += part.area
    return found


def _share(part: SectionProperties, sums: dict[str, float]) -> Share:
    """Return what a part carries of stretch, bending and twist."""
    names = ("area", "i_vertical", "i_sideways", "torsion_constant")
    return Share(*(getattr(part, name) / sums[name] for name in names))


def _walls(section: Section, number: int, part: SectionProperties, centroid: tuple[float, float]) -> tuple[Wall, ...]:
    """Return the walls of a part from the common centroid."""
    walls = (replace(wall, metal=_metal(section, number)) for wall in part.walls)
    return from_centroid(walls, (centroid[0] - part.centroid[0], centroid[1] - part.centroid[1]))


def _lever(part: SectionProperties, centre: tuple[float, float]) -> tuple[float, float]:
    """Return how far the common shear centre lies from a part's own, m."""
    own = part.centroid[0] + part.shear_centre[0], part.centroid[1] + part.shear_centre[1]
    return centre[0] - own[0], centre[1] - own[1]


def _warping(part: SectionProperties, centre: tuple[float, float]) -> float:
    """Return a part's warping constant about the common shear centre: moving the pole adds dy z - dz y to its warping."""
    dy, dz = _lever(part, centre)
    return part.warping_constant + dy**2 * part.i_vertical + dz**2 * part.i_sideways


def _wagner(parts: Parts, centre: tuple[float, float]) -> tuple[float, float]:
    """Return Wagner's integrals about the common shear centre: each part's own, less twice the lever, by its share of the moment."""
    levers = [_lever(part, centre) for part in parts]
    vertical = sum(p.i_vertical * (p.wagner[0] - 2 * dz) for p, (_, dz) in zip(parts, levers, strict=True))
    sideways = sum(p.i_sideways * (p.wagner[1] - 2 * dy) for p, (dy, _) in zip(parts, levers, strict=True))
    return vertical / sum(p.i_vertical for p in parts), sideways / sum(p.i_sideways for p in parts)


def _box(parts: Parts, y: float, z: float) -> tuple[float, float, float, float]:
    """Return the box round all parts from the common centroid."""
    low, high = [[part.box[i] + part.centroid[0] - y for part in parts] for i in (0, 1)]
    under, over = [[part.box[i] + part.centroid[1] - z for part in parts] for i in (2, 3)]
    return min(low), max(high), min(under), max(over)


def _fields(
    section: Section, parts: Parts, centroid: tuple[float, float], centre: tuple[float, float], warping: float
) -> UnitFields | None:
    """Return both parts' fields, each scaled by its share of every force."""
    rows = [_part_fields(part, parts, centroid, centre, warping) for part in parts if part.fields]
    if len(rows) < len(parts):
        return None
    points, normal, shear = (np.concatenate(column) for column in zip(*rows, strict=True))
    metal = np.repeat([_metal(section, number) for number in range(len(parts))], [len(row[0]) for row in rows])
    sharp = np.zeros(len(points), dtype=np.bool_)
    return UnitFields(frozen(points), frozen(normal), frozen(shear), sharp, metal if section.metals else None)


def _part_fields(
    part: SectionProperties, parts: Parts, centroid: tuple[float, float], centre: tuple[float, float], warping: float
) -> tuple[Array, Array, Array]:
    """Return points, normal and shear of one part under unit forces on both together; parts: referred to the section's moduli."""
    fields = part.fields
    assert fields is not None
    dy, dz = _lever(part, centre)
    areas, vertical, sideways, torsion = (
        getattr(part, name) / sum(getattr(p, name) for p in parts)
        for name in ("area", "i_vertical", "i_sideways", "torsion_constant")
    )
    young = part.youngs_modulus / parts[0].youngs_modulus
    omega = fields.normal[:, 3] * part.warping_constant + young * (dy * fields.points[:, 1] - dz * fields.points[:, 0])
    normal = fields.normal * np.array([areas, vertical, sideways, 0.0])
    normal[:, 3] = omega / warping if warping > 0.0 else 0.0
    held = part.warping_constant / warping if warping > 0.0 else 0.0
    shear = fields.shear * np.array([sideways, vertical, torsion, held])
    return fields.points + np.array(part.centroid) - np.array(centroid), normal, shear
