"""Welds against published examples, treat-as-line tables and closed forms."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import pi, radians, sqrt

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.formulas.en1993_1_8 import fillet_shear
from framecheck.checks.welds.check import check_fillets, required_leg, useful_leg
from framecheck.checks.welds.check import shop_lines as sizing_lines
from framecheck.checks.welds.fillet import (
    allowed_factor,
    directional_factor,
    end_loaded_factor,
    european,
    largest_gap,
    largest_leg,
    least_leg,
    least_stitch,
    leg_required,
    line_properties,
    sheet_longitudinal,
    wall_yield,
    weld_forces,
    weld_metal,
)
from framecheck.checks.welds.spots import (
    arc_spot_metal,
    largest_plug,
    least_plug,
    plug,
    resistance_spot,
    shear_flow,
    sheet_round_arc_spot,
    torsion_flow,
)
from framecheck.model.joints import JointLoad
from framecheck.model.weld_joints import Direction, WeldRun
from framecheck.results.row import CheckResult, Mode
from tests.unit.checks.joint_samples import WELDS, weld_group
from tests.unit.checks.lines import mode_of
from tests.verification import weld_groups as groups
from tests.verification.manual import Held, Kind, proof

IN, KSI, KIP = 0.0254, 6.894757e6, 4448.2216
B, D, LEG = 0.06, 0.09, 0.004
E70 = next(row for row in WELDS.electrodes if row.name == "E70")


@proof(Kind.FORMULA)
def test_fillet_per_sixteenth(held: Held) -> None:
    """AISC Manual, part 8: E70 per 1/16 in: nominal 1.856, LRFD 1.392, ASD 0.928 kip/in."""
    nominal = weld_metal(E70.shear, IN / 16) / (KIP / IN)
    held(nominal, 1.8562, rel=1e-4)
    held(0.75 * nominal, 1.392, rel=4e-4, kind=Kind.PRINTED)
    held(nominal / 2, 0.9281, rel=1e-4)


@proof(Kind.PRINTED)
def test_longitudinal_fillet_example(held: Held) -> None:
    """AISC Design Examples v14.0, example J.1: 3/16 in fillet 5.57 kip/in; 200 kip LRFD needs 47.9 in, 133 kip ASD
    47.8 in.
    """
    nominal = weld_metal(E70.shear, 3 / 16 * IN) / (KIP / IN)
    held(nominal, 5.57, rel=1e-3)
    held(200 / (0.75 * nominal), 47.9, rel=3e-3)
    held(133 / (nominal / 2), 47.8, rel=3e-3)


@proof(Kind.FORMULA)
@pytest.mark.parametrize(("angle", "kips"), [(0, 133.62), (90, 200.4), (45, 173.35)])
def test_directional_strength(held: Held, angle: float, kips: float) -> None:
    """ANSI/AISC 360, J2.4: 3/4 in fillet 8 in long, E70, phi 0.75 (course notes print 172.7 for 45 degrees: 1.2925
    there is an arithmetic slip, 1 + 0.5 sin^1.5 45 = 1.2973).
    """
    strength = 0.75 * weld_metal(E70.shear, 0.75 * IN) * 8 * IN * directional_factor(radians(angle))
    held(strength / KIP, kips, rel=1e-3)


@proof(Kind.FORMULA)
def test_directional_increase_is_not_given_on_a_tube_end(held: Held) -> None:
    """Trap: ANSI/AISC 360-22, J2.4(a)(2): kds = 1.0 for fillets to the ends of rectangular HSS."""
    assert allowed_factor(pi / 2, True, Direction.COUNTED) == 1.0
    held(allowed_factor(pi / 2, False, Direction.COUNTED), 1.5)
    assert allowed_factor(pi / 2, False, Direction.IGNORED) == 1.0


Properties = tuple[float, float]  # polar moment, and second moment about the horizontal axis, m3
CLOSED: list[tuple[str, Callable[[], tuple[WeldRun, ...]], Properties]] = [
    ("vertical line", lambda: groups.vertical_line(D, LEG), (D**3 / 12, D**2 / 6 * D / 2)),
    ("two vertical", lambda: groups.two_vertical(B, D, LEG), (D * (3 * B**2 + D**2) / 6, D**2 / 3 * D / 2)),
    ("two horizontal", lambda: groups.two_horizontal(B, D, LEG), (B * (3 * D**2 + B**2) / 6, B * D * D / 2)),
    ("all round", lambda: groups.all_round(B, D, LEG), ((B + D) ** 3 / 6, (B * D + D**2 / 3) * D / 2)),
    ("channel", lambda: groups.channel(B, D, LEG),
     ((8 * B**3 + 6 * B * D**2 + D**3) / 12 - B**4 / (2 * B + D), (B * D + D**2 / 6) * D / 2)),
    ("angle", lambda: groups.angle(B, D, LEG),
     (((B + D) ** 4 - 6 * B**2 * D**2) / (12 * (B + D)), D**2 * (4 * B + D) / (6 * (2 * B + D)) * (D - D**2 / (2 * (B +
     D))))),
    ("u", lambda: groups.u_shape(B, D, LEG),
     ((8 * D**3 + 6 * D * B**2 + B**3) / 12 - D**4 / (2 * D + B), (2 * B * D + D**2) / 3 * D**2 / (2 * D + B))),
]  # fmt: skip


@proof(Kind.FORMULA)
@pytest.mark.parametrize(("name", "runs", "expected"), CLOSED, ids=[row[0] for row in CLOSED])
def test_treat_as_line_table(
    held: Held, name: str, runs: Callable[[], tuple[WeldRun, ...]], expected: Properties
) -> None:
    """Treat-as-line table (O. W. Blodgett, Design of Welded Structures, 7.4, and machine-design handbooks): Jw,
    and Sw times the distance to the fibre it is given for, which is Iw.
    """
    found = line_properties(runs()).inertia
    held((found[0, 0], found[1, 1]), expected, rel=1e-12)


@proof(Kind.DERIVED)
def test_polar_term_that_copies_lose(held: Held) -> None:
    """Trap: flattened tables drop "- b^4 / (2b + d)" from the channel group. At b = d = 1 the two algebraic forms
    15/12 - 1/3 and 27/12 - 4/3 agree: 0.9167.
    """
    polar = line_properties(groups.channel(1.0, 1.0, LEG)).inertia[0, 0]
    held(polar, 15 / 12 - 1 / 3, rel=1e-12)
    held(polar, 27 / 12 - 4 / 3, rel=1e-12)


@proof(Kind.MEMORY)
def test_circle(held: Held) -> None:
    """Treat-as-line table, from memory: Jw = pi d3 / 4, length pi d."""
    found = line_properties(groups.circle(0.05, LEG))
    held(found.length, pi * 0.05, rel=1e-12)
    held(found.inertia[0, 0], pi * 0.05**3 / 4, rel=1e-3)


@proof(Kind.DERIVED)
def test_bracket_in_its_plane(held: Held) -> None:
    """Line method by hand, two vertical lines: f = V / 2d down, + M (b/2) / Jw down, M (d/2) / Jw across."""
    load = JointLoad("P", (0.0, 0.0, -10e3), (-10e3 * 0.2, 0.0, 0.0))
    runs = tuple(
        WeldRun((0.0, run.start[1] - B / 2, run.start[2] - D / 2), (0.0, run.end[1] - B / 2, run.end[2] - D / 2), LEG)
        for run in groups.two_vertical(B, D, LEG)
    )
    polar = D * (3 * B**2 + D**2) / 6
    by_hand = sqrt((10e3 / (2 * D) + 2000 * B / 2 / polar) ** 2 + (2000 * D / 2 / polar) ** 2)
    held(np.linalg.norm(weld_forces(runs, (load,))[0].per_length, axis=2).max(), by_hand, rel=1e-12)


@proof(Kind.DERIVED)
def test_bending_out_of_plane(held: Held) -> None:
    """Line method by hand: M / Sw, Sw = bd + d2 / 3 for a rectangle (treat-as-line table)."""
    load = JointLoad("M", (0.0, 0.0, 0.0), (0.0, 500.0, 0.0))
    found = np.linalg.norm(weld_forces(groups.all_round(B, D, LEG), (load,))[0].per_length, axis=2).max()
    held(found, 500 / (B * D + D**2 / 3), rel=1e-12)


@proof(Kind.DERIVED)
def test_a_group_in_space_balances_its_load(held: Held) -> None:
    """Statics: force and moment of the run ends' straight-varying forces add up to the load (Simpson's rule is
    exact here).
    """
    corners = [(0.0, 0.0, 0.0), (0.05, 0.0, 0.0), (0.05, 0.04, 0.0), (0.05, 0.04, 0.03)]
    runs = tuple(WeldRun(a, b, LEG) for a, b in pairwise(corners))
    load = JointLoad("all", (1e3, -2e3, 3e3), (40.0, 50.0, -60.0))
    (found,) = weld_forces(runs, (load,))
    force, moment = np.zeros(3), np.zeros(3)
    for run, (first, last) in zip(runs, found.per_length, strict=True):
        ends = np.array([run.start, run.end])
        length = float(np.linalg.norm(ends[1] - ends[0]))
        middle = (first + last) / 2
        force += length * middle
        arms = [ends[0], ends.mean(axis=0), ends[1]]
        moment += (
            length / 6 * sum(w * np.cross(r, f) for w, r, f in zip((1, 4, 1), arms, (first, middle, last), strict=True))
        )
    held(force, np.array(load.force))
    held(moment, np.array(load.moment))
    held(found.moment_left, 0.0, abs=1e-9)


@proof(Kind.FORMULA)
def test_base_metal_governs_in_thin_walls(held: Held) -> None:
    """ANSI/AISC 360-22, J4.2 (0.60 Fy t / 1.50 = 0.4 Fy t) against 0.928 kip/in per sixteenth: a 1/8 in wall of 36
    ksi carries 1.8 kip/in, less than a 1/8 in fillet's 1.856 kip/in.
    """
    wall = wall_yield(36 * KSI, IN / 8) / 1.5 / (KIP / IN)
    held(wall, 1.8, rel=1e-4)
    assert wall < weld_metal(E70.shear, IN / 8) / 2 / (KIP / IN)


@proof(Kind.FORMULA)
def test_leg_required_gives_back_the_leg(held: Held) -> None:
    """AISC Manual, part 8: 3.712 kip/in (four sixteenths) needs 1/4 in."""
    held(leg_required(4 * 0.92808 * KIP / IN, E70.shear, 2.0, 0.1), IN / 4, rel=1e-4)


@pytest.mark.parametrize("length", [0.2, 0.7, 1.5, 3.0])
def test_the_required_leg_meets_the_target_and_no_more(length: float) -> None:
    """Welded with the leg that is asked, the same check gives just its target: up to 100 legs, to 300 and beyond."""
    loads = (JointLoad("pull", (150e3 * length, 0.0, 0.0)), JointLoad("less", (0.0, 40e3 * length, 0.0)))
    run = WeldRun((-length / 2, 0.0, 0.0), (length / 2, 0.0, 0.0), 1.0)
    leg = required_leg(weld_group((run,)), loads)
    group = weld_group((replace(run, leg=leg),))
    rows = check_fillets(group, loads, WELDS.least_legs)
    metal = next(row for row in rows if isinstance(row, CheckResult) and row.mode is Mode.WELD_METAL)
    assert metal.safety_factor == approx(metal.target, rel=1e-9)
    assert ("beyond 100 legs" in metal.source) == (length > 100 * leg)


def test_more_leg_than_the_wall_can_use_is_no_help() -> None:
    group = weld_group((WeldRun((0.0, 0.0, 0.0), (0.1, 0.0, 0.0), 0.003),), thickness=0.002)
    leg, _ = useful_leg(group, group.parts[0])
    for times, first in ((0.98, "weld metal"), (1.02, "tearing of sheet rail")):
        run = replace(group.runs[0], leg=leg * times)
        rows = check_fillets(replace(group, runs=(run,)), (JointLoad("pull", (1e3, 0.0, 0.0)),), WELDS.least_legs)
        strength = [row for row in rows if isinstance(row, CheckResult) and row.unit == "N/m"]
        assert mode_of(strength[0]) == first


def test_a_weld_tells_the_shop_its_leg_and_what_each_wall_can_use() -> None:
    group = weld_group((WeldRun((0.0, 0.0, 0.0), (0.1, 0.0, 0.0), 0.003),))
    lines = list(sizing_lines(group, (JointLoad("pull", (1e3, 0.0, 0.0)),)))
    assert [line.what for line in lines] == [
        "leg that the loads ask of the weld metal", "largest leg that the wall of rail can use",
    ]  # fmt: skip
    assert all(line.given == 0.003 for line in lines)
    assert list(sizing_lines(group, ())) == []


@proof(Kind.MEMORY)
def test_sheet_fillet_and_long_fillet(held: Held) -> None:
    """AISI S100-16, J2.5, from memory: 0.75 t Fu from L/t = 25 on; AISC 360-22, eq. (J2-1): beta 0.8 at 200 legs,
    1 to 100.
    """
    held(sheet_longitudinal(400e6, 0.002, 0.050), 0.75 * 0.002 * 400e6)
    held(sheet_longitudinal(400e6, 0.002, 0.020), 0.90 * 0.002 * 400e6)
    held(end_loaded_factor(0.8, 0.004), 0.8)
    assert end_loaded_factor(0.4, 0.004) == 1.0


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("millimetres", "leg"),
    [(6.0, 3.0), (6.35, 3.175), (12.7, 4.7625), (13.0, 5.0), (16.0, 6.0), (19.05, 6.35), (25.4, 7.9375), (2.0, 2.0)],
)
def test_least_leg(held: Held, millimetres: float, leg: float) -> None:
    """ANSI/AISC 360, tables J2.4M and J2.4, the lesser of the two at a thickness; J2.2b: need not exceed the thinner part."""
    held(least_leg(WELDS.least_legs, millimetres * 1e-3).leg, leg * 1e-3)


@proof(Kind.FORMULA)
def test_sizes(held: Held) -> None:
    """ANSI/AISC 360-22: J2.2b (t under 6 mm, else t - 2), J2.2b(e) stitch 4 legs and 38 mm, J3.6 24 t and 300 mm."""
    held((largest_leg(0.003), largest_leg(0.008)), (0.003, 0.006))
    held((least_stitch(0.004), least_stitch(0.012)), (0.038, 0.048))
    held((largest_gap(0.003), largest_gap(0.020)), (0.072, 0.300))


@proof(Kind.DERIVED)
def test_shear_flow_in_a_built_up_box(held: Held) -> None:
    """Beam theory: the flow at the mid-height of a rectangle b x h is 1.5 V / h; Bredt: q 2A = T."""
    b, h = 0.02, 0.06
    held(shear_flow(900.0, b * h / 2 * h / 4, b * h**3 / 12), 1.5 * 900 / h)
    held(torsion_flow(100.0, 0.005), 10e3)


@proof(Kind.MEMORY)
def test_an_arc_spot_on_thin_sheet(held: Held) -> None:
    """AISI S100-16, J2.2.2.1, from memory, sqrt(E / Fu) 22.53 of 400 MPa: a spot of 16 mm on 0.7 mm (da/t 21.9) and on 0.45 mm (34.6).

    By hand: 0.280 (1 + 5.59 x 22.53 / 21.857) x 0.7 x 15.3 x 400 = 8110 N with 2.80; 1.40 x 0.45 x 15.55 x 400 = 3919 N with 3.05.
    """
    for thickness, newtons, factor in ((0.7e-3, 8110, 2.80), (0.45e-3, 3919, 3.05)):
        bears, asked = sheet_round_arc_spot(400e6, 0.016, thickness)
        held(bears, newtons, rel=1e-3)
        held(asked, factor, rel=1e-9)


def test_an_arc_spot_has_no_jump() -> None:
    """A hair of thickness moves what is allowed by a hair, over and between the limits of slenderness."""
    sizes = np.linspace(0.3e-3, 2e-3, 4001)
    allowed = np.array([bears / asked for bears, asked in (sheet_round_arc_spot(400e6, 0.016, size) for size in sizes)])
    assert np.abs(np.diff(allowed) / allowed[1:]).max() < 0.006


@proof(Kind.FORMULA)
@pytest.mark.parametrize(("grade", "fvwd"), [((235, 360), 207.8), ((275, 430), 233.7), ((355, 510), 261.7), ((460, 540), 249.4)])
def test_fillets_by_the_weaker_part(held: Held, grade: tuple[int, int], fvwd: float) -> None:
    """EN 1993-1-8:2005, eq. (4.4), with beta_w of table 4.1 and its factor 1.25: S235 360 / (sqrt 3 x 0.80 x 1.25) = 207.8 MPa."""
    held(fillet_shear(grade[0] * 1e6, grade[1] * 1e6) / 1.25, fvwd * 1e6, rel=3e-4)


def test_a_fillet_says_what_the_european_rule_leaves_of_it() -> None:
    """E70, 289.6 MPa: A500 grade B 400 / (sqrt 3 x 0.8745) = 264 MPa is 91 % of it; a metal of 50 and 65 ksi all of it."""
    assert "gives 91 % of it by the weaker part" in european(E70.shear, [(46 * KSI, 58 * KSI), (50 * KSI, 65 * KSI)])
    assert european(E70.shear, [(50 * KSI, 65 * KSI)]) == ""
    group = weld_group((WeldRun((0.0, 0.0, 0.0), (0.1, 0.0, 0.0), 0.003),))
    rows = check_fillets(group, (JointLoad("pull", (1e3, 0.0, 0.0)),), WELDS.least_legs)
    (metal,) = (row for row in rows if isinstance(row, CheckResult) and row.mode is Mode.WELD_METAL)
    assert str(metal.note) == european(E70.shear, [(part.yield_beside_weld, part.ultimate_beside_weld) for part in group.parts])


@proof(Kind.MEMORY)
def test_plugs_and_spots(held: Held) -> None:
    """AISC table J2.5: 0.60 FEXX pi d2 / 4: 1/2 in E70: 42 ksi x 0.19635 in2 = 8.247 kip. J2.3b: 3 mm sheet: 11 ->
    12 mm, most 15 mm. AISI S100-16, from memory: 1 mm sheet 5.51 kN; arc spot: weld 0.589 (0.55 d)2 Fxx, sheet
    2.20 t da Fu.
    """
    held(plug(E70.shear, IN / 2) / KIP, 8.247, rel=1e-3)
    held(least_plug(0.003), 0.012)
    held(largest_plug(0.003), 0.015)
    held(resistance_spot(0.001), 5.51e3)
    held(arc_spot_metal(482e6, 0.016, 0.0015), 0.589 * (0.55 * 0.016) ** 2 * 482e6, rel=1e-9)
    held(sheet_round_arc_spot(400e6, 0.016, 0.0015)[0], 2.2 * 0.0015 * 0.0145 * 400e6, rel=1e-9)
    held(WELDS.electrodes[1].shear, 0.6 * 70 * KSI, rel=1e-6)
