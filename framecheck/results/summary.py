"""What governs, load case by load case and member by member, and where it sits in terms of the vehicle."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from itertools import pairwise
from math import dist

import numpy as np

from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Vector
from framecheck.model.frame import Frame, Member
from framecheck.results.row import CheckResult, Facing
from framecheck.results.row_order import is_met_layout, margin, worst_by
from framecheck.results.subjects import Thing
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

AT = 0.002
"""A place nearer than this to a named point is at it, m."""
ON_SUBJECT = frozenset((Thing.MEMBER, Thing.CUT, Thing.SEAM, Thing.DETAIL))


class SideOfPoint(Enum):
    """On which side of a named point a place lies; vehicle axes."""

    AHEAD = "ahead of"
    BEHIND = "behind"
    LEFT = "left of"
    RIGHT = "right of"
    ABOVE = "above"
    BELOW = "below"


WAYS = ((SideOfPoint.AHEAD, SideOfPoint.BEHIND), (SideOfPoint.LEFT, SideOfPoint.RIGHT), (SideOfPoint.ABOVE, SideOfPoint.BELOW))


@value_class
class Near:
    """The named point nearest to a place on a member: how far it is, m (0: the place is at it), and which way the place lies."""

    point: str
    distance: float
    way: SideOfPoint | None


def near_row(frame: Frame, row: CheckResult) -> Near | None:
    """Return the point nearest to where a row was found; None for a row without a station on a member."""
    if row.station is None or row.subject.thing not in ON_SUBJECT:
        return None
    member = next((each for each in frame.members if each.name == row.subject.name), None)
    return None if member is None else near_station(frame, member, row.station)


def near_station(frame: Frame, member: Member, station: float) -> Near:
    """Return the point of a member nearest to a station, m from its first point; of two as near the first one."""
    places = [frame.points[name] for name in member.points]
    along = [0.0]
    for before, after in pairwise(places):
        along.append(along[-1] + dist(before, after))
    number = min(range(len(along)), key=lambda each: (round(abs(along[each] - station), 6), each))
    away = abs(along[number] - station)
    if away < AT:
        return Near(member.points[number], 0.0, None)
    return Near(member.points[number], away, way_of(places[number], place_at(places, along, station)))


def place_at(places: list[Vector], along: list[float], station: float) -> Vector:
    """Return the place at a station of a line through places."""
    part = next((each for each in range(len(places) - 2) if station <= along[each + 1]), len(places) - 2)
    share = (station - along[part]) / (along[part + 1] - along[part])
    x, y, z = (a + share * (b - a) for a, b in zip(places[part], places[part + 1], strict=True))
    return (x, y, z)


def way_of(point: Vector, place: Vector) -> SideOfPoint:
    """Return the way from a point to a place along the vehicle axis in which they differ most."""
    apart = [b - a for a, b in zip(point, place, strict=True)]
    axis = max(range(3), key=lambda each: (round(abs(apart[each]), 9), -each))
    return WAYS[axis][0 if apart[axis] > 0 else 1]


NEAR_MIDDLE = 0.2
"""A fibre is on a side if its offset that way is more than this share of the largest: an inclined rail has no front side."""


def facings(offset: Vector, at: Vector) -> tuple[Facing, ...]:
    """Return the sides on which a fibre lies. offset: from the middle of the section; at: where the member is; m, vehicle axes."""
    x, y, z = offset
    least = NEAR_MIDDLE * max(abs(each) for each in offset)
    found = []
    if abs(z) > least:
        found.append(Facing.TOP if z > 0 else Facing.BOTTOM)
    if abs(y) > least:
        across = (Facing.LEFT if y > 0 else Facing.RIGHT) if abs(at[1]) < AT else None
        found.append(across or (Facing.OUTBOARD if y * at[1] > 0 else Facing.INBOARD))
    if abs(x) > least:
        found.append(Facing.FRONT if x > 0 else Facing.REAR)
    return tuple(found)


ON_MEMBER = frozenset((Thing.MEMBER, Thing.MEMBER_END, Thing.CUT, Thing.SEAM, Thing.HOLE, Thing.DETAIL))
"""Things whose subject is named after the member that they are on."""


@value_class
class LargestDeflection:
    """The largest movement of any member's line in a load case, m, and where: station in m along the member."""

    amount: float
    member: str
    station: float


