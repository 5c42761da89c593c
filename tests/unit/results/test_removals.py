"""Telling less, or checking less, never makes a case come out better: each thing of every file in cases/ is left out in turn."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass, replace
from itertools import islice
from typing import Any

import pytest

from framecheck import check_lines
from framecheck.checks.joint_rows import Line
from framecheck.model.case import Case
from framecheck.model.frame import Frame
from framecheck.model.joining import ContinuousWeld
from framecheck.results.ledger import ledger_of
from framecheck.results.row import Check, CheckResult, Grade
from framecheck.results.row_order import governing_first
from framecheck.results.subjects import Entry
from framecheck.results.verdict import Verdict, verdict_of
from tests.unit.results.cases import BETTER, NAMES, case_of, results_of, solved_again

Removal = tuple[str, Case]


def without(items: tuple[Any, ...], number: int) -> tuple[Any, ...]:
    return (*items[:number], *items[number + 1 :])


def fewer(case: Case, field: str) -> Iterator[Removal]:
    """Yield a case without each of what one of its fields holds; the thing's name."""
    for number, each in enumerate(getattr(case, field)):
        yield each.name, replace(case, **{field: without(getattr(case, field), number)})


def fewer_of_vehicle(case: Case, field: str) -> Iterator[Removal]:
    for number, each in enumerate(getattr(case.vehicle, field, ())):
        vehicle = replace(case.vehicle, **{field: without(getattr(case.vehicle, field), number)})  # type: ignore[type-var]
        yield each.name, replace(case, vehicle=vehicle)


def fewer_of_fatigue(case: Case, field: str) -> Iterator[Removal]:
    for number, each in enumerate(getattr(case.fatigue, field, ())):
        fatigue = replace(case.fatigue, **{field: without(getattr(case.fatigue, field), number)})  # type: ignore[type-var]
        yield each.name, replace(case, fatigue=fatigue)


def in_frame(case: Case, frame: Frame) -> Case:
    return replace(case, frame=frame)


def without_cuts(case: Case) -> Iterator[Removal]:
    for place, member in enumerate(case.frame.members):
        for number, cut in enumerate(member.cuts):
            fewer_cuts = replace(member, cuts=without(member.cuts, number))
            members = (*case.frame.members[:place], fewer_cuts, *case.frame.members[place + 1 :])
            yield cut.name, in_frame(case, replace(case.frame, members=members))


def unsaid_seams(shape: Any) -> Any:
    """Return a shape that says of no seam how it is made: the file's default."""
    if not is_dataclass(shape) or isinstance(shape, type):
        return shape
    changes = {
        each.name: ContinuousWeld() if each.name == "joined" else unsaid_seams(getattr(shape, each.name))
        for each in fields(shape)
    }
    return replace(shape, **changes)


def without_seams(case: Case) -> Iterator[Removal]:
    for name, section in case.frame.sections.items():
        changed = replace(section, shape=unsaid_seams(section.shape))
        if changed != section:
            yield name, in_frame(case, replace(case.frame, sections={**case.frame.sections, name: changed}))


# What may be left out without the frame moving otherwise: checks see it, the solution does not.
SAME_FRAME: dict[str, Callable[[Case], Iterable[Removal]]] = {
    "joint": lambda case: fewer(case, "joints"),
    "clearance": lambda case: fewer_of_vehicle(case, "clearances"),
    "detail": lambda case: fewer_of_fatigue(case, "details"),
    "weld detail": lambda case: fewer_of_fatigue(case, "welds"),
}
SOLVED_AGAIN: dict[str, Callable[[Case], Iterable[Removal]]] = {
    "vehicle's load case": lambda case: islice(fewer(case, "load_cases"), 0, None, 3),  # each is a whole run
    "written load case": lambda case: fewer(case, "written_loads"),
    "sum": lambda case: fewer(case, "sums"),
    "plate": lambda case: fewer(case, "plates"),
    "cut": without_cuts,
    "seam": without_seams,
}


