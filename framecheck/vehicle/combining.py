"""Load cases put together from others: the concurrent forces of one moment, never extremes of different ones.

The vehicle weighs its weight once, whatever the factors add up to, and no tyre pulls on the ground.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.model.loads import PointLoad, StrapTension
from framecheck.vehicle.driving import upright
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.scene import ExternalForces, Scene, WheelForce
from framecheck.vehicle.wheels import couple_limits, loads_from_couples, static_loads

T = TypeVar("T")
Parts = tuple[tuple[ExternalForces, float], ...]


def combined(scene: Scene, parts: Parts) -> ExternalForces:
    """Return what the world does in the sum of load cases: rest + sum of factor x (load case - rest).

    Motor Vehicle Structures, 2.5: linear, superposed. Each load case holds the weight once, so the sum does (1 - sum of factors
    of rest are added). The wheels' upright loads are then kept from pulling.
    """
    rest = 1.0 - sum(factor for _, factor in parts)
    whole = (*parts, (ExternalForces(upright(scene, static_loads(scene).loads)), rest))
    wheels, lifted = pushing(scene, _wheel_forces(whole))
    outside = _each(whole, lambda action: action.outside, _times_point)
    tilted = any(action.gravity is not None for action, _ in parts)
    notes = (*(f"the {name} wheel lifts off" for name in lifted), *(note for action, _ in parts for note in action.notes))
    return ExternalForces(
        wheels,
        outside=outside,
        internal=_each(whole, lambda action: action.internal, _times_point),
        on_carriers=tuple((name, _times(m, factor)) for action, factor in whole for name, m in action.on_carriers),
        on_bodies=tuple((name, _times(m, factor)) for action, factor in whole for name, m in action.on_bodies),
        rods=_each(whole, lambda action: action.rods, _times_wheel),
        gravity=_gravity(scene, whole) if tilted else None,
        notes=tuple(dict.fromkeys(notes)),
        straps=tuple(StrapTension(each.strap, f * each.tension) for action, f in parts for each in action.straps),
    )


def pushing(scene: Scene, wheels: tuple[WheelForce, ...]) -> tuple[tuple[WheelForce, ...], tuple[str, ...]]:
    """Return the wheel forces with no tyre that pulls, and the wheels that lift off.

    A wheel that would pull carries nothing; its axle's other wheel and, beyond that, the other axle take the rest of the roll, as
    in a turn. What still is left over, the vehicle's inertia answers: it is going over.
    """
    names = [wheel.name for wheel in wheels_of(scene.vehicle)]
    loads = np.zeros(4)
    for each in wheels:
        loads[names.index(each.wheel)] += each.force[2]
    if float(loads.min()) >= 0.0:
        return wheels, ()
    pushed = pushed_loads(scene, loads)
    more = tuple(
        WheelForce(wheel.name, wheel.contact, (0.0, 0.0, float(new - old)))
        for wheel, new, old in zip(wheels_of(scene.vehicle), pushed, loads, strict=True)
        if new != old
    )
    return (*wheels, *more), tuple(name for name, new in zip(names, pushed, strict=True) if new <= 1e-9 * scene.weight)


def pushed_loads(scene: Scene, loads: Array) -> Array:
    """Return wheel loads (4,), N, none below zero, of the same sum: couples clipped where an axle's wheel lifts and passed on."""
    total = float(loads.sum())
    front = min(max(float(loads[:2].sum()), 0.0), max(total, 0.0))
    axles = np.array([front, max(total, 0.0) - front])
    tracks = couple_limits(scene, np.array([2.0, 2.0]))
    wanted = (loads[[0, 2]] - loads[[1, 3]]) / 2 * tracks
    limits = couple_limits(scene, axles)
    couples = np.clip(wanted, -limits, limits)
    for axle in (0, 1):
        couples[axle] = np.clip(couples[axle] + wanted.sum() - couples.sum(), -limits[axle], limits[axle])
    return np.maximum(loads_from_couples(scene, axles, couples), 0.0)


def _wheel_forces(parts: Parts) -> tuple[WheelForce, ...]:
    return _each(parts, lambda action: action.wheels, _times_wheel)


def _each(parts: Parts, of: Callable[[ExternalForces], tuple[T, ...]], times: Callable[[T, float], T]) -> tuple[T, ...]:
    return tuple(times(each, factor) for action, factor in parts for each in of(action))


def _gravity(scene: Scene, parts: Parts) -> Vector:
    """Return the sum of the gravities that the load cases feel, m/s2."""
    level = (0.0, 0.0, -scene.vehicle.gravity)
    felt = np.sum([f * np.array(level if action.gravity is None else action.gravity) for action, f in parts], axis=0)
    return (float(felt[0]), float(felt[1]), float(felt[2]))


def _times_point(load: PointLoad, factor: float) -> PointLoad:
    return replace(load, force=_times(load.force, factor), moment=_times(load.moment, factor))


def _times_wheel(each: WheelForce, factor: float) -> WheelForce:
    return replace(each, force=_times(each.force, factor))


def _times(values: Vector, factor: float) -> Vector:
    return (factor * values[0], factor * values[1], factor * values[2])
