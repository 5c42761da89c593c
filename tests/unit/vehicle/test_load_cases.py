"""Load cases by kind: what they put on the frame, what they say, what they refuse."""

from __future__ import annotations

from dataclasses import replace

import pytest

from framecheck.errors import InputError, UnsolvableError
from framecheck.frame.stiffness import axle_points
from framecheck.model.case import Basis, Case, Confidence, LoadCase, VehicleSide
from framecheck.model.frame import Mount, StiffBody
from framecheck.model.suspension import SuspensionBracket
from framecheck.model.vehicle import Mass
from framecheck.reading.build.suspension import points_hung_on
from framecheck.vehicle.load_cases import KINDS, all_vehicle_loads, case_loads, one_sided, vehicle_loads
from framecheck.vehicle.masses import NOTHING
from tests.unit.vehicle.suspensions import links
from tests.unit.vehicle.trucks import FURTHER, MASSES, POINTS, STANDARD, asked, pickup, rails, suspended, truck


def test_each_kind_is_in_the_list_of_these_tests() -> None:
    assert {load_case.kind for load_case in STANDARD + FURTHER} == set(KINDS)


def test_every_case_balances_and_hangs_on_nothing() -> None:
    found = all_vehicle_loads(replace(pickup(), load_cases=STANDARD), rails())
    assert max(one.balance for one in found) < 1e-12
    assert all(one.loads.free_free for one in found)
    assert found[0].loads.reference[:2] == ("front left", "front right")


def test_every_case_balances_on_its_suspension() -> None:
    found = all_vehicle_loads(replace(suspended(), load_cases=STANDARD + FURTHER), rails())
    assert max(one.balance for one in found) < 1e-11
    assert min(wheel.force[2] for one in found for wheel in one.wheels) >= 0.0


def test_each_mass_says_what_it_is() -> None:
    loads = case_loads(pickup(), asked("static"), rails()).point_loads
    assert sum(load.force[2] for load in loads if load.because == "engine") == pytest.approx(-260 * 9.80665)
    assert {load.because for load in loads} == {part.name for part in MASSES} | {
        "front left wheel", "front right wheel", "rear left wheel", "rear right wheel"
    }  # fmt: skip


def test_a_frame_point_feels_the_ground_less_the_unsprung_mass() -> None:
    found = vehicle_loads(pickup(), asked("static"), rails())
    on_frame = sum(load.force[2] for load in found.loads.point_loads if load.because == "front left wheel")
    assert on_frame == pytest.approx(found.wheels[0].force[2] - 45 * 9.80665)


def test_a_bump_accelerates_every_part_upward() -> None:
    found = vehicle_loads(pickup(), asked("vertical bump", factor=3.0), rails())
    assert found.acceleration == pytest.approx((0.0, 0.0, 2 * 9.80665), abs=1e-9)
    assert found.loads.motion.linear == pytest.approx((0.0, 0.0, -3 * 9.80665), abs=1e-9)
    assert found.loads.motion.angular == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)


def test_a_rolling_wheel_passes_a_curb_on_at_its_centre() -> None:
    found = vehicle_loads(pickup(), asked("curb strike head-on", wheel="front", factor=2.0), rails())
    left = found.wheels[0]
    assert left.force[0] == pytest.approx(-2 * left.force[2])
    assert left.moment[1] == pytest.approx(0.35 * left.force[0])


def test_a_pothole_sets_one_wheel_alone() -> None:
    still = vehicle_loads(pickup(), asked("static"), rails()).wheels[1].force[2]
    struck = asked("pothole under braking", wheel="front right", deceleration=0.6, vertical=3.0, along=2.0)
    wheel = vehicle_loads(pickup(), struck, rails()).wheels[1]
    assert (wheel.force[0], wheel.force[2]) == pytest.approx((-2 * still, 3 * still))


def test_a_struck_wheel_is_pushed_toward_the_middle() -> None:
    struck = asked("curb strike sideways, one wheel", wheel="front right", factor=3.0)
    wheels = vehicle_loads(pickup(), struck, rails()).wheels
    assert wheels[1].force[1] == pytest.approx(3 * wheels[1].force[2])
    assert wheels[0].force[1] == 0.0


def test_stiff_bodies_are_loaded_at_their_own_centre() -> None:
    case = pickup()
    body = StiffBody("power unit", 300.0, (-0.4, 0.0, 0.8), (Mount("front left", (1e6, 1e6, 1e6)),), (0.2, 0.4, 0.4))
    mounted = replace(case, frame=replace(case.frame, stiff_bodies=(body,)))
    found = vehicle_loads(mounted, asked("curb strike head-on", wheel="front left", factor=2.0), rails())
    assert found.balance < 1e-12
    assert found.loads.body_loads[0].body == "power unit"
    assert found.loads.body_loads[0].moment != (0.0, 0.0, 0.0)


