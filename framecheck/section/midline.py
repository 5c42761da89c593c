"""Section properties by thin-wall mid-line theory: where the mesher is missing, beside every mesh, and for sweeps."""

from __future__ import annotations

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.section.midline_assembly import drawn
from framecheck.section.midline_fields import MidlineFields, midline_fields, unit_fields
from framecheck.section.midline_plastic import outline_box, plastic_moduli
from framecheck.section.midline_shapes import channel_graph, lipped_graph, tube_graph
from framecheck.section.midline_theory import MidlineResults, midline_variants
from framecheck.section.midline_walls import WallGraph, topology
from framecheck.section.properties import SectionProperties
from framecheck.section.walls import from_centroid, walls_of

__all__ = [
    "MidlineFields",
    "MidlineResults",
    "WallGraph",
    "channel_variants",
    "lipped_channel_variants",
    "midline_fields",
    "midline_properties",
    "midline_variants",
    "tube_variants",
]


def tube_variants(height: Array, width: Array, wall: Array, outside_radius: Array) -> MidlineResults:
    """Return rectangular tubes; sizes (n,) in m. `midline_fields` of the result gives their unit stress."""
    return midline_variants(tube_graph(height, width, wall, outside_radius))


def channel_variants(height: Array, flange: Array, wall: Array, inside_radius: Array) -> MidlineResults:
    """Return channels without lips, drawn as the letter C; sizes (n,) in m."""
    return midline_variants(channel_graph(height, flange, wall, inside_radius))


def lipped_channel_variants(height: Array, flange: Array, wall: Array, inside_radius: Array, lip: Array) -> MidlineResults:
    """Return channels with lips turned inward; sizes (n,) in m."""
    return midline_variants(lipped_graph(height, flange, wall, inside_radius, lip))


def midline_properties(section: Section) -> SectionProperties:
    """Return a section's properties and unit stress fields by mid-line theory, SI.

    InputError where the shape has no mid-line: an outline from a drawing, given numbers.
    """
    found = drawn(section.shape)
    if found is None:
        fault = "this shape has no mid-line to calculate on"
        raise InputError([Fault("", section.name, fault, "install the mesher: pip install sectionproperties")])
    return _properties(section, midline_variants(found.graph), found.notes)


def _properties(section: Section, m: MidlineResults, notes: tuple[str, ...]) -> SectionProperties:
    """Return the results of a single section with its material."""
    area, centroid = float(m.area), (float(m.centroid[0]), float(m.centroid[1]))
    plastic_vertical, plastic_sideways = plastic_moduli(m)
    material = section.material
    return SectionProperties(
        name=section.name,
        area=area,
        mass_per_length=area * material.density,
        centroid=centroid,
        i_vertical=float(m.i_vertical),
        i_sideways=float(m.i_sideways),
        i_product=float(m.i_product),
        torsion_constant=float(m.torsion_constant),
        warping_constant=float(m.warping_constant),
        shear_centre=(float(m.shear_centre[0]), float(m.shear_centre[1])),
        shear_area_vertical=float(m.shear_area_vertical),
        shear_area_sideways=float(m.shear_area_sideways),
        plastic_modulus_vertical=plastic_vertical,
        plastic_modulus_sideways=plastic_sideways,
        box=outline_box(m.lines, m.graph.solid),
        closed=len(topology(m.graph.ends).cells) > 0,
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=material.yield_strength,
        engine="mid-line",
        fields=unit_fields(m),
        walls=from_centroid(walls_of(section.shape), centroid),
        notes=notes,
    )
