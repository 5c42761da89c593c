"""Beams against published and closed forms, each named beside its number. One member is one element, however it is loaded."""

from __future__ import annotations

from dataclasses import replace
from math import inf, pi, sqrt

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.results import FrameSolution
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads, MemberLoad, MovedSupport, Support, Warming
from framecheck.section.properties import SectionProperties
from tests.unit.frame.frames import HELD, bar, push, section, solved
from tests.verification.manual import Held, Kind, proof

SIMPLE = (inf, inf, inf, inf, 0.0, 0.0)
ROLLER = (0.0, inf, inf, 0.0, 0.0, 0.0)
P, W, LENGTH = 5000.0, 4000.0, 2.0
EI = section(e=200e9, i_vertical=1e-6)  # E 200 GPa, I 1e6 mm4: the inputs of the table rows below


def beam(first: tuple[float, ...], second: tuple[float, ...], length: float = LENGTH) -> Frame:
    points = {"a": (0.0, 0.0, 0.0), "b": (length, 0.0, 0.0)}
    supports = [Support(point, held) for point, held in (("a", first), ("b", second)) if any(held)]  # type: ignore[arg-type]
    return Frame(points, (bar("m", "a", "b"),), {}, tuple(supports))


def even(w: float = W) -> CaseLoads:
    return CaseLoads("even", member_loads=(MemberLoad("m", (0.0, 0.0, -w), (0.0, 0.0, -w)),))


def spot(at: float, p: float = P) -> CaseLoads:
    return CaseLoads("spot", member_loads=(MemberLoad("m", (0.0, 0.0, -p), (0.0, 0.0, -p), at, at),))


def sag(solution: FrameSolution, at: float) -> float:
    """Return the deflection downwards in mm at a station."""
    member = solution.members[0]
    return float(-1000 * member.displacements[np.argmin(np.abs(member.stations - at)), 0, 2])


def largest_sag(solution: FrameSolution) -> float:
    """Return the largest deflection in mm: a parabola through the three lowest stations."""
    member = solution.members[0]
    x, down = member.stations, -1000 * member.displacements[:, 0, 2]
    x, first = np.unique(x, return_index=True)
    down = down[first]
    lowest = int(np.clip(np.argmax(down), 2, len(x) - 3))
    fit = np.polynomial.Polynomial.fit(x[lowest - 2 : lowest + 3], down[lowest - 2 : lowest + 3], 4)
    return float(fit(np.linspace(x[lowest - 1], x[lowest + 1], 2001)).max())


# Roark's Formulas for Stress and Strain, table 8.1 / AISC Manual table 3-23; tolerance: the printed digits
@proof(Kind.FORMULA, "Roark's Formulas for Stress and Strain, table 8.1; AISC Manual, table 3-23: deflection, mm")
def test_simple_beam_centre_load(held: Held) -> None:
    held(sag(solved(beam(SIMPLE, ROLLER), spot(1.0), of=EI), 1.0), 4.166667, rel=1e-6)


@proof(Kind.FORMULA, "Roark's Formulas for Stress and Strain, table 8.1; AISC Manual, table 3-23: deflection, mm")
def test_simple_beam_even_load(held: Held) -> None:
    held(sag(solved(beam(SIMPLE, ROLLER), even(), of=EI), 1.0), 4.166667, rel=1e-6)


@proof(Kind.FORMULA, "Roark's Formulas for Stress and Strain, table 8.1; AISC Manual, table 3-23: deflection, mm")
def test_cantilever_end_load(held: Held) -> None:
    held(sag(solved(beam(HELD, ()), push("b", (0.0, 0.0, -P)), of=EI), LENGTH), 66.666667, rel=1e-6)


@proof(Kind.FORMULA, "Roark's Formulas for Stress and Strain, table 8.1; AISC Manual, table 3-23: deflection, mm")
def test_cantilever_even_load(held: Held) -> None:
    held(sag(solved(beam(HELD, ()), even(), of=EI), LENGTH), 40.0, rel=1e-6)


