"""Which ends are set apart: by who stands on whom, each both ways round, boundedly many; none where all ends say how they are made."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from framecheck.frame.results import Bound, Joints
from framecheck.frame.solve import structure_of
from framecheck.frame.unlike import MOST, MOST_WHOLE, unlike_bounds
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.loads import Support
from framecheck.model.shapes import RectTube
from framecheck.model.shop_tables import Material
from framecheck.section.analysis import section_properties

SOFT = Bound(joints=Joints.SOFT)
TUBE = RectTube(0.08, 0.05, 0.003, 0.006)
STEEL = Material("steel", 200e9, 80e9, 7850.0, 350e6, 450e6, "for tests")
SECTION = Section("tube", TUBE, STEEL)
BUTT = MemberEnd(make=Make.BUTT)
SIDES = (("l", 0.2), ("r", -0.2))


def ladder(crosses: int, said: frozenset[int] = frozenset()) -> Frame:
    """Return two rails with some crossmembers between them. said: those that are butt-welded."""
    points = {f"{side}{k}": (-0.4 * k, y, 0.0) for side, y in (("l", 0.4), ("r", -0.4)) for k in range(crosses + 2)}
    rails = [
        Member(side, tuple(f"{side}{k}" for k in range(crosses + 2)), (Stretch("tube"),), role="rail") for side in ("l", "r")
    ]
    ends = [BUTT if k in said else MemberEnd() for k in range(1, crosses + 1)]
    across = [Member(f"c{k}", (f"l{k}", f"r{k}"), (Stretch("tube"),), start=made, end=made) for k, made in enumerate(ends, 1)]
    supports = (Support("l0", (float("inf"),) * 6),)
    return Frame(points, (*rails, *across), {"tube": SECTION}, supports)


def stiff_ends(frame: Frame) -> set[frozenset[str]]:
    """Return what is stiff under each bound, by member and point."""
    every = [(n, end) for n, member in enumerate(frame.members) if member.role != "rail" for end in (0, 1)]
    return {
        frozenset(
            f"{frame.members[n].name} {frame.members[n].points[-end]}"
            for n, end in every
            if bound.at_end(n, end) is Joints.STIFF and frame.members[n].start.make is Make.UNSAID
        )
        for bound in unlike_bounds(frame, SOFT)
    }


@pytest.mark.parametrize(("crosses", "many"), [(1, 4), (2, 20), (3, 22), (7, 22), (20, 10), (31, 22)])
def test_a_ladder_of_any_length_has_few_mixtures(crosses: int, many: int) -> None:
    """By hand, each beside the rest soft and beside it stiff: of four ends 4 singles and 6 pairs; of three groups 3, 6 and 2 rails;
    of many members of which every mixture near them is told, 3 and 2."""
    found = list(unlike_bounds(ladder(crosses), SOFT))
    assert len(found) == len({each.name for each in found}) == many


def test_each_member_and_each_end_is_stiff_alone_and_soft_alone() -> None:
    found = stiff_ends(ladder(3))
    every = frozenset(f"c{k} {side}{k}" for k in (1, 2, 3) for side in "lr")
    for k in (1, 2, 3):
        for alone in ({f"c{k} l{k}", f"c{k} r{k}"}, {f"c{k} l{k}"}, {f"c{k} r{k}"}):
            assert {frozenset(alone), every - alone} <= found
    assert {frozenset(each for each in every if f" {side}" in each) for side in "lr"} <= found
    assert not {frozenset(), every} & found


def test_order_and_direction_of_members_change_no_mixture() -> None:
    frame = ladder(5)
    turned = [replace(each, points=each.points[::-1], start=each.end, end=each.start) for each in frame.members[::-1]]
    assert stiff_ends(replace(frame, members=tuple(turned))) == stiff_ends(frame)


def test_ends_that_are_said_are_never_unlike() -> None:
    assert not list(unlike_bounds(ladder(3, frozenset((1, 2, 3))), SOFT))
    assert len(list(unlike_bounds(ladder(3, frozenset((1, 2))), SOFT))) == 4
    assert not any("c1" in each.name for each in unlike_bounds(ladder(3, frozenset((1,))), SOFT))


def test_a_stiff_end_alone_is_rigid_and_all_others_are_soft() -> None:
    """The structure under a mixture has the springs of the soft frame, but for those of the end set apart."""
    frame = ladder(2)
    properties = {"tube": section_properties(SECTION)}
    bound = next(each for each in unlike_bounds(frame, SOFT) if each.apart is not None and len(each.apart.ends) == 1)
    soft, mixed = (structure_of(frame, properties, each).freedoms.slips for each in (SOFT, bound))
    assert bound.joints is Joints.SOFT
    assert (len(soft.piece), len(mixed.piece)) == (24, 18)
    assert np.isin(mixed.stiffness, soft.stiffness).all()


def test_a_brace_from_a_rail_to_a_crossmember_is_set_apart_by_itself() -> None:
    """A brace at the rail's end and the crossmember three places on were stiff together alone: the brace read 2.4 times too well."""
    plain = ladder(3)
    c1 = plain.members[2]
    split = replace(c1, points=("l1", "m", "r1"))
    brace = Member("b", ("l0", "m"), (Stretch("tube"),))
    points = {**plain.points, "m": (-0.4, 0.0, 0.0)}
    found = stiff_ends(replace(plain, points=points, members=(*plain.members[:2], split, *plain.members[3:], brace)))
    assert {frozenset(("b l0",)), frozenset(("b m",)), frozenset(("b l0", "b m"))} <= found
    assert frozenset(("c3 l3", "c3 r3")) in found


def test_outriggers_along_a_rail_are_set_apart_by_every_third() -> None:
    count = 10
    points = {f"r{k}": (-0.2 * k, 0.0, 0.0) for k in range(count + 2)}
    points |= {f"o{k}": (-0.2 * k, 0.3, 0.0) for k in range(1, count + 1)}
    rail = Member("rail", tuple(f"r{k}" for k in range(count + 2)), (Stretch("tube"),), role="rail")
    out = [Member(f"a{k}", (f"r{k}", f"o{k}"), (Stretch("tube"),)) for k in range(1, count + 1)]
    assert len(list(unlike_bounds(Frame(points, (rail, *out), {"tube": SECTION}), SOFT))) == 6


@pytest.mark.parametrize(("groups", "many"), [(MOST + 1, 2 * (MOST + 1)), (MOST_WHOLE, 2 * MOST_WHOLE), (MOST_WHOLE + 1, 0)])
def test_many_members_that_share_no_rail_are_set_apart_whole_or_not_at_all(groups: int, many: int) -> None:
    points = {f"{side}{place} {k}": (-0.4 * place, y + k, 0.0) for k in range(groups) for side, y in SIDES for place in range(3)}
    rails = [
        Member(f"{side} {k}", tuple(f"{side}{place} {k}" for place in range(3)), (Stretch("tube"),), role="rail")
        for k in range(groups)
        for side, _ in SIDES
    ]
    across = [Member(f"c{k}", (f"l1 {k}", f"r1 {k}"), (Stretch("tube"),)) for k in range(groups)]
    assert len(list(unlike_bounds(Frame(points, (*rails, *across), {"tube": SECTION}), SOFT))) == many
