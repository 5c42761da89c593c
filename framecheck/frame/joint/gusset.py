"""A triangle as three patches of quadrilaterals, each from one corner to the middle."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, IntArray

Share = tuple[float, float, float]
CORNERS: tuple[Share, Share, Share] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
MIDDLE: Share = (1 / 3, 1 / 3, 1 / 3)


def _patches(half: int) -> Array:
    """Return the shares (3, half + 1, half + 1, 3) of the three corners at the grid points of the three patches."""
    t = np.linspace(0.0, 1.0, half + 1)
    found = []
    for first in range(3):
        corner, second, third = (np.array(CORNERS[(first + k) % 3]) for k in range(3))
        one, other, middle = (corner + second) / 2, (corner + third) / 2, np.array(MIDDLE)
        a, b = t[:, None, None], t[None, :, None]
        found.append((1 - a) * (1 - b) * corner + a * (1 - b) * one + (1 - a) * b * other + a * b * middle)
    return np.array(found)


def fill_triangle(first: IntArray, second: IntArray, free: int) -> tuple[Array, IntArray]:
    """Return the places (n, 2) of the nodes that a triangle needs besides those of its two legs, and its elements (m, 4).

    first, second: node numbers along the legs, from the corner they share on; places: shares of the two legs' lengths. New nodes are
    numbered from `free`. A point's name is its share of the three corners, which no size changes.
    """
    parts, half = len(first) - 1, (len(first) - 1) // 2
    numbers: dict[tuple[int, int], int] = {}
    places: list[tuple[float, float]] = []
    for k in range(parts + 1):
        numbers[_name(k / parts, 0.0)], numbers[_name(0.0, k / parts)] = int(first[k]), int(second[k])
    elements = []
    for patch in _patches(half):
        grid = np.empty((half + 1, half + 1), dtype=np.int64)
        for at in np.ndindex(half + 1, half + 1):
            _, p, q = (float(each) for each in patch[at])
            name = _name(p, q)
            if name not in numbers:
                numbers[name] = free + len(places)
                places.append((p, q))
            grid[at] = numbers[name]
        elements.append(np.stack((grid[:-1, :-1], grid[1:, :-1], grid[:-1, 1:], grid[1:, 1:]), axis=-1).reshape(-1, 4))
    return np.array(places), np.concatenate(elements)


def _name(first: float, second: float) -> tuple[int, int]:
    return round(first * 1e6), round(second * 1e6)
