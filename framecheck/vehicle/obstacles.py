"""Load cases where a wheel or the frame meets something: a hump, a curb, a pothole, a block, a drop, a strike below."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

import numpy as np

from framecheck.errors import Fault, InputError, UnsolvableError
from framecheck.model.arrays import Array
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad
from framecheck.model.said import SaidAmount, Words, said
from framecheck.value_class import value_class
from framecheck.vehicle.balance import turning
from framecheck.vehicle.driving import braked, on_ground, upright
from framecheck.vehicle.masses import wheel_centre, wheels_of
from framecheck.vehicle.runnable import (
    MASSES_AND_AXLES,
    OFF_ROAD,
    ROLLS_KNOWN,
    SOME_POINT,
    SPEED,
    SPRUNG,
    KindOfLoadCase,
)
from framecheck.vehicle.scene import (
    ExternalForces,
    Scene,
    WheelForce,
    cross,
    number,
    number_or,
    point,
    positive,
    track,
    wheel_numbers,
    word,
)
from framecheck.vehicle.travel import RollLaw, Travel, linear, one_after_the_other
from framecheck.vehicle.wheels import couple_limits, loads_from_couples, static_loads


def one_wheel_up(scene: Scene, load_case: LoadCase) -> ExternalForces:
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
    return ExternalForces(upright(scene, factor * np.maximum(loads, 0.0)), notes=notes)


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


def curb_sideways(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return both wheels of one side against a curb, on the verge of rolling over: F = K m g B / 2h.

    Motor Vehicle Structures, 2.4.4, p. 24: K 1.75 (1953 proposal) or 1.4; shared by the axles' loads, all on the wheels that strike.
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
    return ExternalForces(on_ground(scene, loads, np.zeros(4), across), notes=(f"the {other} wheels carry nothing",))


def curb_one_wheel(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return one wheel struck sideways by a multiple of its static load, toward the middle of the vehicle."""
    loads, across = static_loads(scene).loads, np.zeros(4)
    for n in wheel_numbers(scene.vehicle, word(load_case, "wheel")):
        across[n] = (-1.0 if n % 2 == 0 else 1.0) * positive(load_case, "factor") * loads[n]
    return ExternalForces(on_ground(scene, loads, np.zeros(4), across))


