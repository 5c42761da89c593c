"""Small formulas of the checks by hand, where larger tests could not tell one from its neighbour (found by mutation)."""

from __future__ import annotations

from dataclasses import replace
from math import inf, log10, nan

import numpy as np
import pytest
from pytest import approx

from framecheck.checks import local_buckling
from framecheck.checks.bolts.group_rows import check_group as check_bolts
from framecheck.checks.effective import WallState, effective
from framecheck.checks.fatigue.assess import pieces, spot_of
from framecheck.checks.fatigue.joints import weld_line
from framecheck.checks.fatigue.sn import cycles_of_base_metal
from framecheck.checks.fatigue.swings import blocks, faults
from framecheck.checks.formulas.plate_buckling import epsilon_of, factor_free_root
from framecheck.checks.joint_forces import ThroatStress
from framecheck.checks.lateral_buckling.curves import interaction
from framecheck.checks.local_buckling import shear_use
from framecheck.checks.member_stress import wall_end_stress
from framecheck.checks.notch.check import corner
from framecheck.checks.plate.bending import sheet_of
from framecheck.checks.plate.membrane import under_seat
from framecheck.checks.plate.stiffeners import beam_of, shear_lag, working_strip
from framecheck.checks.welds.fillet import largest_gap_en
from framecheck.errors import UnsolvableError
from framecheck.model.duty import Detail, Duty, Event, History, PartialFactors, Per, WeldDetail
from framecheck.model.frame import Cut, Member, Stretch
from framecheck.model.plate import Bead, PlateSide, Rib, StiffenerRun
from framecheck.model.shapes import Side
from framecheck.results.row import CAP, CheckResult, Mode, safety_factor
from framecheck.results.subjects import Open
from framecheck.section.properties import SectionProperties, Wall
from tests.unit.checks.joint_samples import BOLTS, four_bolts
from tests.unit.checks.members import STEEL, outcome, row, thin, tube
from tests.unit.checks.plates import skid
from tests.verification.test_fatigue import CLASS_71, SHEAR_80

LONG, SHORT, T = 0.08, 0.05, 0.004


def angle(foot: float = SHORT) -> SectionProperties:
    """Return an angle: an upright wall, and a foot to the right of its lower end."""
    walls = (
        Wall((0.0, LONG), (0.0, 0.0), LONG, T, free_start=True),
        Wall((0.0, 0.0), (-foot, 0.0), foot, T, free_end=True),
    )
    return thin("angle", walls, False)


@pytest.mark.parametrize("name", ["Mv", "Ms"])
def test_bending_of_a_section_without_symmetry(name: str) -> None:
    """sigma = (z, y) K^-1 (Mv, Ms), K of second moments and product (beam theory), by another solver."""
    section = angle()
    forces = row(**{name: 1000.0})
    matrix = np.array([[section.i_vertical, section.i_product], [section.i_product, section.i_sideways]])
    up, left = np.linalg.solve(matrix, forces[[4, 5]])
    for wall, found in zip(section.walls, wall_end_stress(section, forces), strict=True):
        by_hand = [up * z + left * y for y, z in (wall.start, wall.end)]
        assert found == approx(by_hand)


def test_the_effective_section_is_the_section_without_the_lost_strip() -> None:
    """A foot that loses two fifths at its tip is a shorter foot: area, place and all three second moments."""
    whole, left = angle(), angle(0.6 * SHORT)
    none = np.zeros(2)
    state = WallState(np.ones(2), none, np.array([True, False]), np.array([1.0, 0.6]), none)
    found = effective(whole, state)
    moved = np.subtract(left.centroid, whole.centroid)
    assert found.area == approx(left.area)
    assert found.centroid == approx(moved)
    assert found.inertia == approx([left.i_vertical, left.i_sideways, left.i_product])


