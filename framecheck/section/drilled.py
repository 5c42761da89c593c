"""A section seen where holes go through its walls. A hole is short: only stretching and bending feel the whole of what is gone."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.frame import Section
from framecheck.model.shapes import Drilled, Hole, Side
from framecheck.section.elements import parted_elements
from framecheck.section.mesh import mesh_parts
from framecheck.section.meshed import made_of
from framecheck.section.metals import areas_by_metal, mass_of, metals_in, numbers_of, stiffness_of, strength_shares
from framecheck.section.outline import MM
from framecheck.section.parts import Parts
from framecheck.section.plane import Plane, plane_of
from framecheck.section.plastic import plastic_moduli
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.section.wagner import meshed_wagner
from framecheck.section.walls import from_centroid

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

NOTE = (
    "holes: stretching and bending on the net section; twist as undrilled, for it runs round a hole; shear raised by what the "
    "drilled wall has lost; the peak at a hole's edge is the fatigue check's matter"
)
Sides = tuple[float, float, float, float]


def drilled_properties(
    section: Section, shape: Drilled, base: SectionProperties, net: Parts, gone: BaseGeometry
) -> SectionProperties:
    """Return the base's properties with the holes' share of area and second moments taken out; gone: the drilled wall, mm."""
    mesh = mesh_parts(net)
    part = np.array(net.numbers)[mesh.part]
    numbers, stiffness = numbers_of(section, part), stiffness_of(section)
    elements = parted_elements(mesh)
    elements = made_of(elements, np.array(stiffness)[part]) if stiffness else elements
    metals = metals_in(section, areas_by_metal(section, numbers, elements.area / MM**2))
    plane = plane_of(elements, np.zeros_like(elements.part))
    y, z = (plane.centroid / MM).tolist()
    shift = np.array([y - base.centroid[0], z - base.centroid[1]])
    sc_y, sc_z = (np.array(base.shear_centre) - shift).tolist()
    (syy, syz), (_, szz) = (plane.moments / MM**4).tolist()
    z_vertical, z_sideways = (each / MM**3 for each in plastic_moduli(elements, strength_shares(section, numbers), plane.body))
    wagner_v, wagner_s = meshed_wagner(elements, plane, np.array([sc_y, sc_z]) * MM)
    vertical, sideways = share_left(shape.holes, base.box)
    return replace(
        base,
        name=section.name,
        area=plane.area / MM**2,
        mass_per_length=mass_of(section, plane.area / MM**2, metals),
        centroid=(y, z),
        i_vertical=szz,
        i_sideways=syy,
        i_product=syz,
        shear_centre=(sc_y, sc_z),
        shear_area_vertical=base.shear_area_vertical * vertical,
        shear_area_sideways=base.shear_area_sideways * sideways,
        plastic_modulus_vertical=z_vertical,
        plastic_modulus_sideways=z_sideways,
        box=_box(base.box, shift),
        fields=_fields(base, plane, shift, (vertical, sideways), gone),
        walls=from_centroid(base.walls, (float(shift[0]), float(shift[1]))),
        notes=(*base.notes, NOTE),
        metals=metals,
        wagner=(wagner_v / MM, wagner_s / MM),
    )


def drilled_loose(full: SectionProperties, drilled: SectionProperties, loose: SectionProperties) -> SectionProperties:
    """Return a drilled section with loose seams: the loose one, by the shares that holes leave of the one whose seams hold."""
    names = ("area", "i_vertical", "i_sideways", "plastic_modulus_vertical", "plastic_modulus_sideways", "mass_per_length")
    left = {name: getattr(drilled, name) / getattr(full, name) for name in names}
    fields = loose.fields
    if fields is not None:
        per = np.array([left["area"], left["i_vertical"], left["i_sideways"], 1.0])
        fields = replace(fields, normal=frozen(fields.normal / per))
    kept = {name: getattr(loose, name) * share for name, share in left.items()}
    return replace(loose, **kept, fields=fields, notes=(*loose.notes, NOTE))


def share_left(holes: tuple[Hole, ...], box: Sides) -> tuple[float, float]:
    """Return the shares left of the walls that carry shear vertically (left, right) and sideways (top, bottom).

    The wall that has lost most governs; its length: the side of the outline box.
    """
    y_low, y_high, z_low, z_high = box
    lost = {side: sum(hole.size for hole in holes if hole.side is side) for side in Side}
    vertical = 1 - max(lost[Side.LEFT], lost[Side.RIGHT]) / (z_high - z_low)
    sideways = 1 - max(lost[Side.TOP], lost[Side.BOTTOM]) / (y_high - y_low)
    return vertical, sideways


def _box(box: Sides, shift: Array) -> Sides:
    """Return an outline box measured from the shifted centroid."""
    y, z = shift.tolist()
    return box[0] - y, box[1] - y, box[2] - z, box[3] - z


def _fields(
    base: SectionProperties, plane: Plane, shift: Array, shares: tuple[float, float], gone: BaseGeometry
) -> UnitFields | None:
    """Return the base's fields where there is still wall, bending by the net plane and bending shear raised."""
    fields = base.fields
    if fields is None:
        return None
    left = _still_there(fields.points + np.array(base.centroid), gone)
    points = fields.points[left] - shift
    normal = fields.normal[left].copy()
    young = _young(base, left)
    normal[:, 0] = young * MM**2 / plane.area
    normal[:, [2, 1]] = young[:, None] * points @ (plane.bending() * MM**4)
    vertical, sideways = shares
    shear = fields.shear[left] * np.array([1 / sideways, 1 / vertical, 1.0, 1.0])
    metal = None if fields.metal is None else fields.metal[left]
    return UnitFields(frozen(points), frozen(normal), frozen(shear), fields.sharp[left], metal)


def _young(base: SectionProperties, left: BoolArray) -> Array:
    """Return the modulus of the metal of each point that is left over the section's, (n,)."""
    if base.fields is None or base.fields.metal is None:
        return np.ones(int(left.sum()))
    young: Array = np.array([each.young for each in base.metals])[base.fields.metal[left]]
    return young


def _still_there(points: Array, gone: BaseGeometry) -> BoolArray:
    """Return which points (n, 2), m from the reference point, are not in what the holes take."""
    from shapely import contains_xy

    inside: BoolArray = contains_xy(gone.buffer(1e-3), points * MM)
    return ~inside
