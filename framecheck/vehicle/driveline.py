"""Drive torque: the least of what the engine makes and what the tyres hold, and where its reactions go."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad
from framecheck.model.said import SaidAmount, Words, said
from framecheck.model.vehicle import Driveline
from framecheck.value_class import array_class
from framecheck.vehicle.balance import spread
from framecheck.vehicle.driving import lift_notes, on_ground
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.runnable import DRIVEN, KindOfLoadCase
from framecheck.vehicle.scene import ExternalForces, Scene, positive, vector
from framecheck.vehicle.wheels import WheelLoads, roll_shares, static_loads, wheel_loads


@array_class
class DriveTorque:
    """Torque at the gearbox (transfer case) output, Nm: what the engine makes, what the tyres hold, the least of both.

    loads: the wheel loads while the vehicle accelerates so; shares: (2,) of the torque to each axle.
    """

    engine: float
    tyres: float
    loads: WheelLoads
    shares: Array

    @property
    def used(self) -> float:
        """Return the torque that governs, Nm."""
        return min(self.engine, self.tyres)

    @property
    def governs(self) -> str:
        """Return what sets the torque: "the engine" or "the tyres"."""
        return "the engine" if self.engine <= self.tyres else "the tyres"


def engine_side(driveline: Driveline, ahead: float = 1.0) -> float:
    """Return torque at the gearbox output, Nm: engine x gear x converter x transfer (trade formula, no source).

    ahead: -1 in reverse, by the ratio of that gear where it is known.
    """
    gear = driveline.gear if ahead > 0 or driveline.reverse is None else driveline.reverse
    return driveline.engine_torque * gear * driveline.converter * driveline.transfer


def tyre_side(friction: float, load: float, radius: float, final_drive: float, efficiency: float) -> float:
    """Return the torque ahead of the final drive that the tyres hold, Nm: mu W r / (N eta) (statics)."""
    return friction * load * radius / (final_drive * efficiency)


def drive_torque(scene: Scene, ahead: float = 1.0) -> DriveTorque:
    """Return the drive torque and its limits; raise InputError where no driveline or driven axle is described.

    Transfer raises the load on a driven rear axle and with it the hold (in reverse, ahead -1, on a front axle); repeated until
    both agree.
    """
    driveline = _driveline(scene)
    engine, reached = engine_side(driveline, ahead), 0.0
    for _ in range(200):
        found, shares, tyres = _hold(scene, driveline, ahead * reached, ahead * min(engine, 1e12))
        wanted = min(engine, tyres) * driveline.final_drive * driveline.efficiency / _radius(scene) / scene.whole.mass
        if abs(wanted - reached) <= 1e-13 * max(1.0, wanted):
            break
        reached = wanted
    return DriveTorque(engine, tyres, found, shares)


def drive(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return full drive torque from rest, times a factor for a dropped clutch (Motor Vehicle Structures, 2.4.3)."""
    return driven(scene, load_case, 1.0)


