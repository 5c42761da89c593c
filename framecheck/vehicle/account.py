"""The mass account: parts, frame, centre of gravity, axle loads, and the change against an original."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.errors import Fault
from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.value_class import value_class
from framecheck.vehicle.masses import MassProperties, wheel_centre, wheels_of
from framecheck.vehicle.scene import Scene, vector
from framecheck.vehicle.setting import scene_of
from framecheck.vehicle.wheels import static_loads

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
