"""The check of members in rare load cases: one row a member and case, the plastic section with first yield told beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import floor

import numpy as np

from framecheck.checks.heat import all_strengths, beside
from framecheck.checks.joint_rows import Line
from framecheck.checks.member_rows import blank, by_section, distinct_sections, first_within, within
from framecheck.checks.permanent_set.plastic import largest_factor, plastic_strengths
from framecheck.checks.wall_rules import metal_of, reason_against, round_class, shape_at, state_of
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Member
from framecheck.results.row import CAP, Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class

SOURCE = (
    "EN 1993-1-1:2005, 6.2.8 to 6.2.10 (plastic section, classes 1 and 2), without partial factors; "
    "never less than first yield (static theorem)"
)


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every member in the rare load cases, and what could not be checked."""
    rare = rare_cases(outcome)
    if not rare:
        return ()
    found = overloaded(outcome, rare)
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        lines += member_rows(outcome, number, member, rare, found)
        lines += unchecked(outcome, member, outcome.solutions[0].members[number])
    return tuple(lines)


def rare_cases(outcome: SolvedCase) -> tuple[int, ...]:
    """Return the rare load cases by number: those named so; where none is, those with a target of their own."""
    named = outcome.case.strength.rare or tuple(outcome.case.targets.per_load_case)
    return tuple(number for number, loads in enumerate(outcome.loads) if loads.name in named)


@array_class
class Overloaded:
    """Factors of every member by its place in the frame, (n_bound, n_station, n_rare): plastic, first yield, class of the section."""

    plastic: Mapping[int, Array]
    first: Mapping[int, Array]
    ranks: Mapping[int, Array]


def overloaded(outcome: SolvedCase, rare: tuple[int, ...]) -> Overloaded:
    """Return what every member bears in the rare cases, section by section."""
    count = list(rare)
    empty = [{number: each[:, :, count] for number, each in blank(outcome, value).items()} for value in (CAP, CAP, 0.0)]
    found, strengths = Overloaded(*empty), all_strengths(outcome)
    for each in by_section(outcome, rare):
        number, at, _ = each.places[0]
        station = first_within(outcome.solutions[0].members[number], at)
        member, frame = outcome.case.frame.members[number], outcome.case.frame
        if each.section.fields is None or reason_against(frame, member, each.section, station):
            continue
        metal = metal_of(frame, member, each.section, station)
        least = round_class(shape_at(frame, member, station), each.section.yield_strength, metal)
        stress = np.concatenate([nominal(outcome, number, at, rare) for number, at, _ in each.places], axis=1)
        near = beside(each, strengths)
        left = near.kept
        ranks = state_of(each.section, each.forces, metal, near).classes.max(axis=-1, initial=least)
        plastic, first = factors(each.section, each.section.fields, each.forces / left[..., None], stress / left, ranks)
        each.spread(plastic, found.plastic)
        each.spread(first, found.first)
        each.spread(ranks, found.ranks)
    return found


def nominal(outcome: SolvedCase, number: int, at: BoolArray, rare: tuple[int, ...]) -> Array:
    """Return the largest equivalent stress of a member's stations, (n_bound, n_station, n_rare), Pa: where metals differ, what uses as
    much of the least yield strength as the worst point uses of its own.
    """
    lines = [bound[number] for bound in outcome.stresses]
    least = np.array([section.yield_strength for section in lines[0].forces.sections])[:, None]
    return np.stack([(line.nominal * (least / line.strength))[at][:, list(rare)] for line in lines])


def member_rows(
    outcome: SolvedCase, number: int, member: Member, rare: tuple[int, ...], found: Overloaded
) -> Iterator[CheckResult]:
    """Yield the rows of one member, a rare case each, at the station that uses most of the plastic section."""
    plastic, line = found.plastic[number], outcome.solutions[0].members[number]
    for place, case in enumerate(rare):
        bound, station = (int(each) for each in np.unravel_index(int(np.argmin(plastic[:, :, place])), plastic.shape[:2]))
        factor, first, rank = (float(each[number][bound, station, place]) for each in (found.plastic, found.first, found.ranks))
        if factor >= CAP and first >= CAP and reason_of(outcome, member, line, station):
            continue
        yield row(outcome, member, case, (float(line.stations[station]), factor, bound), worded(factor, first, int(rank)))


def factors(
    section: SectionProperties, fields: UnitFields, forces: Array, stress: Array, ranks: Array
) -> tuple[Array, Array]:
    """Return (plastic, first yield) factors on forces (..., 9), each (...,). Classes 3 and 4 stop at first yield.

    stress: the largest equivalent stress under the forces, (...,), Pa; ranks: the class, (...,).
    """
    first = np.where(stress > 0, section.yield_strength / np.maximum(stress, 1e-9), CAP)
    first = np.minimum(first, CAP)
    plastic = largest_factor(plastic_strengths(section, fields), forces, first)
    return np.where(ranks <= 2, np.minimum(plastic, CAP), first), first


def worded(plastic: float, first: float, rank: int) -> str:
    """Return what becomes of the member, in words; factors rounded down to two decimals."""
    beside = f"first yield at {floor(100 * first) / 100:.2f} of the load"
    if rank > 2:
        return f"{beside}; walls of class {rank} buckle before they yield through, no plastic reserve counted"
    fate = "springs back" if first >= 1 else "sets but holds" if plastic >= 1 else "folds"
    return f"{fate}; {beside}"


def row(outcome: SolvedCase, member: Member, case: int, found: tuple[float, float, int], words: str) -> CheckResult:
    """Return the row of a (station, factor, number of the bound)."""
    station, factor, bound = found
    name = outcome.loads[case].name
    return CheckResult(
        check=Check.PERMANENT_SET,
        mode=Mode.PLASTIC_SECTION,
        subject=Subject(Thing.MEMBER, member.name),
        load_case=name,
        demand=1 / factor,
        capacity=1.0,
        unit="1",
        target=outcome.case.targets.of(name),
        source=SOURCE,
        station=station,
        bound=outcome.solutions[bound].bound,
        note=words,
    )


def reason_of(outcome: SolvedCase, member: Member, line: MemberForces, station: int) -> str:
    """Return why a station (by number) of a member can't be judged, "" where it can."""
    return reason_against(outcome.case.frame, member, line.sections[station], within(line, station))


def unchecked(outcome: SolvedCase, member: Member, line: MemberForces) -> Iterator[Open]:
    """Yield the sections that can't be judged."""
    for section, at in distinct_sections(line):
        reason = reason_against(outcome.case.frame, member, section, first_within(line, at))
        if reason:
            yield left_open(Thing.MEMBER, member.name, Question.PERMANENT_SET, reason)
