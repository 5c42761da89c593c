"""A polygon that is alike on both sides is meshed on one and mirrored, so that its numbers are as even as it is. mm."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from shapely import Polygon

ALIKE = 1e-9
"""Share of the area in which a polygon and its mirror image may differ."""
ON_AXIS = 1e-7
"""mm from the axis of symmetry within which a point is on it."""


@array_class
class Mesh:
    """Three-node triangles, counter-clockwise: points (n, 2) in mm, triangles (m, 3), part (m,) the part each lies in."""

    points: Array
    triangles: IntArray
    part: IntArray


def mirrored_mesh(polygon: Polygon, meshed: Callable[[Polygon], Mesh], first: int = 0) -> Mesh:
    """Return the mesh of a polygon from that of its half, or quarter, where it is alike on both sides; meshed: of what is left.

    first: 0 both axes are looked at, 1 the second alone.
    """
    for axis in range(first, 2):
        middle = _middle(polygon, axis)
        half = _half(polygon, axis, middle)
        if half is not None:
            return _doubled(mirrored_mesh(half, meshed, axis + 1), axis, middle)
    return meshed(polygon)


def _middle(polygon: Polygon, axis: int) -> float:
    low, high = polygon.bounds[axis], polygon.bounds[axis + 2]
    return float(low + high) / 2


def _half(polygon: Polygon, axis: int, middle: float) -> Polygon | None:
    """Return the half of a polygon beyond the middle of an axis; None where it is not alike on both sides, or falls apart."""
    from shapely import box
    from shapely.affinity import scale

    factors, origin = ((-1.0, 1.0), (middle, 0.0)) if axis == 0 else ((1.0, -1.0), (0.0, middle))
    if polygon.symmetric_difference(scale(polygon, *factors, origin=origin)).area > ALIKE * polygon.area:
        return None
    y_low, z_low, y_high, z_high = polygon.bounds
    low = (middle, z_low - 1.0) if axis == 0 else (y_low - 1.0, middle)
    half = polygon.intersection(box(*low, y_high + 1.0, z_high + 1.0))
    return half if half.geom_type == "Polygon" else None


def _doubled(mesh: Mesh, axis: int, middle: float) -> Mesh:
    """Return a mesh with its mirror image, joined along the axis."""
    points = mesh.points.copy()
    on_axis = np.abs(points[:, axis] - middle) < ON_AXIS
    points[on_axis, axis] = middle
    image = points[~on_axis].copy()
    image[:, axis] = 2 * middle - image[:, axis]
    number = np.arange(len(points))
    number[~on_axis] = len(points) + np.arange(len(image))
    triangles = np.concatenate((mesh.triangles, number[mesh.triangles][:, ::-1]))
    return Mesh(np.concatenate((points, image)), triangles, np.concatenate((mesh.part, mesh.part)))
