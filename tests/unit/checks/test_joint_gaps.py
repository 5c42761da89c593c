"""Joints of which something is not given or not borne: said in a row, never passed over; and flanges that pry (statics)."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.bolts import sleeve
from framecheck.checks.bolts.group import prying_terms, tension_with_prying
from framecheck.checks.bolts.group_rows import check_group as check_bolts
from framecheck.checks.joint_rows import Line
from framecheck.checks.wall_crushing.sleeve import shop_lines, wall_strength
from framecheck.checks.welds.check import check_fillets as check_welds
from framecheck.checks.welds.fillet import angles, wall_capacities
from framecheck.model.joints import ASKED, ClampedTube, JointLoad, PinnedSleeve, PlyKind, Prying
from framecheck.model.weld_joints import Direction, WeldedOn, WeldedPart, WeldRun
from tests.unit.checks.joint_samples import BOLTS, NOWHERE, STEEL, WELDS, four_bolts, m10, plate, weld_group
from tests.unit.checks.lines import by_mode, left_open, remarked

Way = tuple[float, float, float]
NONE: Way = (0.0, 0.0, 0.0)
OFFSET, PITCH, THIN = 0.03, 0.08, 0.006
FLANGE = Prying(OFFSET, 0.03, PITCH, THIN, STEEL)


def bolted(force: Way = NONE, moment: Way = NONE, **changes: object) -> tuple[Line, ...]:
    return check_bolts(four_bolts(**changes), (JointLoad("load", force, moment),), BOLTS.edges)


def test_a_twist_on_a_single_bolt_is_a_row_that_fails() -> None:
    row = by_mode(bolted(moment=(0.0, 50.0, 0.0), positions=((0.0, 0.0),)))["twist on a single bolt"]
    assert (row.demand, row.safety_factor, row.unit) == (approx(50.0), 0.0, "Nm")
    assert "twist on a single bolt" not in by_mode(bolted(moment=(0.0, 50.0, 0.0)))


def test_bending_about_a_row_of_bolts_is_a_row_that_fails() -> None:
    """A row along x has no lever about x."""
    line = ((-0.04, 0.0), (0.04, 0.0))
    row = by_mode(bolted(moment=(30.0, 0.0, 0.0), positions=line))["bending about a single row, contact face not given"]
    assert (row.demand, row.safety_factor) == (approx(30.0), 0.0)
    assert "bending about a single row, contact face not given" not in by_mode(bolted(moment=(0.0, 0.0, 30.0), positions=line))


def test_a_ply_without_its_edge_says_what_is_not_checked() -> None:
    lines = bolted((1000.0, 0.0, 0.0), plies=(plate(edge=None),))
    assert left_open(lines)["bracket bolts, tear-out and edge distance of plate"] == (
        "the distance from its holes to its edge is not given"
    )
    assert not any("edge of plate" in mode for mode in by_mode(lines))


def test_a_thin_flange_gives_way_by_two_folds() -> None:
    """Folds at the stem and at the bolt line: T b' = Mp (1 + delta), Mp = Fu p t2 / 4 with holes taken off at the bolts (statics)."""
    bolt = m10()
    near = OFFSET - 0.010 / 2
    fold = STEEL.ultimate_strength * PITCH * THIN**2 / 4
    by_hand = fold * (1 + (1 - bolt.hole / PITCH)) / near
    assert tension_with_prying(bolt, 1e9, FLANGE) == approx(by_hand)


def test_a_flange_between_thin_and_thick_adds_the_edge_s_push_to_the_bolt() -> None:
    """Bolt B = T + Q with Q a' = delta alpha Mp and T b' = (1 + delta alpha) Mp (statics); alpha between 0 and 1."""
    bolt, strength = m10(), 26e3
    near, far = OFFSET - 0.005, min(FLANGE.edge, 1.25 * OFFSET) + 0.005
    fold = STEEL.ultimate_strength * PITCH * THIN**2 / 4
    load = tension_with_prying(bolt, strength, FLANGE)
    at_bolt = load * near - fold  # delta alpha Mp
    assert 0.0 < at_bolt / fold < 1 - bolt.hole / PITCH
    assert load + at_bolt / far == approx(strength)


def test_a_thick_flange_leaves_the_bolt_its_strength() -> None:
    assert tension_with_prying(m10(), 40e3, replace(FLANGE, thickness=0.04)) == approx(40e3)
    assert tension_with_prying(m10(), 40e3, replace(FLANGE, offset=0.004)) == approx(40e3)  # the stem stands over the bolt


def test_the_far_edge_counts_up_to_five_quarters_of_the_offset() -> None:
    """a' = min(a, 1.25 b) + d/2 (AISC Steel Construction Manual, part 9, from memory): 37.5 + 5 mm against 25."""
    assert prying_terms(0.010, 0.011, replace(FLANGE, edge=0.1)).ratio == approx(25 / 42.5)


