"""Springs whose travel is used up, hard driving and trailers, against energy, statics and closed forms."""

from __future__ import annotations

from dataclasses import replace
from math import exp, pi, sqrt

import numpy as np
import pytest

from framecheck.model.suspension import LeafAxle, LeafSpring, SuspensionBracket
from framecheck.model.vehicle import Driveline
from framecheck.vehicle.load_cases import vehicle_loads
from framecheck.vehicle.obstacles import landing_force
from framecheck.vehicle.travel import RollLaw, linear, one_after_the_other, roll_law, side_by_side, travel_of
from tests.unit.vehicle.trucks import asked, rails, suspended
from tests.verification.manual import Held, Kind, proof
from tests.verification.test_vehicle_further import ALL_FOUR, CAR, G, altered, loads, vehicle

INCH = 0.0254


@proof(Kind.DERIVED)
def test_a_drop_that_ends_on_the_bump_stop(held: Held) -> None:
    """Energy, by hand in units of the load W and its static sag d = 4 in: dropped 3 in (0.75 d), the stop touches after 3.5 in
    (0.875 d) and is five times the spring. At the touch F = 1.875 W; left to store W (0.75 + 1.875) d - 1.875^2/2 W d = 0.867 W d;
    0.875 y + 2.5 y2 = 0.867 gives y = 0.439 d and F = 1.875 + 5 x 0.439 = 4.07 W. Without the stop W (1 + sqrt(2.5)) = 2.58 W.
    """
    sag, weight = 4 * INCH, 3758.0
    stiffness = weight / sag
    touch = weight + stiffness * 3.5 * INCH
    held(landing_force(weight, 3 * INCH, stiffness, touch, 5 * stiffness) / weight, 4.0721, abs=5e-5)
    held(landing_force(weight, 3 * INCH, stiffness, float("inf"), 0.0) / weight, 1 + sqrt(2.5))


def test_a_drop_moves_by_no_jump_where_the_stop_touches() -> None:
    """Both formulas give the touching force itself where the drop just reaches the stop."""
    weight, stiffness = 4000.0, 40e3
    touch = 2.5 * weight
    height = ((touch / weight - 1) ** 2 - 1) / 2 * weight / stiffness
    near = [landing_force(weight, height * (1 + step), stiffness, touch, 5 * stiffness) for step in (-1e-7, 0.0, 1e-7)]
    assert near == pytest.approx([touch] * 3, rel=1e-6)


def bounce(force: float, stop: float) -> float:
    """Return the energy in a spring of 20 N/mm from rest with a stop after 60 mm, by summing force x travel in thin slices, J."""
    travel = travel_of(20e3, 0.06, None, stop, None)
    forces = np.linspace(0.0, force, 20001)
    moved = np.array([travel.up(each) for each in forces])
    return float(np.sum((forces[1:] + forces[:-1]) / 2 * np.diff(moved)))


@proof(Kind.DERIVED)
def test_the_energy_of_a_spring_and_its_stop(held: Held) -> None:
    """k b2/2 up to the stop, then F_t y + k_s y2/2: 36 + 12 + 5 = 53 J at 2.2 kN with a stop of 100 N/mm."""
    held(bounce(2200.0, 100e3), 0.5 * 20e3 * 0.06**2 + 1200 * 0.01 + 0.5 * 100e3 * 0.01**2, rel=1e-6)


AXLE = roll_law(travel_of(25e3, 0.08, 0.1, None, None), 1.2, 25e3 * 1.2**2 / 2 + 6e3)


@proof(Kind.DERIVED)
def test_an_axle_rolls_on_two_springs_then_on_stop_and_strap(held: Held) -> None:
    """Statics: k s2/2 + bar up to k b s of couple; then one side 5 k: s2 k 5k/(k + 5k) = 1.667 x; then 5 x on both."""
    springs = 25e3 * 1.2**2 / 2
    held(AXLE.moment(0.05), 0.05 * (springs + 6e3))
    at_stop = 2 * 0.08 / 1.2
    both = 2 * (0.1 - 0.08) / 1.2
    beyond = (25e3 * 0.1 - 25e3 * 0.08) * 1.2 / (springs * 5 / 3)
    assert both > beyond
    held(AXLE.moment(at_stop + beyond / 2), at_stop * (springs + 6e3) + beyond / 2 * (springs * 5 / 3 + 6e3))
    last = at_stop + beyond
    held(AXLE.moment(last + 0.02), last * 6e3 + 25e3 * 0.1 * 1.2 + 0.02 * (5 * springs + 6e3))
    held(AXLE.moment(-0.05), -0.05 * (springs + 6e3))


def bisected(law: RollLaw, moment: float) -> float:
    low, high = 0.0, 2.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (low, middle) if law.moment(middle) > moment else (middle, high)
    return low


@proof(Kind.DERIVED)
@pytest.mark.parametrize("moment", [500.0, 3000.0, 9000.0])
def test_axles_in_series_and_side_by_side(held: Held, moment: float) -> None:
    """Series: the tilts of both add at one moment; parallel: the moments add at one roll; each inverted here by bisection."""
    other = roll_law(travel_of(40e3, 0.05, None, None, None), 1.0, 30e3)
    tilt = bisected(AXLE, moment) + bisected(other, moment) + moment / 90e3
    held(one_after_the_other((AXLE, other, linear(90e3))).angle(moment), tilt)
    roll = side_by_side((AXLE, other)).angle(moment)
    held(AXLE.moment(roll) + other.moment(roll), moment)