@proof(Kind.FORMULA, "Roark's Formulas for Stress and Strain, table 8.1; AISC Manual, table 3-23: deflection, mm")
def test_fixed_beam_centre_load(held: Held) -> None:
    held(sag(solved(beam(HELD, HELD), spot(1.0), of=EI), 1.0), 1.0416667, rel=1e-6)


@proof(Kind.FORMULA, "Roark's Formulas for Stress and Strain, table 8.1; AISC Manual, table 3-23: deflection, mm")
def test_fixed_beam_even_load(held: Held) -> None:
    held(sag(solved(beam(HELD, HELD), even(), of=EI), 1.0), 0.8333333, rel=1e-6)


@proof(Kind.FORMULA)
def test_propped_cantilever_even_load(held: Held) -> None:
    """AISC Manual table 3-23 prints wL^4/185EI, rounded: w x^2 (3 L^2 - 5 L x + 2 x^2)/48EI is largest at (15 - sqrt 33) L/16."""
    solution = solved(beam(HELD, ROLLER), even(), of=EI)
    x = (15 - sqrt(33)) / 16
    held(largest_sag(solution), 1000 * W * LENGTH**4 / 2e5 * x**2 * (3 - 5 * x + 2 * x**2) / 48, rel=1e-7)
    held(largest_sag(solution), 1000 * W * LENGTH**4 / (185 * 2e5), rel=2.5e-3)
    held(solution.reactions["b"][0, 2], 3000.0)
    held(solution.reactions["a"][0, 4], -2000.0)


@proof(Kind.FORMULA)
def test_simple_beam_two_loads(held: Held) -> None:
    """P a (3 L^2 - 4 a^2)/24 EI, AISC Manual (2005) table 3-23."""
    pair = replace(spot(0.5), member_loads=(*spot(0.5).member_loads, *spot(1.5).member_loads))
    held(largest_sag(solved(beam(SIMPLE, ROLLER), pair, of=EI)), 5.7291667, rel=1e-6)


@proof(Kind.FORMULA)
def test_simple_beam_load_off_centre(held: Held) -> None:
    """P a^2 b^2 / 3 EI L under the load, AISC Manual table 3-23."""
    held(sag(solved(beam(SIMPLE, ROLLER), spot(0.6), of=EI), 0.6), 2.94, rel=1e-6)


TIMBER = section(
    e=11e9, g=690e6, area=0.12, i_vertical=0.2 * 0.6**3 / 12, i_sideways=0.6 * 0.2**3 / 12, shear_areas=(0.1, 0.1)
)  # 200 x 600 mm, shear area 5/6 of 0.12 m2


@proof(Kind.DERIVED)
@pytest.mark.parametrize(
    ("supports", "case", "at", "expected"),
    [
        ((HELD, ()), push("b", (0.0, 0.0, -10000.0)), 3.0, 0.00270750988),
        ((SIMPLE, ROLLER), even(5000.0), 1.5, 0.000214689353),
        ((HELD, HELD), even(5000.0), 1.5, 0.000108155262),
    ],
    ids=["cantilever", "simple", "fixed"],
)
def test_shear_flexible_beam(held: Held, supports: tuple[tuple[float, ...], ...], case: CaseLoads, at: float, expected: float) -> None:
    """PL^3/3EI + PL/kGA, 5wL^4/384EI + wL^2/8kGA, wL^4/384EI + wL^2/8kGA; inputs seen in the PyNite repository,
    Testing/test_shear_deformable_members.py."""
    held(sag(solved(beam(*supports, length=3.0), case, of=TIMBER), at) / 1000, expected, rel=1e-6)


