"""Driveline, obstacles, workshop and pulling loads against published and closed-form values."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from framecheck.errors import UnsolvableError
from framecheck.model.case import Case, Factor
from framecheck.model.vehicle import Driveline, Vehicle
from framecheck.vehicle.balance import VehicleLoads
from framecheck.vehicle.driveline import drive_torque, engine_side, tyre_side
from framecheck.vehicle.load_cases import vehicle_loads
from framecheck.vehicle.masses import NOTHING
from framecheck.vehicle.obstacles import climbing_force, drop_force, energy_force, mass_felt, series
from framecheck.vehicle.scene_builder import scene_of
from tests.unit.vehicle.trucks import asked, truck
from tests.verification.manual import Held, Kind, proof

G = 9.80665
CAR = truck(2000, 1.2, 0.7, 3.0, 1.6)
ALL_FOUR = ("middle left", "middle right", "front left", "front right")


def vehicle(case: Case) -> Vehicle:
    assert case.vehicle is not None
    return case.vehicle


def altered(case: Case = CAR, **changes: object) -> Case:
    return replace(case, vehicle=replace(vehicle(case), **changes))  # type: ignore[arg-type]


def rolling(front: float, rear: float, **changes: object) -> Case:
    """Return the car with roll stiffness on its axles."""
    axles = [replace(axle, roll_stiffness=k) for axle, k in zip(vehicle(CAR).axles, (front, rear), strict=True)]
    return altered(front=axles[0], rear=axles[1], **changes)


def loads(case: Case, kind: str, **factors: Factor) -> VehicleLoads:
    found = vehicle_loads(case, asked(kind, **factors), NOTHING)
    assert found.balance < 1e-9
    return found


def at_points(found: VehicleLoads, because: str) -> np.ndarray:
    """Return force and moment (6,) summed over loads of one cause."""
    return np.sum([[*p.force, *p.moment] for p in found.loads.point_loads if p.because == because], axis=0)


@proof(Kind.DERIVED)
def test_engine_and_tyre_torque_of_a_worked_example(held: Held) -> None:
    """500 Nm x 3.0 x 2.0 = 3000 Nm; 10.6 kN on the axle, mu 1.0, r 0.33 m, final drive 3.7: 945 Nm (computed by hand)."""
    held(engine_side(Driveline(500.0, 3.0, 3.7, (), converter=2.0)), 3000.0)
    held(tyre_side(1.0, 10.6e3, 0.33, 3.7, 1.0), 945.4, abs=0.05)


@proof(Kind.DERIVED)
def test_tyres_hold_more_as_the_load_moves_rearward(held: Held) -> None:
    """Closed form: F = mu (W a/L + F h/L), so F = mu W a / (L - mu h); T = F r / N."""
    case = altered(driveline=Driveline(900.0, 4.0, 3.7, ALL_FOUR), friction=0.9)
    force = 0.9 * 2000 * G * 1.2 / (3.0 - 0.9 * 0.7)
    torque = drive_torque(scene_of(case, NOTHING))
    held(torque.tyres, force * 0.35 / 3.7, rel=1e-9)
    assert torque.governs == "the tyres"
    assert (
        drive_torque(scene_of(altered(driveline=Driveline(50.0, 3.0, 3.7, ALL_FOUR)), NOTHING)).governs == "the engine"
    )


@proof(Kind.MEMORY)
def test_live_axle_unloads_the_right_rear_wheel(held: Held) -> None:
    """dW = T_d/t K_f/(K_f + K_r) (Fundamentals of Vehicle Dynamics, ch. 2, from memory; statics): 300 Nm, t 1.6 m, 3/5."""
    case = rolling(30e3, 20e3, driveline=Driveline(100.0, 3.0, 3.7, ALL_FOUR))
    wheels = [wheel.force[2] for wheel in loads(case, "drive torque", snatch=1.0).wheels]
    held((wheels[2] - wheels[3]) / 2, 300 / 1.6 * 0.6)
    held((wheels[0] - wheels[1]) / 2, -300 / 1.6 * 0.6)


@proof(Kind.DERIVED)
def test_mounts_take_the_torque_and_the_axle_its_share(held: Held) -> None:
    """Statics: +T on the mounts; the frame ahead of them twists with T K_f/K, behind with T K_r/K. Snatch 1.5."""
    case = rolling(30e3, 20e3, driveline=Driveline(100.0, 3.0, 3.7, ALL_FOUR))
    mounts = [
        p for p in loads(case, "drive torque", snatch=1.5).loads.point_loads if p.because == "engine and gearbox mounts"
    ]
    points = case.frame.points
    total = sum(np.array(p.moment) + np.cross(points[p.point], p.force) for p in mounts)
    held(total, [1.5 * 300, 0, 0], abs=1e-9)


@proof(Kind.DERIVED)
def test_final_drive_on_the_frame(held: Held) -> None:
    """Statics: T on the final drive about x, the shafts' F r about y; no roll on the wheels."""
    driveline = Driveline(
        100.0, 3.0, 3.7, ("front left", "front right"), final_drives=((), ("spring left front", "spring right front"))
    )
    found = loads(rolling(30e3, 20e3, driveline=driveline), "drive torque", snatch=1.0)
    drive = [p for p in found.loads.point_loads if p.because == "rear final drive"]
    total = sum(np.array(p.moment) + np.cross(CAR.frame.points[p.point], p.force) for p in drive)
    held(total, [-300, -300 * 3.7, 0], abs=1e-9)
    held(found.wheels[2].force[2], found.wheels[3].force[2])


