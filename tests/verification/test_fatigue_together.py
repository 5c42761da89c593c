"""Normal and shear stress of one place, bolts, and unwelded metal that is twisted: printed examples and hand calculations."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import fatpack
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from framecheck.checks.bolt_strength import BoltLoads
from framecheck.checks.fatigue import sn
from framecheck.checks.fatigue.bolts import bolt_lines, prying_factor, size_factor
from framecheck.checks.fatigue.sn import cycles_to_failure, damage, damage_together
from framecheck.checks.fatigue.swings import SwingBlock, Swings
from framecheck.checks.joint_rows import Line
from framecheck.model.arrays import Array
from framecheck.model.duty import BaseMetal, BoltDetail, Duty, Event
from framecheck.model.joints import Prying, Threads
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Open
from tests.unit.checks.joint_samples import STEEL, four_bolts, m10, thread
from tests.verification.manual import Held, Kind, proof
from tests.verification.test_fatigue import CLASS_71, MACHINED, MPA, NO_FACTORS, SHEAR_80

# shear ------------------------------------------------------------------------------------------------------------------


@proof(Kind.LIBRARY)
def test_shear_line_against_fatpack(held: Held) -> None:
    """Fatpack 0.7.8, LinearEnduranceCurve with m = 5, above the cut-off of EN 1993-1-9:2005, 7.1."""
    curve = fatpack.LinearEnduranceCurve(80.0)
    curve.m = 5.0
    stress = np.array([40.0, 60.0, 80.0, 160.0])
    held(cycles_to_failure(stress * MPA, SHEAR_80), curve.get_endurance(stress), rel=1e-9)


@proof(Kind.DERIVED)
@pytest.mark.parametrize(("normal", "shear", "used"), [(71, 0, 1.0), (0, 80, 1.0), (56.353, 69.644, 1.0), (71, 80, 2.0)])
def test_interaction_at_two_million_cycles(held: Held, normal: float, shear: float, used: float) -> None:
    """EN 1993-1-9:2005, eq. (8.3), from memory: (dsigma / 71)^3 + (dtau / 80)^5; 56.353 = 71 / 2^(1/3), 69.644 = 80 / 2^(1/5)."""
    parts = ((np.array([normal * MPA]), CLASS_71), (np.array([shear * MPA]), SHEAR_80))
    held(float(damage_together(parts, np.array([2e6]))), used, rel=1e-4)


def test_where_one_stress_passes_its_endurance_limit_both_wear() -> None:
    # 45 MPa lies under the 52.3 MPa that class 71 bears for ever: it wears as soon as shear opens a crack beside it
    normal, cycles = np.array([45 * MPA]), np.array([1e6])
    assert float(damage(normal, cycles, CLASS_71)) == 0.0
    alone = float(damage(np.array([90 * MPA]), cycles, SHEAR_80))
    assert float(damage_together(((normal, CLASS_71), (np.array([90 * MPA]), SHEAR_80)), cycles)) > alone


sizes = st.floats(0.0, 400.0)


@settings(deadline=None, max_examples=60)
@given(sizes, sizes, sizes)
def test_more_of_either_stress_never_damages_less(normal: float, shear: float, more: float) -> None:
    def worn(sigma: float, tau: float) -> float:
        parts = ((np.array([sigma * MPA]), CLASS_71), (np.array([tau * MPA]), SHEAR_80))
        return float(damage_together(parts, np.array([1e5])))

    assert worn(normal + more, shear) >= worn(normal, shear)
    assert worn(normal, shear + more) >= worn(normal, shear)


# unwelded metal that is twisted -------------------------------------------------------------------------------------------


@proof(Kind.PRINTED)
def test_bent_and_twisted_shaft_of_a_textbook(held: Held) -> None:
    """V. B. Bhandari, Design of Machine Elements, example 5.20 (worked in the Scilab textbook companion of FOSSEE, opened there).

    Bending 200 to 600 Nm, torque 70 to 200 Nm, Su 540 MPa, Se 200 MPa, factor 2 by Goodman: diameter 33.29 mm.
    """
    bent, twisted = (shape / (pi * 0.033287656**3) for shape in (32.0, 16.0))
    amplitude = sn.von_mises(np.array(200 * bent), np.array(65 * twisted))
    mean = sn.von_mises(np.array(400 * bent), np.array(135 * twisted))
    held(float(sn.goodman(2 * amplitude, 2 * mean, 540 * MPA)) / MPA, 200.0, rel=1e-5)


@proof(Kind.PRINTED)
def test_bar_bent_and_twisted_beyond_its_limit(held: Held) -> None:
    """J. E. Shigley, Mechanical Engineering Design, 10th ed., problem 6-23, as solved in a published notebook (opened there).

    172 MPa of bending and 207 MPa of shear, both fully reversed: 397.66 MPa, 0.694 of the limit of 276 MPa.
    """
    found = float(sn.von_mises(np.array(172.0), np.array(207.0)))
    held(found, 397.657, abs=1e-3)
    held(276 / found, 0.69407, abs=1e-5)


@proof(Kind.PRINTED)
def test_endurance_limit_of_a_torsion_bar(held: Held) -> None:
    """A. C. Ugural, Mechanical Design, example 7.1 (opened as worked on a public page): 100 ksi, machined, 98 %: 9.8 ksi of shear.

    It counts 0.85 for size, 0.71 for heat and 1 / 1.2 for shape, which are none of ours; its specimen's limit 0.29 Su is rounded from
    0.5 Su / sqrt(3) = 0.2887 Su.
    """
    metal = BaseMetal(MACHINED, reliability=0.84)
    limit = sn.fatigue_limit(metal, 689.5 * MPA) / sqrt(3) * 0.85 * 0.71 / 1.2
    held(limit / 6.895e6, 9.8, abs=0.1)


def swings(normal: float, shear: float, mean: float = 0.0, shear_mean: float = 0.0) -> Swings:
    """Return one block at one place; ranges and means in MPa."""
    each = (np.array([value * MPA]) for value in (normal, mean, shear, shear_mean))
    return Swings(*each)


@proof(Kind.DERIVED)
def test_shear_wears_as_the_normal_stress_that_yields_as_soon(held: Held) -> None:
    """J. E. Shigley, 9th ed., eq. (6-55): sqrt(3) tau stands for sigma / 0.85."""
    metal, cycles = BaseMetal(MACHINED), np.array([1e5])
    twisted = sn.damage_of_base_metal(swings(0.0, 300.0), cycles, metal, (430 * MPA, 1.0))
    pulled = sn.damage_of_base_metal(swings(0.85 * sqrt(3) * 300.0, 0.0), cycles, metal, (430 * MPA, 1.0))
    held(float(twisted), float(pulled), rel=1e-9)
    assert float(twisted) > 0.1


def test_a_mean_torque_wears_and_a_mean_pressure_helps_nothing() -> None:
    def worn(stress: Swings) -> float:
        return float(sn.damage_of_base_metal(stress, np.array([1e5]), BaseMetal(MACHINED), (430 * MPA, 1.0)))

    assert worn(swings(0.0, 300.0, shear_mean=60.0)) > worn(swings(0.0, 300.0))
    assert worn(swings(0.0, 300.0, mean=-200.0)) == worn(swings(0.0, 300.0))


# bolts --------------------------------------------------------------------------------------------------------------------

PULLED = replace(CLASS_71, name="50", reference=50 * MPA)
SHEARED = replace(SHEAR_80, name="100", reference=100 * MPA)
DETAIL = BoltDetail("bolts", PULLED, SHEARED)
DUTY = Duty((Event("pulls", "case 1", 1.0, None),), 1e5, factors=NO_FACTORS)


def worn_bolts(tension: Array, shear: Array, held_by: float = 0.0, threads: Threads = Threads.OUT) -> tuple[Line, ...]:
    """Return the lines of one M10 in load cases of tension (n_case,) and shear (n_case, 3), N; swings from the first to the last."""
    group = four_bolts(bolt=m10(threads=threads))
    loads = BoltLoads(group, tension[:, None], shear[:, None], np.full((len(tension), 1), held_by))
    last = len(tension) - 1
    block = SwingBlock("pulls", last, None if last == 0 else 0, 1.0, 0.5, 1.0)
    return tuple(bolt_lines(DETAIL, loads, (block,), DUTY))


def row_of(lines: tuple[Line, ...]) -> CheckResult:
    (found,) = (line for line in lines if isinstance(line, CheckResult))
    return found


def open_of(lines: tuple[Line, ...]) -> list[str]:
    return [line.reason for line in lines if isinstance(line, Open)]


@proof(Kind.DERIVED)
def test_bolt_pulled_and_sheared(held: Held) -> None:
    """EN 1993-1-9:2005, table 8.1, details 14 and 15, from memory: class 50 on the stress area, 100 (m = 5) on the shank, added."""
    one = m10()
    lines = worn_bolts(np.array([10e3]), np.array([[12e3, 0.0, 0.0]]))
    by_hand = (10e3 / one.thread.stress_area / 50e6) ** 3 + (12e3 / (pi * one.thread.diameter**2 / 4) / 100e6) ** 5
    held(row_of(lines).demand, by_hand * 1e5 / 2e6, rel=1e-9)


def test_what_no_class_holds_for_is_open() -> None:
    away, back = np.array([12e3, 0.0, 0.0]), np.array([-12e3, 0.0, 0.0])
    none = np.zeros(2)
    assert open_of(worn_bolts(none, np.stack([0.5 * away, away]))) == []
    assert any("turns round" in each for each in open_of(worn_bolts(none, np.stack([back, away]))))
    assert any("threads" in each for each in open_of(worn_bolts(none, np.stack([0.5 * away, away]), threads=Threads.IN)))
    assert open_of(worn_bolts(none, np.stack([back, away]), 18.1e3, Threads.IN)) == []  # held with the factor 1.5 against slip
    assert open_of(worn_bolts(none, np.stack([back, away]), 17.9e3, Threads.IN)) != []
    assert any("prying" in each for each in open_of(worn_bolts(np.array([0.0, 5e3]), np.zeros((2, 3)))))


def test_prying_raises_the_swing() -> None:
    # AISC Manual, part 9: delta = 1 - 13 / 78 = 5/6, b' = 24 - 6 = 18, a' = 20 + 6 = 26: 1 + 5/6 x 18/26 = 1.577
    plate = Prying(0.024, 0.020, 0.078, 0.01, STEEL)
    m12 = m10(hole=0.013, thread=thread("M12"))
    group = four_bolts(bolt=m12)
    assert prying_factor(plate, group) == pytest.approx(1 + 5 / 6 * 18 / 26, rel=1e-9)
    assert prying_factor(None, group) == 1.0


def test_thick_bolts_bear_less() -> None:
    # EN 1993-1-9:2005, table 8.1, detail 14, from memory: (30 / 48)^0.25 = 0.889
    assert size_factor(0.030) == 1.0
    assert size_factor(0.048) == pytest.approx(0.8891, abs=1e-4)
