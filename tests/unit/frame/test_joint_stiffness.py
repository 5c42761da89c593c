"""The joint's springs behave as mechanics asks, whatever the numbers."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from framecheck.frame.joint.data import Branch, Chord, Make
from framecheck.frame.joint.stiffness import joint_stiffness

RAIL = Chord(depth=0.100, width=0.050, wall=0.003, closed=True)
CROSS = Branch(depth=0.060, width=0.040, wall=0.003, closed=True)


def bending(chord: Chord, branch: Branch, make: Make = Make.BUTT) -> tuple[float, float]:
    springs = joint_stiffness(chord, branch, make)
    return springs.bending_vertical, springs.bending_sideways


def test_stiffness_follows_the_modulus():
    soft = joint_stiffness(replace(RAIL, e=70e9), replace(CROSS, e=70e9), Make.BUTT)
    stiff = joint_stiffness(RAIL, CROSS, Make.BUTT)
    assert soft.bending_vertical / stiff.bending_vertical == pytest.approx(70 / 200, rel=1e-6)
    assert soft.twist / stiff.twist == pytest.approx(70 / 200, rel=1e-6)


def test_twice_the_size_is_eight_times_the_rotational_stiffness():
    def twice(piece):
        return replace(piece, depth=2 * piece.depth, width=2 * piece.width, wall=2 * piece.wall)

    large, small = joint_stiffness(twice(RAIL), twice(CROSS), Make.BUTT), joint_stiffness(RAIL, CROSS, Make.BUTT)
    assert large.bending_vertical / small.bending_vertical == pytest.approx(8, rel=1e-6)
    assert large.bending_sideways / small.bending_sideways == pytest.approx(8, rel=1e-6)
    assert large.axial / small.axial == pytest.approx(2, rel=1e-6)


@pytest.mark.parametrize("closed", [True, False])
def test_a_thicker_face_is_stiffer(closed):
    rails = [replace(RAIL, wall=wall, closed=closed) for wall in (0.002, 0.003, 0.004, 0.005)]
    for vertical in zip(*(bending(rail, CROSS) for rail in rails), strict=True):
        assert list(vertical) == sorted(vertical)


def test_a_deeper_branch_is_stiffer_up_to_the_full_depth():
    branches = [replace(CROSS, depth=depth) for depth in (0.040, 0.055, 0.070, 0.085, 0.100)]
    for ladder in zip(*(bending(RAIL, branch) for branch in branches), strict=True):
        assert list(ladder) == sorted(ladder)


def test_passing_through_a_tube_is_worth_several_times_a_butt_weld():
    butt, through = bending(RAIL, CROSS), bending(RAIL, CROSS, Make.THROUGH)
    assert through[0] > 4 * butt[0]
    assert through[1] > 4 * butt[1]


def test_a_channel_has_no_second_face():
    rail = replace(RAIL, closed=False)
    assert joint_stiffness(rail, CROSS, Make.THROUGH) == joint_stiffness(rail, CROSS, Make.BUTT)


def test_a_channel_branch_is_softer_than_a_tube_and_leaves_its_twist_to_the_frame():
    channel = replace(CROSS, closed=False)
    assert all(0 < soft < stiff for soft, stiff in zip(bending(RAIL, channel), bending(RAIL, CROSS), strict=True))
    assert joint_stiffness(RAIL, channel, Make.BUTT).twist == inf


def test_a_rail_held_in_shape_nearby_is_stiffer():
    assert bending(replace(RAIL, reach=0.15), CROSS)[0] > bending(RAIL, CROSS)[0]
    assert bending(replace(RAIL, reach=2.0), CROSS) == pytest.approx(bending(RAIL, CROSS), rel=1e-12)


def test_a_branch_deeper_than_the_rail_counts_as_deep_as_the_rail():
    assert bending(RAIL, replace(CROSS, depth=0.140)) == pytest.approx(bending(RAIL, replace(CROSS, depth=0.100)))