def reverse(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return full drive torque from rest in reverse, times a factor for a dropped clutch: every reaction turns the other way."""
    return driven(scene, load_case, -1.0)


def driven(scene: Scene, load_case: LoadCase, ahead: float) -> ExternalForces:
    """Return full drive torque from rest, ahead or (-1) in reverse."""
    static_loads(scene)
    driveline, torque = _driveline(scene), drive_torque(scene, ahead)
    size = ahead * positive(load_case, "snatch") * torque.used
    push = size * torque.shares * driveline.final_drive * driveline.efficiency / _radius(scene)
    axles = np.array(torque.loads.axles)
    per_load = np.divide(push, axles, out=np.zeros(2), where=axles > 0)
    along = np.repeat(per_load, 2) * torque.loads.loads
    internal, on_carriers = _reactions(scene, driveline, size * torque.shares, along)
    at_mounts, on_bodies = on_engine(scene, driveline, float(np.sum(size * torque.shares)))
    engine, tyres = SaidAmount(torque.engine, "moment"), SaidAmount(torque.tyres, "moment")
    limits = said(f"{torque.governs} set the torque: engine ", engine, ", tyres ", tyres, " at the gearbox output")
    wheels = on_ground(scene, torque.loads.loads, along, np.zeros(4))
    notes: tuple[Words, ...] = (limits, *lift_notes(torque.loads))
    return ExternalForces(wheels, internal=(*at_mounts, *internal), on_carriers=on_carriers, on_bodies=on_bodies, notes=notes)


def on_engine(
    scene: Scene, driveline: Driveline, torque: float
) -> tuple[tuple[PointLoad, ...], tuple[tuple[str, Vector], ...]]:
    """Return what the torque does to engine and gearbox, Nm about x: shared by their mounts' points by statics, or, where they are a
    stiff body on just those mounts, to the body, which turns on their rubber and shares it by their stiffness.
    """
    moment = (torque, 0.0, 0.0)
    for body in scene.bodies:
        if {mount.point for mount in body.mounts} == set(driveline.mounts):
            return (), ((body.name, moment),)
    return tuple(_moment(scene, driveline.mounts, np.array(moment), "engine and gearbox mounts")), ()


def turns_with_axle(scene: Scene) -> Array:
    """Return (2,) bool: axles whose housing takes the propeller shaft's torque (no final drive on the frame)."""
    return np.array([not points for points in _driveline(scene).final_drives])


def live_couples(scene: Scene, torque: Array) -> Array:
    """Return the roll moments (2,) that propeller shaft torques (2,) on live axles make, + on the left wheel, Nm.

    T_j - share_j (sum T): the body rolls against both axles. For the rear alone T K_f/(K_f + K_r) (Fundamentals of
    Vehicle Dynamics, ch. 2, from memory; statics). The shaft turns the axle clockwise seen from the front.
    """
    live = np.where(turns_with_axle(scene), torque, 0.0)
    return np.asarray(live - roll_shares(scene) * live.sum(), dtype=np.float64)


def _hold(scene: Scene, driveline: Driveline, acceleration: float, engine: float) -> tuple[WheelLoads, Array, float]:
    """Return wheel loads under an acceleration (m/s2), the axles' shares and the torque that the tyres hold.

    acceleration, engine (torque, Nm): below zero in reverse.
    """
    driven_axles = np.array([axle.driven for axle in scene.vehicle.axles], dtype=np.float64)
    still = wheel_loads(scene, (-acceleration, 0.0, -scene.vehicle.gravity))
    load = float(driven_axles @ still.axles)
    shares = driven_axles * still.axles / max(load, 1e-9)
    tyres = tyre_side(scene.vehicle.friction, load, _radius(scene), driveline.final_drive, driveline.efficiency)
    couples = live_couples(scene, shares * np.copysign(min(abs(engine), tyres), engine))
    found = wheel_loads(scene, (-acceleration, 0.0, -scene.vehicle.gravity), couples=couples)
    return found, np.asarray(shares, dtype=np.float64), tyres


def _reactions(
    scene: Scene, driveline: Driveline, torque: Array, along: Array
) -> tuple[tuple[PointLoad, ...], tuple[tuple[str, Vector], ...]]:
    """Return what final drives do to frame points and to wheel carriers; with what the engine feels in balance."""
    points: list[PointLoad] = []
    carriers: list[tuple[str, Vector]] = []
    wheels = wheels_of(scene.vehicle)
    for number, axle in enumerate(scene.vehicle.axles):
        if not axle.driven:
            continue
        pair = wheels[2 * number : 2 * number + 2]
        on_frame = driveline.final_drives[number]
        shafts = [float(along[2 * number + n]) * wheel.radius for n, wheel in enumerate(pair)]
        if on_frame:
            pull = np.array([-float(torque[number]), -sum(shafts), 0.0])
            points += _moment(scene, on_frame, pull, f"{axle.name} final drive")
            carriers += [(wheel.name, (0.0, shaft, 0.0)) for wheel, shaft in zip(pair, shafts, strict=True)]
        else:
            carriers += [(wheel.name, vector(np.array([-torque[number] / 2, 0.0, 0.0]))) for wheel in pair]
    return tuple(points), tuple(carriers)


def _moment(scene: Scene, points: tuple[str, ...], moment: Array, because: str) -> Iterator[PointLoad]:
    middle = np.mean([scene.points[name] for name in points], axis=0)
    yield from spread(scene, np.concatenate([np.zeros(3), moment]), vector(middle), points, because)


def _radius(scene: Scene) -> float:
    radii = [wheel.radius for axle in scene.vehicle.axles if axle.driven for wheel in (axle.left, axle.right)]
    return sum(radii) / len(radii)


def _driveline(scene: Scene) -> Driveline:
    driveline = scene.vehicle.driveline
    if driveline is None or not driveline.mounts:
        fault = "not described, or without mounts"
        raise InputError([Fault("", "driveline", fault, "describe it under vehicle", ("vehicle", "driveline"))])
    if not any(axle.driven for axle in scene.vehicle.axles):
        raise InputError([Fault("", "driveline", "no axle is driven", "say `driven: yes` on an axle", ("vehicle", "axles"))])
    return driveline


KINDS: Mapping[str, KindOfLoadCase] = {
    "drive torque": KindOfLoadCase(drive, DRIVEN),
    "reverse torque": KindOfLoadCase(reverse, DRIVEN),
}
"""The kinds of load case that are worked out here, and what each needs."""
