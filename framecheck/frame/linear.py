"""One factorisation, any number of right-hand sides: block tridiagonal where the frame allows it, sparse where it is large. SI.

Unknowns are taken in levels, each coupled only to the one before and the one after it, so the matrix is block tridiagonal; it is
eliminated block by block (G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed., 4.5; from memory). A ladder costs in line
with its length; a frame where everything meets everything is one block, and costs what its inverse does.

The unknowns mix metres and radians, so every matrix is first scaled to a unit diagonal: what is left of the condition is the
frame's own.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csr_array


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


SINGULAR = 1e-14
"""Least eigenvalue of the scaled matrix that is more than rounding: below it something moves freely."""

DOUBTFUL = 1e-12  # below this the least eigenvalue is found in earnest
BAND_COST = 6e7  # entries of a band up to which it is quicker than a general sparse factorisation


@array_class
class Factored:
    """A factorised matrix on its free unknowns. solve: (m, k) scaled right-hand sides to scaled answers.

    free (m,): unknowns; scale (m,); least: least eigenvalue of the scaled matrix (an estimate when it is far from nothing);
    loose (m, j): scaled movements that nothing resists, j = 0 where there are none.
    """

    free: IntArray
    scale: Array
    solve: Callable[[Array], Array]
    least: float
    loose: Array

    def movements(self, matrix: Any, forces: Array) -> Array:
        """Return the movements (n, k) under forces (n, k), m and rad, with one step of refinement; not-free ones are zero."""
        moved = np.zeros_like(forces)
        for left in (lambda: forces, lambda: forces - matrix @ moved):
            moved[self.free] += self.scale[:, None] * self.solve(self.scale[:, None] * left()[self.free])
        return moved


@array_class
class StiffEnds:
    """Springs at ends that are stiff in some cases besides, those of each its own. at (n,): their slips among the unknowns; unit
    (N, n): movements under unit forces there; gain (k, n, n): slips as they would be without to the springs' forces.
    """

    at: IntArray
    unit: Array
    gain: Array

    def held(self, moved: Array) -> Array:
        """Return movements (N, k) that hold these springs, from those that do not."""
        pushed = (self.gain @ moved[self.at].T[..., None])[..., 0]
        left: Array = moved - self.unit @ pushed.T
        return left


def factored_dense(matrix: Array, free: IntArray) -> Factored:
    """Return the factorised dense matrix."""
    scaled = matrix[np.ix_(free, free)]  # a copy, scaled where it lies
    scale = _scale(scaled.diagonal())
    scaled *= scale[:, None]
    scaled *= scale
    try:
        solve = chain_solver(scaled)
    except np.linalg.LinAlgError:
        solve, least = np.zeros_like(scaled).__matmul__, 0.0
    else:
        least = _least(solve, len(free))
    if not least > DOUBTFUL:
        values, modes = np.linalg.eigh(scaled)
        return Factored(free, scale, solve, float(values[0]), modes[:, values < SINGULAR])
    return Factored(free, scale, solve, least, np.zeros((len(free), 0)))


def _scale(diagonal: Array) -> Array:
    """Return what scales a matrix to a unit diagonal; 1 where the diagonal is nothing (something moves freely)."""
    scale: Array = 1 / np.sqrt(np.where(diagonal > 0, diagonal, 1.0))
    return scale


def factored_sparse(matrix: csr_array, free: IntArray) -> Factored:
    """Return the factorised sparse matrix: as a band where numbering by neighbours makes that narrow."""
    from scipy.sparse import diags_array

    part = matrix[free][:, free]
    scale = _scale(part.diagonal())
    scaled = (diags_array(scale) @ part @ diags_array(scale)).tocsc()
    try:
        solve = _solver(scaled)
    except (np.linalg.LinAlgError, RuntimeError):
        return _with_loose(scaled, free, scale, lambda right: right)
    least = _least(solve, len(free))
    if not least > DOUBTFUL:
        return _with_loose(scaled, free, scale, solve)
    return Factored(free, scale, solve, least, np.zeros((len(free), 0)))


def _solver(scaled: Any) -> Callable[[Array], Array]:
    """Return a solver of a sparse positive matrix; LinAlgError or RuntimeError where it is singular."""
    from scipy.sparse.csgraph import reverse_cuthill_mckee

    order = reverse_cuthill_mckee(scaled.tocsr(), symmetric_mode=True).astype(np.int64)
    place = np.empty_like(order)
    place[order] = np.arange(len(order))
    entries = scaled.tocoo()
    rows, columns = place[entries.coords[0]], place[entries.coords[1]]
    width = int(np.max(rows - columns, initial=0)) + 1
    if width * len(order) > BAND_COST:
        from scipy.sparse.linalg import splu

        answer: Callable[[Array], Array] = splu(scaled, options={"SymmetricMode": True}, permc_spec="MMD_AT_PLUS_A").solve
        return answer
    return _band_solver((rows, columns, entries.data), width, order)


def _band_solver(entries: tuple[IntArray, IntArray, Array], width: int, order: IntArray) -> Callable[[Array], Array]:
    """Return a solver by Cholesky's factor of the band of `width` lower diagonals."""
    from scipy.linalg import cho_solve_banded, cholesky_banded

    rows, columns, values = entries
    lower, size = rows >= columns, len(order)
    band = np.zeros((width, size))
    band[(rows - columns)[lower], columns[lower]] = values[lower]
    factor = cholesky_banded(band, overwrite_ab=True, lower=True, check_finite=False)

    def solve(right: Array) -> Array:
        answer = np.empty_like(right)
        answer[order] = cho_solve_banded((factor, True), right[order], check_finite=False)
        return answer

    return solve


def _least(solve: Callable[[Array], Array], size: int) -> float:
    """Return an estimate of the least eigenvalue by inverse iteration from a fixed start."""
    if not size:
        return 1.0
    vector: Array = np.sin(np.arange(1.0, size + 1) ** 2)[:, None]  # something of every movement, the same in every run
    growth = 1.0
    for _ in range(4):
        vector = solve(vector / np.linalg.norm(vector))
        growth = float(np.linalg.norm(vector))
    return 1 / growth if np.isfinite(growth) and growth > 0 else 0.0


def _with_loose(scaled: Any, free: IntArray, scale: Array, solve: Callable[[Array], Array]) -> Factored:
    """Return the factor together with the movements that nothing resists, found by inverse iteration on a shifted matrix."""
    from scipy.sparse import identity

    shifted = _solver((scaled + 1e-9 * identity(len(free), format="csc")).tocsc())
    vectors = np.random.default_rng(0).standard_normal((len(free), 12))
    for _ in range(6):
        vectors, _ = np.linalg.qr(shifted(vectors))
    values, turn = np.linalg.eigh(vectors.T @ (scaled @ vectors))
    modes = (vectors @ turn)[:, values < 10 * SINGULAR]
    return Factored(free, scale, solve, float(values[0]), modes)
