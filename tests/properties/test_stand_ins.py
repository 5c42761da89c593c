"""Stand-ins for shapes whose joints no model covers: continuous in every size, softer than a model where one is known."""

from __future__ import annotations

from dataclasses import fields, replace
from math import isinf, pi

import numpy as np
import pytest

from framecheck.frame.joint.data import Branch, BranchMake, Chord, channel_outline, tube_branch, tube_chord
from framecheck.frame.joint.stiffness import joint_stiffness
from framecheck.frame.stand_in import MODEL_ERROR, OPEN_FOOTPRINT, TubeOutline, as_branch, as_rail, box, sizes
from framecheck.model.shapes import (
    Angle,
    Flat,
    GivenProperties,
    Hat,
    IShape,
    OutlinePolygon,
    RoundBar,
    RoundTube,
    Shape,
    ZShape,
)
from tests.properties.test_smooth_joints import MOVES, STEP, springs

SEED, DRAWN = 20261126, 24
RAIL = tube_chord(0.1, 0.05, 0.003)


def drawn(number: int) -> Shape:
    """Return a shape of random size, the same each time, one kind after another."""
    rng = np.random.default_rng((SEED, number))
    tall, wide, wall = rng.uniform(0.03, 0.09), rng.uniform(0.03, 0.09), rng.uniform(0.0015, 0.006)
    corner = ((0.0, 0.0), (wide, 0.0), (wide, tall / 3), (0.0, tall))
    kinds: tuple[Shape, ...] = (
        RoundTube(tall, wall),
        Hat(tall, wide, 0.02, wall),
        Angle(tall, wide, wall),
        IShape(tall, wide, wall, 1.2 * wall),
        ZShape(tall, wide, wall),
        Flat(tall, wall),
        RoundBar(tall / 2),
        OutlinePolygon(corner),
        GivenProperties(5e-4, 5e-4 * tall**2 / 6, 5e-4 * wide**2 / 6, 1e-8),
    )
    return kinds[number % len(kinds)]


def grown(shape: Shape, which: int) -> Shape:
    """Return the shape with one of its sizes larger by STEP of itself."""
    if isinstance(shape, OutlinePolygon):
        return OutlinePolygon(tuple((y * (1 + STEP), z) for y, z in shape.exterior))
    names = [each.name for each in fields(shape) if isinstance(getattr(shape, each.name), float) and getattr(shape, each.name)]
    name = names[which % len(names)]
    return replace(shape, **{name: getattr(shape, name) * (1 + STEP)})


def on_a_box(foot: TubeOutline) -> list[float]:
    middle = foot.height - foot.wall if foot.round else 0.0
    return springs(joint_stiffness(RAIL, tube_branch(foot.height, foot.width, foot.wall, round=middle), BranchMake.BUTT))


def under_a_box(rail: TubeOutline) -> list[float]:
    chord = tube_chord(rail.height, rail.width, rail.wall) if rail.closed else channel_chord(rail.height, rail.width, rail.wall)
    return springs(joint_stiffness(chord, tube_branch(0.03, 0.03, 0.002), BranchMake.BUTT))


def channel_chord(depth: float, width: float, wall: float) -> Chord:
    return Chord(channel_outline(width - wall / 2, depth - wall, wall))


@pytest.mark.parametrize("number", range(DRAWN))
def test_no_size_makes_a_stand_in_jump(number: int) -> None:
    """As branch on a box and as rail under one."""
    shape = drawn(number)
    moved = grown(shape, number // 9)
    for before, after in (
        (on_a_box(as_branch(shape)), on_a_box(as_branch(moved))),
        (under_a_box(as_rail(shape)), under_a_box(as_rail(moved))),
    ):
        for one, other in zip(before, after, strict=True):
            assert (isinf(one) and isinf(other)) or other == pytest.approx(one, rel=MOVES), shape


@pytest.mark.parametrize("number", range(DRAWN))
def test_the_box_within_an_open_end_is_softer_than_the_models_own(number: int) -> None:
    """The one open end that a model covers is a channel's: the rule for the others, applied to it, stays below that model."""
    rng = np.random.default_rng((SEED, number))
    tall, wide, wall = rng.uniform(0.03, 0.095), rng.uniform(0.02, 0.08), rng.uniform(0.0015, 0.006)
    rail = (tube_chord, channel_chord)[number % 2](rng.uniform(0.1, 0.16), rng.uniform(0.04, 0.08), rng.uniform(0.002, 0.006))
    foot = box(OPEN_FOOTPRINT * tall, OPEN_FOOTPRINT * wide, wall)
    soft = joint_stiffness(rail, tube_branch(foot.height, foot.width, foot.wall), BranchMake.BUTT)
    channel = channel_outline(wide - wall / 2, tall - wall, wall, (wall / 2 - wide) / 2)
    truth = joint_stiffness(rail, Branch(channel), BranchMake.BUTT)
    assert MODEL_ERROR * soft.bending_vertical < truth.bending_vertical
    assert MODEL_ERROR * soft.bending_sideways < truth.bending_sideways


def test_an_area_within_points_is_that_of_the_figure() -> None:
    """A circle's polygon of 720 sides: its area to 1e-4; a given section's box has the given area."""
    turn = np.linspace(0, 2 * pi, 721)[:-1]
    circle = OutlinePolygon(tuple(zip(np.cos(turn).tolist(), np.sin(turn).tolist(), strict=True)))
    height, width, wall = sizes(circle)
    assert 2 * (height + width) * wall == pytest.approx(pi, rel=1e-4)
    height, width, wall = sizes(GivenProperties(6e-4, 6e-7, 3e-7, 1e-8))
    assert 2 * (height + width) * wall == pytest.approx(6e-4)
