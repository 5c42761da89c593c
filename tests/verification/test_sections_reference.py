"""Whole sections against sectionproperties, an independent finite-element library, on the same outline."""

from __future__ import annotations

import warnings

import pytest

from framecheck.model.shapes import Angle, Channel, Hat, RectTube, Shape
from framecheck.section.analysis import section_properties
from framecheck.section.outline_built_up import parts_of
from tests.unit.section.samples import CHANNEL, MM, TUBE, steel
from tests.verification.manual import Held, Kind, proof

SHAPES = (
    (TUBE, 12.0),
    (RectTube(0.1, 0.05, 0.003), 3.0),
    (CHANNEL, 2.0),
    (Channel(0.1, 0.05, 0.003, 0.003, 0.015), 2.0),
    (Angle(0.05, 0.08, 0.004, 0.003), 2.0),
    (Hat(0.05, 0.06, 0.02, 0.002, 0.002), 1.0),
)


@proof(Kind.LIBRARY)
@pytest.mark.parametrize(("shape", "largest_triangle"), SHAPES, ids=lambda value: type(value).__name__)
def test_against_sectionproperties(held: Held, shape: Shape, largest_triangle: float) -> None:
    """sectionproperties 3.10.2: its own assembly and stress theory (Pilkey) on its own mesh of our outline."""
    found = section_properties(steel(shape))
    other = reference(shape, largest_triangle)
    modulus = 200e3
    ixx, iyy, ixy = other.get_eic(e_ref=modulus)
    held(found.i_vertical, ixx * MM**4, rel=1e-9)
    held(found.i_sideways, iyy * MM**4, rel=1e-9)
    held(found.i_product, ixy * MM**4, rel=1e-6, abs=1e-6 * found.i_sideways)
    held(found.torsion_constant, other.get_ej(e_ref=modulus) * MM**4, rel=0.003)
    held(found.warping_constant, other.get_egamma(e_ref=modulus) * MM**6, rel=0.005)
    sideways, vertical = other.get_eas(e_ref=modulus)
    held(found.shear_area_vertical, vertical * MM**2, rel=0.002)
    held(found.shear_area_sideways, sideways * MM**2, rel=0.002)
    centroid, centre = other.get_c(), other.get_sc_t()
    held(found.shear_centre[0], (centre[0] - centroid[0]) * MM, abs=0.01 * MM)
    held(found.shear_centre[1], (centre[1] - centroid[1]) * MM, abs=0.01 * MM)


def reference(shape: Shape, largest_triangle: float):  # type: ignore[no-untyped-def]
    """Return sectionproperties' analysis of a shape's outline, mm."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from sectionproperties.analysis import Section
        from sectionproperties.pre import Geometry, Material

        steel_grade = Material("steel", 200e3, 0.3, 250, 7.85e-6, "grey")
        geometry = Geometry(parts_of(shape).polygons[0], material=steel_grade)
        geometry.create_mesh([largest_triangle])
        section = Section(geometry)
        section.calculate_geometric_properties()
        section.calculate_warping_properties()
    return section
