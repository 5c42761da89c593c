"""Load cases of a running gear, and its loads on the frame in balance. Its coupling carries what its wheels do not."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

import numpy as np

from framecheck.errors import Fault, InputError, UnsolvableError, standing
from framecheck.model.arrays import Array
from framecheck.model.case import Case, LoadCase
from framecheck.model.loads import CaseLoads
from framecheck.model.said import SaidAmount, said
from framecheck.model.vehicle import BrakedBy, RunningGear, Vehicle, Wheel
from framecheck.value_class import array_class
from framecheck.vehicle.balance import (
    VehicleLoads,
    acceleration,
    axle_wrenches,
    body_loads,
    mass_loads,
    motion,
    on_frame_point,
    residual,
    spread,
    wheel_row,
)
from framecheck.vehicle.masses import MassProperties, body_mass, combine, point_mass, wheel_centre
from framecheck.vehicle.scene import ExternalForces, Roll, Scene, at_contact, number_or, positive, track, word, wrench
from framecheck.vehicle.statics import GearLoads, axle_loads, is_determinate, wheel_loads
from framecheck.vehicle.suspension import PlainAxle

GEAR = ("running gear",)


@array_class
class GearScene:
    """A running gear with all its mass. scene: what the six equations read: masses, points and the whole; of axles they read none."""

    gear: RunningGear
    scene: Scene

    @property
    def weight(self) -> float:
        """Return the weight of everything, N."""
        return self.scene.whole.mass * self.gear.gravity


def wheels_of_gear(gear: RunningGear) -> tuple[Wheel, ...]:
    """Return all wheels, front to rear, left then right."""
    return tuple(wheel for each in gear.axles for wheel in (each.axle.left, each.axle.right))


def gear_scene(case: Case, frame: MassProperties) -> GearScene:
    """Return the scene of a running gear; InputError where its loads can't be known."""
    gear = case.gear
    assert gear is not None
    if faults := tuple(gear_faults(gear)):
        raise InputError(faults)
    masses = [point_mass(part.mass, part.at) for part in gear.masses]
    masses += [point_mass(wheel.unsprung_mass, wheel_centre(wheel)) for wheel in wheels_of_gear(gear)]
    whole = combine([frame, *masses, *(body_mass(body) for body in case.frame.stiff_bodies)])
    ends = (gear.axles[0].axle, gear.axles[-1].axle)
    vehicle = Vehicle(gear.masses, *ends, friction=gear.friction, gravity=gear.gravity)
    held = (PlainAxle(ends[0], case.frame.points), PlainAxle(ends[1], case.frame.points))
    return GearScene(gear, Scene(vehicle, case.frame.points, case.frame.stiff_bodies, frame, whole, held, (Roll(), Roll())))


def gear_faults(gear: RunningGear) -> Iterator[Fault]:
    """Yield what leaves its loads unknown: too few supports, or more than statics can tell apart without their springs."""
    if len(gear.axles) == 1 and gear.coupling is None:
        yield Fault("", "running gear", "one axle alone can't stand", "write its 'coupling', or a further axle", GEAR)
    shares = [each for each in gear.axles if each.share is not None]
    if len(shares) == 1 or (gear.coupling is None and len(shares) == len(gear.axles) > 1):
        remedy = "write it for two axles or more of one balance, not for all of a vehicle without coupling"
        yield Fault("", "running gear", "'load share' does not say how its axles share", remedy, (*GEAR, "axles"))
    if is_determinate(gear):
        return
    remedy = "write its 'spring rate', or the 'load share' of axles on one balance"
    for each in gear.axles:
        if each.rate is None:
            fault = "carries a part of the load that statics can't tell: more axles than two share it"
            yield Fault("", f"{each.axle.name} axle", fault, remedy, (*GEAR, "axles", each.axle.name))