@proof(Kind.DERIVED)
def test_a_turn_puts_more_on_the_axle_that_is_on_its_stops(held: Held) -> None:
    """By hand: roll moment 0.5 g x W x h shared by equal axles, until the front's springs meet their stops after 20 mm.

    Leaf springs of 30 N/mm, 1 m apart, roll centres given on the ground. Up to the stop 2 x 15 kNm/rad; then the front has one side
    of five times the rate and an endless droop: 25 kNm/rad. Front couple = 600 + 25/(25 + 15) x (M - 1200).
    """
    sides = (0.5, -0.5)

    def axle(which: str, x: float, bump: float | None) -> object:
        names = ("front left", "front right") if which == "front" else ("spring left rear", "spring right rear")
        springs = [
            LeafSpring(
                SuspensionBracket(n, (x + 0.5, y, 0.5)),
                (x - 0.5, y, 0.5),
                SuspensionBracket(n, (x - 0.52, y, 0.6)),
                30e3,
                bump,
            )
            for n, y in zip(names, sides, strict=True)
        ]
        old = vehicle(CAR).front if which == "front" else vehicle(CAR).rear
        return replace(old, live=LeafAxle(*springs), roll_centre=0.0)

    case = altered(front=axle("front", 0.0, 0.02), rear=axle("rear", -3.0, None))
    found = loads(case, "cornering left", acceleration=0.5)
    moment = 0.5 * 2000 * G * 0.7
    couple = (found.wheels[1].force[2] - found.wheels[0].force[2]) * 0.8
    held(couple, 600 + 25 / 40 * (moment - 1200), rel=1e-9)


@proof(Kind.DERIVED)
def test_braking_in_a_turn_stays_within_the_friction_of_the_tyres(held: Held) -> None:
    """Friction circle: with friction 0.8, 0.9 g asked each way, the two accelerations are scaled to 0.8 g in all."""
    found = loads(altered(friction=0.8), "braking in a turn", side="left", deceleration=0.6, acceleration=0.6)
    ground = np.sum([wheel.force for wheel in found.wheels], axis=0)
    held(float(np.hypot(ground[0], ground[1])) / (2000 * G), 0.8, rel=1e-9)
    held(ground[1] / -ground[0], 1.0, rel=1e-9)
    assert ground[0] < 0 < ground[1]


@proof(Kind.DERIVED)
def test_a_swing_overshoots_the_steady_roll(held: Held) -> None:
    """Step response of a body damped by 0.3 in roll (mechanics texts, from memory): 1.37 of the steady transfer; here 1.4 x 0.4 g."""
    held(1 + exp(-pi * 0.3 / sqrt(1 - 0.3**2)), 1.372, abs=5e-4)
    steady = loads(CAR, "cornering left", acceleration=0.4)
    swung = loads(CAR, "left-right swing", side="left", acceleration=0.4, overshoot=1.4)
    apart = [sum(w.force[2] * y for w, y in zip(each.wheels, (1, -1, 1, -1), strict=True)) for each in (steady, swung)]
    held(apart[1] / apart[0], 1.4, rel=1e-9)
    held(swung.acceleration[1], 0.4 * G, rel=1e-9)


@proof(Kind.DERIVED)
def test_reverse_torque_turns_every_reaction_round(held: Held) -> None:
    """Engine 300 Nm x 3.5 in reverse against 4.0 ahead; the gearbox's reaction on its mounts has the other sign."""
    line = Driveline(300.0, 4.0, 3.7, ALL_FOUR, reverse=3.5)
    case = altered(driveline=line, friction=5.0)
    ahead, back = (loads(case, kind, snatch=1.0) for kind in ("drive torque", "reverse torque"))
    turned = [
        sum(p.moment[0] + np.cross(CAR.frame.points[p.point], p.force)[0] for p in each.loads.point_loads if "mounts" in p.because)
        for each in (ahead, back)
    ]
    held(turned[0], 300 * 4.0)
    held(turned[1], -300 * 3.5)
    held(back.acceleration[0], -300 * 3.5 * 3.7 / 0.35 / 2000, rel=1e-9)


@proof(Kind.DERIVED)
def test_a_damper_pushes_the_frame_and_the_ground_holds_it(held: Held) -> None:
    """1.5 kN at 1 m/s is 3 kN at 2 m/s along the damper; the upright part lifts the vehicle off that wheel: a = F_z/m (Newton)."""
    case = suspended()
    found = vehicle_loads(case, asked("damper force", wheel="front left", speed=2.0), rails())
    along = np.array([-0.01, -0.17, 0.37])
    push = 3000 * along / np.linalg.norm(along)
    (load,) = (each for each in found.loads.point_loads if each.because == "front left damper")
    held(load.force, push)
    still = vehicle_loads(case, asked("static"), rails())
    held(found.wheels[0].force[2] - still.wheels[0].force[2], push[2])


@proof(Kind.DERIVED)
def test_the_steering_box_pushes_within_the_vehicle(held: Held) -> None:
    """Action and reaction: 6 kN along the drag link on the box's mounts, nothing outside the vehicle, no acceleration."""
    found = vehicle_loads(suspended(), asked("steering at the lock", side="left", factor=1.0), rails())
    on_box = np.sum([each.force for each in found.loads.point_loads if each.because == "steering box"], axis=0)
    link = np.array([0.1 - 0.15, -0.6 - 0.42, 0.4 - 0.5])
    held(on_box, -6000 * link / np.linalg.norm(link))
    held(found.acceleration, (0.0, 0.0, 0.0), abs=1e-9)


