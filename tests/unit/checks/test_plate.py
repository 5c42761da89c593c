"""The plate check: its rows, balance, energy, what it passes to the frame, what it says of bad input."""

from __future__ import annotations

from dataclasses import replace
from math import inf, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.sparse import csr_array

from framecheck.checks.bolt_strength import weakest
from framecheck.checks.plate import check, frame_loads, judge, solve
from framecheck.checks.plate.banded import solve_banded
from framecheck.checks.plate.bending import bendings, sheet_of
from framecheck.checks.plate.bolt_rows import pull_through
from framecheck.checks.plate.energy import GRAVITY, PlateSpring, asked, stopped_at
from framecheck.checks.plate.lying import pried
from framecheck.checks.plate.membrane import amplitude, elastic_energy, load_of
from framecheck.checks.plate.moments import deflection
from framecheck.checks.plate.state import bent, states_of
from framecheck.checks.plate.stiffeners import mass, shear_lag
from framecheck.errors import InputError, UnsolvableError
from framecheck.model.plate import (
    Bead,
    Closing,
    Drop,
    Edge,
    EdgeHold,
    HeldEdge,
    InPlane,
    Lies,
    Mounting,
    Patch,
    PlateBolt,
    PlateSide,
    Press,
    Rest,
    Rib,
    Step,
    StiffenerRun,
    Strike,
)
from tests.unit.checks.joint_samples import m10
from tests.unit.checks.lines import by_mode, left_open, remarked, results_of
from tests.unit.checks.plates import STEEL, edges, middle, plain, round_bolts, skid

PATCH = Patch((0.3, 0.2), (0.1, 0.08), drag=0.5, drag_angle=0.4, rock=0.02)


# Statics


@pytest.mark.parametrize("in_plane", InPlane)
def test_bolts_carry_the_load_its_drag_and_their_moments(in_plane):
    plate = skid(loads=(Press("press", PATCH, 5000.0),), in_plane=in_plane)
    answer = solve(plate).loads[0]
    forces = answer.bolt_forces
    x, y = np.array([bolt.at for bolt in plate.bolts]).T
    drag = 2500.0 * np.array([np.cos(0.4), np.sin(0.4)])
    assert forces.sum(axis=0) == approx((*drag, 5000.0), rel=1e-6)
    # a sheet that pulls in its own plane does so at its seats' rims, a hair above the bolts: their moment is not in these forces
    near = 1e-6 if in_plane is InPlane.FREE else 5e-3
    assert (float(forces[:, 2] @ x), float(forces[:, 2] @ y)) == approx((5000 * 0.3, 5000 * 0.2), rel=near)
    turn = float(x @ forces[:, 1] - y @ forces[:, 0] + answer.bolt_turning.sum())
    assert turn == approx(0.3 * drag[1] - 0.2 * drag[0], rel=1e-5)


@pytest.mark.parametrize("hold", [EdgeHold.SIMPLE, EdgeHold.CLAMPED, EdgeHold.ELASTIC])
def test_edges_carry_the_load_and_its_moments(hold):
    held = tuple(HeldEdge(e, hold, 1e7 if hold is EdgeHold.ELASTIC else 0.0, 0.0, (f"{e.value} a", f"{e.value} b")) for e in Edge)
    plate = skid(bolts=(), edges=held, loads=(Press("press", Patch((0.3, 0.2), (0.1, 0.08)), 5000.0),))
    corners = {"rear": ((0, 0), (0, 0.5)), "front": ((0.8, 0), (0.8, 0.5)),
               "right": ((0, 0), (0.8, 0)), "left": ((0, 0.5), (0.8, 0.5))}  # fmt: skip
    loads = frame_loads(plate, solve(plate).loads[0])
    at = [corners[load.point.split()[0]][load.point.endswith("b")] for load in loads]
    assert sum(load.force[2] for load in loads) == approx(5000.0, rel=1e-6)
    about_x = sum(y * load.force[2] + load.moment[0] for (_, y), load in zip(at, loads, strict=True))
    about_y = sum(-x * load.force[2] + load.moment[1] for (x, _), load in zip(at, loads, strict=True))
    assert (about_x, about_y) == approx((5000 * 0.2, -5000 * 0.3), rel=1e-6)


