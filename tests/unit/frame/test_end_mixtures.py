"""Mixtures solved at the ends alone against the frame solved anew for each, and which ends are told apart there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from framecheck.frame.end_mixtures import EndMixtures, end_mixtures
from framecheck.frame.geometry import OneFrame
from framecheck.frame.results import Bound, Joints
from framecheck.frame.soft_frame import SoftFrame, soft_frame
from framecheck.frame.solve import answers_of, brief_solutions_of, solve_frame, structure_of
from framecheck.frame.structure import Structure
from framecheck.frame.unlike import EVERY_ALONE, MOST_CLASSES, classes_about, classes_along
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.section.analysis import section_properties
from tests.unit.frame.test_unlike import SECTION, ladder

HELD = {"tube": section_properties(SECTION, None)}
ON_THREE = tuple(Support(point, (float("inf"),) * 3 + (0.0,) * 3) for point in ("l0", "r0", "l3"))
CASES = (
    CaseLoads("down", point_loads=(PointLoad("l2", (100.0, -300.0, -2000.0)),)),
    CaseLoads("on three", point_loads=(PointLoad("r3", (0.0, 500.0, 1500.0), (0.0, 90.0, 40.0)),), supports=ON_THREE),
    CaseLoads(
        "hanging",
        point_loads=(PointLoad("l1", (0.0, 0.0, 800.0)), PointLoad("l3", (0.0, 0.0, -800.0), (0.0, 640.0, 0.0))),
        free_free=True,
    ),
)


def structure(frame: Frame, bound: Bound) -> Structure:
    return structure_of(frame, HELD, bound)


def soft_one(frame: Frame) -> SoftFrame:
    """Return a frame with all ends soft, ready for its mixtures."""
    answers = answers_of((structure(frame, Bound(joints=Joints.SOFT)),), CASES)
    told = brief_solutions_of(answers)[0]
    found = soft_frame(answers[0], structure(frame, Bound(joints=Joints.STIFF)), (told, told), {})
    assert found is not None
    return found


def mixtures(frame: Frame) -> tuple[EndMixtures, ...]:
    """Return what all ends of a frame do in the mixtures about them."""
    return tuple(end_mixtures(soft_one(frame)))


@pytest.mark.parametrize("crosses", [2, 3])
def test_a_mixture_is_the_frame_solved_with_those_springs(crosses: int) -> None:
    """Woodbury's identity is exact: the frame solved anew gives the same, on its supports, on others and on none."""
    frame = ladder(crosses)
    for own in mixtures(frame):
        for number in (0, 5, len(own.ends) // 2 + 1, len(own.ends) - 2):
            solved = solve_frame(structure(frame, own.bound(number)), CASES)
            there = solved.member_ends[own.member]
            assert own.ends[number] == pytest.approx(there, abs=1e-9 * np.abs(there).max())
            for (rail, _), rows in own.rails.items():
                line = solved.members[rail]
                here = np.abs(rows.forces[number][0, :, 0] - line.forces[:, :, 0]).max(axis=1).min()
                assert here < 1e-9 * np.abs(there).max()


def test_the_mixtures_follow_neither_order_nor_direction_of_members() -> None:
    frame = ladder(3)
    turned = replace(frame, members=(*frame.members[:2], *(replace(each, points=each.points[::-1]) for each in frame.members[:1:-1])))
    one, other = ({own.member: np.abs(own.ends).max(axis=(0, 1)) for own in mixtures(each)} for each in (frame, turned))
    for name, most in one.items():
        assert most == pytest.approx(other[name][::-1], rel=1e-9, abs=1e-9 * most.max())


def test_a_long_ladder_has_a_class_for_each_end_of_three_crossmembers_and_one_a_rail() -> None:
    frame = ladder(12)
    every = frozenset((n, end) for n, member in enumerate(frame.members) if member.role != "rail" for end in (0, 1))
    for number in range(2, len(frame.members)):
        classes = classes_about(frame, every, number)
        beside = [n for n in (number - 1, number, number + 1) if 2 <= n < len(frame.members)]
        assert [frozenset((end,)) for end in sorted(every) if end[0] == number] == list(classes[-2:])
        assert {frozenset((end,)) for end in every if end[0] in beside} == {each for each in classes if len(each) == 1}
        assert sorted(len(each) for each in classes if len(each) > 1) == [12 - len(beside)] * 2
        assert frozenset().union(*classes) == every
        assert len(classes) <= MOST_CLASSES


@pytest.mark.parametrize("count", [4, 6])
def test_of_twelve_ends_and_fewer_every_mixture_is_asked(count: int) -> None:
    """Each end is a class by itself, a member's own last; of more ends no more classes than before."""
    frame = ladder(count)
    every = frozenset((n, end) for n, member in enumerate(frame.members) if member.role != "rail" for end in (0, 1))
    for number in range(2, len(frame.members)):
        member = frame.members[number]
        along = classes_along(OneFrame(frame), every, number, (member.points[0], member.points[-1]), EVERY_ALONE)
        for classes in (classes_about(frame, every, number, EVERY_ALONE), along):
            assert sorted(map(sorted, classes)) == [[end] for end in sorted(every)]
            assert [end for each in classes[-2:] for end in each] == [(number, 0), (number, 1)]
    longer = ladder(7)
    more = frozenset((n, end) for n in range(2, 9) for end in (0, 1))
    assert len(classes_about(longer, more, 5, EVERY_ALONE)) <= MOST_CLASSES
