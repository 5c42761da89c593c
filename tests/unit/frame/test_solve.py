"""What the engine promises beyond single beams: axes, offsets, loads, bodies, frames that hang on nothing, self-checks."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from pytest import approx

from framecheck.errors import UnsolvableError
from framecheck.frame.geometry import member_axes
from framecheck.frame.results import Bound, Warping
from framecheck.frame.solve import answered, solve_bounds, solve_frame, structure_of
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Mount, Orientation, StiffBody, Stretch
from framecheck.model.loads import BodyLoad, CaseLoads, MemberLoad, Motion, PointLoad, PointSpring, Support
from tests.unit.frame.at_stations import at
from tests.unit.frame.frames import HELD, PLACED, RIGID, bar, held, push, section, solved

TWO = {"a": (0.0, 0.0, 0.0), "b": (2.0, 0.0, 0.0)}
RAILS = {"L0": (0.0, 0.4, 0.0), "L1": (2.0, 0.4, 0.0), "R0": (0.0, -0.4, 0.0), "R1": (2.0, -0.4, 0.0)}
RING = (bar("left", "L0", "L1"), bar("right", "R0", "R1"), bar("front", "L0", "R0"), bar("rear", "L1", "R1"))
OPEN = section(warping=2e-10, j=2e-9, centroid=(0.012, 0.0), shear_centre=(0.03, 0.0), i_product=0.0)


def test_member_axes_follow_the_conventions() -> None:
    """z nearest to up; a member drawn left to right has its y forward; a vertical one has its y to the left."""
    axes = member_axes(np.array([[1.0, 0, 0], [0, -1.0, 0], [0, 0, 1.0], [0.6, 0, 0.8]]))
    assert axes[0, 1:].tolist() == [[0, 1, 0], [0, 0, 1]]
    assert axes[1, 1:] == approx(np.array([[1.0, 0, 0], [0, 0, 1.0]]))
    assert axes[2, 1] == approx([0, 1, 0])
    assert axes[3, 2] == approx([-0.8, 0, 0.6])


@pytest.mark.parametrize(
    ("lie", "expected"),
    [
        (Orientation(), (0.03, 0.01)),
        (Orientation(mirrored=True), (-0.03, 0.01)),
        (Orientation(1), (-0.01, 0.03)),
        (Orientation(2), (-0.03, -0.01)),
        (Orientation(1, mirrored=True), (-0.01, -0.03)),
    ],
)
def test_a_section_turns_with_its_member(lie: Orientation, expected: tuple[float, float]) -> None:
    """First mirrored, then turned right-handed about x (left to up): where the shear centre goes shows in the torque."""
    askew = section(shear_centre=(0.03, 0.01))
    frame = held(TWO, (replace(bar("m", "a", "b"), orientation=lie),), "a")
    found = solved(frame, push("b", (0.0, 0.0, -1000.0)), push("b", (0.0, 1000.0, 0.0), name="side"), of=askew)
    torque = found.members[0].member_forces[0, :, 3]
    assert torque == approx([1000.0 * expected[0], 1000.0 * expected[1]])


def test_forces_are_told_in_the_sections_own_axes_too() -> None:
    """A quarter turn: what bends the member vertically bends the section sideways."""
    frame = held(TWO, (replace(bar("m", "a", "b"), orientation=Orientation(1)),), "a")
    member = solved(frame, push("b", (0.0, 0.0, -1000.0))).members[0]
    assert member.member_forces[0, 0, 4] == approx(2000.0)  # tension at the top
    assert member.forces[0, 0, 5] == approx(2000.0)  # the section's left now looks up
    assert member.forces[0, 0, 4] == approx(0.0, abs=1e-9)


def test_mirrored_rail_answers_as_its_mirror_image() -> None:
    """Torque and bimoment change their sign in the section's own axes, bending does not."""
    fixed = MemberEnd(Make.RIGID)
    frames = [
        held(TWO, (replace(bar("m", "a", "b", start=fixed, end=fixed), orientation=Orientation(mirrored=flip)),), "a")
        for flip in (False, True)
    ]
    left, right = (solved(frame, push("b", (0.0, 0.0, -1000.0)), of=OPEN) for frame in frames)
    assert right.displacements[1, 0] == approx(left.displacements[1, 0] * [1, -1, 1, -1, 1, -1], abs=1e-15)
    assert right.members[0].forces == approx(left.members[0].forces, rel=1e-9, abs=1e-9)
    assert right.members[0].member_forces[:, 0, 3] == approx(-left.members[0].member_forces[:, 0, 3])


