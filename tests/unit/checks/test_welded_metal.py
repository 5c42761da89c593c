"""Metal that welding softens: its yield strength beside a weld, and the plain one an inch away."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.heat.zones import REACH
from framecheck.checks.yielding import check
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Stretch
from framecheck.results.row import CheckResult
from framecheck.stress import SolvedCase
from tests.unit.checks.members import STEEL, outcome, row, tube

SOFT = replace(STEEL, welded_yield=200e6)
STATIONS = (0.0, 0.02, 0.03, 0.5, 1.0)
PULL = 100e3


def pulled(start: Make, other: Make | None = None) -> SolvedCase:
    """Return a tube of 1 m pulled at its ends, pinned at the second; another member's end may meet it at the second point."""
    member = Member("rail", ("a", "b"), (Stretch("rail section"),), start=MemberEnd(start), end=MemberEnd(Make.PINNED))
    forces = np.tile(row(N=PULL), (len(STATIONS), 1, 1))
    found = outcome([tube(0.1, 0.05, 0.003)] * len(STATIONS), forces, STATIONS, member, SOFT)
    if other is None:
        return found
    cross = Member("cross", ("b", "c"), (Stretch("rail section"),), start=MemberEnd(other), end=MemberEnd(Make.PINNED))
    frame = replace(found.case.frame, points=found.case.frame.points | {"c": (1.0, -1.0, 0.0)}, members=(member, cross))
    return replace(found, case=replace(found.case, frame=frame), stresses=((found.stresses[0][0], found.stresses[0][0]),))


def governing(found: SolvedCase) -> CheckResult:
    return next(line for line in check(found) if isinstance(line, CheckResult))


@pytest.mark.parametrize(("make", "strength"), [(Make.BUTT, 200e6), (Make.RIGID, 200e6), (Make.PINNED, 355e6), (Make.GIVEN, 200e6)])
def test_beside_a_welded_end_the_metal_yields_as_welded(make: Make, strength: float) -> None:
    found = governing(pulled(make))
    assert found.capacity == strength
    assert found.demand == approx(PULL / (2 * (0.1 + 0.05) * 0.003))  # N / A of the tube's mid-line


def test_the_reach_is_an_inch_and_no_more() -> None:
    found = governing(pulled(Make.BUTT))
    assert found.station is not None
    assert found.station <= REACH == approx(0.0254, abs=5e-4)


@pytest.mark.parametrize(("other", "strength"), [(Make.BUTT, 200e6), (Make.PINNED, 355e6)])
def test_a_member_welded_on_softens_the_one_it_meets(other: Make, strength: float) -> None:
    found = governing(pulled(Make.PINNED, other))
    assert found.capacity == strength
    if strength < 355e6:
        assert found.station == approx(1.0)


def test_metal_that_welding_leaves_alone_stays_as_it_is() -> None:
    plain = pulled(Make.BUTT)
    frame: Frame = plain.case.frame
    sections = {name: replace(section, material=STEEL) for name, section in frame.sections.items()}
    plain = replace(plain, case=replace(plain.case, frame=replace(frame, sections=sections)))
    assert governing(plain).capacity == 355e6
