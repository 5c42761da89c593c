"""Mid-line theory of pieces put together, drilled or worn, and what it refuses."""

from __future__ import annotations

import numpy as np
import pytest
from pytest import approx

from framecheck.errors import InputError
from framecheck.model.arrays import Array
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
from framecheck.section.midline_parts import MidlineStrip, joined
from framecheck.section.properties import SectionProperties
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


def torques(section: SectionProperties, force: int) -> tuple[float, Array]:
    """Return the torque of a unit force's flows about the shear centre, and the one told by each wall's own twist, (n_wall,).

    Statics: the flow times its arm, by Simpson's rule along the middle. Saint-Venant: stress differs by 2 t (T / J) from face to face.
    """
    assert section.fields is not None
    places, shear = section.fields.points.reshape(-1, 3, 2, 2), section.fields.shear[:, :, force].reshape(-1, 3, 2, 2)
    across, span = places[:, 0, 0] - places[:, 0, 1], (places[:, 2] - places[:, 0]).mean(axis=1)
    thickness, length = np.linalg.norm(across, axis=1), np.linalg.norm(span, axis=1)
    arm, mean = places.mean(axis=2) - np.array(section.shear_centre), shear.mean(axis=2)
    turning = (arm[..., 0] * mean[..., 1] - arm[..., 1] * mean[..., 0]) @ np.array([1, 4, 1]) / 6
    apart = ((shear[:, 0, 0] - shear[:, 0, 1]) * span).sum(axis=1) / length
    sense = np.sign(across[:, 0] * span[:, 1] - across[:, 1] * span[:, 0])
    return float(turning @ (length * thickness)), sense * apart / (2 * thickness) * section.torsion_constant


def test_shear_of_a_stitched_box_does_not_turn_it_about_its_shear_centre() -> None:
    """Statics: what the flows of a box turn about the parts' shear centre, the parts take as twist of their own.

    6 %: the flow across half the plate's 10 mm, from the flanges' tips to its middle, stands in no wall.
    """
    stitched = properties(BoxedChannel(CHANNEL, 0.01, None, StitchWeld(0.03, 0.1)))
    flows, own = torques(stitched, 1)
    assert abs(flows) > 0.02
    assert own == approx(-flows, rel=0.06)
    flows, own = torques(stitched, 2)
    assert flows == approx(0.0, abs=1e-3)
    assert own == approx(1.0, rel=1e-3)


T = 0.003


def flat(start: tuple[float, float], stop: tuple[float, float]) -> MidlineStrip:
    return MidlineStrip(start, stop, T)


def links(a: MidlineStrip, b: MidlineStrip) -> list[tuple[float, ...]]:
    """Return the links of two walls, end to end as (y, z, y, z) in order."""
    return sorted((*link.start, *link.stop) for link in joined([[a], [b]], 1.0)[2:])


def test_plates_face_to_face_are_joined_at_both_ends_of_what_they_share() -> None:
    """By hand: 0 to 100 and 60 to 150 share 60 to 100."""
    found = links(flat((0.0, 0.0), (0.1, 0.0)), flat((0.06, T), (0.15, T)))
    assert found == [approx((0.06, 0.0, 0.06, T)), approx((0.1, 0.0, 0.1, T))]


def test_plates_in_neighbouring_planes_that_do_not_overlap_are_not_joined() -> None:
    assert not links(flat((0.0, 0.0), (0.1, 0.0)), flat((0.12, T), (0.2, T)))
    assert not links(flat((0.12, T), (0.2, T)), flat((0.0, 0.0), (0.1, 0.0)))


def test_a_wall_that_stands_on_another_is_joined_and_one_that_runs_along_it_is_not() -> None:
    """An edge stands on a face; walls side by side, one's middle in the other's face, touch nowhere along a face or under an edge."""
    floor = flat((0.0, 0.0), (0.1, 0.0))
    assert links(floor, flat((0.03, T / 2), (0.03, 0.05))) == [approx((0.03, T / 2, 0.03, 0.0))]
    assert links(floor, flat((0.03, T / 2), (0.06, 0.03))) == [approx((0.03, T / 2, 0.03, 0.0))]
    assert not links(floor, flat((0.1, T / 2), (0.15, T / 2)))


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
