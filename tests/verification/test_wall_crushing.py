"""Walls under brackets and clamps: formulas against virtual work, hand calculation, and the check against itself."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import minimize_scalar

from framecheck.checks.formulas import aisc360, aisi_s100
from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.wall_crushing import sleeve
from framecheck.checks.wall_crushing.check import check_bracket, doubler_needed, shop_lines
from framecheck.model.joints import ClampedTube, CrushSleeve, JointLoad, PatternPlane
from framecheck.model.weld_joints import Bracket, Hollow, PressedMember
from framecheck.results.row import CheckResult, Sizing
from framecheck.results.subjects import Open, Remark
from tests.unit.checks.joint_samples import CRIPPLING, NOWHERE, STEEL, four_bolts, m10
from tests.unit.checks.lines import by_mode, remarked
from tests.verification.manual import Held, Kind, proof

IN, KSI, KIP = 0.0254, 6.894757e6, 4448.2216
TOP = PatternPlane(across=(0.0, 1.0, 0.0), along=(1.0, 0.0, 0.0), facing=(0.0, 0.0, 1.0))
TUBE = PressedMember(Hollow.TUBE, 0.1, 0.1, 0.004, 0.008, STEEL, utilisation=0.0)
PUSH = (JointLoad("push", (0.0, 0.0, -10e3), (0.0, 0.0, 0.0)), JointLoad("rock", (0.0, 0.0, 0.0), (150.0, 400.0, 0.0)))


def bracket(width: float = 0.05, member: PressedMember = TUBE, **changes: object) -> Bracket:
    given: dict[str, object] = {"end_distance": 1.0, **changes}
    return Bracket("mount", NOWHERE, TOP, width, 0.06, member, **given)  # type: ignore[arg-type]


def rows(of: Bracket, loads: tuple[JointLoad, ...] = PUSH) -> dict[str, CheckResult]:
    return by_mode(check_bracket(of, loads, CRIPPLING))


@proof(Kind.DERIVED)
@pytest.mark.parametrize(("beta", "eta"), [(0.3, 0.4), (0.5, 1.0), (0.8, 0.3)])
def test_face_folds_along_the_cheapest_pattern(held: Held, beta: float, eta: float) -> None:
    """Virtual work of yield lines (Johansen), least over the pattern's reach x, on a strip between two clamped walls.

    Plastic moment m = Fy t2 / 4 a length. Pad down by 1: each side panel turns 1/c about hinges h and h + 2x long, each
    end panel 1/x about hinges b1 and b0 long, four diagonals x/c + c/x.
    """
    b0 = 0.1
    b1, h, c = beta * b0, eta * b0, (1 - beta) * b0 / 2

    def work(x: float) -> float:
        return 2 * (2 * h + 2 * x) / c + 2 * (b1 + b0) / x + 4 * (x / c + c / x)

    least = minimize_scalar(work, bounds=(1e-3 * b0, 10 * b0), method="bounded", options={"xatol": 1e-10}).fun
    held(en.face_axial(1.0, beta, eta), least / 4, rel=1e-6)


@proof(Kind.MEMORY)
def test_face_under_rocking(held: Held) -> None:
    """EN 1993-1-8:2005, table 7.14, from memory, by hand for beta 0.5, eta 0.6, b0 100 mm, b1 50 mm, h 60 mm, Fy t2 4 kN."""
    held(en.face_in_plane(4000.0, 0.5, 0.6, 0.06), 4000 * 0.06 * (1 / 1.2 + 2 * sqrt(2) + 1.2), rel=1e-12)
    across = 4000 * (0.06 * 1.5 / 1.0 + sqrt(2 * 0.1 * 0.05 * 1.5 / 0.5))
    held(en.face_out_of_plane(4000.0, 0.5, 0.1, 0.06), across, rel=1e-12)


@proof(Kind.DERIVED)
def test_punching_is_shear_on_what_counts_of_the_outline(held: Held) -> None:
    """0.6 Fy t on 2 x 60 mm along and, at B/t 25, 2 x 0.4 x 50 mm across: 0.6 x 250 x 4 x 160 N = 96 kN, by hand."""
    held(aisc360.punching(250e6, 0.004, (0.05, 0.06), 25.0), 96e3, rel=1e-12)
    held(aisc360.punching(250e6, 0.004, (0.05, 0.06), 8.0), 0.6 * 250 * 4 * 220, rel=1e-12)


@proof(Kind.MEMORY)
def test_what_compression_and_an_end_leave(held: Held) -> None:
    """ANSI/AISC 360-22, K1.3: 1.3 - 0.4 U / beta between 0.4 and 1; K1.4: half strength nearer than B sqrt(1 - beta)."""
    held(en.compressed_wall(np.array([0.0, 0.5, 1.0]), 0.5), [1.0, 0.9, 0.5], rel=1e-12)
    held(en.compressed_wall(np.array(1.0), 0.2), 0.4, rel=1e-12)
    held(aisc360.least_end_distance(0.1, 0.36), 0.08, rel=1e-12)


@proof(Kind.MEMORY)
def test_local_yielding_by_the_bearing_constants_of_a_rolled_beam(held: Held) -> None:
    """AISC Manual, table 9-4, W18x50, 50 ksi, from memory: R1 43.1 kip and R2 17.8 kip/in; tw 0.355 in, k 0.972 in."""
    bare, tw, k = 50 * KSI, 0.355 * IN, 0.972 * IN
    held(aisc360.local_yielding(bare, tw, 0.0, k, 2.5), 43.1 * KIP, rel=2e-3)
    per_inch = aisc360.local_yielding(bare, tw, IN, k, 2.5) - aisc360.local_yielding(bare, tw, 0.0, k, 2.5)
    held(per_inch, 17.8 * KIP, rel=4e-3)


@proof(Kind.DERIVED)
def test_crippling_by_hand(held: Held) -> None:
    """ANSI/AISC 360-22, J10.3, t 4 mm, lb / d 0.6 and 0.1, sqrt(200 GPa x 320 MPa) = 8 GPa: 286.72, 176, 66.56 kN."""
    strengths = (200e9, 320e6)
    held(aisc360.crippling(strengths, 0.004, 0.06, 0.1), 0.8 * 16e-6 * 2.8 * 8e9, rel=1e-12)
    held(aisc360.crippling_at_end(strengths, 0.004, 0.06, 0.1), 0.4 * 16e-6 * 3.2 * 8e9, rel=1e-12)
    held(aisc360.crippling_at_end(strengths, 0.004, 0.01, 0.1), 66.56e3, rel=1e-12)


@proof(Kind.DERIVED)
def test_crippling_of_a_stamped_web_by_hand(held: Held) -> None:
    """AISI S100-16, eq. (G5-1), t 3 mm, R 3 mm, N 75 mm, h 108 mm, 250 MPa, unfastened, unstiffened, away from an end:
    13 t2 Fy (1 - 0.32) (1 + 0.1 x 5) (1 - 0.01 x 6) = 28.045 kN.
    """
    row = next(
        each
        for each in CRIPPLING
        if (each.fastened, each.flanges, each.loading, each.location) == ("no", "unstiffened", "one flange", "interior")
    )
    found = aisi_s100.web_crippling(row, 250e6, 0.003, 0.003, (0.075, 0.108))
    held(found, 13 * 9e-6 * 250e6 * 0.68 * 1.5 * 0.94, rel=1e-9)
    held(found, 28.045e3, rel=1e-4)


@proof(Kind.FORMULA)
def test_crush_sleeve(held: Held) -> None:
    """Shop practice pages: sleeve area at least F / (0.6 Fy). 30 kN in 250 MPa: 200 mm2, by hand 19.2 mm round a 10.7 mm bore."""
    area = sleeve.sleeve_area(30e3, 250e6)
    held(area, 200e-6, rel=1e-12)
    held(sleeve.outside_diameter(area, 0.0107), sqrt(4 * 200 / pi + 10.7**2) * 1e-3, rel=1e-12)


def test_a_clamp_that_folds_the_walls_asks_for_a_sleeve_and_the_sleeve_carries_it() -> None:
    tube = ClampedTube(width=0.05, wall=0.002, depth=0.1, material=STEEL, washer=0.02)
    bare = four_bolts(bolt=m10(), tube=tube)
    (row,) = sleeve.check(bare)
    assert isinstance(row, CheckResult)
    assert row.safety_factor < row.target
    needed, length = sleeve.shop_lines(bare)
    assert (needed.given, length.value) == (None, 0.1)
    fitted = CrushSleeve(needed.value, 0.011, STEEL.yield_strength)
    sleeved = four_bolts(bolt=m10(), tube=replace(tube, sleeve=fitted))
    (row,) = sleeve.check(sleeved)
    assert isinstance(row, CheckResult)
    assert row.safety_factor == approx(1.0, rel=1e-9)
    assert next(sleeve.shop_lines(sleeved)).given == needed.value
    assert list(sleeve.shop_lines(four_bolts(bolt=m10(), tube=replace(tube, wall=0.02)))) == []
    assert sleeve.check(four_bolts()) == ()
    (unknown,) = sleeve.check(four_bolts(bolt=m10(clamp_share=None), tube=tube))
    assert isinstance(unknown, Open)


def test_the_doubler_that_is_asked_gives_the_target_and_no_more() -> None:
    thin, heavy = bracket(), (JointLoad("push", (0.0, 0.0, -40e3), (150.0, 400.0, 0.0)), *PUSH)
    needed = doubler_needed(thin, heavy)
    assert needed > 0
    row = rows(replace(thin, doubler=needed), heavy)["face folds"]
    assert row.safety_factor == approx(row.target, rel=1e-9)
    (line,) = shop_lines(replace(thin, doubler=0.002), heavy)
    assert isinstance(line, Sizing)
    assert (line.value, line.given) == (approx(needed), 0.002)
    assert doubler_needed(thin, (JointLoad("little", (0.0, 0.0, -100.0)),)) == 0.0


def test_no_doubler_is_sized_where_it_is_no_help() -> None:
    wide, channel = bracket(width=0.095), bracket(member=replace(TUBE, kind=Hollow.CHANNEL))
    for of, reason in ((wide, "the pad bears on the walls"), (channel, "none is sized on a channel")):
        (line,) = shop_lines(of, PUSH)
        assert isinstance(line, Remark)
        assert line.reason.startswith(reason)
    assert list(shop_lines(bracket(), ())) == []


def test_a_wide_pad_loads_the_walls_and_a_channel_its_stamped_web() -> None:
    assert set(rows(bracket(width=0.095))) == {"walls yield", "walls cripple"}
    channel = rows(bracket(member=replace(TUBE, kind=Hollow.CHANNEL)))
    assert set(channel) == {"walls yield", "walls cripple", "stamped web cripples"}
    both = rows(bracket(width=0.095))["walls yield"].capacity
    assert channel["walls yield"].capacity == approx(both / 2)


def test_what_is_not_known_counts_against_the_wall() -> None:
    known, near = rows(bracket(width=0.095)), rows(bracket(width=0.095, end_distance=None))
    assert all(near[mode].capacity < known[mode].capacity for mode in known)
    unsaid = bracket(member=replace(TUBE, utilisation=None))
    assert rows(unsaid)["face folds"].safety_factor < rows(bracket())["face folds"].safety_factor
    told = set(remarked(check_bracket(unsaid, PUSH, CRIPPLING)))
    assert told == {"mount: compression in the pressed face"}


def test_an_end_that_may_be_near_leaves_half_of_the_face() -> None:
    """ANSI/AISC 360-22, K1.4 (from memory): nearer to an open end than B sqrt(1 - beta) half the strength is left. Not said reads no
    better than said to be near.
    """
    near, unsaid, far = (rows(bracket(end_distance=away))["face folds"].demand for away in (0.0, None, 1.0))
    assert unsaid == near == approx(2 * far)


@given(st.floats(1.0, 2.0), st.sampled_from(["wall", "material", "doubler", "length"]), st.sampled_from([0.05, 0.095]))
def test_more_steel_is_never_weaker(more: float, what: str, width: float) -> None:
    before = bracket(width=width, doubler=0.002)
    if what == "wall":
        after = replace(before, member=replace(TUBE, wall=TUBE.wall * more))
    elif what == "material":
        after = replace(before, member=replace(TUBE, material=replace(STEEL, yield_strength=STEEL.yield_strength * more)))
    elif what == "doubler":
        after = replace(before, doubler=before.doubler * more)
    else:
        after = replace(before, length=before.length * more)
    first, second = rows(before), rows(after)
    assert all(second[mode].safety_factor >= first[mode].safety_factor * (1 - 1e-12) for mode in first)


def test_rocking_presses_as_an_equal_push_at_the_edge() -> None:
    """P + 6 M / length is the edge pressure of a rigid pad: N / A + M / W over the pad, by hand 10 kN + 6 x 400 / 0.06."""
    found = rows(bracket(width=0.095), (JointLoad("rock", (0.0, 0.0, -10e3), (0.0, 400.0, 0.0)),))
    assert found["walls yield"].demand == approx(10e3 + 6 * 400 / 0.06)
    assert np.isfinite(found["walls cripple"].safety_factor)