def test_three_bolts_share_by_statics_however_stiff_they_hang():
    spots = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    press = Press("press", Patch((0.3, 0.2), (0.1, 0.1)), 100.0)
    for stiffness in (float("inf"), 1e6):
        bolts = tuple(PlateBolt(str(n), spot, 0.02, stiffness=stiffness) for n, spot in enumerate(spots))
        found = solve(plain(1.0, bolts=bolts, loads=(press,))).loads[0].bolt_forces[:, 2]
        assert found == approx([50.0, 30.0, 20.0], rel=1e-6)


def test_springs_under_bolts_add_their_own_give():
    hard, soft = (plain(1.0, bolts=tuple(replace(b, stiffness=k) for b in round_bolts(1.0, 4))) for k in (float("inf"), 2e5))
    works = [bendings(sheet_of(plate), plate.loads)[0].work for plate in (hard, soft)]
    assert works[1] - works[0] == approx(4 * 0.25**2 / 2e5, rel=1e-3)  # four springs, a quarter newton each


def test_frame_takes_what_the_bolts_give_in_vehicle_axes():
    plate = skid(along=(0.0, 1.0, 0.0), across=(-1.0, 0.0, 0.0))
    answer = solve(plate).loads[0]
    loads = frame_loads(plate, answer)
    assert [load.point for load in loads] == [f"point {n}" for n in range(6)]
    for load, (x, y, z) in zip(loads, answer.bolt_forces, strict=True):
        assert load.force == approx((-y, x, z))


def test_bolts_without_frame_points_are_named():
    plate = skid()
    plate = replace(plate, bolts=(replace(plate.bolts[0], frame_point=None), *plate.bolts[1:]))
    with pytest.raises(InputError, match="bolt b0: it names no frame point; name the point it hangs on"):
        frame_loads(plate, solve(plate).loads[0])


# Energy


def test_energy_of_the_load_is_twice_that_in_the_plate():
    """Clapeyron: W^T K W = W^T f for an elastic plate on supports that do not move."""
    from framecheck.checks.plate.bending import plate_stiffness

    plate = plain(1.0, edges=edges(EdgeHold.CLAMPED))
    sheet = sheet_of(plate)
    (bending,) = bendings(sheet, plate.loads)
    row = bending.shape.ravel()
    assert float(row @ (plate_stiffness(sheet) @ row)) == approx(bending.work, rel=1e-9)


@settings(deadline=None)
@given(a=st.floats(1e-3, 1e4), work=st.floats(1e-8, 1e-3), energy=st.floats(0.0, 1e-6))
def test_load_is_the_slope_of_the_energy(a, work, energy):
    """Castigliano's first theorem: the load times how far its point moves per unit is dE/da."""
    step = 1e-4 * a
    slope = (elastic_energy(a + step, work, energy) - elastic_energy(a - step, work, energy)) / (2 * step)
    assert load_of(a, work, energy) * work == approx(slope, rel=1e-6)
    assert amplitude(load_of(a, work, energy), work, energy) == approx(a, rel=1e-6)


def test_drop_on_an_elastic_plate_is_the_spring_formula():
    """F = W (1 + sqrt(1 + 2 h / static deflection)): energy of a fall on a linear spring (statics)."""
    spring, weight = PlateSpring(1e-6, 0.0, float("inf")), 100 * GRAVITY
    expected = weight * (1 + sqrt(1 + 2 * 0.05 / (weight * spring.work)))
    assert stopped_at(Drop(100.0, 0.05), spring) == approx(expected, rel=1e-9)
    speed = sqrt(2 * GRAVITY * 0.05)  # what the fall ends at: one blow, one answer
    assert stopped_at(Closing(100.0, speed), spring) == approx(expected, rel=1e-9)


def test_a_step_falls_less_its_clearance_and_a_weight_above_collapse_never_stops():
    assert asked(Step(100.0, 0.3, 0.25), 0.0) == approx(asked(Drop(100.0, 0.05), 0.0))
    assert asked(Step(100.0, 0.2, 0.25), 0.0) == 0.0
    assert stopped_at(Drop(1000.0, 0.01), PlateSpring(1e-6, 0.0, 5000.0)) == float("inf")


