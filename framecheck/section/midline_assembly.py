"""From any shape to its graph of walls."""

from __future__ import annotations

from framecheck.model.shapes import BoxedChannel, ChannelPair, Drilled, FloorClosed, IShape, Plated, Shape, Worn
from framecheck.section.midline_built import LOOSE, SEAMED_NOTE, WELDED, built_strips, parts_of, seamed
from framecheck.section.midline_changed import DRILLED_NOTE, drilled, opened, worn_graph
from framecheck.section.midline_parts import assembled, joined
from framecheck.section.midline_shapes import ThinPiece, junction_torsion, piece_graph
from framecheck.section.midline_walls import WallGraph
from framecheck.value_class import array_class


@array_class
class Drawn:
    """A section's walls, and what to tell the reader about them.

    twisting: the same walls, joint by joint, as they take part in twist, where that is not how they bend: with seams that carry
    next to nothing, where parts joined at intervals twist each by itself; or with the holes filled, for twist runs round a hole.
    """

    graph: WallGraph
    twisting: WallGraph | None = None
    notes: tuple[str, ...] = ()


def drawn(shape: Shape) -> Drawn | None:
    """Return a shape's walls, measured from its reference point; None where it has no mid-line, or walls that don't touch."""
    match shape:
        case BoxedChannel() | FloorClosed() | Plated() | ChannelPair():
            return _built(shape)
        case Worn():
            return Drawn(worn_graph(shape))
        case Drilled():
            filled, fillets = joined(drilled(shape, parts_of(shape.base)), WELDED), _fillets(shape.base)
            return Drawn(assembled(opened(filled), fillets), assembled(filled, fillets), (DRILLED_NOTE,))
        case _:
            return Drawn(piece_graph(shape)) if isinstance(shape, ThinPiece) else None


def _built(shape: BoxedChannel | FloorClosed | Plated | ChannelPair) -> Drawn:
    """Return the walls of a built-up shape whose parts touch."""
    fillets = _fillets(shape)
    graph = assembled(built_strips(shape, WELDED), fillets)
    if not seamed(shape):
        return Drawn(graph)
    return Drawn(graph, assembled(built_strips(shape, LOOSE), fillets), (SEAMED_NOTE,))


def _fillets(base: Shape) -> float:
    """Return what the root fillets of an I, new or worn, add to the torsion constant, m4."""
    match base:
        case IShape():
            return 2 * junction_torsion(base)
        case Worn():
            return float(worn_graph(base).extra_torsion) if isinstance(base.base, IShape) else 0.0
        case Plated():
            return _fillets(base.base)
        case _:
            return 0.0