def held(gear: GearScene, apparent: Array, coupling: Array) -> tuple[GearLoads, Array, float]:
    """Return axle and coupling loads, wheel loads (n, 2) and the roll that nothing holds, Nm.

    apparent: acceleration (3,) of all mass, m/s2; coupling: horizontal force (2,) of the coupling on the frame, N.
    """
    total = wrench(gear.scene.whole.mass * apparent, gear.scene.whole.cg, (0.0, 0.0, gear.gear.ground))
    at = np.zeros(3) if gear.gear.coupling is None else np.array(gear.gear.coupling.at) - [0.0, 0.0, gear.gear.ground]
    found = axle_loads(gear.gear, -float(total[2]), float(total[4]) + float(at[2] * coupling[0]))
    roll = -float(total[3]) - float(at[1] * found.coupling) + float(at[2] * coupling[1])
    return (found, *wheel_loads(gear.gear, found, roll))


def action_of(gear: GearScene, wheels: Array, along: Array, sideways: Array, coupling: Array, note: str = "") -> ExternalForces:
    """Return wheel loads (n, 2), their forces along and sideways (n, 2), the coupling's force (3,), as an action."""
    rows = np.stack([along, sideways, wheels], axis=2).reshape(-1, 3)
    pushed = tuple(at_contact(*each) for each in zip(wheels_of_gear(gear.gear), rows, strict=True))
    notes: tuple[str, ...] = (note,) if note else ()
    off = (wheel.name for wheel, load in zip(wheels_of_gear(gear.gear), wheels.ravel(), strict=True) if load <= 1e-9 * gear.weight)
    notes = (*notes, *(f"the {name} wheel lifts off" for name in off))
    if gear.gear.coupling is None:
        return ExternalForces(pushed, notes=notes)
    at = gear.gear.coupling
    outside = spread(gear.scene, np.concatenate([coupling, np.zeros(3)]), at.at, at.on, "coupling")
    words = ("x", "y", "z")
    told = said("the coupling pushes the frame by ", *_listed(coupling, words))
    return ExternalForces(pushed, outside=tuple(outside), notes=(*notes, told))


def _listed(force: Array, axes: tuple[str, str, str]) -> Iterator[str | SaidAmount]:
    """Yield a force along the axes, with words between."""
    for number, (size, axis) in enumerate(zip(force.tolist(), axes, strict=True)):
        yield ", " if number else ""
        yield SaidAmount(size, "force")
        yield f" along {axis}"


def static(gear: GearScene, _load_case: LoadCase) -> ExternalForces:
    """Return it standing level."""
    return bump_by(gear, 1.0)


def vertical_bump(gear: GearScene, load_case: LoadCase) -> ExternalForces:
    """Return all wheels and the coupling at a multiple of what they carry at rest."""
    return bump_by(gear, positive(load_case, "factor"))


def bump_by(gear: GearScene, factor: float) -> ExternalForces:
    """Return wheels and coupling at a multiple of their loads at rest; UnsolvableError where it can't stand."""
    found, wheels, roll = held(gear, np.array([0.0, 0.0, -gear.gear.gravity]), np.zeros(2))
    whole = float(wheels.sum()) + found.coupling
    missed = abs(float(pitch_of(gear, found)) - gear.weight * float(gear.scene.whole.cg[0]))
    if max(abs(roll), missed, abs(whole - gear.weight)) > 1e-9 * gear.weight:
        x, y = gear.scene.whole.cg[:2].tolist()
        where = f"the centre of gravity (x {x:.3f} m, y {y:.3f} m) lies outside what holds it up"
        raise UnsolvableError(f"running gear: can't stand, {where}; correct the places of masses, axles or coupling")
    none = np.zeros(wheels.shape)
    return action_of(gear, factor * wheels, none, none, np.array([0.0, 0.0, factor * found.coupling]))


def pitch_of(gear: GearScene, found: GearLoads) -> float:
    """Return sum of x N over axles and coupling, Nm."""
    x = np.array([each.axle.left.contact[0] for each in gear.gear.axles])
    coupled = 0.0 if gear.gear.coupling is None else gear.gear.coupling.at[0] * found.coupling
    return float(found.axles @ x) + coupled