def test_energy_past_collapse_is_the_collapse_load_times_the_way():
    spring = PlateSpring(1e-6, 0.0, 1000.0)
    assert spring.absorbed(1000.0) == approx(0.5)
    assert spring.absorbed(3000.0) == approx(0.5 + 1000 * 2000e-6)


def test_strike_is_judged_by_energy_up_to_the_pan():
    light, heavy = (skid(loads=(Strike("drop", PATCH, Drop(m, 0.05)),)) for m in (60.0, 600.0))
    rows = [by_mode(check(plate))["strike's energy, to touching the pan"] for plate in (light, heavy)]
    assert [row.grade.value for row in rows] == ["PASS", "LOW"]
    assert rows[0].capacity == rows[1].capacity
    assert rows[1].demand == approx(10 * rows[0].demand)
    lines = check(skid(loads=(Strike("drop", PATCH, Drop(60.0, 0.05)),)))
    assert "yields in bending" not in by_mode(lines)
    assert any("permanent set" in subject for subject in remarked(lines))
    assert "yields in bending" in by_mode(check(skid(gap=None, loads=(Strike("drop", PATCH, Drop(60.0, 0.05)),))))


# Rows


def test_every_mode_has_a_row_with_a_source():
    bead = Bead("bead", StiffenerRun.X, 0.12, 0.1, 0.7, 0.05, 0.01, 0.02)
    lines = check(skid(loads=(Press("press", PATCH, 5000.0),), stiffeners=(bead,)))
    assert all(row.source for row in results_of(lines))
    assert set(by_mode(lines)) == {
        "yields in bending", "stiffener bead yields", "stiffener bead buckles, or turns over",
        "folds (limit analysis, upper bound)", "touches the pan",
        "a sharp rock punches through", "a sharp rock leaves a dent", "bolt pulls through the sheet",
        "bolt shear, threads in the shear plane", "bolt tension with prying", "bolt shear with tension",
        "bolt bears on the sheet", "bolt tears out of the sheet",
    }  # fmt: skip


def test_what_is_missing_is_said():
    plate = skid(gap=None, loads=(Press("press", Patch((0.4, 0.25), (0.1, 0.1)), 100.0),))
    plate = replace(plate, bolts=tuple(replace(bolt, bolt=None) for bolt in plate.bolts))
    found = left_open(check(plate))
    assert "skid, touching the pan" in found
    assert "skid, punching and denting by a sharp rock" in found
    assert all(f"skid, bolt {bolt.name}" in found for bolt in plate.bolts)
    assert found["skid, bolt b0"] == "strength, bearing, tear-out: its size and grade are not given"


def test_upward_load_presses_a_plate_under_the_frame_and_pulls_one_on_top():
    press = Press("press", Patch((0.4, 0.25), (0.4, 0.2)), 5000.0)
    under, over = (by_mode(check(skid(mounting=m, loads=(press,), lies=Lies.SPACERS))) for m in Mounting)
    assert "bolt tension, prying not counted" not in under
    assert over["bolt tension, prying not counted"].demand > 5000.0 / 6


def test_a_plate_against_its_frame_pries_its_bolts_and_rests_only_press():
    """Statics: what bolts and ledges put on the plate adds up to the load; ledges push, bolts pull."""
    plate = pried(skid())
    bending = bent(sheet_of(plate), plate.loads)[0]
    assert float(bending.at_bolts.sum() + bending.at_rests.sum()) == approx(1.0, rel=1e-6)
    assert bending.at_rests.min() >= 0 > bending.at_bolts.max()
    assert by_mode(check(skid()))["bolt tension with prying"].demand > 0


