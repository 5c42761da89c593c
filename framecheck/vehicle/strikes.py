"""Load cases where a wheel meets something: a hump, a curb, a pothole."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.case import LoadCase
from framecheck.vehicle.driving import braked, on_ground, upright
from framecheck.vehicle.factors import number_or, positive, word
from framecheck.vehicle.masses import wheel_centre, wheels_of
from framecheck.vehicle.scene import Action, Scene, WheelForce, track, wheel_numbers
from framecheck.vehicle.wheels import couple_limits, loads_from_couples, static_loads


def one_wheel_up(scene: Scene, load_case: LoadCase) -> Action:
    """Return twist: a wheel raised until the first wheel leaves the ground, T = W_light t / 2.

    The lighter axle's load all on one wheel, the opposite couple at the other axle (Motor Vehicle Structures, 2.4.2,
    from memory; statics). `share`: how much of that, 1 for all; `dynamic factor`: on all wheel loads.
    """
    number = wheel_numbers(scene.vehicle, word(load_case, "wheel"))[0]
    share = positive(load_case, "share")
    still = static_loads(scene)
    loads = still.loads + share * (twisted(scene, number) - still.loads)
    low = [w.name for w, load in zip(wheels_of(scene.vehicle), loads, strict=True) if load <= 1e-9 * scene.weight]
    notes = tuple(f"the {name} wheel just leaves the ground" for name in low)
    factor = number_or(load_case, "dynamic factor", 1.0)
    return Action(upright(scene, factor * np.maximum(loads, 0.0)), notes=notes)


def twisted(scene: Scene, number: int) -> Array:
    """Return wheel loads (4,), N, with a wheel raised until one just leaves the ground; no acceleration."""
    still = static_loads(scene)
    axles = np.array(still.axles)
    limits = couple_limits(scene, axles)
    couples = _couples(scene, still.loads)
    raised, sign = number // 2, 1.0 if number % 2 == 0 else -1.0
    room = min(limits[raised] - sign * couples[raised], limits[1 - raised] + sign * couples[1 - raised])
    step = np.array([1.0, -1.0]) if raised == 0 else np.array([-1.0, 1.0])
    return loads_from_couples(scene, axles, couples + sign * room * step)


def curb_sideways(scene: Scene, load_case: LoadCase) -> Action:
    """Return both wheels of one side against a curb, on the verge of rolling over: F = K m g B / 2h.

    Motor Vehicle Structures, 2.4.4, p. 24: K 1.75 (1953 proposal) or 1.4; shared between the axles by their loads. All
    weight is on the wheels that strike.
    """
    side = word(load_case, "side")
    struck = wheel_numbers(scene.vehicle, side)
    axles = np.array(static_loads(scene).axles)
    outer = np.array([wheels_of(scene.vehicle)[n].contact[1] for n in struck])
    lever = abs(float(scene.whole.cg[1]) - float(axles @ outer) / scene.weight)
    total = positive(load_case, "factor") * scene.weight * lever / scene.cg_height
    away = -1.0 if side == "left" else 1.0
    loads, across = np.zeros(4), np.zeros(4)
    loads[list(struck)], across[list(struck)] = axles, away * total * axles / scene.weight
    other = "right" if side == "left" else "left"
    return Action(on_ground(scene, loads, np.zeros(4), across), notes=(f"the {other} wheels carry nothing",))


def curb_one_wheel(scene: Scene, load_case: LoadCase) -> Action:
    """Return one wheel struck sideways by a multiple of its static load, toward the middle of the vehicle."""
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    loads = static_loads(scene).loads
    across = np.zeros(4)
    for n in numbers:
        across[n] = (-1.0 if n % 2 == 0 else 1.0) * positive(load_case, "factor") * loads[n]
    return Action(on_ground(scene, loads, np.zeros(4), across))


def curb_head_on(scene: Scene, load_case: LoadCase) -> Action:
    """Return wheels struck head-on by a multiple of their static load; a rolling wheel passes it on at its centre."""
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    loads = static_loads(scene).loads
    return Action((*upright(scene, loads), *at_hubs(scene, numbers, -positive(load_case, "factor") * loads)))


def pothole_braking(scene: Scene, load_case: LoadCase) -> Action:
    """Return braking with one wheel dropping into a pothole: its forces are multiples of its static load."""
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    still = static_loads(scene).loads
    found, forces, notes = braked(scene, positive(load_case, "deceleration"), -1.0)
    loads, along = np.array(found.loads), -forces
    for n in numbers:
        loads[n] = positive(load_case, "vertical") * still[n]
        along[n] = -positive(load_case, "along") * still[n]
    return Action(on_ground(scene, loads, along, np.zeros(4)), notes=notes)


def at_hubs(scene: Scene, numbers: tuple[int, ...], along: Array) -> tuple[WheelForce, ...]:
    """Return forces along the vehicle (4,) at the centres of some wheels, N."""
    wheels = wheels_of(scene.vehicle)
    return tuple(WheelForce(wheels[n].name, wheel_centre(wheels[n]), (float(along[n]), 0.0, 0.0)) for n in numbers)


def _couples(scene: Scene, loads: Array) -> Array:
    half = np.array([track(axle) for axle in scene.vehicle.axles]) / 2
    return np.asarray((loads[[0, 2]] - loads[[1, 3]]) * half, dtype=np.float64)
