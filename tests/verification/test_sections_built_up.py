"""Built-up, notched and drilled sections against sums of parts, closed forms and published ratios."""

from __future__ import annotations

import pytest
from pytest import approx

from framecheck.model.frame import Cut, Side
from framecheck.model.joining import BoltRow, StitchWeld
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    Hat,
    Hole,
    Pairing,
    Plate,
    Plated,
    RectTube,
    RoundTube,
    Sleeve,
    Worn,
)
from framecheck.section.analysis import net_properties, section_properties
from tests.unit.section.samples import CHANNEL, MM, SHARP_CHANNEL, SHARP_TUBE, TUBE, steel
from tests.verification.manual import Held, Kind, proof

FLUSH = BoxedChannel(SHARP_CHANNEL, 3 * MM, 0.0)


@proof(Kind.DERIVED)
def test_boxing_a_channel(held: Held) -> None:
    """100 x 50 x 3 mm, sharp, a plate between the flanges: A (582 + 94 x 3) / 582 = 1.48; I + 3 x 94^3 / 12: 1.23 (parallel axes);
    J: Bredt 4 x (97 x 47)^2 x 3 / 288 over 582 x 9 / 3, 496; all by hand."""
    channel, boxed = section_properties(steel(SHARP_CHANNEL)), section_properties(steel(FLUSH))
    held(boxed.area / channel.area, 1.48, abs=0.005)
    held(boxed.i_vertical / channel.i_vertical, 1.23, abs=0.005)
    by_bredt = 4 * (97 * 47) ** 2 * 3 / 288 / (582 * 9 / 3)
    held(boxed.torsion_constant / channel.torsion_constant, by_bredt, rel=0.04)
    assert boxed.closed
    assert not channel.closed


def test_a_flush_boxed_channel_is_a_tube() -> None:
    """The same walls in the same places: every number of the rectangular tube (a closed form of itself)."""
    boxed, tube = section_properties(steel(FLUSH)), section_properties(steel(SHARP_TUBE))
    for name in ("area", "i_vertical", "i_sideways", "plastic_modulus_vertical"):
        assert getattr(boxed, name) == approx(getattr(tube, name), rel=1e-9)
    for name in ("torsion_constant", "shear_area_vertical", "warping_constant"):
        assert getattr(boxed, name) == approx(getattr(tube, name), rel=0.005)
    assert boxed.centroid[0] == approx(tube.centroid[0], abs=1e-9)


def test_a_stitched_plate_leaves_twist_between_two_bounds() -> None:
    """Open: channel and plate side by side, sum b t3 / 3 (Saint-Venant); closed: the welded box. The lower is used."""
    stitched = section_properties(steel(BoxedChannel(SHARP_CHANNEL, 3 * MM, 0.0, StitchWeld(25 * MM, 100 * MM))))
    welded, channel = section_properties(steel(FLUSH)), section_properties(steel(SHARP_CHANNEL))
    plate = section_properties(steel(Flat(94 * MM, 3 * MM)))
    assert stitched.torsion_constant == approx(channel.torsion_constant + plate.torsion_constant, rel=0.005)
    assert stitched.torsion_bounds is not None
    assert stitched.torsion_bounds[1] == approx(welded.torsion_constant, rel=0.005)
    assert stitched.i_vertical == approx(welded.i_vertical, rel=1e-9)
    assert stitched.shear_area_vertical == approx(welded.shear_area_vertical, rel=1e-6)
    assert not stitched.closed
    assert any("joined at intervals" in note for note in stitched.notes)


@proof(Kind.DERIVED)
def test_shear_flow_of_a_doubler_is_v_q_over_i(held: Held) -> None:
    """D. J. Jourawski (1856): the two seams together carry V Q / I, Q = 40 x 3 mm2 times the plate's height over the centroid."""
    section = steel(Plated(TUBE, (Plate(Side.TOP, 40 * MM, 3 * MM),)))
    found, seams = section_properties(section), section_properties(section).seams
    first_moment = 120 * MM**2 * (found.box[3] - 1.5 * MM)
    assert len(seams) == 2
    held(abs(sum(seam.per_vertical for seam in seams)), first_moment / found.i_vertical, rel=1e-9)
    held(sum(seam.per_torsion for seam in seams), 0.0, abs=1e-6)
    held(seams[0].per_vertical, seams[1].per_vertical, rel=0.01)


