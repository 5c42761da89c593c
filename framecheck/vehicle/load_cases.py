"""Load cases by kind: from a named case with its factors to balanced loads on the frame.

To add a kind: a function and a row in KINDS of the module beside that it belongs to, and a row in shared/load_cases.yaml.
"""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from functools import lru_cache

from framecheck.errors import Fault, InputError, UnsolvableError, standing
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.case import Case, Factor, LoadCase, Sum
from framecheck.model.loads import CaseLoads, Motion
from framecheck.value_class import value_class
from framecheck.vehicle import driveline, driving, lifting, obstacles, pulling
from framecheck.vehicle.balance import (
    VehicleLoads,
    acceleration,
    axle_wrenches,
    body_loads,
    mass_loads,
    motion,
    on_frame_point,
    residual,
    wheel_row,
)
from framecheck.vehicle.clearance import on_a_wheel, wheel_travel
from framecheck.vehicle.combining import combined
from framecheck.vehicle.gear_cases import gear_loads
from framecheck.vehicle.masses import MassProperties, wheels_of
from framecheck.vehicle.runnable import KindOfLoadCase
from framecheck.vehicle.scene import Carried, ExternalForces, Scene, vector
from framecheck.vehicle.scene_builder import scene_of
from framecheck.vehicle.wheels import static_loads

KINDS: Mapping[str, KindOfLoadCase] = {**driving.KINDS, **obstacles.KINDS, **driveline.KINDS, **lifting.KINDS, **pulling.KINDS}
TWIST = "one wheel up"
GEAR_KINDS = ("static", "vertical bump", "braking", "reverse braking", "cornering left", "cornering right", TWIST)
"""Those of a running gear: of a trailer, of three axles and more."""


def runnable_kinds(case: Case) -> tuple[str, ...]:
    """Return the kinds of load case that the case's data allow without a further word; none without a vehicle."""
    vehicle = case.vehicle
    if case.gear is not None:
        return tuple(kind for kind in GEAR_KINDS if kind != TWIST or len(case.gear.axles) > 1)
    return () if vehicle is None else tuple(name for name, kind in KINDS.items() if kind.data.there(vehicle))


def missing_data(case: Case) -> Mapping[str, str]:
    """Return what to write so that each usual kind of load case is run whose data the file lacks, by kind; none without a vehicle."""
    vehicle, run = case.vehicle, {each.kind for each in case.load_cases}
    if vehicle is None:
        return {}
    lacking = ((name, kind.data) for name, kind in KINDS.items() if name not in run and not kind.data.there(vehicle))
    return {name: data.remedy for name, data in lacking if data.usual}


def case_loads(case: Case, load_case: LoadCase, frame_mass: MassProperties) -> CaseLoads:
    """Return the balanced loads on the frame in a load case. frame_mass: the frame's own, from `masses.frame_mass`."""
    return vehicle_loads(case, load_case, frame_mass).loads


def vehicle_loads(case: Case, load_case: LoadCase, frame_mass: MassProperties) -> VehicleLoads:
    """Return the loads of a load case with the wheel forces and accelerations behind them."""
    return worked_out(scene_of(case, frame_mass), load_case)


@value_class
class NotRun:
    """A load case that nobody asked for by name and that can't be worked out with the file's data, and why."""

    load_case: LoadCase
    reason: str


class _Loaded:
    """What the loads of a vehicle hang on, equal where all of it is: variants of a case that leave it as it is have the same loads."""

    __slots__ = ("case", "frame_mass", "known")

    def __init__(self, case: Case, frame_mass: MassProperties) -> None:
        self.case, self.frame_mass, frame = case, frame_mass, case.frame
        of_frame = list(frame.points.items()), frame.stiff_bodies, frame_mass.mass, frame_mass.cg.tolist(), frame_mass.inertia.tolist()
        self.known = of_frame, case.vehicle, case.load_cases, case.sums

    def __hash__(self) -> int:
        return hash((self.frame_mass.mass, len(self.case.load_cases)))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Loaded) and other.known == self.known


def all_vehicle_loads(case: Case, frame_mass: MassProperties) -> tuple[VehicleLoads, ...]:
    """Return the loads of every load case of a case, in its order, then those of its sums.

    One that runs by default and can't be worked out is left out: `not_run` tells.
    """
    if not case.load_cases:
        return ()
    return _all_of(_Loaded(case, frame_mass)) if case.gear is None else gear_loads(case, frame_mass)


@lru_cache(maxsize=4)
def _all_of(of: _Loaded) -> tuple[VehicleLoads, ...]:
    scene, case = scene_of(of.case, of.frame_mass), of.case
    actions = {each.name: found for each in case.load_cases if isinstance(found := action_of(scene, each), ExternalForces)}
    own = tuple(answered(scene, name, action) for name, action in actions.items())
    return (*own, *(summed(scene, each, actions) for each in case.sums if all(name in actions for name, _ in each.parts)))


def not_run(case: Case, frame_mass: MassProperties) -> tuple[NotRun, ...]:
    """Return the load cases run by default that can't be worked out."""
    if case.gear is not None or not any(each.by_default for each in case.load_cases):
        return ()
    scene = scene_of(case, frame_mass)
    found = ((each, action_of(scene, each)) for each in case.load_cases)
    return tuple(NotRun(each, reason) for each, reason in found if isinstance(reason, str))


