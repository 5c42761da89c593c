"""How ends hang on rails: seats on faces, what is kept between runs, flange to flange, pins."""

from __future__ import annotations

from dataclasses import replace
from math import inf
from zlib import crc32

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.end_arms import foot_on_face
from framecheck.frame.joint.data import BranchMake as JointMake
from framecheck.frame.joint.data import tube_branch, tube_chord
from framecheck.frame.joint.stiffness import joint_stiffness
from framecheck.frame.joints import hangs_of, seats_of
from framecheck.frame.number_cache import joint_springs
from framecheck.frame.open_ends import leaves_joints_open, open_ends
from framecheck.frame.results import Bound, Joints
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.frame.stand_in import MODEL_ERROR, Unmodelled
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Orientation, Section, Stretch
from framecheck.model.joining import Cap, EndFinish
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.model.shapes import Channel, Plate, Plated, RectTube, RoundBar, RoundTube, Shape, Side, Sleeve
from framecheck.model.shop_tables import Material
from tests.memory import Memory
from tests.unit.frame.frames import HELD, RIGID, bar, section

STEEL = Material("steel", 200e9, 80e9, 7850.0, 350e6, 450e6, "for tests")
TUBE, CROSS, CHANNEL = RectTube(0.1, 0.05, 0.003), RectTube(0.06, 0.04, 0.003), Channel(0.1, 0.05, 0.003, 0.003)

AS_DRAWN = Orientation()
SOFT, STIFF = Bound(joints=Joints.SOFT), Bound(joints=Joints.STIFF)


def frame(
    rail: Shape, cross: Shape = CROSS, make: Make = Make.UNSAID, lie: Orientation = AS_DRAWN, side: float = -1.0
) -> Frame:
    points = {"a": (0.0, 0.0, 0.0), "m": (1.0, 0.0, 0.0), "b": (2.0, 0.0, 0.0), "t": (1.0, 0.5 * side, 0.0)}
    sections = {"rail": Section("rail", rail, STEEL), "cross": Section("cross", cross, STEEL)}
    members = (
        Member("rail", ("a", "m", "b"), (Stretch("rail"),), lie, RIGID, RIGID, role="rail"),
        bar("cross", "m", "t", start=MemberEnd(make), of="cross"),
    )
    return Frame(points, members, sections, (Support("a", HELD), Support("b", HELD)))


def test_a_crossmember_sits_on_the_near_face_of_a_tube() -> None:
    """Half the width less half the wall from the axis; wall and sizes as the joint model wants them."""
    (where,) = seats_of(frame(TUBE)).values()
    assert where.arm == approx([0.0, -(0.025 - 0.0015), 0.0])
    assert where.axes == approx(np.array([[1.0, 0, 0], [0, -1.0, 0], [0, 0, -1.0]]))
    assert (*where.chord.outline.sizes, where.chord.wall) == approx((0.047, 0.097, 0.003))
    assert where.chord.outline.closed
    assert where.chord.face == approx((-0.0485, 0.0485))
    assert where.branch.outline.sizes == approx((0.037, 0.057))


def test_a_rail_on_its_side_shows_its_other_sizes() -> None:
    (where,) = seats_of(frame(TUBE, lie=Orientation(1))).values()
    assert where.arm == approx([0.0, -(0.05 - 0.0015), 0.0])
    assert where.chord.outline.sizes == approx((0.097, 0.047))


@pytest.mark.parametrize(("mirrored", "side"), [(False, 1.0), (False, -1.0), (True, 1.0), (True, -1.0)])
def test_a_channel_is_met_on_its_web_from_either_side(mirrored: bool, side: float) -> None:
    """The web of the letter C is on the left; mirrored, on the right."""
    (where,) = seats_of(frame(CHANNEL, lie=Orientation(mirrored=mirrored), side=side)).values()
    assert where.arm[1] == approx((-1.0 if mirrored else 1.0) * (0.025 - 0.0015))
    assert not where.chord.outline.closed


@pytest.mark.parametrize(("ends", "depth"), [(("m", "t"), 0.06), (("t", "m"), 0.08)])
def test_a_crossmember_of_two_sections_sits_with_the_one_at_the_rail(ends: tuple[str, str], depth: float) -> None:
    """Stretches run from a member's first point (as the input says): 60 deep from there, 80 deep to its last point."""
    plain = frame(TUBE)
    deep = Section("deep", RectTube(0.08, 0.04, 0.003), STEEL)
    cross = Member("cross", ends, (Stretch("cross", 0.25), Stretch("deep")))
    made = replace(plain, members=(plain.members[0], cross), sections={**plain.sections, "deep": deep})
    (where,) = seats_of(made).values()
    assert where.branch.outline.sizes[1] == approx(depth - 0.003)


