"""From any shape to its parts."""

from __future__ import annotations

from framecheck.model.shapes import (
    BoxedChannel,
    ChannelPair,
    Drilled,
    FloorClosed,
    GivenProperties,
    Plated,
    Shape,
    Sleeve,
    Worn,
)
from framecheck.section.built_up import built_up_parts
from framecheck.section.changed import drilled_walls, worn_polygon
from framecheck.section.outline import polygon
from framecheck.section.parts import Parts, without


def parts_of(shape: Shape) -> Parts:
    """Return the parts of a shape that has an outline, in mm.

    The origin is the middle of the outline box of the piece that was there first: of the base of a plated, boxed, worn or
    drilled one, so that a rail does not move when something is added to it.
    """
    match shape:
        case GivenProperties():
            raise TypeError("given properties have no outline")
        case BoxedChannel() | Sleeve() | FloorClosed() | Plated() | ChannelPair():
            return built_up_parts(shape)
        case Worn():
            return Parts((worn_polygon(shape),))
        case Drilled():
            base = parts_of(shape.base)
            return without(base, drilled_walls(shape.base, base, shape.holes))
        case _:
            return Parts((polygon(shape),))
