"""What must hold for any section: mirrored, turned, scaled, meshed finer, added up."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from unittest.mock import patch

from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.model.shapes import Angle, Channel, Flat, OutlinePolygon, Plate, Plated, RectTube, Side, ZShape
from framecheck.section.analysis import section_properties
from framecheck.section.outline import loops
from framecheck.section.properties import SectionProperties
from tests.unit.section.samples import steel

FEW = settings(max_examples=12, deadline=None, derandomize=True)
Point = tuple[float, float]

walls = st.floats(1.5e-3, 6e-3)
tubes = st.builds(
    lambda height, width, wall, radius: RectTube(height, width, wall, radius * wall),
    st.floats(0.04, 0.15),
    st.floats(0.04, 0.1),
    walls,
    st.floats(1.5, 3.0),
)
channels = st.builds(
    lambda height, flange, wall, radius: Channel(height, flange, wall, radius * wall),
    st.floats(0.06, 0.2),
    st.floats(0.03, 0.08),
    walls,
    st.floats(0.5, 2.0),
)
angles = st.builds(
    lambda height, width, wall: Angle(height, width, wall, wall), st.floats(0.03, 0.09), st.floats(0.03, 0.09), walls
)
zeds = st.builds(
    lambda height, flange, wall: ZShape(height, flange, wall, wall), st.floats(0.05, 0.15), st.floats(0.03, 0.07), walls
)
shapes = tubes | channels | angles | zeds
Sheet = RectTube | Channel | Angle | ZShape


def drawn(shape: Sheet, y_y: int, y_z: int, z_y: int, z_z: int) -> SectionProperties:
    """Return a shape's outline after (y, z) becomes (y_y y + y_z z, z_y y + z_z z)."""
    outside, holes = loops(shape)

    def moved(loop: list[Point]) -> tuple[Point, ...]:
        return tuple((y_y * y + y_z * z, z_y * y + z_z * z) for y, z in loop)

    return section_properties(steel(OutlinePolygon(moved(outside), tuple(moved(hole) for hole in holes))))


@FEW
@given(shapes)
def test_a_quarter_turn_swaps_the_axes(shape: Sheet) -> None:
    """(y, z) to (-z, y): second moments swap, their product changes sign, the rest stays."""
    as_is, turned = section_properties(steel(shape)), drawn(shape, 0, -1, 1, 0)
    assert turned.i_vertical == approx(as_is.i_sideways, rel=1e-6)
    assert turned.i_sideways == approx(as_is.i_vertical, rel=1e-6)
    assert turned.i_product == approx(-as_is.i_product, rel=1e-6, abs=1e-6 * as_is.i_vertical)
    assert turned.torsion_constant == approx(as_is.torsion_constant, rel=0.005)
    assert turned.shear_area_vertical == approx(as_is.shear_area_sideways, rel=0.005)
    assert turned.shear_centre == approx((-as_is.shear_centre[1], as_is.shear_centre[0]), abs=2e-4)
    assert turned.plastic_modulus_vertical == approx(as_is.plastic_modulus_sideways, rel=1e-6)


@FEW
@given(shapes)
def test_a_mirror_image(shape: Sheet) -> None:
    """y to -y: product of inertia and the shear centre's side change sign, nothing else."""
    as_is, mirrored = section_properties(steel(shape)), drawn(shape, -1, 0, 0, 1)
    assert mirrored.i_vertical == approx(as_is.i_vertical, rel=1e-6)
    assert mirrored.i_product == approx(-as_is.i_product, rel=1e-6, abs=1e-6 * as_is.i_vertical)
    assert mirrored.torsion_constant == approx(as_is.torsion_constant, rel=0.005)
    assert mirrored.warping_constant == approx(as_is.warping_constant, rel=0.02, abs=1e-7 * as_is.area**3)
    assert mirrored.shear_centre == approx((-as_is.shear_centre[0], as_is.shear_centre[1]), abs=2e-4)


