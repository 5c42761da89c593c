"""Where a member ends that its arms move off its drawn line."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.joint_faces import JointFace
from framecheck.frame.joints import hangs_of, seats_of
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Make, MemberEnd
from tests.unit.frame.frames import bar
from tests.unit.frame.test_joints_in_frame import CROSS, SOFT, TUBE, frame


def dropped(drop: float, first: float) -> Frame:
    """Return the frame with a crossmember that hangs lower than the rail, with a point of its own so far from the rail's middle."""
    flat = frame(TUBE, CROSS, Make.BUTT)
    points = {**flat.points, "s": (1.0, -first, -drop), "t": (1.0, -0.5, -drop)}
    cross = replace(bar("cross", "m", "t", of="cross"), points=("m", "s", "t"), start=MemberEnd(Make.BUTT, arm=(0.0, 0.0, -drop)))
    return replace(flat, points=points, members=(flat.members[0], cross))


def seat_and_arm(of: Frame) -> tuple[JointFace, Array]:
    """Return the crossmember's seat and the arm of its end."""
    (where,) = seats_of(of).values()
    (hang,) = (each for each in hangs_of(of, SOFT, None) if (each.member, each.end) == (1, 0))
    return where, hang.arm


@pytest.mark.parametrize("seed", range(8))
def test_a_crossmember_that_hangs_lower_meets_its_rail_as_a_level_one_does(seed: int) -> None:
    """Geometry: its line runs level from the rail's face to its first point, however steep the line is that the points draw."""
    drop, first = np.random.default_rng(seed).uniform((0.02, 0.04), (0.045, 0.2))
    level, _ = seat_and_arm(frame(TUBE, CROSS, Make.BUTT))
    where, arm = seat_and_arm(dropped(drop, first))
    assert arm == approx(np.array((0.0, -0.0235, -drop)))
    assert where.axes == approx(level.axes)
    assert (where.away, where.unmodelled) == (0.0, None)


def test_arms_that_leave_a_member_no_length_leave_it_as_it_is_drawn() -> None:
    short = dropped(0.03, 0.1)
    cross = replace(short.members[1], start=MemberEnd(Make.BUTT, arm=(0.0, -0.1, -0.03)))
    where, _ = seat_and_arm(replace(short, members=(short.members[0], cross)))
    assert np.isfinite(where.arm).all()


def test_a_member_is_found_at_its_points_wherever_arms_moved_its_ends() -> None:
    """Its table begins at the arm, 0.03 m on from its first point; the middle one is where it is drawn."""
    none = np.zeros((4, 0))
    line = MemberForces("cross", np.array([0.03, 0.2, 0.2, 1.01]), (), none, none, none, none, none)
    assert [line.rows_at_point((0.0, 0.2, 1.0), point).tolist() for point in range(3)] == [[0], [1, 2], [3]]
