"""Load cases with an obstacle of a stated size: a block, a curb climbed or struck at speed, a drop, a strike below."""

from __future__ import annotations

from math import sqrt

import numpy as np

from framecheck.errors import Fault, InputError, UnsolvableError
from framecheck.model.arrays import Array
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad
from framecheck.vehicle.balance import turning
from framecheck.vehicle.driving import on_ground, upright
from framecheck.vehicle.factors import number, point, positive, word
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.scene import Action, Scene, cross, track, wheel_numbers
from framecheck.vehicle.strikes import at_hubs, twisted
from framecheck.vehicle.wheels import static_loads


def series(*stiffness: float) -> float:
    """Return the stiffness of springs in series, 1 / sum(1/k); inf is rigid (mechanics)."""
    return 1.0 / sum(1.0 / each for each in stiffness)


def climbing_force(load: float, radius: float, height: float) -> float:
    """Return the force to roll a wheel up a curb, N: W sqrt(2 R h - h^2) / (R - h) (statics about the curb's edge)."""
    return load * sqrt(2 * radius * height - height**2) / (radius - height)


def energy_force(speed: float, stiffness: float, mass: float) -> float:
    """Return the force of a mass stopped by a spring, N: v sqrt(k m) (energy)."""
    return speed * sqrt(stiffness * mass)


def drop_force(load: float, height: float, deflection: float) -> float:
    """Return the force of a drop on a spring, N: W (1 + sqrt(1 + 2 h / d)), d its deflection under W (energy)."""
    return load * (1 + sqrt(1 + 2 * height / deflection))


def mass_felt(scene: Scene, at: Array, direction: Array) -> float:
    """Return the mass that a blow at a place feels, kg: 1 / (1/m + (I^-1 (r x n)) x r . n) (rigid body dynamics)."""
    arm = at - scene.whole.cg
    angular = turning(scene.whole, cross(arm, direction))
    turned = cross(angular, arm)
    return 1.0 / (1.0 / scene.whole.mass + float(turned @ direction))


def diagonal_twist(scene: Scene, load_case: LoadCase) -> Action:
    """Return one wheel on a block of stated height: tilt h/t times the twist stiffness of axles and frame in series.

    Never more than until a wheel leaves the ground. `frame stiffness` (Nm/rad) left out: a rigid frame, the most.
    """
    where = wheel_numbers(scene.vehicle, word(load_case, "wheel"))[0]
    height, still = positive(load_case, "height"), static_loads(scene).loads
    most = twisted(scene, where) - still
    rolls = [roll.stiffness for roll in scene.rolls]
    if rolls[0] is None or rolls[1] is None:
        remedy = "describe the suspension or give roll stiffness on both axles"
        raise InputError([Fault("", load_case.name, "the roll stiffness of an axle is not known", remedy)])
    frame = positive(load_case, "frame stiffness") if "frame stiffness" in load_case.factors else float("inf")
    axle = scene.vehicle.axles[where // 2]
    moment = height / track(axle) * series(rolls[0], rolls[1], frame)
    share = min(1.0, moment / track(axle) / float(most[where]))
    said = "a wheel leaves the ground" if share == 1.0 else "all wheels stay on the ground"
    loads = np.maximum(still + share * most, 0.0)
    return Action(upright(scene, loads), notes=(f"{share:.0%} of the full twist: {said}",))


def curb_climb(scene: Scene, load_case: LoadCase) -> Action:
    """Return wheels rolling square up a curb, slowly."""
    numbers, height = wheel_numbers(scene.vehicle, word(load_case, "wheel")), positive(load_case, "height")
    loads, along = static_loads(scene).loads, np.zeros(4)
    for n in numbers:
        wheel = wheels_of(scene.vehicle)[n]
        if height >= wheel.radius:
            raise UnsolvableError(
                f"{load_case.name}: a curb of {height:.3f} m is too high for a {wheel.radius:.3f} m wheel"
            )
        along[n] = -climbing_force(float(loads[n]), wheel.radius, height)
    return Action((*upright(scene, loads), *at_hubs(scene, numbers, along)))


def curb_at_speed(scene: Scene, load_case: LoadCase) -> Action:
    """Return one wheel sliding sideways into a curb, stopped by tyre, suspension and frame in series."""
    where = wheel_numbers(scene.vehicle, word(load_case, "wheel"))[0]
    parts = (positive(load_case, f"{part} stiffness") for part in ("tyre", "suspension", "frame"))
    contact = np.array(wheels_of(scene.vehicle)[where].contact)
    mass = mass_felt(scene, contact, np.array([0.0, 1.0, 0.0]))
    force = energy_force(positive(load_case, "speed"), series(*parts), mass)
    across = np.zeros(4)
    across[where] = -force if where % 2 == 0 else force
    said = f"{mass:.0f} kg of {scene.whole.mass:.0f} kg felt at the wheel, force {force:.0f} N"
    return Action(on_ground(scene, static_loads(scene).loads, np.zeros(4), across), notes=(said,))


def drop_on_wheel(scene: Scene, load_case: LoadCase) -> Action:
    """Return a drop that one wheel (or axle) takes."""
    loads = np.array(static_loads(scene).loads)
    for n in wheel_numbers(scene.vehicle, word(load_case, "wheel")):
        deflection = positive(load_case, "static deflection")
        loads[n] = drop_force(float(loads[n]), positive(load_case, "height"), deflection)
    return Action(upright(scene, loads))


def underbody_strike(scene: Scene, load_case: LoadCase) -> Action:
    """Return a blow from below at a frame point: a multiple of the front axle's load, with friction rearward."""
    where = point(scene, load_case, "point")
    still = static_loads(scene)
    up = positive(load_case, "factor") * still.axles[0]
    blow = PointLoad(where, (-number(load_case, "drag") * up, 0.0, up), because="strike from below")
    return Action(upright(scene, still.loads), outside=(blow,))