def test_an_unknown_kind_suggests_the_nearest() -> None:
    with pytest.raises(InputError, match="no such kind of load case: 'brakeing'; did you mean 'braking'"):
        case_loads(pickup(), asked("brakeing"), rails())


def test_a_missing_factor_and_a_senseless_one() -> None:
    with pytest.raises(InputError, match="braking: deceleration: is not given"):
        case_loads(pickup(), asked("braking"), rails())
    with pytest.raises(InputError, match="braking: deceleration: -1 is not above zero"):
        case_loads(pickup(), asked("braking", deceleration=-1.0), rails())
    with pytest.raises(InputError, match="'middle': no such wheel"):
        case_loads(pickup(), asked("one wheel up", wheel="middle", share=1.0), rails())


def faults(case: Case) -> str:
    with pytest.raises(InputError) as caught:
        case_loads(case, asked("static"), NOTHING)
    return str(caught.value)


def test_all_faults_of_a_vehicle_at_once() -> None:
    bad = (Mass("load", 200.0, (0, 0, 1), (), "payload"), Mass("spare", -3.0, (0, 0, 1), ("nowhere",)))
    said = faults(pickup(masses=bad))
    assert "load: a payload with nowhere to sit" in said
    assert "spare: a mass of -3 kg" in said
    assert "spare: 'nowhere' is not a frame point" in said


def test_a_wheel_without_a_path_to_the_frame() -> None:
    case = pickup()
    assert case.vehicle is not None
    wheel = replace(case.vehicle.front.left, on=())
    said = faults(replace(case, vehicle=replace(case.vehicle, front=replace(case.vehicle.front, left=wheel))))
    assert said == "front left wheel: has no path to the frame; name the frame points its suspension hangs on"


def test_a_vehicle_that_cannot_stand() -> None:
    with pytest.raises(UnsolvableError, match=r"centre of gravity \(x -3.500 m, y 0.000 m\) lies outside"):
        case_loads(truck(1000, 3.5, 0.6, 3.0, 1.5), asked("static"), NOTHING)


def test_a_mass_on_one_line_resists_no_turn() -> None:
    lump = (Mass("lump", 900.0, (-1.5, 0.0, 0.6), tuple(POINTS)),)
    case = truck(900, 1.5, 0.6, 3.0, 1.5)
    assert case.vehicle is not None
    with pytest.raises(UnsolvableError, match=r"nothing resists a roll \(about x\)"):
        case_loads(
            replace(case, vehicle=replace(case.vehicle, masses=lump)),
            asked("curb strike sideways", side="left", factor=1.4),
            NOTHING,
        )


def test_a_case_without_a_vehicle() -> None:
    case = pickup()
    assert "vehicle: load cases from the vehicle need one" in faults(replace(case, vehicle=None))


def test_points_of_the_truck_are_used() -> None:
    used = {load.point for load in case_loads(pickup(), asked("static"), rails()).point_loads}
    assert used == set(POINTS)


@pytest.mark.parametrize(
    ("point", "lifted"), [("front left", (0,)), ("spring right rear", (3,)), ("middle", (0, 1)), ("tail", (2, 3))]
)
def test_a_jack_lifts_the_wheel_nearest_to_it(point: str, lifted: tuple[int, ...]) -> None:
    """From near the middle line it lifts both wheels of the nearer axle."""
    points = {**POINTS, "middle": (0.2, 0.05, 0.5), "tail": (-3.5, -0.1, 0.5)}
    case = replace(pickup(), frame=replace(pickup().frame, points=points))
    found = vehicle_loads(case, asked("jacked at a point", point=point, wheel="nearest", factor=1.0), rails())
    loads = [wheel.force[2] for wheel in found.wheels]
    assert [loads[n] for n in lifted] == [0.0] * len(lifted)


def on_one_side(*cases: LoadCase) -> list[str]:
    said = tuple(replace(each, side_said=True) for each in cases)
    return [each.name for each in one_sided(replace(pickup(), load_cases=said))]