def test_what_no_model_covers_is_seated_on_a_stand_in() -> None:
    """A round rail, a solid bar, a crossmember askew: each opens its range, and none of them is silently rigid."""
    askew = frame(TUBE)
    askew = replace(askew, points={**askew.points, "t": (2.0, -0.3, 0.0)})
    found = {
        Unmodelled.SHAPES: [frame(RoundTube(0.06, 0.003), make=Make.BUTT), frame(TUBE, RoundBar(0.02))],
        Unmodelled.ASKEW: [askew],
        Unmodelled.GUSSETS: [frame(TUBE, make=Make.GUSSETED)],
        Unmodelled.FOOT_PLATE: [frame(TUBE, make=Make.ON_PLATE), frame(TUBE, make=Make.BOLTED)],
    }
    for why, frames in found.items():
        for each in frames:
            assert [one.why for one in open_ends(each)] == [why]
            assert leaves_joints_open(each)
            assert tip(each, SOFT) > tip(each, STIFF)


@pytest.mark.parametrize("make", [Make.UNSAID, Make.BUTT, Make.BOLTED, Make.ON_TOP])
def test_an_arm_of_a_hair_is_none(make: Make) -> None:
    """Heights of rail and crossmember written in other words differ by a hair: it sits on the face all the same, and a rail in two
    parts runs on. An arm of nothing sat on the face, one of 15 nm at the rail's middle: 6 % in a bracket of the coupe.
    """
    hair = (0.0, 0.0, 1.5e-8)
    flat = frame(TUBE, make=make)
    lifted = replace(flat, members=(flat.members[0], replace(flat.members[1], start=MemberEnd(make, arm=hair))))
    line, cross = flat.members
    parts = [replace(line, name=name, points=points) for name, points in (("first", ("a", "m")), ("second", ("m", "b")))]
    whole = replace(parts[0], end=MemberEnd()), replace(parts[1], start=MemberEnd())
    offset = whole[0], replace(whole[1], start=MemberEnd(arm=hair))
    halves = [replace(flat, members=(*each, cross)) for each in (whole, offset)]
    for bound in (SOFT, STIFF):
        assert tip(lifted, bound) == approx(tip(flat, bound), rel=1e-6)
        assert tip(halves[1], bound) == approx(tip(halves[0], bound), rel=1e-6)


@pytest.mark.parametrize("make", [Make.UNSAID, Make.BUTT, Make.BOLTED, Make.ON_TOP])
@pytest.mark.parametrize(("way", "web"), [((0.0, 0.0, 1.0), False), ((0.0, -1.0, 0.0), True), ((0.6, 0.5, -0.4), True)])
def test_no_step_of_an_arm_moves_an_end_at_once(make: Make, way: tuple[float, float, float], web: bool) -> None:
    """An arm of 2 um took the crossmember off the rail's face, to its middle: a jump. From nothing to 3 mm, in random sizes, the far
    end moves by no more than the arm makes it.
    """
    rng = np.random.default_rng(crc32(repr((make.value, way)).encode()))
    height, width, wall = (float(rng.uniform(*each)) for each in ((0.09, 0.12), (0.045, 0.07), (0.0028, 0.005)))
    rail = Channel(height, width, wall, wall) if web else RectTube(height, width, wall)
    flat = frame(rail, RectTube(float(rng.uniform(0.05, 0.07)), 0.04, 0.003), make=make)
    sizes = (0.0, 1e-7, 9e-7, 1.1e-6, 2e-6, 1e-5, 1e-4, 3e-3)
    for bound in (SOFT, STIFF):
        found = []
        for size in sizes:
            x, y, z = (size * each for each in way)
            armed = replace(flat.members[1], start=MemberEnd(make, arm=(x, y, z)))
            found.append(tip(replace(flat, members=(flat.members[0], armed)), bound))
        for size, moved in zip(sizes, found, strict=True):
            assert abs(moved / found[0] - 1.0) < 1e-6 + 20.0 * size


