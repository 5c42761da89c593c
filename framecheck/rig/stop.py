"""The load never to be passed: where a check comes to its target, a stand lifts, or the jack is at its limit. SI."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from enum import Enum

import numpy as np

from framecheck.errors import FramecheckError
from framecheck.model.case import Case, LoadCase
from framecheck.model.loads import BodyLoad, CaseLoads, Motion
from framecheck.results.row import CheckResult, Kind
from framecheck.rig.response import Response, held_by, loads_on, scaled, stand_forces
from framecheck.rig.setup import Part, Rig, RigKind, Spot
from framecheck.run import Prepared, solved
from framecheck.study.limit_search import Point, largest
from framecheck.units import GRAVITY
from framecheck.value_class import value_class
from framecheck.vehicle.load_cases import vehicle_loads

FIRST = 1e-3
"""m; the first load tried moves no dial by more."""


class StopBy(Enum):
    """What sets the stop load."""

    CHECK = "a check misses its target"
    LIFT = "a stand or wheel lifts"
    JACK = "the jack's or the scale's own limit"


@value_class
class Stop:
    """A load, N, not to be passed. row: of the check that comes to its target; where: the stand that lifts."""

    by: StopBy
    load: float
    row: CheckResult | None = None
    where: str = ""


@value_class
class Resting:
    """The frame at rest on its stands: what loads it then, and what each stand carries, N."""

    loads: CaseLoads
    stands: tuple[float, ...]


def stops_of(case: Case, prepared: Prepared, rig: Rig, found: Sequence[Response]) -> tuple[Stop, ...]:
    """Return every stop load of a rig, the lowest first."""
    rest = resting(case, prepared, rig)
    stops = [*lifts(rig, rest, found), *by_check(case, prepared, rig, rest, found)]
    if rig.asked.jack is not None:
        stops.append(Stop(StopBy.JACK, rig.asked.jack))
    return tuple(sorted(stops, key=lambda each: each.load))


def resting(case: Case, prepared: Prepared, rig: Rig) -> Resting:
    """Return the frame at rest: with all its masses on its wheels, else its own weight and that of what stands on mounts."""
    if rig.asked.kind is RigKind.CORNER:
        still = vehicle_loads(replace(case, frame=rig.frame), LoadCase("at rest", "static", {}), prepared.frame)
        wheels = {row.wheel: row.force[2] for row in still.wheels}
        return Resting(still.loads, tuple(wheels.get(stand.name.removesuffix(" wheel"), 0.0) for stand in rig.stands))
    x, y, z = prepared.frame.cg.tolist()
    weights = [Part(Spot("the frame", (x, y, z)), (0.0, 0.0, -prepared.frame.mass * GRAVITY))]
    weights += [Part(Spot(body.name, body.at), (0.0, 0.0, -body.mass * GRAVITY)) for body in rig.frame.stiff_bodies]
    forces = stand_forces(rig.stands, weights)
    held = loads_on("at rest", held_by(rig.stands, forces))
    bodies = tuple(BodyLoad(body.name, (0.0, 0.0, -body.mass * GRAVITY)) for body in rig.frame.stiff_bodies)
    loads = replace(held, motion=Motion((0.0, 0.0, -GRAVITY)), body_loads=bodies)
    return Resting(loads, tuple(forces[:, 2].tolist()))


def both_ways(rig: Rig) -> tuple[float, ...]:
    """Return the ways in which a rig is loaded: one that twists, both."""
    return (1.0, -1.0) if rig.torque and rig.asked.kind is not RigKind.CORNER else (1.0,)


def lifts(rig: Rig, rest: Resting, found: Sequence[Response]) -> list[Stop]:
    """Return the load at which a stand that nothing ties down lifts first, where one does."""
    ends = []
    for number, stand in enumerate(rig.stands):
        eased = max((-way * each.stands[number] for each in found for way in both_ways(rig)), default=0.0)
        if stand.lifts and eased > 1e-9:
            ends.append(Stop(StopBy.LIFT, max(rest.stands[number], 0.0) / eased, where=stand.name))
    return sorted(ends, key=lambda each: each.load)[:1]


def by_check(case: Case, prepared: Prepared, rig: Rig, rest: Resting, found: Sequence[Response]) -> list[Stop]:
    """Return the load at which the first check comes to its target; nothing where none does by MOST times a millimetre's load."""
    moves = max(float(np.abs(each.moves).max(initial=0.0)) for each in found)
    limit = largest(Judge(case, prepared, rig, rest, found[0]).trial, FIRST / max(moves, 1e-12), "")
    if limit.value is None:
        return [Stop(StopBy.CHECK, 0.0, limit.governs, limit.because)]
    return [] if limit.governs is None and limit.because.startswith("more than") else [Stop(StopBy.CHECK, limit.value, limit.governs)]


@value_class
class Judge:
    """Judges loads of a rig by every check of the case, one load at a time: a check may name its worst load case alone."""

    case: Case
    prepared: Prepared
    rig: Rig
    rest: Resting
    found: Response

    def trial(self, load: float) -> Point:
        """Return the row that uses most under a load, either way; rules of layout don't change with a load."""
        per_newton = (*self.rig.loads, *self.found.forces)
        ways = {f"load {way:+g}": scaled(per_newton, way * load) for way in both_ways(self.rig)}
        written = tuple(added(name, self.rest.loads, more) for name, more in ways.items())
        try:
            results = solved(self.prepared, on_the_rig(self.case, self.rig, written))
        except FramecheckError as error:
            return Point(float("inf"), None, because=str(error))
        rows = [row for row in results.rows if row.load_case in ways and row.kind is not Kind.LAYOUT]
        row = max(rows, key=lambda row: row.used, default=None)
        return Point(0.0 if row is None else row.used, row, results)


def on_the_rig(case: Case, rig: Rig, loads: tuple[CaseLoads, ...]) -> Case:
    """Return the case as it stands on a rig: its frame, its targets, and nothing that goes on the road."""
    targets = replace(case.targets, per_load_case={})
    return replace(
        case, frame=rig.frame, vehicle=None, gear=None, load_cases=(), written_loads=loads, sums=(), fatigue=None, plates=(),
        readings=(), accepted=(), targets=targets,
    )  # fmt: skip


def added(name: str, rest: CaseLoads, more: Sequence[Part]) -> CaseLoads:
    """Return the loads at rest and more on top of them."""
    test = loads_on(name, more)
    return replace(
        rest,
        name=name,
        point_loads=(*rest.point_loads, *test.point_loads),
        member_loads=(*rest.member_loads, *test.member_loads),
        notes=(),
    )