def braking(gear: GearScene, load_case: LoadCase) -> ExternalForces:
    """Return braking while driving forward."""
    return slowing(gear, positive(load_case, "deceleration"), -1.0)


def reverse_braking(gear: GearScene, load_case: LoadCase) -> ExternalForces:
    """Return braking while driving backward."""
    return slowing(gear, positive(load_case, "deceleration"), 1.0)


def slowing(gear: GearScene, asked: float, sign: float) -> ExternalForces:
    """Return its wheels braking in proportion to their loads, as far as they hold; its coupling takes the rest, or all.

    Without a coupling it slows as much as its tyres hold. Loads and forces depend on each other; repeated until they agree.
    """
    own, friction = gear.gear.braked_by is BrakedBy.WHEELS, gear.gear.friction
    coupled, reached, push = gear.gear.coupling is not None, asked, 0.0
    for _ in range(200):
        apparent = np.array([-sign * reached * gear.gear.gravity, 0.0, -gear.gear.gravity])
        found, wheels, _ = held(gear, apparent, np.array([sign * push, 0.0]))
        brakes = min(asked * gear.weight, friction * float(wheels.sum())) if own else 0.0
        before = (reached, push)
        reached, push = (asked, asked * gear.weight - brakes) if coupled else (brakes / gear.weight, 0.0)
        if abs(reached - before[0]) + abs(push - before[1]) / gear.weight <= 1e-14:
            break
    along = sign * brakes * wheels / max(float(wheels.sum()), 1e-9)
    note = f"the tyres hold {reached:.2f} g of the {asked:.2f} g asked for" if asked - reached > 1e-9 else ""
    return action_of(gear, wheels, along, np.zeros(wheels.shape), np.array([sign * push, 0.0, found.coupling]), note)


def cornering_left(gear: GearScene, load_case: LoadCase) -> ExternalForces:
    """Return a steady turn to the left."""
    return cornering(gear, positive(load_case, "acceleration"), 1.0)


def cornering_right(gear: GearScene, load_case: LoadCase) -> ExternalForces:
    """Return a steady turn to the right."""
    return cornering(gear, positive(load_case, "acceleration"), -1.0)


def cornering(gear: GearScene, asked: float, toward: float) -> ExternalForces:
    """Return sideways forces in proportion to the loads of wheels and coupling, which balances yaw: they share the weight so.

    As far as the tyres hold and the inner wheels stay on the ground (statics).
    """
    reached = min(asked, gear.gear.friction, rollover(gear, toward))
    found, wheels, _ = turning(gear, toward * reached)
    side = toward * reached
    note = f"it slides or rolls over at {reached:.2f} g, before the {asked:.2f} g asked for" if reached < asked else ""
    coupling = np.array([0.0, side * found.coupling, found.coupling])
    return action_of(gear, wheels, np.zeros(wheels.shape), side * wheels, coupling, note)


def turning(gear: GearScene, side: float) -> tuple[GearLoads, Array, float]:
    """Return what `held` does while all of it is pushed to the left by `side`, in g."""
    down = np.array([0.0, 0.0, -gear.gear.gravity])
    coupling = held(gear, down, np.zeros(2))[0].coupling
    return held(gear, down - [0.0, side * gear.gear.gravity, 0.0], np.array([0.0, side * coupling]))


def rollover(gear: GearScene, toward: float) -> float:
    """Return the sideways acceleration, g, at which all inner wheels are off the ground: roll is linear in it (statics)."""
    _, outer, _ = turning(gear, toward * 1e6)
    whole, (_, still, _) = turning(gear, toward), turning(gear, 0.0)
    y = np.array([[wheel.contact[1] for wheel in (each.axle.left, each.axle.right)] for each in gear.gear.axles])
    needs = float((whole[1] * y).sum()) + whole[2] - float((still * y).sum())
    room = float((outer * y).sum() - (still * y).sum())
    return max(room / needs, 0.0) if abs(needs) > 1e-12 * gear.weight else float("inf")


