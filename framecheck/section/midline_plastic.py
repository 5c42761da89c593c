"""Plastic moduli and outline box of a graph of walls."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.midline_theory import MidlineResults
from framecheck.section.midline_walls import Lines

ALONG, ACROSS = 48, 6
"""Fibres that each wall is cut into, along and across."""


def plastic_moduli(m: MidlineResults, strength: Array) -> tuple[float, float]:
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


def outline_box(lines: Lines, solid: Array) -> tuple[float, float, float, float]:
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
