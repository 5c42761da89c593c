"""The fatigue check: every detail of the case under its duty, worst bound and point."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from framecheck.checks.fatigue import base_metal
from framecheck.checks.fatigue.assess import Spot, Worst, spot_of, worst_point
from framecheck.checks.fatigue.counting import Block, blocks, faults
from framecheck.checks.fatigue.rows import Finding, detail_subject, row
from framecheck.checks.fatigue.weld_throats import weld_line
from framecheck.checks.joint_rows import Line
from framecheck.checks.member_rows import material_at
from framecheck.checks.throats import ThroatStress
from framecheck.model.duty import BaseMetal, Detail, Fatigue
from framecheck.model.frame import Member
from framecheck.model.materials import Material
from framecheck.model.said import joined
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Entry, Open, Question, Thing, left_open
from framecheck.stress import Outcome

NO_THROATS: Mapping[str, ThroatStress] = MappingProxyType({})


def check(outcome: Outcome, throats: Mapping[str, ThroatStress] = NO_THROATS) -> tuple[Line, ...]:
    """Return a row a detail and what could not be checked; throats: stress on the throats of weld groups, by name."""
    asked = outcome.case.fatigue
    if asked is None:
        return ()
    cases = {loads.name: number for number, loads in enumerate(outcome.loads)}
    wrong = tuple(left_open(Thing.FRAME, "duty", Question.FATIGUE, reason) for reason in faults(asked.duty, cases))
    if wrong:
        return wrong
    if not (asked.details or asked.welds):
        return (left_open(Thing.FRAME, "duty", Question.FATIGUE, "a duty is given, but no detail to put it on"),)
    counted = blocks(asked.duty, cases)
    lines = [line for detail in asked.details for line in detail_lines(outcome, asked, detail, counted)]
    return (*lines, *(weld_line(weld, throats.get(weld.weld), counted, asked.duty) for weld in asked.welds))


def detail_lines(outcome: Outcome, asked: Fatigue, detail: Detail, counted: tuple[Block, ...]) -> Iterator[Line]:
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
    found = worst_of_bounds(outcome, asked, (detail, member, material), number, counted)
    if isinstance(found, str):
        yield unjudged(detail, found)
        return
    worst, bound = found
    yield row(finding(outcome, detail, worst, bound), asked.duty)
    yield from beyond_yield(outcome, asked, (detail, member), worst)


def unjudged(detail: Detail, reason: str) -> Open:
    """Return why a detail was not judged."""
    return Open(Entry(detail_subject(detail.name, detail.member), Question.FATIGUE), reason)


def worst_of_bounds(
    outcome: Outcome, asked: Fatigue, of: tuple[Detail, Member, Material], number: int, counted: tuple[Block, ...]
) -> tuple[Worst, int] | str:
    """Return the worst point and the number of its bound, or what is missing, in words."""
    detail, member, material = of
    found: list[tuple[Worst, int]] = []
    for bound, solution in enumerate(outcome.solutions):
        line = solution.members[number]
        spot: Spot | None = spot_of(detail, member, line, material)
        if spot is None:
            return "the notch's corner radius is not given, or sharper than a tenth of its depth: no published factor"
        worst = worst_point(detail, spot, line, counted, (asked.duty.factors, material.ultimate_strength))
        if worst is not None:
            found.append((worst, bound))
    if not found:
        return "no stress is known at its stations"
    return max(found, key=lambda each: (each[0].damage, each[0].range))


def finding(outcome: Outcome, detail: Detail, worst: Worst, bound: int) -> Finding:
    """Return the words that go with a worst point."""
    resistance = detail.resistance
    if isinstance(resistance, BaseMetal):
        name = f"unwelded metal, {resistance.finish.name}, mean stress by {resistance.mean_stress.value}"
        source = f"{base_metal.SOURCE}; {resistance.finish.source}"
    else:
        name, source = f"class {resistance.name} ({resistance.detail})", resistance.source
    raised = f"stress raised {worst.concentration:.2f} times" if worst.concentration != 1.0 else ""
    words = joined(f"{name}, mostly {worst.event}", raised)
    return Finding(detail.name, detail.member, worst.station, worst.damage, words, source, outcome.solutions[bound].bound)


def beyond_yield(outcome: Outcome, asked: Fatigue, of: tuple[Detail, Member], worst: Worst) -> Iterator[CheckResult]:
    """Yield a LOW row where the largest range passes what the S-N lines are valid for. EN 1993-1-9:2005, 8(1): 1.5 fy."""
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
        source="EN 1993-1-9:2005, 8(1): stress ranges up to 1.5 fy",
        station=worst.station,
        part=detail.name,
    )
