"""Load cases of hard driving: braking in a turn, a fast swing from one side to the other, dampers at speed, steering at its lock."""

from __future__ import annotations

from math import sqrt

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad
from framecheck.model.suspension import Damper
from framecheck.vehicle.balance import spread
from framecheck.vehicle.corners import foot, unit
from framecheck.vehicle.driving import brake_shares, lift_notes, on_ground, rollover_limit, upright
from framecheck.vehicle.factors import positive, word
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.scene import Action, Scene, WheelForce, cross, vector, wheel_numbers
from framecheck.vehicle.wheels import WheelLoads, static_loads, wheel_loads


def braking_in_turn(scene: Scene, load_case: LoadCase) -> Action:
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
    return Action(wheels, notes=(said, *lift_notes(found)))


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


def swing(scene: Scene, load_case: LoadCase) -> Action:
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
    return Action(wheels, notes=(said, *lift_notes(found)))


def damper_force(scene: Scene, load_case: LoadCase) -> Action:
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
    return Action(upright(scene, loads), internal=tuple(points), rods=tuple(rods))


def damper_pair(scene: Scene, damper: Damper, force: float, name: str) -> tuple[Array, PointLoad]:
    """Return a damper's push (3,) on the frame, N, and the same as a load on its frame point."""
    top = foot(name, damper.bracket, scene.points)
    push = force * np.array(unit(damper.end, top.at, name))
    arm = np.array(top.at) - np.array(scene.points[top.point])
    return push, PointLoad(top.point, vector(push), vector(cross(arm, push)), name)


def steering_at_lock(scene: Scene, load_case: LoadCase) -> Action:
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
    return Action(upright(scene, static_loads(scene).loads), internal=tuple(box), rods=(rod,))


def nearest_front_wheel(scene: Scene, at: Vector) -> str:
    """Return the name of the front wheel on whose side a place lies."""
    front = scene.vehicle.front
    return (front.left if at[1] >= (front.left.contact[1] + front.right.contact[1]) / 2 else front.right).name
