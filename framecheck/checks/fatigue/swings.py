"""Stress ranges and means of a duty's blocks at surface points."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.checks.fatigue.counting import Block
from framecheck.model.arrays import Array
from framecheck.value_class import array_class


@array_class
class Swings:
    """What acts at each place in every block, Pa, (n_swing, ...): range and mean of the normal stress, and of the shear stress,
    whose range is the length of the change of a vector.
    """

    normal: Array
    mean: Array
    shear: Array
    shear_mean: Array

    @property
    def largest(self) -> Array:
        """Return the largest range at each place, (...,): shear as the normal stress that yields as soon, sqrt(3) times it."""
        return np.asarray(np.maximum(self.normal, 3**0.5 * self.shear).max(axis=0), dtype=np.float64)

    def times(self, factor: float) -> Swings:
        """Return the swings with every stress raised."""
        return Swings(factor * self.normal, factor * self.mean, factor * self.shear, factor * self.shear_mean)

    def one_by_one(self) -> Swings:
        """Return the swings at one place, (n_swing, 1), each as if it were a place of one swing, (1, n_swing)."""
        return Swings(self.normal.T, self.mean.T, self.shear.T, self.shear_mean.T)


def worse(swings: Sequence[Swings]) -> Swings:
    """Return swings of which each part is the worst of some."""
    first, *others = swings
    for other in others:
        normal, mean = np.maximum(first.normal, other.normal), np.maximum(first.mean, other.mean)
        shear, shear_mean = np.maximum(first.shear, other.shear), np.maximum(first.shear_mean, other.shear_mean)
        first = Swings(normal, mean, shear, shear_mean)
    return first


def at(stress: Array, case: int | None) -> Array:
    """Return the stress (k, ...) in a load case by its number; nothing on the frame: zero. stress: (k, n_case, ...)."""
    return np.zeros_like(stress[:, 0]) if case is None else stress[:, case]


def ends(stress: Array, blocks: Sequence[Block]) -> tuple[Array, Array]:
    """Return the stress (n_block, k, ...) in the load cases at both ends of every block, low and high; nothing on the frame: zero.

    stress: (k, n_case, ...).
    """
    bare = stress.shape[1]
    padded = np.moveaxis(np.concatenate((stress, np.zeros_like(stress[:, :1])), axis=1), 1, 0)
    low = [bare if each.low is None else each.low for each in blocks]
    high = [bare if each.high is None else each.high for each in blocks]
    return padded[low], padded[high]


def along(values: Sequence[float], stress: Array) -> Array:
    """Return a number of every block so that it multiplies a stress (n_block, ...)."""
    return np.array(values).reshape((-1,) + (1,) * (stress.ndim - 1))


def ranges(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the range of a stress in every block, (n_block, k, n_point); stress: (k, n_case, n_point), Pa.

    Both ends of a swing are whole load cases: what acts together stays together.
    """
    low, high = ends(stress, blocks)
    return np.asarray(along([each.spread for each in blocks], low) * np.abs(high - low), dtype=np.float64)


def vector_ranges(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the length of the change of a stress vector in every block, (n_block, k, n_point); stress: (k, n_case, n_point, 2)."""
    low, high = ends(stress, blocks)
    length = np.linalg.norm(high - low, axis=-1)
    return np.asarray(along([each.spread for each in blocks], length) * length, dtype=np.float64)
