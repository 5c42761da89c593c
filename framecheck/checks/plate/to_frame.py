"""What a plate's load does to the frame it hangs on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.plate.answer import LoadAnswer
from framecheck.checks.plate.hanging import EdgeForce
from framecheck.checks.plate.stiffeners import HELD_SIDES
from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.loads import ZERO, MemberLoad, PointLoad
from framecheck.model.plate import BoltedPlate, StiffenerRun


def frame_loads(plate: BoltedPlate, answer: LoadAnswer) -> tuple[PointLoad, ...]:
    """Return the load that the plate passes to the frame: a force at each bolt's frame point, forces and moments at the frame
    points of held edges, vehicle axes. Raises InputError where a bolt or an edge names no frame point.
    """
    faults = tuple(_unnamed(plate))
    if faults:
        raise InputError(faults)
    because = f"plate {plate.name}, {answer.load.name}"
    at_bolts = (
        PointLoad(
            bolt.frame_point or "", in_vehicle(plate, force), about_z(plate, turn), f"{because}, bolt {bolt.name}"
        )
        for bolt, force, turn in zip(plate.bolts, answer.bolt_forces, answer.bolt_turning, strict=True)
    )
    at_edges = (load for force in answer.edge_forces for load in _edge_loads(plate, force, because))
    return (*at_bolts, *at_edges)


def loads_on_members(plate: BoltedPlate, answer: LoadAnswer) -> tuple[MemberLoad, ...]:
    """Return what the plate presses on members' faces between its bolts: at an edge of a face it twists the member."""
    found = []
    for rest, force in zip(plate.rests, answer.rest_forces, strict=True):
        if rest.member is not None and force:
            push = in_vehicle(plate, np.array([0.0, 0.0, float(force)]))
            because = f"plate {plate.name}, {answer.load.name}, lies on it"
            found.append(MemberLoad(rest.member, push, push, rest.station, rest.station, because, rest.arm))
    return tuple(found)


def _unnamed(plate: BoltedPlate) -> Iterator[Fault]:
    for bolt in plate.bolts:
        if bolt.frame_point is None:
            yield Fault(
                "", f"plate {plate.name}, bolt {bolt.name}", "it names no frame point", "name the point it hangs on"
            )
    for edge in plate.edges:
        if edge.frame_points is None:
            yield Fault("", f"plate {plate.name}, {edge.edge.value} edge", "it names no frame points",
                        "name the points at its two ends")  # fmt: skip


def _edge_loads(plate: BoltedPlate, force: EdgeForce, because: str) -> Iterator[PointLoad]:
    run, _ = HELD_SIDES[force.edge.edge]
    turn = force.turning / 2
    moment = in_vehicle(plate, np.array([turn, 0.0, 0.0] if run is StiffenerRun.X else [0.0, turn, 0.0]))
    for point, part in zip(force.edge.frame_points or (), force.ends, strict=True):
        yield PointLoad(
            point, in_vehicle(plate, np.array([0.0, 0.0, part])), moment, f"{because}, {force.edge.edge.value} edge"
        )


def about_z(plate: BoltedPlate, turning: float) -> Vector:
    """Return a moment about plate z as one in vehicle axes; none where there is none, so that rows stay plain."""
    return in_vehicle(plate, np.array([0.0, 0.0, turning])) if turning else ZERO


def in_vehicle(plate: BoltedPlate, local: Array) -> Vector:
    """Return a vector (3,) in plate axes as one in vehicle axes; plate z is along x across."""
    axes = np.array([plate.along, plate.across, np.cross(plate.along, plate.across)])
    x, y, z = (float(part) for part in local @ axes)
    return (x, y, z)