def test_below_the_fatigue_limit_the_line_goes_on_half_as_steep() -> None:
    """E. Haibach: slope 2k - 1 beyond the knee at 1e6 cycles; k = 3 / log10(0.9 Su / limit). At half the limit, 1e6 x 2^(2k-1)."""
    limit, ultimate = 200e6, 500e6
    k = 3 / log10(0.9 * ultimate / limit)
    found = cycles_of_base_metal(np.array([limit / 2, limit, 0.9 * ultimate]), limit, ultimate)
    assert found == approx([1e6 * 2 ** (2 * k - 1), 1e6, 1e3])


def test_two_beads_share_the_flat_between_them() -> None:
    """On lines 0.15 and 0.25 m from one edge, feet 40 and 20 mm wide: 70 mm of flat between, half for each."""
    one, other = (Bead(name, StiffenerRun.X, at, 0.1, 0.7, width, 0.01) for name, at, width in (("a", 0.15, 0.04), ("b", 0.25, 0.02)))
    plate = skid(stiffeners=(one, other))
    sides = (0.15 - 0.02, 0.035)
    assert working_strip(plate, one) == approx(sum(side * shear_lag(side, 0.6) for side in sides))
    sides = (0.035, 0.5 - 0.25 - 0.01)
    assert working_strip(plate, other) == approx(sum(side * shear_lag(side, 0.6) for side in sides))


def test_stiffeners_that_pass_each_other_by_share_nothing() -> None:
    one = Rib("a", StiffenerRun.X, 0.15, 0.1, 0.3, 0.02, 0.004)
    beyond, crossing = Rib("b", StiffenerRun.X, 0.25, 0.4, 0.7, 0.02, 0.004), Rib("c", StiffenerRun.Y, 0.2, 0.1, 0.4, 0.02, 0.004)
    alone = working_strip(skid(stiffeners=(one,)), one)
    assert working_strip(skid(stiffeners=(one, beyond, crossing)), one) == alone


def test_every_place_under_a_seat_is_held() -> None:
    """The seat's circle of 10 mm round the bolt, by distance."""
    plate = skid()
    sheet, bolt = sheet_of(plate), plate.bolts[1]
    x, y = np.meshgrid(sheet.x.flat_nodes, sheet.y.flat_nodes, indexing="ij")
    inside = np.hypot(x - bolt.at[0], y - bolt.at[1]) < bolt.seat / 2
    held = under_seat(sheet, bolt)
    assert held[inside].all()
    assert not held[np.hypot(x - bolt.at[0], y - bolt.at[1]) > 1.01 * bolt.seat / 2].any()


def test_a_single_bolt_has_no_spacing() -> None:
    single, pair = (
        {line.mode for line in check_bolts(four_bolts(positions=places), (), BOLTS.edges) if isinstance(line, CheckResult)}
        for places in (((0.0, 0.0),), ((0.0, 0.0), (0.05, 0.0)))
    )
    assert Mode.BOLT_SPACING not in single
    assert Mode.BOLT_SPACING in pair


def test_a_wall_most_compressed_at_its_held_edge() -> None:
    """k of EN 1993-1-5:2006, table 4.2, lower part: 0.43, 1.70, 23.8 at psi 1, 0, -1, 1.7 - 5 psi + 17.1 psi2 (from memory)."""
    assert factor_free_root(np.array([1.0, 0.0, -0.5, -1.0])) == approx([0.43, 1.70, 1.7 + 2.5 + 17.1 / 4, 23.8], rel=4e-3)


def test_a_notch_is_judged_from_end_to_end_on_its_net_section_alone() -> None:
    cut = Cut("notch", Side.TOP, 0.5, 0.02, 0.16, 0.012)
    member = Member("rail", ("a", "b"), (Stretch("rail section"),), cuts=(cut,))
    gross, net = tube(0.1, 0.05, 0.003), tube(0.08, 0.05, 0.003)
    stations, sections = (0.0, 0.42, 0.42, 0.56, 0.56, 0.58, 0.58, 1.0), (gross, gross, net, net, gross, gross, net, net)
    line = outcome(sections, np.tile(row(Mv=1.0), (8, 1, 1)), stations, member).solutions[0].members[0]
    spot = spot_of(Detail("corner", "rail", CLASS_71, cut="notch"), member, line, STEEL)
    assert spot is not None
    assert (spot.start, spot.end) == approx((0.42, 0.58))
    assert {section.area for section, _, _ in pieces(spot, line)} == {net.area}


