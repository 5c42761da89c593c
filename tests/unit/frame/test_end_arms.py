"""Where a member ends that its arms move off its drawn line."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.feet import EndOnWall, feet_of
from framecheck.frame.joint_faces import JointFace
from framecheck.frame.joints import hangs_of, seats_of
from framecheck.frame.kinks import kinks_of
from framecheck.frame.open_ends import open_ends
from framecheck.frame.results import Bound, Joints, MemberForces
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.frame.stand_in import Unmodelled
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Make, MemberEnd
from framecheck.model.joining import Cap, EndFinish
from framecheck.model.loads import CaseLoads, PointLoad
from framecheck.model.shapes import Angle, RectTube, Shape
from framecheck.section.analysis import section_properties
from tests.unit.frame.frames import bar
from tests.unit.frame.test_joints_in_frame import CHANNEL, CROSS, SOFT, TUBE, frame


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


@pytest.mark.parametrize("seed", range(3))
def test_legs_meet_at_one_station_however_arms_move_them(seed: int) -> None:
    """A moved leg is longer than it is drawn: its end stood up to 60 um from the next leg's start, and a kink there found one leg
    twice (7 % of its row, by which end was drawn first)."""
    rng = np.random.default_rng(seed)
    flat = frame(TUBE, CROSS, Make.BUTT)
    points = {**flat.points, "s": (1.0, -0.25, float(rng.uniform(0.02, 0.06)))}
    way = tuple(rng.uniform(-0.01, 0.01, 3).tolist())
    cross = replace(bar("cross", "m", "t", of="cross"), points=("m", "s", "t"), start=MemberEnd(Make.BUTT, arm=way))
    made = replace(flat, points=points, members=(flat.members[0], cross))
    sections = {name: section_properties(each) for name, each in made.sections.items()}
    pull = CaseLoads("pull", (PointLoad("t", (0.0, 0.0, -1e3)),))
    line = solve_frame(structure_of(made, sections, SOFT), [pull]).members[1]
    drawn = float(np.hypot(0.25, points["s"][2]))
    rows = line.rows_at_point((0.0, drawn, 2 * drawn), 1)
    assert line.stations[rows] == approx([drawn, drawn])
    assert float(np.abs(line.axes[rows[0], 0] - line.axes[rows[1], 0]).max()) > 0.01


@pytest.mark.parametrize("up", [0.02, 0.08])
def test_a_crossmember_that_lies_on_its_rail_turns_where_it_comes_down_from_there(up: float) -> None:
    """By hand: from the height of its middle on the rail, 80 mm over the rail's, to its own point: as it is drawn it went straight on,
    or turned where it runs level."""
    flat = frame(TUBE, CROSS, Make.ON_TOP)
    half, level = 0.025, 0.05 + 0.03
    points = {**flat.points, "s": (1.0, -0.3, up), "t": (1.0, -0.5, up)}
    cross = replace(flat.members[1], points=("m", "s", "t"))
    found = kinks_of(replace(flat, points=points, members=(flat.members[0], cross)))
    turn = np.arctan2(level - up, 0.3 - half)
    assert [each.turn for each in found] == (approx([turn], rel=0.1) if turn > 0.01 else [])


def test_a_member_is_found_at_its_points_wherever_arms_moved_its_ends() -> None:
    """Its table begins at the arm, 0.03 m on from its first point; the middle one is where it is drawn."""
    none = np.zeros((4, 0))
    line = MemberForces("cross", np.array([0.03, 0.2, 0.2, 1.01]), (), none, none, none, none, none)
    assert [line.rows_at_point((0.0, 0.2, 1.0), point).tolist() for point in range(3)] == [[0], [1, 2], [3]]


HALF, WALL = 0.025, 0.003
"""m; half the rail's width, and its wall."""


def foot(of: Frame) -> EndOnWall:
    ((found,),) = feet_of(of)
    return found


def with_arm(arm: tuple[float, float, float], make: Make = Make.BUTT) -> Frame:
    """Return the frame whose crossmember has an arm at the rail, and as much at its other end: its line stays as it runs."""
    flat = frame(TUBE, CROSS, make)
    both = replace(flat.members[1], start=MemberEnd(make, arm=arm), end=replace(flat.members[1].end, arm=arm))
    return replace(flat, members=(flat.members[0], both))


def sloping(degrees: float) -> Frame:
    """Return the frame whose crossmember goes down from the rail's axis."""
    flat = frame(TUBE, CROSS, Make.BUTT)
    (x, y, _), low = flat.points["t"], float(np.tan(np.radians(degrees)))
    return replace(flat, points={**flat.points, "t": (x, y, low * y)})


@pytest.mark.parametrize("seed", range(4))
def test_a_line_that_slopes_meets_its_wall_as_much_lower_as_one_whose_arm_says_so(seed: int) -> None:
    """By hand: half the rail's width less half its wall times the slope. A brace at 30 degrees stood in the middle of its wall."""
    degrees = float(np.random.default_rng(seed).uniform(5.0, 30.0))
    low = (HALF - WALL / 2) * np.tan(np.radians(degrees))
    slopes, said = foot(sloping(degrees)), foot(with_arm((0.0, 0.0, -low)))
    assert abs(slopes.branch.offset) == approx(low)
    assert slopes.branch.offset == approx(said.branch.offset)
    one, other = (next(iter(seats_of(each).values())) for each in (sloping(degrees), with_arm((0.0, 0.0, -low))))
    assert one.branch.outline.span(1) == approx(other.branch.outline.span(1))
    assert one.over == approx(other.over)


