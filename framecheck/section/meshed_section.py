"""Meshed parts to section properties: the one place where millimetres become SI."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Section
from framecheck.section.meshed import (
    Meshed,
    analysed,
    box_of,
    is_closed,
    surface_fields,
    torsion_constant,
)
from framecheck.section.metals import (
    areas_by_metal,
    least_yield,
    mass_of,
    metals_in,
    numbers_of,
    stiffness_of,
    strength_shares,
)
from framecheck.section.outline import MM
from framecheck.section.parts import Bond, Parts
from framecheck.section.plastic import plastic_moduli
from framecheck.section.properties import SectionProperties, Share, Wall
from framecheck.section.seams import seams_of
from framecheck.section.wagner import meshed_wagner
from framecheck.section.walls import from_centroid

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
