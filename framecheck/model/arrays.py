"""Array types used all over."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
Vector = tuple[float, float, float]


def frozen(values: Array) -> Array:
    """Return the same array, made read-only, so that a result can't change behind its owner's back."""
    values.flags.writeable = False
    return values


def distinct_rows(values: Array) -> Array:
    """Return the distinct rows of (n, m) in rising order, as np.unique does along axis 0, which loads all of numpy.ma to say so."""
    ordered = values[np.lexsort(values.T[::-1])]
    fresh = np.ones(len(ordered), dtype=np.bool_)
    fresh[1:] = np.any(ordered[1:] != ordered[:-1], axis=1)
    return ordered[fresh]


def distinct_values(values: Array) -> Array:
    """Return the distinct values of (n,) in rising order, as np.unique does."""
    return np.array(sorted(set(values.tolist())), dtype=np.float64)


def distinct(values: IntArray) -> IntArray:
    """Return the distinct numbers of (n,) in rising order, as np.unique does."""
    return np.array(sorted(set(values.tolist())), dtype=np.int64)
