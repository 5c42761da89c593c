"""Load cases of the vehicle at rest, under way and driven hard: bump, braking, cornering, swerve, dampers at speed."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad
from framecheck.model.suspension import Damper
from framecheck.vehicle.balance import spread
from framecheck.vehicle.corners import foot, unit
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.runnable import MASSES_AND_AXLES, KindOfLoadCase, NeededData, has_dampers, has_steering_box
from framecheck.vehicle.scene import (
    ExternalForces,
    Scene,
    WheelForce,
    at_contact,
    cross,
    positive,
    vector,
    wheel_numbers,
    word,
)
from framecheck.vehicle.wheels import WheelLoads, static_loads, wheel_loads

TOLERANCE = 1e-9


def static(scene: Scene, _load_case: LoadCase) -> ExternalForces:
    """Return the vehicle standing still."""
    found = static_loads(scene)
    return ExternalForces(upright(scene, found.loads), notes=lift_notes(found))


def vertical_bump(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return all four wheels at a multiple of their static load (Automotive Chassis Engineering (2018), 4.3.2.1)."""
    return ExternalForces(upright(scene, positive(load_case, "factor") * static_loads(scene).loads))


def braking(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return braking while driving forward, by the friction of the tyres at most."""
    return _slowing(scene, positive(load_case, "deceleration"), -1.0)


def reverse_braking(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return braking while driving backward."""
    return _slowing(scene, positive(load_case, "deceleration"), 1.0)


def cornering_left(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return a steady turn to the left."""
    return _cornering(scene, positive(load_case, "acceleration"), 1.0)


def cornering_right(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return a steady turn to the right."""
    return _cornering(scene, positive(load_case, "acceleration"), -1.0)


def rollover_limit(scene: Scene, toward: float) -> float:
    """Return the sideways acceleration in g at which the inner wheels leave the ground: t / 2h (statics).

    toward: +1 turning left, -1 right. With both axles at their limit; the off-centre mass counts.
    """
    axles = np.array(static_loads(scene).axles)
    outer = [(axle.right if toward > 0 else axle.left).contact[1] for axle in scene.vehicle.axles]
    lever = toward * (float(scene.whole.cg[1]) - float(axles @ np.array(outer)) / scene.weight)
    return lever / scene.cg_height


def braked(scene: Scene, deceleration: float, sign: float) -> tuple[WheelLoads, Array, tuple[str, ...]]:
    """Return wheel loads, braking forces (4,) in N (positive numbers) and notes at a wanted deceleration in g.

    Each axle brakes by its share or by its load; no axle more than its tyres hold. The transfer m a h / L and the
    forces depend on each other; repeated until they agree (each pass shrinks the gap by about friction x h / L).
    """
    g, wanted = scene.vehicle.gravity, deceleration
    for _ in range(200):
        found = wheel_loads(scene, (-sign * wanted * g, 0.0, -g))
        forces = brake_forces(scene, found, deceleration)
        reached = float(forces.sum()) / scene.weight
        if abs(reached - wanted) <= 1e-14:
            break
        wanted = reached
    held = deceleration - wanted > TOLERANCE
    limit = (f"the tyres hold {wanted:.2f} g of the {deceleration:.2f} g asked for",) if held else ()
    return found, forces, (*limit, *lift_notes(found))


def brake_forces(scene: Scene, found: WheelLoads, deceleration: float) -> Array:
    """Return braking forces (4,) in N for a wanted deceleration in g, each axle at most friction x its load."""
    axles = np.array(found.axles)
    shares = brake_shares(scene, axles)
    wanted = np.minimum(shares * deceleration * scene.weight, scene.vehicle.friction * axles)
    per_load = np.divide(wanted, axles, out=np.zeros(2), where=axles > 0)
    return np.asarray(np.repeat(per_load, 2) * found.loads, dtype=np.float64)


def brake_shares(scene: Scene, axles: Array) -> Array:
    """Return each axle's share (2,) of the braking: as given for one axle or both, else by the loads of the moment."""
    front, rear = scene.vehicle.front.brake_share, scene.vehicle.rear.brake_share
    if front is None and rear is None:
        return np.asarray(axles / axles.sum(), dtype=np.float64)
    if front is None:
        return np.array([1.0 - float(rear or 0.0), float(rear or 0.0)])
    return np.array([front, 1.0 - front])


def lift_notes(found: WheelLoads) -> tuple[str, ...]:
    """Say which wheels leave the ground."""
    return tuple(f"the {name} wheel lifts off" for name in found.lifted)


def _slowing(scene: Scene, deceleration: float, sign: float) -> ExternalForces:
    found, forces, notes = braked(scene, deceleration, sign)
    return ExternalForces(on_ground(scene, found.loads, sign * forces, np.zeros(4)), notes=notes)


def _cornering(scene: Scene, acceleration: float, toward: float) -> ExternalForces:
    """Sideways forces balance yaw between the axles and go with the wheel loads within each."""
    static_loads(scene)
    reached, notes = _corner_limit(scene, acceleration, toward)
    g = scene.vehicle.gravity
    found = wheel_loads(scene, (0.0, -toward * reached * g, -g))
    sideways = toward * reached * found.loads
    return ExternalForces(on_ground(scene, found.loads, np.zeros(4), sideways), notes=(*notes, *lift_notes(found)))


def _corner_limit(scene: Scene, acceleration: float, toward: float) -> tuple[float, tuple[str, ...]]:
    """Return the sideways acceleration in g that is reached, and why it is less than asked."""
    rolls, slides = rollover_limit(scene, toward), scene.vehicle.friction
    if acceleration <= min(rolls, slides):
        return acceleration, ()
    limit, what = (rolls, "rolls over") if rolls < slides else (slides, "the tyres slide")
    return limit, (f"{what} at {limit:.2f} g, before the {acceleration:.2f} g asked for; run at {limit:.2f} g",)


def upright(scene: Scene, loads: Array) -> tuple[WheelForce, ...]:
    return on_ground(scene, loads, np.zeros(4), np.zeros(4))


def on_ground(scene: Scene, loads: Array, along: Array, sideways: Array) -> tuple[WheelForce, ...]:
    rows = np.stack([along, sideways, loads], axis=1)
    return tuple(at_contact(wheel, row) for wheel, row in zip(wheels_of(scene.vehicle), rows, strict=True))


def braking_in_turn(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return braking while turning: both accelerations together, as much as the tyres hold of their common direction.

    Each axle holds sqrt((mu N)2 - Fy2) along (friction circle, vehicle dynamics texts, from memory); sideways it turns as in a
    steady turn. More than mu in all is scaled back, sideways no further than rolling over.
    """
    toward = 1.0 if word(load_case, "side") == "left" else -1.0
    asked = (positive(load_case, "deceleration"), positive(load_case, "acceleration"))
    across = min(asked[1], max(rollover_limit(scene, toward), 0.0))
    scale = min(1.0, scene.vehicle.friction / sqrt(asked[0] ** 2 + across**2))
    across, along = scale * across, scale * asked[0]
    found, forces, reached = braked_turning(scene, along, toward * across)
    said = f"{reached:.2f} g of {asked[0]:.2f} g braking with {across:.2f} g of {asked[1]:.2f} g turning"
    wheels = on_ground(scene, found.loads, -forces, toward * across * found.loads)
    return ExternalForces(wheels, notes=(said, *lift_notes(found)))


def braked_turning(scene: Scene, deceleration: float, across: float) -> tuple[WheelLoads, Array, float]:
    """Return wheel loads, braking forces (4,) in N and the deceleration reached in g, while turning at `across` g to the left."""
    g, reached = scene.vehicle.gravity, deceleration
    spare = sqrt(max(scene.vehicle.friction**2 - across**2, 0.0))
    for _ in range(200):
        found = wheel_loads(scene, (reached * g, -across * g, -g))
        axles = np.array(found.axles)
        wanted = np.minimum(brake_shares(scene, axles) * deceleration * scene.weight, spare * axles)
        forces = np.repeat(np.divide(wanted, axles, out=np.zeros(2), where=axles > 0), 2) * found.loads
        now = float(forces.sum()) / scene.weight
        if abs(now - reached) <= 1e-14:
            break
        reached = now
    return found, np.asarray(forces, dtype=np.float64), reached


def swing(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return the end of a fast swing to one side from the other: the body rolls further than in a steady turn.

    `overshoot`: the roll moment on that of a steady turn of the same acceleration. The tyres' forces stay those of the turn; what
    goes beyond turns the body (its roll inertia answers).
    """
    toward = 1.0 if word(load_case, "side") == "left" else -1.0
    g = scene.vehicle.gravity
    across = min(positive(load_case, "acceleration"), scene.vehicle.friction, max(rollover_limit(scene, toward), 0.0))
    apparent = (0.0, -toward * across * g, -g)
    more = (positive(load_case, "overshoot") - 1.0) * toward * across * scene.weight * scene.cg_height
    found = wheel_loads(scene, apparent, np.array([0.0, 0.0, 0.0, more, 0.0, 0.0]))
    turning = found.loads / max(float(found.loads.sum()), 1e-9) * scene.weight
    said = f"{across:.2f} g of {positive(load_case, 'acceleration'):.2f} g sideways"
    wheels = on_ground(scene, found.loads, np.zeros(4), toward * across * turning)
    return ExternalForces(wheels, notes=(said, *lift_notes(found)))


def damper_force(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return wheels that move up at a speed: each damper pushes the frame with its force at that speed, c v.

    c from the force that the file states at a speed (a damper that gives way at speed gives less). The tyre pushes back with the
    upright part, the rest of the couple is held by the suspension.
    """
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    speed, rods, points = positive(load_case, "speed"), list[WheelForce](), list[PointLoad]()
    loads = np.array(static_loads(scene).loads)
    for n in numbers:
        pair = scene.vehicle.axles[n // 2].dampers
        if pair is None:
            continue
        name, damper = wheels_of(scene.vehicle)[n].name, pair[n % 2]
        force = damper.force * speed / damper.speed
        push, load = damper_pair(scene, damper, force, f"{name} damper")
        loads[n] += push[2]
        rods.append(WheelForce(name, damper.end, vector(-push)))
        points.append(load)
    if not rods:
        remedy = "describe 'dampers' on the axle"
        raise InputError([Fault("", load_case.name, "no damper is described on these wheels", remedy)])
    return ExternalForces(upright(scene, loads), internal=tuple(points), rods=tuple(rods))


def damper_pair(scene: Scene, damper: Damper, force: float, name: str) -> tuple[Array, PointLoad]:
    """Return a damper's push (3,) on the frame, N, and the same as a load on its frame point."""
    top = foot(name, damper.bracket, scene.points)
    push = force * np.array(unit(damper.end, top.at, name))
    arm = np.array(top.at) - np.array(scene.points[top.point])
    return push, PointLoad(top.point, vector(push), vector(cross(arm, push)), name)


def steering_at_lock(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return the steering box pushing with all its force against wheels that are at their stop, the vehicle standing.

    The drag link pushes the wheel's carrier along itself and the box back; the suspension leads the push back to the frame.
    """
    steering = scene.vehicle.steering
    if steering is None:
        raise InputError([Fault("", load_case.name, "no steering box is described", "describe the 'steering box' under vehicle")])
    sign = 1.0 if word(load_case, "side") == "left" else -1.0
    size = sign * positive(load_case, "factor") * steering.force
    push = size * np.array(unit(steering.ball, steering.link_end, "drag link"))
    box = spread(scene, np.concatenate([-push, np.zeros(3)]), steering.ball, steering.on, "steering box")
    rod = WheelForce(nearest_front_wheel(scene, steering.link_end), steering.link_end, vector(push))
    return ExternalForces(upright(scene, static_loads(scene).loads), internal=tuple(box), rods=(rod,))


def nearest_front_wheel(scene: Scene, at: Vector) -> str:
    """Return the name of the front wheel on whose side a place lies."""
    front = scene.vehicle.front
    return (front.left if at[1] >= (front.left.contact[1] + front.right.contact[1]) / 2 else front.right).name


KINDS: Mapping[str, KindOfLoadCase] = {
    "static": KindOfLoadCase(static, MASSES_AND_AXLES),
    "vertical bump": KindOfLoadCase(vertical_bump, MASSES_AND_AXLES),
    "braking": KindOfLoadCase(braking, MASSES_AND_AXLES),
    "reverse braking": KindOfLoadCase(reverse_braking, MASSES_AND_AXLES),
    "cornering left": KindOfLoadCase(cornering_left, MASSES_AND_AXLES),
    "cornering right": KindOfLoadCase(cornering_right, MASSES_AND_AXLES),
    "braking in a turn": KindOfLoadCase(braking_in_turn, MASSES_AND_AXLES),
    "left-right swing": KindOfLoadCase(swing, MASSES_AND_AXLES),
    "damper force": KindOfLoadCase(damper_force, NeededData(has_dampers, "describe the 'dampers' of an axle", usual=False)),
    "steering at the lock": KindOfLoadCase(steering_at_lock, NeededData(has_steering_box, "describe the 'steering box'", usual=False)),
}
"""The kinds of load case that are worked out here, and what each needs."""
