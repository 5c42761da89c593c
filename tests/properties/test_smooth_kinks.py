"""What a kink gives and feels is continuous in every size, over random ones; at no turn it is nothing."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain
from math import pi

import numpy as np
import pytest

from framecheck.frame.joint.data import CornerGive, KinkLeg
from framecheck.frame.kink_shell import corner_give

STEP, MOVES = 1e-6, 1e-4
SEED, DRAWN, AT_A_TIME = 16, 40, 10
"""In the suite; how many were run once stands in docs/trust.md."""
SIZES = ("height", "width", "wall", "turn", "tilt", "room", "plate", "radius")


def numbers(found: CornerGive) -> np.ndarray:
    """Return a kink's numbers, each kind over its largest."""
    give = np.array([found.in_plane, found.out_of_plane, found.torsion, found.mixed])
    stress = np.array([*chain.from_iterable(found.surface), *found.through_wall]).reshape(-1, 4)
    scaled: np.ndarray = np.concatenate((give / np.abs(give).max(), (stress / stress.max(axis=0)).ravel()))
    return scaled


def drawn(number: int) -> KinkLeg:
    """Return a kink, the same each time: a third with a plate, a third bent."""
    rng = np.random.default_rng((SEED, number))
    height, width = rng.uniform(0.04, 0.15, 2)
    wall = min(height, width) * rng.uniform(0.025, 0.1)
    corner = KinkLeg(height, width, wall, rng.uniform(0.03, 1.4), float(rng.uniform(0.0, pi / 2)), float(rng.uniform(0.2, 2.0)))
    kind = number % 3
    plate, radius = (wall * rng.uniform(0.7, 2.0), 0.0) if kind == 1 else (0.0, rng.uniform(0.7, 3.0) * (height + width) / 2)
    return corner if kind == 0 else replace(corner, plate=float(plate), radius=float(radius))


@pytest.mark.parametrize("first", range(0, DRAWN, AT_A_TIME))
def test_no_size_makes_a_kink_jump(first: int) -> None:
    for number in range(first, first + AT_A_TIME):
        corner = drawn(number)
        size = SIZES[np.random.default_rng((SEED, number, 1)).integers(len(SIZES))]
        moved = replace(corner, **{size: getattr(corner, size) * (1 + STEP)})
        assert np.abs(numbers(corner_give(moved)) - numbers(corner_give(corner))).max() < MOVES


@pytest.mark.parametrize("make", [{}, {"plate": 0.004}, {"radius": 0.2}], ids=["mitred", "plate", "bent"])
def test_no_turn_gives_nothing(make: dict[str, float]) -> None:
    small, none = (corner_give(KinkLeg(0.1, 0.05, 0.003, turn, 0.3, **make)) for turn in (1e-3, 1e-7))
    whole = 0.1 / (200e9 * 1e-6)  # a depth of straight tube
    assert max(small.in_plane, small.out_of_plane) < 1e-4 * whole
    assert max(none.in_plane, none.out_of_plane) < 1e-5 * whole  # a plate makes a tube a little stiffer, which is not counted
    assert max(chain.from_iterable(none.surface)) < 1e-3 / 1e-5  # a thousandth of what one Nm makes in a straight tube


def test_a_tube_lies_as_well_on_its_side() -> None:
    """The kink's plane along the width is that along the height of the tube laid on its side."""
    one = corner_give(KinkLeg(0.1, 0.05, 0.003, 0.5, pi / 2))
    other = corner_give(KinkLeg(0.05, 0.1, 0.003, 0.5, 0.0))
    assert one.in_plane == pytest.approx(other.in_plane, rel=1e-6)
    assert one.out_of_plane == pytest.approx(other.out_of_plane, rel=1e-6)
    assert np.array(one.surface) == pytest.approx(np.array(other.surface), rel=1e-3)
