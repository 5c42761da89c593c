"""Meshed parts to section properties: the one place where millimetres become SI."""

from __future__ import annotations

from framecheck.model.frame import Section
from framecheck.section.meshed import (
    analysed,
    box_of,
    is_closed,
    surface_fields,
    torsion_constant,
)
from framecheck.section.outline import MM
from framecheck.section.parts import Parts
from framecheck.section.plastic import plastic_moduli
from framecheck.section.properties import SectionProperties, Wall
from framecheck.section.seams import seams_of
from framecheck.section.walls import from_centroid


def meshed_properties(section: Section, parts: Parts, walls: tuple[Wall, ...]) -> SectionProperties:
    """Return properties and fields of parts in SI; walls: measured from the reference point."""
    material = section.material
    m = analysed(parts, material.poissons_ratio)
    area = m.plane.area / MM**2
    y, z = (m.plane.centroid / MM).tolist()
    (syy, syz), (_, szz) = (m.plane.moments / MM**4).tolist()
    y_low, y_high, z_low, z_high = (each / MM for each in box_of(m))
    z_vertical, z_sideways = (each / MM**3 for each in plastic_moduli(m.body.elements))
    sc_y, sc_z = (m.twist.centre / MM).tolist()
    a_sideways, a_vertical = (m.shear.areas / MM**2).tolist()
    return SectionProperties(
        name=section.name,
        area=area,
        mass_per_length=area * material.density,
        centroid=(y, z),
        i_vertical=szz,
        i_sideways=syy,
        i_product=syz,
        torsion_constant=torsion_constant(m) / MM**4,
        warping_constant=m.twist.warping_constant / MM**6,
        shear_centre=(sc_y, sc_z),
        shear_area_vertical=a_vertical,
        shear_area_sideways=a_sideways,
        plastic_modulus_vertical=z_vertical,
        plastic_modulus_sideways=z_sideways,
        box=(y_low, y_high, z_low, z_high),
        closed=is_closed(m),
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=material.yield_strength,
        engine="meshed",
        fields=surface_fields(m),
        walls=from_centroid(walls, (y, z)),
        torsion_bounds=(m.bounds[0] / MM**4, m.bounds[1] / MM**4),
        notes=parts.notes,
        seams=seams_of(m),
    )
