"""Suspensions whose places give no direction or no lever: refused by name, never divided by nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from framecheck.errors import UnsolvableError
from framecheck.model.suspension import Arm, CoilSpring, LeafAxle, TrailingArm
from framecheck.model.vehicle import Axle
from framecheck.vehicle.suspension import suspension_of
from tests.unit.vehicle.suspensions import FRAME, at, corner_axle, leaf, live_axle, mirror, trailing, wishbones


def one_bush(side: float) -> object:
    """Both bushes of the lower arm at one place."""
    place = at(mirror((0.15, 0.3, 0.2), side))
    whole = wishbones(side)
    return replace(whole, lower=Arm((place, place), whole.lower.ball))


def spring_of_no_length(side: float) -> object:
    whole = wishbones(side)
    return replace(whole, spring=replace(whole.spring, end=mirror((0.0, 0.5, 0.7), side)))


def wheel_on_its_hinge(side: float) -> object:
    """A trailing arm hinged straight above the contact patch: the wheel's load never reaches the spring."""
    hinge = (at(mirror((0.0, 0.3, 0.4), side)), at(mirror((0.0, 0.6, 0.4), side)))
    return TrailingArm(hinge, CoilSpring(mirror((-0.4, 0.5, 0.4), side), at(mirror((-0.4, 0.5, 0.7), side)), 60e3))


def upright_leaf() -> Axle:
    spring = replace(leaf(1.0), shackle_eye=(0.5, 0.5, 0.2))
    return live_axle(LeafAxle(spring, leaf(-1.0)))


def flat_shackle() -> Axle:
    """A shackle that points sideways has no direction in the side view."""
    springs = [replace(leaf(side), shackle=at((-0.5, side * 0.6, 0.55))) for side in (1.0, -1.0)]
    return live_axle(LeafAxle(springs[0], springs[1]))


@pytest.mark.parametrize(
    ("axle", "said"),
    [
        (lambda: corner_axle(one_bush), r"left lower arm: both its ends are at one place"),
        (lambda: corner_axle(spring_of_no_length), r"left spring: both its ends are at one place"),
        (lambda: corner_axle(wheel_on_its_hinge), r"left wheel: its spring carries nothing of the wheel's load"),
        (upright_leaf, r"rear left spring: one eye is straight above the other"),
        (lambda: live_axle(LeafAxle(leaf(1.0), leaf(1.0))), r"rear: both leaf springs are in one line"),
        (flat_shackle, r"rear left spring shackle, seen from the side: both its ends are at one place"),
    ],
)
def test_a_suspension_without_direction_or_lever_is_refused(axle: Callable[[], Axle], said: str) -> None:
    with pytest.raises(UnsolvableError, match=said):
        _worked(axle())


def test_the_same_suspensions_in_order_are_carried() -> None:
    for axle in (corner_axle(wishbones), corner_axle(trailing), live_axle(LeafAxle(leaf(1.0), leaf(-1.0)))):
        _worked(axle)


def _worked(axle: Axle) -> None:
    suspension = suspension_of(axle, FRAME.points)
    assert np.isfinite(suspension.roll.stiffness)
    up = np.tile([0.0, 0.0, 1000.0, 0.0, 0.0, 0.0], (2, 1))
    suspension.carry(up, up)
