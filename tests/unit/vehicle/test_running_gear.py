"""Trailers, and vehicles of three axles and more, through the front door: their loads are statics, or the springs' sharing."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import numpy as np
import pytest

from framecheck.errors import InputError, UnsolvableError
from framecheck.model.case import Case
from framecheck.model.vehicle import Axle, GearAxle, RunningGear, Wheel
from framecheck.reading.case_file import read_case
from framecheck.run import Results, run
from framecheck.vehicle.balance import VehicleLoads
from framecheck.vehicle.gear_cases import GEAR_KINDS
from framecheck.vehicle.load_cases import GEAR_KINDS as RUNNABLE
from framecheck.vehicle.statics import axle_loads
from tests.cases.test_sections import LIBRARY

G = 9.80665
FRAME = """
frame:
  ladder:
    rail:
      section: tube 4 x 2 x 3/16 in
      stations:
        - {name: nose, x: 3 m, y: 0.4 m, z: 0.6 m}
        - {name: first, x: 1 m, y: 0.4 m, z: 0.6 m}
        - {name: second, x: 0 m, y: 0.4 m, z: 0.6 m}
        - {name: third, x: -1 m, y: 0.4 m, z: 0.6 m}
        - {name: tail, x: -2 m, y: 0.4 m, z: 0.6 m}
    crossmembers:
      - {name: nose cross, station: nose, section: tube 4 x 2 x 3/16 in, ends: rigid}
      - {name: first cross, station: first, section: tube 4 x 2 x 3/16 in, ends: rigid}
      - {name: third cross, station: third, section: tube 4 x 2 x 3/16 in, ends: rigid}
      - {name: tail cross, station: tail, section: tube 4 x 2 x 3/16 in, ends: rigid}
"""
LOAD = "  masses: [{{name: load, mass: {mass} kg, x: {x} m, z: 1 m, on: [left nose, right nose, left tail, right tail]}}]\n"
COUPLING = "  coupling: {{x: 4 m, z: 0.5 m, on: [left nose, right nose], braked by: {by}}}\n"


def axle(name: str, x: float, more: str = "") -> str:
    return f"    - {{name: {name}, x: {x} m, track: 1.6 m, tyre radius: 0.3 m, unsprung mass: 60 kg, on: [left {name}]{more}}}\n"


def gear(axles: str, coupling: str = "wheels", mass: float = 1000.0, x: float = 0.5, asked: str = "") -> str:
    coupled = COUPLING.format(by=coupling) if coupling else ""
    return f"title: hill trailer\n{FRAME}running gear:\n{LOAD.format(mass=mass, x=x)}  axles:\n{axles}{coupled}{asked}"


def read(text: str) -> Case:
    return read_case(text, "trailer.yaml", LIBRARY)


def loads(results: Results, name: str) -> VehicleLoads:
    return next(each for each in results.vehicle_loads if each.loads.name == name)


def vertical(found: VehicleLoads) -> np.ndarray:
    return np.array([row.force[2] for row in found.wheels]).reshape(-1, 2).sum(axis=1)


def at_coupling(found: VehicleLoads) -> np.ndarray:
    return np.sum([load.force for load in found.loads.point_loads if load.because == "coupling"], axis=0)


def frame_weight(case: Case) -> tuple[float, float]:
    """Return the frame's own weight and sum of x W, from a run with two loads that differ (nothing else changes)."""
    from framecheck.run import prepare

    frame = prepare(case).frame
    return G * frame.mass, G * frame.mass * float(frame.cg[0])


def test_a_trailer_on_one_axle_is_statics() -> None:
    """Moments about the axle at x = 0: coupling at 4 m carries (sum x W) / 4, the axle the rest."""
    case = read(gear(axle("second", 0.0)))
    found = loads(run(case), "static")
    frame, moment = frame_weight(case)
    weight, moment = frame + G * 1060, moment + G * 1000 * 0.5
    assert at_coupling(found) == pytest.approx([0, 0, moment / 4], abs=1e-6)
    assert vertical(found) == pytest.approx([weight - moment / 4])
    assert found.balance < 1e-9


