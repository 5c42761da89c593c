"""Which sections the buckling and plastic checks judge, on sections as the section engine makes them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.checks import lateral_buckling, local_buckling, permanent_set
from framecheck.checks.effective import extreme_points
from framecheck.checks.joint_rows import Line
from framecheck.checks.member_stress import wall_end_stress
from framecheck.checks.wall_rules import reason_against, round_class
from framecheck.model.case import StrengthAsked
from framecheck.model.frame import Cut, Member, Section, Stretch
from framecheck.model.shapes import Channel, RectTube, RoundBar, RoundTube, Shape, Side
from framecheck.results.row import Check, CheckResult
from framecheck.results.subjects import Open
from framecheck.section.analysis import section_properties
from framecheck.stress import SolvedCase
from tests.unit.checks.members import STEEL, outcome, row


def solved(shape: Shape, **forces: float) -> SolvedCase:
    """Return a member of a shape under even forces, its section by the section engine."""
    section = section_properties(Section("rail section", shape, STEEL))
    made = outcome((section, section), np.stack([row(**forces)] * 2)[:, None], (0.0, 0.5), strength=StrengthAsked(rare=("case 1",)))
    sections = {"rail section": Section("rail section", shape, STEEL)}
    return replace(made, case=replace(made.case, frame=replace(made.case.frame, sections=sections)))


def lines(found: SolvedCase) -> list[Line]:
    return [line for check in (local_buckling, lateral_buckling, permanent_set) for line in check.check(found)]


@pytest.mark.parametrize(("ratio", "rank"), [(33, 1), (34, 2), (47, 3), (60, 4)])
def test_class_of_a_round_tube(ratio: float, rank: int) -> None:
    # EN 1993-1-1:2005, table 5.2, sheet 3: d/t up to 50, 70, 90 epsilon2, fy 355 MPa: 33.1, 46.3, 59.6
    assert round_class(RoundTube(0.05, 0.05 / ratio), 355e6) == rank
    assert round_class(RoundBar(0.02), 355e6) == 1
    assert round_class(RectTube(0.1, 0.05, 0.003), 355e6) == 0


def test_a_round_tube_is_judged_without_flat_walls() -> None:
    found = lines(solved(RoundTube(0.0508, 0.003), Mv=800.0, N=-5e3))
    assert [line.check for line in found if isinstance(line, CheckResult)] == [
        Check.LOCAL_BUCKLING, Check.BUCKLING, Check.PERMANENT_SET,
    ]  # fmt: skip
    assert isinstance(found[0], CheckResult)
    assert "round tube, D/t 16.9, class 1" in found[0].note
    # by hand: N / A + M c / I of a round tube
    d, i = 0.0508, 0.0508 - 0.006
    area, inertia = np.pi / 4 * (d**2 - i**2), np.pi / 64 * (d**4 - i**4)
    assert found[0].demand == approx(5e3 / area + 800 * d / 2 / inertia, rel=3e-3)


def test_a_thin_round_tube_is_said_and_not_judged() -> None:
    found = lines(solved(RoundTube(0.1, 0.001), Mv=100.0))
    assert all(isinstance(line, Open) for line in found)
    assert len(found) == 3


def test_a_round_tube_with_a_notch_is_not_judged_there() -> None:
    made = solved(RoundTube(0.0508, 0.003), Mv=100.0)
    member = Member("rail", ("a", "b"), (Stretch("rail section"),), cuts=(Cut("notch", Side.TOP, 0.25, 0.01, 0.1),))
    section = next(iter(made.sections.values()))
    assert "at notch 'notch'" in reason_against(made.case.frame, member, section, 0.25)
    assert reason_against(made.case.frame, member, section, 0.05) == ""


@pytest.mark.parametrize("shape", [RectTube(0.1, 0.05, 0.003, 0.006), Channel(0.1, 0.05, 0.003, 0.006)])
def test_stress_at_wall_ends_agrees_with_the_fields(shape: Shape) -> None:
    # the mesher's fields beside beam theory at the mid-line corners, which lie a little outside the bends: within a tenth
    section = section_properties(Section("rail section", shape, STEEL))
    assert section.fields is not None
    forces = row(N=1e4, Mv=500.0, Ms=100.0, B=2.0)
    surface = section.fields.normal @ forces[[0, 4, 5, 6]]
    ends = wall_end_stress(section, forces)
    assert ends.max() == approx(surface.max(), rel=0.1)
    assert ends.min() == approx(surface.min(), rel=0.1)
    # the extreme points miss nothing that the whole surface sees
    assert np.abs(surface[extreme_points(section.fields)]).max() >= 0.999 * np.abs(surface).max()
