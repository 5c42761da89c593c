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
