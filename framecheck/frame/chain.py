"""Small dense matrices solved as a chain of blocks: a frame's points hang together with their neighbours, not with all. Numpy alone.

Unknowns are taken in levels, each coupled only to the one before and the one after it, so the matrix is block tridiagonal; it is
eliminated block by block (G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed., 4.5; from memory). A ladder costs in line
with its length; a frame where everything meets everything is one block, and costs what its inverse does.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray

BLOCK = 36  # unknowns that a block should have at least: smaller ones cost more calls than they save sums


def levels_of(coupled: BoolArray) -> list[IntArray]:
    """Return the unknowns in levels, breadth first from one with few neighbours; coupled (n, n): which of them meet."""
    left, neighbours = np.ones(len(coupled), dtype=np.bool_), coupled.sum(axis=1)
    levels = []
    while left.any():
        rest = np.flatnonzero(left)
        front = rest[[np.argmin(neighbours[rest])]]
        while len(front):
            left[front] = False
            levels.append(front)
            front = np.flatnonzero(coupled[front].any(axis=0) & left)
    return levels


def blocks_of(levels: list[IntArray]) -> list[slice]:
    """Return the places of blocks of whole levels, among the unknowns in the order of the levels."""
    ends, begin, at = [0], 0, 0
    for level in levels:
        at += len(level)
        if at - begin >= BLOCK:
            ends.append(at)
            begin = at
    if at > begin:
        ends.append(at)
    return [slice(*pair) for pair in pairwise(ends)]


def chain_solver(matrix: Array) -> Callable[[Array], Array]:
    """Return a solver of a symmetric positive matrix (n, n) for right-hand sides (n, k); LinAlgError where a block is singular."""
    levels = levels_of(matrix != 0.0)
    order = np.concatenate(levels) if levels else np.zeros(0, dtype=np.int64)
    blocks, ordered = blocks_of(levels), matrix[np.ix_(order, order)]
    inverses: list[Array] = []
    gains: list[Array] = []  # of a block on the one before it: their coupling times that one's inverse
    for number, here in enumerate(blocks):
        left = ordered[here, here]
        if number:
            coupling = ordered[here, blocks[number - 1]]
            gains.append(coupling @ inverses[-1])
            left = left - gains[-1] @ coupling.T
        inverses.append(np.asarray(np.linalg.inv(left), dtype=np.float64))

    def solve(right: Array) -> Array:
        rest, answer = right[order], np.empty_like(right)
        for gain, (before, here) in zip(gains, pairwise(blocks), strict=True):
            rest[here] -= gain @ rest[before]
        for within, here in zip(inverses, blocks, strict=True):
            rest[here] = within @ rest[here]
        for gain, (before, here) in zip(reversed(gains), reversed(list(pairwise(blocks))), strict=True):
            rest[before] -= gain.T @ rest[here]
        answer[order] = rest
        return answer

    return solve
