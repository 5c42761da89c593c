"""Vehicle loads against published and closed-form values."""

from __future__ import annotations

from dataclasses import replace

import pytest

from framecheck.model.case import Case
from framecheck.vehicle.balance import VehicleLoads
from framecheck.vehicle.load_cases import vehicle_loads
from framecheck.vehicle.masses import NOTHING
from tests.unit.vehicle.trucks import asked, truck
from tests.verification.manual import Held, Kind, proof

G = 9.80665


def loads(case: Case, kind: str, **factors: float | str) -> VehicleLoads:
    return vehicle_loads(case, asked(kind, **factors), NOTHING)


def vertical(found: VehicleLoads) -> list[float]:
    """Return the vertical wheel loads: front left, front right, rear left, rear right."""
    return [wheel.force[2] for wheel in found.wheels]


def axles(found: VehicleLoads) -> tuple[float, float]:
    fl, fr, rl, rr = vertical(found)
    return fl + fr, rl + rr


@proof(Kind.PRINTED)
def test_static_wheel_loads_of_a_textbook_exercise(held: Held) -> None:
    """VEH-STATIC-1: a question page working a textbook exercise: 961 kg, 3.27 m, 0.615 m behind the front axle."""
    found = vertical(loads(truck(961, 0.615, 0.5, 3.27, 1.5, gravity=9.81), "static"))
    held(found[0], 3827.1825, rel=1e-7)
    held(found[3], 886.5225, rel=1e-7)


@proof(Kind.PRINTED)
def test_braking_transfer_of_a_calculator_page(held: Held) -> None:
    """VEH-BRAKE: a calculator page, not a textbook: 1500 kg, 0.52 m high, 2.7 m, 0.9 g move 260 kg: m a h / L."""
    car = truck(1500, 1.2, 0.52, 2.7, 1.5)
    moved = axles(loads(car, "braking", deceleration=0.9))[0] - axles(loads(car, "static"))[0]
    held(moved / G, 1500 * 0.9 * 0.52 / 2.7, rel=1e-12, kind=Kind.FORMULA)
    held(moved / G, 260.0, rel=1e-4)


@proof(Kind.DERIVED)
def test_axle_loads_at_rest_and_braking(held: Held) -> None:
    """VEH-AXLES: closed form m g b / L and m a h / L, six digits."""
    car = truck(2200, 1.35, 0.7, 3.0, 1.6)
    held(axles(loads(car, "static")), (11866.0465, 9708.5835), rel=1e-8)
    held(axles(loads(car, "braking", deceleration=0.8)), (15893.3108, 5681.3192), rel=1e-8)


@proof(Kind.DERIVED)
def test_total_transfer_in_a_corner(held: Held) -> None:
    """VEH-AXLES: m a h / t at 0.6 g over both axles."""
    fl, fr, rl, rr = vertical(loads(truck(2200, 1.35, 0.7, 3.0, 1.6), "cornering left", acceleration=0.6))
    held((fr - fl + rr - rl) / 2, 5663.3404, rel=1e-8)


@proof(Kind.DERIVED)
def test_reverse_braking_is_braking_backward(held: Held) -> None:
    """Statics: the transfer m a h / L goes to the rear axle."""
    car = truck(2200, 1.35, 0.7, 3.0, 1.6)
    moved = axles(loads(car, "reverse braking", deceleration=0.6))[1] - axles(loads(car, "static"))[1]
    held(moved, 2200 * 0.6 * G * 0.7 / 3.0, rel=1e-12)


@proof(Kind.DERIVED)
def test_friction_limits_braking(held: Held) -> None:
    """Statics: no more than friction x weight can hold the vehicle."""
    car = truck(2000, 1.3, 0.7, 3.0, 1.6)
    slippery = replace(car, vehicle=replace(car.vehicle, friction=0.4))
    found = loads(slippery, "braking", deceleration=0.9)
    held(sum(wheel.force[0] for wheel in found.wheels), -0.4 * 2000 * G, rel=1e-9)
    assert "0.40 g of the 0.90 g" in found.loads.notes[0]


@proof(Kind.DERIVED)
def test_a_brake_balance_too_far_forward_locks_the_front_axle(held: Held) -> None:
    """Closed form: front alone brakes, F = mu (W b/L + F h/L), so F = mu W b / (L - mu h)."""
    car = truck(2000, 1.3, 0.7, 3.0, 1.6)
    front_only = replace(car, vehicle=replace(car.vehicle, front=replace(car.vehicle.front, brake_share=1.0)))
    found = loads(front_only, "braking", deceleration=0.9)
    by_hand = 1.0 * 2000 * G * 1.7 / (3.0 - 1.0 * 0.7)
    held(sum(wheel.force[0] for wheel in found.wheels), -by_hand, rel=1e-9)


