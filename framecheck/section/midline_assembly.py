"""From any shape to its graph of walls."""

from __future__ import annotations

from framecheck.model.shapes import BoxedChannel, ChannelPair, Drilled, FloorClosed, IShape, Plated, Shape, Worn
from framecheck.section.midline_built import LOOSE, SEAMED_NOTE, WELDED, boxed_strips, built_strips, seamed, strips
from framecheck.section.midline_changed import DRILLED_NOTE, drilled, opened, worn_graph
from framecheck.section.midline_parts import Strip, assembled
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
            filled, fillets = _drilled_strips(shape), _fillets(shape.base)
            return Drawn(assembled(opened(filled), fillets), assembled(filled, fillets), (DRILLED_NOTE,))
        case _:
            return Drawn(piece_graph(shape)) if isinstance(shape, ThinPiece) else None


def _built(shape: BoxedChannel | FloorClosed | Plated | ChannelPair) -> Drawn:
    """Return the walls of a built-up shape whose parts touch."""
    fillets = _fillets(shape.base) if isinstance(shape, Plated) else 0.0
    graph = assembled(built_strips(shape, WELDED), fillets)
    if not seamed(shape):
        return Drawn(graph)
    return Drawn(graph, assembled(built_strips(shape, LOOSE), fillets), (SEAMED_NOTE,))


def _drilled_strips(shape: Drilled) -> list[Strip]:
    """Return the walls of a drilled piece, the pieces that holes take marked."""
    base = shape.base
    if isinstance(base, BoxedChannel):
        return boxed_strips(base, drilled(strips(base.channel), shape.holes))
    return drilled(strips(base), shape.holes)


def _fillets(base: Shape) -> float:
    """Return what the root fillets of an I add to the torsion constant, m4."""
    return 2 * junction_torsion(base) if isinstance(base, IShape) else 0.0
