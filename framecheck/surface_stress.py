"""Stress on a section's surface from section forces: the unit fields times the forces, and the worst point."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.section.properties import UnitFields
from framecheck.value_class import array_class
from framecheck.yield_criterion import SHEAR_COUNTS, equivalent_on_surface

STRETCHING = [0, 4, 5, 6]
SHEARING = [1, 2, 7, 8]
"""Columns of a row of section forces that make normal and shear stress, in the order of UnitFields."""
ALIKE = 1e-12
"""Of a share: what rounding leaves."""
AT_ONCE = 30_000
"""Stresses worked out together, so that they stay in a core's own memory: twice as quick as all at once."""


@array_class
class Components:
    """Stress at every surface point, Pa: normal (..., n_points), shear (..., n_points, 2) along y and z."""

    normal: Array
    shear: Array

    @property
    def von_mises(self) -> Array:
        """Return the equivalent stress (..., n_points), Pa."""
        return equivalent_on_surface(self.normal, self.shear[..., 0], self.shear[..., 1])


@array_class
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
    across, up = (forces[..., SHEARING] @ fields.shear[:, axis].T for axis in (0, 1))
    return Components(forces[..., STRETCHING] @ fields.normal.T, np.stack([across, up], axis=-1))


PAIRS = np.triu_indices(4)
COUNTED = np.where(PAIRS[0] == PAIRS[1], 1.0, 2.0)
"""Every two of four forces, and how often their product counts in the square of their sum."""


def products(of: Array) -> Array:
    """Return the products of every two of four columns, (..., 10)."""
    return np.asarray(of[..., PAIRS[0]] * of[..., PAIRS[1]], dtype=np.float64)


@lru_cache(maxsize=256)
def by_products(fields: UnitFields) -> Array:
    """Return what products of the forces that stretch, then of those that shear, add to the square of the equivalent stress
    (20, n_points)."""
    sheared = SHEAR_COUNTS * (products(fields.shear[:, 0]) + products(fields.shear[:, 1]))
    return frozen(np.concatenate((COUNTED * products(fields.normal), COUNTED * sheared), axis=1).T)


def largest_of(fields: UnitFields, rows: Array, on: IntArray) -> tuple[Array, IntArray]:
    """Return the largest equivalent stress (n_row,), Pa, among some points by number, and at which; rows: forces (n_row, 9).

    The point is found by one product of the forces' products with what each adds; the stress there is worked out from the forces.
    """
    stretching, shearing = rows[:, STRETCHING], rows[:, SHEARING]
    acting = np.concatenate((products(stretching), products(shearing)), axis=1)
    used, together = acting.any(axis=0), max(1, AT_ONCE // len(on))
    acting, units = acting[:, used], by_products(fields)[np.ix_(used, on)]
    found = [np.argmax(acting[first : first + together] @ units, axis=1) for first in range(0, max(len(rows), 1), together)]
    point = on[np.concatenate(found)]
    across, up = (np.einsum("rf,rf->r", shearing, fields.shear[point, axis]) for axis in (0, 1))
    return equivalent_on_surface(np.einsum("rf,rf->r", stretching, fields.normal[point]), across, up), point


def narrowed(fields: UnitFields, on: BoolArray | IntArray) -> UnitFields:
    """Return the fields at some points alone: (n_points,) bool, or their numbers."""
    metal = None if fields.metal is None else fields.metal[on]
    return UnitFields(frozen(fields.points[on]), frozen(fields.normal[on]), frozen(fields.shear[on]), fields.sharp[on], metal)


@lru_cache(maxsize=256)
def outline_in_bending(fields: UnitFields) -> Array:
    """Return the unit normal stress (n, 4) at the corners of the convex outline that points make by their stress under unit moments:
    at the others no pull and no bending makes its least or its greatest. All points where pull does not stress them alike.
    """
    normal = fields.normal
    if np.ptp(normal[:, 0]) > ALIKE * abs(float(normal[0, 0])):
        return normal
    points = sorted({(up, left): number for number, (up, left) in enumerate(normal[:, 1:3].tolist())}.items())
    half = [_half_outline(points), _half_outline(points[::-1])]
    return frozen(normal[sorted({number for each in half for _, number in each})])


Corner = tuple[tuple[float, float], int]


def _half_outline(points: Sequence[Corner]) -> list[Corner]:
    """Return one side of the convex outline of points in order (A. M. Andrew, 1979; from memory)."""
    found: list[Corner] = []
    for each in points:
        while len(found) > 1 and _turn(found[-2][0], found[-1][0], each[0]) <= 0.0:
            found.pop()
        found.append(each)
    return found


def _turn(first: tuple[float, float], second: tuple[float, float], third: tuple[float, float]) -> float:
    """Return twice the area of a triangle, positive where it turns left."""
    return (second[0] - first[0]) * (third[1] - first[1]) - (second[1] - first[1]) * (third[0] - first[0])


def most_compressed(fields: UnitFields, forces: Array) -> Array:
    """Return the largest compressive stress (...,) of the section forces that stretch (..., 4), Pa."""
    bare = not forces[..., 3].any()
    normal = outline_in_bending(fields) if bare else fields.normal
    return np.asarray(-(forces @ normal.T).min(axis=-1))


def largest_shear(fields: UnitFields, forces: Array, on: BoolArray) -> Array:
    """Return the largest shear stress (...,), Pa, among the points marked by `on` (n_points,), of forces (..., 9); piece by piece."""
    if not on.any():
        return np.zeros(forces.shape[:-1])
    rows, shear = forces.reshape(-1, forces.shape[-1])[:, SHEARING], fields.shear[on]
    together = max(1, AT_ONCE // len(shear))
    pieces = [rows[first : first + together] for first in range(0, max(len(rows), 1), together)]
    squared = [((piece @ shear[:, 0].T) ** 2 + (piece @ shear[:, 1].T) ** 2).max(axis=-1) for piece in pieces]
    return np.asarray(np.sqrt(np.concatenate(squared)).reshape(forces.shape[:-1]))


def peaks(fields: UnitFields, forces: Array) -> Peaks:
    """Return the worst point of each section force row, forces (..., 9) in section axes."""
    rows, sharp = forces.reshape(-1, forces.shape[-1]), np.flatnonzero(fields.sharp)
    smooth = np.flatnonzero(~fields.sharp) if len(sharp) < len(fields.sharp) else sharp
    nominal, point = largest_of(fields, rows, smooth)
    peak = np.maximum(nominal, largest_of(fields, rows, sharp)[0]) if len(sharp) else nominal
    shape = forces.shape[:-1]
    return Peaks(frozen(nominal.reshape(shape)), point.reshape(shape), frozen(peak.reshape(shape)))
