"""The six equations of the whole vehicle, and what of a load case acts on the frame.

The accelerations follow from the forces (inertia relief), so the loads on the frame balance in every case.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.loads import BodyLoad, CaseLoads, Motion, PointLoad
from framecheck.model.vehicle import Axle, Wheel
from framecheck.value_class import value_class
from framecheck.vehicle.masses import MassProperties, wheel_centre
from framecheck.vehicle.scene import BracketForce, ExternalForces, Scene, crossed, less, plus_moment, vector, wrench
from framecheck.vehicle.statics import shared

TURNS = ("roll (about x)", "pitch (about y)", "yaw (about z)")


def motion(scene: Scene, action: ExternalForces) -> Motion:
    """Return the apparent acceleration of all parts: -F/m at the centre of gravity, turning with I^-1 M.

    Newton's and Euler's equations of a rigid body that does not turn yet.
    """
    total = action_wrench(scene, action, scene.whole.cg)
    angular = turning(scene.whole, total[3:])
    return Motion(vector(-total[:3] / scene.whole.mass), vector(angular), vector(scene.whole.cg))


def action_wrench(scene: Scene, action: ExternalForces, about: Array) -> Array:
    """Return force and moment (6,) of everything outside about a point, N and Nm."""
    total = np.zeros(6)
    for wheel in action.wheels:
        total += wrench(wheel.force, wheel.at, about)
    for load in action.outside:
        total += _load_wrench(scene, load, about)
    return total


def turning(whole: MassProperties, moment: Array) -> Array:
    """Return the angular acceleration (3,), rad/s2, under a moment (3,), Nm; UnsolvableError where no mass resists."""
    values, axes = _principal(whole)
    firm = values > 1e-9 * max(float(values[-1]), 1e-12)
    parts = axes.T @ moment
    loose = np.where(firm, 0.0, parts)
    if np.abs(loose).max() > 1e-6 * max(1.0, float(np.abs(moment).max())):
        about = TURNS[int(np.argmax(np.abs(axes @ loose)))]
        fault = f"vehicle: all mass lies on one line, nothing resists a {about}"
        raise UnsolvableError(f"{fault}; give the masses their true places")
    return np.asarray(axes[:, firm] @ (parts[firm] / values[firm]), dtype=np.float64)


@lru_cache(maxsize=8)
def _principal(whole: MassProperties) -> tuple[Array, Array]:
    values, axes = np.linalg.eigh(whole.inertia)
    return frozen(values), frozen(axes)


def felt(moving: Motion, at: Vector) -> Array:
    """Return the apparent acceleration (3,) at a place, m/s2: linear - angular x (r - about)."""
    return np.array(less(moving.linear, crossed(moving.angular, less(at, moving.about))), dtype=np.float64)


def mass_loads(scene: Scene, moving: Motion) -> Iterator[PointLoad]:
    """Yield what each mass does to the frame points that carry it."""
    for part in scene.vehicle.masses:
        force = part.mass * felt(moving, part.at)
        yield from spread(scene, np.concatenate([force, np.zeros(3)]), part.at, part.on, part.name)


def body_loads(scene: Scene, moving: Motion, action: ExternalForces) -> Iterator[BodyLoad]:
    """Yield what each stiff body's own mass does at its centre, force m f, moment -I alpha, and what the driveline does to it."""
    for body in scene.bodies:
        turn = -body.mass * np.square(body.radii) * np.array(moving.angular)
        turn += sum((np.array(moment) for name, moment in action.on_bodies if name == body.name), np.zeros(3))
        yield BodyLoad(body.name, vector(body.mass * felt(moving, body.at)), vector(turn), body.name)


def wheel_wrench(wheel: Wheel, action: ExternalForces, moving: Motion) -> Array:
    """Return force and moment (6,) of a wheel on its suspension about its centre: the ground's and its own inertia."""
    centre = np.array(wheel_centre(wheel))
    own = np.concatenate([wheel.unsprung_mass * felt(moving, wheel_centre(wheel)), np.zeros(3)])
    total = own + ground_wrench(wheel, action, centre)
    for name, moment in action.on_carriers:
        if name == wheel.name:
            total[3:] += moment
    for rod in action.rods:
        if rod.wheel == wheel.name:
            total += wrench(rod.force, rod.at, centre)
    return total


