"""From any shape to its graph of walls."""

from __future__ import annotations

from dataclasses import dataclass

from framecheck.model.shapes import Shape
from framecheck.section.midline_shapes import ThinPiece, piece_graph
from framecheck.section.midline_walls import WallGraph


@dataclass(frozen=True, eq=False, slots=True)
class Drawn:
    """A section's walls, and what to tell the reader about them."""

    graph: WallGraph
    notes: tuple[str, ...] = ()


def drawn(shape: Shape) -> Drawn | None:
    """Return a shape's walls, measured from its reference point; None where it has no mid-line."""
    if isinstance(shape, ThinPiece):
        return Drawn(piece_graph(shape))
    return None
