"""The parts of a section and how they act together: what the mesher is given."""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from typing import TYPE_CHECKING

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
