"""The fatigue check: every detail of the case under its duty, worst bound and point."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from types import MappingProxyType

from framecheck.checks.bolt_strength import BoltLoads
from framecheck.checks.fatigue import sn
from framecheck.checks.fatigue.assess import DetailPlace, WorstOfDetail, reads_normal, spot_of, worst_point
from framecheck.checks.fatigue.at_holes import hole_detail, not_read, pieces_of
from framecheck.checks.fatigue.bolts import bolt_lines
from framecheck.checks.fatigue.joints import (
    Finding,
    SeamStresses,
    detail_subject,
    face_lines,
    row,
    seam_lines,
    weld_line,
)
from framecheck.checks.fatigue.swings import Spectra, blocks, faults, spectra_of
from framecheck.checks.joint_forces import ThroatStress
from framecheck.checks.joint_rows import Line
from framecheck.checks.kinks import LegAtKink, along_member, legs_at_kinks
from framecheck.checks.member_rows import material_at
from framecheck.model.duty import BaseMetal, Detail, Fatigue
from framecheck.model.frame import Member
from framecheck.model.joints import InSplice, PinnedSleeve
from framecheck.model.said import joined
from framecheck.model.shop_tables import Material
from framecheck.model.weld_joints import SpotGroup, Stitch
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Claim, Entry, Open, Question, Thing, drilled, holes_asked, left_open
from framecheck.stress import SolvedCase

BOTH_SOURCE = "EN 1993-1-9:2005, 8(3), from memory: the damage of normal and of shear stress adds up"
UNREAD = 1e-6
"""A stress under this share of the largest one is the solution's rounding."""
NO_THROATS: Mapping[str, ThroatStress] = MappingProxyType({})
NO_BOLTS: Mapping[str, BoltLoads] = MappingProxyType({})
NO_SEAMS: SeamStresses = MappingProxyType({})


def check(
    outcome: SolvedCase,
    throats: Mapping[str, ThroatStress] = NO_THROATS,
    bolts: Mapping[str, BoltLoads] = NO_BOLTS,
    seams: SeamStresses = NO_SEAMS,
) -> tuple[Line, ...]:
    """Return a row a detail and what could not be checked.

    throats: stress on the throats of weld groups, bolts: forces on the bolts of bolt groups, both by name; seams: stress on the
    throats of built-up sections' seams, by member and section.
    """
    asked = outcome.case.fatigue
    if asked is None:
        return ()
    cases = {loads.name: number for number, loads in enumerate(outcome.loads)}
    wrong = tuple(left_open(Thing.FRAME, "duty", Question.FATIGUE, reason) for reason in faults(asked.duty, cases))
    if wrong:
        return wrong
    counted = blocks(asked.duty, cases)
    legs = [tuple(legs_at_kinks(outcome, bound)) for bound in range(len(outcome.solutions))]
    worn = spectra_of(counted), cache(lambda bound, number: along_member(outcome.case.frame, legs[bound], number))
    return (
        *(one_sided(name) for name in asked.duty.one_sided),
        *nothing_on_members(asked),
        *(line for detail in asked.details for line in detail_lines(outcome, asked, detail, worn)),
        *hole_lines(outcome, asked, worn),
        *(weld_line(weld, throats.get(weld.weld), counted, asked.duty) for weld in asked.welds),
        *(line for each in asked.bolts for line in bolt_lines(each, bolts.get(each.joint), counted, asked.duty)),
        *(line for each in asked.seams for line in seam_lines(each, outcome, seams, counted, asked.duty)),
        *face_lines(outcome, asked, counted),
        *(without_rule(joint) for joint in outcome.case.joints if isinstance(joint, WITHOUT_RULE)),
    )


def nothing_on_members(asked: Fatigue) -> Iterator[Open]:
    """Yield that a duty is put on no member."""
    if not asked.details:
        yield left_open(Thing.FRAME, "duty", Question.FATIGUE, "a duty is given, but no detail of a member to put it on")


def one_sided(event: str) -> Open:
    """Return that an event of the duty swings one side of the truck alone."""
    reason = f"event '{event}' happens on one side of the truck, and the load case of its other side is not run"
    remedy = "run the load case on both sides, or accept it with a reason"
    return left_open(Thing.FRAME, "duty", Question.FATIGUE, reason, event, remedy)


WITHOUT_RULE = (PinnedSleeve, Stitch, SpotGroup)


def without_rule(joint: PinnedSleeve | Stitch | SpotGroup) -> Open:
    """Return that no class is built in for a kind of joint."""
    return left_open(Thing.JOINT, joint.name, Question.FATIGUE, "no class for such a joint is built in", remedy=INSPECT)


INSPECT = "have it inspected at intervals and accept it, or ask an engineer"


Worn = tuple[Spectra, Callable[[int, int], Sequence[LegAtKink]]]
"""What wears: the load spectra of the duty, and what kinks add to the stress beside them, by bound and member."""


def hole_lines(outcome: SolvedCase, asked: Fatigue, by: Worn) -> Iterator[Line]:
    """Yield the rows of the holes of bolts through members, where the file has no detail of its own there; splices bring theirs."""
    for group, member in drilled(outcome.case):
        if asked.holes is None or isinstance(group.place, InSplice):
            continue
        line = outcome.solutions[0].members[outcome.case.frame.members.index(member)]
        found = hole_detail(outcome.case, group, (member, line), asked.holes)
        entry = holes_asked(group, member)
        if isinstance(found, Detail):
            yield from (asked_of(entry, each) for each in detail_lines(outcome, asked, found, by))
        else:
            yield Open(entry, found, INSPECT) if found else Claim(entry)


