"""What every load case starts from: the vehicle, the points of its frame and the mass of the whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import Case
from framecheck.model.frame import StiffBody
from framecheck.model.loads import PointLoad
from framecheck.model.vehicle import Axle, Vehicle, Wheel
from framecheck.vehicle.masses import MassProperties, body_mass, combine, vehicle_masses, wheels_of

PLACES = ({"front", "left"}, {"front", "right"}, {"rear", "left"}, {"rear", "right"})


@dataclass(frozen=True, eq=False, slots=True)
class Scene:
    """The vehicle with all its mass. frame: the frame's own mass; whole: everything, frame and wheels included."""

    vehicle: Vehicle
    points: Mapping[str, Vector]
    bodies: tuple[StiffBody, ...]
    frame: MassProperties
    whole: MassProperties

    @property
    def weight(self) -> float:
        """Return the weight of everything, N."""
        return self.whole.mass * self.vehicle.gravity

    @property
    def ground(self) -> float:
        """Return the height of the ground: the mean of the contact patches, m."""
        return sum(wheel.contact[2] for wheel in wheels_of(self.vehicle)) / 4

    @property
    def cg_height(self) -> float:
        """Return the height of the centre of gravity above the ground, m."""
        return float(self.whole.cg[2]) - self.ground


@dataclass(frozen=True, slots=True)
class WheelForce:
    """What the ground does to a wheel: force (N) at a place (m)."""

    wheel: str
    at: Vector
    force: Vector


@dataclass(frozen=True, slots=True)
class Action:
    """What the world outside does to the vehicle in a load case, and what is to be said about it."""

    wheels: tuple[WheelForce, ...] = ()
    outside: tuple[PointLoad, ...] = ()
    notes: tuple[str, ...] = ()


def scene_of(case: Case, frame: MassProperties) -> Scene:
    """Return the scene of a case, or raise InputError with every fault of its vehicle."""
    if case.vehicle is None:
        raise InputError([Fault("", "vehicle", "load cases from the vehicle need one", "describe masses and axles")])
    faults = tuple(vehicle_faults(case.vehicle, case.frame.points))
    if faults:
        raise InputError(faults)
    bodies = case.frame.stiff_bodies
    whole = combine([frame, *vehicle_masses(case.vehicle), *(body_mass(body) for body in bodies)])
    return Scene(case.vehicle, case.frame.points, bodies, frame, whole)


def vehicle_faults(vehicle: Vehicle, points: Mapping[str, Vector]) -> Iterator[Fault]:
    """Yield what makes a vehicle unfit for load cases."""
    for part in vehicle.masses:
        yield from _mass_faults(part.name, part.mass, part.on, part.kind)
        yield from _unknown(part.name, part.on, points)
    for wheel in wheels_of(vehicle):
        if not wheel.on:
            remedy = "name the frame points its suspension hangs on"
            yield Fault("", f"{wheel.name} wheel", "has no path to the frame", remedy)
        yield from _unknown(f"{wheel.name} wheel", wheel.on, points)
    if axle_x(vehicle.front) <= axle_x(vehicle.rear):
        remedy = "x runs forward: give the front axle the larger x"
        yield Fault("", "axles", "the front axle is not ahead of the rear axle", remedy)
    for axle in vehicle.axles:
        if track(axle) <= 0:
            fault = "its left wheel is not to the left of its right wheel"
            yield Fault("", f"{axle.name} axle", fault, "y runs to the left")


def _mass_faults(name: str, mass: float, on: tuple[str, ...], kind: str) -> Iterator[Fault]:
    if mass <= 0:
        yield Fault("", name, f"a mass of {mass:g} kg", "give a mass above zero")
    if not on:
        what = "a payload with nowhere to sit" if kind == "payload" else "no frame point carries it"
        yield Fault("", name, what, "name the frame points that carry it under `on`")


def _unknown(name: str, on: tuple[str, ...], points: Mapping[str, Vector]) -> Iterator[Fault]:
    for point in on:
        if point not in points:
            yield Fault("", name, f"'{point}' is not a frame point", "name a point of the frame")


def axle_x(axle: Axle) -> float:
    """Return the axle's x, m."""
    return (axle.left.contact[0] + axle.right.contact[0]) / 2


def axle_y(axle: Axle) -> float:
    """Return y of the middle between the axle's wheels, m."""
    return (axle.left.contact[1] + axle.right.contact[1]) / 2


def track(axle: Axle) -> float:
    """Return the distance between the axle's contact patches across the vehicle, m."""
    return axle.left.contact[1] - axle.right.contact[1]


def wheel_numbers(vehicle: Vehicle, where: str) -> tuple[int, ...]:
    """Return the wheels meant by "front left", "front", "left" ... as places in `wheels_of`, or raise InputError."""
    asked = set(where.split())
    found = tuple(n for n, wheel in enumerate(wheels_of(vehicle)) if asked <= PLACES[n] or wheel.name == where)
    if not found or not asked:
        raise InputError(
            [Fault("", f"wheel '{where}'", "no such wheel", "say front left, rear right, front, left ...")]
        )
    return found


def at_contact(wheel: Wheel, force: Array) -> WheelForce:
    """Return a force at the contact patch: a braked or steered wheel."""
    return WheelForce(wheel.name, wheel.contact, vector(force))


def vector(values: Array) -> Vector:
    """Return an array of three as a plain vector."""
    return (float(values[0]), float(values[1]), float(values[2]))


def plus_moment(total: Array, moment: Vector) -> Array:
    """Return force and moment (6,) with a further moment, Nm."""
    return np.asarray(total + np.array([0.0, 0.0, 0.0, *moment]), dtype=np.float64)


def cross(a: Array, b: Array) -> Array:
    """Return a x b of two (3,) arrays; many times quicker than the general one."""
    (ax, ay, az), (bx, by, bz) = a.tolist(), b.tolist()
    return np.array([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], dtype=np.float64)


def wrench(force: Array, at: Array, about: Array) -> Array:
    """Return (Fx, Fy, Fz, Mx, My, Mz) of a force (3,) at `at` about another point."""
    return np.concatenate([force, cross(at - about, force)])
