"""Two parts that don't touch (a sleeve and its core) as separate beams that share curvature and twist."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Section
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.section.walls import from_centroid

APART_NOTE = (
    "sleeve and core: separate beams sharing curvature and twist; what joins their ends carries the core's share across"
)
Parts = tuple[SectionProperties, SectionProperties]


def apart_properties(section: Section, outer: SectionProperties, core: SectionProperties) -> SectionProperties:
    """Return two parts side by side; each symmetric about the horizontal, so bending splits by second moment."""
    parts = (outer, core)
    area = outer.area + core.area
    y, z = (sum(part.area * part.centroid[i] for part in parts) / area for i in (0, 1))
    vertical, sideways = outer.i_vertical + core.i_vertical, outer.i_sideways + core.i_sideways
    sc_y = sum(part.i_vertical * (part.centroid[0] + part.shear_centre[0]) for part in parts) / vertical
    sc_z = sum(part.i_sideways * (part.centroid[1] + part.shear_centre[1]) for part in parts) / sideways
    torsion = outer.torsion_constant + core.torsion_constant
    warping = sum(_warping(part, (sc_y, sc_z)) for part in parts)
    return replace(
        outer,
        name=section.name,
        area=area,
        mass_per_length=outer.mass_per_length + core.mass_per_length,
        centroid=(y, z),
        i_vertical=vertical,
        i_sideways=sideways,
        torsion_constant=torsion,
        warping_constant=warping,
        shear_centre=(sc_y - y, sc_z - z),
        shear_area_vertical=1 / sum((p.i_vertical / vertical) ** 2 / p.shear_area_vertical for p in parts),
        shear_area_sideways=1 / sum((p.i_sideways / sideways) ** 2 / p.shear_area_sideways for p in parts),
        plastic_modulus_vertical=outer.plastic_modulus_vertical + core.plastic_modulus_vertical,
        plastic_modulus_sideways=outer.plastic_modulus_sideways + core.plastic_modulus_sideways,
        box=_box(outer, y, z),
        fields=_fields(parts, (y, z), (sc_y, sc_z), warping),
        walls=tuple(w for p in parts for w in from_centroid(p.walls, (y - p.centroid[0], z - p.centroid[1]))),
        notes=(*outer.notes, *core.notes, APART_NOTE),
        wagner=_wagner(parts, (sc_y, sc_z)),
    )


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


def _box(outer: SectionProperties, y: float, z: float) -> tuple[float, float, float, float]:
    """Return the outer part's box from the common centroid."""
    dy, dz = outer.centroid[0] - y, outer.centroid[1] - z
    return outer.box[0] + dy, outer.box[1] + dy, outer.box[2] + dz, outer.box[3] + dz


def _fields(
    parts: Parts, centroid: tuple[float, float], centre: tuple[float, float], warping: float
) -> UnitFields | None:
    """Return both parts' fields, each scaled by its share of every force."""
    rows = [_part_fields(part, parts, centroid, centre, warping) for part in parts if part.fields]
    if len(rows) < len(parts):
        return None
    points, normal, shear = (np.concatenate(column) for column in zip(*rows, strict=True))
    return UnitFields(frozen(points), frozen(normal), frozen(shear), np.zeros(len(points), dtype=np.bool_))


def _part_fields(
    part: SectionProperties, parts: Parts, centroid: tuple[float, float], centre: tuple[float, float], warping: float
) -> tuple[Array, Array, Array]:
    """Return points, normal and shear of one part under unit forces on both together."""
    fields = part.fields
    assert fields is not None
    dy, dz = _lever(part, centre)
    areas, vertical, sideways, torsion = (
        getattr(part, name) / sum(getattr(p, name) for p in parts)
        for name in ("area", "i_vertical", "i_sideways", "torsion_constant")
    )
    omega = fields.normal[:, 3] * part.warping_constant + dy * fields.points[:, 1] - dz * fields.points[:, 0]
    normal = fields.normal * np.array([areas, vertical, sideways, 0.0])
    normal[:, 3] = omega / warping if warping > 0.0 else 0.0
    held = part.warping_constant / warping if warping > 0.0 else 0.0
    shear = fields.shear * np.array([sideways, vertical, torsion, held])
    return fields.points + np.array(part.centroid) - np.array(centroid), normal, shear
