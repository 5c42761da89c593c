"""How a section is turned in its member so that its open side looks where the user wants it, and left mirrored to right.

Directions round a member are counted in quarter turns from its left (+y): 0 left, 1 up, 2 right, 3 down.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from framecheck.frame.geometry import member_axes
from framecheck.model.arrays import Vector
from framecheck.model.frame import Orientation
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    Drilled,
    FloorClosed,
    Hat,
    Plated,
    Shape,
    Side,
    Sleeve,
    Worn,
)
from framecheck.reading.blocks.frame import Toward

LEFT, UP, RIGHT, DOWN = range(4)
QUARTERS: Mapping[Side, int] = {Side.LEFT: LEFT, Side.TOP: UP, Side.RIGHT: RIGHT, Side.BOTTOM: DOWN}
SIDES = {quarter: side for side, quarter in QUARTERS.items()}

VECTORS: Mapping[Toward, Vector] = {
    Toward.FORWARD: (1.0, 0.0, 0.0),
    Toward.REARWARD: (-1.0, 0.0, 0.0),
    Toward.LEFT: (0.0, 1.0, 0.0),
    Toward.RIGHT: (0.0, -1.0, 0.0),
    Toward.UP: (0.0, 0.0, 1.0),
    Toward.DOWN: (0.0, 0.0, -1.0),
}


def open_quarter(shape: Shape) -> int | None:
    """Return where a shape is open as drawn, None where it has no open side."""
    match shape:
        case Channel() | Angle() | BoxedChannel():
            return RIGHT
        case Hat():
            return DOWN
        case FloorClosed(base=base) | Plated(base=base) | Worn(base=base) | Drilled(base=base):
            return open_quarter(base)
        case Sleeve(core=core):
            return open_quarter(core)
        case _:
            return None


def direction(toward: Toward, y: float = 0.0) -> Vector:
    """Return a direction as a vector; inboard and outboard for something at y, m."""
    if toward is Toward.INBOARD:
        return (0.0, -1.0 if y > 0 else 1.0, 0.0)
    if toward is Toward.OUTBOARD:
        return (0.0, 1.0 if y > 0 else -1.0, 0.0)
    return VECTORS[toward]


def quarter_of(along: Vector, wanted: Vector) -> int | None:
    """Return which quarter round a member along a direction looks the wanted way most; None where the member itself runs that way."""
    unit = np.array([along]) / np.linalg.norm(along)
    _, left, up = member_axes(unit)[0]
    parts = np.array([left @ wanted, up @ wanted])
    most = int(np.argmax(np.abs(parts)))
    if abs(parts[most]) < 0.5:
        return None
    return (LEFT if parts[most] > 0 else RIGHT) if most == 0 else (UP if parts[most] > 0 else DOWN)


def turned(drawn: int, wanted: int) -> Orientation:
    """Return how a section open toward `drawn` is laid to be open toward `wanted`: flipped over rather than half turned."""
    quarters = (wanted - drawn) % 4
    if quarters == 2:
        return Orientation(0, True) if drawn in (LEFT, RIGHT) else Orientation(2, True)
    return Orientation(quarters)


def mirror_image(orientation: Orientation) -> Orientation:
    """Return the orientation of the mirror image about the vehicle's middle, for a member that runs the same way along x."""
    return Orientation(-orientation.quarter_turns % 4, not orientation.mirrored)
