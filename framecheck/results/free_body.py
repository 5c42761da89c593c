"""The frame cut free in one load case: every force and moment that acts on it, by place, and what they come to together. SI."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from framecheck.frame.panel.site import at_shares, site_of
from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads, MemberLoad, Motion
from framecheck.model.panels import Panel
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class

ROUNDING = 1e-3
"""A sum of less than this share of what is summed is rounding: weight spread along members is summed piece by piece."""
GAUSS = (0.5 - 12**-0.5, 0.5 + 12**-0.5)
OWN = "frame's own weight and inertia"


@array_class
class Push:
    """A force (3,) N and a moment (3,) Nm at a place (3,) m, vehicle axes. is_reaction: the ground's, at a support."""

    where: str
    at: Array
    force: Array
    moment: Array
    is_reaction: bool = False

    @property
    def size(self) -> float:
        """Return how large the force is, N."""
        return float(np.linalg.norm(self.force))

    def moment_shown(self, turning: float) -> Array:
        """Return the moment (3,), with 0 where it is rounding beside what turns the whole, Nm."""
        return plain(self.moment, turning)


@array_class
class FreeBody:
    """All that acts on the frame in a load case, the largest force first. residual: of the solution's own six equations."""

    pushes: tuple[Push, ...]
    residual: float

    @property
    def total(self) -> tuple[Array, Array]:
        """Return force and moment of all together, about the middle of where they act; rounding is shown as nothing."""
        force = np.sum([each.force for each in self.pushes], axis=0)
        turns = self.turns
        sizes = sum(each.size for each in self.pushes), sum(float(np.linalg.norm(each)) for each in turns)
        return plain(force, sizes[0]), plain(np.sum(turns, axis=0), sizes[1])

    @property
    def turns(self) -> list[Array]:
        """Return what each turns about the middle of where they act, its own moment and that of its force, Nm."""
        middle = np.mean([each.at for each in self.pushes], axis=0)
        return [each.moment + np.cross(each.at - middle, each.force) for each in self.pushes]

    @property
    def turning(self) -> float:
        """Return the most that one of them turns the whole, Nm."""
        return max((float(np.linalg.norm(each)) for each in self.turns), default=0.0)


def plain(values: Array, size: float) -> Array:
    """Return values with 0 where one is rounding beside a size."""
    return np.where(np.abs(values) > ROUNDING * size, values, 0.0)


def free_body(outcome: SolvedCase, bound: int, case: int) -> FreeBody:
    """Return all that acts on the frame in one load case under one bound."""
    loads, solution, frame = outcome.loads[case], outcome.solutions[bound], outcome.case.frame
    pushes = [*at_points(frame, loads), *on_bodies(frame, loads), *along_members(solution.members, loads.member_loads)]
    pushes += [*own_weight(frame, solution.members, loads.motion), *reactions(frame, solution, case)]
    pushes = [each for each in pushes if each.force.any() or each.moment.any()]
    return FreeBody(tuple(sorted(pushes, key=lambda each: -each.size)), float(solution.balance[case]))


def at_points(frame: Frame, loads: CaseLoads) -> Iterator[Push]:
    """Yield the loads on frame points, all on one point together."""
    found: dict[str, list[Array]] = {}
    for each in loads.point_loads:
        found.setdefault(each.point, []).append(np.array([each.force, each.moment]))
    for point, every in found.items():
        force, moment = np.sum(every, axis=0)
        yield Push(point, np.array(frame.points[point]), force, moment)


def on_bodies(frame: Frame, loads: CaseLoads) -> Iterator[Push]:
    """Yield the loads on stiff bodies, each at its centre of mass."""
    places = {each.name: each.at for each in frame.stiff_bodies}
    for each in loads.body_loads:
        yield Push(each.body, np.array(places[each.body]), np.array(each.force), np.array(each.moment))


def along_members(lines: Iterable[MemberForces], loads: Iterable[MemberLoad]) -> Iterator[Push]:
    """Yield the loads along members, each at the middle of its force, beside the line where it has an arm."""
    by_name = {line.member: line for line in lines}
    for each in loads:
        line = by_name[each.member]
        first, last = np.array(each.force_start), np.array(each.force_end)
        end = min(each.end, float(line.stations[-1]))
        length = end - each.start
        force = (first + last) / 2 * length if length > 0 else first
        sizes = float(np.linalg.norm(first)), float(np.linalg.norm(last))
        share = (sizes[0] + 2 * sizes[1]) / (3 * (sizes[0] + sizes[1])) if sum(sizes) > 0 else 0.5
        yield Push(f"along {each.member}", on_line(line, each.start + share * length) + np.array(each.arm), force, np.zeros(3))


def on_line(line: MemberForces, station: float) -> Array:
    """Return the place of a station."""
    return np.array([np.interp(station, line.stations, line.places[:, axis]) for axis in range(3)])


def own_weight(frame: Frame, lines: Iterable[MemberForces], motion: Motion) -> Iterator[Push]:
    """Yield what gravity and inertia do to the frame's own mass, as one force and moment at its centre."""
    parts = [*(mass_points(line) for line in lines), *(sheet_points(frame, each) for each in frame.panels)]
    masses, places = np.concatenate([mass for mass, _ in parts]), np.concatenate([place for _, place in parts])
    if not masses.sum() > 0:
        return
    forces = masses[:, None] * (np.array(motion.linear) - np.cross(motion.angular, places - np.array(motion.about)))
    centre = masses @ places / masses.sum()
    yield Push(OWN, centre, forces.sum(axis=0), np.cross(places - centre, forces).sum(axis=0))


def mass_points(line: MemberForces) -> tuple[Array, Array]:
    """Return a member's mass between its stations, kg (n,), and its middles (n, 3), m."""
    per_length = np.array([section.mass_per_length for section in line.sections[:-1]])
    return per_length * np.diff(line.stations), (line.places[1:] + line.places[:-1]) / 2


def sheet_points(frame: Frame, panel: Panel) -> tuple[Array, Array]:
    """Return a panel's mass in four points a four-sided piece (n,), kg, and these (n, 3), m: Gauss's, exact for its inertia too."""
    parts = [sheet_piece(corners) for corners in site_of(frame, panel).pieces()]
    areas, places = (np.concatenate(each) for each in zip(*parts, strict=True))
    return areas * panel.thickness * panel.material.density, places


def sheet_piece(corners: Array) -> tuple[Array, Array]:
    """Return the area (4,) that each of Gauss's points of a four-sided piece (4, 3) stands for, and the points (4, 3)."""
    shares = np.array([(s, t) for s in GAUSS for t in GAUSS])
    s, t = shares[:, :1], shares[:, 1:]
    along = (1 - t) * (corners[1] - corners[0]) + t * (corners[2] - corners[3])
    across = (1 - s) * (corners[3] - corners[0]) + s * (corners[2] - corners[1])
    return np.linalg.norm(np.cross(along, across), axis=1) / 4, at_shares(corners, shares)


def reactions(frame: Frame, solution: FrameSolution, case: int) -> Iterator[Push]:
    """Yield what supports do to the frame."""
    for point, rows in solution.reactions.items():
        yield Push(point, np.array(frame.points[point]), rows[case, :3], rows[case, 3:], is_reaction=True)
