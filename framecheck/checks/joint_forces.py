"""What loads a joint: the solved frame's forces where it sits, under every bound, shared between two planes of fasteners; throat
stress of fillets.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from math import sqrt

import numpy as np

from framecheck.checks.joint_rows import Line, worst_lines
from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import AtMemberEnd, AtPoint, GivenLoads, InSplice, JointLoad, PatternPlane, Place, Terminal
from framecheck.model.weld_joints import SeamForces, WeldRun
from framecheck.results.row import CheckResult, Sizing
from framecheck.results.subjects import legs
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class


def joint_loads(outcome: SolvedCase, place: Place) -> tuple[JointLoad, ...]:
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


def every_case_by_bound(outcome: SolvedCase, place: Place) -> list[tuple[JointLoad, ...]] | None:
    """Return a joint's loads in all load cases, one run a bound; None where a load case is missing."""
    bounds = list(loads_by_bound(joint_loads(outcome, place), len(outcome.loads)))
    names = [loads.name for loads in outcome.loads]
    return bounds if bounds and all([load.load_case for load in bound] == names for bound in bounds) else None


def loads_by_bound(loads: tuple[JointLoad, ...], count: int) -> Iterator[tuple[JointLoad, ...]]:
    """Yield the loads in runs of `count` load cases, one run a bound."""
    for start in range(0, len(loads), max(count, 1)):
        yield loads[start : start + count]


def _at_end(outcome: SolvedCase, member: str, end: int) -> Iterator[JointLoad]:
    for solution in outcome.solutions:
        for name, row in zip(solution.cases, solution.member_ends[member][:, end].tolist(), strict=True):
            yield JointLoad(name, (row[0], row[1], row[2]), (row[3], row[4], row[5]))


def _in_splice(outcome: SolvedCase, splice: str) -> Iterator[JointLoad]:
    for solution in outcome.solutions:
        for name, row in zip(solution.cases, solution.splices[splice], strict=True):
            yield JointLoad(name, *_vectors(row))


def _at_point(outcome: SolvedCase, point: str) -> Iterator[JointLoad]:
    for solution in outcome.solutions:
        for each in arriving(outcome, solution, point):
            for name, row in zip(solution.cases, each, strict=True):
                yield JointLoad(name, *_vectors(row))


def arriving(outcome: SolvedCase, solution: FrameSolution, point: str) -> tuple[Array, ...]:
    """Return what arrives at a point from outside the frame, (n_case, 6), N and Nm: loads and mounts; where the point is held too,
    also what holds it, and both together, for the file does not say whether the joint is the one's, the other's or both.
    """
    loaded = loads_at(outcome, solution, point)
    held = solution.reactions.get(point)
    if held is None:
        return (loaded,)
    return (loaded, held, loaded + held) if loaded.any() else (held,)


def loads_at(outcome: SolvedCase, solution: FrameSolution, point: str) -> Array:
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


def seam_forces(outcome: SolvedCase, member: str) -> tuple[SeamForces, ...]:
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
    """Return the unit direction of the member whose end a joint holds, on whose point it sits, or of a splice, vehicle axes; along x
    where there is none.
    """
    if isinstance(place, InSplice):
        return place.along
    if isinstance(place, AtPoint):
        found = (legs(frame, member, place.point) for member in frame.members if place.point in member.points)
        return next((each[-1] for each in found if each), (1.0, 0.0, 0.0))
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


Lines = Callable[[SolvedCase], Iterable[Line]]


def by_bound(lines: Lines) -> Lines:
    """Return a check that tells the worst over the bounds, and under which; of what the shop should do, the most."""

    def worst(outcome: SolvedCase) -> Iterable[Line]:
        found = [tuple(told(lines(each), each)) for each in each_bound(outcome)]
        return largest_sizes(worst_lines(found))

    return worst


def each_bound(outcome: SolvedCase) -> Iterator[SolvedCase]:
    """Yield the outcome under each bound by itself."""
    for number, solution in enumerate(outcome.solutions):
        buckling = outcome.buckling[number : number + 1]
        yield replace(outcome, solutions=(solution,), stresses=(outcome.stresses[number],), buckling=buckling, at_ends=())


def told(lines: Iterable[Line], outcome: SolvedCase) -> Iterator[Line]:
    """Yield lines, the bound of an outcome with one of them written in each row of a load case that has none."""
    for line in lines:
        is_open = isinstance(line, CheckResult) and line.bound is None and line.load_case is not None
        yield replace(line, bound=outcome.solutions[0].bound) if is_open and isinstance(line, CheckResult) else line


