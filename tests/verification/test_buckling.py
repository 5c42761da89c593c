"""Local buckling, columns and lateral buckling against published formulas, tables and examples."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.checks.effective import effective, effective_normal, wall_state
from framecheck.checks.formulas.plate_buckling import (
    class_free,
    class_internal,
    critical_stress,
    epsilon_of,
    factor_free_root,
    factor_free_tip,
    factor_internal,
    share_left_free,
    share_left_internal,
    shear_share_left,
    shear_slenderness,
)
from framecheck.checks.local_buckling import check as check_local
from framecheck.model.arrays import Array
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Open
from framecheck.section.properties import SectionProperties
from tests.unit.checks.members import STEEL, channel, outcome, row, tube
from tests.verification.manual import Held, Kind, proof

ONE = np.ones(1)


def plate_slenderness(width_ratio: float, fy: float, factor: float, e: float = 210e9, nu: float = 0.3) -> float:
    return float(np.sqrt(fy / critical_stress(e, nu, np.array(width_ratio), np.array(factor))))


@proof(Kind.FORMULA)
@pytest.mark.parametrize(
    ("ratio", "fy", "slenderness", "share"),
    [(50, 355e6, 1.08194, 0.73633), (60, 235e6, 1.05634, 0.74951), (40, 355e6, 0.86555, 0.86168)],
)
def test_internal_wall_in_even_compression(
    held: Held, ratio: float, fy: float, slenderness: float, share: float
) -> None:
    """EN 1993-1-5:2006, 4.4(2): lambda = (b/t) / (28.4 eps sqrt(k)), rho = (lambda - 0.22) / lambda2; numbers from
    the formulas.
    """
    found = plate_slenderness(ratio, fy, 4.0)
    held(found, slenderness, rel=1.5e-3)  # 28.4 is rounded: 28.42
    held(float(share_left_internal(np.array(slenderness), ONE)[0]), share, rel=1e-4)


@proof(Kind.FORMULA)
def test_free_wall_in_even_compression(held: Held) -> None:
    """EN 1993-1-5:2006, 4.4(2), c/t 20, fy 355, k 0.43: lambda 1.31995, rho 0.6497."""
    held(plate_slenderness(20, 355e6, 0.43), 1.31995, rel=1.5e-3)
    held(float(share_left_free(np.array(1.31995))), 0.6497, rel=1e-4)


@proof(Kind.FORMULA)
def test_winter(held: Held) -> None:
    """AISI S100, appendix 1, 1.1: w/t 60, F 345 MPa, E 203 GPa, k 4: Fcr 203.859 MPa, lambda 1.3009, rho 0.6387."""
    held(float(critical_stress(203e9, 0.3, np.array(60.0), np.array(4.0))), 203.859e6, rel=1e-4)
    held(plate_slenderness(60, 345e6, 4.0, 203e9), 1.3009, rel=1e-4)
    held(float(share_left_internal(np.array(1.3009), ONE)[0]), 0.6387, rel=2e-4)
    assert float(share_left_internal(np.array(0.67), ONE)[0]) == 1.0  # Winter: 1 up to 0.673


@proof(Kind.MEMORY)
def test_buckling_factors_at_the_tabulated_gradients(held: Held) -> None:
    """EN 1993-1-5:2006, tables 4.1 and 4.2, the columns of single psi, from memory."""
    held(factor_internal(np.array([1.0, 0.0, -1.0])), [4.0, 7.81, 23.9], rel=2e-3)
    held(
        factor_free_tip(np.array([1.0, 0.0, -1.0, -3.0])), [0.43, 0.57, 0.85, 1.83], abs=5e-3
    )  # 1.83: the row's formula
    held(factor_free_root(np.array([1.0, 0.0, -1.0])), [0.43, 1.70, 23.8], rel=5e-3)


@proof(Kind.PRINTED)
def test_classes_of_walls(held: Held) -> None:
    """EN 1993-1-1:2005, table 5.2: internal compression 33/38/42 eps, bending 72/83/124 eps; outstand 9/10/14 eps."""
    eps = epsilon_of(355e6)
    held(eps, 0.81, abs=0.005)
    for psi, limits in ((1.0, (33, 38, 42)), (-1.0, (72, 83, 124))):
        for rank, limit in enumerate(limits, start=1):
            both = class_internal(np.array([0.995 * limit * eps, 1.005 * limit * eps]), np.full(2, psi), eps)
            assert both.tolist() == [rank, rank + 1]
    factor, psi_, tip = np.full(2, 0.43), np.ones(2), np.ones(2, dtype=bool)
    for rank, limit in enumerate((9, 10, 21 * 0.43**0.5), start=1):
        both = class_free(np.array([0.995 * limit * eps, 1.005 * limit * eps]), psi_, factor, tip, eps)
        assert both.tolist() == [rank, rank + 1]


@proof(Kind.FORMULA)
def test_shear_of_a_slender_web(held: Held) -> None:
    """EN 1993-1-5:2006, eq. (5.5) and table 5.1: h/t 120, fy 235: lambda 1.389, chi 0.598."""
    slenderness = shear_slenderness(np.array(120.0), 1.0)
    held(float(slenderness), 120 / 86.4)
    held(float(shear_share_left(slenderness)), 0.5976, rel=1e-3)


def stress_of(section: SectionProperties, forces: Array) -> float:
    assert section.fields is not None
    state = wall_state(section, forces)
    return float(np.abs(effective_normal(section.fields, forces, effective(section, state))).max())


@proof(Kind.DERIVED)
def test_effective_area_of_a_square_tube_by_hand(held: Held) -> None:
    """Four equal walls b/t 50, fy 355: each keeps 0.736 of its width (EN 1993-1-5:2006, 4.4); no shift of the
    axis.
    """
    section = tube(0.1, 0.1, 0.002)
    state = wall_state(section, row(N=-1e4))
    left = effective(section, state)
    held(state.share_left, 0.736, rel=2e-3)
    held(float(left.area), 0.73633 * 4 * 0.1 * 0.002, rel=5e-3)  # the corners count for a little less
    held(left.centroid, [0.0, 0.0], abs=1e-12)
    # each wall keeps a half of b rho at both its ends: second moment of what is left, by strips
    b, t, keep = 0.1, 0.002, float(state.share_left[0]) * 0.1 / 2
    by_hand = 4 * keep * t * (b / 2) ** 2 + 2 * 2 * (t * keep**3 / 12 + t * keep * (b / 2 - keep / 2) ** 2)
    held(float(left.inertia[0]), by_hand, rel=1e-9)


@proof(Kind.DERIVED)
def test_compressed_flange_of_a_tube_in_bending_by_hand(held: Held) -> None:
    """a wide thin tube bent vertically: only the compressed flange and the upper webs lose; here the webs are
    stocky.
    """
    section = tube(0.06, 0.12, 0.0015)
    forces = row(Mv=-1000.0)  # compression at the top
    state = wall_state(section, forces)
    top = next(i for i, w in enumerate(section.walls) if w.start[1] > 0 and w.end[1] > 0)
    assert np.flatnonzero(state.share_left < 1).tolist() == [top]
    lost = 0.12 * (1 - state.share_left[top]) * 0.0015
    area = section.area - lost
    drop = lost * 0.03 / area
    inertia = section.i_vertical - lost * 0.03**2 - area * drop**2
    held(stress_of(section, forces), 1000 * (0.03 + drop) / inertia, rel=1e-9)


def test_a_stocky_section_loses_nothing() -> None:
    section = channel(0.1, 0.03, 0.005)
    forces = row(N=-1e4, Mv=-500.0, Ms=100.0)
    assert section.fields is not None
    gross = np.abs(section.fields.normal @ forces[[0, 4, 5, 6]]).max()
    assert stress_of(section, forces) == approx(gross, rel=1e-12)


def test_channel_flange_tip_is_judged_as_a_free_edge() -> None:
    # even compression, flange 40 x 2: b/t 20 > 14 eps: class 4 (outstand), whereas held at both edges it would be class 1
    section = channel(0.06, 0.04, 0.002)
    state = wall_state(section, row(N=-1e4))
    assert state.classes[0] == 4.0
    assert class_internal(np.array(20.0), np.array(1.0), epsilon_of(355e6)) == 1.0


thickness = st.floats(0.001, 0.006)
moment = st.floats(-2000.0, 2000.0)


@settings(deadline=None, max_examples=60)
@given(thickness, st.floats(1.02, 1.5), moment, moment, st.floats(-5e4, 0.0))
def test_a_thicker_wall_is_never_weaker(wall: float, growth: float, mv: float, ms: float, n: float) -> None:
    forces = row(N=n - 100.0, Mv=mv, Ms=ms)
    for make in (tube, channel):
        assert stress_of(make(0.1, 0.05, wall * growth), forces) <= stress_of(make(0.1, 0.05, wall), forces) * (
            1 + 1e-9
        )


@settings(deadline=None, max_examples=60)
@given(thickness, st.floats(200e6, 500e6), st.floats(1.01, 1.6), st.floats(-5e4, -1e3))
def test_a_higher_grade_is_never_weaker(wall: float, fy: float, growth: float, n: float) -> None:
    forces = row(N=n)
    factors = [each / stress_of(tube(0.1, 0.08, wall, yield_strength=each), forces) for each in (fy, fy * growth)]
    assert factors[1] >= factors[0] * (1 - 1e-9)


def test_rows_name_the_wall_and_its_class() -> None:
    thin = tube(0.1, 0.1, 0.002)
    forces = np.stack([row(N=-1e5), row(N=-1e5, Mv=-500.0)])[:, None, :]
    (line,) = check_local(outcome((thin, thin), forces, (0.0, 1.0)))
    assert isinstance(line, CheckResult)
    assert line.station == 1.0
    assert "class 4" in line.note
    assert "effective" in line.note
    assert line.safety_factor == approx(355e6 / line.demand)


def test_unknown_walls_are_said_and_aluminium_has_its_own_rules() -> None:
    bare = replace(tube(0.1, 0.1, 0.002), walls=())
    (line,) = check_local(outcome((bare, bare), np.zeros((2, 1, 9)), (0.0, 1.0)))
    assert isinstance(line, Open)
    assert "walls" in line.reason
    aluminium = replace(STEEL, kind="aluminium")
    light = outcome((tube(0.1, 0.1, 0.002),) * 2, np.array([[row(N=-1e4)]] * 2), (0.0, 1.0), material=aluminium)
    (line,) = check_local(light)
    assert isinstance(line, CheckResult)
    assert "EN 1999-1-1" in line.source
