"""The skid plates of a case: their own rows, and what each of their loads does to the frame they hang on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import numpy as np

from framecheck.checks.joint_rows import Line
from framecheck.checks.plate.answer import PlateAnswer, solve
from framecheck.checks.plate.check import judge
from framecheck.checks.plate.resting import place_at
from framecheck.checks.plate.to_frame import frame_loads, loads_on_members
from framecheck.model.case import Case
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads, MemberLoad, PointLoad
from framecheck.model.plate import BoltedPlate, Lies
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Question, Remark, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.vehicle.driving import upright
from framecheck.vehicle.load_cases import answered
from framecheck.vehicle.masses import MassProperties
from framecheck.vehicle.scene import ExternalForces
from framecheck.vehicle.scene_builder import scene_of
from framecheck.vehicle.wheels import static_loads

solved_once = cache(solve)
"""A plate's answer: asked for by the check and by the frame's load cases."""


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every plate, and of each that does not say what it hangs on, that the frame was not checked."""
    lines: list[Line] = []
    for plate in outcome.case.plates:
        lines += (of_case(plate, line) for line in judge(solved_once(plate)))
        if not hangs_on_points(plate):
            reason = "not every bolt and held edge names its frame point, so its loads are not passed to the frame"
            lines.append(left_open(Thing.PLATE, plate.name, Question.PLATE, reason, "the frame under it"))
        if plate.rests:
            reason = "pressed at one edge of its face a member's walls bend: only what bends and twists the member is passed on"
            part, remedy = "face of the members it lies on", "ask an engineer, or accept with a reason"
            lines.append(left_open(Thing.PLATE, plate.name, Question.PLATE, reason, part, remedy))
        lines += lies_on(outcome.case.frame, plate)
        if plate.lies is Lies.UNSAID and plate.rests:
            reason = "it is judged both ways, against the members over it and on spacers, and the worse stands"
            lines.append(left_open(Thing.PLATE, plate.name, Question.PLATE, reason, "what it lies against", "write `lies:`"))
    return tuple(lines)


def lies_on(frame: Frame, plate: BoltedPlate) -> Iterator[Remark]:
    """Yield what a plate lies on that no bolt of it goes into, and what it may come to touch at another level."""
    named = {bolt.frame_point for bolt in plate.bolts}
    bolted = {member.name for member in frame.members if named & set(member.points)}
    for name in dict.fromkeys(str(rest.member) for rest in plate.rests if rest.member):
        rises = [rest.rise for rest in plate.rests if rest.member == name and rest.rise is not None]
        if rises:
            way = f"by the file's points its face is {1e3 * min(rises):.3g} mm beyond what the bolts draw the plate to"
            reason = f"{way}; where the plate moves so far it is judged touching it and not, and the worse stands"
            yield Remark(f"{plate.name}, {name}: at another level", reason)
        elif name not in bolted:
            yield Remark(f"{plate.name}, {name}: lies on it", "no bolt goes into it; it only presses there")


def of_case(plate: BoltedPlate, line: Line) -> Line:
    """Return a line of a plate with its load under the name that the frame's load case has."""
    if isinstance(line, CheckResult) and line.load_case is not None:
        return replace(line, load_case=case_name(plate, line.load_case))
    return line


def case_name(plate: BoltedPlate, load: str) -> str:
    """Return the name of the load case that a load of a plate makes."""
    return f"{plate.name}: {load}"


def hangs_on_points(plate: BoltedPlate) -> bool:
    """Return whether every bolt and held edge names its frame point."""
    named = [bolt.frame_point for bolt in plate.bolts] + [edge.frame_points for edge in plate.edges]
    return all(each is not None for each in named)


def loads_of(case: Case, frame: MassProperties) -> tuple[CaseLoads, ...]:
    """Return a load case for each load of each plate that hangs on frame points, named after both.

    With a vehicle: at rest on its wheels while the plate is struck; its inertia answers. Without: on the frame's supports.
    """
    hanging = (plate for plate in case.plates if hangs_on_points(plate))
    return tuple(each for plate in hanging for each in _loads(case, frame, solved_once(plate)))


def _loads(case: Case, frame: MassProperties, answer: PlateAnswer) -> Iterator[CaseLoads]:
    for load in answer.loads:
        name = case_name(answer.plate, load.load.name)
        acting = CaseLoads(name, frame_loads(answer.plate, load), loads_on_members(answer.plate, load))
        yield acting if case.vehicle is None else _under_vehicle(case, frame, acting)


def _under_vehicle(case: Case, frame: MassProperties, acting: CaseLoads) -> CaseLoads:
    """Return the loads with the vehicle's inertia in answer; for it, a force between a member's points counts as moved to one."""
    scene = scene_of(case, frame)
    lumped = tuple(moved_to_a_point(case.frame, each) for each in acting.member_loads)
    action = ExternalForces(upright(scene, static_loads(scene).loads), outside=(*acting.point_loads, *lumped))
    loads = answered(scene, acting.name, action).loads
    kept = tuple(each for each in loads.point_loads if each not in lumped)
    return replace(loads, point_loads=kept, member_loads=(*loads.member_loads, *acting.member_loads))


def moved_to_a_point(frame: Frame, load: MemberLoad) -> PointLoad:
    """Return the force and moment at a member's first point that are as much as a force on its line."""
    member = next(each for each in frame.members if each.name == load.member)
    place = place_at(frame, member, load.start) + np.array(load.arm)
    x, y, z = np.cross(place - frame.points[member.points[0]], load.force_start).tolist()
    return PointLoad(member.points[0], load.force_start, (x, y, z), load.because)
