"""What members themselves carry in the worst mixtures of soft and stiff ends (soft_frame.py), by length between points. SI.

Of every mixture of the ends about a length its forces are found, exactly; told are those of the few that are worst for it in a load
case, by each of a few measures of what the checks along members ask. So a bound told here is put together: each length of each member
stands in a mixture of its own, which one is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache, partial

import numpy as np
from numpy.typing import NDArray

from framecheck.frame.geometry import OneFrame, point_stations
from framecheck.frame.kink_mixtures import KinkMixtures, kink_mixtures
from framecheck.frame.results import Bound, EndsApart, FrameSolution, MemberForces
from framecheck.frame.soft_frame import SoftFrame, UnitTold
from framecheck.frame.unlike import MOST_CLASSES, Ends, classes_along, mixture
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.model.frame import SAME_STATION, Frame
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.surface_stress import AT_ONCE, SHEARING, STRETCHING, narrowed, peaks
from framecheck.value_class import array_class
from framecheck.yield_criterion import SHEAR_COUNTS

AT_A_TIME = 200
"""Load cases that are looked at together: so far memory serves (100 MB)."""
PICKED = (2, 1, 1, 1)
"""How many of the worst mixtures are told by each measure, in the order of `measures`."""
SLENDER = 3.0
"""What pressure along the member counts more than bending where a slender one may buckle; it chooses among mixtures, no more."""
Short = NDArray[np.float32]
WORDS = "whichever ends about each length make it worst"


@array_class
class LegMixtures:
    """A length of a member between two of its points: its rows in the member's table, its stations from, to, m.

    classes: of ends; picked (J, k): by bound and load case the number of the mixture, of which the n-th bit says that the n-th
    class is stiff.
    """

    member: int
    rows: slice
    span: tuple[float, float]
    classes: tuple[Ends, ...]
    picked: IntArray


@array_class
class MemberMixtures:
    """Members in their worst mixtures: solutions by bound, each put together, and how it was. every: the ends that may be unlike.
    kinks: what legs carry at their kinks, in every mixture."""

    frame: Frame
    every: Ends
    legs: tuple[LegMixtures, ...]
    solutions: tuple[FrameSolution, ...]
    kinks: tuple[KinkMixtures, ...]

    @property
    def base(self) -> Bound:
        """Return the bound of all else."""
        return replace(self.solutions[0].bound, apart=None)

    def bound(self, told: Bound, place: tuple[str, float], load_case: str) -> Bound:
        """Return the mixture behind a bound told here at a station of a member, place; itself where two lengths meet that differ."""
        name, station = place
        own = next((number for number, member in enumerate(self.frame.members) if member.name == name), None)
        number = next(number for number, each in enumerate(self.solutions) if each.bound == told)
        case = self.solutions[0].cases.index(load_case)
        found = {
            mixture((self.frame, self.every, self.base), leg.classes, int(leg.picked[number, case]))
            for leg in self.legs
            if leg.member == own and leg.span[0] - SAME_STATION <= station <= leg.span[1] + SAME_STATION
        }
        return found.pop() if len(found) == 1 else told


def member_mixtures(soft: SoftFrame) -> MemberMixtures:
    """Return what members carry in their worst mixtures."""
    legs = []
    told = [[line.forces.copy() for line in soft.told[1].members] for _ in range(sum(PICKED))]
    cases, most = len(soft.answered.cases), max(soft.most_classes, MOST_CLASSES)
    for number, rows in legs_of(soft):
        line = soft.told[1].members[number]
        classes = classes_along(OneFrame(soft.frame), soft.every, number, points_of(soft, number, rows), most)
        parts = []
        together = max(1, AT_A_TIME * 2**MOST_CLASSES // 2 ** max(len(classes), MOST_CLASSES))
        for some in (slice(first, first + together) for first in range(0, cases, together)):
            more = MoreForces(line.stations[rows], *more_forces(soft, classes, (number, rows), some))
            parts.append(worst_mixtures(line, (rows, some), more))
            for of, each in zip(told, parts[-1], strict=True):
                of[number][rows, some] += more.of_cases(each)
        span = float(line.stations[rows][0]), float(line.stations[rows][-1])
        legs.append(LegMixtures(number, rows, span, classes, np.concatenate(parts, axis=1)))
    found = (put_together(soft, of, count) for count, of in enumerate(told))
    return MemberMixtures(soft.frame, soft.every, tuple(legs), tuple(found), tuple(kink_mixtures(soft)))


def put_together(soft: SoftFrame, forces: Sequence[Array], number: int) -> FrameSolution:
    """Return the solution with all ends soft, but with other forces along its members, under a bound of its own."""
    whole = soft.told[1]
    members = [replace(line, forces=frozen(own)) for line, own in zip(whole.members, forces, strict=True)]
    apart = EndsApart(frozenset(((-1, number),)), WORDS)
    return replace(whole, bound=replace(whole.bound, apart=apart), members=tuple(members))


def legs_of(soft: SoftFrame) -> Iterator[tuple[int, slice]]:
    """Yield every length between two points of a member: the member's place in the frame, and the length's rows in its table."""
    pieces = soft.answered.structure.pieces
    member, base = pieces.member[soft.stations.piece], pieces.base[soft.stations.piece]
    starts = np.flatnonzero(np.concatenate(([True], (member[1:] != member[:-1]) | (base[1:] != base[:-1])))).tolist()
    for start, stop in zip(starts, [*starts[1:], len(member)], strict=True):
        number = int(member[start])
        yield number, slice(start - soft.first_row(number), stop - soft.first_row(number))


def points_of(soft: SoftFrame, number: int, rows: slice) -> tuple[str, str]:
    """Return the two points between which a length of a member lies."""
    stations = soft.told[1].members[number].stations[rows]
    where = point_stations_of(OneFrame(soft.frame), number)
    last = int(np.searchsorted(where[1:-1], stations[0] + (stations[-1] - stations[0]) / 2)) + 1
    points = soft.frame.members[number].points
    return points[last - 1], points[last]


@lru_cache(maxsize=2048)
def point_stations_of(of: OneFrame, number: int) -> Array:
    """Return the stations of a member's points, m."""
    return frozen(np.array(point_stations(of.frame, of.frame.members[number])))