@proof(Kind.FORMULA)
def test_shear_flexible_propped_reaction(held: Held) -> None:
    """Same source: 5926.09489 N; without shear deformation it would be 3/8 w L = 5625 N."""
    solution = solved(beam(HELD, ROLLER, length=3.0), even(5000.0), of=TIMBER)
    held(solution.reactions["b"][0, 2], 5926.09489, rel=1e-6)


@proof(Kind.FORMULA)
def test_three_span_beam(held: Held) -> None:
    """Spans 4, 5, 3 m under 10 kN/m and 20 kN at the middle of the second, EI 1e4 kNm2: three-moment equation; PyCBA and
    anastruct agree to 3e-7."""
    points = {name: (x, 0.0, 0.0) for name, x in zip("abcd", (0.0, 4.0, 9.0, 12.0), strict=True)}
    supports = (Support("a", SIMPLE), *(Support(name, ROLLER) for name in "bcd"))
    frame = Frame(points, (bar("m", *"abcd"),), {}, supports)
    load = CaseLoads("all", member_loads=(*even(10e3).member_loads, *spot(6.5, 20e3).member_loads))
    solution = solved(frame, load, of=section(e=200e9, i_vertical=5e-5))
    member = solution.members[0]
    moment = dict(zip(np.round(member.stations, 6).tolist(), member.forces[:, 0, 4].tolist(), strict=True))
    up = [solution.reactions[name][0, 2] for name in "abcd"]
    held(up, [12659.22, 62954.85, 58150.19, 6235.74], abs=0.01)
    held([moment[4.0], moment[9.0], moment[6.5]], [29363.11787, 26292.77567, -28422.05], rel=1e-6)
    held(sag(solution, 6.5), 4.65012, abs=2e-5)


@proof(Kind.MEMORY)
def test_heated_beam_between_walls(held: Held) -> None:
    """N = -E A alpha dT; mechanics texts, from memory."""
    warm = CaseLoads("warm", warmings=(Warming("m", 50.0, 1.2e-5),))
    solution = solved(beam(HELD, HELD), warm, of=EI)
    held(solution.members[0].forces[:, 0, 0], -200e9 * 1e-3 * 1.2e-5 * 50.0)
    held(solution.reactions["a"][0, 0], 120e3)


def test_heated_free_beam_only_grows() -> None:
    solution = solved(beam(HELD, ()), CaseLoads("warm", warmings=(Warming("m", 50.0, 1.2e-5),)), of=EI)
    assert solution.displacements[1, 0] == approx([1.2e-3, 0, 0, 0, 0, 0], abs=1e-15)
    assert np.abs(solution.members[0].forces).max() < 1e-6
    assert all(check.holds for check in solution.self_checks)


@proof(Kind.MEMORY)
def test_settled_support_of_a_fixed_beam(held: Held) -> None:
    """M = 6 E I d / L^2, V = 12 E I d / L^3; fixed-end moment tables, from memory."""
    sunk = CaseLoads("sunk", moved_supports=(MovedSupport("b", 2, -0.01),))
    solution = solved(beam(HELD, HELD), sunk, of=EI)
    held(solution.reactions["b"][0, 2], -12 * 2e5 * 0.01 / 8)
    held(solution.members[0].forces[[0, -1], 0, 4], [6 * 2e5 * 0.01 / 4, -6 * 2e5 * 0.01 / 4])
    held(solution.energy[0], 0.5 * 12 * 2e5 * 0.01**2 / 8)


@proof(Kind.DERIVED)
def test_beam_on_springs(held: Held) -> None:
    """Two end springs in series with the beam: P/4k... each takes half, so the middle sinks P/2k + PL^3/48EI."""
    spring = 1e6
    ends = (inf, inf, spring, inf, 0.0, 0.0), (0.0, inf, spring, 0.0, 0.0, 0.0)
    solution = solved(beam(*ends), spot(1.0), of=EI)
    held(sag(solution, 1.0), 1000 * (P / (2 * spring) + P * LENGTH**3 / (48 * 2e5)))
    held(solution.reactions["a"][0, 2], P / 2)


