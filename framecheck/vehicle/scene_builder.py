"""From a case to the scene of its load cases, every fault of the vehicle said at once; and the account of its mass."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.model.vehicle import Axle, Vehicle
from framecheck.value_class import value_class
from framecheck.vehicle.masses import MassProperties, body_mass, combine, vehicle_masses, wheel_centre, wheels_of
from framecheck.vehicle.scene import AxleSuspension, Scene, axle_x, track, vector
from framecheck.vehicle.suspension import suspension_of
from framecheck.vehicle.travel import side_by_side
from framecheck.vehicle.wheels import static_loads


def scene_of(case: Case, frame: MassProperties) -> Scene:
    """Return the scene of a case, or raise InputError with every fault of its vehicle."""
    if case.vehicle is None:
        raise InputError([Fault("", "vehicle", "load cases from the vehicle need one", "describe masses and axles")])
    faults = tuple(vehicle_faults(case.vehicle, case.frame.points))
    if faults:
        raise InputError(faults)
    bodies, points = case.frame.stiff_bodies, case.frame.points
    whole = combine([frame, *vehicle_masses(case.vehicle), *(body_mass(body) for body in bodies)])
    front, rear = (_suspension(axle, tuple(points.items())) for axle in case.vehicle.axles)
    laws = (front.roll_law, rear.roll_law)
    both = None if laws[0] is None or laws[1] is None else side_by_side((laws[0], laws[1]))
    return Scene(case.vehicle, points, bodies, frame, whole, (front, rear), (front.roll, rear.roll), laws, both)


@lru_cache(maxsize=8)
def _suspension(axle: Axle, points: tuple[tuple[str, Vector], ...]) -> AxleSuspension:
    """Return an axle's suspension: the variants of a study mostly share it. points: places of the frame's points by name."""
    return suspension_of(axle, dict(points))


def vehicle_faults(vehicle: Vehicle, points: Mapping[str, Vector]) -> Iterator[Fault]:
    """Yield what makes a vehicle unfit for load cases."""
    for part in vehicle.masses:
        yield from _mass_faults(part.name, part.mass, part.on, part.kind)
        yield from _unknown(part.name, part.on, points, mass_of(part.name))
    for wheel in wheels_of(vehicle):
        if not wheel.on:
            remedy = "name the frame points its suspension hangs on"
            yield Fault("", f"{wheel.name} wheel", "has no path to the frame", remedy, axle_of(wheel.name))
        yield from _unknown(f"{wheel.name} wheel", wheel.on, points, axle_of(wheel.name))
    if axle_x(vehicle.front) <= axle_x(vehicle.rear):
        remedy = "x runs forward: give the front axle the larger x"
        yield Fault("", "axles", "the front axle is not ahead of the rear axle", remedy, ("vehicle", "axles"))
    for axle in vehicle.axles:
        if track(axle) <= 0:
            fault = "its left wheel is not to the left of its right wheel"
            yield Fault("", f"{axle.name} axle", fault, "y runs to the left", ("vehicle", "axles", axle.name))


def _mass_faults(name: str, mass: float, on: tuple[str, ...], kind: str) -> Iterator[Fault]:
    if mass <= 0:
        yield Fault("", name, f"a mass of {mass:g} kg", "give a mass above zero", mass_of(name))
    if not on:
        what = "a payload with nowhere to sit" if kind == "payload" else "no frame point carries it"
        yield Fault("", name, what, "name the frame points that carry it under `on`", mass_of(name))


def mass_of(name: str) -> tuple[str, ...]:
    """Return what leads to a mass in a file."""
    return ("vehicle", "masses", name)


def axle_of(wheel: str) -> tuple[str, ...]:
    """Return what leads in a file to the axle of a wheel, "front left"."""
    return ("vehicle", "axles", wheel.split()[0])


def _unknown(
    name: str, on: tuple[str, ...], points: Mapping[str, Vector], about: tuple[str, ...]
) -> Iterator[Fault]:
    for point in on:
        if point not in points:
            yield Fault("", name, f"'{point}' is not a frame point", "name a point of the frame", about)


NEAR_ENOUGH = 0.02
"""Stated axle loads may miss the masses by this part of the weight (common practice, no source)."""


@value_class
class MassRow:
    """One mass: kg and its place, m."""

    name: str
    kind: str
    mass: float
    at: Vector


@value_class
class MassAccount:
    """All masses with the frame's own; axles (front, rear) and wheels (front left ... rear right) in N at rest."""

    rows: tuple[MassRow, ...]
    total: float
    cg: Vector
    axles: tuple[float, float]
    wheels: tuple[float, float, float, float]


@value_class
class MassChange:
    """New less original: kg, m, N."""

    total: float
    frame: float
    cg: Vector
    axles: tuple[float, float]


def mass_account(case: Case, frame_mass: MassProperties) -> MassAccount:
    """Return the mass account of a case."""
    scene = scene_of(case, frame_mass)
    found = static_loads(scene)
    fl, fr, rl, rr = found.loads.tolist()
    return MassAccount(tuple(_rows(scene)), scene.whole.mass, vector(scene.whole.cg), found.axles, (fl, fr, rl, rr))


def change(original: MassAccount, new: MassAccount) -> MassChange:
    """Return what changed against an original."""
    x, y, z = (b - a for a, b in zip(original.cg, new.cg, strict=True))
    front, rear = (b - a for a, b in zip(original.axles, new.axles, strict=True))
    frames = [sum(row.mass for row in each.rows if row.kind == "frame") for each in (original, new)]
    return MassChange(new.total - original.total, frames[1] - frames[0], (x, y, z), (front, rear))


def axle_load_faults(case: Case, frame_mass: MassProperties) -> tuple[Fault, ...]:
    """Return by how much the masses miss the axle loads that were weighed, where they miss."""
    if case.vehicle is None or all(axle.stated_load is None for axle in case.vehicle.axles):
        return ()
    scene = scene_of(case, frame_mass)
    found, faults = static_loads(scene).axles, []
    for axle, load in zip(scene.vehicle.axles, found, strict=True):
        if axle.stated_load is not None and abs(load - axle.stated_load) > NEAR_ENOUGH * scene.weight:
            apart = (load - axle.stated_load) / scene.vehicle.gravity
            fault = f"the masses put {abs(apart):.0f} kg {'more' if apart > 0 else 'less'} on it than stated"
            about = ("vehicle", "axles", axle.name, "stated load")
            faults.append(Fault("", f"{axle.name} axle", fault, "correct a mass, its place, or the stated load", about))
    return tuple(faults)


def _rows(scene: Scene) -> Iterator[MassRow]:
    if scene.frame.mass > 0:
        yield MassRow("frame", "frame", scene.frame.mass, vector(scene.frame.cg))
    for part in scene.vehicle.masses:
        yield MassRow(part.name, part.kind, part.mass, part.at)
    for body in scene.bodies:
        yield MassRow(body.name, "body", body.mass, body.at)
    for wheel in wheels_of(scene.vehicle):
        if wheel.unsprung_mass > 0:
            yield MassRow(f"{wheel.name} wheel", "unsprung", wheel.unsprung_mass, wheel_centre(wheel))