def largest_sizes(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Return lines with each size or torque told once: the largest."""
    kept = tuple(lines)
    largest: dict[object, Sizing] = {}
    for line in kept:
        if isinstance(line, Sizing):
            key = (line.check, line.where, line.what)
            largest[key] = line if key not in largest else max(line, largest[key], key=lambda each: each.value)
    return tuple(line for line in kept if not isinstance(line, Sizing) or line in largest.values())


@array_class
class Pattern:
    """A group in space: positions (n, 3) from its centroid, m; axes (3, 3): rows across, along, facing; centroid (3,),
    m.
    """

    positions: Array
    axes: Array
    centroid: Array

    @property
    def facing(self) -> Array:
        """Return the unit normal, (3,)."""
        return np.asarray(self.axes[2], dtype=np.float64)


@array_class
class CrossingForces:
    """What the crossings carry. forces: (n, 2, 3), N, of each bolt at its two sides; along: force along the bolts, N, that the tubes'
    walls pass on by pressing on each other; moment (3,), shear (3,): bending of the joint about the bolts' middle, Nm, and the force
    across the bolts, N; left: moment about a single bolt that nothing carries, Nm.
    """

    forces: Array
    along: float
    shear: Array
    moment: Array
    left: float

    @property
    def worst(self) -> float:
        """Return the largest force at a crossing, N."""
        return float(np.linalg.norm(self.forces, axis=2).max())


def pattern(plane: PatternPlane, positions: tuple[tuple[float, float], ...]) -> Pattern:
    """Return the group's positions from its centroid, in vehicle axes."""
    axes = np.array([plane.across, plane.along, plane.facing], dtype=np.float64)
    points = np.asarray(plane.origin) + np.asarray(positions, dtype=np.float64) @ axes[:2]
    centroid = points.mean(axis=0)
    return Pattern(frozen(points - centroid), frozen(axes), frozen(centroid))


def forces_in_two_planes(group: Pattern, lever: float, load: JointLoad) -> CrossingForces:
    """Return the forces at every crossing: the least sum of squares in balance with the load, as equal springs share it.

    The elastic method of a bolt group (AISC Steel Construction Manual, part 7), in space: crossings push in the walls' plane alone.
    lever: between the two planes, m.
    """
    centre = group.centroid - (group.centroid @ group.facing) * group.facing
    force = np.asarray(load.force, dtype=np.float64)
    moment = np.asarray(load.moment, dtype=np.float64) - np.cross(centre, force)
    along = float(force @ group.facing)
    across = force - along * group.facing
    size = float(np.abs(group.positions).max()) + lever
    balance = balance_of(group, lever) * np.repeat((1.0, 1.0 / size), 3)[:, None]
    asked = np.concatenate((across, moment / size))
    pushes, *_ = np.linalg.lstsq(balance, asked, rcond=1e-9)
    forces = np.einsum("nsk,kj->nsj", pushes.reshape(-1, 2, 2), group.axes[:2])
    left = float(np.linalg.norm((asked - balance @ pushes)[3:])) * size
    return CrossingForces(frozen(forces), along, frozen(across), frozen(moment), left)


def balance_of(group: Pattern, lever: float) -> Array:
    """Return (6, 4 n): force and moment about the bolts' middle of a unit push at each crossing, across and along in turn."""
    columns = [
        np.concatenate((way, np.cross(place + side * lever / 2 * group.facing, way)))
        for place in group.positions
        for side in (1.0, -1.0)
        for way in group.axes[:2]
    ]
    return np.array(columns).T


THROAT = sqrt(0.5)


@array_class
class ThroatStress:
    """Stress on the throats of a weld group in every load case, Pa: across (n_case, n_point, 2), along (n_case, n_point).

    Points: the ends of every run, bound by bound where the case leaves something open.
    """

    across: Array
    along: Array


def throat_stress(runs: tuple[WeldRun, ...], per_length: Array) -> ThroatStress:
    """Return the stress on the throats, 0.707 leg; per_length: force per length at the ends of each run, (n_case, n_run, 2, 3), N/m.

    EN 1993-1-9:2005, 5(6): across the weld sqrt(sigma2 + tau2), along it tau, on the throat.
    """
    spans = np.array([np.subtract(run.end, run.start) for run in runs], dtype=np.float64)
    along_run = spans / np.linalg.norm(spans, axis=1, keepdims=True)
    square = np.stack([_square_to(direction) for direction in along_run])  # (n_run, 2, 3)
    throat = THROAT * np.array([run.leg for run in runs])[:, None]
    count = per_length.shape[0]
    along = np.einsum("cnki,ni->cnk", per_length, along_run) / throat
    across = np.einsum("cnki,nji->cnkj", per_length, square) / throat[..., None]
    return ThroatStress(frozen(across.reshape(count, -1, 2)), frozen(along.reshape(count, -1)))


def _square_to(direction: Array) -> Array:
    """Return two unit vectors square to a direction and to one another, (2, 3)."""
    first = np.cross(direction, np.eye(3)[int(np.argmin(np.abs(direction)))])
    first = first / np.linalg.norm(first)
    return np.stack((first, np.cross(direction, first)))