@proof(Kind.MEMORY)
def test_twist_puts_all_of_the_lighter_axle_on_one_wheel(held: Held) -> None:
    """T = W_light t / 2, its opposite at the other axle (Motor Vehicle Structures, 2.4.2, from memory; statics)."""
    front, rear = 2000 * G * 1.8 / 3.0, 2000 * G * 1.2 / 3.0
    found = vertical(loads(truck(2000, 1.2, 0.7, 3.0, 1.6), "one wheel up", wheel="rear right", share=1.0))
    couple = rear * 1.6 / 2
    held(found, [front / 2 + couple / 1.6, front / 2 - couple / 1.6, 0.0, rear], rel=1e-12, abs=1e-9)


@proof(Kind.MEMORY)
@pytest.mark.parametrize("factor", [1.4, 1.75])
def test_sideways_curb_force(held: Held, factor: float) -> None:
    """F = K m g B / 2h, by axle F L2/(L1+L2) (Motor Vehicle Structures, 2.4.4, p. 24; left part from memory)."""
    found = loads(truck(1800, 1.2, 0.75, 3.0, 1.5), "curb strike sideways", side="left", factor=factor)
    total = factor * 1800 * G * 1.5 / (2 * 0.75)
    held([wheel.force[1] for wheel in found.wheels], [-total * 0.6, 0, -total * 0.4, 0], rel=1e-12)
    held(vertical(found), [1800 * G * 0.6, 0, 1800 * G * 0.4, 0], rel=1e-12)


@proof(Kind.DERIVED)
def test_rollover_comes_before_the_stated_g(held: Held) -> None:
    """a_y / g = t / 2h (statics): 1.5 / 1.8 = 0.83 for a high truck on sticky tyres."""
    car = truck(1800, 1.2, 0.9, 3.0, 1.5)
    sticky = replace(car, vehicle=replace(car.vehicle, friction=1.2))
    found = loads(sticky, "cornering left", acceleration=1.0)
    held(found.acceleration[1], 1.5 / 1.8 * G, rel=1e-12)
    held(vertical(found)[0], 0.0, abs=1e-6)
    held(vertical(found)[2], 0.0, abs=1e-6)
    assert "rolls over at 0.83 g" in found.loads.notes[0]


@proof(Kind.MEMORY)
def test_cornering_shared_by_roll_stiffness_and_roll_centre(held: Held) -> None:
    """dW_f = a_y m / t_f (K_f/(K_f+K_r) h_roll + b/L z_rc,f) (vehicle dynamics texts, from memory)."""
    car = truck(2000, 1.2, 0.7, 3.0, 1.6)
    front = replace(car.vehicle.front, roll_stiffness=30e3, roll_centre=0.1)
    rear = replace(car.vehicle.rear, roll_stiffness=20e3, roll_centre=0.3)
    found = vertical(
        loads(replace(car, vehicle=replace(car.vehicle, front=front, rear=rear)), "cornering right", acceleration=0.5)
    )
    h_roll = 0.7 - (0.1 * 0.6 + 0.3 * 0.4)
    by_hand = 0.5 * G * 2000 / 1.6 * (0.6 * h_roll + 0.6 * 0.1)
    held((found[0] - found[1]) / 2, by_hand, rel=1e-12)
    held(sum(found), 2000 * G, rel=1e-12)


@proof(Kind.DERIVED)
def test_a_lifted_wheel_hands_its_couple_to_the_other_axle(held: Held) -> None:
    """Statics: with all roll stiffness in front, the front inner wheel lifts, the rear axle takes the rest of m a h."""
    car = truck(2000, 1.5, 0.7, 3.0, 1.6)
    front, rear = replace(car.vehicle.front, roll_stiffness=1e5), replace(car.vehicle.rear, roll_stiffness=0.0)
    stiff = replace(car, vehicle=replace(car.vehicle, front=front, rear=rear, friction=1.1))
    found = loads(stiff, "cornering left", acceleration=0.8)
    fl, fr, rl, rr = vertical(found)
    rest = 2000 * 0.8 * G * 0.7 - 1000 * G * 1.6 / 2
    held((fl, fr), (0.0, 1000 * G), rel=1e-12, abs=1e-6)
    held((rr - rl) * 1.6 / 2, rest, rel=1e-12)
    assert found.loads.notes == ("the front left wheel lifts off",)
