"""What holds for any vehicle in any load case."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from framecheck.errors import UnsolvableError
from framecheck.model.case import Case, LoadCase
from framecheck.model.suspension import BumpStop, DoubleWishbone, LeafAxle, SuspensionBracket
from framecheck.model.vehicle import Axle, Mass
from framecheck.vehicle.balance import VehicleLoads
from framecheck.vehicle.load_cases import vehicle_loads
from framecheck.vehicle.masses import combine, point_mass
from framecheck.vehicle.obstacles import landing_force
from framecheck.vehicle.statics import shared
from tests.unit.vehicle.trucks import FURTHER, MASSES, POINTS, STANDARD, pickup, rails, suspended

coordinate = st.floats(-4.0, 4.0).map(lambda value: round(value, 3))
place = st.tuples(coordinate, coordinate, coordinate)
names = st.lists(st.sampled_from(sorted(POINTS)), min_size=1, max_size=4, unique=True).map(tuple)
mass = st.builds(
    Mass,
    name=st.just("extra"),
    mass=st.floats(1.0, 2000.0),
    at=st.tuples(st.floats(-3.2, 0.2), st.floats(-0.7, 0.7), st.floats(0.4, 1.8)),
    on=names,
)


every_case = st.sampled_from(STANDARD + FURTHER)


def solved(case: Case, load_case: LoadCase) -> VehicleLoads:
    try:
        return vehicle_loads(case, load_case, rails())
    except UnsolvableError:
        assume(False)
        raise


@settings(deadline=None)
@given(st.lists(mass, max_size=4), st.sampled_from(STANDARD))
def test_the_six_equations_close_and_no_wheel_pulls_on_the_ground(extra: list[Mass], load_case: LoadCase) -> None:
    found = solved(pickup(masses=MASSES + tuple(extra)), load_case)
    assert found.balance < 1e-9
    assert min(wheel.force[2] for wheel in found.wheels) >= 0.0


@settings(deadline=None)
@given(st.lists(mass, max_size=4), every_case, st.floats(0.2, 1.4))
def test_the_six_equations_close_with_every_kind(extra: list[Mass], load_case: LoadCase, friction: float) -> None:
    case = suspended(friction)
    assert case.vehicle is not None
    found = solved(replace(case, vehicle=replace(case.vehicle, masses=MASSES + tuple(extra))), load_case)
    assert found.balance < 1e-9
    assert min(wheel.force[2] for wheel in found.wheels) >= 0.0


@settings(deadline=None)
@given(st.lists(mass, max_size=4), st.sampled_from(STANDARD))
def test_newton_holds_for_the_whole_vehicle(extra: list[Mass], load_case: LoadCase) -> None:
    """Sum of ground forces and weight = mass x acceleration, from the wheel rows alone."""
    masses = MASSES + tuple(extra)
    found = solved(pickup(masses=masses), load_case)
    total = sum(part.mass for part in masses) + 2 * 45 + 2 * 70 + rails().mass
    ground = np.sum([wheel.force for wheel in found.wheels], axis=0)
    weight = np.array([0.0, 0.0, -total * 9.80665])
    assert ground + weight == pytest.approx(total * np.array(found.acceleration), rel=1e-9, abs=1e-6 * total)


@settings(deadline=None)
@given(
    st.lists(place, min_size=1, max_size=6, unique=True), place, st.lists(st.floats(-1e4, 1e4), min_size=6, max_size=6)
)
def test_shared_forces_are_statically_equivalent(
    points: list[tuple[float, float, float]], at: tuple[float, float, float], load: list[float]
) -> None:
    rows = shared(np.array(load), at, tuple(points))
    moment = np.sum(np.cross(np.array(points) - np.array(at), rows[:, :3]) + rows[:, 3:], axis=0)
    assert rows[:, :3].sum(axis=0) == pytest.approx(load[:3], abs=1e-6)
    assert moment == pytest.approx(load[3:], abs=1e-4)


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(0.1, 100.0), place), min_size=2, max_size=6))
def test_masses_combine_in_any_grouping(parts: list[tuple[float, tuple[float, float, float]]]) -> None:
    rods = [point_mass(weight, at) for weight, at in parts]
    one, two = combine(rods), combine([combine(rods[:1]), combine(rods[1:])])
    assert two.cg == pytest.approx(one.cg, abs=1e-9)
    assert two.inertia == pytest.approx(one.inertia, rel=1e-9, abs=1e-7)


def limited(bump: float, droop: float) -> Case:
    """Return the pickup with travel limits on all its springs, the front ones with stops of their own."""
    case = suspended()
    vehicle = case.vehicle
    assert vehicle is not None
    assert isinstance(vehicle.rear.live, LeafAxle)
    leaves = (replace(each, bump=bump, droop=droop, stop=each.eye) for each in (vehicle.rear.live.left, vehicle.rear.live.right))
    rear = replace(vehicle.rear, live=LeafAxle(*leaves))
    return replace(case, vehicle=replace(vehicle, rear=rear, front=stopped(vehicle.front, bump, droop)))


def stopped(axle: Axle, bump: float, droop: float) -> Axle:
    """Return the front axle with bump stops beside its springs."""
    wheels = []
    for wheel, side in ((axle.left, 1.0), (axle.right, -1.0)):
        corner = wheel.corner
        assert isinstance(corner, DoubleWishbone)
        stop = BumpStop((-0.08, side * 0.6, 0.24), SuspensionBracket(corner.spring.bracket.point, (-0.1, side * 0.55, 0.6)))
        spring = replace(corner.spring, bump=bump, droop=droop, stop=stop, strap=stop)
        wheels.append(replace(wheel, corner=replace(corner, spring=spring)))
    return replace(axle, left=wheels[0], right=wheels[1])


def on_frame(found: VehicleLoads) -> np.ndarray:
    """Return force and moment (n, 6) by frame point."""
    total = {point: np.zeros(6) for point in POINTS}
    for load in found.loads.point_loads:
        total[load.point] = total[load.point] + np.array([*load.force, *load.moment])
    return np.array(list(total.values()))


@settings(deadline=None)
@given(every_case, st.floats(0.01, 0.2), st.floats(0.01, 0.2), st.data())
def test_a_hair_more_of_any_number_moves_no_force_by_more_than_a_hair(
    load_case: LoadCase, bump: float, droop: float, data: st.DataObject
) -> None:
    """Relative steps of 1e-7 of a factor or of the travel: forces on the frame move by 1e-4 of the largest at most."""
    scale = data.draw(st.floats(0.3, 2.0))
    sized = {name: scale * value for name, value in load_case.factors.items() if isinstance(value, float)}
    asked_for = replace(load_case, factors={**load_case.factors, **sized})
    before = on_frame(solved(limited(bump, droop), asked_for))
    step = 1.0 + 1e-7
    for name in sized:
        nudged = replace(asked_for, factors={**asked_for.factors, name: step * sized[name]})
        assert np.abs(on_frame(solved(limited(bump, droop), nudged)) - before).max() <= 1e-4 * np.abs(before).max()
    for other in (limited(bump * step, droop), limited(bump, droop * step)):
        assert np.abs(on_frame(solved(other, asked_for)) - before).max() <= 1e-4 * np.abs(before).max()


@settings(deadline=None)
@given(st.floats(0.01, 0.2), st.floats(0.01, 0.2), every_case)
def test_the_six_equations_close_on_stops_and_straps(bump: float, droop: float, load_case: LoadCase) -> None:
    assert solved(limited(bump, droop), load_case).balance < 1e-9


@settings(deadline=None)
@given(st.floats(0.01, 0.3), st.floats(1.0, 30.0), st.floats(0.0, 0.5))
def test_no_stop_makes_a_landing_softer(bump: float, over: float, height: float) -> None:
    """A stop at least as stiff as the spring takes the same work in less travel, so with more force."""
    load, stiffness = 4000.0, 40e3
    free = landing_force(load, height, stiffness, float("inf"), 0.0)
    assert landing_force(load, height, stiffness, load + stiffness * bump, over * stiffness) >= free * (1 - 1e-12)