def test_an_arm_within_the_rail_ends_at_its_face_and_one_beyond_it_where_it_says() -> None:
    """By hand: the face's middle plane is at 25 - 1.5 = 23.5 mm; an end 10 mm out and 7 mm up goes on to it along the line to the far
    end; 40 mm out stays. A channel's web that is met from inside lies as far behind the point.
    """
    for rail, said, within in (
        (TUBE, (0.0, -0.010, 0.007), True),
        (TUBE, (0.0, 0.010, 0.0), True),
        (TUBE, (0.002, -0.0235, 0.0), False),
        (TUBE, (0.0, -0.040, -0.003), False),
        (CHANNEL, (0.0, 0.0, 0.007), True),
        (CHANNEL, (0.0, 0.010, 0.007), True),
        (CHANNEL, (0.0, -0.040, 0.0), False),
    ):
        flat = frame(rail, make=Make.BUTT)
        members = flat.members[0], replace(flat.members[1], start=MemberEnd(Make.BUTT, arm=said))
        armed = replace(flat, members=members)
        (hang,) = (each for each in hangs_of(armed, SOFT, None) if (each.member, each.end) == (1, 0))
        begun, face = np.array(said), 0.0235 if rail is CHANNEL else -0.0235
        far = np.subtract(flat.points["t"], flat.points["m"])
        arm = begun + (far - begun) * (face - begun[1]) / (far[1] - begun[1]) if within else begun
        assert hang.arm == approx(arm)
        (where,) = seats_of(armed).values()
        assert foot_on_face((where.arm, where.axes[1]), begun) == approx(np.array([arm[0], face, arm[2]]))


@pytest.mark.parametrize("rail", [TUBE, CHANNEL])
def test_a_rail_in_two_members_carries_a_joint_as_one_does(rail: Shape) -> None:
    """Written as one member or as two that meet at the joint: the same to 1e-6, near an end of the rail too."""
    whole = frame(rail, make=Make.BUTT)
    whole = replace(whole, points={**whole.points, "b": (1.1, 0.0, 0.0)}, supports=whole.supports[:1])
    line, cross = whole.members
    first = replace(line, name="first", points=("a", "m"), end=MemberEnd(), start=line.start)
    second = replace(line, name="second", points=("m", "b"), start=MemberEnd(), end=line.end)
    for bound in (SOFT, STIFF):
        one, two = (tip(each, bound) for each in (whole, replace(whole, members=(first, second, cross))))
        assert one == approx(two, rel=1e-6)


def test_what_the_file_leaves_of_a_rails_end_is_solved_open_and_closed() -> None:
    """Unsaid between open and held in shape, as the thickest plate does; far off it asks for nothing; said, there is one answer."""

    def ended(cap: Cap, at: float = 1.1) -> Frame:
        near = frame(TUBE, make=Make.BUTT)
        rail = replace(near.members[0], end=MemberEnd(Make.RIGID, cap=cap))
        return replace(near, points={**near.points, "b": (at, 0.0, 0.0)}, members=(rail, near.members[1]), supports=near.supports[:1])

    unsaid, bare, closed = ended(Cap()), ended(Cap(EndFinish.OPEN)), ended(Cap(EndFinish.PLATE, 0.003))
    assert [each.near_end for each in open_ends(unsaid)] == [True]
    assert not any(map(leaves_joints_open, (bare, closed, ended(Cap(), 2.0), ended(Cap(EndFinish.RUNS_ON)))))
    thick = ended(Cap(EndFinish.PLATE, 0.05))
    assert tip(unsaid, SOFT) == approx(tip(bare))
    assert tip(closed) > tip(thick) >= tip(unsaid, STIFF) == approx(tip(thick), rel=0.03)
    assert tip(bare) > tip(ended(Cap(EndFinish.RUNS_ON))) > tip(closed)


def test_a_sleeved_or_plated_rail_is_no_softer_than_what_it_is_made_of() -> None:
    """What lies within the tube or on it only adds: the soft end is 0.8 of the bare tube's springs, from the same face."""
    bare = frame(TUBE, make=Make.BUTT)
    (own,) = seats_of(bare).values()
    for rail in (Sleeve(TUBE, RectTube(0.094, 0.044, 0.003)), Plated(TUBE, (Plate(Side.TOP, 0.04, 0.004),))):
        (where,) = seats_of(frame(rail, make=Make.BUTT)).values()
        assert (where.chord, where.share, where.unmodelled) == (own.chord, MODEL_ERROR, Unmodelled.SHAPES)
        assert where.arm == approx(own.arm)


def test_rigid_as_written_is_rigid_whatever_meets() -> None:
    assert not leaves_joints_open(frame(RoundTube(0.06, 0.003), make=Make.RIGID))
    assert [one.why for one in open_ends(frame(TUBE))] == [None]
    assert leaves_joints_open(frame(TUBE))


def tip(of: Frame, bound: Bound = STIFF) -> float:
    solution = solve_frame(
        structure_of(of, {name: section(name) for name in of.sections}, bound),
        [CaseLoads("p", (PointLoad("t", (0, 0, -1e3)),))],
    )
    return float(-solution.displacements[3, 0, 2])