def asked_of(entry: Entry, line: Line) -> Line:
    """Return a line of a detail as one that answers another entry."""
    if isinstance(line, CheckResult):
        return replace(line, subject=entry.subject)
    return replace(line, entry=entry) if isinstance(line, Open) else line


def detail_lines(outcome: SolvedCase, asked: Fatigue, detail: Detail, by: Worn) -> Iterator[Line]:
    """Yield the row of one detail, or why there is none."""
    members = {member.name: (number, member) for number, member in enumerate(outcome.case.frame.members)}
    if detail.member not in members:
        yield unjudged(detail, f"there is no member '{detail.member}'")
        return
    number, member = members[detail.member]
    cuts = {each.name: each for each in member.cuts}
    if detail.cut is not None and detail.cut not in cuts:
        yield unjudged(detail, f"member '{member.name}' has no notch '{detail.cut}'")
        return
    material = material_at(outcome.case.frame, member, detail.start if detail.cut is None else cuts[detail.cut].at)
    found = worst_of_bounds(outcome, asked, (detail, member, material), number, by)
    if isinstance(found, str):
        yield unjudged(detail, found)
        return
    worst, bound = found
    yield row(finding(outcome, detail, worst, bound), asked.duty)
    if worst.unread > UNREAD * worst.range:
        other = "shear" if reads_normal(detail) else "normal"
        yield unjudged(detail, f"its class has none beside it for the {other} stress that swings there")
    if reason := not_read(outcome.case, detail, (member, outcome.solutions[0].members[number])):
        yield unjudged(detail, reason, DRILL)
    yield from beyond_yield(outcome, asked, (detail, member), worst)


def unjudged(detail: Detail, reason: str, remedy: str = "") -> Open:
    """Return why a detail was not judged."""
    return Open(Entry(detail_subject(detail.name, detail.member), Question.FATIGUE), reason, remedy)


DRILL = "draw the section `drilled` there, write the bolts as a joint, or `concentration`: the section over what holes leave of it"


def worst_of_bounds(
    outcome: SolvedCase, asked: Fatigue, of: tuple[Detail, Member, Material], number: int, by: Worn
) -> tuple[WorstOfDetail, int] | str:
    """Return the worst point and the number of its bound, or what is missing, in words."""
    detail, member, material = of
    spectra, at_kinks = by
    found: list[tuple[WorstOfDetail, int]] = []
    for bound, solution in enumerate(outcome.solutions):
        line = solution.members[number]
        spot: DetailPlace | None = spot_of(detail, member, line, material)
        if spot is None:
            return "the notch's corner radius is not given, or sharper than a tenth of its depth: no published factor"
        kinks = at_kinks(bound, number)
        metal = asked.duty.factors, material.ultimate_strength
        worst = worst_point(detail, spot, (pieces_of(outcome.case, detail, spot, (member, line)), kinks), spectra, metal)
        if worst is not None:
            found.append((worst, bound))
    if not found:
        return "no stress is known at its stations"
    return max(found, key=lambda each: (each[0].damage, each[0].range))


def finding(outcome: SolvedCase, detail: Detail, worst: WorstOfDetail, bound: int) -> Finding:
    """Return the words that go with a worst point."""
    resistance = detail.resistance
    if isinstance(resistance, BaseMetal):
        name = f"unwelded metal, {resistance.finish.name}, mean stress by {resistance.mean_stress.value}"
        source = f"{sn.SOURCE}; {resistance.finish.source}"
    else:
        beside = detail.beside
        name = f"class {resistance.name} ({resistance.detail})" + ("" if beside is None else f" with {beside.name}")
        source = joined(resistance.source, "" if beside is None else f"{beside.source}; {BOTH_SOURCE}")
    raised = f"{worst.concentration:.2f}"
    words = joined(f"{name}, mostly {worst.event}", "" if raised == "1.00" else f"stress raised {raised} times")
    return Finding(detail.name, detail.member, worst.station, worst.damage, words, source, outcome.solutions[bound].bound)


def beyond_yield(outcome: SolvedCase, asked: Fatigue, of: tuple[Detail, Member], worst: WorstOfDetail) -> Iterator[CheckResult]:
    """Yield a LOW row where the largest range passes what the S-N lines are valid for.

    EN 1993-1-9:2005, 8(1): 1.5 fy of normal stress, 1.5 fy / sqrt(3) of shear.
    """
    detail, member = of
    most = 1.5 * material_at(outcome.case.frame, member, worst.station).yield_strength
    largest = asked.duty.factors.load * worst.range
    if largest <= most:
        return
    yield CheckResult(
        check=Check.FATIGUE,
        mode=Mode.RANGE_TOO_LARGE,
        subject=detail_subject(detail.name, member.name),
        load_case=None,
        demand=largest,
        capacity=most,
        unit="Pa",
        target=1.0,
        source="EN 1993-1-9:2005, 8(1): stress ranges up to 1.5 fy, in shear 1.5 fy / sqrt(3)",
        station=worst.station,
        part=detail.name,
    )
