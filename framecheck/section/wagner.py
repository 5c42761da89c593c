"""Wagner's integral: how far bending stress stiffens or softens a section against twist.

A fibre under stress that twist turns into a helix takes part in the torque with sigma rho2 per rate of twist, rho from the shear
centre: G J becomes G J + integral of sigma rho2 dA. H. Wagner (1929); V. Z. Vlasov, Thin-walled elastic beams; N. S. Trahair,
Flexural-Torsional Buckling of Structures, chapter 2 (all from memory). Half of it with its sign turned is zj of EN 1993-1-1.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.elements import Elements
from framecheck.section.midline_theory import MidlineResults, bending_fields
from framecheck.section.midline_walls import LinearField, Lines, coordinate, total
from framecheck.section.plane import Plane


def meshed_wagner(elements: Elements, plane: Plane, centre: Array) -> tuple[float, float]:
    """Return the integrals of sigma rho2 per unit Mv and per unit Ms, mm; centre (2,): shear centre from the centroid, mm."""
    sideways, vertical = np.moveaxis(plane.local(elements) @ plane.bending(), -1, 0)
    square = np.sum((elements.at - plane.centroid - centre) ** 2, axis=-1)
    return float(elements.stretched(vertical * square)), float(elements.stretched(sideways * square))


def midline_wagner(m: MidlineResults) -> Array:
    """Return the integrals of sigma rho2 per unit Mv and per unit Ms, (..., 2), m."""
    y, z = coordinate(m.lines, 0), coordinate(m.lines, 1)
    per_ms, per_mv = bending_fields(y, z, m.inertias)
    centre = m.twist.shear_centre[..., None]
    lever = _from(y, centre[..., 0, :]), _from(z, centre[..., 1, :])
    return np.stack([_square_moment(m.lines, field, lever) for field in (per_mv, per_ms)], axis=-1)


def _from(field: LinearField, at: Array) -> LinearField:
    """Return a coordinate measured from `at`."""
    return LinearField(field.start - at, field.stop - at, field.across_start, field.across_stop)


def _square_moment(lines: Lines, stress: LinearField, lever: tuple[LinearField, LinearField]) -> Array:
    """Return the integral of stress times the square of the lever over the material, (...,): cubic, so exact by Simpson's rule."""
    weights = ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6))
    mean = sum(weight * _across(lines, at, stress, lever) for at, weight in weights)
    return total(lines.area * mean)


def _across(lines: Lines, at: float, stress: LinearField, lever: tuple[LinearField, LinearField]) -> Array:
    """Return the mean across the thickness at a share of each wall's length, (..., n_walls)."""
    (s, s_n), (y, y_n), (z, z_n) = (_value(field, at) for field in (stress, *lever))
    thick = lines.thickness**2 / 12.0
    turn = s * (y_n**2 + z_n**2) + 2 * s_n * (y * y_n + z * z_n)
    return np.asarray(s * (y**2 + z**2) + thick * turn, dtype=np.float64)


def _value(field: LinearField, at: float) -> tuple[Array, Array]:
    """Return a field on the mid-line and its gradient across, at a share of each wall's length."""
    middle = field.start + at * (field.stop - field.start)
    return middle, field.across_start + at * (field.across_stop - field.across_start)
