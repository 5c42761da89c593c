"""Load cases that could not be run, and sides that a file leaves out; the kinds it does not ask for stand in the ledger itself."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.case import Case, LoadCase
from framecheck.results.subjects import Open, Question, Thing, left_open
from framecheck.vehicle.load_cases import NotRun, one_sided

GEAR_LACKS = ("curb strike sideways", "curb strike head-on", "pothole under braking", "jacked at a point")


def sides_left_out(case: Case) -> Iterator[Open]:
    """Yield the load cases of which the file leaves out a side."""
    yield from (left_out(each) for each in one_sided(case))


def not_built(case: Case) -> Iterator[Open]:
    """Yield the hard kinds of load that a running gear does not make by itself."""
    for kind in () if case.gear is None else GEAR_LACKS:
        reason, remedy = "a running gear does not make it by itself", "write it force by force"
        yield left_open(Thing.LOAD_KIND, kind, Question.LOAD_CASE, reason, remedy=remedy)


def left_out(load_case: LoadCase) -> Open:
    """Return that a load case is run on one side only."""
    side = "" if load_case.side is None else f" ({load_case.side.value})"
    return left_open(Thing.LOAD_CASE, load_case.name, Question.ONE_SIDE, f"the file says its side{side}, so the other one is not run")


def not_worked_out(found: NotRun) -> Open:
    """Return that a load case which runs by default could not be made from the file's data."""
    reason = f"it could not be worked out: {found.reason}"
    remedy = "mend what it says, or write 'load cases' without it"
    return left_open(Thing.LOAD_CASE, found.load_case.name, Question.LOAD_CASE, reason, remedy=remedy)