def test_three_axles_on_equal_springs() -> None:
    """Axles at 1, 0, -1 on equal springs: a rigid body on springs gives N = W/3 + (x / sum x2) M (as a bolt or pile group)."""
    springs = ", spring rate: 300 N/mm"
    case = read(gear("".join(axle(*each, springs) for each in (("first", 1.0), ("second", 0.0), ("third", -1.0))), "", x=0.2))
    found = loads(run(case), "static")
    frame, moment = frame_weight(case)
    weight, moment = frame + G * 1180, moment + G * 1000 * 0.2
    assert vertical(found) == pytest.approx([weight / 3 + moment / 2, weight / 3, weight / 3 - moment / 2])


def test_axles_on_a_balance_carry_their_shares() -> None:
    """Two axles share 2 to 1, the front one stands alone: statics about the place where the two balance, x = -1/3."""
    shares = axle("second", 0.0, ", load share: 0.6667") + axle("third", -1.0, ", load share: 0.33335")
    case = read(gear(axle("first", 1.0) + shares, "", x=0.2))
    front, second, third = vertical(loads(run(case), "static"))
    frame, moment = frame_weight(case)
    weight, moment = frame + G * 1180, moment + G * 1000 * 0.2
    assert second == pytest.approx(2 * third)
    assert front == pytest.approx((moment + weight / 3) / (4 / 3), rel=1e-4)


def test_springs_not_said_are_refused_with_what_to_write() -> None:
    """Three axles, and two with a coupling: statics alone can't tell their loads."""
    for axles, coupling in (((("first", 1.0), ("second", 0.0), ("third", -1.0)), ""), ((("second", 0.0), ("third", -1.0)), "wheels")):
        with pytest.raises(InputError) as caught:
            run(read(gear("".join(axle(*each) for each in axles), coupling)))
        assert len(caught.value.faults) == len(axles)
        assert all("spring rate" in each.remedy and each.place.startswith("trailer.yaml:") for each in caught.value.faults)


@pytest.mark.parametrize("by", ["wheels", "coupling"])
@pytest.mark.parametrize("asked", [0.4, 0.9])
def test_braking_is_in_balance(by: str, asked: float) -> None:
    """Sum along x is m a; moments about the axle's contact: the coupling's upward force x 4 m answers m a h less its push x 0.5."""
    more = f"load cases: [braking: {{deceleration: {asked}}}]\n"
    case = read(gear(axle("second", 0.0), by, asked=f"  tyre friction: 0.5\n{more}"))
    found = loads(run(case), "braking")
    from framecheck.run import prepare

    frame = prepare(case).frame
    along = sum(row.force[0] for row in found.wheels)
    push = at_coupling(found)
    mass = frame.mass + 1060
    high = frame.mass * float(frame.cg[2]) + 1000 * 1.0 + 60 * 0.3
    ahead = frame.mass * float(frame.cg[0]) + 1000 * 0.5
    assert along + push[0] == pytest.approx(-asked * G * mass)
    assert 4 * push[2] - 0.5 * push[0] == pytest.approx(G * ahead + asked * G * high)
    assert (along == 0) is (by == "coupling")
    assert -along <= 0.5 * vertical(found).sum() * (1 + 1e-9)
    if asked == 0.9 and by == "wheels":
        assert -along == pytest.approx(0.5 * vertical(found).sum())


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_turn_is_in_balance(side: str) -> None:
    """Sideways m a in all, yaw and roll balanced (no turning of the whole left), the outer wheels heavier."""
    found = loads(run(read(gear(axle("second", 0.0)))), f"cornering {side}")
    moving = found.loads.motion
    assert moving.angular == pytest.approx((0, 0, 0), abs=1e-9)
    sideways = sum(row.force[1] for row in found.wheels) + at_coupling(found)[1]
    assert bool(sideways > 0) is (side == "left")
    left, right = (row.force[2] for row in found.wheels)
    assert (right > left) is (side == "left")


