"""Round tubes and bars by closed forms."""

from __future__ import annotations

from math import pi

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Section
from framecheck.model.shapes import RoundBar, RoundTube
from framecheck.section.properties import SectionProperties, UnitFields

ROUND = 48
"""Points round each surface."""


def round_properties(section: Section, shape: RoundTube | RoundBar) -> SectionProperties:
    """Return a round tube or bar. Area, inertia, torsion: mechanics texts; it does not warp."""
    outer = shape.diameter / 2
    inner = outer - shape.wall if isinstance(shape, RoundTube) else 0.0
    area, inertia = pi * (outer**2 - inner**2), pi / 4 * (outer**4 - inner**4)
    shear_area, plastic = area * shear_coefficient(inner / outer), 4 / 3 * (outer**3 - inner**3)
    material = section.material
    return SectionProperties(
        name=section.name,
        area=area,
        mass_per_length=area * material.density,
        centroid=(0.0, 0.0),
        i_vertical=inertia,
        i_sideways=inertia,
        i_product=0.0,
        torsion_constant=2 * inertia,
        warping_constant=0.0,
        shear_centre=(0.0, 0.0),
        shear_area_vertical=shear_area,
        shear_area_sideways=shear_area,
        plastic_modulus_vertical=plastic,
        plastic_modulus_sideways=plastic,
        box=(-outer, outer, -outer, outer),
        closed=inner > 0.0,
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=material.yield_strength,
        engine="mid-line",
        fields=round_fields(outer, inner),
    )


def shear_coefficient(m: float) -> float:
    """Return shear area over area of a round tube, m: inside over outside radius.

    G. R. Cowper, The shear coefficient in Timoshenko's beam theory (1966), with no Poisson's ratio; from memory.
    """
    square = (1 + m**2) ** 2
    return 6 * square / (7 * square + 20 * m**2)


def round_fields(outer: float, inner: float) -> UnitFields:
    """Return unit stress on the outside, and on the inside of a tube.

    Shear force: VQ/Ib along the surface, alike across the wall; at the axis 4 V/3 A (ro2 + ro ri + ri2)/(ro2 + ri2) (mechanics texts).
    """
    radii = (outer, inner) if inner > 0.0 else (outer,)
    angle = np.tile(2 * pi * np.arange(ROUND) / ROUND, len(radii))
    radius = np.repeat(radii, ROUND)
    area, inertia = pi * (outer**2 - inner**2), pi / 4 * (outer**4 - inner**4)
    y, z = radius * np.cos(angle), radius * np.sin(angle)
    none = np.zeros_like(y)
    normal = np.stack([np.full_like(y, 1 / area), z / inertia, y / inertia, none], axis=-1)
    most = 4 / (3 * area) * (outer**2 + outer * inner + inner**2) / (outer**2 + inner**2)
    along: Array = np.stack([-most * np.sin(angle), most * np.cos(angle), radius / (2 * inertia), none], axis=-1)
    tangent = np.stack([-np.sin(angle), np.cos(angle)], axis=-1)
    sharp = np.zeros(len(y), dtype=np.bool_)
    return UnitFields(
        frozen(np.stack([y, z], axis=-1)), frozen(normal), frozen(tangent[..., None] * along[:, None, :]), sharp
    )
