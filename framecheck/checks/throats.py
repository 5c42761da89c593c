"""Stress on the throats of fillet welds, as the weld check finds it and the fatigue check needs it."""

from __future__ import annotations

from math import sqrt

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.weld_joints import WeldRun
from framecheck.value_class import array_class

THROAT = sqrt(0.5)


@array_class
class ThroatStress:
    """Stress on the throats of a weld group in every load case, Pa: across (n_case, n_point, 2), along (n_case, n_point).

    Points: the ends of every run, bound by bound where the case leaves something open.
    """

    across: Array
    along: Array


def throat_stress(runs: tuple[WeldRun, ...], per_length: Array) -> ThroatStress:
    """Return the stress on the throats, 0.707 leg; per_length: force per length at the ends of each run, (n_case, n_run, 2, 3), N/m.

    EN 1993-1-9:2005, 5(6): across the weld sqrt(sigma2 + tau2), along it tau, on the throat.
    """
    spans = np.array([np.subtract(run.end, run.start) for run in runs], dtype=np.float64)
    along_run = spans / np.linalg.norm(spans, axis=1, keepdims=True)
    square = np.stack([_square_to(direction) for direction in along_run])  # (n_run, 2, 3)
    throat = THROAT * np.array([run.leg for run in runs])[:, None]
    count = per_length.shape[0]
    along = np.einsum("cnki,ni->cnk", per_length, along_run) / throat
    across = np.einsum("cnki,nji->cnkj", per_length, square) / throat[..., None]
    return ThroatStress(frozen(across.reshape(count, -1, 2)), frozen(along.reshape(count, -1)))


def _square_to(direction: Array) -> Array:
    """Return two unit vectors square to a direction and to one another, (2, 3)."""
    first = np.cross(direction, np.eye(3)[int(np.argmin(np.abs(direction)))])
    first = first / np.linalg.norm(first)
    return np.stack((first, np.cross(direction, first)))
