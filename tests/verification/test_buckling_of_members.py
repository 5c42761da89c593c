"""Columns, lateral-torsional buckling and both together against published examples, formulas and an eigenvalue model."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.linalg import eigvalsh

from framecheck.checks.lateral_buckling.check import check
from framecheck.checks.lateral_buckling.curves import (
    amplification,
    bent_moment,
    column_stress,
    coupled_stress,
    flexural_stress,
    interaction,
)
from framecheck.checks.lateral_buckling.elastic import even
from framecheck.checks.lateral_buckling.lengths import (
    Brackets,
    Known,
    Unbraced,
    brace_stations,
    brackets_of,
    chains_of,
    members_at,
    unbraced_lengths,
)
from framecheck.checks.lateral_buckling.strengths import (
    elastic_stress,
    full_strength,
    stiffness_along,
    stiffness_of,
    strength,
)
from framecheck.model.arrays import Array
from framecheck.model.case import BucklingLength, Case, StrengthAsked
from framecheck.model.frame import Frame, Member, Stretch
from framecheck.model.loads import Support
from framecheck.results.row import CheckResult
from framecheck.section.properties import SectionProperties
from tests.unit.checks.members import channel, outcome, row, tube
from tests.verification.manual import Held, Kind, proof

IN, FT, KSI, KIP = 0.0254, 0.3048, 6.894757e6, 4448.2216
E, G = 29000 * KSI, 11200 * KSI
EVEN = even(1.0)


def part(length: float) -> Unbraced:
    return Unbraced("part", 0.0, length, length, length, length, True)


@proof(Kind.MEMORY)
def test_column_example(held: Held) -> None:
    """AISC Steel Construction Manual, table 4-1 (design examples, E.1A), from memory: W14x132, 50 ksi, KL 30 ft:
    phi Pn = 893 kip.
    """
    elastic = flexural_stress(E, 30 * FT, 3.76 * IN)
    held(0.9 * column_stress(50 * KSI, elastic) / KSI * 38.8, 893, rel=2e-3)


@proof(Kind.MEMORY)
@pytest.mark.parametrize(("slenderness", "available"), [(50, 37.5), (100, 21.7), (150, 10.0), (200, 5.65)])
def test_column_stress_table(held: Held, slenderness: float, available: float) -> None:
    """AISC Steel Construction Manual, table 4-22 (available critical stress, 50 ksi, phi Fcr in ksi), from memory."""
    held(0.9 * column_stress(50 * KSI, flexural_stress(E, slenderness, 1.0)) / KSI, available, rel=5e-3)


@proof(Kind.FORMULA)
def test_the_two_branches_of_the_column_meet(held: Held) -> None:
    """ANSI/AISC 360-22, E3: at Fy / Fe = 2.25 0.658^2.25 = 0.38997 on one side, 0.877 / 2.25 = 0.38978 on the other."""
    held(column_stress(1.0, 1 / 2.2499), 0.38997, rel=1e-4)
    held(column_stress(1.0, 1 / 2.2501), 0.38978, rel=1e-4)


@proof(Kind.FORMULA)
def test_coupled_buckling_equals_the_closed_form_of_one_axis(held: Held) -> None:
    """ANSI/AISC 360-22, eq. (E4-3) for one axis of symmetry, beside the cubic (E4-4)."""
    vertical, sideways, twist, x0, r0 = 900.0, 250.0, 180.0, 0.03, 0.06
    h = 1 - (x0 / r0) ** 2
    by_e4_3 = (vertical + twist) / (2 * h) * (1 - sqrt(1 - 4 * vertical * twist * h / (vertical + twist) ** 2))
    found = coupled_stress((vertical, sideways, twist), (x0, 0.0), r0)
    held(found, min(by_e4_3, sideways), rel=1e-9)
    held(coupled_stress((vertical, sideways, twist), (0.0, 0.0), r0), 180.0)


@proof(Kind.MEMORY)
def test_moment_left_by_lateral_buckling(held: Held) -> None:
    """AISI S100-16, F2.1, from memory: full at Fcre = 2.78 Fy; 10/9 (1 - 10/36) = 0.802 at Fcre = Fy; Fcre at 0.56 Fy and below."""
    held(bent_moment(100.0, np.array([300.0, 278.0, 100.0, 56.0, 30.0])), [100.0, 100.0, 80.25, 56.0, 30.0], rel=1e-3)


@proof(Kind.FORMULA)
def test_interaction_and_amplification(held: Held) -> None:
    """ANSI/AISC 360-22, eq. (H1-1a), (H1-1b): both branches meet at 0.2; app. 8: 1 / (1 - 0.25) = 4/3."""
    axial = np.array([0.5, 0.1, 0.2, 0.2 - 1e-12])
    held(interaction(axial, np.array([0.45, 0.45, 0.9, 0.9])), [0.9, 0.5, 1.0, 1.0])
    held(amplification(np.array([25.0, -5.0]), 100.0), [4 / 3, 1.0])
    assert np.isinf(amplification(np.array([100.0]), 100.0))[0]


def eigenvalue_column(stiffness: Array, length: float) -> float:
    """Return the buckling load of a pinned column with stiffness E I (n,) at even places: -E I y'' = P y by finite differences."""
    count = len(stiffness)
    step = length / (count + 1)
    second = (2 * np.eye(count) - np.eye(count, k=1) - np.eye(count, k=-1)) / step**2
    return float(eigvalsh(second, np.diag(1 / stiffness), subset_by_index=[0, 0])[0])


@pytest.mark.parametrize(("weak", "middle"), [(0.5, 0.5), (0.2, 0.5), (0.3, 0.25)])
def test_even_stiffness_stands_for_a_weak_stretch(weak: float, middle: float) -> None:
    # against the eigenvalue of the stepped column: the energy method is an upper bound, within 6 % for a weak tenth of the length
    strong = tube(0.1, 0.1, 0.003)
    notched = tube(0.1, 0.1, 0.003, i_vertical=weak * strong.i_vertical)
    length, a, b = 2.0, 2.0 * (middle - 0.05), 2.0 * (middle + 0.05)
    stations = np.array([0.0, a, a, b, b, length])
    found = stiffness_along(stations, (strong, strong, notched, notched, strong, strong)).vertical
    places = np.linspace(0, length, 241)[1:-1]
    base = strong.youngs_modulus * strong.i_vertical
    exact = eigenvalue_column(np.where((places > a) & (places < b), weak * base, base), length)
    assert exact * 0.995 <= pi**2 * found / length**2 <= 1.06 * exact


def test_a_channel_column_twists_before_it_bends() -> None:
    # a short thin channel: the coupled stress lies under each of the three; a tube's is its flexural one
    thin = channel(0.1, 0.05, 0.002)
    stiff = stiffness_of(thin)
    euler = pi**2 * stiff.sideways / 0.8**2 / thin.area
    assert elastic_stress(thin, stiff, part(0.8)) < 0.9 * euler
    box = tube(0.1, 0.05, 0.003)
    sideways = pi**2 * stiffness_of(box).sideways / 0.8**2 / box.area
    assert elastic_stress(box, stiffness_of(box), part(0.8)) == approx(sideways, rel=1e-6)


def test_a_box_of_frame_length_does_not_buckle_sideways() -> None:
    # facts of the trade and ANSI/AISC 360-22, F7 user note: lateral buckling of a box hardly ever governs
    box = tube(0.097, 0.047, 0.003)
    assert (
        float(strength(box, stiffness_of(box), part(3.0), ((EVEN,), (EVEN,))).vertical[0]) > 0.9 * full_strength(box).vertical
    )


def one_member(section: SectionProperties, length: float, **forces: float) -> CheckResult:
    made = outcome((section, section), np.stack([row(**forces)] * 2)[:, None, :], (0.0, length))
    lines = [line for line in check(made) if isinstance(line, CheckResult)]
    assert len(lines) == 1
    return lines[0]


@proof(Kind.DERIVED)
def test_a_member_pushed_and_bent_by_hand(held: Held) -> None:
    """One metre of tube held at one end (K 2.1): at the factor found, H1-1 with B1 = 1 / (1 - P / Pe) is just used
    up.
    """
    section = tube(0.1, 0.05, 0.004)
    line = one_member(section, 1.0, N=-30e3, Mv=2000.0, Ms=300.0)
    push, length, area = 30e3 * line.safety_factor, 2.1, section.area
    euler = [pi**2 * 210e9 * each / length**2 for each in (section.i_vertical, section.i_sideways)]
    column = column_stress(355e6, euler[1] / area) * area
    grown = [1 / (1 - push / each) for each in euler]
    moments = 355e6 * section.i_vertical / 0.05, 355e6 * section.i_sideways / 0.025
    bent = line.safety_factor * (2000 * grown[0] / moments[0] + 300 * grown[1] / moments[1])
    used = push / column + 8 / 9 * bent if push / column >= 0.2 else push / column / 2 + bent
    held(used, 1.0, rel=0.02)  # the box's lateral-torsional strength lies a little under first yield


load = {"n": st.floats(-4e4, 0.0), "mv": st.floats(-1500.0, 1500.0), "ms": st.floats(-300.0, 300.0)}
settled = settings(deadline=None, max_examples=25)


@settled
@given(wall=st.floats(0.0015, 0.005), growth=st.floats(1.02, 1.5), length=st.floats(0.2, 3.0), **load)
def test_a_thicker_wall_carries_no_less(
    wall: float, growth: float, length: float, n: float, mv: float, ms: float
) -> None:
    for make in (tube, channel):
        thin, thick = (one_member(make(0.1, 0.05, each), length, N=n, Mv=mv, Ms=ms) for each in (wall, growth * wall))
        assert thick.safety_factor >= thin.safety_factor * (1 - 1e-6)


@settled
@given(
    fy=st.floats(200e6, 450e6),
    growth=st.floats(1.02, 1.5),
    wall=st.floats(0.0015, 0.005),
    length=st.floats(0.2, 3.0),
    **load,
)
def test_a_higher_grade_carries_no_less(
    fy: float, growth: float, wall: float, length: float, n: float, mv: float, ms: float
) -> None:
    for make in (tube, channel):
        sections = [make(0.1, 0.05, wall, yield_strength=each) for each in (fy, fy * growth)]
        plain, strong = (one_member(each, length, N=n, Mv=mv, Ms=ms) for each in sections)
        assert strong.safety_factor >= plain.safety_factor * (1 - 1e-6)


@settled
@given(length=st.floats(0.2, 2.0), growth=st.floats(1.05, 2.0), **load)
def test_a_longer_member_carries_no_more(length: float, growth: float, n: float, mv: float, ms: float) -> None:
    section = channel(0.1, 0.05, 0.003)
    short, long = (one_member(section, each, N=n, Mv=mv, Ms=ms) for each in (length, growth * length))
    assert long.safety_factor <= short.safety_factor * (1 + 1e-6)


POINTS = {
    **{name: (x, 0.0, 0.0) for name, x in (("a", 0.0), ("b", 1.0), ("c", 3.0), ("d", 3.5))},
    **{name: (x, 1.0, 0.0) for name, x in (("p", 0.0), ("q", 1.0), ("r", 3.0))},
}
RAIL = Member("rail", ("a", "b", "c", "d"), (Stretch("s"),))
CROSS = tuple(Member(f"cross {one}", (one, two), (Stretch("s"),)) for one, two in (("a", "p"), ("b", "q"), ("c", "r")))


def brackets(frame: Frame, whole: float) -> Brackets:
    """Return the parts of the first member's chain that may buckle."""
    return brackets_of(frame, chains_of(frame)[0], members_at(frame), whole)


