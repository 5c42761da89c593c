"""Tie-down straps: what each carries against its working load limit, in every direction that the cargo pushes."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.checks.joint_rows import Line
from framecheck.model.case import Case
from framecheck.model.vehicle import Strap
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase

SOURCE = "49 CFR 393.102(a)(2): not beyond the working load limit; the accelerations are those of (a)(1) unless the file says others"
TARGET = 1.0
DIRECTIONS = ("forward", "rearward", "left", "right")
"""Where cargo pushes, each by itself: 49 CFR 393.102(a)."""


def check(outcome: SolvedCase) -> Iterator[Line]:
    """Yield a row for each strap and load case that ties the vehicle down, and what keeps a strap from being judged."""
    vehicle = outcome.case.vehicle
    for strap in () if vehicle is None else vehicle.straps:
        yield from strap_lines(outcome, strap)


def strap_lines(outcome: SolvedCase, strap: Strap) -> Iterator[Line]:
    """Yield the rows of one strap, or why there are none."""
    limit = strap.working_load_limit
    if limit is None:
        yield left_open(Thing.STRAP, strap.name, Question.STRAP, "its working load limit is not given")
        return
    yield from unasked(outcome.case, strap)
    for loads in outcome.loads:
        for each in loads.straps:
            if each.strap == strap.name:
                yield CheckResult(
                    check=Check.STRAPS,
                    mode=Mode.STRAP_LIMIT,
                    subject=Subject(Thing.STRAP, strap.name),
                    load_case=loads.name,
                    demand=each.tension,
                    capacity=limit,
                    unit="N",
                    target=TARGET,
                    source=SOURCE,
                )


def unasked(case: Case, strap: Strap) -> Iterator[Line]:
    """Yield that a strap was not judged in the directions that no load case pushes the cargo."""
    toward = {each.factors.get("toward") for each in case.load_cases if each.kind == "tie-down"}
    missing = [each for each in DIRECTIONS if each not in toward]
    if missing:
        reason = f"no load case ties the vehicle down against a push {', '.join(missing)}"
        yield left_open(Thing.STRAP, strap.name, Question.STRAP, reason, remedy="write 'tie-down' under 'load cases'")
