"""Values summed up by the places they belong to."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class


@array_class
class Summing:
    """How values (m, d, k) are summed up by the unknowns they belong to: rows in this order, the sums' firsts, and where these go."""

    order: IntArray
    firsts: IntArray
    to: IntArray

    def add(self, total: Array, values: Array) -> None:
        """Add values to a total (n, k): many times quicker than numpy's own addition at places that come more than once."""
        total[self.to] += np.add.reduceat(values.reshape(-1, values.shape[2])[self.order], self.firsts, axis=0)


def summing_at(at: IntArray) -> Summing:
    """Return how values are summed up that belong to the unknowns at (m, d)."""
    order = np.argsort(at, axis=None, kind="stable")
    to, firsts = np.unique(at.ravel()[order], return_index=True)
    return Summing(order, firsts, to)