def ground_wrench(wheel: Wheel, action: ExternalForces, about: Array) -> Array:
    """Return force and moment (6,) of the ground on a wheel about a point, N and Nm."""
    total = np.zeros(6)
    for each in action.wheels:
        if each.wheel == wheel.name:
            total += wrench(each.force, each.at, about)
    return total


def spread(scene: Scene, total: Array, at: Vector, on: tuple[str, ...], because: str) -> Iterator[PointLoad]:
    """Yield a force and moment (6,) at a place as loads on the frame points `on`, statically equivalent."""
    places = tuple(scene.points[name] for name in on)
    for name, (x, y, z, *moment) in zip(on, shared(total, at, places).tolist(), strict=True):
        yield PointLoad(name, (x, y, z), (moment[0], moment[1], moment[2]), because)


def residual(scene: Scene, loads: CaseLoads) -> float:
    """Return how far the six equations of the frame are from balance, as part of all the forces or moments in them."""
    bodies = {body.name: body.at for body in scene.bodies}
    places = [scene.points[load.point] for load in loads.point_loads] + [bodies[load.body] for load in loads.body_loads]
    rows = [(*load.force, *load.moment) for load in loads.point_loads]
    rows += [(*load.force, *load.moment) for load in loads.body_loads]
    acting = np.array(rows, dtype=np.float64).reshape(-1, 6)
    x, y, z = (np.array(places).reshape(-1, 3) - scene.whole.cg).T
    fx, fy, fz = acting[:, :3].T
    acting[:, 3:] += np.stack((y * fz - z * fy, z * fx - x * fz, x * fy - y * fx), axis=1)
    return _relative(np.vstack((_frame_wrench(scene, loads.motion), acting)))


def _relative(rows: Array) -> float:
    total, size = rows.sum(axis=0), np.abs(rows).sum(axis=0)
    scale = np.repeat([max(size[:3].max(), 1e-300), max(size[3:].max(), 1e-300)], 3)
    return float(np.max(np.abs(total) / scale))


def _frame_wrench(scene: Scene, moving: Motion) -> Array:
    """Return the d'Alembert force and moment (6,) of the frame's own mass about the common centre of gravity."""
    at = vector(scene.frame.cg)
    turn = vector(-scene.frame.inertia @ np.array(moving.angular))
    return plus_moment(wrench(scene.frame.mass * felt(moving, at), scene.frame.cg, scene.whole.cg), turn)


def _load_wrench(scene: Scene, load: PointLoad, about: Array) -> Array:
    return plus_moment(wrench(load.force, scene.points[load.point], about), load.moment)


@value_class
class WheelRow:
    """What the ground does to a wheel at its contact patch: force in N, moment in Nm, vehicle axes."""

    wheel: str
    force: Vector
    moment: Vector


@value_class
class VehicleLoads:
    """A load case worked out: the loads on the frame, the wheel forces behind them, the balance of the six equations.

    brackets: what the suspension does to each frame bracket. acceleration: of the centre of gravity, m/s2.
    balance: the part by which the six equations miss zero.
    """

    loads: CaseLoads
    wheels: tuple[WheelRow, ...]
    brackets: tuple[BracketForce, ...]
    acceleration: Vector
    balance: float


def acceleration(scene: Scene, action: ExternalForces, moving: Motion) -> Vector:
    """Return the true acceleration of the centre of gravity: gravity less what is felt, m/s2."""
    gravity = (0.0, 0.0, -scene.vehicle.gravity) if action.gravity is None else action.gravity
    return vector(np.array(gravity) - np.array(moving.linear))


def on_frame_point(scene: Scene, row: BracketForce) -> PointLoad:
    """Return a bracket's force at its pivot as a load on the frame point that carries it."""
    (x, y, z), (mx, my, mz) = crossed(less(row.foot.at, scene.points[row.foot.point]), row.force), row.moment
    return PointLoad(row.foot.point, row.force, (mx + x, my + y, mz + z), row.foot.name)


def axle_wrenches(axle: Axle, action: ExternalForces, moving: Motion) -> Array:
    """Return forces and moments (2, 6) of an axle's wheels on its suspension, about their centres."""
    return np.stack([wheel_wrench(wheel, action, moving) for wheel in (axle.left, axle.right)])


def wheel_row(wheel: Wheel, action: ExternalForces) -> WheelRow:
    """Return what the ground does to a wheel."""
    total = ground_wrench(wheel, action, np.array(wheel.contact))
    return WheelRow(wheel.name, vector(total[:3]), vector(total[3:]))
