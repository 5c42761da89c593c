"""What a load case asks of a vehicle that does not have it: refused by name, with the remedy."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.errors import InputError
from framecheck.model.case import Case, LoadCase, Sum
from framecheck.model.vehicle import Clearance, Driveline, Mass, VehiclePlace
from framecheck.vehicle.balance import VehicleLoads
from framecheck.vehicle.clearance import Moved, Movement, gaps_left, opening
from framecheck.vehicle.load_cases import all_vehicle_loads, case_loads, vehicle_loads
from framecheck.vehicle.masses import NOTHING, combine
from framecheck.vehicle.scene_builder import change, mass_account
from tests.unit.vehicle.trucks import DRIVELINE, MASSES, asked, pickup, rails, suspended


def changed(**values: object) -> Case:
    """Return the pickup on its suspension with a vehicle of other values."""
    case = suspended()
    assert case.vehicle is not None
    return replace(case, vehicle=replace(case.vehicle, **values))  # type: ignore[arg-type]


def undriven() -> Case:
    case = pickup(driveline=DRIVELINE)
    assert case.vehicle is not None
    return replace(case, vehicle=replace(case.vehicle, rear=replace(case.vehicle.rear, driven=False)))


def backwards() -> Case:
    case = pickup()
    assert case.vehicle is not None
    return replace(case, vehicle=replace(case.vehicle, front=case.vehicle.rear, rear=case.vehicle.front))


def crossed() -> Case:
    case = pickup()
    assert case.vehicle is not None
    front = case.vehicle.front
    return replace(case, vehicle=replace(case.vehicle, front=replace(front, left=front.right, right=front.left)))


REFUSED: tuple[tuple[Case, LoadCase, str], ...] = (
    (pickup(), asked("braking", deceleration="hard"), "braking: deceleration: 'hard' is not a number"),
    (pickup(), asked("one wheel up", wheel=3.0, share=1.0), "one wheel up: wheel: 3 is not a name"),
    (
        pickup(),
        asked("underbody strike", point="midle left", factor=1.0, drag=0.5),
        "'midle left' is not a frame point; did you mean 'middle left'?",
    ),
    (pickup(), asked("underbody strike", point="q", factor=1.0, drag=0.5), "'q' is not a frame point; name one"),
    (pickup(masses=MASSES[:4]), asked("load bed", factor=2.5), "no mass is a payload"),
    (
        pickup(),
        asked("tie-down", toward="forward", acceleration=0.8, strap_stiffness=80e3, tyre_stiffness=250e3),
        "no straps are described",
    ),
    (
        suspended(),
        asked("tie-down", toward="inward", acceleration=0.8, strap_stiffness=80e3, tyre_stiffness=250e3),
        "'inward' is no side; use one of",
    ),
    (pickup(), asked("drive torque", snatch=1.5), "driveline: not described, or without mounts"),
    (changed(driveline=Driveline(400.0, 3.5, 4.1, (), 1.8)), asked("drive torque", snatch=1.5), "or without mounts"),
    (undriven(), asked("drive torque", snatch=1.5), "driveline: no axle is driven"),
    (pickup(), asked("diagonal twist", wheel="rear left", height=0.1), "the roll stiffness of an axle is not known"),
    (backwards(), asked("static"), "the front axle is not ahead of the rear axle"),
    (crossed(), asked("static"), "front axle: its left wheel is not to the left of its right wheel"),
    (replace(pickup(), vehicle=None), asked("static"), "load cases from the vehicle need one"),
)


@pytest.mark.parametrize(("case", "load_case", "words"), REFUSED, ids=[words for *_, words in REFUSED])
def test_refused_by_name(case: Case, load_case: LoadCase, words: str) -> None:
    with pytest.raises(InputError) as caught:
        case_loads(case, load_case, rails())
    assert words in str(caught.value)


def test_a_gap_between_two_parts_at_one_place_has_no_direction() -> None:
    none = (0.0, 0.0, 0.0)
    points, still = {"a": none}, Moved({"a": Movement(none, none, none)}, {})
    pair = Clearance("tank to shaft", VehiclePlace("a"), VehiclePlace("a"), 0.02)
    with pytest.raises(InputError, match="clearance tank to shaft: its two places are the same"):
        opening(pair, points, still)


def test_a_gap_between_two_parts_is_measured_along_their_line() -> None:
    """10 mm apart along the line of 3, 4, 0: components 6 and 8 mm; what moves across it takes nothing (by hand)."""
    points = {"a": (0.3, 0.4, 0.0), "b": (0.0, 0.0, 0.0)}
    none = (0.0, 0.0, 0.0)
    moved = Moved({"a": Movement(points["a"], (0.006, 0.008, 0.005), none), "b": Movement(none, none, none)}, {})
    pair = Clearance("gap", VehiclePlace("a"), VehiclePlace("b"), 0.02)
    assert opening(pair, points, moved) == approx(0.01)
    still = Moved({"a": Movement(points["a"], none, none), "b": Movement(none, none, none)}, {})
    assert gaps_left([pair], points, {"bump": moved}, still)[0].left == approx(0.03)


@pytest.mark.parametrize(("end", "front"), [("front", 0.7), ("rear", 0.3)])
def test_one_brake_share_leaves_the_rest_to_the_other_axle(end: str, front: float) -> None:
    case = pickup()
    assert case.vehicle is not None
    axle = replace(getattr(case.vehicle, end), brake_share=0.7)
    case = replace(case, vehicle=replace(case.vehicle, **{end: axle}))
    pushed = [wheel.force[0] for wheel in vehicle_loads(case, asked("braking", deceleration=0.3), rails()).wheels]
    assert sum(pushed[:2]) / sum(pushed) == approx(front)
    assert max(pushed) < 0.0


def summed(case: Case, *parts: tuple[LoadCase, float]) -> VehicleLoads:
    """Return the sum of load cases under the name "sum"."""
    asked_for = Sum("sum", tuple((each.name, factor) for each, factor in parts))
    return all_vehicle_loads(replace(case, load_cases=tuple(each for each, _ in parts), sums=(asked_for,)), rails())[-1]


def test_a_sum_of_load_cases_is_the_sum_of_their_forces_with_the_weight_once() -> None:
    """Superposition: rest + 2 (bump - rest) - 0.5 (braking - rest); the frame weighs its weight once, not 1.5 times."""
    bump, braking, rest = asked("vertical bump", factor=1.4), asked("braking", deceleration=0.2), asked("static")
    found = summed(pickup(), (bump, 2.0), (braking, -0.5))
    one, two, still = (vehicle_loads(pickup(), each, rails()) for each in (bump, braking, rest))
    for wheel, a, b, c in zip(found.wheels, one.wheels, two.wheels, still.wheels, strict=True):
        assert wheel.force == approx(2 * np.array(a.force) - 0.5 * np.array(b.force) - 0.5 * np.array(c.force), abs=1e-6)
    linear = [np.array(each.loads.motion.linear) for each in (one, two, still)]
    assert found.loads.motion.linear == approx(2 * linear[0] - 0.5 * linear[1] - 0.5 * linear[2], abs=1e-9)
    assert found.loads.motion.linear[2] == approx(-1.8 * 9.80665)
    assert found.balance < 1e-12
    assert found.loads.free_free


def test_no_tyre_of_a_sum_pulls_on_the_ground() -> None:
    """Cornering and twist lift the same wheel: it carries nothing, the rest of the vehicle still weighs its weight, no more."""
    corner, twist = asked("cornering left", acceleration=0.7), asked("one wheel up", wheel="front right", share=1.0)
    found = summed(pickup(), (corner, 1.0), (twist, 1.0), (asked("static"), -1.0))
    apart = [vehicle_loads(pickup(), each, rails()) for each in (corner, twist, asked("static"))]
    straight = [a.force[2] + b.force[2] - c.force[2] for a, b, c in zip(*(each.wheels for each in apart), strict=True)]
    assert min(straight) < 0.0
    loads = [wheel.force[2] for wheel in found.wheels]
    assert min(loads) >= 0.0
    assert sum(loads) == approx(sum(straight))
    assert "the front left wheel lifts off" in found.loads.notes


def test_what_an_added_mass_changes() -> None:
    """100 kg put on the front axle's line at y 0: all of it on that axle (lever rule), total up by 100."""
    winch = Mass("winch", 100.0, (0.0, 0.0, 0.7), ("front left", "front right"))
    before, after = (mass_account(pickup(masses=masses), rails()) for masses in (MASSES, (*MASSES, winch)))
    found = change(before, after)
    assert found.total == approx(100.0)
    assert found.frame == approx(0.0)
    assert found.axles == approx((100.0 * 9.80665, 0.0), abs=1e-6)


def test_no_parts_have_no_mass() -> None:
    assert combine([NOTHING]) is NOTHING