def action_of(scene: Scene, load_case: LoadCase) -> ExternalForces | str:
    """Return what the world does in a load case; for one that nobody asked for by name, or why it can't be worked out."""
    if not load_case.by_default:
        return asked_action(scene, load_case)
    try:
        return asked_action(scene, load_case)
    except (InputError, UnsolvableError) as error:
        return str(error)


def asked_action(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return what the world does in a load case; InputError: its faults stand at the load case, if nowhere better."""
    try:
        return kind_of(load_case).forces(scene, load_case)
    except InputError as error:
        raise InputError(standing(error.faults, "load cases", load_case.in_file)) from None


def summed(scene: Scene, asked: Sum, actions: Mapping[str, ExternalForces]) -> VehicleLoads:
    """Return the loads of a sum of load cases."""
    return answered(scene, asked.name, combined(scene, tuple((actions[name], times) for name, times in asked.parts)))


def worked_out(scene: Scene, load_case: LoadCase) -> VehicleLoads:
    """Return the loads of one load case of a scene."""
    return answered(scene, load_case.name, asked_action(scene, load_case))


def answered(scene: Scene, name: str, action: ExternalForces) -> VehicleLoads:
    """Return the loads on the frame when the vehicle's inertia answers what the world outside does to it."""
    moving = motion(scene, action)
    carried = carried_by_suspension(scene, action, moving)
    brackets = tuple(row for each in carried for row in each.brackets)
    loads = CaseLoads(
        name,
        point_loads=(
            *(on_frame_point(scene, row) for row in brackets),
            *mass_loads(scene, moving),
            *action.outside,
            *action.internal,
        ),
        body_loads=tuple(body_loads(scene, moving, action)),
        motion=moving,
        free_free=True,
        reference=suspension_points(scene),
        notes=(*action.notes, *(note for each in carried for note in each.notes)),
        straps=action.straps,
        wheels=wheel_travel(scene, action, moving) if any(map(on_a_wheel, scene.vehicle.clearances)) else (),
    )
    rows = tuple(wheel_row(wheel, action) for wheel in wheels_of(scene.vehicle))
    return VehicleLoads(loads, rows, brackets, acceleration(scene, action, moving), residual(scene, loads))


def kind_of(load_case: LoadCase) -> KindOfLoadCase:
    """Return what works out a kind of load case, or raise InputError with the nearest name."""
    if load_case.kind in KINDS:
        return KINDS[load_case.kind]
    near = get_close_matches(load_case.kind, KINDS, n=1)
    remedy = f"did you mean '{near[0]}'?" if near else f"use one of {', '.join(KINDS)}"
    raise InputError([Fault("", load_case.name, f"no such kind of load case: '{load_case.kind}'", remedy)])


def suspension_points(scene: Scene) -> tuple[str, ...]:
    """Return the frame points that the suspension hangs on, each once, in order of the wheels."""
    return tuple(dict.fromkeys(point for wheel in wheels_of(scene.vehicle) for point in wheel.on))


def carried_by_suspension(scene: Scene, action: ExternalForces, moving: Motion) -> tuple[Carried, ...]:
    """Return what each axle's suspension does to the frame, front first."""
    return tuple(
        each.carry(axle_wrenches(axle, action, moving), rest)
        for each, axle, rest in zip(scene.suspension, scene.vehicle.axles, wrenches_at_rest(scene), strict=True)
    )


@lru_cache(maxsize=8)
def wrenches_at_rest(scene: Scene) -> tuple[Array, ...]:
    """Return forces and moments (2, 6) about the wheel centres of each axle of the vehicle at rest; read-only."""
    rest = ExternalForces(driving.upright(scene, static_loads(scene).loads))
    still = Motion((0.0, 0.0, -scene.vehicle.gravity), about=vector(scene.whole.cg))
    return tuple(frozen(axle_wrenches(axle, rest, still)) for axle in scene.vehicle.axles)


def one_sided(case: Case) -> tuple[LoadCase, ...]:
    """Return the load cases that the file asks for on one side only: nothing in it asks for their mirror image."""
    said = [each for each in case.load_cases if each.side_said]
    return tuple(each for each in said if not any(is_mirror(each, other, case) for other in said))


def is_mirror(one: LoadCase, other: LoadCase, case: Case) -> bool:
    """Return whether one load case is the mirror image of another: same kind and numbers, left for right, points across."""
    if one.kind != other.kind or one.side is other.side or one.factors.keys() != other.factors.keys():
        return False
    return all(_mirrors(value, other.factors[name], case.frame.points) for name, value in one.factors.items())


def _mirrors(one: Factor, other: Factor, points: Mapping[str, Vector]) -> bool:
    if isinstance(one, str) and isinstance(other, str) and one in points and other in points:
        (x, y, z), (a, b, c) = points[one], points[other]
        return max(abs(x - a), abs(y + b), abs(z - c)) < SAME_PLACE
    if isinstance(one, str):
        return other == one.replace("left", "RIGHT").replace("right", "left").replace("RIGHT", "right")
    return one == other


SAME_PLACE = 1e-6
"""m: two points nearer than this are one place."""
