"""Plastic moduli from triangles: clipped exactly at the axis that halves the area."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.elements import Elements


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


def plastic_modulus(heights: Array, areas: Array) -> float:
    """Return the plastic modulus about the level that halves the area; heights (m, 3) of the corners, areas (m,), in one unit."""
    low, high = float(heights.min()), float(heights.max())
    half = float(areas.sum()) / 2
    for _ in range(50):
        level = (low + high) / 2
        low, high = (level, high) if part_above(heights - level, areas)[0] > half else (low, level)
    above = part_above(heights - level, areas)[1]
    below = part_above(level - heights, areas)[1]
    return above + below


def part_above(heights: Array, areas: Array) -> tuple[float, float]:
    """Return area above level 0 and its first moment about it, of triangles with corner heights (m, 3)."""
    ordered = np.sort(heights, axis=1)
    low, middle, high = ordered.T
    tip, tip_moment = _tip(high, middle, low, areas)
    foot, foot_moment = _tip(-low, -middle, -high, areas)
    whole_moment = areas * heights.mean(axis=1)
    area = np.where(middle > 0, areas - foot, tip)
    moment = np.where(middle > 0, whole_moment + foot_moment, tip_moment)
    return float(area.sum()), float(moment.sum())


def _tip(top: Array, second: Array, third: Array, areas: Array) -> tuple[Array, Array]:
    """Return area and first moment of the small triangle above level 0 where only the corner `top` may be above it."""
    alone = (top > 0) & (second <= 0)
    spread = np.where(alone, (top - second) * (top - third), 1.0)
    area = np.where(alone, areas * top**2 / spread, 0.0)
    return area, area * top / 3
