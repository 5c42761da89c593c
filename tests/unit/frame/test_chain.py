"""The chain of blocks against numpy's own elimination of the whole matrix."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.linear import blocks_of, chain_solver, levels_of
from framecheck.model.arrays import Array


def shuffled_chains(lengths: tuple[int, ...], reach: int) -> Array:
    """Return a positive matrix of separate chains, each unknown meeting `reach` before it, in an order that hides them."""
    random = np.random.default_rng(3)
    size = sum(lengths)
    lower = np.tril(np.triu(random.standard_normal((size, size)), -reach)) + 4 * reach * np.eye(size)
    for end in np.cumsum(lengths)[:-1]:
        lower[end:, :end] = 0.0
    order = random.permutation(size)
    return (lower @ lower.T)[np.ix_(order, order)]


@pytest.mark.parametrize(("lengths", "reach"), [((150,), 4), ((90, 1, 60), 6), ((40,), 40), ((5,), 2)])
def test_solves_as_the_whole_matrix_does(lengths: tuple[int, ...], reach: int) -> None:
    matrix = shuffled_chains(lengths, reach)
    right = np.random.default_rng(1).standard_normal((len(matrix), 3))
    assert chain_solver(matrix)(right) == approx(np.linalg.solve(matrix, right), rel=1e-10, abs=1e-13)


def test_blocks_meet_only_their_neighbours() -> None:
    matrix = shuffled_chains((200,), 3)
    levels = levels_of(matrix != 0.0)
    order = np.concatenate(levels)
    assert sorted(order.tolist()) == list(range(200))
    blocks = blocks_of(levels)
    assert len(blocks) >= 4
    for block, after in pairwise(blocks):
        assert not matrix[np.ix_(order[block], order[after.stop :])].any()


def test_a_matrix_without_unknowns() -> None:
    assert chain_solver(np.zeros((0, 0)))(np.zeros((0, 2))).shape == (0, 2)
