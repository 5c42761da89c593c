"""Fatigue of members, notches and welds of a case, by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.checks.fatigue import sn
from framecheck.checks.fatigue.check import check
from framecheck.checks.fatigue.sn import damage
from framecheck.checks.joint_forces import throat_stress
from framecheck.checks.joint_rows import Line
from framecheck.checks.welds.fillet import throat_stresses
from framecheck.model.arrays import Array
from framecheck.model.duty import (
    BaseMetal,
    Detail,
    DetailClass,
    Duty,
    Event,
    Fatigue,
    History,
    PartialFactors,
    Per,
    WeldDetail,
)
from framecheck.model.frame import Cut, Member, Stretch
from framecheck.model.joints import GivenLoads, JointLoad
from framecheck.model.shapes import Side
from framecheck.model.weld_joints import WeldRun
from framecheck.output.display import Units, spoken
from framecheck.results.row import CAP, CheckResult, Mode
from framecheck.results.subjects import Open
from tests.unit.checks.joint_samples import weld_group
from tests.unit.checks.lines import results_of
from tests.unit.checks.members import outcome, row, tube
from tests.verification.manual import Held, Kind, proof
from tests.verification.test_fatigue import ASTM, CLASS_71, HOT_ROLLED, IIW_71, MPA, NO_FACTORS, SHEAR_80

# a member in bending: stress at the top face is Mv z / I --------------------------------------------------------------------------

BOX = tube(0.1, 0.05, 0.003)
PER_STRESS = BOX.i_vertical / 0.05
"""Nm per Pa at the top face."""


def rail(moments: tuple[float, ...], asked: Fatigue | None, **changes: object) -> tuple[Line, ...]:
    """Return the check of a rail under even moments (Pa at the top face), one a load case."""
    forces = np.stack([row(Mv=stress * PER_STRESS) for stress in moments])
    return check(outcome((BOX, BOX), np.stack([forces, forces]), (0.0, 1.0), fatigue=asked, **changes))  # type: ignore[arg-type]


def duty(*events: Event | History, **changes: object) -> Duty:
    return Duty(events, **{"life": 200_000.0, "factors": NO_FACTORS, **changes})  # type: ignore[arg-type]


TAB = Detail("tab weld", "rail", CLASS_71, 0.4, 0.6, Side.TOP)


@proof(Kind.DERIVED)
def test_life_of_a_weld_under_one_event(held: Held) -> None:
    """Range 100 MPa, class 71: 715 822 cycles; 2 a km: 357 911 km."""
    asked = Fatigue(duty(Event("bump", "case 1", 2.0, "case 2")), (TAB,))
    (line,) = rail((60 * MPA, -40 * MPA), asked)
    assert isinstance(line, CheckResult)
    held(line.safety_factor, 715822 / 2 / 200_000, rel=1e-3)
    assert "life 357 000 km" in spoken(line.note, Units.SI)
    assert "mostly bump" in spoken(line.note, Units.SI)
    assert 0.4 <= (line.station or 0) <= 0.6


def test_a_range_is_between_two_cases_not_the_sum_of_their_peaks() -> None:
    # trap: both cases reach 80 MPa somewhere, but a point at 80 in one is at 70 in the other: the range is 10
    asked = Fatigue(duty(Event("bump", "case 1", 2.0, "case 2")), (TAB,))
    (line,) = rail((80 * MPA, 70 * MPA), asked)
    assert isinstance(line, CheckResult)
    assert line.safety_factor == CAP
    assert "below the endurance limit" in spoken(line.note, Units.SI)


def test_partial_factors_lower_the_life_by_their_cube_and_are_shown() -> None:
    event = Event("bump", "case 1", 2.0, None)
    plain, safe = (
        rail((100 * MPA,), Fatigue(duty(event, factors=each), (TAB,)))[0]
        for each in (NO_FACTORS, PartialFactors(1.0, 1.35))
    )
    assert isinstance(plain, CheckResult)
    assert isinstance(safe, CheckResult)
    assert plain.safety_factor / safe.safety_factor == approx(1.35**3, rel=1e-6)
    assert "1.35 on strength" in spoken(safe.note, Units.SI)


@proof(Kind.DERIVED)
def test_share_of_a_swing_and_years(held: Held) -> None:
    """Three tenths of 300 MPa is 90 MPa: 981 923 cycles of class 71 (2e6 (71 / 90)^3); 1e4 a year; 10 years asked."""
    event = Event("bump", "case 1", 1e4, None, Per.YEAR, share=0.3)
    (line,) = rail((300 * MPA,), Fatigue(duty(event, life=10.0, life_in=Per.YEAR), (TAB,)))
    assert isinstance(line, CheckResult)
    held(line.safety_factor, 2e6 * (71 / 90) ** 3 / 1e4 / 10, rel=1e-6)
    assert "98.1 years" in spoken(line.note, Units.SI) or "98.2 years" in spoken(line.note, Units.SI)


def test_km_and_years_join_only_where_km_per_year_are_given() -> None:
    event = Event("bump", "case 1", 1e4, None, Per.YEAR)
    (line,) = rail((100 * MPA,), Fatigue(duty(event), (TAB,)))
    assert isinstance(line, Open)
    assert "km per year" in line.reason
    (line,) = rail((100 * MPA,), Fatigue(duty(event, km_per_year=5000.0), (TAB,)))
    assert isinstance(line, CheckResult)
    assert line.safety_factor == approx(715822 / 2 / 200_000, rel=1e-3)


@proof(Kind.DERIVED)
def test_a_history_is_counted_and_summed(held: Held) -> None:
    """The ASTM record as hundredths of a case of 1000 MPa: ranges 30, 40, 60, 80, 90 MPa; Miner by hand with class
    71.
    """
    values = tuple(each / 100 for each in ASTM)
    asked = Fatigue(duty(History("track", "case 1", None, values, 1.0)), (TAB,))
    (line,) = rail((1000 * MPA,), asked)
    assert isinstance(line, CheckResult)
    by_hand = sum(n / life for n, life in (
        (0.5, 80616164), (1.5, 19130593), (0.5, 2e6 * (71 / 60) ** 3), (1.0, 2e6 * (71 / 80) ** 3), (0.5, 2e6 * (71 / 90) ** 3)
    ))  # fmt: skip
    held(line.demand, 200_000 * by_hand, rel=1e-3)


def test_side_of_the_section_decides() -> None:
    # the mean of two opposite webs is not strained by bending vertically, their ends are: the bottom sees the same range as the top
    asked = [replace(TAB, side=side) for side in (Side.TOP, Side.BOTTOM)]
    top, bottom = rail((100 * MPA,), Fatigue(duty(Event("bump", "case 1", 2.0, None)), tuple(asked)))
    assert isinstance(top, CheckResult)
    assert isinstance(bottom, CheckResult)
    assert top.safety_factor == approx(bottom.safety_factor)


def test_unwelded_metal_counts_the_mean_stress() -> None:
    metal = replace(TAB, resistance=BaseMetal(HOT_ROLLED))
    swing = Event("bump", "case 1", 2.0, "case 2")
    reversed_, pulled = (
        rail(each, Fatigue(duty(swing), (metal,)))[0] for each in ((100 * MPA, -100 * MPA), (250 * MPA, 50 * MPA))
    )
    assert isinstance(reversed_, CheckResult)
    assert isinstance(pulled, CheckResult)
    limit = sn.fatigue_limit(BaseMetal(HOT_ROLLED), 470 * MPA)
    slope = 3 / np.log10(0.9 * 470e6 / limit)
    goodman = 100 * MPA / 0.85 / (1 - 150 / 470)
    assert pulled.safety_factor == approx(1e6 * (limit / goodman) ** slope / 2 / 200_000, rel=1e-6)
    assert reversed_.safety_factor > 2 * pulled.safety_factor


def test_a_notch_corner_counts_its_concentration() -> None:
    # half-depth notch, radius 12 mm: Kt about 1.8 to 2.0 on the net section, q about 0.87: between 1.6 and 2.0 on the range
    cut = Cut("C-notch", Side.TOP, 0.5, 0.05, 0.15, 0.012)
    member = Member("rail", ("a", "b"), (Stretch("rail section"),), cuts=(cut,))
    net = tube(0.05, 0.05, 0.003)
    stations = (0.0, 0.425, 0.425, 0.575, 0.575, 1.0)
    forces = np.stack([row(Mv=60 * MPA * net.i_vertical / 0.025)[None]] * 6)
    detail = replace(TAB, cut="C-notch")
    asked = Fatigue(duty(Event("bump", "case 1", 2.0, None)), (detail,))
    found = outcome((BOX, BOX, net, net, BOX, BOX), forces, stations, member, fatigue=asked)
    (line,) = check(found)
    assert isinstance(line, CheckResult)
    raised = (2e6 / (line.safety_factor * 200_000 * 2)) ** (1 / 3) * 71 / 60
    assert 1.6 < raised < 2.0
    blunt = replace(found.case.frame, members=(replace(member, cuts=(replace(cut, corner_radius=0.0),)),))
    (line,) = check(replace(found, case=replace(found.case, frame=blunt)))
    assert isinstance(line, Open)


def test_without_a_duty_nothing_is_asked() -> None:
    """What the ledger lists then: tests/unit/results/test_ledger.py."""
    assert rail((100 * MPA,), None) == ()


def test_what_is_missing_is_said() -> None:
    bump = Event("bump", "case 1", 2.0, None)
    for asked in (
        Fatigue(duty(bump)),
        Fatigue(duty(replace(bump, high="no such case")), (TAB,)),
        Fatigue(duty(bump), (replace(TAB, member="no such member"),)),
        Fatigue(duty(bump), (replace(TAB, cut="no such notch"),)),
        Fatigue(duty(bump), (), (WeldDetail("root", "no such weld", CLASS_71, SHEAR_80),)),
    ):
        lines = rail((100 * MPA,), asked)
        assert lines
        assert all(isinstance(line, Open) for line in lines)


def test_a_range_beyond_yield_is_low_by_itself() -> None:
    # EN 1993-1-9:2005, 8(1): 1.5 fy = 532.5 MPa here
    lines = rail((600 * MPA,), Fatigue(duty(Event("crash", "case 1", 1e-9, None)), (TAB,)))
    low = [line for line in results_of(lines) if line.safety_factor < 1.0]
    assert [(line.mode, line.subject.part) for line in low] == [(Mode.RANGE_TOO_LARGE, "tab weld")]


@proof(Kind.DERIVED)
def test_throat_of_a_fillet(held: Held) -> None:
    """1 kN/mm on a 10 mm leg: along the weld 1000 / 7.07 = 141.4 MPa along; square to it the same across. EN
    1993-1-9:2005, 5(6).
    """
    run = WeldRun((0.0, 0.0, 0.0), (0.1, 0.0, 0.0), 0.01)
    force = np.zeros((2, 1, 2, 3))
    force[0, :, :, 0] = force[1, :, :, 2] = 1e6
    found = throat_stress((run,), force)
    held(np.abs(found.along) / MPA, np.array([[141.42] * 2, [0.0] * 2]), rel=1e-4)
    held(np.linalg.norm(found.across, axis=2) / MPA, np.array([[0.0] * 2, [141.42] * 2]), rel=1e-4)


@proof(Kind.DERIVED)
def test_weld_root_adds_both_damages(held: Held) -> None:
    """Class 36 across, 80 along (m = 5): 50 MPa across and 100 along, 1 cycle a km, by hand."""
    run = WeldRun((0.0, 0.0, 0.0), (0.1, 0.0, 0.0), 0.01)
    force = np.zeros((1, 1, 2, 3))
    force[..., 0], force[..., 2] = 100 * MPA * 0.01 * 0.5**0.5, 50 * MPA * 0.01 * 0.5**0.5
    root = WeldDetail("root", "bracket weld", replace(CLASS_71, name="36", reference=36 * MPA), SHEAR_80)
    asked = Fatigue(duty(Event("bump", "case 1", 1.0, None)), (), (root,))
    made = outcome((BOX, BOX), np.zeros((2, 1, 9)), (0.0, 1.0), fatigue=asked)
    (line,) = results_of(check(made, {"bracket weld": throat_stress((run,), force)}))
    by_hand = 1 / (2e6 * (36 / 50) ** 3) + 1 / (2e6 * (80 / 100) ** 5)
    held(line.demand, 200_000 * by_hand, rel=1e-6)


@proof(Kind.DERIVED)
def test_throats_come_from_the_weld_groups_of_the_case(held: Held) -> None:
    """Two runs 0.1 m long, 20 kN along them: 100 N/mm, on a 10 mm leg 14.14 MPa along; a group without all load
    cases is left out.
    """
    runs = (WeldRun((0.0, 0.0, 0.0), (0.1, 0.0, 0.0), 0.01), WeldRun((0.0, 0.0, 0.1), (0.1, 0.0, 0.1), 0.01))
    load = JointLoad("case 1", (20e3, 0.0, 0.0), (0.0, 20e3 * 0.05, 0.0))
    group = weld_group(runs, name="bracket weld", place=GivenLoads((load,)))
    short = replace(group, name="other weld", place=GivenLoads(()))
    made = outcome((BOX, BOX), np.zeros((2, 1, 9)), (0.0, 1.0), joints=(group, short))
    found = throat_stresses(made, {each.name for each in made.case.joints})
    assert list(found) == ["bracket weld"]
    held(np.abs(found["bracket weld"].along) / MPA, np.full((1, 4), 14.142), rel=1e-4)
    held(np.abs(found["bracket weld"].across).max(), 0.0, abs=1.0)


stresses = st.lists(st.floats(1.0, 400.0), min_size=1, max_size=5)


@settings(deadline=None, max_examples=60)
@given(stresses, st.floats(1.0, 1.5), st.sampled_from([CLASS_71, IIW_71, SHEAR_80]))
def test_more_range_or_a_lower_class_never_damages_less(
    ranges: list[float], growth: float, detail: DetailClass
) -> None:
    stress: Array = np.array(ranges) * MPA
    cycles = np.full(len(ranges), 1e5)
    base = float(damage(stress, cycles, detail))
    assert float(damage(stress * growth, cycles, detail)) >= base
    assert float(damage(stress, cycles, replace(detail, reference=detail.reference / growth))) >= base
