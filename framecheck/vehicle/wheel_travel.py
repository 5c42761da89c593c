"""How far each wheel goes up against the frame in a load case, from where it stands at rest. SI.

An axle goes up on both its springs and rolls on their law, bump stops and droop straps in both. What links and arms carry past the
springs in a turn is counted as the springs': the wheel is said to move further than it does. A wheel goes straight up and down: it is
not steered and takes no camber.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.loads import Motion
from framecheck.model.vehicle import Axle, Wheel
from framecheck.vehicle.balance import felt, ground_wrench
from framecheck.vehicle.masses import wheel_centre
from framecheck.vehicle.scene import Action, AxleSuspension, Scene, track
from framecheck.vehicle.wheels import static_loads


def wheel_travel(scene: Scene, action: Action, moving: Motion) -> tuple[tuple[str, float], ...]:
    """Return how far up each wheel goes, m, by its name; wheels whose springs are not described are left out."""
    rest = static_loads(scene).loads.tolist()
    pairs = zip(scene.vehicle.axles, scene.suspension, (rest[:2], rest[2:]), strict=True)
    return tuple(found for axle, suspension, loads in pairs for found in of_axle(scene, axle, suspension, (action, moving), loads))


def of_axle(
    scene: Scene, axle: Axle, suspension: AxleSuspension, now: tuple[Action, Motion], rest: list[float]
) -> Iterator[tuple[str, float]]:
    """Yield the travel of an axle's wheels; rest: their loads at rest, N."""
    law, roll = suspension.travel(2), suspension.roll_law
    if law is None or roll is None:
        return
    wheels = (axle.left, axle.right)
    left, right = (more(scene, wheel, now, load) for wheel, load in zip(wheels, rest, strict=True))
    both, twisted = (left + right) / 2, sum(moment[0] for name, moment in now[0].on_carriers if name in [w.name for w in wheels])
    up = law.up(both) if both >= 0.0 else -law.down(-both)
    rolled = roll.angle((left - right) * track(axle) / 2 + twisted) * track(axle) / 2
    yield axle.left.name, up + rolled
    yield axle.right.name, up - rolled


def more(scene: Scene, wheel: Wheel, now: tuple[Action, Motion], rest: float) -> float:
    """Return what a wheel's spring carries more than at rest, N: the ground's force less what the wheel itself weighs and feels."""
    action, moving = now
    ground = float(ground_wrench(wheel, action, np.array(wheel.contact))[2])
    own = wheel.unsprung_mass * (float(felt(moving, wheel_centre(wheel))[2]) + scene.vehicle.gravity)
    return ground - rest + own