def test_a_strip_on_two_ledges_pries_as_a_beam_does():
    """A wide strip bolted down along a ledge 2 c wide at each end, each ledge's inner edge a pivot: the beam between pivots, its ends
    bent back over c to the bolts. Slope at a pivot: P L2 / 16 - M L / 2 = M c / 3 (beam tables, E I = 1), bolts' pull M / c.
    """
    c, length = 0.05, 1.0
    bolts = tuple(PlateBolt(f"{x} {y}", (x, y), 1e-3) for x in (c, length - c) for y in np.linspace(0.0, 0.02, 3))
    ledges = tuple(Rest((x, y)) for x in (2 * c, length - 2 * c) for y in np.linspace(0.0, 0.02, 3))
    press = Press("line", Patch((length / 2, 0.01), (0.002, 0.0199)), 1.0)
    plate = plain(length, 0.02, bolts=bolts, rests=ledges, loads=(press,), material=replace(STEEL, shear_modulus=100e9))
    bending = bent(sheet_of(plate), (press,))[0]
    span = length - 4 * c
    moment = span**2 / 16 / (span / 2 + c / 3)
    assert -float(bending.at_bolts.sum()) == approx(2 * moment / c, rel=0.01)


def test_a_rest_on_the_plate_s_edge_presses_in_the_window_about_a_patch_too():
    """The window moves as the whole plate does about it: both meshes give one movement, but for the coarse one's."""
    bolts = tuple(PlateBolt(f"{x} {y}", (x, y), 0.02) for x in (0.05, 0.75) for y in (0.05, 0.45))
    rests = tuple(Rest((x, y)) for x in (0.38, 0.42) for y in (0.0, 0.25, 0.42, 0.46, 0.5))
    press = Press("by the edge", Patch((0.33, 0.45), (0.09, 0.09)), 1000.0)
    (state,) = states_of(plain(0.8, 0.5, bolts=bolts, rests=rests, loads=(press,)), [inf])
    assert state.bending.at_rests[[4, 9]].max() > 0.1
    whole, window = (float(deflection(part.shape).max()) for part in state.parts)
    assert window == approx(whole, rel=0.05)


def test_membrane_makes_the_plate_stiffer_and_pulls_its_bolts():
    free, held = (solve(skid(in_plane=way)).loads[0] for way in (InPlane.FREE, InPlane.HELD))
    assert held.deflection < 0.6 * free.deflection
    assert np.abs(held.bolt_forces[:, :2]).max() > 10 * np.abs(free.bolt_forces[:, :2]).max()
    assert held.bolt_forces[:, :2].sum(axis=0) == approx((0.0, 0.0), abs=1e-3)
    assert held.bolt_forces[1, 1] > 0 > held.bolt_forces[4, 1]  # right and left middle bolts are drawn inward
    modes = by_mode(check(skid(in_plane=InPlane.HELD)))
    assert "yields, bending and stretching" in modes
    assert any(mode.startswith("slip lets the sheet draw in") for mode in modes)


def test_held_plate_at_a_small_load_bends_as_a_free_one():
    press = Press("press", PATCH, 1.0)
    free, held = (solve(skid(in_plane=way, loads=(press,))).loads[0] for way in (InPlane.FREE, InPlane.HELD))
    assert held.deflection == approx(free.deflection, rel=1e-4)


def test_first_yield_is_where_the_stress_reaches_yield():
    for way in InPlane:
        found = solve(skid(in_plane=way)).loads[0].first_yield
        at_yield = solve(skid(in_plane=way, loads=(Press("press", Patch((0.4, 0.25), (0.1, 0.1)), found),))).loads[0]
        assert at_yield.stress.stress == approx(250e6, rel=1e-6 if way is InPlane.FREE else 0.03)  # held: the shape moves a little


def test_clearance_is_less_what_stands_up():
    bead = Bead("bead", StiffenerRun.X, 0.12, 0.1, 0.7, 0.05, 0.01, 0.02, PlateSide.UP)
    assert solve(skid(stiffeners=(bead,))).clearance == approx(0.02)
    assert solve(skid(stiffeners=(replace(bead, facing=PlateSide.DOWN),))).clearance == approx(0.03)


def test_weight_is_sheet_and_ribs():
    rib = Rib("rib", StiffenerRun.Y, 0.2, 0.1, 0.4, 0.03, 0.005)
    assert mass(skid(stiffeners=(rib,))) == approx(7850 * (0.8 * 0.5 * 0.004 + 0.3 * 0.03 * 0.005))