@pytest.mark.parametrize("beside", [0.02, -0.03])
def test_an_arm_along_the_rail_counts_towards_its_open_end(beside: float) -> None:
    """By hand: the rail ends 60 and 90 mm from the point; its foot is so much nearer to the one and farther from the other."""
    flat = with_arm((beside, 0.0, 0.0))
    x = flat.points["m"][0]
    rail = replace(flat.members[0], start=MemberEnd(cap=Cap(EndFinish.OPEN)), end=MemberEnd(cap=Cap(EndFinish.OPEN)))
    first, last = rail.points[0], rail.points[-1]
    short = {**flat.points, first: (x - 0.06, *flat.points[first][1:]), last: (x + 0.09, *flat.points[last][1:])}
    found = foot(replace(flat, points=short, members=(rail, flat.members[1])))
    assert found.wall.left == approx(min(0.06 + beside, 0.09 - beside) - found.branch.h1 / 2)
    (where,) = seats_of(replace(flat, points=short, members=(rail, flat.members[1]))).values()
    assert sorted(each.away for each in where.ends.soft) == approx(sorted((0.06 + beside, 0.09 - beside)))


def test_an_end_that_reaches_over_the_edge_of_its_wall_is_a_range_by_name_that_opens_from_nothing() -> None:
    """By hand: outside to outside it is flush where half the difference of both heights lies between the middles."""
    level = with_arm((0.0, 0.0, 0.0))
    (where,) = seats_of(level).values()
    flush = (where.chord.depth - foot(level).branch.b1) / 2

    def gives(up: float) -> list[Array]:
        hung = (hangs_of(with_arm((0.0, 0.0, up)), Bound(joints=joints), None) for joints in (Joints.SOFT, Joints.STIFF))
        return [1 / np.array(next(each for each in ends if (each.member, each.end) == (1, 0)).stiffness) for ends in hung]

    assert not list(open_ends(with_arm((0.0, 0.0, flush))))
    (named,) = open_ends(with_arm((0.0, 0.0, flush + 0.004)))
    assert (named.why, named.point) == (Unmodelled.OVER_EDGE, "m")
    at_edge, just_over = gives(flush), gives(flush + 3e-6)
    assert at_edge[0] == approx(at_edge[1])
    assert just_over == [approx(at_edge[0], rel=1e-3)] * 2
    soft, stiff = gives(flush + 0.01)
    assert (soft > 1.2 * stiff).all()


@pytest.mark.parametrize("rail", [TUBE, CHANNEL])
def test_gussets_of_no_given_size_hold_from_nothing_to_rigid(rail: Shape) -> None:
    """On a channel's web, through which nothing passes that holds more, the range had no width."""
    made = frame(rail, CROSS, Make.GUSSETED)
    assert [each.why for each in open_ends(made)] == [Unmodelled.GUSSETS]
    soft, stiff = (
        next(np.array(each.stiffness) for each in hangs_of(made, Bound(joints=joints), None) if (each.member, each.end) == (1, 0))
        for joints in (Joints.SOFT, Joints.STIFF)
    )
    assert (stiff >= 1e3 * soft).all()


@pytest.mark.parametrize("side", [-1.0, 1.0])
@pytest.mark.parametrize("lower", [0.005, 0.015])
def test_an_arm_moves_the_end_towards_the_flange_that_it_points_at(side: float, lower: float) -> None:
    """An angle's upright is held along its foot: nearer to that it gives less, square to itself and about the rail, whether it is met
    from in front or from behind. Arms moved the end the other way, which tells on rails that are not alike up and down.
    """
    flat = frame(Angle(0.1, 0.06, 0.004), RectTube(0.04, 0.03, 0.002), Make.BUTT, side=side)
    gives = []
    for up in (-lower, 0.0, lower):
        start, end = (replace(each, arm=(0.0, 0.0, up)) for each in (flat.members[1].start, flat.members[1].end))
        armed = replace(flat, members=(flat.members[0], replace(flat.members[1], start=start, end=end)))
        hung = hangs_of(armed, SOFT, None)
        where = next(each for each in hung if (each.member, each.end) == (1, 0))
        felt = 1 / np.array(where.stiffness)
        gives.append(felt + np.eye(6)[1] * felt[3] * (where.centre @ where.centre))
    down, level, raised = np.array(gives)[:, [1, 3]]
    assert (down < 0.99 * level).all()
    assert (level < 0.99 * raised).all()


def test_an_arm_along_the_rail_moves_an_end_that_lies_on_it() -> None:
    """By hand: as far along the rail, at the same height and edge. It went without a word."""
    (level,), (moved,) = (seats_of(with_arm((along, 0.0, 0.0), Make.ON_TOP)).values() for along in (0.0, 0.012))
    assert moved.arm - level.arm == approx(np.array((0.012, 0.0, 0.0)))