def test_a_turn_ends_where_the_inner_wheel_leaves_the_ground() -> None:
    """Moments about the line of contact at x = 0: N t / 2 = a (sum of W z - 0.5 m x C), all forces sideways being a times the load."""
    more = "  tyre friction: 2.0\nload cases: [cornering left: {acceleration: 1.9}]\n"
    case = read(gear(axle("second", 0.0), asked=more))
    found = loads(run(case), "cornering left")
    from framecheck.run import prepare

    frame = prepare(case).frame
    high = G * (frame.mass * float(frame.cg[2]) + 1000 * 1.0 + 60 * 0.3)
    coupling = at_coupling(found)
    reached = vertical(found)[0] * 0.8 / (high - 0.5 * coupling[2])
    assert found.wheels[0].force[2] == pytest.approx(0.0, abs=1e-6)
    assert coupling[1] == pytest.approx(reached * coupling[2])
    assert found.loads.motion.angular == pytest.approx((0, 0, 0), abs=1e-9)


def test_a_wheel_raised_twists_two_axles() -> None:
    """One couple up at the first axle, the same down at the others: no roll is left; a wheel leaves the ground."""
    springs = ", spring rate: 300 N/mm"
    axles = "".join(axle(*each, springs) for each in (("first", 1.0), ("second", 0.0), ("third", -1.0)))
    found = next(each for each in run(read(gear(axles, "", x=0.2))).vehicle_loads if "one wheel up" in each.loads.name)
    sides = np.array([row.force[2] for row in found.wheels]).reshape(-1, 2)
    assert float((sides[:, 0] - sides[:, 1]).sum()) == pytest.approx(0.0, abs=1e-6)
    assert sides.min() == pytest.approx(0.0, abs=1e-6)


def test_a_trailer_whose_load_lies_behind_its_axle_pulls_the_coupling_up() -> None:
    assert at_coupling(loads(run(read(gear(axle("first", 1.0), x=-0.5))), "static"))[2] < 0


def test_one_that_can_not_stand_is_refused() -> None:
    springs = ", spring rate: 300 N/mm"
    axles = "".join(axle(*each, springs) for each in (("first", 1.0), ("second", 0.0), ("third", -1.0)))
    with pytest.raises(UnsolvableError, match="can't stand"):
        run(read(gear(axles, "", x=-1.9, mass=20000)))
    with pytest.raises(InputError, match="one axle alone"):
        run(read(gear(axle("first", 1.0), "")))


@pytest.mark.parametrize("kind", ["curb strike sideways", "drive torque", "diagonal twist"])
def test_kinds_that_it_does_not_make_are_refused_by_line(kind: str) -> None:
    with pytest.raises(InputError, match="force by force"):
        read(gear(axle("second", 0.0), asked=f"load cases: [{kind}]\n"))


def test_kinds_are_told_once() -> None:
    assert tuple(GEAR_KINDS) == RUNNABLE


def plain(x: float, rate: float) -> GearAxle:
    left, right = (Wheel(side, (x, sign * 0.8, 0.0), 0.3, ()) for side, sign in (("left", 1.0), ("right", -1.0)))
    return GearAxle(Axle("any", left, right), rate)


@pytest.mark.parametrize("seed", range(200))
def test_sharing_is_equilibrium_without_pull_and_continuous(seed: int) -> None:
    """Sum of forces and of moments; no axle pulls; N = k (a + b x) where it pushes; a step of 1e-7 moves nothing by 1e-4."""
    chance = Random(seed)
    axles = tuple(plain(chance.uniform(-3, 3), 10 ** chance.uniform(4, 6.5)) for _ in range(chance.randint(3, 6)))
    where = sorted(each.axle.left.contact[0] for each in axles)
    at, weight = chance.uniform(where[0], where[-1]), 1e4
    found = axle_loads(RunningGear((), axles), weight, weight * at).axles
    x = np.array([each.axle.left.contact[0] for each in axles])
    assert found.min() >= 0
    assert found.sum() == pytest.approx(weight)
    assert found @ x == pytest.approx(weight * at, abs=1e-6 * weight)
    sink = sorted((x[n], found[n] / (axles[n].rate or 1.0)) for n in range(len(axles)) if found[n] > 1e-6 * weight)
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(sink)]
    assert slopes == pytest.approx([slopes[0]] * len(slopes), rel=1e-3, abs=1e-9) if slopes else True
    moved = axle_loads(RunningGear((), axles), weight, weight * (at + 1e-7)).axles
    assert np.abs(moved - found).max() < 1e-4 * weight
