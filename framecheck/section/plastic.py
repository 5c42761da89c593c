"""Plastic moduli, and Wagner's integral of bending stress against twist, of triangles and of mid-line walls.

A fibre under stress that twist turns into a helix takes part in the torque with sigma rho2 per rate of twist, rho from the shear
centre: G J becomes G J + integral of sigma rho2 dA. H. Wagner (1929); V. Z. Vlasov, Thin-walled elastic beams; N. S. Trahair,
Flexural-Torsional Buckling of Structures, chapter 2 (all from memory). Half of it with its sign turned is zj of EN 1993-1-1.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.elements import Elements, StrainPlane
from framecheck.section.midline_theory import MidlineResults, bending_fields
from framecheck.section.midline_walls import LinearField, WallVectors, coordinate, total


def plastic_moduli(elements: Elements, strength: Array, body: IntArray) -> tuple[float, float]:
    """Return the plastic moduli for bending vertically and sideways, mm3: plastic moment over the least yield strength.

    strength (m,): of each triangle over the least; body (m,): which triangles share one plane (parts that don't touch bend each
    about an axis of its own).
    """
    corners, areas = elements.nodes[elements.ids[:, :3]], elements.area * strength
    found = [
        [plastic_modulus(corners[body == each][..., axis], areas[body == each]) for each in np.unique(body)]
        for axis in (1, 0)
    ]
    return sum(found[0]), sum(found[1])


HALVINGS = 27
"""How often the section's height is halved to find the level: to 1e-8 of it."""


def plastic_modulus(heights: Array, areas: Array) -> float:
    """Return the plastic modulus about the level that halves the area; heights (m, 3) of the corners, areas (m,), in one unit.

    It is least there, so that an error of the level counts by its square.
    """
    ordered = np.sort(heights, axis=1)
    low, high = float(ordered.min()), float(ordered.max())
    half = float(areas.sum()) / 2
    for _ in range(HALVINGS):
        level = (low + high) / 2
        low, high = (level, high) if part_above(ordered - level, areas)[0] > half else (low, level)
    above = part_above(ordered - level, areas)[1]
    below = part_above(level - ordered[:, ::-1], areas)[1]
    return above + below


def part_above(ordered: Array, areas: Array) -> tuple[float, float]:
    """Return area above level 0 and its first moment about it, of triangles with corner heights (m, 3), each lowest first."""
    low, middle, high = ordered.T
    tip, tip_moment = _tip(high, middle, low, areas)
    foot, foot_moment = _tip(-low, -middle, -high, areas)
    whole_moment = areas * ordered.mean(axis=1)
    area = np.where(middle > 0, areas - foot, tip)
    moment = np.where(middle > 0, whole_moment + foot_moment, tip_moment)
    return float(area.sum()), float(moment.sum())


def _tip(top: Array, second: Array, third: Array, areas: Array) -> tuple[Array, Array]:
    """Return area and first moment of the small triangle above level 0 where only the corner `top` may be above it."""
    alone = (top > 0) & (second <= 0)
    spread = np.where(alone, (top - second) * (top - third), 1.0)
    area = np.where(alone, areas * top**2 / spread, 0.0)
    return area, area * top / 3


def meshed_wagner(elements: Elements, plane: StrainPlane, centre: Array) -> tuple[float, float]:
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


def _square_moment(lines: WallVectors, stress: LinearField, lever: tuple[LinearField, LinearField]) -> Array:
    """Return the integral of stress times the square of the lever over the material, (...,): cubic, so exact by Simpson's rule."""
    weights = ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6))
    mean = sum(weight * _across(lines, at, stress, lever) for at, weight in weights)
    return total(lines.area * mean)


def _across(lines: WallVectors, at: float, stress: LinearField, lever: tuple[LinearField, LinearField]) -> Array:
    """Return the mean across the thickness at a share of each wall's length, (..., n_walls)."""
    (s, s_n), (y, y_n), (z, z_n) = (_value(field, at) for field in (stress, *lever))
    thick = lines.thickness**2 / 12.0
    turn = s * (y_n**2 + z_n**2) + 2 * s_n * (y * y_n + z * z_n)
    return np.asarray(s * (y**2 + z**2) + thick * turn, dtype=np.float64)


def _value(field: LinearField, at: float) -> tuple[Array, Array]:
    """Return a field on the mid-line and its gradient across, at a share of each wall's length."""
    middle = field.start + at * (field.stop - field.start)
    return middle, field.across_start + at * (field.across_stop - field.across_start)


ALONG, ACROSS = 48, 6
"""Fibres that each wall is cut into, along and across."""


def plastic_moduli_of_walls(m: MidlineResults, strength: Array) -> tuple[float, float]:
    """Return the plastic moduli for bending vertically and sideways of a single section, m3: plastic moment over the least yield
    strength. strength (n_walls,): of each wall over the least.
    """
    y, z, area = fibres(m, strength)
    return first_moment_about_median(z, area), first_moment_about_median(y, area)


def first_moment_about_median(at: Array, area: Array) -> float:
    """Return the sum of area x distance from the axis that halves the area: what a fully yielded section resists."""
    order = np.argsort(at)
    half = np.searchsorted(np.cumsum(area[order]), 0.5 * area.sum())
    return float(np.sum(area * np.abs(at - at[order[half]])))


def fibres(m: MidlineResults, strength: Array) -> tuple[Array, Array, Array]:
    """Return y, z from the centroid and the area of small fibres times their strength, each (n,)."""
    along = ((np.arange(ALONG) + 0.5) / ALONG)[:, None]
    across = (np.arange(ACROSS) + 0.5) / ACROSS - 0.5
    lines = m.lines

    def spread(start: Array, stop: Array, normal: Array) -> Array:
        """Return the fibres' coordinate, (n_walls, ALONG, ACROSS)."""
        s, e, n, t = (each[:, None, None] for each in (start, stop, normal, lines.thickness))
        return np.asarray(s + (e - s) * along + n * t * across)

    y, z = spread(lines.y0, lines.y1, lines.ez), spread(lines.z0, lines.z1, -lines.ey)
    area = np.broadcast_to((lines.area / lines.young * strength)[:, None, None] / (ALONG * ACROSS), y.shape)
    return y.ravel(), z.ravel(), area.ravel()


def outline_box(lines: WallVectors, solid: Array) -> tuple[float, float, float, float]:
    """Return y_min, y_max, z_min, z_max of the walls' faces from the centroid, m."""
    real = solid > 0.0
    half = 0.5 * lines.thickness
    ys = np.concatenate(
        [each[real] for y in (lines.y0, lines.y1) for each in (y - half * lines.ez, y + half * lines.ez)]
    )
    zs = np.concatenate(
        [each[real] for z in (lines.z0, lines.z1) for each in (z - half * lines.ey, z + half * lines.ey)]
    )
    return float(ys.min()), float(ys.max()), float(zs.min()), float(zs.max())