@proof(Kind.DERIVED)
def test_shear_flow_of_a_boxing_plate_is_bredts(held: Held) -> None:
    """q = T / 2 A, R. Bredt (1896), 97 x 47 mm inside the mid-line; sideways V Q / I shared by two like seams."""
    seams = section_properties(steel(FLUSH)).seams
    found = section_properties(steel(FLUSH))
    held([abs(seam.per_torsion) for seam in seams], [1 / (2 * 97 * 47 * MM**2)] * 2, rel=0.01)
    by_hand = 282 * MM**2 * 23.5 * MM / found.i_sideways / 2
    held([seam.per_sideways for seam in seams], [by_hand] * 2, rel=0.001)
    held(seams[0].per_vertical, -seams[1].per_vertical, rel=1e-6)


def test_sleeve_and_core_are_separate_beams() -> None:
    """They share curvature and twist: second moments and torsion constants add (elementary beam theory); nothing is meshed as one."""
    sleeve = RectTube(108 * MM, 58 * MM, 3 * MM, 6 * MM)
    both, outer, core = (section_properties(steel(shape)) for shape in (Sleeve(sleeve, TUBE), sleeve, TUBE))
    for name in ("area", "i_vertical", "i_sideways", "torsion_constant"):
        assert getattr(both, name) == approx(getattr(outer, name) + getattr(core, name), rel=1e-3)
    share = core.i_vertical / both.i_vertical
    assert both.shear_area_vertical == approx(
        1 / (share**2 / core.shear_area_vertical + (1 - share) ** 2 / outer.shear_area_vertical), rel=1e-3
    )
    assert section_properties(steel(Sleeve(sleeve, TUBE))).seams == ()


def test_sleeve_over_a_channel_keeps_each_parts_own_axis() -> None:
    outer = RectTube(108 * MM, 58 * MM, 3 * MM, 4 * MM)
    both = section_properties(steel(Sleeve(outer, CHANNEL)))
    parts = [section_properties(steel(shape)) for shape in (outer, CHANNEL)]
    assert both.i_sideways == approx(sum(part.i_sideways for part in parts), rel=1e-6)
    assert any("separate beams" in note for note in both.notes)


@proof(Kind.DERIVED)
def test_two_channels_back_to_back_add_up(held: Held) -> None:
    """Parallel-axis rule: I vertical doubles; sideways 2 (I + A c2), c the centroid's distance from the back."""
    pair = section_properties(steel(ChannelPair(CHANNEL, CHANNEL)))
    one = section_properties(steel(CHANNEL))
    from_back = 25 * MM - one.centroid[0]
    assert pair.i_vertical == approx(2 * one.i_vertical, rel=1e-6)
    assert pair.i_sideways == approx(2 * (one.i_sideways + one.area * from_back**2), rel=1e-6)
    held(pair.shear_centre, (0.0, 0.0), abs=1e-5)
    assert not pair.closed


@proof(Kind.DERIVED)
def test_two_channels_toe_to_toe_close_a_cell(held: Held) -> None:
    """Bredt, 97 x 97 mm inside the mid-line of two 100 x 50 x 3 mm channels with bends: within 3 %."""
    pair = section_properties(steel(ChannelPair(CHANNEL, CHANNEL, Pairing.TOE_TO_TOE)))
    enclosed = 97**2 - (4 - 3.14159) * 4.5**2
    around = 4 * 97 - (8 - 2 * 3.14159) * 4.5
    held(pair.torsion_constant, 4 * enclosed**2 * 3 / around * MM**4, rel=0.03)
    assert pair.closed


def test_nested_channels_stay_open() -> None:
    pair = section_properties(steel(ChannelPair(CHANNEL, Channel(94 * MM, 47 * MM, 3 * MM, 3 * MM), Pairing.NESTED)))
    assert not pair.closed
    assert pair.torsion_constant < 30 * section_properties(steel(CHANNEL)).torsion_constant