def test_a_roll_turns_the_section_and_not_the_member() -> None:
    """Product of inertia by the rule of rotation: Iyz = (Iv - Is) sin(2 roll)/2; here through the sideways move."""
    rolled = replace(bar("m", "a", "b"), roll=0.3)
    found = solved(held(TWO, (rolled,), "a"), push("b", (0.0, 0.0, -1000.0)))
    c, s = np.cos(0.3), np.sin(0.3)
    # member axes from the section's own: y = c ys - s zs, z = s ys + c zs
    by_hand = np.array([[c, -s], [s, c]]) @ np.diag([4e-7, 1e-6]) @ np.array([[c, s], [-s, c]])
    expected = np.linalg.inv(200e9 * by_hand) @ [0.0, -1000.0] * 8 / 3
    assert found.displacements[1, 0, 1:3] == approx(expected)


def test_own_weight_acts_at_the_centroid() -> None:
    """g on a cantilever whose centroid lies beside its shear centre: it twists by the arm between them."""
    case = CaseLoads("g", motion=Motion((0.0, 0.0, -9.81)))
    found = solved(held(TWO, (bar("m", "a", "b"),), "a"), case, of=replace(OPEN, closed=True))
    weight = 7.85 * 9.81 * 2.0
    assert found.reactions["a"][0, 2] == approx(weight)
    assert found.members[0].member_forces[0, 0, 3] == approx(weight * 0.03)
    assert all(check.holds for check in found.self_checks)


def test_spinning_frame_feels_its_angular_acceleration() -> None:
    """Torque of a rod of mass M about its end: M L^2/3 times the angular acceleration; mechanics texts, from memory."""
    found = solved(held(TWO, (bar("m", "a", "b"),), "a"), CaseLoads("spin", motion=Motion(angular=(0.0, 0.0, 3.0))))
    assert found.reactions["a"][0, 5] == approx(7.85 * 2.0 * 4.0 / 3 * 3.0)
    assert found.balance[0] < 1e-12


def test_loads_on_a_rigid_arm_reach_the_point() -> None:
    """A member that starts 0.3 m out on an arm, loaded all along from its point: nothing is lost."""
    armed = replace(RIGID, arm=(0.3, 0.0, 0.0))
    frame = held(TWO, (bar("m", "a", "b", start=armed),), "a")
    all_along = MemberLoad("m", (0.0, 0.0, -100.0), (0.0, 0.0, -100.0))
    on_arm = MemberLoad("m", (0.0, 0.0, -50.0), (0.0, 0.0, -50.0), 0.1, 0.1)
    found = solved(frame, CaseLoads("line", member_loads=(all_along, on_arm)))
    assert found.reactions["a"][0, 2] == approx(250.0)
    assert found.reactions["a"][0, 4] == approx(-(200.0 * 1.0 + 50.0 * 0.1))
    assert found.members[0].stations[0] == approx(0.3)
    assert found.balance[0] < 1e-12


def test_spring_between_points_balances_whatever_way_it_works() -> None:
    points = {**TWO, "c": (2.0, 0.5, 0.3), "d": (4.0, 0.5, 0.3)}
    spring = PointSpring("s", ("b", "c"), (1e5, 2e5, 3e5, 1e3, 2e3, 3e3))
    frame = Frame(points, (bar("m", "a", "b"), bar("n", "c", "d")), {}, (Support("a", HELD),), (spring,))
    found = solved(frame, push("d", (100.0, -200.0, 300.0)))
    assert found.balance[0] < 1e-10
    assert all(check.holds for check in found.self_checks)


def test_body_on_mounts_hands_its_load_to_the_frame() -> None:
    """Three mounts, the load on the line between two of them, a third of the way: two thirds, one third, nothing (levers)."""
    points = {"a": (0.0, 0.0, 0.0), "b": (1.0, 0.0, 0.0), "c": (4.0, 0.0, 0.0), "e": (2.0, 1.0, 0.0)}
    mounts = tuple(Mount(point, (1e5, 1e5, each)) for point, each in (("b", 1e5), ("c", 3e5), ("e", 2e5)))
    engine = StiffBody("engine", 300.0, (2.0, 0.0, 0.0), mounts)
    members = (bar("m", "a", "b", "c"), bar("arm", "a", "e"))
    frame = Frame(points, members, {}, (Support("a", HELD),), stiff_bodies=(engine,))
    found = solved(frame, CaseLoads("drop", body_loads=(BodyLoad("engine", (0.0, 0.0, -900.0)),)))
    down = {point: float(force[0, 2]) for (_, point), force in found.mounts.items()}
    assert down == approx({"b": -600.0, "c": -300.0, "e": 0.0}, abs=1e-6)
    assert found.balance[0] < 1e-10


