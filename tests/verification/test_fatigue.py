"""Fatigue: S-N lines, Miner's sum, cycle counting and the check of a member against published values and reference libraries."""

from __future__ import annotations

from dataclasses import replace

import fatpack
import numpy as np
import pytest
import rainflow

from framecheck.checks.fatigue import sn
from framecheck.checks.fatigue.sn import cut_off_range, cycles_to_failure, damage, endurance_limit, knee_range
from framecheck.checks.fatigue.swings import rainflow_cycles
from framecheck.model.duty import (
    BaseMetal,
    DetailClass,
    MeanStress,
    PartialFactors,
    StressKind,
    SurfaceFinish,
)
from tests.verification.manual import Held, Kind, proof

MPA = 1e6
CLASS_71 = DetailClass("71", "EN 1993-1-9", "for a test", 71 * MPA, "EN 1993-1-9:2005")
SHEAR_80 = DetailClass(
    "80", "EN 1993-1-9", "for a test", 80 * MPA, "EN 1993-1-9:2005", StressKind.SHEAR, 5.0, 1e8, 5.0, 1e8
)
IIW_71 = DetailClass("71", "IIW", "for a test", 71 * MPA, "IIW", knee=1e7, cut_off=float("inf"))
HOT_ROLLED = SurfaceFinish("hot rolled", 57.7, -0.718, "Shigley, table 6-2")
MACHINED = SurfaceFinish("machined", 4.51, -0.265, "Shigley, table 6-2")
NO_FACTORS = PartialFactors(1.0, 1.0)


@proof(Kind.FORMULA)
def test_limits_of_the_european_lines(held: Held) -> None:
    """EN 1993-1-9:2005, 7.1: 0.737 of the class at 5e6, 0.549 of that and 0.405 of the class at 1e8; shear 0.457."""
    held(knee_range(CLASS_71) / CLASS_71.reference, 0.737, abs=5e-4)
    held(cut_off_range(CLASS_71) / knee_range(CLASS_71), 0.549, abs=5e-4)
    held(cut_off_range(CLASS_71) / CLASS_71.reference, 0.405, abs=5e-4)
    held(cut_off_range(SHEAR_80) / SHEAR_80.reference, 0.457, abs=5e-4)


@proof(Kind.FORMULA)
@pytest.mark.parametrize(("reference", "limit"), [(36, 26.5), (56, 41.3), (71, 52.3), (80, 58.9)])
def test_endurance_limits(held: Held, reference: float, limit: float) -> None:
    """EN 1993-1-9:2005, 7.1(2): 0.737 of the class, whatever the grade of steel."""
    held(endurance_limit(replace(CLASS_71, reference=reference * MPA)) / MPA, limit, abs=0.06)


@proof(Kind.FORMULA)
@pytest.mark.parametrize(("stress", "cycles"), [(100, 715822), (71, 2e6), (40, 19130593), (30, 80616164)])
def test_cycles_of_class_71(held: Held, stress: float, cycles: float) -> None:
    """EN 1993-1-9:2005, 7.1, exact slopes."""
    held(float(cycles_to_failure(np.array(stress * MPA), CLASS_71)), cycles, rel=1e-3)


@proof(Kind.LIBRARY)
def test_cycles_against_fatpack(held: Held) -> None:
    """Fatpack 0.7.8, TriLinearEnduranceCurve, above its cut-off."""
    curve = fatpack.TriLinearEnduranceCurve(71.0)
    stress = np.array([35.0, 45.0, 60.0, 90.0, 150.0])
    held(cycles_to_failure(stress * MPA, CLASS_71), curve.get_endurance(stress), rel=1e-6)
    assert np.isinf(cycles_to_failure(np.array([28.0 * MPA, 0.0]), CLASS_71)).all()


@proof(Kind.FORMULA)
def test_miner_example(held: Held) -> None:
    """EN 1993-1-9:2005, annex A, class 71: terms 0.02794, 0.071526, 0.150875, 0.104545, 0 (25 MPa lies under the
    cut-off).
    """
    stress = np.array([100.0, 80.0, 60.0, 40.0, 25.0]) * MPA
    cycles = np.array([2e4, 1e5, 5e5, 2e6, 1e7])
    held(float(damage(stress, cycles, CLASS_71)), 0.354886, rel=1e-3)


