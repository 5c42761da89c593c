"""Mid-line theory of pieces put together, drilled or worn, and what it refuses."""

from __future__ import annotations

import numpy as np
import pytest
from pytest import approx

from framecheck.errors import InputError
from framecheck.model.joining import StitchWeld
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    Hole,
    IShape,
    OutlinePolygon,
    Pairing,
    Plate,
    Plated,
    RectTube,
    RoundTube,
    Side,
    Sleeve,
    Worn,
)
from tests.unit.section.test_midline import CHANNEL, properties


def test_sum_of_parts_by_the_parallel_axis_rule() -> None:
    """Two rectangles face to face, 40 x 4 on the side of a 100 x 50 x 3 tube (by hand)."""
    tube, plate = RectTube(0.1, 0.05, 0.003), Plate(Side.TOP, 0.04, 0.004)
    both, alone = properties(Plated(tube, (plate,))), properties(tube)
    area, at = 0.04 * 0.004, 0.052
    z = area * at / (area + alone.area)
    inertia = alone.i_vertical + alone.area * z**2 + 0.04 * 0.004**3 / 12 + area * (at - z) ** 2
    assert both.area == approx(alone.area + area)
    assert both.centroid == approx((0.0, z))
    assert both.i_vertical == approx(inertia)


def test_two_plates_welded_along_their_edges_twist_as_one() -> None:
    """Two flats t, face to face, are a flat of 2 t: J = b (2t)3 / 3 (by hand; Bredt 2 b t3 with both plates' b t3/3 is the same)."""
    pair = properties(ChannelPair(Channel(0.1, 0.05, 0.003, 0.0), Channel(0.1, 0.05, 0.003, 0.0)))
    webs = 0.1 * 0.006**3 / 3
    flanges = 2 * 2 * 0.0485 * 0.003**3 / 3
    assert pair.torsion_constant == approx(webs + flanges, rel=0.06)
    assert not pair.closed


def test_toe_to_toe_is_a_tube() -> None:
    tube = properties(RectTube(0.1, 0.1, 0.003))
    pair = properties(ChannelPair(CHANNEL, CHANNEL, Pairing.TOE_TO_TOE))
    assert pair.closed
    assert pair.area == approx(tube.area)
    assert pair.torsion_constant == approx(tube.torsion_constant)


def test_a_stitched_box_bends_as_a_box_and_twists_as_a_channel() -> None:
    stitched = properties(BoxedChannel(CHANNEL, 0.003, None, StitchWeld(0.03, 0.1)))
    welded, channel = properties(BoxedChannel(CHANNEL, 0.003)), properties(CHANNEL)
    assert stitched.i_vertical == approx(welded.i_vertical)
    assert stitched.shear_area_vertical == approx(welded.shear_area_vertical)
    assert stitched.torsion_constant == approx(channel.torsion_constant + 0.1 * 0.003**3 / 3, rel=0.03)
    assert stitched.torsion_bounds == approx((stitched.torsion_constant, welded.torsion_constant))
    assert welded.closed
    assert not stitched.closed


def test_a_hole_takes_from_bending_and_not_from_twist() -> None:
    tube = RectTube(0.1, 0.05, 0.003)
    drilled, whole = properties(Drilled(tube, (Hole(Side.TOP, 0.01),))), properties(tube)
    assert drilled.area == approx(whole.area - 0.01 * 0.003)
    assert drilled.centroid[1] < 0.0
    assert drilled.torsion_constant == approx(whole.torsion_constant)
    assert drilled.centroid[1] + drilled.shear_centre[1] == approx(0.0, abs=1e-9)
    assert drilled.shear_area_sideways == approx(whole.shear_area_sideways * 0.8)


def test_rust_on_one_side_is_a_thinner_wall_there() -> None:
    worn = properties(Worn(RectTube(0.1, 0.05, 0.003), top=0.001))
    assert worn.area == approx(2 * 0.099 * 0.003 + 0.044 * (0.003 + 0.002))
    assert worn.box[3] + worn.centroid[1] == approx(0.049)


def test_a_sleeve_on_its_core_is_two_beams() -> None:
    outer, core = RectTube(0.11, 0.06, 0.003), RectTube(0.1, 0.05, 0.003)
    both, a, b = properties(Sleeve(outer, core)), properties(outer), properties(core)
    assert both.i_vertical == approx(a.i_vertical + b.i_vertical)
    assert both.torsion_constant == approx(a.torsion_constant + b.torsion_constant)
    assert both.fields is not None
    largest = np.max(np.abs(both.fields.normal[:, 1]))
    assert largest == approx(0.055 / both.i_vertical, rel=1e-6)


def test_round_tube_fields() -> None:
    """Md/2I, T r/J and twice the mean shear in a thin round tube (mechanics texts)."""
    tube = properties(RoundTube(0.05, 0.001))
    assert tube.fields is not None
    assert np.max(tube.fields.normal[:, 1]) == approx(0.025 / tube.i_vertical)
    assert np.max(np.linalg.norm(tube.fields.shear[:, :, 2], axis=1)) == approx(0.025 / tube.torsion_constant)
    assert np.max(tube.fields.shear[:, 1, 1]) == approx(2 / tube.area, rel=1e-3)


def test_a_drawn_outline_has_no_mid_line() -> None:
    with pytest.raises(InputError, match="no mid-line"):
        properties(OutlinePolygon(((0.0, 0.0), (0.1, 0.0), (0.0, 0.1))))


def test_parts_that_do_not_touch_are_refused() -> None:
    """A plate beside an I has only the flanges' tips to lie on."""
    with pytest.raises(InputError, match="don't touch along flat walls"):
        properties(Plated(IShape(0.1, 0.055, 0.0041, 0.0057), (Plate(Side.LEFT, 0.02, 0.003),)))


def test_a_hole_with_no_wall_to_go_through_is_refused() -> None:
    with pytest.raises(InputError, match="no flat wall for a hole in its left"):
        properties(Drilled(Flat(0.01, 0.1), (Hole(Side.LEFT, 0.005),)))


def test_two_holes_of_a_round_tube_that_run_into_one() -> None:
    tube = RoundTube(0.04, 0.002)
    one = properties(Drilled(tube, (Hole(Side.TOP, 0.012),)))
    two = properties(Drilled(tube, (Hole(Side.TOP, 0.008, 0.002), Hole(Side.TOP, 0.008, -0.002))))
    assert two.area == approx(one.area)
    assert one.area < properties(tube).area - 0.012 * 0.002
