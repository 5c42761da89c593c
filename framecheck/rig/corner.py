"""The home test: one wheel of the vehicle, as it stands, is jacked up on a scale."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.rig.places import axle_pairs, twist_dials
from framecheck.rig.response import stand_forces
from framecheck.rig.setup import AskedTest, Part, Rig, Spot, Stand, Suspension
from framecheck.vehicle.scene import BracketForce
from framecheck.vehicle.suspension import suspension_of

CORNERS = ("front left", "front right", "rear left", "rear right")
GROUND = "its wheel on the ground, brakes off on all but one; the springs blocked by rigid links or blocks of wood"
ON_SPRINGS = "its wheel on the ground, the springs free"
LOAD = "reading of the scale under the jacked wheel, less what it read with the vehicle level"
BLOCKED = "Tyres give too: the dials at the other three wheels read that, and it is taken out."
WORKING = (
    "The springs work: they move the whole vehicle many times more than the frame twists. Only the twist, left less right in front "
    "less the same at the rear, tells of the frame."
)


def corner(case: Case, asked: AskedTest) -> Rig:
    """Return one wheel jacked up, the other three on the ground."""
    if case.vehicle is None:
        fault = "the corner test stands on the vehicle's own wheels, and the file has no vehicle"
        raise InputError([Fault("", "test", fault, "describe axles and masses, or choose --rig torsion")])
    jacked = asked.at or CORNERS[0]
    if jacked not in CORNERS:
        raise InputError([Fault("", "test", f"'{jacked}' is no corner", f"write --at with one of: {', '.join(CORNERS)}")])
    front, rear, _ = axle_pairs(case, asked)
    works = asked.suspension is Suspension.WORKING
    wheels = {name: wheel(case, name, works) for name in CORNERS}
    stands = tuple(each for name, each in wheels.items() if name != jacked)
    dials, planes = twist_dials(case.frame, front, rear, asked.planes)
    number = CORNERS.index(jacked) // 2 * 2
    track = wheels[CORNERS[number]].at[1] - wheels[CORNERS[number + 1]].at[1]
    loads = wheels[jacked].parts
    give = gives(case, stands, loads) if works else ()
    return Rig(
        asked=asked,
        frame=case.frame,
        load_words=LOAD,
        loads=loads,
        stands=stands,
        dials=dials,
        torque=track * (1.0 if jacked in ("front left", "rear right") else -1.0),
        planes=planes,
        notes=(JACK, *((WORKING, *(() if give else (NO_RATE,))) if works else (BLOCKED,))),
        give=give,
        shown=(Part(Spot(f"{jacked} wheel", wheels[jacked].at), (0.0, 0.0, 1.0)),),
    )


JACK = "Jack the wheel, not the frame: the forces then go in where they do on the road."
NO_RATE = "The file does not say how stiff the springs are at the wheels: what single dials should read leaves their give out."


def gives(case: Case, stands: tuple[Stand, ...], loads: tuple[Part, ...]) -> tuple[float, ...]:
    """Return how far the frame goes up over each wheel on the ground, m per newton, on its spring; () where a rate is not known."""
    vehicle = case.vehicle
    assert vehicle is not None
    travels = [suspension_of(axle, case.frame.points).travel(1) for axle in vehicle.axles]
    if any(each is None for each in travels):
        return ()
    rates = {name: each.rate for name, each in zip(("front", "rear"), travels, strict=True) if each is not None}
    forces = stand_forces(stands, loads)[:, 2]
    return tuple(-float(force) / rates[stand.name.split()[0]] for force, stand in zip(forces, stands, strict=True))


def wheel(case: Case, name: str, works: bool) -> Stand:
    """Return a wheel as a stand: what its suspension does to the frame per newton of the ground, by statics."""
    assert case.vehicle is not None
    number, points = CORNERS.index(name), case.frame.points
    axle = case.vehicle.axles[number // 2]
    force = np.zeros((2, 6))
    force[number % 2, 2] = 1.0
    rows = suspension_of(axle, points).carry(force, np.zeros((2, 6))).brackets
    at = (axle.left, axle.right)[number % 2].contact
    return Stand(f"{name} wheel", at, tuple(on_point(points, row) for row in rows), ON_SPRINGS if works else GROUND, lifts=True)


def on_point(points: Mapping[str, Vector], row: BracketForce) -> Part:
    """Return a force at a bracket's pivot as force and moment on its frame point."""
    at = np.array(row.foot.at) - np.array(points[row.foot.point])
    x, y, z = (np.cross(at, np.array(row.force)) + np.array(row.moment)).tolist()
    return Part(Spot(row.foot.point, points[row.foot.point], point=row.foot.point), row.force, (x, y, z))