def test_a_slender_web_in_shear() -> None:
    """EN 1993-1-5:2006, table 5.1 (from memory): chi = 0.83 / lambda, lambda = (h/t) / 86.4 epsilon, epsilon2 = 235 MPa / fy."""
    section = tube(0.2, 0.1, 0.0015)
    assert section.fields is not None
    forces = np.array([row(Vz=10e3), row(Vz=-20e3), row()])
    demand, capacity = shear_use(section, section.fields, forces, epsilon_of(section.yield_strength))
    slenderness = 0.2 / 0.0015 / (86.4 * (235 / 355) ** 0.5)
    assert demand == approx([2 * 10e3 / section.area, 2 * 20e3 / section.area, 0.0])
    assert capacity[:2] == approx(0.83 / slenderness * 355e6 / 3**0.5)


def test_shear_of_a_web_is_read_away_from_its_sharp_corners() -> None:
    """A point marked as beside a sharp corner tells nothing, however large its stress, as for yield; where all are, they all tell."""
    section = tube(0.2, 0.1, 0.0015)
    assert section.fields is not None
    fields, epsilon = section.fields, epsilon_of(section.yield_strength)
    height = np.abs(fields.points[:, 1]) / np.abs(fields.points[:, 1]).max()
    peak = (height > 0.7) & (height < 0.8)  # in the webs alone
    shear = np.where(peak[:, None, None], 7.0, 1.0) * fields.shear
    plain, marked, all_marked = (
        float(shear_use(section, replace(fields, shear=shear, sharp=sharp), row(Vz=10e3), epsilon)[0])
        for sharp in (np.zeros_like(peak), peak, np.ones_like(peak))
    )
    assert marked == approx(2 * 10e3 / section.area)
    assert plain == all_marked == approx(7 * 2 * 10e3 / section.area)


def test_a_stocky_web_in_shear_is_left_to_yield() -> None:
    section = tube(0.1, 0.1, 0.003)
    assert section.fields is not None
    demand, capacity = shear_use(section, section.fields, row(Vz=10e3), epsilon_of(section.yield_strength))
    assert (float(demand), float(capacity)) == (0.0, inf)


def test_a_pull_through_a_notch_is_raised_by_its_own_factor() -> None:
    """N / A of the net section, times the pulled factor; a moment with it, times the bent one (parallel axis: both at the root)."""
    net = tube(0.08, 0.05, 0.003)
    assert net.fields is not None
    cut = Cut("notch", Side.TOP, 0.5, 0.02, 0.16, 0.012)
    found = corner(cut, net, net.fields, np.array([row(N=1e4), row(Vy=1e4), row(N=1e4, Mv=500.0)]))
    assert found is not None
    bent, pulled = found.factors
    even, bending = 1e4 / net.area, 500.0 * 0.04 / net.i_vertical
    assert found.nominal == approx([even, 0.0, even + bending])
    assert found.peak == approx([pulled * even, 0.0, pulled * even + bent * bending])


def test_the_gap_between_stitches() -> None:
    """EN 1993-1-8:2005, 4.3.2 (from memory): 12 t, at most 200 mm."""
    assert [largest_gap_en(t) for t in (0.002, 0.02)] == approx([0.024, 0.2])


def test_a_load_of_next_to_nothing_is_no_overflow() -> None:
    """Found by hypothesis: a moment of 2e-308 Nm."""
    found = [float(safety_factor(np.float64(demand), 1.0)) for demand in (2e-312, 0.0, 1 / 998, 2.0)]
    assert found == approx([CAP, CAP, 998.0, 0.5])
    assert safety_factor(1.0, inf) == CAP
    for pair in ((1.0, nan), (nan, 1.0)):
        with pytest.raises(UnsolvableError, match="not a number"):
            safety_factor(*pair)


