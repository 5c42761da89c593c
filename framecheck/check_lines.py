"""Every check in the order of the report: what each needs, and its lines for a solved case."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from importlib import import_module

import numpy as np

from framecheck.checks.joint_forces import by_bound
from framecheck.checks.joint_rows import Line, lines_of_blocks, worst_lines
from framecheck.checks.seams import seam_stresses
from framecheck.checks.welds.fillet import throat_stresses
from framecheck.frame.kinks import kinks_of
from framecheck.frame.member_mixtures import MemberMixtures
from framecheck.frame.results import Bound, Buckling
from framecheck.frame.star_mitres import star_mitres
from framecheck.model.arrays import frozen
from framecheck.model.case import Case
from framecheck.model.shape_parts import built_up_in
from framecheck.results.row import CheckResult
from framecheck.section.shape_geometry import Lips, lips_of
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class


@value_class
class CheckRow:
    """A check: the function that yields its lines, and whether a case needs it. A check that a case does not need is not loaded.

    along: it looks along members, load case by load case, so that it needs the places where each one's moments are extreme.
    """

    lines: Callable[[SolvedCase], Iterable[Line]]
    needed: Callable[[Case], bool]
    along: bool = False


def late(module: str) -> Callable[[SolvedCase], Iterable[Line]]:
    """Return the `check` of a module in checks/, loaded when it is first called."""

    def lines(outcome: SolvedCase) -> Iterable[Line]:
        found: Iterable[Line] = import_module(f"framecheck.checks.{module}").check(outcome)
        return found

    return lines


def throughout(module: str) -> Callable[[SolvedCase], Iterable[Line]]:
    """Return the `check` of a module that asks for every bound at the same stations."""
    lines = late(module)

    def named(outcome: SolvedCase) -> Iterator[Line]:
        if not outcome.mixed:
            yield from lines(outcome.throughout())
            return
        of = {solution.bound: each for each in outcome.mixed for solution in each.solutions}
        for line in lines(with_mixtures(outcome)):
            own = of.get(line.bound) if isinstance(line, CheckResult) and line.bound is not None else None
            yield line if own is None else in_mixture(line, own)

    return named


def in_mixture(row: Line, own: MemberMixtures) -> Line:
    """Return the row of a member with the mixture that was worst for the length that it speaks of."""
    assert isinstance(row, CheckResult)
    assert row.bound is not None
    if row.station is None or row.load_case is None:
        return row
    return replace(row, bound=own.bound(row.bound, (row.subject.name, row.station), row.load_case))


def with_mixtures(outcome: SolvedCase) -> SolvedCase:
    """Return an outcome with every bound told at the same stations: those with all ends alike, and what members carry in their worst
    mixtures in place of those with ends that are unlike.

    How the frame buckles is taken from the bound of the same kind under which it does so first.
    """
    whole = outcome.throughout()
    alike = [number for number, each in enumerate(whole.solutions) if each.bound.apart is None]
    solutions, stresses = [whole.solutions[number] for number in alike], [whole.stresses[number] for number in alike]
    buckling = [whole.buckling[number] for number in alike]
    for each, stress in zip(outcome.mixed, outcome.mixed_stresses, strict=True):
        solutions += each.solutions
        stresses += stress
        buckling += [first_buckling(outcome, each.base)] * len(each.solutions)
    return replace(whole, solutions=tuple(solutions), stresses=tuple(stresses), buckling=tuple(buckling))


def first_buckling(outcome: SolvedCase, base: Bound) -> Buckling:
    """Return the least factors of all bounds that differ from one in how stiff joints are alone."""
    of = [
        buckling
        for solution, buckling in zip(outcome.solutions, outcome.buckling, strict=True)
        if replace(solution.bound, joints=base.joints, apart=None) == base
    ]
    factors = np.min([each.factors for each in of], axis=0)
    settled, counted = np.all([each.settled for each in of], axis=0), np.max([each.counted for each in of], axis=0)
    return Buckling(frozen(factors), settled, frozen(counted))


def fatigue_lines(outcome: SolvedCase) -> Iterable[Line]:
    """Return the lines of the fatigue check, with what the checks of welds and bolts know of throats and bolts."""
    from framecheck.checks.bolts.check import bolt_loads
    from framecheck.checks.fatigue.check import check

    asked = outcome.case.fatigue
    if asked is None:
        return ()
    welds, bolts = {each.weld for each in asked.welds}, {each.joint for each in asked.bolts}
    return check(outcome, throat_stresses(outcome, welds), bolt_loads(outcome, bolts), seam_stresses(outcome.throughout()))


def always(_: Case) -> bool:
    """Return that every case needs it."""
    return True


def has_joints(case: Case) -> bool:
    """Return whether the case describes joints."""
    return bool(case.joints)


def has_seams(case: Case) -> bool:
    """Return whether any section is built up of parts."""
    return any(next(built_up_in(section.shape), None) is not None for section in case.frame.sections.values())


def has_lips(case: Case) -> bool:
    """Return whether any section has lips or brims."""
    return any(lips_of(section.shape) is not Lips.NONE for section in case.frame.sections.values())


def has_kinks(case: Case) -> bool:
    """Return whether any run of members turns, or ends that meet may be mitred."""
    return bool(kinks_of(case.frame)) or bool(star_mitres(case.frame))


def has_cuts(case: Case) -> bool:
    """Return whether any member is cut."""
    return any(member.cuts for member in case.frame.members)


def has_ends(case: Case) -> bool:
    """Return whether members meet."""
    return len(case.frame.members) > 1


def has_straps(case: Case) -> bool:
    """Return whether straps are described."""
    return case.vehicle is not None and bool(case.vehicle.straps)


CHECKS = (
    CheckRow(throughout("yielding"), always, along=True),
    CheckRow(throughout("local_buckling"), always, along=True),
    CheckRow(throughout("distortional_buckling"), has_lips, along=True),
    CheckRow(throughout("lateral_buckling"), always, along=True),
    CheckRow(late("frame_stability"), always),
    CheckRow(late("kinks"), has_kinks),
    CheckRow(throughout("notch"), has_cuts, along=True),
    CheckRow(throughout("seams"), has_seams, along=True),
    CheckRow(fatigue_lines, lambda case: case.fatigue is not None),
    CheckRow(throughout("permanent_set"), always, along=True),
    CheckRow(by_bound(late("bolts.check")), has_joints),
    CheckRow(throughout("holes"), has_joints, along=True),
    CheckRow(by_bound(late("welds.check")), has_joints),
    CheckRow(late("fish_plates"), lambda case: any(splice.plates for splice in case.frame.splices)),
    CheckRow(by_bound(late("sharing_in_case")), has_joints),
    CheckRow(by_bound(late("wall_crushing.check")), has_joints),
    CheckRow(late("face_of_tube"), has_ends),
    CheckRow(late("welds.ends"), has_ends),
    CheckRow(late("plate.in_case"), lambda case: bool(case.plates)),
    CheckRow(late("panels.in_case"), lambda case: bool(case.frame.panels)),
    CheckRow(late("straps"), has_straps),
)
"""Every check, in the order of the report. To add one: a module in checks/ and a row here."""


def check_lines(outcome: SolvedCase, only_along: bool = False) -> tuple[Line, ...]:
    """Return the lines of every check that the case needs; where seams are in doubt, the worse of them holding and loose.

    only_along: of those alone that look along members. Bounds with ends that are unlike are told at few stations: of checks along
    members the worse of all bounds there, and of those with ends alike wherever a moment is extreme.
    """
    whole = worst_lines([tuple(lines_of_checks(each, only_along)) for each in outcome.by_seams()])
    return tuple(lines_of_blocks(whole, [check_lines(outcome.alike(), only_along=True)])) if outcome.brief else whole


def lines_of_checks(outcome: SolvedCase, only_along: bool = False) -> Iterator[Line]:
    """Yield the lines of every check that the case needs."""
    for row in CHECKS:
        if row.needed(outcome.case) and (row.along or not only_along):
            yield from row.lines(outcome)
