"""Load cases that a file could run and does not: kinds that it does not ask for, sides that it leaves out."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.case import Case, LoadCase
from framecheck.results.subjects import Open, Question, Thing, left_open
from framecheck.vehicle.load_cases import NotRun, one_sided, runnable_kinds


def not_asked_for(case: Case) -> Iterator[Open]:
    """Yield the kinds of load case that the file's data allow and that it does not ask for, and the sides it leaves out."""
    asked = {each.kind for each in case.load_cases}
    for kind in runnable_kinds(case):
        if kind not in asked:
            reason = "the file's data allow it, and it is not asked for"
            yield left_open(Thing.LOAD_KIND, kind, Question.LOAD_CASE, reason)
    yield from (left_out(each) for each in one_sided(case))


def left_out(load_case: LoadCase) -> Open:
    """Return that a load case is run on one side only."""
    side = "" if load_case.side is None else f" ({load_case.side.value})"
    return left_open(Thing.LOAD_CASE, load_case.name, Question.ONE_SIDE, f"the file says its side{side}, so the other one is not run")


def not_worked_out(found: NotRun) -> Open:
    """Return that a load case which runs by default could not be made from the file's data."""
    reason = f"it could not be worked out: {found.reason}"
    remedy = "mend what it says, or write 'load cases' without it"
    return left_open(Thing.LOAD_CASE, found.load_case.name, Question.LOAD_CASE, reason, remedy=remedy)