@pytest.mark.parametrize(("height", "facing"), [(0.04, PlateSide.UP), (0.04, PlateSide.DOWN), (0.003, PlateSide.UP)])
def test_a_rib_s_farthest_fibre(height: float, facing: PlateSide) -> None:
    """Parallel axes: the rib and its strip of sheet; a tall rib's edge is the farther fibre, a low one's the sheet's far side."""
    rib = Rib("rib", StiffenerRun.X, 0.25, 0.1, 0.7, height, 0.1 if height < T else 0.005, facing)
    plate = skid(stiffeners=(rib,))
    strip, own = working_strip(plate, rib) * T, height * rib.thickness
    centre = own * (T + height) / 2 / (own + strip)
    second = strip * (T**2 / 12 + centre**2) + own * (height**2 / 12 + ((T + height) / 2 - centre) ** 2)
    beam = beam_of(plate, rib)
    assert beam.reach == approx(max(T / 2 + centre, T / 2 + height - centre))
    assert beam.second_moment == approx(second)


def test_axial_force_and_bending_together() -> None:
    """ANSI/AISC 360-22, eq. (H1-1): P/Pc + 8/9 M/Mc from a fifth of the axial strength on, else P/2Pc + M/Mc."""
    assert interaction(np.array([0.3, 0.2, 0.1]), np.array([0.45, 0.9, 0.7])) == approx([0.7, 1.0, 0.75])


@pytest.mark.parametrize(("per", "repeats"), [(Per.YEAR, 400.0), (Per.KM, 0.0)])
def test_a_record_that_never_passes_or_can_t_be_counted_adds_no_cycles(per: Per, repeats: float) -> None:
    """Nothing is made up for a rate that is nought, or per year where a life in km has no km per year; the latter is said in words."""
    duty = Duty((History("track", "bump", None, (0.0, 1.0, 0.0), repeats, per),), 1e5)
    assert {block.cycles for block in blocks(duty, {"bump": 0})} == {0.0}
    assert any("give the km per year" in words for words in faults(duty, {"bump": 0})) == (per is Per.YEAR)


def test_a_record_per_year_by_the_km_of_a_year() -> None:
    """One full swing as two halves (ASTM E1049), 400 times in 10 000 km."""
    duty = Duty((History("track", "bump", None, (0.0, 1.0, 0.0), 400.0, Per.YEAR),), 1e5, km_per_year=1e4)
    assert sum(block.cycles for block in blocks(duty, {"bump": 0})) == approx(400 / 1e4)


def test_damage_of_a_throat_across_and_along_adds_up() -> None:
    """EN 1993-1-9:2005, 7.1, 8(3): at its class a detail bears 2e6; factored 1.35 up, 2e6 / 1.35^m, m 3 and 5."""
    stress = ThroatStress(np.array([[[71e6, 0.0]]]), np.array([[80e6]]))
    duty = Duty((Event("bump", "bump", 1.0, None),), 1000.0, factors=PartialFactors(1.0, 1.35))
    line = weld_line(WeldDetail("root", "weld", CLASS_71, SHEAR_80), stress, blocks(duty, {"bump": 0}), duty)
    assert isinstance(line, CheckResult)
    assert line.demand == approx(1000 / 2e6 * (1.35**3 + 1.35**5))


def test_a_member_is_judged_where_its_stress_is_known() -> None:
    """Its first half by given numbers, without fields; M c / I on the mid-line in the second, and the first is said."""
    known = tube(0.1, 0.05, 0.004)
    unknown = replace(known, name="numbers", fields=None)
    made = outcome((unknown, known), np.stack([row(Mv=1000.0), row(Mv=800.0)])[:, None], (0.0, 0.5))
    lines = local_buckling.check(made)
    (found,) = (line for line in lines if isinstance(line, CheckResult))
    assert (found.station, found.demand) == approx((0.5, 800 * 0.05 / known.i_vertical))
    assert any(isinstance(line, Open) and "not known" in line.reason for line in lines)
