"""Stress ranges and means of a duty's blocks at surface points."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.checks.fatigue.counting import Block
from framecheck.model.arrays import Array


def at(stress: Array, case: int | None) -> Array:
    """Return the stress (k, ...) in a load case by its number; nothing on the frame: zero. stress: (k, n_case, ...)."""
    return np.zeros_like(stress[:, 0]) if case is None else stress[:, case]


def ranges(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the range of a stress in every block, (n_block, k, n_point); stress: (k, n_case, n_point), Pa.

    Both ends of a swing are whole load cases: what acts together stays together.
    """
    return np.stack([block.spread * np.abs(at(stress, block.high) - at(stress, block.low)) for block in blocks])


def means(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the mean stress of every block, (n_block, k, n_point)."""
    return np.stack([at(stress, b.low) + b.middle * (at(stress, b.high) - at(stress, b.low)) for b in blocks])


def vector_ranges(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the length of the change of a stress vector in every block, (n_block, k, n_point); stress: (k, n_case, n_point, 2)."""
    return np.stack(
        [block.spread * np.linalg.norm(at(stress, block.high) - at(stress, block.low), axis=-1) for block in blocks]
    )
