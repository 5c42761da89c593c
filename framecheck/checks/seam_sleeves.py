"""What joins a sleeve to its core: they bend as separate beams, so the joints carry the core's share of the forces across."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.properties import Share

ENDS = 1e-6
"""m: stations this near to an end of the sleeve are at it."""


def sleeve_flow(core: Share, stations: Array, forces: Array, pitch: float) -> Array:
    """Return what crosses between sleeve and core, (k, n_case), N/m: what one bolt carries, over the pitch. Statics.

    forces (n_bound, k, n_case, 9). Between the ends: the core's share of how much the shear changes within a pitch on either side.
    At an end of the sleeve: its share of pull and shear, and of the moments as a pair of forces a pitch apart. Without a pitch (a
    weld all along) the ends are welded round: the moment is taken as the shear it makes over the length of the sleeve.
    """
    length = float(np.ptp(stations)) or 1.0
    reach = pitch or length
    shear = np.stack([core.vertical * forces[..., 2], core.sideways * forces[..., 1]], axis=-1)
    moment = np.stack([core.vertical * forces[..., 4], core.sideways * forces[..., 5]], axis=-1)
    taken = np.stack([_change(shear, np.abs(stations - at) <= reach) for at in stations], axis=1)
    at_end = (stations <= stations.min() + ENDS) | (stations >= stations.max() - ENDS)
    along = np.abs(core.stretch * forces[..., 0])
    entering = np.hypot(np.linalg.norm(shear, axis=-1) + np.linalg.norm(moment, axis=-1) / reach, along)
    force = np.where(at_end[None, :, None], np.maximum(taken, entering), taken)
    return np.asarray(force.max(axis=0) / reach, dtype=np.float64)


def _change(shear: Array, near: Array) -> Array:
    """Return how much the shear (n_bound, k, n_case, 2) changes between the stations that are near, (n_bound, n_case), N."""
    return np.asarray(np.linalg.norm(np.ptp(shear[:, near], axis=1), axis=-1), dtype=np.float64)