def test_welded_ribs_yield_beside_the_weld():
    rib = Rib("rib", StiffenerRun.X, 0.12, 0.1, 0.7, 0.02, 0.005)
    metal = replace(STEEL, welded_yield=100e6)
    row = by_mode(check(replace(skid(stiffeners=(rib,)), material=metal)))["stiffener rib yields"]
    assert row.capacity == 100e6


def test_stiffeners_stiffen_and_work_alike_along_either_axis():
    beads = tuple(Bead(f"bead {y}", StiffenerRun.X, y, 0.1, 0.7, 0.05, 0.01, 0.02) for y in (0.12, 0.38))
    plain_one, stiffened = (solve(skid(stiffeners=each)).loads[0] for each in ((), beads))
    assert stiffened.deflection < plain_one.deflection
    turned = skid(stiffeners=tuple(replace(bead, run=StiffenerRun.Y) for bead in beads))
    turned = replace(turned, length=0.5, width=0.8, bolts=tuple(replace(b, at=b.at[::-1]) for b in turned.bolts),
                     loads=(Press("press", Patch((0.25, 0.4), (0.1, 0.1)), 5000.0),))  # fmt: skip
    other = solve(turned).loads[0]
    assert other.deflection == approx(stiffened.deflection, rel=1e-9)
    assert other.stiffeners[0].stress == approx(stiffened.stiffeners[0].stress, rel=1e-9)
    assert other.collapse == approx(stiffened.collapse, rel=1e-6)


def test_shear_lag_joins_where_its_ranges_meet():
    assert shear_lag(0.02, 1.0) == 1.0
    assert shear_lag(0.7, 1.0) == approx(shear_lag(0.7001, 1.0), rel=0.01)


def test_pull_through_takes_the_lesser_rule_with_its_own_factor():
    for seat, counted in ((0.015, 0.015), (0.03, 0.01905)):
        least = weakest(pull_through(0.003, seat, 400e6), 2.0)
        assert (least.value, least.asked) == (approx(1.5 * 0.003 * counted * 400e6), 3.0)
    asked = [weakest(pull_through(thickness, 0.015, 400e6), 2.0).asked for thickness in (4.7625e-3, 5.00063e-3, 6e-3)]
    assert asked == approx([3.0, 2.5, 2.0], rel=1e-4)


def test_judging_again_gives_the_same_rows():
    plate = skid()
    assert judge(solve(plate)) == check(plate)


def test_a_bolt_a_hair_from_the_edge_is_a_bolt_on_the_edge():
    """Found by fuzz: a mesh line 0.3 micrometres from the edge cost the matrix all its digits."""
    spots = ((0.0, 0.0), (0.8, 0.0), (0.0, 0.5), (0.8, 0.5))
    near = tuple((3e-7 if x == 0 else x, y) for x, y in spots)
    moved = [
        middle(plain(0.8, 0.5, bolts=tuple(PlateBolt(f"b{n}", at, 1e-3) for n, at in enumerate(each))))[0][0]
        for each in (spots, near)
    ]
    assert moved[1] == approx(moved[0], rel=1e-9)


def test_seats_that_lie_over_each_other_are_named():
    bolts = (*skid().bolts, PlateBolt("extra", (0.03, 0.04), 0.02, "point 6", m10()))
    with pytest.raises(InputError, match="bolt extra: its seat lies over the seat of bolt b0; give each bolt its own place"):
        solve(skid(bolts=bolts))


def test_a_plate_that_costs_all_digits_is_refused_in_words():
    matrix, free = csr_array(np.diag([1.0, -1.0, 1.0])), np.ones(3, dtype=bool)
    with pytest.raises(UnsolvableError, match="so nearly loose, or so stiff"):
        solve_banded(matrix, free, np.ones((3, 1)), (1, 3))


@pytest.mark.parametrize("size", [0.05, 1e-3, 1e-6, 1e-9])
def test_a_patch_however_small_puts_all_its_force_on_the_plate(size):
    """Found by fuzz: a patch between two mesh lines pressed on nothing. The bolts carry what presses (statics)."""
    press = Press("sharp", Patch((0.4, 0.25), (size, 0.04)), 1000.0)
    answer = solve(skid(loads=(press,))).loads[0]
    assert float(answer.bolt_forces[:, 2].sum()) == approx(1000.0, rel=1e-9)
