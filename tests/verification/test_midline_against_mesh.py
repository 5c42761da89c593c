"""Mid-line theory against sectionproperties 3, a finite-element section library that is no part of framecheck's own theory."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from pytest import approx
from sectionproperties.analysis import Section as MeshedSection
from sectionproperties.pre import Geometry
from sectionproperties.pre.library import angle_section, cee_section, rectangular_hollow_section, zed_section

from framecheck.model.shapes import Angle, Channel, RectTube, ZShape
from framecheck.section.midline import midline_variants
from framecheck.section.midline_shapes import ThinPiece, piece_graph


@dataclass(frozen=True)
class Row:
    """A shape, the same in the library (mm, drawn to the right), and how close they come.

    warping 0: not compared, a closed section's is next to nothing.
    """

    shape: ThinPiece
    geometry: Geometry
    inertia: float = 0.004
    torsion: float = 0.01
    warping: float = 0.02


ROWS = {
    "tube": Row(
        RectTube(0.1, 0.05, 0.003, 0.006), rectangular_hollow_section(d=100, b=50, t=3, r_out=6, n_r=8), warping=0.0
    ),
    "lipped channel": Row(Channel(0.15, 0.06, 0.002, 0.003, 0.02), cee_section(d=150, b=60, l=20, t=2, r_out=5, n_r=8)),
    "angle": Row(Angle(0.06, 0.04, 0.004), angle_section(d=60, b=40, t=4, r_r=0, r_t=0, n_r=1), 0.008, 0.02, 0.04),
    "z": Row(ZShape(0.1, 0.05, 0.003, 0.003), zed_section(d=100, b_l=50, b_r=50, l=0, t=3, r_out=6, n_r=8)),
}


@pytest.mark.parametrize("name", ROWS)
def test_against_finite_elements(name: str) -> None:
    """Area, second moments, torsion, warping, shear centre (0.3 mm: half the distance that thin-wall theory itself is off)."""
    row = ROWS[name]
    meshed = MeshedSection(row.geometry.create_mesh(mesh_sizes=[2.0]))
    meshed.calculate_geometric_properties()
    meshed.calculate_warping_properties()
    ixx, iyy, ixy = meshed.get_ic()
    m = midline_variants(piece_graph(row.shape))
    assert float(m.area) == approx(meshed.get_area() * 1e-6, rel=0.003)
    assert float(m.inertias.vertical) == approx(ixx * 1e-12, rel=row.inertia)
    assert float(m.inertias.sideways) == approx(iyy * 1e-12, rel=row.inertia)
    assert abs(float(m.inertias.product)) == approx(abs(ixy) * 1e-12, rel=row.inertia, abs=1e-13)
    assert float(m.twist.torsion_constant) == approx(meshed.get_j() * 1e-12, rel=row.torsion)
    if row.warping:
        assert float(m.twist.warping_constant) == approx(meshed.get_gamma() * 1e-18, rel=row.warping)
    assert np.abs(m.twist.shear_centre) == approx(
        np.abs(np.subtract(meshed.get_sc(), meshed.get_c())) * 1e-3, abs=0.0003
    )
