"""Loads of a running gear on its frame: every load case of a case that has one, in balance."""

from __future__ import annotations

from framecheck.errors import Fault, InputError, standing
from framecheck.model.case import Case, LoadCase
from framecheck.model.loads import CaseLoads
from framecheck.vehicle.balance import body_loads, mass_loads, motion, residual
from framecheck.vehicle.gear_cases import GEAR_KINDS, GearScene, gear_scene, wheels_of_gear
from framecheck.vehicle.masses import MassProperties
from framecheck.vehicle.on_frame import VehicleLoads, acceleration, axle_wrenches, on_frame_point, wheel_row
from framecheck.vehicle.scene import Action
from framecheck.vehicle.suspension import PlainAxle


def gear_loads(case: Case, frame: MassProperties) -> tuple[VehicleLoads, ...]:
    """Return the loads of every load case of a running gear, in the case's order."""
    if not case.load_cases:
        return ()
    gear = gear_scene(case, frame)
    return tuple(answered(gear, each.name, action_in(gear, each)) for each in case.load_cases)


def action_in(gear: GearScene, load_case: LoadCase) -> Action:
    """Return what the world does in a load case; InputError: its faults stand at the load case, if nowhere better."""
    if load_case.kind not in GEAR_KINDS:
        fault, about = "a running gear does not make it by itself", ("load cases", load_case.in_file)
        raise InputError([Fault("", load_case.name, fault, "write it force by force", about)])
    try:
        return GEAR_KINDS[load_case.kind](gear, load_case)
    except InputError as error:
        raise InputError(standing(error.faults, "load cases", load_case.in_file)) from None


def answered(gear: GearScene, name: str, action: Action) -> VehicleLoads:
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
        afloat=True,
        reference=gear_points(gear),
        notes=action.notes,
    )
    rows = tuple(wheel_row(wheel, action) for wheel in wheels_of_gear(gear.gear))
    return VehicleLoads(loads, rows, brackets, acceleration(scene, action, moving), residual(scene, loads))


def gear_points(gear: GearScene) -> tuple[str, ...]:
    """Return the frame points that axles and coupling hold, each once."""
    coupled = () if gear.gear.coupling is None else gear.gear.coupling.on
    return tuple(dict.fromkeys((*(point for wheel in wheels_of_gear(gear.gear) for point in wheel.on), *coupled)))