def curb_head_on(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return wheels struck head-on by a multiple of their static load; a rolling wheel passes it on at its centre."""
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    loads = static_loads(scene).loads
    return ExternalForces((*upright(scene, loads), *at_hubs(scene, numbers, -positive(load_case, "factor") * loads)))


def pothole_braking(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return braking with one wheel dropping into a pothole: its forces are multiples of its static load."""
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    still = static_loads(scene).loads
    found, forces, notes = braked(scene, positive(load_case, "deceleration"), -1.0)
    loads, along = np.array(found.loads), -forces
    for n in numbers:
        loads[n] = positive(load_case, "vertical") * still[n]
        along[n] = -positive(load_case, "along") * still[n]
    return ExternalForces(on_ground(scene, loads, along, np.zeros(4)), notes=notes)


def at_hubs(scene: Scene, numbers: tuple[int, ...], along: Array) -> tuple[WheelForce, ...]:
    """Return forces along the vehicle (4,) at the centres of some wheels, N."""
    wheels = wheels_of(scene.vehicle)
    return tuple(WheelForce(wheels[n].name, wheel_centre(wheels[n]), (float(along[n]), 0.0, 0.0)) for n in numbers)


def _couples(scene: Scene, loads: Array) -> Array:
    half = np.array([track(axle) for axle in scene.vehicle.axles]) / 2
    return np.asarray((loads[[0, 2]] - loads[[1, 3]]) * half, dtype=np.float64)


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


def landing_force(load: float, height: float, stiffness: float, touch: float, stop: float) -> float:
    """Return the force, N, of a weight W dropped on a spring whose stop touches at a force, F >= W: the work of the weight is stored.

    Up to the touch W (1 + sqrt(1 + 2 h k/W)). Beyond it the stop alone takes more: W (h + x + y) = F_t2/(2 k) + F_t y + k_s y2/2,
    x = F_t/k (energy). stiffness k, stop k_s: N/m. The two agree where the stop just touches.
    """
    free = drop_force(load, height, load / stiffness)
    if free <= touch:
        return free
    left = load * (height + touch / stiffness) - touch**2 / (2 * stiffness)
    over = touch - load
    return touch + sqrt(over**2 + 2 * stop * left) - over


def mass_felt(scene: Scene, at: Array, direction: Array) -> float:
    """Return the mass that a blow at a place feels, kg: 1 / (1/m + (I^-1 (r x n)) x r . n) (rigid body dynamics)."""
    arm = at - scene.whole.cg
    angular = turning(scene.whole, cross(arm, direction))
    turned = cross(angular, arm)
    return 1.0 / (1.0 / scene.whole.mass + float(turned @ direction))


def diagonal_twist(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return one wheel on a block of stated height: tilt h/t shared by both axles, until their travel is used up, and the frame.

    One moment goes through front axle, frame and rear axle, the tilts add; never more than until a wheel leaves the ground.
    `frame stiffness` (Nm/rad) left out: a rigid frame, the most. `dynamic factor`: on all wheel loads.
    """
    where = wheel_numbers(scene.vehicle, word(load_case, "wheel"))[0]
    height, still = positive(load_case, "height"), static_loads(scene).loads
    most = twisted(scene, where) - still
    apart = track(scene.vehicle.axles[where // 2])
    moment, room = abs(twist_law(scene, load_case).moment(height / apart)), float(most[where]) * apart
    share = 1.0 if moment >= room else moment / room
    said = "a wheel leaves the ground" if share == 1.0 else "all wheels stay on the ground"
    loads = number_or(load_case, "dynamic factor", 1.0) * np.maximum(still + share * most, 0.0)
    return ExternalForces(upright(scene, loads), notes=(f"{100 * share:.0f} % of the full twist: {said}",))


def twist_law(scene: Scene, load_case: LoadCase) -> RollLaw:
    """Return the tilt of one axle against the other: both axles and the frame, one after the other."""
    first, second = scene.laws
    if first is None or second is None:
        remedy = "describe the suspension or give roll stiffness on both axles"
        raise InputError([Fault("", load_case.name, "the roll stiffness of an axle is not known", remedy)])
    frame = (linear(positive(load_case, "frame stiffness")),) if "frame stiffness" in load_case.factors else ()
    return one_after_the_other((first, second, *frame))


def curb_climb(scene: Scene, load_case: LoadCase) -> ExternalForces:
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
    return ExternalForces((*upright(scene, loads), *at_hubs(scene, numbers, along)))


def curb_at_speed(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return one wheel sliding sideways into a curb, stopped by tyre, suspension and frame in series.

    The blow feels no less than the mass on its axle: a body whose squared radius of gyration is the product of the distances to its
    axles feels just that (vehicle dynamics texts, from memory), and masses written as points have too little inertia.
    """
    where = wheel_numbers(scene.vehicle, word(load_case, "wheel"))[0]
    parts = (positive(load_case, f"{part} stiffness") for part in ("tyre", "suspension", "frame"))
    contact, still = np.array(wheels_of(scene.vehicle)[where].contact), static_loads(scene).loads
    on_axle = float(still[where // 2 * 2 : where // 2 * 2 + 2].sum()) / scene.vehicle.gravity
    mass = max(mass_felt(scene, contact, np.array([0.0, 1.0, 0.0])), on_axle)
    force = energy_force(positive(load_case, "speed"), series(*parts), mass)
    across = np.zeros(4)
    across[where] = -force if where % 2 == 0 else force
    felt, whole = SaidAmount(mass, "mass"), SaidAmount(scene.whole.mass, "mass")
    note = said(felt, " of ", whole, " felt at the wheel, force ", SaidAmount(force, "force"))
    return ExternalForces(on_ground(scene, still, np.zeros(4), across), notes=(note,))


def drop_on_wheel(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return a drop that one wheel (or axle, or all) takes, on its springs and then on its bump stops."""
    loads, notes = np.array(static_loads(scene).loads), []
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    for n in numbers:
        together = sum(1 for other in numbers if other // 2 == n // 2)
        spring = landing_spring(load_case, float(loads[n]), scene.suspension[n // 2].travel(together))
        loads[n], note = landed(float(loads[n]), positive(load_case, "height"), spring)
        notes.append(said(f"{wheels_of(scene.vehicle)[n].name} wheel: ", note))
    return ExternalForces(upright(scene, loads), notes=tuple(notes))


@value_class
class LandingSpring:
    """What a wheel lands on: stiffness with the tyre, N/m; the wheel load at which its stop touches, N; the stop's, N/m."""

    stiffness: float
    touch: float
    stop: float


def landing_spring(load_case: LoadCase, load: float, travel: Travel | None) -> LandingSpring:
    """Return what a wheel lands on: softness as the file gives it, else that of its spring alone (a hard tyre), else the default.

    A softness that the file gives is that of the wheel up to its stop; the stop keeps its ratio to it.
    """
    if travel is None:
        return LandingSpring(load / positive(load_case, "static deflection"), float("inf"), 0.0)
    stated = "static deflection" in load_case.given and load > 0
    rate = load / positive(load_case, "static deflection") if stated else travel.rate
    return LandingSpring(rate, load + rate * travel.bump, travel.stop_rate * rate / travel.rate)


def landed(load: float, height: float, spring: LandingSpring) -> tuple[float, Words]:
    """Return the force of a drop on a wheel, N, and what is to be said of it; a wheel that carries nothing stays so."""
    if load <= 0:
        return 0.0, "carries nothing at rest"
    force = landing_force(load, height, spring.stiffness, spring.touch, spring.stop)
    whole, on_stop = SaidAmount(force, "force"), SaidAmount(force - spring.touch, "force")
    stop = (", ", on_stop, " of it by the bump stop") if force > spring.touch else ()
    return force, said(whole, f", {force / load:.2f} times its load at rest", *stop)


def underbody_strike(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return a blow from below at a frame point: a multiple of the front axle's load, with friction rearward.

    `weight share`: at least this part of the whole weight, for a vehicle that comes to rest on the point.
    """
    where = point(scene, load_case, "point")
    still = static_loads(scene)
    up = max(positive(load_case, "factor") * still.axles[0], number_or(load_case, "weight share", 0.0) * scene.weight)
    blow = PointLoad(where, (-number(load_case, "drag") * up, 0.0, up), because="strike from below")
    return ExternalForces(upright(scene, still.loads), outside=(blow,))


KINDS: Mapping[str, KindOfLoadCase] = {
    "one wheel up": KindOfLoadCase(one_wheel_up, MASSES_AND_AXLES),
    "curb strike sideways": KindOfLoadCase(curb_sideways, MASSES_AND_AXLES),
    "curb strike sideways, one wheel": KindOfLoadCase(curb_one_wheel, MASSES_AND_AXLES),
    "curb strike head-on": KindOfLoadCase(curb_head_on, MASSES_AND_AXLES),
    "pothole under braking": KindOfLoadCase(pothole_braking, MASSES_AND_AXLES),
    "diagonal twist": KindOfLoadCase(diagonal_twist, ROLLS_KNOWN),
    "curb climb head-on": KindOfLoadCase(curb_climb, MASSES_AND_AXLES),
    "curb strike sideways at speed": KindOfLoadCase(curb_at_speed, SPEED),
    "drop on one wheel": KindOfLoadCase(drop_on_wheel, SPRUNG),
    "airborne landing": KindOfLoadCase(drop_on_wheel, OFF_ROAD),
    "underbody strike": KindOfLoadCase(underbody_strike, SOME_POINT),
}
"""The kinds of load case that are worked out here, and what each needs."""