def test_a_floor_closes_a_hat() -> None:
    """Spot-welded at a pitch: bending as one by the parallel-axis rule, twist from open to closed."""
    hat = Hat(50 * MM, 60 * MM, 20 * MM, 2 * MM, 2 * MM)
    found = section_properties(steel(FloorClosed(hat, 1 * MM, 0.0, BoltRow(50 * MM))))
    alone = section_properties(steel(hat))
    floor = 100 * MM * 1 * MM
    arm = (alone.centroid[1] + 25.5 * MM) * alone.area / (alone.area + floor)
    by_hand = (
        alone.i_vertical
        + 100e-15 / 12 * 1000
        + alone.area * floor / (alone.area + floor) * (alone.centroid[1] + 25.5 * MM) ** 2
    )
    assert found.i_vertical == approx(by_hand, rel=1e-4)
    assert found.centroid[1] == approx(-25.5 * MM + arm, abs=1e-6)
    assert found.torsion_bounds is not None
    assert found.torsion_bounds[1] > 50 * found.torsion_bounds[0]


NOTCHES = ((50.0, 0.50, 0.101), (25.0, 0.67, 0.306), (40.0, 0.57, 0.166))


@pytest.mark.parametrize(("depth", "area", "inertia"), NOTCHES)
def test_top_notch_in_a_tube(depth: float, area: float, inertia: float) -> None:
    """100 x 50 x 3 mm tube: shares left after a top cut, from an independent plane-stress model of this tube, sharp corners;
    A by hand: (864 - 150 - 6 (depth - 3)) / 864."""
    whole = section_properties(steel(SHARP_TUBE))
    net = net_properties(steel(SHARP_TUBE), Cut("C-notch", Side.TOP, 1.0, depth * MM, 0.15))
    assert net.area / whole.area == approx(area, abs=0.005)
    assert net.area / whole.area == approx((864 - 150 - 6 * (depth - 3)) / 864, rel=1e-9)
    assert net.i_vertical / whole.i_vertical == approx(inertia, abs=0.002)
    assert net.centroid[1] < -10 * MM
    assert not net.closed
    assert len(net.walls) == 3


@proof(Kind.DERIVED)
def test_half_depth_notch_is_a_u_by_hand(held: Held) -> None:
    """What is left is a U of 50 x 50 x 3: its second moments by the parallel-axis rule; shear centre below it (mid-line theory)."""
    net = net_properties(steel(SHARP_TUBE), Cut("C-notch", Side.TOP, 1.0, 50 * MM, 0.15))
    webs, flange = 2 * 3 * 47.0, 50 * 3.0
    middle = (webs * 26.5 + flange * 1.5) / (webs + flange)
    by_hand = 2 * 3 * 47**3 / 12 + webs * (26.5 - middle) ** 2 + 50 * 27 / 12 + flange * (middle - 1.5) ** 2
    held(net.i_vertical, by_hand * MM**4, rel=1e-9)
    held(net.centroid[1], (middle - 50) * MM, abs=1e-9)
    b, h = 48.5, 47.0
    from_flange = 3 * b**2 / (6 * b + h)
    held(net.centroid[1] + net.shear_centre[1], (-48.5 - from_flange) * MM, rel=0.01)


@pytest.mark.parametrize("side", list(Side))
def test_notches_from_every_side_of_a_channel(side: Side) -> None:
    """What is left, by areas: rectangles less the cut ones; the axis moves away from the cut."""
    net = net_properties(steel(SHARP_CHANNEL), Cut("cut", side, 1.0, 10 * MM, 0.1))
    lost = {Side.TOP: 150 + 21, Side.BOTTOM: 150 + 21, Side.LEFT: 300 + 2 * 21, Side.RIGHT: 60}[side]
    assert net.area == approx((582 - lost) * MM**2, rel=1e-6)


def test_a_web_cut_away_leaves_two_pieces_that_are_not_meshed_as_one() -> None:
    """Two flanges of 40 x 3 mm, 97 mm apart, bend as one plane (parallel axes) but twist one by one (Saint-Venant)."""
    net = net_properties(steel(SHARP_CHANNEL), Cut("web", Side.LEFT, 1.0, 10 * MM, 0.1))
    assert net.i_vertical == approx(2 * (40 * 27 / 12 + 120 * 48.5**2) * MM**4, rel=1e-6)
    strip = section_properties(steel(Flat(3 * MM, 40 * MM)))
    assert net.torsion_constant == approx(2 * strip.torsion_constant, rel=0.01)
    assert any("2 pieces" in note for note in net.notes)


