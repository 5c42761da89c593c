"""Meshed parts to section properties in SI; and the same where holes go through walls."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.model.frame import Section
from framecheck.model.shape_parts import shares_left
from framecheck.model.shapes import Drilled
from framecheck.section.elements import StrainPlane, parted_elements, plane_of
from framecheck.section.mesh import mesh_parts
from framecheck.section.meshed import (
    Meshed,
    analysed,
    box_of,
    is_closed,
    made_of,
    seams_of,
    surface_fields,
    torsion_constant,
)
from framecheck.section.outline import MM
from framecheck.section.parts import Bond, Parts
from framecheck.section.plastic import meshed_wagner, plastic_moduli
from framecheck.section.properties import (
    SectionProperties,
    Share,
    UnitFields,
    Wall,
    areas_by_metal,
    least_yield,
    mass_of,
    metals_in,
    numbers_of,
    stiffness_of,
    strength_shares,
)
from framecheck.section.walls import from_centroid

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


ALIKE = 1e-9
"""Share of the area in which a piece and its mirror image may differ, where it counts as alike on both sides."""


def evened(m: Meshed, parts: Parts, metals: IntArray) -> Array:
    """Return the shear centre (2,) from the centroid, mm: exactly on an axis of symmetry, which the mesh keeps to 1e-4 mm only.

    metals: each polygon's. An axis of symmetry goes through the middle of the outline's box.
    """
    from shapely import total_bounds

    ways = zip((-1.0, 1.0), (1.0, -1.0), strict=True)
    y_low, z_low, y_high, z_high = (float(each) for each in total_bounds(parts.polygons))
    place = (y_low + y_high) / 2, (z_low + z_high) / 2
    off = [not _is_mirrored(parts, metals, way, place) for way in ways]
    return np.where(off, m.twist.centre, 0.0)


def _is_mirrored(parts: Parts, metals: IntArray, way: tuple[float, float], middle: tuple[float, float]) -> bool:
    """Return whether every piece has a mirror image of the same metal; way: factors of y and z about the middle."""
    from shapely.affinity import scale

    pieces = list(zip(parts.polygons, metals.tolist(), strict=True))
    images = [(scale(polygon, *way, origin=middle), metal) for polygon, metal in pieces]
    return all(
        any(metal == own and image.symmetric_difference(piece).area < ALIKE * piece.area for piece, own in pieces)
        for image, metal in images
    )


def meshed_properties(section: Section, parts: Parts, walls: tuple[Wall, ...]) -> SectionProperties:
    """Return properties and fields of parts in SI; walls: measured from the reference point."""
    m = analysed(parts, section.material.poissons_ratio, stiffness_of(section))
    numbers = numbers_of(section, np.array(parts.numbers)[m.mesh.part])
    centre = evened(m, parts, numbers_of(section, np.array(parts.numbers)))
    wagner_v, wagner_s = meshed_wagner(m.body.elements, m.plane, centre)
    found = stiffnesses(section, m, numbers, centre)
    return replace(
        found,
        fields=surface_fields(m, numbers),
        walls=from_centroid(walls, found.centroid),
        torsion_bounds=(m.bounds[0] / MM**4, m.bounds[1] / MM**4),
        notes=parts.notes,
        seams=seams_of(m),
        shares=shares_of(m, m.mesh.part) if parts.bond is Bond.APART else (),
        wagner=(wagner_v / MM, wagner_s / MM),
    )


def stiffnesses(section: Section, m: Meshed, numbers: IntArray, centre: Array) -> SectionProperties:
    """Return what a mesh resists, without stress. numbers: of each element's metal; centre: of shear (2,) from the centroid, mm."""
    material, area = section.material, m.plane.area / MM**2
    metals = metals_in(section, areas_by_metal(section, numbers, m.body.elements.area / MM**2))
    (y, z), (sc_y, sc_z) = (m.plane.centroid / MM).tolist(), (centre / MM).tolist()
    (syy, syz), (_, szz) = (m.plane.moments / MM**4).tolist()
    y_low, y_high, z_low, z_high = (each / MM for each in box_of(m))
    plastic = plastic_moduli(m.body.elements, strength_shares(section, numbers), m.plane.body)
    a_sideways, a_vertical = (m.shear.areas / MM**2).tolist()
    return SectionProperties(
        name=section.name,
        area=area,
        mass_per_length=mass_of(section, area, metals),
        centroid=(y, z),
        i_vertical=szz,
        i_sideways=syy,
        i_product=syz,
        torsion_constant=torsion_constant(m) / MM**4,
        warping_constant=m.twist.warping_constant / MM**6,
        shear_centre=(sc_y, sc_z),
        shear_area_vertical=a_vertical,
        shear_area_sideways=a_sideways,
        plastic_modulus_vertical=plastic[0] / MM**3,
        plastic_modulus_sideways=plastic[1] / MM**3,
        box=(y_low, y_high, z_low, z_high),
        closed=is_closed(m),
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=least_yield(section, metals),
        engine="meshed",
        metals=metals,
    )


def shares_of(m: Meshed, part: IntArray) -> tuple[Share, ...]:
    """Return what each of the parts (by triangle, (m,)) that don't touch carries of stretch, bending and twist."""
    elements, plane, count = m.body.elements, m.plane, int(part.max()) + 1
    stretch = np.bincount(part, elements.area * elements.young, count) / plane.area
    local = plane.local(elements)
    bending = [
        np.bincount(part, (elements.stretching * local[..., axis] ** 2).sum(axis=1), count) / plane.moments[axis, axis]
        for axis in (1, 0)
    ]
    arm, free = elements.nodes[elements.ids[:, 3:]] - plane.centroid, m.twist.free[:, 3:]
    turning = np.mean(free[..., 1] * arm[..., 0] - free[..., 0] * arm[..., 1], axis=1)  # exact for a parabola
    torque = np.bincount(part, turning * elements.area, count)
    rows = zip(stretch, bending[0], bending[1], torque / torque.sum(), strict=True)
    return tuple(Share(*(float(each) for each in row)) for row in rows)


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
    y_low, y_high, z_low, z_high = base.box
    vertical, sideways = shares_left(shape.holes, y_high - y_low, z_high - z_low)
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


def _box(box: Sides, shift: Array) -> Sides:
    """Return an outline box measured from the shifted centroid."""
    y, z = shift.tolist()
    return box[0] - y, box[1] - y, box[2] - z, box[3] - z


def _fields(
    base: SectionProperties, plane: StrainPlane, shift: Array, shares: tuple[float, float], gone: BaseGeometry
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
