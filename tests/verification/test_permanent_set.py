"""The plastic section in rare cases, against the standard's formulas and an exact plastic stress distribution."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from framecheck.checks.effective import wall_state
from framecheck.checks.joint_rows import Line
from framecheck.checks.permanent_set.check import check, factors
from framecheck.checks.permanent_set.plastic import (
    plastic_strengths,
    reduced_moment,
    shear_loss,
    tube_shares,
    tube_used,
)
from framecheck.model.arrays import Array
from framecheck.model.case import StrengthAsked, Targets
from framecheck.results.row import CAP, CheckResult
from framecheck.results.subjects import Open
from framecheck.section.properties import SectionProperties
from framecheck.surface_stress import peaks
from tests.unit.checks.members import channel, outcome, row, tube
from tests.verification.manual import Held, Kind, proof

FY = 355e6
H, B, T = 0.1, 0.05, 0.004
Z_VERTICAL, Z_SIDEWAYS = B * T * H + T * H**2 / 2, H * T * B + T * B**2 / 2
BOX = tube(H, B, T, plastic_modulus_vertical=Z_VERTICAL, plastic_modulus_sideways=Z_SIDEWAYS)


def factor(section: SectionProperties, **forces: float) -> tuple[float, float]:
    """Return (plastic, first yield) factors of a section."""
    assert section.fields is not None
    each = row(**forces)[None]
    ranks = wall_state(section, each).classes.max(axis=-1, initial=0)
    plastic, first = factors(section, section.fields, each, peaks(section.fields, each).nominal, ranks)
    return float(plastic[0]), float(first[0])


@proof(Kind.FORMULA)
def test_bending_alone_gains_the_shape_factor(held: Held) -> None:
    """EN 1993-1-1:2005, eq. (6.13): Wpl fy; Wpl / Wel of a thin tube by its closed forms b t h + t h2 / 2."""
    plastic, first = factor(BOX, Mv=5000.0)
    held(plastic, Z_VERTICAL * FY / 5000, rel=1e-5)
    held(plastic / first, Z_VERTICAL / (BOX.i_vertical / (H / 2)), rel=1e-5)


@proof(Kind.FORMULA)
def test_reduced_moment_of_a_tube(held: Held) -> None:
    """EN 1993-1-1:2005, eq. (6.39): n 0.5, aw 0.5: 0.5 / 0.75 = 0.667; n 0.2 leaves more than all: 1; n 1 leaves
    none.
    """
    held(reduced_moment(np.array([0.5, 0.2, 1.0]), 0.5), [0.6667, 1.0, 0.0], abs=1e-4)


@proof(Kind.FORMULA)
def test_bending_both_ways(held: Held) -> None:
    """EN 1993-1-1:2005, eq. (6.41): exponent 1.66 without a pull: 0.66 of each moment: 2 x 0.66^1.66 = 1.003."""
    used = tube_used(np.array(0.0), (np.array(0.66), np.array(0.66)), (0.4, 0.4))
    held(float(used), 2 * 0.66**1.66)
    held(float(used), 1.0, abs=0.01)


@proof(Kind.FORMULA)
def test_shear_above_half_its_strength_takes_yield_away(held: Held) -> None:
    """EN 1993-1-1:2005, 6.2.8(3): (2 x 0.75 - 1)2 = 0.25; nothing up to one half; 6.2.7(9): twist takes its share
    first.
    """
    held(shear_loss(np.array([0.5, 0.75, 1.0, 0.5]), np.array([0.0, 0.0, 0.0, 1 / 3])), [0.0, 0.25, 1.0, 0.25])


def exact(section: SectionProperties, pull: float, vertical: float, sideways: float) -> float:
    """Return the plastic factor of the walls cut into fibres: the greatest balanced stress within yield (linear programme)."""
    places, areas = [], []
    for wall in section.walls:
        share = (np.arange(40) + 0.5) / 40
        places.append(np.outer(1 - share, wall.start) + np.outer(share, wall.end))
        areas.append(np.full(40, wall.width * wall.thickness / 40))
    place, area = np.concatenate(places), np.concatenate(areas)
    sums: Array = FY * np.stack((area, area * place[:, 1], area * place[:, 0]))
    forces, most = np.array([pull, vertical, sideways]), np.abs(sums).sum(axis=1)
    unit = float(np.abs(forces / most).max())
    balance = np.column_stack((sums / most[:, None], -forces / most / unit))
    aim = np.append(np.zeros(len(area)), -1.0)
    found = linprog(aim, A_eq=balance, b_eq=np.zeros(3), bounds=[(-1, 1)] * len(area) + [(0, None)])
    return float(found.x[-1]) / unit


@pytest.mark.parametrize(
    ("pull", "vertical", "sideways"),
    [(1.0, 0.0, 0.0), (0.3, 0.6, 0.0), (0.3, 0.0, 0.6), (0.0, 0.5, 0.5), (0.4, 0.4, 0.4), (0.7, 0.2, 0.1)],
)
def test_tube_against_an_exact_plastic_distribution(pull: float, vertical: float, sideways: float) -> None:
    # forces as shares of Npl and Mpl: the standard's formula lies within -12 % and +6 % of the fibres
    own = plastic_strengths(BOX, BOX.fields)  # type: ignore[arg-type]
    n, mv, ms = -pull * own.pull, vertical * own.vertical, sideways * own.sideways
    found = factor(BOX, N=n, Mv=mv, Ms=ms)[0]
    assert 0.88 <= found / exact(BOX, n, mv, ms) <= 1.06


def test_channel_is_never_given_more_than_the_fibres_carry() -> None:
    # EN 1993-1-1:2005, eq. (6.2), the plain sum, is a lower bound for any section
    h, b, t = 0.1, 0.04, 0.005
    section = channel(h, b, t, plastic_modulus_vertical=b * t * h + t * h**2 / 4)
    for n, mv in ((-4e4, 2500.0), (0.0, 4000.0), (-1e5, 800.0)):
        assert factor(section, N=n, Mv=mv)[0] <= exact(section, n, mv, 0.0) * 1.005


def test_thin_walls_get_no_plastic_reserve() -> None:
    # EN 1993-1-1:2005, 5.5.2: classes 3 and 4 stop at first yield
    thin = tube(0.1, 0.1, 0.0015)
    plastic, first = factor(thin, N=-1e4)
    assert plastic == first


def rare(stress: float, **changes: object) -> list[Line]:
    forces = np.stack([row(Mv=stress * BOX.i_vertical / (H / 2))] * 2)[:, None]
    return list(check(outcome((BOX, BOX), forces, (0.0, 1.0), **changes)))  # type: ignore[arg-type]


@pytest.mark.parametrize(("share", "fate"), [(0.9, "springs back"), (1.1, "sets but holds"), (1.4, "folds")])
def test_rows_say_what_becomes_of_the_member(share: float, fate: str) -> None:
    # between first yield and Wpl / Wel = 1.21 of it the member sets but holds
    (line,) = rare(share * FY, strength=StrengthAsked(rare=("case 1",)))
    assert isinstance(line, CheckResult)
    assert fate in line.note
    assert f"first yield at {int(100 / share) / 100:.2f}" in line.note


def test_a_case_with_a_target_of_its_own_counts_as_rare() -> None:
    (line,) = rare(0.5 * FY, targets=Targets(per_load_case={"case 1": 1.0}))
    assert isinstance(line, CheckResult)
    assert line.target == 1.0


def test_without_a_rare_case_nothing_is_asked() -> None:
    """What the ledger lists then: tests/unit/results/test_ledger.py."""
    assert rare(0.5 * FY) == []


def test_a_section_without_known_walls_is_said() -> None:
    bare = SectionProperties(**{name: getattr(BOX, name) for name in BOX.__slots__ if name != "walls"})
    forces = np.zeros((2, 1, 9))
    lines = check(outcome((bare, bare), forces, (0.0, 1.0), strength=StrengthAsked(rare=("case 1",))))
    assert any(isinstance(line, Open) for line in lines)
    assert tube_shares(bare) is None


@settings(deadline=None, max_examples=40)
@given(st.floats(0.002, 0.006), st.floats(1.02, 1.5), st.floats(-5e4, 5e4), st.floats(-3e3, 3e3), st.floats(-1e3, 1e3))
def test_plastic_is_never_less_than_first_yield_nor_less_when_thicker(
    wall: float, growth: float, n: float, mv: float, ms: float
) -> None:
    thin, thick = (factor(tube(H, B, each), N=n, Mv=mv, Ms=ms) for each in (wall, growth * wall))
    assert thin[0] >= min(thin[1], CAP) * (1 - 1e-9)
    assert thick[0] >= thin[0] * (1 - 1e-6)
