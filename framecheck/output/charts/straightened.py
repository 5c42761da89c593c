"""Lines as paths of SVG, with the points left out that nobody would see, so that a page stays small."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array

OFF = 0.06
"""Pixels by which a line may lie beside the points that it leaves out; coordinates are written in tenths."""


def path(pixels: Array, end: str = "") -> str:
    """Return a path's commands through pixels (n, 2), a gap where one is not finite."""
    known = np.isfinite(pixels).all(axis=1)
    if known.all():
        return one_path(pixels) + end
    breaks = np.flatnonzero(~known)
    return "".join(one_path(stretch[np.isfinite(stretch).all(axis=1)]) for stretch in np.split(pixels, breaks)) + end


def one_path(pixels: Array) -> str:
    """Return the commands through pixels (n, 2) without a gap."""
    places = (f"{x:.1f} {y:.1f}" for x, y in straightened(pixels).tolist())
    return "M" + "L".join(places) if len(pixels) else ""


def straightened(points: Array) -> Array:
    """Return a line (n, 2) without the points that lie within OFF of it.

    D. Douglas, T. Peucker, "Algorithms for the reduction of the number of points required to represent a digitized line or its
    caricature", Cartographica 10(2), 1973: split at the farthest point. Distances are to the stretch itself, so that a line that
    doubles back on itself keeps its end.
    """
    if len(points) < 3:
        return points
    keep = np.zeros(len(points), dtype=bool)
    keep[[0, -1]] = True
    open_stretches = [(0, len(points) - 1)]
    while open_stretches:
        first, last = open_stretches.pop()
        if last - first < 2:
            continue
        away = distances(points[first + 1 : last], points[first], points[last])
        farthest = int(np.argmax(away))
        if away[farthest] > OFF:
            split = first + 1 + farthest
            keep[split] = True
            open_stretches += [(first, split), (split, last)]
    return points[keep]


def distances(points: Array, start: Array, end: Array) -> Array:
    """Return how far points (n, 2) lie from the stretch between two others."""
    way, by = end - start, points - start
    length = float(way @ way)
    share = np.clip(by @ way / length, 0.0, 1.0) if length > 0 else np.zeros(len(points))
    away: Array = np.hypot(*(by - share[:, None] * way).T)
    return away