@FEW
@given(shapes, st.floats(0.5, 3.0))
def test_a_larger_copy(shape: Sheet, scale: float) -> None:
    """Lengths by s: areas by s2, second moments and torsion constant by s4, warping constant by s6."""
    as_is = section_properties(steel(shape))
    outside, holes = loops(shape)
    scaled = [tuple((y * scale, z * scale) for y, z in loop) for loop in (outside, *holes)]
    larger = section_properties(steel(OutlinePolygon(scaled[0], tuple(scaled[1:]))))
    assert larger.area == approx(as_is.area * scale**2, rel=1e-5)
    assert larger.i_vertical == approx(as_is.i_vertical * scale**4, rel=1e-5)
    assert larger.torsion_constant == approx(as_is.torsion_constant * scale**4, rel=0.005)
    assert larger.warping_constant == approx(as_is.warping_constant * scale**6, rel=0.02, abs=1e-7 * larger.area**3)


@contextmanager
def finer_mesh() -> Iterator[None]:
    """Mesh with triangles of a quarter of the area."""
    with patch("framecheck.section.mesh.AREA_SHARE", 0.125), patch("framecheck.section.mesh.FEWEST", 600):
        yield


@settings(max_examples=6, deadline=None, derandomize=True)
@given(shapes)
def test_a_finer_mesh_changes_little(shape: Sheet) -> None:
    """Torsion constant within 0.2 %, and its bounds close in (convergence from both sides)."""
    coarse = section_properties(steel(shape))
    with finer_mesh():
        fine = section_properties(steel(shape))
    assert coarse.area == approx(fine.area, rel=1e-9)
    assert coarse.torsion_constant == approx(fine.torsion_constant, rel=0.002)
    assert coarse.shear_area_vertical == approx(fine.shear_area_vertical, rel=0.002)
    of_no_weight = 1e-5 * fine.torsion_constant * fine.area  # E Cw over G J, a length squared: of a closed tube, tenths of a mm
    assert coarse.warping_constant == approx(fine.warping_constant, rel=0.01, abs=max(of_no_weight, 1e-7 * fine.area**3))
    assert coarse.torsion_bounds is not None
    assert fine.torsion_bounds is not None
    assert fine.torsion_bounds[0] >= coarse.torsion_bounds[0] * (1 - 1e-6)
    assert fine.torsion_bounds[1] <= coarse.torsion_bounds[1] * (1 + 1e-6)


@FEW
@given(
    st.floats(0.04, 0.1), st.floats(0.005, 0.02), st.floats(0.02, 0.04), st.floats(0.003, 0.01), st.floats(-0.01, 0.01)
)
def test_touching_rectangles_add_up(height: float, width: float, plate: float, thickness: float, offset: float) -> None:
    """Sum of parts by the parallel-axis rule; points lie on a grid of 0.1 micrometre: 2e-5 of the thinnest part."""
    found = section_properties(steel(Plated(Flat(height, width), (Plate(Side.LEFT, plate, thickness, offset),))))
    bar, add = height * width, plate * thickness
    middle = add * offset / (bar + add)
    vertical = width * height**3 / 12 + bar * middle**2 + thickness * plate**3 / 12 + add * (offset - middle) ** 2
    assert found.area == approx(bar + add, rel=2e-5)
    assert found.centroid[1] == approx(middle, abs=1e-7)
    assert found.i_vertical == approx(vertical, rel=2e-5)


@FEW
@given(shapes)
def test_torsion_bounds_and_plastic_moduli_are_in_order(shape: Sheet) -> None:
    """Lower bound below upper; the plastic modulus above the elastic one (a convexity of the bending stress)."""
    found = section_properties(steel(shape))
    assert found.torsion_bounds is not None
    assert found.torsion_bounds[0] <= found.torsion_constant <= found.torsion_bounds[1]
    assert found.plastic_modulus_vertical > found.i_vertical / max(found.box[3], -found.box[2])
    assert 0 < found.shear_area_vertical < found.area