# what mixtures add to the forces of a length ------------------------------------------------------------------------------

STEADY = [0, 1, 2, 3, 7]
"""Columns of section forces that do not change along a length on which nothing acts: N, Vy, Vz, T, T Saint-Venant without warping."""
BENDING = [4, 5]
FEW = [*STEADY[:4], *BENDING]


@array_class
class MoreForces:
    """What m mixtures add to the forces along a length with stations (r,). numbers (m, q, k): where it is straight, one piece that
    does not warp, the forces FEW at its start, then its moments at its end; else all forces, station by station.
    """

    stations: Array
    numbers: Array
    straight: bool

    def at(self, rows: Sequence[int]) -> Array:
        """Return what is added (m, r, k, 9) at some stations."""
        m, _, k = self.numbers.shape
        if self.straight:
            return self._spread(self.numbers, rows)
        whole: Array = self.numbers.reshape(m, -1, 9, k).transpose(0, 1, 3, 2)[:, list(rows)]
        return whole

    def of_cases(self, picked: IntArray) -> Array:
        """Return what is added (r, k, 9) at all stations where each load case has a mixture of its own, picked (k,)."""
        own = self.numbers[picked, :, np.arange(len(picked))].T[None]
        rows = range(len(self.stations))
        whole: Array = MoreForces(self.stations, own, self.straight).at(rows)[0]
        return whole

    def _spread(self, numbers: Array, rows: Sequence[int]) -> Array:
        m, _, k = numbers.shape
        share = ((self.stations - self.stations[0]) / (self.stations[-1] - self.stations[0]))[list(rows)]
        found = np.zeros((m, len(rows), k, 9))
        found[..., STEADY] = numbers[:, [0, 1, 2, 3, 3]].transpose(0, 2, 1)[:, None]
        start, end = numbers[:, 4:6].transpose(0, 2, 1)[:, None], numbers[:, 6:8].transpose(0, 2, 1)[:, None]
        found[..., BENDING] = start + share[:, None, None] * (end - start)
        return found


def more_forces(
    soft: SoftFrame, classes: Sequence[Ends], where: tuple[int, slice], cases: slice
) -> tuple[Array, bool]:
    """Return the numbers of MoreForces of a length of a member in some load cases, and whether it is straight."""
    number, rows = where
    first = soft.first_row(number)
    pieces = soft.stations.piece[first + rows.start : first + rows.stop]
    straight = bool((pieces == pieces[0]).all() and not soft.answered.structure.beams.warps[pieces[0]])
    numbers = partial(few_numbers if straight else all_numbers, where)
    return soft.mixtures(classes, numbers, cases) - numbers(soft.told[1])[:, cases], straight


def few_numbers(where: tuple[int, slice], told: FrameSolution | UnitTold) -> Array:
    """Return the forces FEW at the start of a length of a member and the moments at its end, (8, k)."""
    number, rows = where
    forces = told.members[number].forces
    return np.concatenate((forces[rows.start][:, FEW], forces[rows.stop - 1][:, BENDING]), axis=1).T


