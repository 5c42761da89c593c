"""Modes of a case: what the wheels' springs are, and that a stiff frame heaves, pitches and rolls on them as by hand."""

from __future__ import annotations

from dataclasses import replace
from math import inf, pi, sqrt

import numpy as np
import pytest

from framecheck.model.case import Case
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.shapes import GivenProperties
from framecheck.model.shop_tables import Material
from framecheck.model.suspension import CoilSpring, LeafAxle, LeafSpring, LinkAxle, SuspensionBracket
from framecheck.model.vehicle import Axle, Mass, Vehicle, Wheel
from framecheck.study.modes import modes_of, wheel_springs

RATE, MASS = 30e3, 900.0
HALF, SIDE, APART = 1.25, 0.45, 0.6  # half the wheelbase, of the springs' spread; half a leaf's length, m
STIFF = Section(
    "bar", GivenProperties(4e-3, 4e-5, 4e-5, 8e-5), Material("stiff", 2e13, 8e12, 1.0, 1e9, 1e9, "given here")
)
RIGID = MemberEnd(Make.RIGID, EndWarping.FREE)


def leaf(axle: str, side: str) -> LeafSpring:
    x, y = (HALF if axle == "f" else -HALF) - APART, SIDE if side == "l" else -SIDE
    return LeafSpring(SuspensionBracket(f"{axle}{side} eye"), (x, y, 0.5), SuspensionBracket(f"{axle}{side} shackle"), RATE)


def points() -> dict[str, tuple[float, float, float]]:
    return {
        f"{axle}{side} {end}": (x + along, y, 0.5)
        for axle, x in (("f", HALF), ("r", -HALF))
        for side, y in (("l", SIDE), ("r", -SIDE))
        for end, along in (("eye", APART), ("shackle", -APART))
    }


def axle(name: str) -> Axle:
    x = HALF if name == "f" else -HALF
    wheels = [
        Wheel(f"{name}{side}", (x, sign * 0.7, 0.0), 0.35, (f"{name}{side} eye", f"{name}{side} shackle"))
        for side, sign in (("l", 1), ("r", -1))
    ]
    return Axle(name, wheels[0], wheels[1], live=LeafAxle(leaf(name, "l"), leaf(name, "r")))


def case() -> Case:
    """Return two stiff rails and three stiff crossmembers on four leaf springs, a mass at each corner of the brackets."""
    rails = tuple(
        Member(
            f"rail {side}",
            tuple(f"{axle}{side} {end}" for axle, end in (("f", "eye"), ("f", "shackle"), ("r", "eye"), ("r", "shackle"))),
            (Stretch("bar"),), start=RIGID, end=RIGID, role="rail",
        )
        for side in "lr"
    )  # fmt: skip
    across = tuple(
        Member(
            f"across {where}",
            (where.replace("?", "l"), where.replace("?", "r")),
            (Stretch("bar"),),
            start=RIGID,
            end=RIGID,
        )
        for where in ("f? eye", "f? shackle", "r? eye", "r? shackle")
    )
    at = points()
    masses = tuple(Mass(name, MASS / 8, place, (name,)) for name, place in at.items())
    return Case("stiff", Frame(at, rails + across, {"bar": STIFF}), Vehicle(masses, axle("f"), axle("r")))


def test_a_stiff_frame_on_leaf_springs_heaves_pitches_and_rolls() -> None:
    # heave sqrt(4k/m); pitch: sum k x^2 over sum m x^2; roll: springs and masses at the same spread, so as heave
    wheels = modes_of(case(), count=3).sets[0].wheels
    assert wheels is not None
    heave = sqrt(4 * RATE / MASS) / (2 * pi)
    pitch = sqrt(HALF**2 / (HALF**2 + APART**2)) * heave
    assert sorted(mode.frequency for mode in wheels.modes) == pytest.approx(sorted((heave, pitch, heave)), rel=2e-3)
    assert {mode.motion for mode in wheels.modes} == {"moves up and down", "rolls"}


def test_the_masses_hold_all_the_moving_energy_of_a_light_frame() -> None:
    wheels = modes_of(case(), count=1).sets[0].wheels
    assert wheels is not None
    shares = dict(wheels.modes[0].parts)
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares["frame"] < 1e-3


def test_a_leaning_coil_is_softer_upwards() -> None:
    # 45 degrees: half the rate
    one = CoilSpring((-HALF, SIDE, 0.3), SuspensionBracket("rl eye", (-HALF, SIDE - 0.2, 0.5)), RATE)
    links = LinkAxle((), (one, one))
    whole = case()
    vehicle = replace(whole.vehicle, rear=replace(whole.vehicle.rear, live=links))  # type: ignore[type-var]
    rear = wheel_springs(replace(whole, vehicle=vehicle))[2]
    assert rear.rate == pytest.approx(RATE / 2)
    assert rear.points == ("rl eye",)
    assert np.asarray(rear.sharing)[2] == pytest.approx(1.0)


def test_an_undescribed_suspension_is_said() -> None:
    whole = case()
    vehicle = replace(whole.vehicle, rear=replace(whole.vehicle.rear, live=None))  # type: ignore[type-var]
    found = modes_of(replace(whole, vehicle=vehicle), count=1)
    assert found.sets[0].wheels is None
    assert any("rates are not all known" in note for note in found.notes)


def test_supports_are_used_where_there_are_some() -> None:
    from framecheck.model.loads import Support

    held = replace(case().frame, supports=(Support("fl eye", (inf,) * 6),))
    assert modes_of(replace(case(), frame=held, vehicle=None), count=1).sets[0].supported is not None
    assert modes_of(case(), count=1).sets[0].supported is None
