"""A post whose section or gussets lie between two quarter turns against its rail: a hair moves no spring. None needs a source."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, degrees, tan
from random import Random

import numpy as np
import pytest

from framecheck.frame.branch_turns import LEANS, share_of_other
from framecheck.frame.geometry import member_axes
from framecheck.frame.joints import hangs_of, seats_of
from framecheck.frame.leaning import FACING
from framecheck.frame.open_ends import open_ends
from framecheck.frame.results import Bound, Joints
from framecheck.frame.stand_in import Unmodelled
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Make, MemberEnd, Section
from framecheck.model.joining import GussetPair, GussetPlace
from framecheck.model.shapes import Channel, RectTube, RoundTube, Shape
from tests.memory import SHARED
from tests.unit.frame.test_joints_in_frame import STEEL, TUBE, frame

HAIR = 1e-7


def leaning(made: MemberEnd, of: Shape, lean: tuple[float, float], roll: float = 0.0) -> Frame:
    """Return a post on the rail's top face that leans along and across it; roll, rad, about its own length."""
    flat = frame(TUBE, of, make=made.make)
    rail, post = flat.members
    points = {**flat.points, "t": (1.0 + lean[0], lean[1], 1.0)}
    return replace(flat, points=points, members=(rail, replace(post, start=made, roll=roll)))


def springs(of: Frame) -> Array:
    """Return the post's springs at both ends of the range (2, 6)."""
    found = []
    for joints in (Joints.SOFT, Joints.STIFF):
        ends = [each for each in hangs_of(of, Bound(joints=joints), SHARED) if (each.member, each.end) == (1, 0)]
        found.append(ends[0].stiffness)
    return np.array(found)


def gusseted(chance: Random, place: GussetPlace, height: float | None = None) -> MemberEnd:
    """Return an end with gussets of some size."""
    along, up, wall = (chance.uniform(*some) for some in ((0.02, 0.06), (0.02, 0.06), (0.002, 0.005)))
    return MemberEnd(Make.BUTT, gussets=GussetPair(along, up, wall, place, height))


@pytest.mark.parametrize(("place", "height"), [(GussetPlace.MIDDLE, None), (GussetPlace.TOP, None), (GussetPlace.MIDDLE, 0.006)])
def test_a_gusseted_post_at_45_degrees_to_both_quarter_turns(place: GussetPlace, height: float | None) -> None:
    """It leans alike along and across the rail, whichever way; then it stands upright, rolled by half a right angle."""
    chance = Random(place.value + str(height))
    made, post = gusseted(chance, place, height), RectTube(chance.uniform(0.03, 0.04), chance.uniform(0.02, 0.03), 0.003)
    for along, across in ((0.1, 0.1), (-0.1, 0.1), (0.1, -0.1)):
        exact = springs(leaning(made, post, (along, across)))
        for step in (1 + HAIR, 1 - HAIR):
            assert springs(leaning(made, post, (along * step, across))) == pytest.approx(exact, rel=1e-4)
    rolled = springs(leaning(made, post, (0.0, 0.0), np.pi / 4))
    for step in (1 + HAIR, 1 - HAIR):
        assert springs(leaning(made, post, (0.0, 0.0), np.pi / 4 * step)) == pytest.approx(rolled, rel=1e-4)


def test_gussets_that_find_a_wall_in_one_quarter_turn_only() -> None:
    """A channel's open side offers none: its range is open as soon as that turn counts, and begins without a width."""
    made, post = gusseted(Random(3), GussetPlace.MIDDLE), Channel(0.04, 0.03, 0.003, 0.003)
    ways = [leaning(made, post, (0.0, 0.0), np.radians(turn)) for turn in (34.9, 35.0 + 1e-6, 45 - 1e-7, 45 + 1e-7, 55.1)]
    before, begins, below, beyond, after = map(springs, ways)
    assert before == pytest.approx(begins, rel=1e-4)
    assert below == pytest.approx(beyond, rel=1e-4)
    opens = [[each.why for each in open_ends(way)] for way in ways]
    bare = [(seat.turns[0].bare, len(seat.turns)) for way in ways for seat in seats_of(way).values()]
    assert bare[0] != bare[-1]
    assert [each == [Unmodelled.GUSSETS] for each in opens[1:4]] == [True] * 3
    assert {tuple(opens[0]), tuple(opens[-1])} == {(), (Unmodelled.GUSSETS,)}
    assert (after[0] <= after[1] * (1 + 1e-9)).all()