def test_a_pulled_group_says_whether_prying_is_counted() -> None:
    pull = (0.0, 40e3, 0.0)
    walls = (replace(plate(), kind=PlyKind.TUBE_WALL),)
    plain, pried = (bolted(pull, prying=each, plies=walls) for each in (None, FLANGE))
    assert "bracket bolts, prying" in left_open(plain)
    assert "bracket bolts, prying" not in left_open(pried)
    row = by_mode(pried)["bolt tension with prying"]
    assert row.demand == approx(10e3)
    assert row.capacity < by_mode(plain)["bolt tension, prying not counted"].capacity


SLEEVE = PinnedSleeve("sleeve", NOWHERE, m10(), 2, 0.06, (plate(0.004), plate(0.003, None)))


def test_a_pinned_sleeve_says_what_it_does_not_know() -> None:
    said = left_open(sleeve.check_pinned_sleeve(SLEEVE, (1.0, 0.0, 0.0), ()))
    assert said["sleeve, play"] == "the clearance of the fit is not given"
    lines = sleeve.check_pinned_sleeve(SLEEVE, (1.0, 0.0, 0.0), (JointLoad("load", (100.0, 0.0, 0.0), NONE),))
    assert left_open(lines)["sleeve, tear-out of plate"] == "the distance from its holes to its end is not given"


def test_each_crossing_of_a_sleeve_s_bolts_takes_its_part() -> None:
    """Two bolts cross four walls: a force along the tube gives each a quarter; torsion 240 Nm gives
    240 / (2 x (60 - 2 x 4 mm)) where the tubes meet."""
    row = "bolt shear at a wall"
    pull, twist, across = (
        by_mode(sleeve.check_pinned_sleeve(SLEEVE, (1.0, 0.0, 0.0), (JointLoad("load", force, moment),)))[row].demand
        for force, moment in (((8000.0, 0.0, 0.0), NONE), (NONE, (240.0, 0.0, 0.0)), ((0.0, 3000.0, 4000.0), NONE))
    )
    assert (pull, twist, across) == (approx(2000.0), approx(240 / (2 * 0.052)), approx(1250.0))


def welded(runs: tuple[WeldRun, ...], force: Way = NONE, moment: Way = NONE, **changes: object) -> tuple[Line, ...]:
    return check_welds(weld_group(runs, **changes), (JointLoad("load", force, moment),), WELDS.least_legs)


def straight(angle: float = 0.0) -> tuple[WeldRun, ...]:
    end = (0.05 * cos(angle), 0.05 * sin(angle), 0.0)
    return (WeldRun((-end[0], -end[1], 0.0), end, 0.005),)


@pytest.mark.parametrize("angle", [0.0, pi / 3])
def test_a_moment_about_a_single_straight_run_is_a_row_that_fails(angle: float) -> None:
    about = (20.0 * cos(angle), 20.0 * sin(angle), 0.0)
    row = by_mode(welded(straight(angle), moment=about))["moment about a single straight run"]
    assert (row.demand, row.safety_factor) == (approx(20.0), 0.0)


def test_the_increase_is_refused_on_a_tube_s_end() -> None:
    across = (0.0, 1000.0, 0.0)
    asked = welded(straight(), across, on=WeldedOn.TUBE_END, direction=Direction.COUNTED)
    assert "J2.4(a)(2)" in remarked(asked)["bracket weld: directional increase of the fillets"]
    assert by_mode(asked) == by_mode(welded(straight(), across, on=WeldedOn.TUBE_END))


def test_two_fillets_on_one_wall_have_half_of_it_each() -> None:
    """ANSI/AISC 360-22, eq. (J4-3), (J4-4): 0.60 Fy t and 0.60 Fu t, shared."""
    part = WeldedPart("plate", 0.006, STEEL, fillets=2)
    found = {row.mode.value.format(row.part): row.value for row in wall_capacities(part, 0.1, ASKED)}
    assert found["yield of plate beside the weld"] == approx(0.6 * 250e6 * 0.006 / 2)
    assert found["rupture of plate beside the weld"] == approx(0.6 * 400e6 * 0.006 / 2)


@pytest.mark.parametrize("degrees", [0.0, 30.0, 60.0, 90.0])
def test_the_angle_between_force_and_run(degrees: float) -> None:
    way = (100.0 * cos(degrees * pi / 180), -100.0 * sin(degrees * pi / 180), 0.0)
    assert angles(straight(), np.array([[way, way]])) == approx(np.full((1, 2), degrees * pi / 180), abs=1e-7)


@pytest.mark.parametrize(("share", "sized"), [(0.6, False), (0.7, True), (1.1, True)])
def test_a_sleeve_is_sized_where_the_clamp_uses_more_than_its_target(share: float, sized: bool) -> None:
    """The clamp as a share of what folds the wall: up to 1 / 1.5 the bare wall does."""
    tube = ClampedTube(width=0.05, wall=0.002, depth=0.1, material=STEEL, washer=0.02)
    clamp = m10().most_clamp
    assert clamp is not None
    wall = 0.002 * (clamp / share / wall_strength(tube)) ** 0.5  # the strength goes with the square of the wall
    lines = list(shop_lines(four_bolts(tube=replace(tube, wall=wall)), 1.5))
    assert bool(lines) is sized
