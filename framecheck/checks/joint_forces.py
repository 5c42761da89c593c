"""What loads a joint: the solved frame's forces where the joint sits, in every load case, under every bound."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import AtMemberEnd, AtPoint, GivenLoads, InSplice, JointLoad, Place, Terminal
from framecheck.model.weld_joints import SeamForces
from framecheck.stress import Outcome


def joint_loads(outcome: Outcome, place: Place) -> tuple[JointLoad, ...]:
    """Return the loads of a joint in all load cases, bound by bound where the case leaves something open.

    At a member's end: what the member puts on its frame point. At a point: what arrives there from outside the frame.
    """
    match place:
        case GivenLoads(loads):
            return loads
        case AtMemberEnd(member, end):
            return tuple(_at_end(outcome, member, 0 if end is Terminal.START else 1))
        case AtPoint(point):
            return tuple(_at_point(outcome, point))
        case InSplice(splice):
            return tuple(_in_splice(outcome, splice))


def every_case_by_bound(outcome: Outcome, place: Place) -> list[tuple[JointLoad, ...]] | None:
    """Return a joint's loads in all load cases, one run a bound; None where a load case is missing."""
    bounds = list(by_bound(joint_loads(outcome, place), len(outcome.loads)))
    names = [loads.name for loads in outcome.loads]
    return bounds if bounds and all([load.load_case for load in bound] == names for bound in bounds) else None


def by_bound(loads: tuple[JointLoad, ...], count: int) -> Iterator[tuple[JointLoad, ...]]:
    """Yield the loads in runs of `count` load cases, one run a bound."""
    for start in range(0, len(loads), max(count, 1)):
        yield loads[start : start + count]


def _at_end(outcome: Outcome, member: str, end: int) -> Iterator[JointLoad]:
    for solution in outcome.solutions:
        for name, row in zip(solution.cases, solution.member_ends[member][:, end].tolist(), strict=True):
            yield JointLoad(name, (row[0], row[1], row[2]), (row[3], row[4], row[5]))


def _in_splice(outcome: Outcome, splice: str) -> Iterator[JointLoad]:
    for solution in outcome.solutions:
        for name, row in zip(solution.cases, solution.splices[splice], strict=True):
            yield JointLoad(name, *_vectors(row))


def _at_point(outcome: Outcome, point: str) -> Iterator[JointLoad]:
    for solution in outcome.solutions:
        for each in arriving(outcome, solution, point):
            for name, row in zip(solution.cases, each, strict=True):
                yield JointLoad(name, *_vectors(row))


def arriving(outcome: Outcome, solution: FrameSolution, point: str) -> tuple[Array, ...]:
    """Return what arrives at a point from outside the frame, (n_case, 6), N and Nm: loads and mounts; where the point is held too,
    also what holds it, and both together, for the file does not say whether the joint is the one's, the other's or both.
    """
    loaded = loads_at(outcome, solution, point)
    held = solution.reactions.get(point)
    if held is None:
        return (loaded,)
    return (loaded, held, loaded + held) if loaded.any() else (held,)


def loads_at(outcome: Outcome, solution: FrameSolution, point: str) -> Array:
    """Return what loads and the mounts of stiff bodies put on a point, (n_case, 6), N and Nm."""
    total = np.zeros((len(outcome.loads), 6))
    for number, loads in enumerate(outcome.loads):
        for load in loads.point_loads:
            if load.point == point:
                total[number] += np.array([*load.force, *load.moment])
    for (_, mounted), forces in solution.mounts.items():
        if mounted == point:
            total[:, :3] += forces
    return total


def seam_forces(outcome: Outcome, member: str) -> tuple[SeamForces, ...]:
    """Return the section forces that load a member's seams at every station, in all load cases, bound by bound."""
    found = (each for solution in outcome.solutions for each in solution.members if each.member == member)
    return tuple(row for each in found for row in _along(each, outcome.solutions[0].cases))


def _along(member: MemberForces, cases: tuple[str, ...]) -> Iterator[SeamForces]:
    stations = member.stations.tolist()
    for number, name in enumerate(cases):
        rows = member.member_forces[:, number, 1:4].tolist()
        for station, (sideways, vertical, torsion) in zip(stations, rows, strict=True):
            yield SeamForces(name, station, vertical, sideways, torsion)


def axis_at(frame: Frame, place: Place) -> Vector:
    """Return the unit direction of the member whose end a joint holds, or of a splice, vehicle axes; along x where it holds none."""
    if isinstance(place, InSplice):
        return place.along
    if not isinstance(place, AtMemberEnd):
        return (1.0, 0.0, 0.0)
    member = next(each for each in frame.members if each.name == place.member)
    first, second = _last_pair(member, place.end)
    along = np.subtract(frame.points[second], frame.points[first])
    return _vectors(np.concatenate([along / np.linalg.norm(along), np.zeros(3)]))[0]


def _last_pair(member: Member, end: Terminal) -> tuple[str, str]:
    points = member.points
    return (points[0], points[1]) if end is Terminal.START else (points[-2], points[-1])


def _vectors(row: Array) -> tuple[Vector, Vector]:
    x, y, z, mx, my, mz = row.tolist()
    return (x, y, z), (mx, my, mz)