@proof(Kind.DERIVED)
@pytest.mark.parametrize(("height", "ratio"), [(0.10, 1.03), (0.15, 1.54)])
def test_curb_climb(held: Held, height: float, ratio: float) -> None:
    """F = W sqrt(2Rh - h2)/(R - h), R 0.33 m: 1.03 W at 0.10 m, 1.54 W at 0.15 m (statics, worked by hand)."""
    held(climbing_force(1.0, 0.33, height), ratio, abs=0.005)


def test_a_curb_too_high() -> None:
    with pytest.raises(UnsolvableError, match=r"a curb of 0.400 m is too high for a 0.350 m wheel"):
        loads(CAR, "curb climb head-on", wheel="front", height=0.4)


@proof(Kind.DERIVED)
def test_energy_and_drop(held: Held) -> None:
    """Energy: half m v2 = half F2/k; a load put on a spring suddenly (h = 0) gives twice its weight."""
    force = energy_force(2.0, 5e4, 800.0)
    held(force**2 / (2 * 5e4), 800 * 2.0**2 / 2)
    assert drop_force(100.0, 0.0, 0.1) == 200.0
    sag = drop_force(100.0, 0.3, 0.1) / 100.0 * 0.1
    held(100 * (0.3 + sag), 0.5 * (100 / 0.1) * sag**2)
    held(series(3.0, 6.0), 2.0)


@proof(Kind.MEMORY)
def test_mass_felt_at_the_centre_and_at_the_end(held: Held) -> None:
    """All of m at the centre of gravity; m k2/(k2 + r2) at a distance r (centre of percussion, mechanics texts, from memory)."""
    scene = scene_of(CAR, NOTHING)
    up = np.array([0.0, 1.0, 0.0])
    held(mass_felt(scene, scene.whole.cg, up), 2000)
    end = scene.whole.cg + np.array([2.0, 0.0, 0.0])
    turn = np.linalg.inv(scene.whole.inertia)[2, 2]
    held(mass_felt(scene, end, up), 1 / (1 / 2000 + turn * 4))


@proof(Kind.DERIVED)
def test_twist_over_a_block_by_stiffness_in_series(held: Held) -> None:
    """T = h/t / (1/K_frame + 1/K_f + 1/K_r), a force T/t more on the raised wheel (statics)."""
    case = rolling(30e3, 20e3)
    twist = 0.1 / 1.6 / (1 / 50e3 + 1 / 30e3 + 1 / 20e3)
    found = loads(case, "diagonal twist", wheel="front left", height=0.1, frame_stiffness=50e3)
    held(found.wheels[0].force[2], 2000 * G * 0.3 + twist / 1.6)
    held(found.wheels[2].force[2], 2000 * G * 0.2 - twist / 1.6)


def test_twist_over_a_high_block_is_the_full_twist() -> None:
    found = loads(rolling(30e3, 20e3), "diagonal twist", wheel="front left", height=2.0)
    full = loads(rolling(30e3, 20e3), "one wheel up", wheel="front left", share=1.0)
    assert [w.force[2] for w in found.wheels] == pytest.approx([w.force[2] for w in full.wheels], abs=1e-6)


@proof(Kind.DERIVED)
def test_jack_under_the_middle_of_an_axle(held: Held) -> None:
    """Statics: jacked at x = 0.3 with both front wheels off: J = W x_rear / (x_jack + L), W at 1.8 m from the rear axle."""
    case = replace(CAR, frame=replace(CAR.frame, points={**CAR.frame.points, "horn": (0.3, 0.0, 0.6)}))
    found = loads(case, "jacked at a point", point="horn", wheel="front", factor=1.0)
    held(at_points(found, "jack")[2], 2000 * G * 1.8 / 3.3)
    held(found.wheels[2].force[2], 2000 * G * (1 - 1.8 / 3.3) / 2)


@proof(Kind.DERIVED)
def test_jack_in_a_corner_keeps_the_plane_of_the_springs(held: Held) -> None:
    """Three wheels on equal springs: N is linear over the ground and zero at the lifted wheel."""
    found = loads(CAR, "jacked at a point", point="front left", wheel="front left", factor=1.0)
    fl, fr, rl, rr = (wheel.force[2] for wheel in found.wheels)
    jack = at_points(found, "jack")[2]
    assert fl == 0.0
    held(rr - rl, fr - fl)
    held(jack + fr + rl + rr, 2000 * G)
    held(jack * 0.4 + (rl - fr - rr) * 0.8, 0.0, abs=1e-6)


def test_a_jack_that_cannot_lift_the_wheel() -> None:
    with pytest.raises(
        UnsolvableError, match="a jack at spring left rear can't lift the front left and front right wheel"
    ):
        loads(CAR, "jacked at a point", point="spring left rear", wheel="front", factor=1.0)


@proof(Kind.DERIVED)
def test_two_post_lift_by_lever_arms(held: Held) -> None:
    """Statics: pads at x = 0 and -2.5, the centre of gravity at -1.2: W 1.3/2.5 in front."""
    points = ("front left", "front right", "spring left front", "spring right front")
    lift = [
        p for p in loads(CAR, "two-post lift", points=points, factor=1.0).loads.point_loads if p.because == "lift pad"
    ]
    held([p.force[2] for p in lift], [2000 * G * 0.26] * 2 + [2000 * G * 0.24] * 2)


def test_lift_behind_the_centre_of_gravity_tips() -> None:
    with pytest.raises(UnsolvableError, match="nothing holds the vehicle against turning about y"):
        loads(CAR, "two-post lift", points=("spring left front", "spring right front"), factor=1.0)