def test_gusseted_lies_between_butt_and_rigid_which_is_stiffest() -> None:
    """Two gussets at mid-height add 1 % about the rail in a shell model (tests/verification/joint_kinds_shell.yaml)."""
    sag = {make: tip(frame(TUBE, make=make)) for make in (Make.BUTT, Make.THROUGH, Make.RIGID)}
    assert sag[Make.BUTT] > sag[Make.THROUGH] > sag[Make.RIGID]
    gusseted = frame(TUBE, make=Make.GUSSETED)
    assert (tip(gusseted, SOFT), tip(gusseted, STIFF)) == (sag[Make.BUTT], approx(sag[Make.RIGID], rel=1e-3))


def test_pinned_bends_no_more_but_twists_on() -> None:
    """A pinned foot under a beam: no moment at the pin, torque passes."""
    points = {"a": (0.0, 0.0, 0.0), "b": (2.0, 0.0, 0.0)}
    pinned = bar("m", "a", "b", end=MemberEnd(Make.PINNED))
    case = CaseLoads("both", (PointLoad("b", (0.0, 0.0, 0.0), (50.0, 0.0, 0.0)),))
    held = Frame(points, (pinned,), {}, (Support("a", HELD), Support("b", (0.0, inf, inf, 0.0, inf, inf))))
    found = solve_frame(structure_of(held, {"s": section()}), [case])
    assert found.members[0].forces[:, 0, 3] == approx(50.0)
    assert found.members[0].forces[-1, 0, 4:6] == approx([0.0, 0.0], abs=1e-9)


OPEN = section(warping=3e-10, j=2e-9)
WIDE = replace(OPEN, name="wide", box=(-0.02, 0.02, -0.1, 0.1))


def flanged(make: Make, warping: EndWarping) -> float:
    """Return the twist of an open crossmember between two open rails."""
    points = {f"{s}{k}": (1.0 * k, y, 0.0) for s, y in (("L", 0.4), ("R", -0.4)) for k in range(3)}
    fixed = MemberEnd(Make.RIGID, EndWarping.FIXED)
    rails = tuple(bar(s, f"{s}0", f"{s}1", f"{s}2", start=fixed, end=fixed, of="wide") for s in "LR")
    cross = bar("c", "L1", "R1", start=MemberEnd(make, warping), end=MemberEnd(make, warping))
    ends = tuple(Support(f"{s}{k}", HELD) for s in "LR" for k in (0, 2))
    case = CaseLoads("t", (PointLoad("L1", (0, 0, 0), (0, 10.0, 0)), PointLoad("R1", (0, 0, 0), (0, -10.0, 0))))
    found = solve_frame(structure_of(Frame(points, (*rails, cross), {}, ends), {"s": OPEN, "wide": WIDE}), [case])
    assert all(check.holds for check in found.self_checks)
    return float(found.displacements[1, 0, 4])


def test_flange_to_flange_passes_warping_to_the_rail() -> None:
    """Stiffer than free, softer than held: the rails' flanges give."""
    free, held = (flanged(Make.RIGID, each) for each in (EndWarping.FREE, EndWarping.FIXED))
    assert held < flanged(Make.FLANGES, EndWarping.UNSAID) < free


PAIR = tube_chord(0.1, 0.05, 0.003), tube_branch(0.06, 0.04, 0.003)


def test_springs_are_kept_exactly() -> None:
    store = Memory()
    fresh = joint_springs(*PAIR, JointMake.BUTT, store)
    assert fresh == joint_stiffness(*PAIR, JointMake.BUTT)
    (key,) = store.kept
    ones = b" ".join([b"0x1p+0"] * 7)
    store.kept[key] = ones + f" {crc32(ones):x}".encode()
    assert joint_springs(*PAIR, JointMake.BUTT, store).axial == 1.0


@pytest.mark.parametrize("damage", [b"", b"0x1p+0", b"\xff\xfe", b"u v w x y z"])
def test_damaged_numbers_are_found_anew(damage: bytes) -> None:
    store = Memory()
    fresh = joint_springs(*PAIR, JointMake.BUTT, store)
    store.kept = dict.fromkeys(store.kept, damage)
    assert joint_springs(*PAIR, JointMake.BUTT, store) == fresh


def test_a_post_that_leans_alike_both_ways_is_not_torn_between_two_quarter_turns() -> None:
    """Its section lies at 45 degrees to the rail: a hair more of lean took it in the next quarter turn, and gave other springs."""
    found = []
    for lean in (0.1, 0.1 * (1 + 1e-7), 0.1 * (1 - 1e-7)):
        made = frame(TUBE, make=Make.BUTT)
        tall = replace(made, points={**made.points, "t": (1.0 - lean, -0.1, 0.9)})
        hang = next(each for each in hangs_of(tall, Bound(), Memory()) if tall.members[each.member].points[-each.end] == "m")
        found.append(hang.stiffness)
    assert found[1] == pytest.approx(found[0], rel=1e-4)
    assert found[2] == pytest.approx(found[0], rel=1e-4)
