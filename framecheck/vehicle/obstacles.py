"""Load cases with an obstacle of a stated size: a block, a curb climbed or struck at speed, a drop, a strike below."""

from __future__ import annotations

from math import sqrt

import numpy as np

from framecheck.errors import Fault, InputError, UnsolvableError
from framecheck.model.arrays import Array
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad
from framecheck.model.said import Amount, Words, said
from framecheck.value_class import value_class
from framecheck.vehicle.balance import turning
from framecheck.vehicle.driving import on_ground, upright
from framecheck.vehicle.factors import number, number_or, point, positive, word
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.scene import Action, Scene, cross, track, wheel_numbers
from framecheck.vehicle.strikes import at_hubs, twisted
from framecheck.vehicle.travel import RollLaw, Travel, linear, one_after_the_other
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


def diagonal_twist(scene: Scene, load_case: LoadCase) -> Action:
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
    return Action(upright(scene, loads), notes=(f"{100 * share:.0f} % of the full twist: {said}",))


def twist_law(scene: Scene, load_case: LoadCase) -> RollLaw:
    """Return the tilt of one axle against the other: both axles and the frame, one after the other."""
    first, second = scene.laws
    if first is None or second is None:
        remedy = "describe the suspension or give roll stiffness on both axles"
        raise InputError([Fault("", load_case.name, "the roll stiffness of an axle is not known", remedy)])
    frame = (linear(positive(load_case, "frame stiffness")),) if "frame stiffness" in load_case.factors else ()
    return one_after_the_other((first, second, *frame))


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
    felt, whole = Amount(mass, "mass"), Amount(scene.whole.mass, "mass")
    note = said(felt, " of ", whole, " felt at the wheel, force ", Amount(force, "force"))
    return Action(on_ground(scene, still, np.zeros(4), across), notes=(note,))


def drop_on_wheel(scene: Scene, load_case: LoadCase) -> Action:
    """Return a drop that one wheel (or axle, or all) takes, on its springs and then on its bump stops."""
    loads, notes = np.array(static_loads(scene).loads), []
    numbers = wheel_numbers(scene.vehicle, word(load_case, "wheel"))
    for n in numbers:
        together = sum(1 for other in numbers if other // 2 == n // 2)
        spring = landing_spring(load_case, float(loads[n]), scene.suspension[n // 2].travel(together))
        loads[n], note = landed(float(loads[n]), positive(load_case, "height"), spring)
        notes.append(said(f"{wheels_of(scene.vehicle)[n].name} wheel: ", note))
    return Action(upright(scene, loads), notes=tuple(notes))


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
    whole, on_stop = Amount(force, "force"), Amount(force - spring.touch, "force")
    stop = (", ", on_stop, " of it by the bump stop") if force > spring.touch else ()
    return force, said(whole, f", {force / load:.2f} times its load at rest", *stop)


def underbody_strike(scene: Scene, load_case: LoadCase) -> Action:
    """Return a blow from below at a frame point: a multiple of the front axle's load, with friction rearward.

    `weight share`: at least this part of the whole weight, for a vehicle that comes to rest on the point.
    """
    where = point(scene, load_case, "point")
    still = static_loads(scene)
    up = max(positive(load_case, "factor") * still.axles[0], number_or(load_case, "weight share", 0.0) * scene.weight)
    blow = PointLoad(where, (-number(load_case, "drag") * up, 0.0, up), because="strike from below")
    return Action(upright(scene, still.loads), outside=(blow,))
