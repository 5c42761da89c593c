"""Whether a shape has lips or brims that may turn with the wall they stiffen (distortional buckling)."""

from __future__ import annotations

from enum import Enum

from framecheck.model.nesting import pieces_in
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    ChannelPair,
    FloorClosed,
    Hat,
    Pairing,
    Shape,
    Sleeve,
    Worn,
)


class Lips(Enum):
    """NONE: no lips, or all held by another piece. BARE: those of a bent sheet alone. CHANGED: of one with holes or pieces on it."""

    NONE = "none"
    BARE = "bare"
    CHANGED = "changed"


def lips_of(shape: Shape) -> Lips:
    """Return what lips a shape has."""
    match shape:
        case Channel():
            return Lips.BARE if shape.lip else Lips.NONE
        case Hat():
            return Lips.BARE
        case Worn():
            return lips_of(shape.base)
        case BoxedChannel() | FloorClosed() | Sleeve() | ChannelPair(pairing=Pairing.TOE_TO_TOE):
            return Lips.NONE
        case _:
            has_some = any(lips_of(piece) is not Lips.NONE for piece in pieces_in(shape))
            return Lips.CHANGED if has_some else Lips.NONE
