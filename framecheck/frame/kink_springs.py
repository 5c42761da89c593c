"""The springs that kinks put between their points and their legs. SI."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field
from functools import lru_cache, reduce

import numpy as np

from framecheck.frame.corner_springs import corner_at, corner_leg_turns
from framecheck.frame.geometry import OneFrame
from framecheck.frame.joint.data import CornerGive
from framecheck.frame.kink_bends import readings_of
from framecheck.frame.kinks import Covered, Kink, KinkSide, corner_of, covered, give_of, kinks_of, lean_of
from framecheck.frame.number_cache import NumberStore
from framecheck.frame.open_corner import positive_part
from framecheck.frame.results import Joints
from framecheck.frame.stand_in import MODEL_ERROR, OPEN_RAIL, as_rail
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.value_class import array_class, value_class

NOTHING = 1e-6
"""A kink that gives less than this share of one of its depths of straight leg is taken to give nothing."""


@array_class
class TurnSpring:
    """A spring of a kink between its point and one of its legs: about axis (3,), Nm/rad. way: 3 to 5, none twice at one end."""

    member: int
    leg: int
    end: int
    way: int
    axis: Array
    stiffness: float


def turn_springs(frame: Frame, joints: Joints | None, store: NumberStore | None) -> tuple[TurnSpring, ...]:
    """Return the springs of every kink: what is said, or the end of its range, from the softest it may be to nothing."""
    return _springs(_Kinked(OneFrame(frame), joints, store))


@value_class
class _Kinked:
    """A frame, and which end of the range of its joints; where numbers are kept tells nothing."""

    drawn: OneFrame
    joints: Joints | None
    store: NumberStore | None = field(compare=False)


@lru_cache(maxsize=8)
def _springs(of: _Kinked) -> tuple[TurnSpring, ...]:
    return tuple(_springs_at_kinks(of.drawn.frame, of.joints, of.store))


def _springs_at_kinks(frame: Frame, joints: Joints | None, store: NumberStore | None) -> Iterator[TurnSpring]:
    soft = dict(frame.kink_softness)
    for kink in kinks_of(frame):
        if kink.is_open and joints in (None, Joints.STIFF):
            continue
        soft_as = soft.get(kink.made, 1.0)
        legs = corner_at(frame, kink)
        if legs is not None:
            for leg, turns in corner_leg_turns(legs, store):
                yield from springs_about(leg, soft_as * turns)
            continue
        made = readings_of(kink)[:1] if joints is Joints.USUAL else readings_of(kink)
        for side in kink.sides:
            yield from _springs_of(made, side, store, soft_as)


def _springs_of(made: tuple[Kink, ...], side: KinkSide, store: NumberStore | None, softness: float) -> Iterator[TurnSpring]:
    """Yield the springs of one leg about the axes in which its give is one of each alone; made: the readings that it is softest of.

    softness: so many times as soft as modelled.
    """
    kink = made[0]
    corner = corner_of(kink, side)
    turns = softness * softest_of(made, side, store) / share_of(kink, side)
    least = NOTHING * max(corner.height, corner.width) * 12 / (corner.e * corner.wall * max(corner.height, corner.width) ** 3)
    values, ways = np.linalg.eigh(turns[1:, 1:])
    found = [(turns[0, 0], kink.axes[0]), *((value, way @ kink.axes[1:]) for value, way in zip(values, ways.T, strict=True))]
    for way, (value, axis) in enumerate(found, start=3):
        if value > least:
            yield TurnSpring(side.member, side.leg, side.end, way, axis, 1 / float(value))


def springs_about(leg: KinkSide, turns: Array) -> Iterator[TurnSpring]:
    """Yield the springs of a leg of a corner that turns (3, 3) per moment about the vehicle's axes, rad/Nm."""
    values, ways = np.linalg.eigh(turns)
    for way, (value, axis) in enumerate(zip(values, ways.T, strict=True), start=3):
        if value > NOTHING * float(values[-1]):
            yield TurnSpring(leg.member, leg.leg, leg.end, way, axis, 1 / float(value))


def softest_of(made: tuple[Kink, ...], side: KinkSide, store: NumberStore | None) -> Array:
    """Return turns (3, 3) per moment of one leg about the kink's axes, rad/Nm: no less, about any axis, than of any reading of it."""
    found = [turns_of(each, side, give_of(corner_of(each, side), store)) for each in made]
    return reduce(no_stiffer, found[1:], found[0])


def no_stiffer(one: Array, other: Array) -> Array:
    """Return one flexibility (3, 3) with the positive part of what the other has more: nowhere under either."""
    return one + positive_part(other - one)


def turns_of(kink: Kink, side: KinkSide, give: CornerGive) -> Array:
    """Return one leg's turns (3, 3) per moment about the kink's axes, rad/Nm."""
    left, up = lean_of(kink, side)
    mixed = give.mixed if left * up > 0.0 else -give.mixed
    return np.array([[give.torsion, 0.0, 0.0], [0.0, give.out_of_plane, mixed], [0.0, mixed, give.in_plane]])


def share_of(kink: Kink, side: KinkSide) -> float:
    """Return the share of the springs that is surely no stiffer: all of it where the model covers the kink."""
    match covered(kink, side):
        case Covered.YES | Covered.ROUND_PLATE:
            return 1.0
        case Covered.SHARP:
            return OPEN_RAIL
        case Covered.SHAPE:
            return MODEL_ERROR * (1.0 if as_rail(side.section.shape).closed else OPEN_RAIL)