@proof(Kind.DERIVED)
def test_hole_in_the_top_of_a_tube(held: Held) -> None:
    """A less d t, I about the moved axis by the parallel-axis rule; twist as undrilled."""
    whole, found = (
        section_properties(steel(SHARP_TUBE)),
        section_properties(steel(Drilled(SHARP_TUBE, (Hole(Side.TOP, 12 * MM),)))),
    )
    area = 864 - 36
    axis = -36 * 48.5 / area
    by_hand = whole.i_vertical / MM**4 - 12 * 27 / 12 - 36 * 48.5**2 - area * axis**2
    held(found.area, area * MM**2, rel=1e-9)
    held(found.i_vertical, by_hand * MM**4, rel=1e-9)
    held(found.centroid[1], axis * MM, abs=1e-9)
    assert found.torsion_constant == whole.torsion_constant


@proof(Kind.DERIVED)
def test_hole_in_the_web_of_a_channel(held: Held) -> None:
    """The strips left above and below still bend as one; shear rises by 100 / (100 - 20)."""
    whole = section_properties(steel(SHARP_CHANNEL))
    found = section_properties(steel(Drilled(SHARP_CHANNEL, (Hole(Side.LEFT, 20 * MM, 10 * MM),))))
    axis = -60 * 10 / 522
    undrilled = (50 * 100**3 - 47 * 94**3) / 12
    by_hand = undrilled - 3 * 20**3 / 12 - 60 * 10**2 - 522 * axis**2
    held(found.i_vertical, by_hand * MM**4, rel=1e-9)
    assert found.shear_area_vertical == approx(0.8 * whole.shear_area_vertical, rel=1e-9)


@proof(Kind.DERIVED)
def test_rust_on_one_side(held: Held) -> None:
    """1 mm off the top of a sharp 100 x 50 x 3 tube: less a strip 50 x 1 at z = 49.5 (parallel axes)."""
    whole, found = section_properties(steel(SHARP_TUBE)), section_properties(steel(Worn(SHARP_TUBE, top=1 * MM)))
    axis = -50 * 49.5 / 814
    by_hand = whole.i_vertical / MM**4 - 50 / 12 - 50 * 49.5**2 - 814 * axis**2
    held(found.i_vertical, by_hand * MM**4, rel=1e-9)
    held(min(wall.thickness for wall in found.walls), 2 * MM)


def test_rust_all_round_a_round_tube_is_a_thinner_tube() -> None:
    found = section_properties(steel(Worn(RoundTube(50 * MM, 3 * MM), *([0.5 * MM] * 4))))
    thinner = section_properties(steel(RoundTube(49 * MM, 2.5 * MM)))
    assert found.i_vertical == approx(thinner.i_vertical, rel=1e-12)


def test_a_bend_thinned_in_forming() -> None:
    """Loses (integral of thinned sin2) of its outside: half the loss over the arc at each bend, to first order."""
    whole, found = section_properties(steel(CHANNEL)), section_properties(steel(Worn(CHANNEL, bends=0.3 * MM)))
    arc = 2 * 3.14159 / 2 * 6
    assert whole.area - found.area == approx(arc * 0.3 / 2 * MM**2, rel=0.06)


@proof(Kind.DERIVED)
def test_plates_on_a_flat_are_sums_of_rectangles(held: Held) -> None:
    """Touching rectangles by the parallel-axis rule."""
    found = section_properties(steel(Plated(Flat(60 * MM, 10 * MM), (Plate(Side.LEFT, 40 * MM, 5 * MM, 5 * MM),))))
    area = 600 + 200
    axis = 200 * 5 / area
    by_hand = 10 * 60**3 / 12 + 600 * axis**2 + 5 * 40**3 / 12 + 200 * (5 - axis) ** 2
    held(found.i_vertical, by_hand * MM**4, rel=1e-9)
    held(found.centroid, (200 * 7.5 / area * MM, axis * MM), abs=1e-9)
