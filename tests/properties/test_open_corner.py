"""Three box tubes that meet mitred and open: the same whichever is named first, smooth in every size, softer as walls grow thinner.

How near shells of other elements come is held from the front door: closed bodies in tests/verification/test_unit_bodies.py.
"""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest

from framecheck.frame.open_corner import OpenCorner, corner_turns, directions

CORNER = OpenCorner((0.075, 0.05, 0.08), (0.0012, 0.0015, 0.001), (0.05, -0.1, -0.6))


def in_space(corner: OpenCorner) -> np.ndarray:
    """Return the turns about axes of the corner's own that no naming moves: as works of unit moments along the three ways."""
    ways = directions(corner)
    return np.asarray(ways @ corner_turns(corner) @ ways.T)


def test_the_same_whichever_tube_is_named_first() -> None:
    """Sizes, walls and angles named in each order: the same turns, by tube and by way."""
    found = in_space(CORNER)
    for order in list(permutations(range(3)))[1::2]:
        named = OpenCorner(*(tuple(values[way] for way in order) for values in (CORNER.sizes, CORNER.walls, CORNER.cosines)))
        again = in_space(named)
        for number, way in enumerate(order):
            np.testing.assert_allclose(again[number], found[way][np.ix_(order, order)], rtol=1e-6, atol=1e-6 * np.abs(found).max())


@pytest.mark.parametrize("seed", range(3))
def test_no_size_moves_a_turn_at_a_step(seed: int) -> None:
    """Random sizes, walls and angles, each 1e-6 larger: no turn moves by more than 1e-4 of the largest."""
    draw = random.Random(seed)
    sizes = tuple(draw.uniform(0.04, 0.09) for _ in range(3))
    walls = tuple(draw.uniform(0.0009, 0.003) for _ in range(3))
    corner = OpenCorner(sizes, walls, (0.0, draw.uniform(-0.2, 0.2), draw.uniform(-0.7, 0.1)))
    found = corner_turns(corner)
    way = draw.randrange(3)
    for key in ("sizes", "walls", "cosines"):
        moved = [each * (1 + 1e-6 * (number == way)) for number, each in enumerate(getattr(corner, key))]
        again = corner_turns(replace(corner, **{key: tuple(moved)}))
        assert np.abs(again - found).max() < 1e-4 * np.abs(found).max()
        assert np.linalg.eigvalsh(found).min() > -1e-12 * np.abs(found).max()


def test_thin_walls_give_more_than_their_share() -> None:
    """A straight tube of half the wall gives twice as much; a corner, whose walls bend, more than that."""
    thick, thin = (corner_turns(OpenCorner((0.06, 0.06, 0.06), (wall,) * 3)) for wall in (0.002, 0.001))
    assert (np.trace(thin, axis1=1, axis2=2) > 2.2 * np.trace(thick, axis1=1, axis2=2)).all()