def test_how_far_the_next_quarter_turn_counts() -> None:
    """Not before 35 degrees, by half at 45, evenly between, alike from both sides."""
    for turn in (0.0, 20.0, 35.0):
        assert share_of_other(tan(np.radians(turn)), 1.0) == pytest.approx(0.0, abs=1e-12)
    assert share_of_other(1.0, 1.0) == 0.5
    assert share_of_other(-tan(np.radians(40.0)), 1.0) == pytest.approx(0.25)
    assert share_of_other(tan(np.radians(50.0)), 1.0) == pytest.approx(0.25)
    assert degrees(atan2(1.0, 1.0)) == LEANS[1]


@pytest.mark.parametrize("rail", [TUBE, RoundTube(0.08, 0.004)])
@pytest.mark.parametrize("seed", range(3))
def test_a_brace_out_of_a_rails_corner(rail: Shape, seed: int) -> None:
    """At 45 degrees to both faces it stood on the one or the other, whose springs act along other ways: now alike across the rail."""
    chance = Random(seed)
    post = RectTube(chance.uniform(0.03, 0.04), chance.uniform(0.02, 0.03), 0.003)
    along, side = chance.uniform(-0.5, 0.5), chance.choice((-1.0, 1.0))
    found = []
    for across in (1.0, 1 + HAIR, 1 - HAIR):
        leans = leaning(MemberEnd(Make.BUTT), post, (along, side * across))
        hang = next(each for each in hangs_of(replace(leans, sections=leans.sections | {"rail": Section("rail", rail, STEEL)}),
                    Bound(joints=Joints.SOFT), SHARED) if (each.member, each.end) == (1, 0))  # fmt: skip
        moves, turns = (np.diag(hang.stiffness[part]) for part in (slice(3), slice(3, 6)))
        found.append(np.array([hang.axes.T @ each @ hang.axes for each in (moves, turns)]))
    for part in (0, 1):
        for moved in found[1:]:
            assert moved[part] == pytest.approx(found[0][part], rel=1e-4, abs=1e-4 * found[0][part].max())


@pytest.mark.parametrize("seed", range(6))
def test_a_post_that_is_drawn_upright_keeps_its_section_where_rounding_tilts_it(seed: int) -> None:
    """z of a post's section is square to it and nearest to up: of an upright one there is none, and y is the vehicle's left."""
    chance = Random(seed)
    plumb = member_axes(np.array([[0.0, 0.0, 1.0]]))[0]
    for size in (1e-7, 1e-5, 5e-4):
        turn = chance.uniform(0.0, 2 * np.pi)
        way = np.array([size * np.cos(turn), size * np.sin(turn), 1.0])
        found = member_axes((way / np.linalg.norm(way))[None])[0]
        assert found == pytest.approx(plumb, abs=1.01 * size)
        assert found @ found.T == pytest.approx(np.eye(3), abs=1e-12)


@pytest.mark.parametrize("make", [Make.BUTT, Make.THROUGH, Make.UNSAID, Make.RIGID])
@pytest.mark.parametrize("seed", range(2))
def test_a_brace_that_leans_out_of_what_is_modelled(make: Make, seed: int) -> None:
    """At a cosine of 0.75 no model covers it: its range has opened by then, from none at 35 degrees, and its arm is gone."""
    chance = Random(seed)
    post = RectTube(chance.uniform(0.03, 0.04), chance.uniform(0.02, 0.03), 0.003)
    way = chance.uniform(0.0, 2 * np.pi)

    def hung(degrees_off: float) -> list[tuple[Array, Array]]:
        lean = tan(np.radians(degrees_off))
        made = leaning(MemberEnd(make), post, (lean * np.cos(way), lean * np.sin(way)))
        ends = [[each for each in hangs_of(made, Bound(joints=joints), SHARED) if (each.member, each.end) == (1, 0)]
                for joints in (Joints.SOFT, Joints.STIFF)]  # fmt: skip
        rigid = np.zeros(3), np.zeros(6)
        return [(each[0].arm, 1 / np.array(each[0].stiffness)) if each else rigid for each in ends]

    facing, own = degrees(np.arccos(FACING)), np.maximum(hung(0.0)[0][1], hung(30.0)[0][1])
    for turn in (35.0, facing):
        for (arm, give), (other, more) in zip(hung(turn - 1e-6), hung(turn + 1e-6), strict=True):
            assert arm == pytest.approx(other, abs=1e-7)
            assert (np.abs(give - more) <= 1.2e-4 * np.maximum(give, own)).all()
    soft, stiff = hung((35.0 + facing) / 2)
    assert (soft[1] >= stiff[1]).all()
    assert hung(0.0)[0][1] == pytest.approx(hung(0.0)[1][1]) or make is Make.UNSAID
