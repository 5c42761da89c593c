"""Notches in members and what mends them, against statics, closed forms and trade rules."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.checks.notch.check import check
from framecheck.checks.notch.repair import (
    AskedOfRepair,
    CutMember,
    RepairKind,
    curved_share,
    face_stress,
    fillet_leg,
    least_thickness,
    mended,
    repairs,
    strips,
)
from framecheck.checks.notch.room import centroid_shift, solved_curve, zones
from framecheck.model.case import NotchAsked, StrengthAsked
from framecheck.model.frame import Cut, Member, Stretch
from framecheck.model.shapes import Side
from framecheck.results.row import CheckResult, Mode
from framecheck.results.subjects import Open, Question, Thing, asked
from framecheck.section.properties import SectionProperties, Wall
from framecheck.stress import SolvedCase
from tests.unit.checks.lines import results_of
from tests.unit.checks.members import channel, outcome, row, thin, tube

H, B, T = 0.097, 0.047, 0.003
GROSS = tube(H, B, T)


def cut_open(depth: float) -> SectionProperties:
    """Return the tube with its top and the upper `depth` of its webs cut away."""
    top, bottom, half = H / 2 - depth, -H / 2, B / 2
    walls = [
        Wall((-half, top), (-half, bottom), H - depth, T, free_start=True),
        Wall((-half, bottom), (half, bottom), B, T),
        Wall((half, bottom), (half, top), H - depth, T, free_end=True),
    ]
    return thin("tube cut open", walls, False)


CUT = Cut("C-notch", Side.TOP, 0.5, 0.045, 0.15, 0.025)
NET = cut_open(CUT.depth)
STATIONS = (0.0, 0.425, 0.425, 0.575, 0.575, 1.0)


def rail(forces: dict[str, float], cut: Cut = CUT, asked: NotchAsked = NotchAsked()) -> SolvedCase:  # noqa: B008
    member = Member("rail", ("a", "b"), (Stretch("rail section"),), cuts=(cut,))
    sections = (GROSS, GROSS, NET, NET, GROSS, GROSS)
    each = np.stack([row(**forces)[None]] * 6)
    return outcome(sections, each, STATIONS, member, strength=StrengthAsked(notches=asked))


def lines(found: SolvedCase, mode: Mode) -> list[CheckResult]:
    return [row for row in results_of(check(found)) if row.mode is mode]


def test_net_section_by_hand() -> None:
    # U of two webs and a bottom: middle, second moment and root stress by the parallel-axis theorem
    web = H - CUT.depth
    area = 2 * web * T + B * T
    middle = 2 * web * T * web / 2 / area  # from the bottom's mid-line
    inertia = 2 * (T * web**3 / 12 + web * T * (web / 2 - middle) ** 2) + B * T * middle**2
    (line,) = lines(rail({"Mv": 100.0}), Mode.NET_SECTION)
    assert line.demand == approx(100 * (web - middle) / inertia, rel=1e-9)
    assert line.capacity == 355e6
    assert 0.425 <= (line.station or 0) <= 0.575
    assert "the cell is open" in line.note


def test_only_a_cell_that_was_closed_is_said_to_open() -> None:
    gross, net = channel(0.1, 0.05, 0.003), replace(cut_open(CUT.depth), closed=False)
    member = Member("rail", ("a", "b"), (Stretch("rail section"),), cuts=(CUT,))
    each = np.stack([row(Mv=100.0)[None]] * 6)
    (line,) = lines(outcome((gross, gross, net, net, gross, gross), each, STATIONS, member), Mode.NET_SECTION)
    assert "the cell is open" not in line.note


def test_the_net_middle_is_where_its_faces_put_it() -> None:
    # statics: two webs hang from the bottom of the gross middle's box
    web = H - CUT.depth
    assert centroid_shift(GROSS, NET, Side.TOP) == approx((0.0, 2 * web * T * web / 2 / NET.area - H / 2))
    for side in (Side.BOTTOM, Side.LEFT, Side.RIGHT):
        assert centroid_shift(GROSS, GROSS, side) == (0.0, 0.0)


def test_shear_in_the_remaining_webs() -> None:
    (line,) = lines(rail({"Vz": 1000.0}), Mode.WEB_SHEAR)
    assert line.demand == approx(1000 * 2 / NET.area)
    assert line.capacity == approx(355e6 / 3**0.5)


def test_the_corner_is_told_and_not_counted_against_yield() -> None:
    plain = lines(rail({"Mv": 100.0}), Mode.NET_SECTION)[0]
    sharp = lines(rail({"Mv": 100.0}, replace(CUT, corner_radius=0.006)), Mode.NET_SECTION)[0]
    assert plain.safety_factor == sharp.safety_factor
    factor = [float(line.note.split("corner ")[1].split()[0]) for line in (plain, sharp)]
    assert 1.3 < factor[0] < 1.8 < factor[1] < 3.0


def test_local_yield_is_given_where_asked() -> None:
    asked = NotchAsked(local_yield=("rail",))
    (line,) = lines(rail({"Mv": 100.0}, asked=asked), Mode.CORNER_YIELDS)
    net = lines(rail({"Mv": 100.0}), Mode.NET_SECTION)[0]
    assert line.demand > 1.3 * net.demand
    assert line.target == 1.0
    assert not lines(rail({"Mv": 100.0}), Mode.CORNER_YIELDS)


def test_a_missing_radius_or_section_is_said() -> None:
    said = [line for line in check(rail({"Mv": 1.0}, replace(CUT, corner_radius=0.0))) if isinstance(line, Open)]
    assert [line.entry for line in said] == [asked(Thing.CUT, "rail", Question.NOTCH, "C-notch")]
    assert said[0].reason.startswith("its corner radius is not given")
    blind = replace(NET, fields=None)
    member = Member("rail", ("a", "b"), (Stretch("rail section"),), cuts=(CUT,))
    found = outcome((GROSS, GROSS, blind, blind, GROSS, GROSS), np.zeros((6, 1, 9)), STATIONS, member)
    (line,) = check(found)
    assert isinstance(line, Open)


# zones ----------------------------------------------------------------------------------------------------------------------------


def test_zones_of_a_straight_moment_diagram() -> None:
    # utilisation grows evenly from 0 to 1 along the rail: under a third up to a third of its length. The middle half of a web is
    # strained half as much at most: up to two thirds
    top = 355e6 * GROSS.i_vertical / (H / 2)
    forces = np.stack([row(), row(Mv=top / 2), row(Mv=top)])[:, None]
    found = zones(outcome((GROSS,) * 3, forces, (0.0, 1.5, 3.0)), 0, 1 / 3)
    flange = [each for each in found if each.part == "top flange"]
    assert [(each.start, each.end, each.permitted) for each in flange] == [(0.0, approx(1.0), True), (approx(1.0), 3.0, False)]
    assert flange[0].utilisation == approx(1 / 3)
    assert flange[1].utilisation == approx(1.0)
    web = [each for each in found if each.part == "left web"]
    assert web[0].end == approx(2.0)


def test_a_channel_has_no_right_web() -> None:
    section = channel(0.1, 0.05, 0.003)
    found = zones(outcome((section,) * 2, np.zeros((2, 1, 9)), (0.0, 1.0)), 0, 0.3)
    assert {each.part for each in found} == {"top flange", "bottom flange", "left web"}
    assert all(each.permitted for each in found)


# curve ----------------------------------------------------------------------------------------------------------------------------


def test_curve_from_solved_frames_by_hand() -> None:
    # bending alone: M / Z of the net section at its face, and no more than that at any corner; a sharp corner has no factor
    depths, radii = np.array([0.03, 0.045]), np.array([0.0, 0.006, 0.012])
    cuts = [replace(CUT, depth=float(depth)) for depth in depths]
    nets = [cut_open(float(depth)) for depth in depths]
    outcomes = [outcome((GROSS, GROSS, net, net, GROSS, GROSS), np.stack([row(Mv=500.0)[None]] * 6), STATIONS) for net in nets]
    found = solved_curve(GROSS, 0, cuts, outcomes, radii)
    assert found.inertia_share == approx([net.i_vertical / GROSS.i_vertical for net in nets])
    farthest = [max(-net.box[2], net.box[3]) for net in nets]  # box: from the centroid
    by_hand = [net.yield_strength * net.i_vertical / (500.0 * far) for net, far in zip(nets, farthest, strict=True)]
    assert found.on_yield == approx(by_hand, rel=0.02)
    assert np.isnan(found.at_corner[:, 0]).all()
    assert np.all(np.diff(found.at_corner[:, 1:], axis=1) >= 0)
    assert np.all(found.at_corner[:, 1:] < found.on_yield[:, None])


def test_half_of_a_box_cut_away_leaves_a_tenth() -> None:
    # section formulas for a 100 x 50 x 3 box cut to half its depth, from its middle lines: I / I0 about 0.10
    assert cut_open(0.05 - T / 2).i_vertical / GROSS.i_vertical == approx(0.10, abs=0.01)


# repair ---------------------------------------------------------------------------------------------------------------------------

BREADTH, HEIGHT, DEPTH = 0.02, 0.1, 0.04
LEFT = HEIGHT - DEPTH
WHOLE, REST = (BREADTH * each**3 / 12 for each in (HEIGHT, LEFT))
BAR = CutMember(WHOLE, HEIGHT, BREADTH * LEFT, REST, LEFT / 2, -LEFT / 2, -DEPTH / 2, BREADTH, 250e6)
ASKED = AskedOfRepair(1.0, 1.5, 250e6, 482.6e6)


def test_a_flange_on_a_bar_makes_it_deeper() -> None:
    # closed form b d3 / 12 of the whole depth: filling the cut up gives the whole bar back
    for thickness in (0.01, 0.025, DEPTH):
        found = mended(BAR, strips(RepairKind.FLANGE, BAR, 0.0, thickness))
        assert found.inertia == approx(BREADTH * (LEFT + thickness) ** 3 / 12, rel=1e-12)


def test_plates_on_both_sides_of_a_bar_make_it_broader() -> None:
    found = mended(BAR, strips(RepairKind.SIDE_PLATES, BAR, 0.0, BREADTH / 2))
    assert found.inertia == approx(2 * BAR.inertia, rel=1e-12)
    assert mended(BAR, strips(RepairKind.FISH_PLATE, BAR, 0.0, BREADTH)).inertia == approx(2 * BAR.inertia, rel=1e-12)


def test_stress_in_a_mended_bar() -> None:
    # filled up, a pull through the old middle no longer bends: P / A alone
    whole = mended(BAR, strips(RepairKind.FLANGE, BAR, 0.0, DEPTH))
    assert face_stress(whole, BAR, np.array([1e4]), np.array([0.0])) == approx([1e4 / (BREADTH * HEIGHT)], rel=1e-9)
    # unmended, one-sided cut pulled through the old middle: (P / A)(1 + 3 h / (D - h)), textbook of an eccentric pull
    bare = mended(BAR, strips(RepairKind.SIDE_PLATES, BAR, 0.0, 1e-15))
    expected = 1e4 / (BREADTH * LEFT) * (1 + 3 * DEPTH / LEFT)
    assert face_stress(bare, BAR, np.array([1e4]), np.array([0.0])) == approx([expected], rel=1e-6)


def test_thicknesses_give_back_what_is_asked() -> None:
    forces = np.stack([row(Mv=1200.0, Vz=3e3), row(Mv=-900.0, N=4e3)])
    found = {each.kind: each for each in repairs(GROSS, NET, CUT, forces, ASKED)}
    box = found[RepairKind.BOX]
    assert box.for_stiffness is not None
    assert box.for_strength is not None
    assert box.stiffness_share == approx(1.0, abs=0.01) or box.thickness == box.for_strength
    assert box.safety_factor >= 1.5
    assert box.taper == approx(2 * H)  # body-builder manuals: taper at least two rail depths each side
    assert box.length == approx(CUT.length + 4 * H)
    assert box.leg == approx(box.weld_flow / 102.4e6, rel=1e-3)
    # plates on what is left alone are far less use than a flange as well
    assert (found[RepairKind.FISH_PLATE].for_stiffness or 1.0) > box.for_stiffness


def test_a_cut_below_is_mended_as_one_above_upside_down() -> None:
    below = replace(NET, box=(NET.box[0], NET.box[1], -NET.box[3], -NET.box[2]))
    up = repairs(GROSS, NET, CUT, row(Mv=900.0, N=2e3)[None], ASKED)
    down = repairs(GROSS, below, replace(CUT, side=Side.BOTTOM), row(Mv=-900.0, N=2e3)[None], ASKED)
    assert [each.thickness for each in up] == approx([each.thickness for each in down])
    assert [each.weld_flow for each in up] == approx([each.weld_flow for each in down])


@pytest.mark.parametrize(("ratio", "share"), [(0.2, 0.98), (0.5, 0.88), (1.0, 0.69), (2.0, 0.50)])
def test_curved_flange(ratio: float, share: float) -> None:
    # Roark's Formulas, ch. 9, from memory: b2 / (R t) with b = half the breadth
    assert curved_share(0.05, 0.025**2 / ratio / 0.003, 0.003) == approx(share)


def test_leg_of_an_e70_fillet() -> None:
    # AWS D1.1 allowable stress: 102 N/mm for each mm of leg, E70 (482.6 MPa)
    assert fillet_leg(102.4e3, 482.6e6) == approx(0.001, rel=1e-3)


def test_no_plate_is_said_where_none_will_do() -> None:
    assert least_thickness(lambda thickness: False) is None
    assert least_thickness(lambda thickness: thickness >= 0.00321) == approx(0.00321, abs=1.1e-5)


@settings(deadline=None, max_examples=40)
@given(st.sampled_from(list(RepairKind)), st.floats(0.001, 0.01), st.floats(1.01, 2.0))
def test_a_thicker_plate_is_never_softer(kind: RepairKind, thickness: float, growth: float) -> None:
    thin_, thick = (mended(BAR, strips(kind, BAR, 0.025, each)) for each in (thickness, growth * thickness))
    assert thick.inertia >= thin_.inertia