def test_two_mounts_on_one_point_act_together() -> None:
    points = {**TWO, "e": (1.0, 1.0, 0.0)}
    twice = tuple(Mount(point, (1e5, 1e5, 1e5)) for point in ("b", "b", "a", "e"))
    engine = StiffBody("engine", 300.0, (1.0, 0.2, 0.1), twice)
    frame = Frame(points, (bar("m", "a", "b"), bar("n", "a", "e")), {}, (Support("a", HELD),), stiff_bodies=(engine,))
    found = solved(frame, CaseLoads("drop", body_loads=(BodyLoad("engine", (10.0, 20.0, -900.0)),)))
    assert sum(force[0] for force in found.mounts.values()) == approx(np.array([10.0, 20.0, -900.0]))


def balanced(name: str = "twist") -> CaseLoads:
    up, down = (0.0, 0.0, 500.0), (0.0, 0.0, -500.0)
    return CaseLoads(name, tuple(PointLoad(p, f) for p, f in (("L0", up), ("L1", down), ("R0", down), ("R1", up))), free_free=True)


def test_a_frame_afloat_is_measured_from_its_mean_plane() -> None:
    """Twisted by forces in balance: the four corners move up and down alike, no net move or turn."""
    found = solved(Frame(RAILS, RING, {}, (Support("L0", HELD),)), balanced(), replace(balanced("asked"), reference=tuple(RAILS)))
    rise = found.displacements[:, 1, 2]
    assert rise == approx(np.array([1.0, -1.0, -1.0, 1.0]) * rise[0])
    assert rise[0] > 0
    assert found.energy[0] == approx(found.energy[1])
    assert found.reactions["L0"] == approx(np.zeros((2, 6)))
    assert found.balance.max() < 1e-9


def test_afloat_and_held_cases_go_together() -> None:
    frame = Frame(RAILS, RING, {}, tuple(Support(point, PLACED) for point in ("L0", "R0", "L1")))
    both = solved(frame, balanced(), push("R1", (0.0, 0.0, 500.0), name="held"))
    assert both.energy[0] == approx(both.energy[1], rel=1e-9)  # the three supports push back with the same forces
    assert not np.allclose(both.displacements[:, 0], both.displacements[:, 1])


def test_loads_that_do_not_balance_are_refused() -> None:
    lopsided = replace(balanced(), point_loads=balanced().point_loads[:3])
    with pytest.raises(UnsolvableError, match="load case 'twist' hangs on nothing but its loads leave"):
        solved(Frame(RAILS, RING, {}), lopsided)


def test_frame_in_a_line_cannot_hang_on_nothing() -> None:
    with pytest.raises(UnsolvableError, match="lie in one"):
        solved(Frame(TWO, (bar("m", "a", "b"),), {}), CaseLoads("still", free_free=True))


def test_at_is_exact_between_stations() -> None:
    """Growing load on a cantilever: M = w (L - x)^3 / 6L, tension at the top."""
    frame = held(TWO, (bar("m", "a", "b"),), "a")
    load = CaseLoads("grow", member_loads=(MemberLoad("m", (0.0, 0.0, -300.0), (0.0, 0.0, 0.0)),))
    found = at(answered(structure_of(frame, {"s": section()}), [load]), "m", [0.123, 1.777])
    expected = [300.0 * (2.0 - x) ** 3 / (6 * 2.0) for x in (0.123, 1.777)]
    assert found.forces[:, 0, 4] == approx(expected, rel=1e-12)
    assert found.stations == approx([0.123, 1.777])


def test_a_point_moves_as_both_lengths_that_meet_there_say() -> None:
    """The first length begins on an arm, so it ends before the point's station; a hair before that is still the point."""
    points = {"a": (0.0, 0.0, 0.5), "b": (1.0, 0.0, 0.0), "c": (2.0, 0.0, 0.0)}
    frame = held(points, (bar("m", "a", "b", "c", start=replace(RIGID, arm=(0.0, 0.0, -0.5))),), "a")
    before = 1.25**0.5 - 1e-9
    found = at(answered(structure_of(frame, {"s": section()}), [push("c", (0.0, 0.0, -100.0))]), "m", [before, before + 2e-9])
    assert found.displacements[0, 0] == approx(found.displacements[1, 0], rel=1e-6)