@value_class
class LoadCaseRow:
    """A load case: its governing row (None where nothing was judged), largest deflection and balance residual.

    load_case None: what holds in all of them, a life or a rule of layout. deflection None: the frame is not solved for it.
    """

    load_case: str | None
    worst: CheckResult | None
    deflection: LargestDeflection | None
    balance: float


@value_class
class MemberRow:
    """A member: its governing row over all load cases, and its mass, kg."""

    member: str
    section: str
    worst: CheckResult | None
    mass: float


def load_case_rows(outcome: SolvedCase, rows: Iterable[CheckResult]) -> tuple[LoadCaseRow, ...]:
    """Return one row a load case, the governing one first; those of joints and plates alone, and what holds in all, among them."""
    worst = worst_by((row for row in rows if not is_met_layout(row)), lambda row: row.load_case)
    found = [
        LoadCaseRow(
            loads.name,
            worst.get(loads.name),
            largest_deflection(outcome.solutions, number),
            max(float(solution.balance[number]) for solution in outcome.solutions),
        )
        for number, loads in enumerate(outcome.loads)
    ]
    solved = {row.load_case for row in found}
    found += [LoadCaseRow(name, row, None, 0.0) for name, row in worst.items() if name not in solved]
    return tuple(sorted(found, key=lambda row: float("inf") if row.worst is None else margin(row.worst)))


def largest_deflection(solutions: Iterable[FrameSolution], number: int) -> LargestDeflection:
    """Return the largest movement in one load case under the worst bound."""
    found = [_largest(member, number) for solution in solutions for member in solution.members]
    return max(found, key=lambda each: each.amount)


def _largest(member: MemberForces, number: int) -> LargestDeflection:
    amounts = np.linalg.norm(member.displacements[:, number], axis=1)
    station = int(np.argmax(amounts))
    return LargestDeflection(float(amounts[station]), member.member, float(member.stations[station]))


def member_rows(outcome: SolvedCase, rows: Iterable[CheckResult]) -> tuple[MemberRow, ...]:
    """Return one row a member, the governing one first."""
    of_members = (row for row in rows if row.subject.thing in ON_MEMBER)
    worst = worst_by(of_members, lambda row: row.subject.name)
    found = [
        MemberRow(
            member.name,
            section_names(outcome.case.frame, member),
            worst.get(member.name),
            mass_of(forces),
        )
        for member, forces in zip(outcome.case.frame.members, outcome.solutions[0].members, strict=True)
    ]
    return tuple(sorted(found, key=lambda row: float("inf") if row.worst is None else margin(row.worst)))


def section_names(frame: Frame, member: Member) -> str:
    """Return the names of a member's sections, once each; the steps of a taper under one name."""
    names = (frame.sections[each.section].family or each.section for each in member.stretches)
    return ", ".join(dict.fromkeys(names))


def mass_of(forces: MemberForces) -> float:
    """Return a member's own mass from its sections along its stations, kg."""
    per_length = np.array([section.mass_per_length for section in forces.sections[:-1]])
    return float(per_length @ np.diff(forces.stations))


def drawn_row(outcome: SolvedCase, rows: Iterable[CheckResult]) -> CheckResult | None:
    """Return the first of rows, the governing one first, that belongs to a load case of the frame: only these can be drawn."""
    names = {loads.name for loads in outcome.loads}
    return next((row for row in rows if row.load_case in names), None)


def drawn_on_member(outcome: SolvedCase, rows: Iterable[CheckResult]) -> CheckResult | None:
    """Return the first of rows that belongs to a load case of the frame and to one of its members."""
    members = {member.name for member in outcome.case.frame.members}
    return drawn_row(outcome, (row for row in rows if row.subject.thing in ON_MEMBER and row.subject.name in members))


def told_solutions(outcome: SolvedCase, worst: CheckResult | None) -> tuple[FrameSolution, ...]:
    """Return the solutions that are told number by number: those with all ends alike, and the one in which a row was found."""
    governing = governing_bound(outcome, worst)
    return tuple(each for number, each in enumerate(outcome.solutions) if each.bound.apart is None or number == governing)


def governing_bound(outcome: SolvedCase, worst: CheckResult | None) -> int:
    """Return the number of the solution in which a row was found; the first where the row names none."""
    bounds = [solution.bound for solution in outcome.solutions]
    return bounds.index(worst.bound) if worst is not None and worst.bound in bounds else 0
