"""Flat walls gridded into elements, joined where their points have one name; and lines of grid points. SI."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.quad import Plates
from framecheck.model.arrays import Array, IntArray


class Panel(NamedTuple):
    """A flat wall across one axis (0, 1, 2) at a place, gridded along the two others, in m.

    names: (n_first, n_second) whole numbers: points of the same name are one node, wherever they are computed to lie.
    """

    normal: int
    at: float
    first: Array
    second: Array
    wall: float
    e: float
    nu: float
    names: IntArray


class Mesh(NamedTuple):
    """nodes (n, 3) in m; corners (m, 4) node numbers; plates (m).

    carried (k, 2): a node and the one that it moves with rigidly.
    """

    nodes: Array
    corners: IntArray
    plates: Plates
    carried: IntArray = np.zeros((0, 2), dtype=np.int64)


def even(start: float, end: float, parts: int) -> Array:
    """Return equally spaced points from start to end."""
    return np.linspace(start, end, parts + 1)


def graded(start: float, end: float, parts: int, first: float) -> Array:
    """Return points from start to end; the steps grow by a constant ratio from about `first`."""
    length = abs(end - start)
    if parts * first >= length:
        return even(start, end, parts)
    low, high = 1.0, 10.0
    for _ in range(40):
        ratio = (low + high) / 2
        low, high = (ratio, high) if first * (ratio**parts - 1) < length * (ratio - 1) else (low, ratio)
    steps = np.concatenate(([0.0], np.cumsum(ratio ** np.arange(parts))))
    points: Array = start + (end - start) * steps / steps[-1]
    return points


def joined(*pieces: Array) -> Array:
    """Return pieces of a line, each from the last one's end, as one."""
    return np.concatenate((pieces[0], *(piece[1:] for piece in pieces[1:])))


def _panel_points(panel: Panel) -> Array:
    """Return the grid points (a, b, 3) of a panel."""
    points = np.empty((len(panel.first), len(panel.second), 3))
    first, second = (axis for axis in range(3) if axis != panel.normal)
    points[:, :, panel.normal] = panel.at
    points[:, :, first] = panel.first[:, None]
    points[:, :, second] = panel.second[None, :]
    return points


def grid_corners(numbers: IntArray) -> IntArray:
    """Return the corners (m, 4) of the elements of a grid of node numbers (a, b)."""
    corners = np.stack((numbers[:-1, :-1], numbers[1:, :-1], numbers[:-1, 1:], numbers[1:, 1:]), axis=-1)
    return corners.reshape(-1, 4)


def merged(panels: list[Panel]) -> Mesh:
    """Join the panels where their points have one name."""
    points = np.concatenate([_panel_points(panel).reshape(-1, 3) for panel in panels])
    names = np.concatenate([panel.names.ravel() for panel in panels])
    _, keep, number = np.unique(names, return_index=True, return_inverse=True)
    number, starts = number.reshape(-1), np.cumsum([0] + [panel.names.size for panel in panels])
    grids = [number[s : s + panel.names.size].reshape(panel.names.shape) for s, panel in zip(starts[:-1], panels, strict=True)]
    corners = [grid_corners(grid) for grid in grids]
    made = [np.repeat([[panel.wall, panel.e, panel.nu]], len(each), axis=0) for panel, each in zip(panels, corners, strict=True)]
    of, nodes = np.concatenate(corners), points[keep]
    return Mesh(nodes, of, Plates(nodes[of], *np.concatenate(made).T))
