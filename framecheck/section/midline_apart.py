"""Parts that are not joined (a sleeve and its core, a plate whose seam is loose) as separate beams that share curvature and twist."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Section
from framecheck.section.metals import kinds_of, least_yield, mass_of, metals_in
from framecheck.section.properties import SectionProperties, Share, UnitFields, Wall
from framecheck.section.walls import from_centroid

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
