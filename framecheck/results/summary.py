"""What a reader wants first: what governs, load case by load case and member by member."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.frame import Frame, Member
from framecheck.results.row import CheckResult, is_met_layout, margin, worst_by
from framecheck.results.subjects import Thing
from framecheck.stress import Outcome
from framecheck.value_class import value_class

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


def load_case_rows(outcome: Outcome, rows: Iterable[CheckResult]) -> tuple[LoadCaseRow, ...]:
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


def member_rows(outcome: Outcome, rows: Iterable[CheckResult]) -> tuple[MemberRow, ...]:
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


def drawn_row(outcome: Outcome, rows: Iterable[CheckResult]) -> CheckResult | None:
    """Return the first of rows, the governing one first, that belongs to a load case of the frame: only these can be drawn."""
    names = {loads.name for loads in outcome.loads}
    return next((row for row in rows if row.load_case in names), None)


def drawn_on_member(outcome: Outcome, rows: Iterable[CheckResult]) -> CheckResult | None:
    """Return the first of rows that belongs to a load case of the frame and to one of its members."""
    members = {member.name for member in outcome.case.frame.members}
    return drawn_row(outcome, (row for row in rows if row.subject.thing in ON_MEMBER and row.subject.name in members))


def governing_bound(outcome: Outcome, worst: CheckResult | None) -> int:
    """Return the number of the solution in which a row was found; the first where the row names none."""
    bounds = [solution.bound for solution in outcome.solutions]
    return bounds.index(worst.bound) if worst is not None and worst.bound in bounds else 0