@proof(Kind.FORMULA)
def test_the_extreme_of_a_growing_load_is_a_station(held: Held) -> None:
    """Simple beam, load growing from nothing to w: M = w L^2/(9 sqrt 3) at L/sqrt 3; Roark table 8.1, case 2e."""
    load = CaseLoads("growing", member_loads=(MemberLoad("m", (0.0, 0.0, 0.0), (0.0, 0.0, -W)),))
    member = solved(beam(SIMPLE, ROLLER), load, of=EI).members[0]
    lowest = int(np.argmin(member.forces[:, 0, 4]))
    held(member.stations[lowest], LENGTH / sqrt(3), rel=1e-8)
    held(member.forces[lowest, 0, 4], -W * LENGTH**2 / (9 * sqrt(3)), rel=1e-12)


@proof(Kind.DERIVED)
def test_partial_load_between_its_own_ends(held: Held) -> None:
    """Simple beam, even load on the middle half: M = w c (L/4 - c/8) at the middle, c = L/2; statics."""
    load = CaseLoads("part", member_loads=(MemberLoad("m", (0.0, 0.0, -W), (0.0, 0.0, -W), 0.5, 1.5),))
    member = solved(beam(SIMPLE, ROLLER), load, of=EI).members[0]
    middle = int(np.argmin(np.abs(member.stations - 1.0)))
    held(member.forces[middle, 0, 4], -W * 1.0 * (LENGTH / 4 - 1.0 / 8))
    held(member.forces[member.stations < 0.5, 0, 2], -W / 2)


@proof(Kind.DERIVED)
def test_unequal_axes_bend_askew(held: Held) -> None:
    """A cantilever with a product of inertia: curvature = M I^-1; unsymmetrical bending, S. Timoshenko, Strength of
    Materials part I, from memory."""
    askew = section(i_vertical=2e-6, i_sideways=1e-6, i_product=6e-7)
    solution = solved(beam(HELD, ()), push("b", (0.0, 0.0, -P)), of=askew)
    inertia = 200e9 * np.array([[1e-6, 6e-7], [6e-7, 2e-6]])
    expected = np.linalg.inv(inertia) @ [0.0, -P] * LENGTH**3 / 3
    held(solution.displacements[1, 0, 1:3], expected)


@proof(Kind.DERIVED)
def test_round_bar_in_twist(held: Held) -> None:
    """T L / G J, C. A. Coulomb."""
    j = pi * 0.02**4 / 32
    solution = solved(beam(HELD, ()), push("b", (0.0, 0.0, 0.0), (50.0, 0.0, 0.0)), of=section(j=j))
    held(solution.displacements[1, 0, 3], 50.0 * LENGTH / (80e9 * j))


def off_axis(centroid: tuple[float, float], pole: tuple[float, float]) -> SectionProperties:
    return section(centroid=centroid, shear_centre=(pole[0] - centroid[0], pole[1] - centroid[1]))


@proof(Kind.DERIVED)
def test_load_beside_the_shear_centre_twists(held: Held) -> None:
    """T = V e; a channel loaded in its web twists."""
    solution = solved(beam(HELD, ()), push("b", (0.0, 0.0, -P)), of=off_axis((0.0, 0.0), (0.03, 0.0)))
    held(solution.members[0].forces[:, 0, 3], P * 0.03)
    held(solution.displacements[1, 0, 3], P * 0.03 * LENGTH / (80e9 * 8e-7))


@proof(Kind.DERIVED)
def test_pull_beside_the_centroid_bends(held: Held) -> None:
    """M = N e about the centroid."""
    solution = solved(beam(HELD, ()), push("b", (P, 0.0, 0.0)), of=off_axis((0.01, 0.02), (0.0, 0.0)))
    forces = solution.members[0].forces[:, 0]
    held(forces[:, 0], P)
    held(forces[:, 4], -P * 0.02)
    held(forces[:, 5], -P * 0.01)
