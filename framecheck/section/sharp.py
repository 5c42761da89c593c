"""Sharp re-entrant corners, where a stress peak grows without end as the mesh is refined."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, BoolArray
from framecheck.section.elements import Elements
from framecheck.section.rim import Rim

SHARP_TURN = np.radians(25.0)
"""A rim that turns into the material by more than this in one point is a sharp corner; the pieces of an arc turn far less."""


def sharp_corners(elements: Elements, rim: Rim) -> Array:
    """Return the sharp re-entrant corners of the rim, (k, 2), mm."""
    along = elements.nodes[rim.sides[:, 2]] - elements.nodes[rim.sides[:, 0]]
    arriving = np.zeros((len(elements.nodes), 2))
    arriving[rim.sides[:, 2]] = along
    before = arriving[rim.sides[:, 0]]
    turn = np.arctan2(before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0], np.sum(before * along, axis=1))
    corners: Array = elements.nodes[rim.sides[turn < -SHARP_TURN, 0]]
    return corners


def beside_sharp_corner(elements: Elements, rim: Rim, points: Array) -> BoolArray:
    """Return which points (n, 2) lie within a mean wall thickness (2 A / rim) of a sharp re-entrant corner."""
    corners = sharp_corners(elements, rim)
    if not len(corners):
        return np.zeros(len(points), dtype=np.bool_)
    distance = np.linalg.norm(points[:, None, :] - corners[None, :, :], axis=2).min(axis=1)
    near: BoolArray = distance <= mean_wall(elements, rim)
    return near


def mean_wall(elements: Elements, rim: Rim) -> float:
    """Return 2 A / rim, which for thin walls is their thickness, mm."""
    along = elements.nodes[rim.sides[:, 2]] - elements.nodes[rim.sides[:, 0]]
    return float(2 * elements.area.sum() / np.linalg.norm(along, axis=1).sum())