def one_wheel_up(gear: GearScene, load_case: LoadCase) -> ExternalForces:
    """Return twist: a wheel of the first or last axle raised until a wheel leaves the ground, the other axles answer together.

    A coupling takes no roll (statics). `share`: how much of that, 1 for all; `dynamic factor`: on all loads.
    """
    place = word(load_case, "wheel").split()
    number, sign = (0 if "front" in place else -1), (1.0 if "left" in place else -1.0)
    found, wheels, _ = held(gear, np.array([0.0, 0.0, -gear.gear.gravity]), np.zeros(2))
    tracks = np.array([track(each.axle) for each in gear.gear.axles])
    raised, answered = tracks * wheels[:, 1 if sign > 0 else 0], tracks * wheels[:, 0 if sign > 0 else 1]
    answered[number] = 0.0
    twist = positive(load_case, "share") * min(float(raised[number]), float(answered.sum()))
    couples = -sign * twist * answered / max(float(answered.sum()), 1e-9)
    couples[number] = sign * twist
    loads = wheels + couples[:, None] / tracks[:, None] * np.array([1.0, -1.0])
    factor = number_or(load_case, "dynamic factor", 1.0)
    none = np.zeros(wheels.shape)
    return action_of(gear, factor * np.maximum(loads, 0.0), none, none, np.array([0.0, 0.0, factor * found.coupling]))


Kind = Callable[[GearScene, LoadCase], ExternalForces]
GEAR_KINDS: Mapping[str, Kind] = {
    "static": static,
    "vertical bump": vertical_bump,
    "braking": braking,
    "reverse braking": reverse_braking,
    "cornering left": cornering_left,
    "cornering right": cornering_right,
    "one wheel up": one_wheel_up,
}
"""Kinds of load case of a running gear; others are written force by force."""


def gear_loads(case: Case, frame: MassProperties) -> tuple[VehicleLoads, ...]:
    """Return the loads of every load case of a running gear, in the case's order."""
    if not case.load_cases:
        return ()
    gear = gear_scene(case, frame)
    return tuple(answered(gear, each.name, action_in(gear, each)) for each in case.load_cases)


def action_in(gear: GearScene, load_case: LoadCase) -> ExternalForces:
    """Return what the world does in a load case; InputError: its faults stand at the load case, if nowhere better."""
    if load_case.kind not in GEAR_KINDS:
        fault, about = "a running gear does not make it by itself", ("load cases", load_case.in_file)
        raise InputError([Fault("", load_case.name, fault, "write it force by force", about)])
    try:
        return GEAR_KINDS[load_case.kind](gear, load_case)
    except InputError as error:
        raise InputError(standing(error.faults, "load cases", load_case.in_file)) from None


def answered(gear: GearScene, name: str, action: ExternalForces) -> VehicleLoads:
    """Return the loads on the frame when inertia answers what ground and coupling do to it."""
    scene, moving = gear.scene, motion(gear.scene, action)
    forces = [(PlainAxle(each.axle, scene.points), axle_wrenches(each.axle, action, moving)) for each in gear.gear.axles]
    brackets = tuple(row for axle, now in forces for row in axle.carry(now, now).brackets)
    hung = tuple(on_frame_point(scene, row) for row in brackets)
    loads = CaseLoads(
        name,
        point_loads=(*hung, *mass_loads(scene, moving), *action.outside),
        body_loads=tuple(body_loads(scene, moving, action)),
        motion=moving,
        free_free=True,
        reference=gear_points(gear),
        notes=action.notes,
    )
    rows = tuple(wheel_row(wheel, action) for wheel in wheels_of_gear(gear.gear))
    return VehicleLoads(loads, rows, brackets, acceleration(scene, action, moving), residual(scene, loads))


def gear_points(gear: GearScene) -> tuple[str, ...]:
    """Return the frame points that axles and coupling hold, each once."""
    coupled = () if gear.gear.coupling is None else gear.gear.coupling.on
    return tuple(dict.fromkeys((*(point for wheel in wheels_of_gear(gear.gear) for point in wheel.on), *coupled)))