def test_no_damage_where_every_range_is_under_the_endurance_limit() -> None:
    # EN 1993-1-9:2005, 7.1(2); IIW: a constant amplitude limit is not to be counted on
    stress, cycles = np.array([52.0, 40.0]) * MPA, np.array([1e8, 1e8])
    assert float(damage(stress, cycles, CLASS_71)) == 0.0
    assert float(damage(np.array([53.0, 40.0]) * MPA, cycles, CLASS_71)) > 1.0
    assert float(damage(stress, cycles, IIW_71)) > 1.0


ASTM = (-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0)


def test_rainflow_example() -> None:
    # ASTM E1049-85, figure 6: ranges 3, 4, 6, 8, 9 counted 0.5, 1.5, 0.5, 1.0, 0.5
    counted: dict[float, float] = {}
    for span, _, count in rainflow_cycles(ASTM):
        counted[span] = counted.get(span, 0.0) + count
    assert counted == {3.0: 0.5, 4.0: 1.5, 6.0: 0.5, 8.0: 1.0, 9.0: 0.5}


@proof(Kind.LIBRARY)
def test_rainflow_against_fatpack(held: Held) -> None:
    """Fatpack 0.7.8 closes the residue of a repeated record; a record that begins and ends at its peak has the
    same whole cycles.
    """
    values = np.random.default_rng(1).normal(size=400)
    start = int(values.argmax())
    closed = np.concatenate((values[start:], values[: start + 1]))
    ours = sorted(span for span, _, count in rainflow_cycles(tuple(closed.tolist())) for _ in range(round(2 * count)))
    reversals, _ = fatpack.find_reversals_racetrack_filtered(closed, h=0.0, k=2**20)
    cycles, residue = fatpack.find_rainflow_cycles(reversals)
    theirs = sorted(
        np.concatenate((np.repeat(np.abs(np.diff(cycles, axis=1))[:, 0], 2), np.abs(np.diff(residue)))).tolist()
    )
    held(ours, theirs, rel=1e-6, abs=1e-6)
    held(ours[-1], rainflow.count_cycles(closed)[-1][0])


@proof(Kind.DERIVED)
def test_mean_stress_rules(held: Held) -> None:
    """Goodman sa / (1 - sm / Su), Gerber sa / (1 - (sm / Su)2), SWT sqrt((sm + sa) sa): amplitude 100, mean 100,
    Su 400.
    """
    amplitude, mean = np.array([100.0]), np.array([100.0])
    held(sn.goodman(amplitude, mean, 400.0), [133.333], rel=1e-5)
    held(sn.gerber(amplitude, mean, 400.0), [106.667], rel=1e-5)
    held(sn.smith_watson_topper(amplitude, mean, 400.0), [141.421], rel=1e-5)


@pytest.mark.parametrize("rule", MeanStress)
def test_a_compressive_mean_never_helps(rule: MeanStress) -> None:
    amplitude, mean = np.array([100.0]), np.array([-300.0])
    assert sn.RULES[rule](amplitude, mean, 400.0) >= amplitude


@proof(Kind.MEMORY)
def test_surface_factor_example(held: Held) -> None:
    """J. E. Shigley, Mechanical Engineering Design, example 6-3 (Su 400 MPa, machined: ka = 0.92), from memory."""
    held(sn.surface_factor(MACHINED, 400 * MPA), 0.92, abs=0.005)


@proof(Kind.DERIVED)
def test_the_line_of_unwelded_metal_goes_through_its_two_points(held: Held) -> None:
    """O. H. Basquin, Shigley eq. (6-14): 0.9 Su at 1e3 cycles, the limit at 1e6."""
    limit = sn.fatigue_limit(BaseMetal(HOT_ROLLED), 400 * MPA)
    held(limit / MPA, 0.5 * 400 * 57.7 * 400**-0.718 * 0.814, rel=1e-9)
    found = sn.cycles_of_base_metal(np.array([0.9 * 400 * MPA, limit]), limit, 400 * MPA)
    held(found, [1e3, 1e6], rel=1e-6)
