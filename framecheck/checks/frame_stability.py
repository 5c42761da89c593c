"""Buckling of the frame as a whole: by how much all loads of a case may grow before it moves aside by itself."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_rows import Line
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, asked
from framecheck.stress import SolvedCase

SOURCE = (
    "linear eigenvalue with geometric stiffness, EN 1993-1-1:2005, 5.2.1; of it 0.877 for what is not straight, ANSI/AISC 360-22, "
    "eq. (E3-3)"
)
NOT_STRAIGHT = 0.877
"""ANSI/AISC 360-22, eq. (E3-3): what a slender column that is not quite straight keeps of its elastic buckling load."""


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return a row a load case, and the cases in which the search did not settle."""
    return tuple(line for number in range(len(outcome.loads) if outcome.buckling else 0) for line in lines_of(outcome, number))


def lines_of(outcome: SolvedCase, number: int) -> Iterator[Line]:
    """Yield the row of a load case, under its worst bound or mixture of ends, and what is open in it."""
    name = outcome.loads[number].name
    factors = [float(each.factors[number]) for each in outcome.buckling]
    worst = int(np.argmin(factors))
    factor, bound = factors[worst], outcome.solutions[worst].bound
    counted = float(outcome.buckling[worst].counted[number])
    mixed = [(each, found) for each in outcome.mixed_buckling if (found := each.worst[number]) is not None]
    for each, found in mixed:
        if found.factor < factor:
            factor, bound = found.factor, each.bound(found.stiff)
    settled = (*(bool(each.settled[number]) for each in outcome.buckling), *(found.settled for _, found in mixed))
    if not all(settled):
        yield Open(
            asked(Thing.FRAME, "frame", Question.FRAME_BUCKLING),
            f"'{name}': the search for the load that buckles the frame did not settle",
        )
    yield CheckResult(
        check=Check.FRAME_BUCKLING,
        mode=Mode.FRAME_BUCKLES,
        subject=Subject(Thing.FRAME, "frame"),
        load_case=name,
        demand=1.0,
        capacity=NOT_STRAIGHT * factor,
        unit="1",
        target=outcome.case.targets.of(name),
        source=SOURCE,
        bound=bound,
        note=worded(factor, counted),
    )


def worded(factor: float, counted: float) -> str:
    """Return the elastic factor in words, and whether the moved frame was looked at for it."""
    elastic = f"elastic buckling at {factor:.3g} times the loads"
    return elastic if counted <= 0.0 else f"{elastic}; what forces do on the moved frame is counted (second order)"
