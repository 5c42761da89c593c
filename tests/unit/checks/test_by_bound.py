"""A check run under each bound by itself: the worst row knows its bound, and the shop is told the largest size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from framecheck.checks.joint_forces import by_bound
from framecheck.checks.joint_rows import Line
from framecheck.frame.results import Bound, Joints
from framecheck.results.row import Check, CheckResult, Mode, Sizing
from framecheck.results.subjects import Subject, Thing
from framecheck.stress import SolvedCase
from tests.unit.output.samples import results

SOFT, STIFF = Bound(joints=Joints.SOFT), Bound(joints=Joints.STIFF)
WELD = Subject(Thing.JOINT, "weld")


def with_energies(*energies: float) -> SolvedCase:
    """Return an outcome with a bound for each energy."""
    outcome = results().outcome
    solutions = tuple(
        replace(outcome.solutions[0], bound=bound, energy=np.array([energy, 0.0]))
        for bound, energy in zip((SOFT, STIFF), energies, strict=False)
    )
    return replace(outcome, solutions=solutions, stresses=outcome.stresses * len(solutions))


def lines(outcome: SolvedCase) -> Iterator[Line]:
    """Yield a demand as large as the energy in the first load case, a rule of layout, and a leg."""
    (solution,) = outcome.solutions
    demand = float(solution.energy[0])
    yield CheckResult(Check.WELDS, Mode.WELD_METAL, WELD, "static", demand, 10.0, "N", 1.0, "a source")
    yield CheckResult(Check.WELDS, Mode.LEAST_LEG, WELD, None, 3.0, 5.0, "m", 1.0, "a source")
    yield Sizing(Check.WELDS, "weld", "leg", demand / 1000, "m", None, "a source")


def test_the_worst_bound_is_told_whichever_comes_first() -> None:
    for energies, worst in (((2.0, 8.0), STIFF), ((8.0, 2.0), SOFT)):
        found = list(by_bound(lines)(with_energies(*energies)))
        strength, layout = (line for line in found if isinstance(line, CheckResult))
        assert (strength.demand, strength.bound) == (8.0, worst)
        assert layout.bound is None
        assert [line.value for line in found if isinstance(line, Sizing)] == [0.008]


def test_one_bound_gives_its_lines_as_they_are() -> None:
    found = list(by_bound(lines)(with_energies(2.0)))
    assert [type(line) for line in found] == [CheckResult, CheckResult, Sizing]
    assert isinstance(found[0], CheckResult)
    assert found[0].bound == SOFT
