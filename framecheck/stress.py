"""Section forces to stress: the unit fields times the forces, and the worst point of each section."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.section.properties import UnitFields


@dataclass(frozen=True, eq=False, slots=True)
class Components:
    """Stress at every surface point, Pa: normal (..., n_points), shear (..., n_points, 2) along y and z."""

    normal: Array
    shear: Array

    @property
    def von_mises(self) -> Array:
        """Return the equivalent stress sqrt(sigma2 + 3 tau2), (..., n_points), Pa.

        R. von Mises (1913), for one normal stress with shear; EN 1993-1-1:2005, eq. (6.1), is the same at yield.
        """
        squared: Array = self.normal**2 + 3.0 * np.sum(self.shear**2, axis=-1)
        return np.asarray(np.sqrt(squared), dtype=np.float64)


@dataclass(frozen=True, eq=False, slots=True)
class Peaks:
    """The worst surface point of each section in a row of forces. Arrays (...,), read-only.

    nominal: largest equivalent stress away from sharp re-entrant corners, Pa, on which yield is judged;
    point: its index; peak: the largest anywhere, Pa (equal to nominal where no corner is sharp).
    """

    nominal: Array
    point: IntArray
    peak: Array


def components(fields: UnitFields, forces: Array) -> Components:
    """Return stress from section forces (..., 9): N, Vy, Vz, T, Mv, Ms, B, T Saint-Venant, T warping; section axes."""
    normal = forces[..., [0, 4, 5, 6]] @ fields.normal.T
    unit = np.moveaxis(fields.shear, -1, 0).reshape(4, -1)
    shear = forces[..., [1, 2, 7, 8]] @ unit
    return Components(normal, shear.reshape(*normal.shape, 2))


def peaks(fields: UnitFields, forces: Array) -> Peaks:
    """Return the worst point of each section force row, forces (..., 9) in section axes."""
    equivalent = components(fields, forces).von_mises
    smooth = np.where(fields.sharp, -1.0, equivalent) if _some_smooth(fields.sharp) else equivalent
    point = np.argmax(smooth, axis=-1)
    nominal = np.take_along_axis(smooth, point[..., None], axis=-1)[..., 0]
    return Peaks(frozen(nominal), point, frozen(equivalent.max(axis=-1)))


def _some_smooth(sharp: BoolArray) -> bool:
    """Return whether any point lies away from a sharp corner."""
    return not bool(sharp.all())
