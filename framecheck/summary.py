"""What a reader wants first: what governs, load case by load case and member by member."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

import numpy as np

from framecheck.checks.joint_rows import margin
from framecheck.checks.result import CheckResult
from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.frame import Frame, Member
from framecheck.stress import Outcome
from framecheck.value_class import value_class

Key = TypeVar("Key", bound=Hashable)

EVERY_CASE = "all"
"""The load case named by rules of layout."""


@value_class
class LargestDeflection:
    """The largest movement of any member's line in a load case, m, and where: station in m along the member."""

    amount: float
    member: str
    station: float


@value_class
class LoadCaseRow:
    """A load case: its governing row (None where nothing was judged), largest deflection and balance residual."""

    load_case: str
    worst: CheckResult | None
    deflection: LargestDeflection
    balance: float


@value_class
class MemberRow:
    """A member: its governing row over all load cases, and its mass, kg."""

    member: str
    section: str
    worst: CheckResult | None
    mass: float


def governing_first(rows: Iterable[CheckResult]) -> tuple[CheckResult, ...]:
    """Return rows by how far they clear their target, least first; ties stay in their order.

    A rule of layout (least leg, edge distance) that is met says nothing of strength: it stands last.
    """
    return tuple(sorted(rows, key=lambda row: (is_layout(row) and margin(row) >= 1.0, margin(row))))


def is_layout(row: CheckResult) -> bool:
    """Return whether a row is a rule of layout: it holds whatever the load case."""
    return row.load_case == EVERY_CASE


def worst_by(rows: Iterable[CheckResult], key: Callable[[CheckResult], Key]) -> dict[Key, CheckResult]:
    """Return the row that governs for each key."""
    found: dict[Key, CheckResult] = {}
    for row in governing_first(rows):
        found.setdefault(key(row), row)
    return found


def load_case_rows(outcome: Outcome, rows: Iterable[CheckResult]) -> tuple[LoadCaseRow, ...]:
    """Return one row a load case, the governing one first."""
    worst = worst_by(rows, lambda row: row.load_case)
    found = [
        LoadCaseRow(
            loads.name,
            worst.get(loads.name),
            largest_deflection(outcome.solutions, number),
            max(float(solution.balance[number]) for solution in outcome.solutions),
        )
        for number, loads in enumerate(outcome.loads)
    ]
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
    worst = worst_by(rows, lambda row: row.where)
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


def governing_bound(outcome: Outcome, worst: CheckResult | None) -> int:
    """Return the number of the solution in which a row was found; the first where the row names none."""
    names = [solution.bound.name for solution in outcome.solutions]
    return names.index(worst.mode) if worst is not None and worst.mode in names else 0
