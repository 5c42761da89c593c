"""A force and moment shared by the points that carry it, in balance with what is shared."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.model.arrays import Array, Vector, frozen

LEAST_ARM = 0.01
"""Points closer to one line than this part of their spread carry no moment about that line by forces."""


@lru_cache(maxsize=1024)
def sharing(points: tuple[Vector, ...], at: Vector) -> Array:
    """Return (6 n, 6): force and moment on each of n points per unit force and moment acting at `at`; read-only.

    The smallest forces that are statically equivalent: each is the force's n-th part plus w x d, d from the points'
    middle, as in the elastic method for a bolt group (mechanics texts, from memory). A moment about a line through all
    points can't be carried by forces on them; it is left as equal moments.
    """
    places = np.array(points, dtype=np.float64)
    middle = places.mean(axis=0)
    to_middle = np.eye(6)
    to_middle[3:, :3] = skew(np.array(at) - middle)
    return frozen(np.concatenate([_one_point(arm, places - middle) for arm in places - middle]) @ to_middle)


def shared(wrench: Array, at: Vector, points: tuple[Vector, ...]) -> Array:
    """Return force and moment (n, 6) on n points equivalent to a force and moment (6,) acting at `at`."""
    return np.asarray((sharing(points, at) @ wrench).reshape(-1, 6), dtype=np.float64)


def skew(arm: Array) -> Array:
    """Return the matrix (3, 3) that makes arm x v of v."""
    x, y, z = arm.tolist()
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]], dtype=np.float64)


def _one_point(arm: Array, arms: Array) -> Array:
    """Return (6, 6) for one point: its force and moment per force and moment about the middle."""
    turn, left = _turning(arms)
    row = np.zeros((6, 6))
    row[:3, :3] = np.eye(3) / len(arms)
    row[:3, 3:] = -skew(arm) @ turn
    row[3:, 3:] = left / len(arms)
    return row


def _turning(arms: Array) -> tuple[Array, Array]:
    """Return (3, 3) w per moment, where forces w x d carry it, and (3, 3) what is left for moments."""
    polar = np.eye(3) * np.sum(arms**2) - arms.T @ arms
    values, axes = np.linalg.eigh(polar)
    held = values > max(LEAST_ARM**2 * float(values[-1]), 1e-12)
    loose = axes[:, ~held]
    return np.asarray(axes[:, held] / values[held] @ axes[:, held].T), np.asarray(loose @ loose.T)
