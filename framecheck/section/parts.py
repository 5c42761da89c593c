"""What the mesher is given: the parts of a section, how they act together, and halves that are meshed once and mirrored."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from enum import Enum
from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry


GRID = 1e-4
"""mm between the points of what a cut, a hole or a contact makes."""
SLIVER = 1e-3
"""mm of mean half thickness below which a piece is a rounding error."""


class Bond(Enum):
    """How the parts of a section act together.

    WHOLE: one piece. SEAMED: one piece in bending; in twist each part warps freely along the seams, and the welded cell is the
    other bound. PARTED: pieces left by a hole or a cut, whose ends still move as one plane: one in stretching and bending,
    each carrying shear and twist by itself. APART: parts that don't touch, each bending about its own centroid, with the same
    curvature and twist.
    """

    WHOLE = "one piece"
    SEAMED = "one piece in bending, in twist free along the seams"
    PARTED = "pieces that bend as one plane and carry shear and twist each by itself"
    APART = "separate beams sharing curvature and twist"


@array_class
class Parts:
    """Polygons in mm measured from the section's reference point, how they act together, and what to tell the reader.

    pieces_of: the number of the part that each polygon is a piece of, the piece that was there first being 0; (): one each, in order.
    """

    polygons: tuple[Polygon, ...]
    bond: Bond = Bond.WHOLE
    notes: tuple[str, ...] = ()
    pieces_of: tuple[int, ...] = ()

    @property
    def numbers(self) -> tuple[int, ...]:
        """Return the number of the part that each polygon is a piece of."""
        return self.pieces_of or tuple(range(len(self.polygons)))


def pieces_of(geometry: BaseGeometry) -> tuple[Polygon, ...]:
    """Return the polygons of a geometry, without slivers, their points on a grid so that none is a hair's breadth from another."""
    from shapely import get_parts, set_precision

    return tuple(
        part
        for part in get_parts(set_precision(geometry, GRID))
        if part.geom_type == "Polygon" and part.area > SLIVER * part.length
    )


LOOSE_NOTE = "its seams are in doubt: the other end of the range, parts that bend each by itself, is solved too"


def loosened(parts: Parts) -> Parts:
    """Return touching parts as separate beams that share curvature and twist."""
    return replace(parts, bond=Bond.APART, notes=(LOOSE_NOTE,)) if len(parts.polygons) > 1 else parts


def without(parts: Parts, gone: BaseGeometry) -> Parts:
    """Return the parts with a region taken out of each; pieces that come apart are PARTED, not meshed as one."""
    both = tuple(zip(parts.numbers, parts.polygons, strict=True))
    pieces = [(number, piece) for number, polygon in both for piece in pieces_of(polygon.difference(gone))]
    left, numbers = tuple(piece for _, piece in pieces), tuple(number for number, _ in pieces)
    if len(left) == len(parts.polygons) or len(left) < 2:
        return replace(parts, polygons=left, bond=parts.bond if len(left) > 1 else Bond.WHOLE, pieces_of=numbers)
    note = f"the cut leaves {len(left)} pieces: {Bond.PARTED.value}"
    return Parts(left, Bond.PARTED, (*parts.notes, note), numbers)


ON_AXIS = 1e-7
"""mm from the axis of symmetry within which a point is on it."""


@array_class
class TriangleMesh:
    """Three-node triangles, counter-clockwise: points (n, 2) in mm, triangles (m, 3), part (m,) the part each lies in."""

    points: Array
    triangles: IntArray
    part: IntArray


def mirrored_mesh(polygon: Polygon, meshed: Callable[[Polygon], TriangleMesh], first: int = 0) -> TriangleMesh:
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
    """Return the half of a polygon beyond the middle of an axis; None where it is not alike on both sides but for the grid's rounding,
    or falls apart."""
    from shapely import box
    from shapely.affinity import scale

    factors, origin = ((-1.0, 1.0), (middle, 0.0)) if axis == 0 else ((1.0, -1.0), (0.0, middle))
    if polygon.symmetric_difference(scale(polygon, *factors, origin=origin)).area > GRID * polygon.length:
        return None
    y_low, z_low, y_high, z_high = polygon.bounds
    low = (middle, z_low - 1.0) if axis == 0 else (y_low - 1.0, middle)
    half = polygon.intersection(box(*low, y_high + 1.0, z_high + 1.0))
    return half if half.geom_type == "Polygon" else None


def _doubled(mesh: TriangleMesh, axis: int, middle: float) -> TriangleMesh:
    """Return a mesh with its mirror image, joined along the axis."""
    points = mesh.points.copy()
    on_axis = np.abs(points[:, axis] - middle) < ON_AXIS
    points[on_axis, axis] = middle
    image = points[~on_axis].copy()
    image[:, axis] = 2 * middle - image[:, axis]
    number = np.arange(len(points))
    number[~on_axis] = len(points) + np.arange(len(image))
    triangles = np.concatenate((mesh.triangles, number[mesh.triangles][:, ::-1]))
    return TriangleMesh(np.concatenate((points, image)), triangles, np.concatenate((mesh.part, mesh.part)))
