"""A thin-walled section as flat strips along its middle lines, and what a cut takes away. SI; corners are sharp."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from framecheck.model.shapes import Channel, RectTube, Side
from framecheck.value_class import value_class

UP, LEFT = 2, 1  # axes: x along the member, y to the left, z up
NEAR = 1e-9  # m

Point = tuple[float, float]


@value_class
class Strip:
    """A flat wall of the section from one point (y, z) to the next, about the middle of the outline's box."""

    start: Point
    end: Point
    wall: float

    @property
    def along(self) -> int:
        """Return the axis that the strip runs along: 1 across (y), 2 up (z)."""
        return LEFT if abs(self.end[0] - self.start[0]) > abs(self.end[1] - self.start[1]) else UP


@value_class
class Notched:
    """A section with a cut: its strips in the order of the wall's run, and which of them the cut takes.

    A tube's run starts and ends in the middle of the wall on the cut side: what is left of it is one chain. closed: a tube.
    """

    whole: tuple[Strip, ...]
    taken: tuple[bool, ...]
    closed: bool

    @property
    def left(self) -> tuple[Strip, ...]:
        """Return the strips that are left over the cut's length."""
        return tuple(strip for strip, gone in zip(self.whole, self.taken, strict=True) if not gone)

    @property
    def gone(self) -> tuple[Strip, ...]:
        """Return the strips that are gone over the cut's length."""
        return tuple(strip for strip, gone in zip(self.whole, self.taken, strict=True) if gone)


def _chain(points: Sequence[Point], wall: float) -> tuple[Strip, ...]:
    return tuple(Strip(a, b, wall) for a, b in pairwise(points))


def _tube(tube: RectTube, side: Side) -> tuple[Strip, ...]:
    """Return the ring of a tube's walls, that on the cut side last in two halves, one at each end of the run."""
    y, z = (tube.width - tube.wall) / 2, (tube.height - tube.wall) / 2
    corners = [(y, z), (y, -z), (-y, -z), (-y, z)]  # from the top left, downwards
    turns = {Side.TOP: 0, Side.LEFT: 3, Side.BOTTOM: 2, Side.RIGHT: 1}[side]
    ring = corners[-turns:] + corners[:-turns] if side is not Side.TOP else corners
    middle = (ring[0][0] + ring[-1][0]) / 2, (ring[0][1] + ring[-1][1]) / 2
    return _chain([middle, *ring, middle], tube.wall)


def _channel(channel: Channel) -> tuple[Strip, ...]:
    """Return a channel's walls from the lower lip or flange tip round the web to the upper one."""
    y, z, t = channel.flange / 2, (channel.height - channel.wall) / 2, channel.wall
    web, tip = y - t / 2, -y + t / 2 if channel.lip > 0.0 else -y
    lips = channel.height / 2 - channel.lip
    points = [(tip, -z), (web, -z), (web, z), (tip, z)]
    return _chain([(tip, -lips), *points, (tip, lips)] if channel.lip > 0.0 else points, t)


def _depth_of(point: Point, side: Side) -> float:
    """Return how far a point lies towards the cut side, from the middle of the box."""
    return {Side.TOP: point[1], Side.BOTTOM: -point[1], Side.LEFT: point[0], Side.RIGHT: -point[0]}[side]


def _split(strip: Strip, side: Side, place: float) -> list[Strip]:
    """Return the strip cut in two where it crosses the cut's floor, or whole."""
    a, b = _depth_of(strip.start, side), _depth_of(strip.end, side)
    if (a - place) * (b - place) >= -NEAR * NEAR or min(abs(a - place), abs(b - place)) < NEAR:
        return [strip]
    share = (place - a) / (b - a)
    middle = tuple(p + share * (q - p) for p, q in zip(strip.start, strip.end, strict=True))
    return [replace(strip, end=(middle[0], middle[1])), replace(strip, start=(middle[0], middle[1]))]


def _is_gone(strip: Strip, side: Side, place: float) -> bool:
    return (_depth_of(strip.start, side) + _depth_of(strip.end, side)) / 2 > place + NEAR


def notched(shape: RectTube | Channel, side: Side, depth: float) -> Notched:
    """Return the section's strips with all that lies within `depth` (m) of that side of the outline marked as gone.

    A wall on that side whose middle line lies within the depth goes as a whole; a shallower cut takes nothing.
    """
    closed = isinstance(shape, RectTube)
    run = _tube(shape, side) if isinstance(shape, RectTube) else _channel(shape)
    height, width = shape.height, shape.width if isinstance(shape, RectTube) else shape.flange
    place = (height if side in (Side.TOP, Side.BOTTOM) else width) / 2 - depth
    pieces = [piece for strip in run for piece in _split(strip, side, place)]
    return Notched(tuple(pieces), tuple(_is_gone(piece, side, place) for piece in pieces), closed)


def in_one_piece(strips: Sequence[Strip]) -> bool:
    """Return whether the strips hang together in their order."""
    return bool(strips) and all(
        abs(a.end[0] - b.start[0]) + abs(a.end[1] - b.start[1]) < NEAR for a, b in pairwise(strips)
    )