def test_lengths_are_bracketed_from_crossmember_to_crossmember_and_end_to_end() -> None:
    case = Case("ladder", Frame(POINTS, (RAIL, *CROSS), {}))
    found = [(each.known, each.start, each.end, each.sideways) for each in unbraced_lengths(case, RAIL, brackets(case.frame, 3.5))]
    assert found == [
        (Known.BETWEEN, 0.0, 1.0, approx(1.0)),
        (Known.BETWEEN, 1.0, 3.0, approx(2.0)),
        (Known.OVERHANG, 3.0, 3.5, approx(1.05)),  # ANSI/AISC 360-22, table C-A-7.1: K 2.1 for a free end
        (Known.END_TO_END, 0.0, 3.0, approx(3.0)),
    ]


def test_only_supports_that_hold_sideways_brace() -> None:
    inf = float("inf")
    up, across = Support("b", (0, 0, inf, 0, 0, 0)), Support("c", (0, inf, 0, 0, 0, 0))
    frame = Frame(POINTS, (RAIL,), {}, (Support("a", (inf, inf, inf, 0, 0, 0)), up, across))
    assert brace_stations(frame, chains_of(frame)[0], members_at(frame)) == [0.0, 3.0]


def test_a_stated_length_replaces_both_brackets() -> None:
    asked = StrengthAsked((BucklingLength("rail", sideways=0.7, lateral=0.6),))
    case = Case("ladder", Frame(POINTS, (RAIL, *CROSS), {}), strength=asked)
    found = unbraced_lengths(case, RAIL, brackets(case.frame, 3.5))
    assert {each.known for each in found} == {Known.STATED}
    assert {(each.sideways, each.lateral) for each in found} == {(0.7, 0.6)}


@settled
@given(turn=st.floats(-0.6, 0.6), hair=st.sampled_from([1e-7, -1e-7]), length=st.floats(0.5, 3.0))
def test_turned_main_axes_are_judged_without_a_jump(turn: float, hair: float, length: float) -> None:
    plain = channel(0.1, 0.05, 0.003)
    size = sqrt(plain.i_vertical * plain.i_sideways)
    factors = [
        one_member(replace(plain, i_product=each * size), length, N=-10e3, Mv=800.0, Ms=100.0).safety_factor
        for each in (turn, turn + hair)
    ]
    assert factors[0] == approx(factors[1], rel=1e-4)