def test_a_load_case_whose_mirror_image_is_asked_for_too_is_not_one_sided() -> None:
    left, right = (
        replace(asked("jacked at a point", point=f"front {side.value}", wheel="nearest", factor=1.2), name=side.value, side=side)
        for side in VehicleSide
    )
    assert on_one_side(left) == ["left"]
    assert on_one_side(left, right) == []
    softer = replace(right, factors={**right.factors, "factor": 1.1})
    assert on_one_side(left, softer) == ["left", "right"]
    elsewhere = replace(right, factors={**right.factors, "point": "middle right"})
    assert on_one_side(left, elsewhere) == ["left", "right"]


def test_the_size_that_is_known_least_speaks_for_a_load_case() -> None:
    known = {"wheel": Basis("a choice", Confidence.LOW), "vertical": Basis("book", Confidence.MEDIUM), "along": Basis("file")}
    strike = replace(asked("pothole under braking", wheel="front left", vertical=3.0, along=2.0), basis=known)
    assert strike.least_known == ("vertical", known["vertical"])
    assert asked("static").least_known is None


def test_a_strike_from_below_carries_at_least_a_part_of_the_weight() -> None:
    """Half of it on a road, all of it for a vehicle that hangs on the point."""
    for share in (0.0, 0.9):
        struck = asked("underbody strike", point="middle left", factor=1.0, drag=0.5, weight_share=share)
        found = vehicle_loads(pickup(), struck, rails())
        still = [wheel.force[2] for wheel in found.wheels]
        (blow,) = (load for load in found.loads.point_loads if load.because == "strike from below")
        assert blow.force[2] == pytest.approx(max(still[0] + still[1], share * sum(still)))
        assert blow.force[0] == pytest.approx(-0.5 * blow.force[2])


def twisted_by(side: float) -> tuple[list[float], list[float]]:
    """Return wheel loads at rest and with the front left wheel on a block, the centre of gravity `side` m to the left; track 1.6 m."""
    case = truck(2000, 1.2, 0.7, 3.0, 1.6, side=side)
    assert case.vehicle is not None
    front, rear = (replace(axle, roll_stiffness=20e3) for axle in case.vehicle.axles)
    stiff = replace(case, vehicle=replace(case.vehicle, front=front, rear=rear))
    raised = asked("diagonal twist", wheel="front left", height=0.2)
    still, twist = (vehicle_loads(stiff, each, NOTHING).wheels for each in (asked("static"), raised))
    return [wheel.force[2] for wheel in still], [wheel.force[2] for wheel in twist]


def test_a_wheel_that_is_lifted_at_rest_leaves_no_twist() -> None:
    """Statics: with the weight over the left wheels nothing is left to twist; a hair short of that, a hair of it."""
    still, twist = twisted_by(0.8)
    assert still[1] == still[3] == 0.0
    assert twist == pytest.approx(still, abs=1e-6)
    near_still, near = twisted_by(0.8 - 1e-6)
    assert near == pytest.approx(near_still, abs=2000 * 9.80665 * 1e-6)


def test_the_springs_carry_the_couple_of_a_live_axle_on_links() -> None:
    """Links of both sides make one group of points: left and right would be the same, so the frame is twisted at the springs."""
    case = suspended()
    assert case.vehicle is not None
    springs = tuple(
        replace(spring, bracket=SuspensionBracket(point))
        for spring, point in zip(links().springs, ("spring left front", "spring right front"), strict=True)
    )
    live = replace(links(), springs=springs)
    rear = case.vehicle.rear
    left, right = (replace(wheel, on=points_hung_on(live)) for wheel in (rear.left, rear.right))
    found = axle_points(replace(case.vehicle, rear=replace(rear, live=live, left=left, right=right)))
    assert found.groups[2:] == (("spring left front",), ("spring right front",))


def test_loads_follow_all_they_hang_on_whatever_went_before() -> None:
    """Worked out case after case, to and fro, they are to the last digit those of each load case alone."""
    case = replace(pickup(), load_cases=STANDARD[:3])
    heavier = pickup(masses=(replace(MASSES[0], mass=261.0), *MASSES[1:]))
    moved = replace(case.frame, points={**POINTS, "front left": (0.1, 0.4, 0.6)})
    braked = (*STANDARD[:2], asked("braking", deceleration=0.8))
    ways = [(case, rails()), (replace(heavier, load_cases=STANDARD[:3]), rails()), (replace(case, frame=moved), rails()),
            (replace(case, load_cases=braked), rails()), (case, NOTHING)]  # fmt: skip
    alone = [repr([vehicle_loads(each, one, mass) for one in each.load_cases]) for each, mass in ways]
    assert len(set(alone)) == len(ways)
    for number in (0, 1, 0, 2, 3, 0, 4, 1, 4):
        assert repr(list(all_vehicle_loads(*ways[number]))) == alone[number]
