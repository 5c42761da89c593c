"""Laws of every linear frame, over frames drawn at random."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.frame.results import FrameSolution
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.model.arrays import Vector
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Orientation
from framecheck.model.loads import CaseLoads, PointLoad, Support
from tests.unit.frame.frames import HELD, bar, section

NAMES = "abcdef"
SECTIONS = {
    "tube": section("tube", shear_areas=(4e-4, 3e-4)),
    "open": section(
        "open",
        warping=3e-10,
        j=2e-9,
        centroid=(0.01, 0.002),
        shear_centre=(0.03, -0.004),
        i_product=2e-7,
        shear_areas=(4e-4, 3e-4),
    ),
}
PLACES = st.tuples(*(st.integers(-20, 20),) * 3)
WARPINGS = st.sampled_from([EndWarping.FREE, EndWarping.FIXED, EndWarping.SPRING])
ENDS = st.builds(lambda warping: MemberEnd(Make.RIGID, warping, warping_stiffness=5.0), WARPINGS)
LIES = st.builds(Orientation, st.integers(0, 3), st.booleans())


@st.composite
def frames(draw: st.DrawFn) -> Frame:
    """Draw a tree of members between points 0.1 m and more apart, with one member more to close a ring."""
    places = draw(st.lists(PLACES, min_size=4, max_size=6, unique=True))
    names = NAMES[: len(places)]
    points = {name: (x / 10, y / 10, z / 10) for name, (x, y, z) in zip(names, places, strict=True)}
    pairs = [(names[draw(st.integers(0, k - 1))], names[k]) for k in range(1, len(names))]
    if (names[0], names[-1]) not in pairs:
        pairs.append((names[0], names[-1]))
    members = tuple(_member(draw, f"m{k}", pair) for k, pair in enumerate(pairs))
    return Frame(points, members, {}, (Support("a", HELD),))


def _member(draw: st.DrawFn, name: str, pair: tuple[str, str]) -> Member:
    plain = bar(name, *pair, start=draw(ENDS), end=draw(ENDS), of=draw(st.sampled_from(sorted(SECTIONS))))
    return replace(plain, orientation=draw(LIES), roll=draw(st.sampled_from([0.0, 0.4])))


def unit(way: int) -> tuple[Vector, Vector]:
    row = [0.0] * 6
    row[way] = 1.0
    return (row[0], row[1], row[2]), (row[3], row[4], row[5])


def solution(frame: Frame, *cases: CaseLoads) -> FrameSolution:
    return solve_frame(structure_of(frame, SECTIONS), cases)


@settings(max_examples=40, deadline=None)
@given(frames(), st.integers(0, 5), st.integers(0, 5))
def test_reciprocity(frame: Frame, first: int, second: int) -> None:
    """J. C. Maxwell (1864), E. Betti (1872): a at one point moves b as much as b moves a."""
    last = list(frame.points)[-1]
    cases = (CaseLoads("one", (PointLoad("b", *unit(first)),)), CaseLoads("two", (PointLoad(last, *unit(second)),)))
    moved = solution(frame, *cases).displacements
    size = float(np.abs(moved).max())
    assert moved[-1, 0, second] == approx(moved[1, 1, first], abs=1e-9 * size)


@settings(max_examples=30, deadline=None)
@given(frames(), st.integers(0, 5), st.floats(0.0, 6.28))
def test_turning_about_the_vertical_turns_the_answer(frame: Frame, way: int, angle: float) -> None:
    """Only about the vertical: a member's own axes look for it."""
    c, s = np.cos(angle), np.sin(angle)
    turn = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
    upright = any(frame.points[m.points[0]][:2] == frame.points[m.points[1]][:2] for m in frame.members)
    if upright:  # a vertical member's axes look for the vehicle's left instead
        return
    places = {
        name: (float(x), float(y), float(z)) for name, (x, y, z) in ((n, turn @ p) for n, p in frame.points.items())
    }
    force, moment = (tuple((turn @ each).tolist()) for each in unit(way))
    last = list(frame.points)[-1]
    before = solution(frame, CaseLoads("push", (PointLoad(last, *unit(way)),)))
    after = solution(replace(frame, points=places), CaseLoads("push", (PointLoad(last, force, moment),)))  # type: ignore[arg-type]
    expected = (before.displacements.reshape(-1, 2, 3) @ turn.T).reshape(before.displacements.shape)
    assert after.displacements == approx(expected, abs=1e-8 * float(np.abs(expected).max()))


@settings(max_examples=40, deadline=None)
@given(frames(), st.integers(0, 5))
def test_every_self_check_holds(frame: Frame, way: int) -> None:
    """Balance, half the work against the integral of the section forces, nothing left over."""
    found = solution(
        frame, CaseLoads("push", (PointLoad("b", *unit(way)), PointLoad(list(frame.points)[-1], *unit(1))))
    )
    assert [check for check in found.self_checks if not check.holds] == []


@settings(max_examples=30, deadline=None)
@given(frames(), st.integers(0, 5))
def test_drawing_a_member_from_its_other_end_changes_nothing(frame: Frame, way: int) -> None:
    """Its section is seen from the other side then: mirrored. Turns and rolls are told about the reversed axis."""

    def reversed_(member: Member) -> Member:
        lie = Orientation(-member.orientation.quarter_turns % 4, not member.orientation.mirrored)
        return replace(
            member, points=member.points[::-1], start=member.end, end=member.start, orientation=lie, roll=-member.roll
        )

    if any(frame.points[m.points[0]][:2] == frame.points[m.points[1]][:2] for m in frame.members):
        return
    load = CaseLoads("push", (PointLoad(list(frame.points)[-1], *unit(way)),))
    one, other = solution(frame, load), solution(replace(frame, members=tuple(map(reversed_, frame.members))), load)
    assert other.displacements == approx(one.displacements, abs=1e-8 * float(np.abs(one.displacements).max()))