def all_numbers(where: tuple[int, slice], told: FrameSolution | UnitTold) -> Array:
    """Return the section forces of a length of a member as (p, k)."""
    number, rows = where
    forces = told.members[number].forces[rows].transpose(0, 2, 1)
    return forces.reshape(-1, forces.shape[2])


# which mixtures are worst ------------------------------------------------------------------------------------------------


def worst_mixtures(line: MemberForces, of: tuple[slice, slice], more: MoreForces) -> IntArray:
    """Return the worst mixtures (J, k) by each measure, of a length of a member: by its ends and its middle, or all its stations.

    of: its rows in the member's table, and the load cases.
    """
    m, _, k = more.numbers.shape
    rows, cases = of
    count = rows.stop - rows.start
    at: dict[SectionProperties, list[int]] = {}
    for each in dict.fromkeys((0, count - 1, count // 2)) if more.straight else range(count):
        at.setdefault(line.sections[rows.start + each], []).append(each)
    worst = np.zeros((len(PICKED), m, k))
    for section, places in at.items():
        if section.fields is not None:
            forces = [more.at([each])[:, 0] + line.forces[rows.start + each, cases] for each in places]
            fields = stressed_most(section, forces[:2])
            for each in forces:
                np.maximum(worst, measures(fields, each) / section.yield_strength, out=worst)
    order = np.argsort(-worst, axis=1, kind="stable")
    return np.concatenate([_filled(order[number, :many], many) for number, many in enumerate(PICKED)])


def _filled(order: IntArray, many: int) -> IntArray:
    """Return `many` rows: of fewer the last again."""
    return order[np.minimum(np.arange(many), len(order) - 1)]


def measures(fields: UnitFields, forces: Array) -> Array:
    """Return the largest stresses (S, m, k) of forces (m, k, 9), Pa: by first yield, where it is pressed most, where it is pressed as
    a slender member is, and by shear. In short numbers, which serve to choose by and take half the time.
    """
    rows = forces.reshape(-1, 9).astype(np.float32)
    together = max(1, AT_ONCE // len(fields.normal))
    found = [_measures(fields, rows[first : first + together]) for first in range(0, len(rows), together)]
    return np.concatenate(found, axis=1, dtype=np.float64).reshape(-1, *forces.shape[:2])


def _measures(fields: UnitFields, forces: Short) -> Short:
    """Return the measures (S, n) of forces (n, 9), Pa: few enough to stay in the processor's own memory."""
    stretched, slid = fields.normal.T.astype(np.float32), fields.shear.transpose(1, 2, 0).astype(np.float32)
    normal = forces[:, STRETCHING] @ stretched
    shear, part = (forces[:, SHEARING] @ slid[axis] for axis in (0, 1))
    shear *= shear
    part *= part
    shear += part
    pressed = -normal.min(axis=1)
    slender = pressed + SLENDER * np.maximum(-forces[:, 0] * stretched[0, 0], 0.0)
    most = np.sqrt(shear.max(axis=1))
    normal *= normal
    shear *= SHEAR_COUNTS
    normal += shear
    return np.stack((np.sqrt(normal.max(axis=1)), pressed, slender, most))


LOOKED = 4
"""Classes of ends, the nearest, each of which is looked at stiff alone and soft alone for where a section is stressed most."""


def stressed_most(section: SectionProperties, forces: Sequence[Array]) -> UnitFields:
    """Return the unit fields of a section at the points where some of the mixtures, of forces (m, k, 9) at a few places, stress it
    most, and where bending may press it most.
    """
    fields, last = section.fields, len(forces[0]) - 1
    assert fields is not None
    alone = [(last + 1) >> k for k in range(1, LOOKED + 1) if (last + 1) >> k]
    some = sorted({0, last, *alone, *(last - each for each in alone)})
    points = peaks(fields, np.concatenate([each[some] for each in forces])).point
    return narrowed(fields, np.unique(np.concatenate((points.ravel(), pressed_most(section)))))


ROUND = 8
"""Ways of bending for which a section's most pressed points are looked for."""


@lru_cache(maxsize=256)
def pressed_most(section: SectionProperties) -> IntArray:
    """Return the points of a section, by number, where bending, and warping with it, may make most stress."""
    fields = section.fields
    assert fields is not None
    size = np.abs(fields.normal).max(axis=0)
    unit = fields.normal / np.where(size > 0.0, size, 1.0)
    turns = 2 * np.pi * np.arange(ROUND) / ROUND
    twists = (0.0,) if section.closed else (-1.0, 0.0, 1.0)
    ways = [(np.cos(turn), np.sin(turn), twist) for turn in turns for twist in twists]
    most: IntArray = np.argmax(unit[:, 1:] @ np.array(ways).T, axis=0)
    return most
