"""Pulling at the vehicle, tying it down, slopes and a bouncing payload against regulations and statics."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from framecheck.errors import UnsolvableError
from framecheck.model.case import Case
from framecheck.model.vehicle import Strap
from framecheck.output.display import Units, spoken
from framecheck.vehicle.pulling import coupling_bounce, coupling_force
from tests.verification.manual import Held, Kind, proof
from tests.verification.test_vehicle_further import CAR, G, altered, at_points, loads, vehicle


@proof(Kind.DERIVED)
def test_recovery_pull_within_a_cone(held: Held) -> None:
    """Geometry: 0.8 W turned 30 degrees sideways and 10 degrees up; the wheels answer it."""
    angles = {"sideways": np.radians(30), "upward": np.radians(10)}
    found = loads(CAR, "tow or recovery pull", point="front left", end="front", factor=0.8, **angles)
    pull = (
        0.8
        * 2000
        * G
        * np.array([sqrt(0.75) * np.cos(np.radians(10)), 0.5 * np.cos(np.radians(10)), np.sin(np.radians(10))])
    )
    held(at_points(found, "rope")[:3], pull)
    ground = np.sum([wheel.force for wheel in found.wheels], axis=0)
    held(ground, [-pull[0], -pull[1], 2000 * G - pull[2]])
    held(found.acceleration, (0, 0, 0), abs=1e-9)


@proof(Kind.FORMULA)
@pytest.mark.parametrize(("way", "along", "bounce"), [("pulling down", -1, -1), ("pushing up", 1, 1)])
def test_coupling_force(held: Held, way: str, along: int, bounce: int) -> None:
    """UN R55 as quoted: D = g T R/(T + R); 2 t and 3 t: 9.80665 x 6/5 = 11.768 kN.

    V = a x2/l2 C: 2.4 x 1 x 2.9 t = 6.96 kN; S 100 kg.
    """
    held(coupling_force(2000.0, 3000.0, G), 11767.98)
    held(coupling_bounce(2900.0, 2.4, 0.8), 6960.0)
    found = loads(
        CAR,
        "trailer coupling",
        point="spring left rear",
        way=way,
        trailer_mass=3000.0,
        tongue_mass=100.0,
        vertical_acceleration=2.4,
        leverage=0.8,
    )
    held(found.acceleration[0], along * 11767.98 / 2000)
    held(at_points(found, "coupling")[:3], (along * 11767.98, 0.0, bounce * 6960.0 - 100 * G))


def tied(straps: tuple[Strap, ...], friction: float = 1.0) -> Case:
    return altered(straps=straps, friction=friction)


def strap(name: str, point: str, back: float, pretension: float = 0.0, limit: float | None = None) -> Strap:
    """Return a level strap along the vehicle, `back` m rearward of its point."""
    x, y, z = CAR.frame.points[point]
    return Strap(name, point, (x - back, y, z), pretension, limit)


FOUR = (
    strap("fl", "front left", -1.0, 500.0),
    strap("fr", "front right", -1.0, 500.0),
    strap("rl", "spring left rear", 1.0, 500.0),
    strap("rr", "spring right rear", 1.0, 500.0),
)


@proof(Kind.FORMULA)
@pytest.mark.parametrize(("toward", "part", "carry"), [("forward", 0.8, ("rl", "rr")), ("rearward", 0.5, ("fl", "fr"))])
def test_tie_down_forces(held: Held, toward: str, part: float, carry: tuple[str, str]) -> None:
    """49 CFR 393.102(a)(1): 0.8 g forward, 0.5 g rearward; level straps, the two slack ones carry nothing: m a / 2 each.

    The tyres' grip, a thousandth of a strap's stiffness, is allowed 0.4 %."""
    found = loads(tied(FOUR), "tie-down", toward=toward, acceleration=part, strap_stiffness=80e3, tyre_stiffness=250e3)
    pulls = {p.because: abs(p.force[0]) for p in found.loads.point_loads if p.because.startswith("strap")}
    for name in ("fl", "fr", "rl", "rr"):
        by_hand = part * 2000 * G / 2 if name in carry else 0.0
        held(pulls[f"strap {name}"], by_hand, rel=4e-3, abs=1e-6)


@proof(Kind.DERIVED)
def test_pretension_is_kept_while_no_strap_is_slack(held: Held) -> None:
    """Statics of springs: two straps each way alike, preloaded: half of the push on each pair, as long as none is slack."""
    tight = tuple(replace(each, pretension=6000.0) for each in FOUR)
    found = loads(tied(tight), "tie-down", toward="forward", acceleration=0.4, strap_stiffness=80e3, tyre_stiffness=1e9)
    pulls = [abs(p.force[0]) for p in found.loads.point_loads if p.because.startswith("strap")]
    quarter = 0.4 * 2000 * G / 4
    held(pulls, [6000 - quarter] * 2 + [6000 + quarter] * 2, rel=4e-3)


def test_straps_over_their_limit_are_said() -> None:
    weak = tuple(replace(each, working_load_limit=4000.0) for each in FOUR)
    found = loads(
        tied(weak), "tie-down", toward="forward", acceleration=0.8, strap_stiffness=80e3, tyre_stiffness=250e3
    )
    told = [spoken(note, Units.SI) for note in found.loads.notes]
    assert any(
        "strap rl carries" in note and "over its working load limit 4.00 kN" in note for note in told
    )
    assert told[-1].startswith("half the straps' working load limits, 8.00 kN, is below half the weight")


def test_straps_that_leave_it_to_friction() -> None:
    """Straps along the vehicle hold nothing sideways: 0.5 g needs friction 0.5."""
    asked_for = {"toward": "left", "acceleration": 0.5, "strap_stiffness": 80e3, "tyre_stiffness": 250e3}
    with pytest.raises(UnsolvableError, match="not friction enough to balance"):
        loads(tied(FOUR, friction=0.3), "tie-down", **asked_for)


@proof(Kind.DERIVED)
def test_a_slope_needs_friction(held: Held) -> None:
    """Statics: tan(angle) = grade; axle loads cos(angle) (W b/L) -+ W sin(angle) h/L."""
    with pytest.raises(UnsolvableError, match=r"needs friction 0.40, the tyres have 0.30"):
        loads(altered(friction=0.3), "parked on a slope", grade=0.4)
    front = sum(wheel.force[2] for wheel in loads(CAR, "parked on a slope", grade=0.75).wheels[:2])
    held(front, 2000 * G * (0.8 * 1.8 / 3.0 - 0.6 * 0.7 / 3.0))


@proof(Kind.DERIVED)
def test_a_bouncing_payload_goes_to_the_wheels(held: Held) -> None:
    """Statics: 500 kg half-way between the axles at 2.5 g adds 1.5 x 500 g / 2 to each axle."""
    lumps = vehicle(CAR).masses
    extra = replace(lumps[0], name="sand", mass=500.0, at=(-1.5, 0.0, 0.9), kind="payload")
    case = altered(masses=(*lumps, extra))
    before, after = loads(case, "static").wheels, loads(case, "load bed", factor=2.5).wheels
    held(sum(w.force[2] for w in after[:2]) - sum(w.force[2] for w in before[:2]), 1.5 * 500 * G / 2)
