"""Stress ranges and means of a duty's blocks at surface points."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.checks.at_kinks import LegAtKink
from framecheck.checks.fatigue.counting import Block
from framecheck.model.arrays import Array
from framecheck.stress import Components
from framecheck.value_class import array_class


@array_class
class Swings:
    """What acts at each place in every block, Pa, (n_block, ...): range and mean of the normal stress, and of the shear stress,
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

    def one_by_one(self, station: int, point: int) -> Swings:
        """Return the blocks at one place each by itself, (1, n_block), as if each were a place of one block."""
        each = (part[None, :, station, point] for part in (self.normal, self.mean, self.shear, self.shear_mean))
        return Swings(*each)


def swings_of(stress: Components, blocks: Sequence[Block]) -> Swings:
    """Return the swings of the stress at surface points, (n_block, k, n_point); stress: of (k, n_case) rows of forces."""
    normal, shear = stress.normal, stress.shear
    return Swings(ranges(normal, blocks), means(normal, blocks), vector_ranges(shear, blocks), vector_means(shear, blocks))


def with_kinks(swings: Swings, stations: Array, kinks: Sequence[LegAtKink], blocks: Sequence[Block]) -> Swings:
    """Return the swings at stations (k,) with what kinks add to the normal stress: to all of the surface there, as a pull.

    Unfavourable: each action's own worst point is taken to be the same, and its mean to pull; of a kink's two legs the worse.
    """
    found: dict[str, tuple[Array, Array]] = {}
    for leg in kinks:
        stress, actions = leg.at_surface(stations), leg.actions[None]
        added = np.einsum("ka,ba->bk", stress, ranges(actions, blocks)[:, 0])[..., None]
        pulled = np.einsum("ka,ba->bk", stress, np.abs(means(actions, blocks)[:, 0]))[..., None]
        before = found.get(leg.kink.point, (added, pulled))
        found[leg.kink.point] = np.maximum(before[0], added), np.maximum(before[1], pulled)
    normal = swings.normal + sum(added for added, _ in found.values())
    mean = swings.mean + sum(pulled for _, pulled in found.values())
    return Swings(normal, mean, swings.shear, swings.shear_mean)


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


def means(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the mean stress of every block, (n_block, k, n_point)."""
    low, high = ends(stress, blocks)
    return np.asarray(low + along([each.middle for each in blocks], low) * (high - low), dtype=np.float64)


def vector_ranges(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the length of the change of a stress vector in every block, (n_block, k, n_point); stress: (k, n_case, n_point, 2)."""
    low, high = ends(stress, blocks)
    length = np.linalg.norm(high - low, axis=-1)
    return np.asarray(along([each.spread for each in blocks], length) * length, dtype=np.float64)


def vector_means(stress: Array, blocks: Sequence[Block]) -> Array:
    """Return the length of the mean of a stress vector in every block, (n_block, k, n_point); stress: (k, n_case, n_point, 2)."""
    return np.asarray(np.linalg.norm(means(stress, blocks), axis=-1), dtype=np.float64)
