"""Mid-line theory: balance of its stress fields, invariance, variants."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from math import cos, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import (
    Channel,
    Hat,
    IShape,
    RectTube,
    Shape,
    ZShape,
)
from framecheck.model.shop_tables import Material
from framecheck.section.midline import (
    channel_variants,
    lipped_channel_variants,
    midline_fields,
    midline_properties,
    midline_variants,
    shape_variants,
    tube_variants,
)
from framecheck.section.midline_parts import MidlineStrip, assembled
from framecheck.section.midline_shapes import piece_graph
from framecheck.section.midline_walls import WallGraph, topology
from framecheck.section.properties import SectionProperties

STEEL = Material("steel", 205e9, 79e9, 7850.0, 350e6, 450e6, "made up")
CHANNEL = Channel(0.1, 0.05, 0.003, 0.0)


def properties(shape: Shape) -> SectionProperties:
    return midline_properties(Section("rail", shape, STEEL))


def graph(nodes: list[tuple[float, float]], ends: tuple[tuple[int, int], ...], thickness: float) -> WallGraph:
    none = np.zeros(len(ends))
    return WallGraph(np.array(nodes), ends, none + thickness, none + 1, none, none > 0, np.array(0.0))


OPEN = graph([(-0.05, 0.05), (0.0, 0.05), (0.0, -0.06), (-0.03, -0.06)], ((0, 1), (1, 2), (2, 3)), 1e-5)
CLOSED = graph([(-0.05, 0.05), (0.0, 0.05), (0.0, -0.06), (-0.03, -0.06)], ((0, 1), (1, 2), (2, 3), (3, 0)), 1e-5)
MIXED = graph(
    [(-0.05, 0.05), (0.0, 0.05), (0.0, -0.06), (-0.03, -0.06), (0.04, 0.05)],
    ((0, 1), (1, 2), (2, 3), (3, 0), (1, 4)),
    1e-5,
)


def over_walls(g: WallGraph, values: Array) -> Array:
    """Integrate values at 6 points a wall (3 along, 2 faces) over the section: Simpson along, mean of the faces across."""
    walls = values.reshape(len(g.ends), 3, 2, *values.shape[1:]).mean(axis=2)
    ends = g.nodes[np.array(g.ends)]
    weight = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) * g.thickness / 6
    return np.einsum("w,ws...->...", weight, walls * np.array([1, 4, 1]).reshape(1, 3, *[1] * (walls.ndim - 2)))


@pytest.mark.parametrize("g", [OPEN, CLOSED, MIXED])
def test_unit_forces_come_back_from_their_stress(g: WallGraph) -> None:
    """Sum the fields over the section: each unit force gives itself and nothing else (statics)."""
    m = midline_variants(g)
    fields = midline_fields(m)
    y, z = fields.points[:, :1], fields.points[:, 1:]
    assert over_walls(g, fields.normal) == approx([1, 0, 0, 0], abs=1e-7)
    assert over_walls(g, fields.normal * z)[1:3] == approx([1, 0], abs=1e-7)
    assert over_walls(g, fields.normal * y)[1:3] == approx([0, 1], abs=1e-7)
    shear = over_walls(g, fields.shear)
    assert shear[0] == approx([1, 0, 0, 0], abs=1e-6)
    assert shear[1] == approx([0, 1, 0, 0], abs=1e-6)


@pytest.mark.parametrize("g", [OPEN, CLOSED, MIXED])
def test_shear_acts_through_the_shear_centre_and_warping_torque_is_one(g: WallGraph) -> None:
    m = midline_variants(g)
    fields = midline_fields(m)
    y, z = (fields.points - m.twist.shear_centre).T
    torque = over_walls(g, y[:, None] * fields.shear[:, 1] - z[:, None] * fields.shear[:, 0])
    assert torque[[0, 1]] == approx([0, 0], abs=1e-6)
    if g is OPEN:
        assert torque[3] == approx(1, abs=1e-6)
    else:
        assert torque[2] == approx(1, abs=1e-6)


def test_bimoment_stress_has_no_resultant() -> None:
    m = midline_variants(OPEN)
    fields = midline_fields(m)
    omega = fields.normal[:, 3:] * float(m.twist.warping_constant)
    assert over_walls(OPEN, fields.normal * omega)[3] == approx(1, rel=1e-5)
    for arm in (np.ones_like(omega), fields.points[:, :1], fields.points[:, 1:]):
        assert over_walls(OPEN, omega * arm)[0] == approx(0, abs=1e-10)


sizes = st.floats(0.02, 0.2)


@settings(deadline=None, max_examples=40)
@given(st.lists(st.tuples(sizes, sizes), min_size=4, max_size=4), st.floats(0, 6.3))
def test_turning_and_mirroring_change_nothing_but_the_axes(steps: list[tuple[float, float]], turn: float) -> None:
    nodes = np.cumsum([(a if i % 2 else 0.0, b if i % 2 == 0 else 0.1 * a) for i, (a, b) in enumerate(steps)], axis=0)
    g = graph([(float(a), float(b)) for a, b in nodes], ((0, 1), (1, 2), (2, 3)), 1e-3)
    by = np.array([[cos(turn), sin(turn)], [-sin(turn), cos(turn)]])
    flip = np.array([[-1.0, 0.0], [0.0, 1.0]])
    a, b = midline_variants(g), midline_variants(replace(g, nodes=g.nodes @ by @ flip))
    assert float(a.area) == approx(float(b.area))
    assert float(a.inertias.vertical + a.inertias.sideways) == approx(float(b.inertias.vertical + b.inertias.sideways))
    assert float(a.twist.torsion_constant) == approx(float(b.twist.torsion_constant))
    assert float(a.twist.warping_constant) == approx(float(b.twist.warping_constant), rel=1e-6)
    assert a.twist.shear_centre @ by @ flip == approx(b.twist.shear_centre, abs=1e-8)


@settings(deadline=None, max_examples=20)
@given(st.integers(2, 5))
def test_more_walls_change_nothing(pieces: int) -> None:
    """A straight wall cut in pieces is the same wall."""
    for g in (OPEN, CLOSED, MIXED):
        ends = [tuple(map(tuple, g.nodes[list(pair)].tolist())) for pair in g.ends]
        cut = [
            MidlineStrip(
                tuple(np.add(a, np.subtract(b, a) * i / pieces)),
                tuple(np.add(a, np.subtract(b, a) * (i + 1) / pieces)),
                1e-5,
            )
            for a, b in ends
            for i in range(pieces)
        ]
        one, many = midline_variants(g), midline_variants(assembled(cut))
        for name in ("area", "shear_area_vertical", "shear_area_sideways"):
            assert float(getattr(one, name)) == approx(float(getattr(many, name)), rel=1e-6)
        assert float(one.twist.torsion_constant) == approx(float(many.twist.torsion_constant), rel=1e-6)
        assert float(one.twist.warping_constant) == approx(float(many.twist.warping_constant), rel=1e-6)


def test_variants_are_the_sections_one_by_one() -> None:
    """A stack gives what each gives alone, but for the coarser bends of a stack (0.3 %)."""
    h, b, t, r = np.array([0.1, 0.08]), np.array([0.05, 0.06]), np.array([0.003, 0.004]), np.array([0.006, 0.004])
    for i, tube in enumerate(RectTube(*map(float, row)) for row in zip(h, b, t, r, strict=True)):
        many, alone = tube_variants(h, b, t, r), midline_variants(piece_graph(tube))
        assert float(many.inertias.vertical[i]) == approx(float(alone.inertias.vertical), rel=3e-3)
        assert float(many.twist.torsion_constant[i]) == approx(float(alone.twist.torsion_constant), rel=3e-3)
    sharp = channel_variants(h, b, t, 0 * r)
    alone = midline_variants(piece_graph(Channel(0.08, 0.06, 0.004, 0.0)))
    assert float(sharp.twist.warping_constant[1]) == approx(float(alone.twist.warping_constant), rel=1e-12)
    assert midline_fields(sharp).normal[1] == approx(midline_fields(alone).normal, rel=1e-9)
    lips = lipped_channel_variants(h, b, t, 0 * r, np.array([0.02, 0.015]))
    one = midline_variants(piece_graph(Channel(0.08, 0.06, 0.004, 0.0, 0.015)))
    assert lips.twist.shear_centre[1] == approx(one.twist.shear_centre, rel=1e-12)


def test_any_shape_can_be_a_variant() -> None:
    hats = [Hat(h, 0.06, 0.025, 0.003, 0.004) for h in (0.04, 0.05)]
    many = shape_variants(hats)
    for i, hat in enumerate(hats):
        assert float(many.inertias.vertical[i]) == approx(properties(hat).i_vertical)
        assert float(many.twist.warping_constant[i]) == approx(properties(hat).warping_constant)
    beams = [IShape(0.1, 0.055, 0.0041, 0.0057, radius) for radius in (0.0, 0.007)]
    assert shape_variants(beams).area == approx([properties(beam).area for beam in beams])
    assert midline_fields(shape_variants(beams)).normal.shape == (2, 30, 4)
    with pytest.raises(ValueError, match="not variants"):
        shape_variants([hats[0], CHANNEL])


def test_thick_walls_are_said_to_be_rough() -> None:
    assert any("rough" in note for note in properties(RectTube(0.03, 0.03, 0.01)).notes)
    assert not properties(RectTube(0.1, 0.05, 0.003)).notes


def test_walls_must_hang_together() -> None:
    with pytest.raises(ValueError, match="hang together"):
        topology(((0, 1), (2, 3)))


def test_shapes_keep_their_sign() -> None:
    """The letter C opens to the right: centroid left of the tips, shear centre left of the web. The Z leans to the left on top."""
    channel, z = properties(CHANNEL), properties(ZShape(0.1, 0.05, 0.003))
    assert channel.centroid[0] > 0.0
    assert channel.centroid[0] + channel.shear_centre[0] > 0.025
    assert z.i_product > 0.0


def test_it_needs_neither_mesher_nor_outline_library() -> None:
    code = (
        "import sys\n"
        "for name in ('scipy', 'shapely', 'sectionproperties', 'pythoncdt', 'matplotlib'): sys.modules[name] = None\n"
        "import framecheck.section.midline, framecheck.section.midline_crosscheck, framecheck.section.twisting\n"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
