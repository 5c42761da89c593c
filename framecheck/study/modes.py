"""The first natural frequencies of a case: the bare frame, the frame with its masses, and that on its wheels."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

import numpy as np

from framecheck.frame.modes import CarriedMass, Modes, Standing, WheelSpring, natural_modes
from framecheck.frame.results import Bound
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import Case
from framecheck.model.frame import Frame
from framecheck.model.suspension import CoilSpring, LeafAxle, LeafSpring, LinkAxle
from framecheck.model.vehicle import Axle, Wheel
from framecheck.run import Prepared, prepare
from framecheck.section.store import SectionStore
from framecheck.study.frame_measures import bare
from framecheck.value_class import array_class
from framecheck.vehicle.corners import corner_statics
from framecheck.vehicle.statics import sharing

UP = 2


@array_class
class ModeSet:
    """What was found under one bound. wheels, supported: None where the case says nothing of them."""

    bare: Modes
    loaded: Modes | None
    wheels: Modes | None
    supported: Modes | None


@array_class
class Vibrations:
    """The sets, one per bound, and what is to be said beside them."""

    sets: tuple[ModeSet, ...]
    notes: tuple[str, ...]


def modes_of(case: Case, store: SectionStore | None = None, count: int = 6) -> Vibrations:
    """Return the first `count` modes of each standing, under every bound that the case leaves open."""
    prepared, springs = prepare(case, store, unlike=False), wheel_springs(case)
    sets = tuple(_under(case, prepared, each.bound, springs, count, store) for each in prepared.structures)
    return Vibrations(sets, notes(case, springs))


def _under(
    case: Case,
    prepared: Prepared,
    bound: Bound,
    springs: tuple[WheelSpring, ...],
    count: int,
    store: SectionStore | None,
) -> ModeSet:
    masses = carried_masses(case)

    def found(frame: Frame, standing: Standing, on: tuple[CarriedMass, ...] = masses) -> Modes:
        return natural_modes(frame, prepared.under(bound), bound, standing, on, springs, prepared.cuts, count, store)

    carries = bool(masses or case.frame.stiff_bodies)
    return ModeSet(
        bare=found(bare(case).frame, Standing.FREE, ()),
        loaded=found(case.frame, Standing.FREE) if carries else None,
        wheels=found(case.frame, Standing.WHEELS) if springs else None,
        supported=found(case.frame, Standing.SUPPORTED) if case.frame.supports else None,
    )


def carried_masses(case: Case) -> tuple[CarriedMass, ...]:
    """Return the vehicle's masses on the points that carry them; wheels and axles are left out: the tyres carry them."""
    if case.vehicle is None:
        return ()
    return tuple(
        CarriedMass(each.name, each.mass, each.on, sharing(_places(case, each.on), each.at))
        for each in case.vehicle.masses
    )


def _places(case: Case, points: tuple[str, ...]) -> tuple[Vector, ...]:
    return tuple(case.frame.points[name] for name in points)


def wheel_springs(case: Case) -> tuple[WheelSpring, ...]:
    """Return the springs between frame and wheels; nothing unless all four wheels' are known."""
    if case.vehicle is None:
        return ()
    found = [each for axle in case.vehicle.axles for each in _axle_springs(case, axle)]
    return tuple(found) if len(found) == 2 * len(case.vehicle.axles) else ()


def _axle_springs(case: Case, axle: Axle) -> Iterator[WheelSpring]:
    """Yield the springs of an axle's two sides, as far as the case describes them."""
    wheels = (axle.left, axle.right)
    if isinstance(axle.live, LeafAxle):
        for wheel, leaf in zip(wheels, (axle.live.left, axle.live.right), strict=True):
            yield _leaf_spring(case, wheel, leaf)
    elif isinstance(axle.live, LinkAxle):
        for wheel, spring in zip(wheels, axle.live.springs, strict=True):
            yield _coil_spring(case, wheel, spring)
    else:
        for wheel in wheels:
            if wheel.corner is not None:
                rate = corner_statics(wheel, wheel.corner, case.frame.points).wheel_rate
                yield WheelSpring(wheel.name, rate, wheel.on, _upwards(case, wheel.on, wheel.contact))


def _upwards(case: Case, points: tuple[str, ...], at: Vector) -> Array:
    """Return the loads (6 n,) on the points per unit upward force at a place."""
    return np.asarray(sharing(_places(case, points), at)[:, UP])


def _leaf_spring(case: Case, wheel: Wheel, leaf: LeafSpring) -> WheelSpring:
    """Return a leaf spring on its two brackets, above the axle."""
    points = leaf.eye.point, leaf.shackle.point
    first = leaf.eye.at or case.frame.points[leaf.eye.point]
    return WheelSpring(wheel.name, leaf.rate, points, _upwards(case, points, (wheel.contact[0], first[1], first[2])))


def _coil_spring(case: Case, wheel: Wheel, spring: CoilSpring) -> WheelSpring:
    """Return a live axle's coil: a leaning spring is softer upwards by the square of its lean's cosine."""
    top = spring.bracket.at or case.frame.points[spring.bracket.point]
    upright = (top[2] - spring.end[2]) / dist(top, spring.end)
    return WheelSpring(
        wheel.name, spring.rate * upright**2, (spring.bracket.point,), _upwards(case, (spring.bracket.point,), top)
    )


def notes(case: Case, springs: tuple[WheelSpring, ...]) -> tuple[str, ...]:
    """Return what was taken for granted, or could not be done."""
    said = ["Own mass of members, masses on the points that carry them, stiff bodies on their mounts; no damping."]
    if case.vehicle is not None:
        said.append("Wheels and axles are left out: the tyres carry them.")
    if springs:
        said.append(
            "On its wheels: the suspension's own rates, upwards only; tyres taken as stiff, anti-roll bars left out."
        )
    elif case.vehicle is not None:
        said.append("On its wheels: not done, the suspension's rates are not all known.")
    return tuple(said)
