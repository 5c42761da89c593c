"""Symmetric systems of a plate's unknowns, as one band."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csr_array

BLOCK = 96  # unknowns that are worked on at once where there are many columns


@array_class
class BandedFactors:
    """A matrix as L L', L lower with a band, less U U'. kept: numbers of the free unknowns in the band's order; band (b + 1, k): L, a
    diagonal a row; size: of the matrix; more (n, r): what U U' adds to its inverse is more more'.
    """

    kept: IntArray
    band: Array
    size: int
    more: Array

    def solve(self, loads: Array) -> Array:
        """Return the movements (n, m) under loads (n, m); those not free stay zero."""
        from scipy.linalg import cho_solve_banded

        found = np.zeros(loads.shape)
        found[self.kept] = cho_solve_banded((self.band, True), loads[self.kept])
        return found + self.more @ (self.more.T @ loads)

    def half(self, loads: Array) -> Array:
        """Return Y (k + r, m) of loads (n, m): Y' Y is loads' movements, L^-1 loads its first rows. In blocks, which is many times as
        fast for many columns.
        """
        from scipy.linalg import solve_triangular

        found, wide = loads[self.kept].copy(), len(self.band) - 1
        for start in range(0, len(found), BLOCK):
            stop = min(start + BLOCK, len(found))
            before = max(start - wide, 0)
            rows = self.part(start, stop, before)
            if before < start:
                found[start:stop] -= rows[:, : start - before] @ found[before:start]
            found[start:stop] = solve_triangular(rows[:, start - before :], found[start:stop], lower=True, check_finite=False)
        return np.concatenate([found, self.more.T @ loads])

    def part(self, start: int, stop: int, before: int) -> Array:
        """Return rows start to stop of L, columns from before on."""
        away = np.arange(start, stop)[:, None] - np.arange(before, stop)
        inside = (away >= 0) & (away < len(self.band))
        values = self.band[np.where(inside, away, 0), np.arange(before, stop)[None, :]]
        return np.where(inside, values, 0.0)


def factored(matrix: csr_array, free: BoolArray, shape: tuple[int, int], less: Array | None = None) -> BandedFactors:
    """Return a symmetric matrix (n, n), less U U', factored, only the free unknowns (n,) of it. less: U (n, r), of free ones alone.

    shape: how many places the unknowns have along x and y, y fastest; the band runs along the shorter side.
    """
    from scipy.linalg import LinAlgError, cholesky_banded

    numbers = np.arange(len(free)).reshape(*shape, -1)
    order = (numbers.transpose(1, 0, 2) if shape[1] > shape[0] else numbers).ravel()
    kept = order[free[order]]
    part = matrix[kept][:, kept].tocoo()
    lower = part.row >= part.col
    row, column = part.row[lower], part.col[lower]
    band = np.zeros((int((row - column).max()) + 1, len(kept)))
    np.add.at(band, (row - column, column), part.data[lower])
    try:
        firm = BandedFactors(
            kept, cholesky_banded(band, lower=True, overwrite_ab=True, check_finite=False), len(free), np.zeros((len(free), 0))
        )
        return firm if less is None or not less.size else softened(firm, less)
    except LinAlgError as error:
        raise UnsolvableError(
            "a plate is so nearly loose, or so stiff beside what holds it, that its answer would not be exact; "
            "look at its sizes, and at where its bolts are"
        ) from error


def softened(firm: BandedFactors, less: Array) -> BandedFactors:
    """Return factors of a matrix less U U' (Woodbury's formula, from memory): V (1 - U' V)^-1 V' more in its inverse, V: U as loads
    moves it.
    """
    from scipy.linalg import cholesky, solve_triangular

    moved = firm.solve(less)
    left = cholesky(np.eye(less.shape[1]) - less.T @ moved, lower=True)
    return replace(firm, more=np.asarray(solve_triangular(left, moved.T, lower=True).T))


def solve_banded(matrix: csr_array, free: BoolArray, loads: Array, shape: tuple[int, int], less: Array | None = None) -> Array:
    """Return the movements (n, m) of a symmetric system under loads (n, m); those not free (n,) stay zero; shape, less: as in
    `factored`.
    """
    return factored(matrix, free, shape, less).solve(loads)