def test_bounds_are_told_at_the_same_stations() -> None:
    unsaid = MemberEnd(Make.RIGID)
    frame = held(TWO, (bar("m", "a", "b", start=unsaid, end=unsaid),), "a", "b")
    loads = [CaseLoads("part", member_loads=(MemberLoad("m", (0.0, 0.0, -300.0), (0.0, 50.0, 0.0), 0.2, 1.1),))]
    structures = [structure_of(frame, {"s": OPEN}, Bound(warping)) for warping in Warping]
    free, fixed = solve_bounds(structures, loads)
    assert free.members[0].stations.tolist() == fixed.members[0].stations.tolist()


def test_symmetry_is_checked_where_there_is_symmetry() -> None:
    frame = held(RAILS, RING, "L0", "R0")
    both = (PointLoad("L1", (0.0, 0.0, -100.0)), PointLoad("R1", (0.0, 0.0, -100.0)))
    found = solved(frame, CaseLoads("even", both, motion=Motion((0.0, 0.0, -9.81))), push("L1", (0.0, 0.0, -100.0), name="one side"))
    named = [check.load_case for check in found.self_checks if check.name == "symmetry"]
    assert named == ["even"]
    assert all(check.holds for check in found.self_checks)


def test_lost_digits_are_said() -> None:
    """A short member a hundred thousand times stiffer than its long neighbour."""
    stiff = {"s": section(), "t": section("t", area=1e2, i_vertical=1e-1, i_sideways=1e-1, j=1e-1)}
    points = {**TWO, "c": (2.02, 0.0, 0.0)}
    frame = held(points, (bar("m", "a", "b"), bar("n", "b", "c", of="t")), "a")
    check = solve_frame(structure_of(frame, stiff), [push("c", (0.0, 0.0, 1.0))]).self_checks[-1]
    assert check.name == "digits lost"
    assert not check.holds


def test_energies_of_members_add_up_to_the_whole() -> None:
    found = solved(held(RAILS, RING, "L0", "R0"), push("R1", (0.0, 0.0, 500.0)))
    assert sum(float(each[0]) for each in found.energies.values()) == approx(found.energy[0])
    assert found.energy[0] == approx(0.5 * 500.0 * found.displacements[3, 0, 2])


def test_member_ends_hand_over_what_the_points_need() -> None:
    """At a free corner the ends of its two members and the load balance."""
    found = solved(held(RAILS, RING, "L0", "R0"), push("R1", (30.0, -20.0, 500.0), (1.0, 2.0, 3.0)))
    given = found.member_ends["right"][0, 1] + found.member_ends["rear"][0, 1]
    assert given == approx([-30.0, 20.0, -500.0, -1.0, -2.0, -3.0], abs=1e-6)


def test_a_member_of_two_sections_is_two_members_end_to_end() -> None:
    """One member with a change of section along it, offsets and all, against two members joined at a point."""
    two = {"s": section(centroid=(0.0, 0.01)), "t": section("t", i_vertical=2e-6, centroid=(0.005, -0.01))}
    points = {"a": (0.0, 0.0, 0.0), "p": (0.7, 0.0, 0.0), "b": (2.0, 0.0, 0.0)}
    one = Member("m", ("a", "b"), (Stretch("s", 0.7), Stretch("t")), start=RIGID, end=RIGID)
    joined = (bar("m", "a", "p"), bar("n", "p", "b", of="t"))
    case = push("b", (400.0, 300.0, -1000.0), (20.0, 0.0, 0.0))
    whole, parts = (
        solve_frame(structure_of(held(points if len(m) > 1 else {"a": points["a"], "b": points["b"]}, m, "a"), two), [case])
        for m in ((one,), joined)
    )
    assert whole.displacements[-1] == approx(parts.displacements[-1])
    assert {each.name for each in whole.members[0].sections} == {"s", "t"}


def test_given_rigid_springs_are_rigid() -> None:
    rigid = PointSpring("r", ("b", "c"), (inf,) * 6)
    points = {**TWO, "c": (2.0, 0.0, 0.2)}
    found = solved(Frame(points, (bar("m", "a", "b"),), {}, (Support("a", HELD),), (rigid,)), push("c", (100.0, 0.0, 0.0)))
    turn = float(found.displacements[1, 0, 4])
    assert found.displacements[2, 0, 0] == approx(found.displacements[1, 0, 0] + 0.2 * turn, rel=1e-3)
