"""Load cases of the vehicle at rest and under way: static, bump, braking, cornering."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.case import LoadCase
from framecheck.vehicle.factors import positive
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.scene import Action, Scene, WheelForce, at_contact
from framecheck.vehicle.wheels import WheelLoads, static_loads, wheel_loads

TOLERANCE = 1e-9


def static(scene: Scene, _load_case: LoadCase) -> Action:
    """Return the vehicle standing still."""
    found = static_loads(scene)
    return Action(upright(scene, found.loads), notes=lift_notes(found))


def vertical_bump(scene: Scene, load_case: LoadCase) -> Action:
    """Return all four wheels at a multiple of their static load (Automotive Chassis Engineering (2018), 4.3.2.1)."""
    return Action(upright(scene, positive(load_case, "factor") * static_loads(scene).loads))


def braking(scene: Scene, load_case: LoadCase) -> Action:
    """Return braking while driving forward, by the friction of the tyres at most."""
    return _slowing(scene, positive(load_case, "deceleration"), -1.0)


def reverse_braking(scene: Scene, load_case: LoadCase) -> Action:
    """Return braking while driving backward."""
    return _slowing(scene, positive(load_case, "deceleration"), 1.0)


def cornering_left(scene: Scene, load_case: LoadCase) -> Action:
    """Return a steady turn to the left."""
    return _cornering(scene, positive(load_case, "acceleration"), 1.0)


def cornering_right(scene: Scene, load_case: LoadCase) -> Action:
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


def _slowing(scene: Scene, deceleration: float, sign: float) -> Action:
    found, forces, notes = braked(scene, deceleration, sign)
    return Action(on_ground(scene, found.loads, sign * forces, np.zeros(4)), notes=notes)


def _cornering(scene: Scene, acceleration: float, toward: float) -> Action:
    """Sideways forces balance yaw between the axles and go with the wheel loads within each."""
    static_loads(scene)
    reached, notes = _corner_limit(scene, acceleration, toward)
    g = scene.vehicle.gravity
    found = wheel_loads(scene, (0.0, -toward * reached * g, -g))
    sideways = toward * reached * found.loads
    return Action(on_ground(scene, found.loads, np.zeros(4), sideways), notes=(*notes, *lift_notes(found)))


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