def asked_of(entries: Iterable[Entry]) -> set[object]:
    """Return what is open, by thing and question."""
    return {(each.subject.thing, each.subject.name, each.question) for each in entries}


def speaks_of(row: CheckResult, name: str) -> bool:
    """Return whether a row is about what was left out: a thing, or the load case that governed it."""
    return name in (row.subject.name, row.subject.part, row.load_case) or name in row.subject.name.split(" with ")


def never_better(before: Verdict, after: Verdict, name: str) -> None:
    """Fail where a miss is gone that is neither of what was left out nor open now, or where the state gained more than that."""
    still, open_now = {(row.check, row.subject) for row in after.missed}, asked_of(each.entry for each in after.ledger.open)
    gone = [row for row in before.missed if (row.check, row.subject) not in still]
    unsaid = [
        row
        for row in gone
        if not speaks_of(row, name) and (row.subject.thing, row.subject.name, row.check.question) not in open_now
    ]
    assert not unsaid, (name, unsaid)
    if not gone and before.missed:
        assert BETTER.index(after.state) <= BETTER.index(before.state), name
    if before.ledger.open and not after.ledger.open:
        pytest.fail(f"nothing is open any more without {name}")


@pytest.mark.parametrize("what", SAME_FRAME)
@pytest.mark.parametrize("name", NAMES)
def test_what_is_left_out_of_a_file_makes_nothing_better(name: str, what: str) -> None:
    before = results_of(name)
    for removed, case in SAME_FRAME[what](case_of(name)):
        lines = tuple(check_lines.check_lines(replace(before.outcome, case=case)))
        never_better(before.verdict, judged(case, lines), removed)


@pytest.mark.parametrize("what", SOLVED_AGAIN)
@pytest.mark.parametrize("name", NAMES)
def test_what_is_left_out_of_the_model_makes_nothing_better(name: str, what: str) -> None:
    before = results_of(name)
    for removed, case in SOLVED_AGAIN[what](case_of(name)):
        if case.load_cases or case.written_loads or case.plates:
            never_better(before.verdict, solved_again(case).verdict, removed)


def judged(case: Case, lines: tuple[Line, ...]) -> Verdict:
    """Return the verdict on lines, as `framecheck.run` makes it."""
    rows = governing_first(line for line in lines if isinstance(line, CheckResult))
    return verdict_of(rows, ledger_of(case, lines))


@pytest.mark.parametrize("name", NAMES)
def test_a_check_that_does_not_run_leaves_open_what_it_would_have_judged(name: str) -> None:
    """Every pair of a thing and a check that is no longer judged is open, whichever check is taken out.

    Bolts with welds apart: bolts and welds are judged each by itself, with the whole load; together they carry no less.
    """
    before = results_of(name)
    by_check = [tuple(row.lines(before.outcome)) if row.needed(before.outcome.case) else () for row in check_lines.CHECKS]
    for number, own in enumerate(by_check):
        lines = tuple(line for other, each in enumerate(by_check) if other != number for line in each)
        after = judged(before.outcome.case, lines)
        left = {each.entry for each in after.ledger.open}
        alone = (line for line in own if isinstance(line, CheckResult) and line.check is not Check.BOLTS_WITH_WELDS)
        silent = {line.entry for line in alone} - left
        assert not silent, (number, silent)
        if not any(isinstance(line, CheckResult) and line.grade is Grade.LOW for line in own):
            assert BETTER.index(after.state) <= BETTER.index(before.verdict.state)


def test_a_check_taken_out_of_the_table_is_missed_by_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    before = results_of("tie-down")
    first = check_lines.CHECKS[0]
    monkeypatch.setattr(check_lines, "CHECKS", check_lines.CHECKS[1:])
    after = solved_again(case_of("tie-down")).verdict
    taken = {line.entry for line in first.lines(before.outcome) if isinstance(line, CheckResult)}
    assert taken
    assert taken <= {each.entry for each in after.ledger.open}
