"""A load case worked out: what the wheels, the brackets and the accelerations are, and what of it acts on the frame."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.model.loads import CaseLoads, Motion, PointLoad
from framecheck.model.vehicle import Axle, Wheel
from framecheck.value_class import value_class
from framecheck.vehicle.balance import ground_wrench, wheel_wrench
from framecheck.vehicle.scene import Action, BracketForce, Scene, cross, vector


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


def acceleration(scene: Scene, action: Action, moving: Motion) -> Vector:
    """Return the true acceleration of the centre of gravity: gravity less what is felt, m/s2."""
    gravity = (0.0, 0.0, -scene.vehicle.gravity) if action.gravity is None else action.gravity
    return vector(np.array(gravity) - np.array(moving.linear))


def on_frame_point(scene: Scene, row: BracketForce) -> PointLoad:
    """Return a bracket's force at its pivot as a load on the frame point that carries it."""
    arm = np.array(row.foot.at) - np.array(scene.points[row.foot.point])
    moment = np.array(row.moment) + cross(arm, np.array(row.force))
    return PointLoad(row.foot.point, row.force, vector(moment), row.foot.name)


def axle_wrenches(axle: Axle, action: Action, moving: Motion) -> Array:
    """Return forces and moments (2, 6) of an axle's wheels on its suspension, about their centres."""
    return np.stack([wheel_wrench(wheel, action, moving) for wheel in (axle.left, axle.right)])


def wheel_row(wheel: Wheel, action: Action) -> WheelRow:
    """Return what the ground does to a wheel."""
    total = ground_wrench(wheel, action, np.array(wheel.contact))
    return WheelRow(wheel.name, vector(total[:3]), vector(total[3:]))
