"""Shapes as thin walls along their middle lines and as flat strips; which planes mirror a joint; what a cut takes away. SI."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from framecheck.frame.joint.data import Branch, Chord, Outline, Point, WallStrip
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    Hat,
    IShape,
    Pairing,
    RectTube,
    RoundTube,
    Shape,
    Side,
    Worn,
    ZShape,
)
from framecheck.section.shape_geometry import BentSheet, mid_line
from framecheck.value_class import value_class

SIDES = (Side.LEFT, Side.RIGHT, Side.TOP, Side.BOTTOM)


def outline_of(shape: Shape) -> Outline | None:
    """Return the outline of a shape that is made of flat walls; None for the others."""
    match shape:
        case RectTube(height, width, wall):
            return box(height, width, (wall,) * 4)
        case Channel() | Angle() | Hat() | ZShape():
            return sheet(shape)
        case IShape():
            return _i_outline(shape)
        case Flat(height, width):
            half = (0.0, height / 2) if height >= width else (width / 2, 0.0)
            return Outline(((-half[0], -half[1]), half), (WallStrip(0, 1, min(height, width)),))
        case BoxedChannel():
            return _boxed(shape)
        case ChannelPair(Channel() as first, Channel() as second, Pairing.TOE_TO_TOE):
            return _toe_to_toe(first, second)
        case Drilled(base):
            return outline_of(base)
        case Worn(base) if not isinstance(base, RoundTube | Flat):
            return _worn(shape)
        case _:
            return None


def box(height: float, width: float, walls: tuple[float, float, float, float]) -> Outline:
    """Return a box by its outside sizes; walls: left, top, right, bottom. The left (+y) one is its first."""
    left, top, right, bottom = walls
    y0, y1, z = width / 2 - left / 2, right / 2 - width / 2, height / 2
    corners = (y0, bottom / 2 - z), (y0, z - top / 2), (y1, z - top / 2), (y1, bottom / 2 - z)
    return Outline(corners, tuple(WallStrip(n, (n + 1) % 4, wall) for n, wall in enumerate(walls)))


def sheet(shape: BentSheet) -> Outline:
    """Return a sheet of even thickness bent along a path."""
    corners = tuple(mid_line(shape))
    return Outline(corners, tuple(WallStrip(n, n + 1, shape.wall) for n in range(len(corners) - 1)))


def _i_outline(shape: IShape) -> Outline:
    y, z, web, flange = shape.width / 2, (shape.height - shape.flange) / 2, shape.web, shape.flange
    corners: tuple[Point, ...] = ((0.0, -z), (0.0, z), (y, z), (-y, z), (y, -z), (-y, -z))
    return Outline(corners, (WallStrip(0, 1, web), *(WallStrip(foot, tip, flange) for foot, tip in ((1, 2), (1, 3), (0, 4), (0, 5)))))


def _boxed(shape: BoxedChannel) -> Outline | None:
    """Return a boxed channel without lips; its flanges' tips beyond a plate that is set in are left out (unfavourable)."""
    found = outline_of(shape.channel)
    if found is None or len(found.corners) != 4:
        return None
    plate, low = shape.plate, found.span(0)[0]
    at, shift = (low - plate / 2, plate / 2) if shape.inset is None else (low + shape.inset + plate / 2, 0.0)
    corners = tuple(((at if y == low else y) + shift, z) for y, z in found.corners)
    return Outline(corners, (*found.strips, WallStrip(3, 0, plate)))


def _toe_to_toe(first: Channel, second: Channel) -> Outline | None:
    """Return two channels of one height and without lips as a box; its top and bottom as thick as the thinner."""
    if first.height != second.height or first.lip or second.lip:
        return None
    thinner = min(first.wall, second.wall)
    return box(first.height, first.flange + second.flange, (first.wall, thinner, second.wall, thinner))


def side_of(outline: Outline, strip: WallStrip) -> Side:
    """Return the side of the section that a wall lies on: an upright one left (+y) or right, else top or bottom."""
    (y0, z0), (y1, z1) = outline.corners[strip.first], outline.corners[strip.second]
    (low, high), (bottom, top) = outline.span(0), outline.span(1)
    if abs(z1 - z0) > abs(y1 - y0):
        return Side.LEFT if y0 + y1 >= low + high else Side.RIGHT
    return Side.TOP if z0 + z1 >= bottom + top else Side.BOTTOM


def _worn(shape: Worn) -> Outline | None:
    """Return a worn piece: each wall by what is left of it, on its old middle line."""
    found = outline_of(shape.base)
    if found is None:
        return None
    lost = {Side.TOP: shape.top, Side.BOTTOM: shape.bottom, Side.LEFT: shape.left, Side.RIGHT: shape.right}
    return replace(found, strips=tuple(replace(each, wall=each.wall - lost[side_of(found, each)]) for each in found.strips))


def turned(outline: Outline, first: tuple[int, int], second: tuple[int, int], shift: Point = (0.0, 0.0)) -> Outline:
    """Return an outline whose new axes are given by rows of 1, 0 and -1 on its own y and z, moved by `shift`."""
    (a, b), (c, d) = first, second
    corners = tuple((a * y + b * z + shift[0], c * y + d * z + shift[1]) for y, z in outline.corners)
    return replace(outline, corners=corners)


SAME = 1e-9  # m; places nearer than this are one place


class Mirrors(NamedTuple):
    """Which planes mirror the joint: across x and across z."""

    x: bool
    z: bool

    @property
    def copies(self) -> int:
        """Return how many times the meshed part makes the whole."""
        return (1 + self.x) * (1 + self.z)


def mirrors_of(chord: Chord, branch: Branch) -> Mirrors:
    """Return which planes mirror the joint; a wall that lies in such a plane would be cut along it: then none does."""
    legs = branch.gussets
    along = _is_even(branch.outline, 0) and chord.ends[0] == chord.ends[1] and all(len(each.sides) == 2 for each in legs)
    heights = sorted(each.z for each in legs)
    paired = all(abs(a + b) < SAME and abs(a) > SAME for a, b in zip(heights, heights[::-1], strict=True))
    return Mirrors(along, paired and _is_even(branch.outline, 1) and _is_even(chord.outline, 1))


def _is_even(outline: Outline, axis: int) -> bool:
    """Return whether an outline is its own mirror image across an axis's zero, with no wall in that plane."""
    flat = any(all(abs(outline.corners[n][axis]) < SAME for n in (each.first, each.second)) for each in outline.strips)
    return not flat and sorted(_walls(outline, axis, 1.0)) == sorted(_walls(outline, axis, -1.0))


def _walls(outline: Outline, axis: int, sign: float) -> list[tuple[tuple[Point, ...], float, bool]]:
    """Return an outline's walls as places, wall and weld, turned over; 10 nm is no asymmetry."""
    found = []
    for each in outline.strips:
        ends = [list(outline.corners[number]) for number in (each.first, each.second)]
        for end in ends:
            end[axis] *= sign
        found.append((tuple(sorted((round(a, 8) + 0.0, round(b, 8) + 0.0) for a, b in ends)), each.wall, each.welded))
    return found


def halved(chord: Chord, branch: Branch, mirrors: Mirrors) -> tuple[Chord, Branch]:
    """Return the rail and the branch at x >= 0 and z >= 0, as far as planes there mirror them."""
    foot = branch.outline
    for axis, mirrored in enumerate(mirrors):
        foot = clipped(foot, axis) if mirrored else foot
    legs = tuple(
        replace(each, sides=(1,) if mirrors.x else each.sides) for each in branch.gussets if each.z >= 0.0 or not mirrors.z
    )
    rail = replace(chord, outline=clipped(chord.outline, 1)) if mirrors.z else chord
    return rail, replace(branch, outline=foot, gussets=legs)


def clipped(outline: Outline, axis: int) -> Outline:
    """Return what lies at or above zero along an axis."""
    corners, strips = list(outline.corners), []
    for each in outline.strips:
        a, b = (outline.corners[number] for number in (each.first, each.second))
        if max(a[axis], b[axis]) < SAME:
            continue
        ends = [each.first, each.second]
        if min(a[axis], b[axis]) < -SAME:
            share = a[axis] / (a[axis] - b[axis])
            ends[0 if a[axis] < 0.0 else 1] = len(corners)
            crossing = [x + share * (y - x) for x, y in zip(a, b, strict=True)]
            crossing[axis] = 0.0
            corners.append((crossing[0], crossing[1]))
        strips.append(replace(each, first=ends[0], second=ends[1]))
    used = dict.fromkeys(number for each in strips for number in (each.first, each.second))
    numbers, kept = {number: place for place, number in enumerate(used)}, tuple(corners[number] for number in used)
    return Outline(kept, tuple(WallStrip(numbers[each.first], numbers[each.second], each.wall, each.welded) for each in strips))


UP, LEFT = 2, 1  # axes: x along the member, y to the left, z up
NEAR = 1e-9  # m

FlatPoint = tuple[float, float]


@value_class
class FlatStrip:
    """A flat wall of the section from one point (y, z) to the next, about the middle of the outline's box."""

    start: FlatPoint
    end: FlatPoint
    wall: float

    @property
    def along(self) -> int:
        """Return the axis that the strip runs along: 1 across (y), 2 up (z)."""
        return LEFT if abs(self.end[0] - self.start[0]) > abs(self.end[1] - self.start[1]) else UP


@value_class
class NotchedStrips:
    """A section with a cut: its strips in the order of the wall's run, and which of them the cut takes.

    A tube's run starts and ends in the middle of the wall on the cut side: what is left of it is one chain. closed: a tube.
    """

    whole: tuple[FlatStrip, ...]
    taken: tuple[bool, ...]
    closed: bool

    @property
    def left(self) -> tuple[FlatStrip, ...]:
        """Return the strips that are left over the cut's length."""
        return tuple(strip for strip, gone in zip(self.whole, self.taken, strict=True) if not gone)

    @property
    def gone(self) -> tuple[FlatStrip, ...]:
        """Return the strips that are gone over the cut's length."""
        return tuple(strip for strip, gone in zip(self.whole, self.taken, strict=True) if gone)


def _chain(points: Sequence[FlatPoint], wall: float) -> tuple[FlatStrip, ...]:
    return tuple(FlatStrip(a, b, wall) for a, b in pairwise(points))


def _tube(tube: RectTube, side: Side) -> tuple[FlatStrip, ...]:
    """Return the ring of a tube's walls, that on the cut side last in two halves, one at each end of the run."""
    y, z = (tube.width - tube.wall) / 2, (tube.height - tube.wall) / 2
    corners = [(y, z), (y, -z), (-y, -z), (-y, z)]  # from the top left, downwards
    turns = {Side.TOP: 0, Side.LEFT: 3, Side.BOTTOM: 2, Side.RIGHT: 1}[side]
    ring = corners[-turns:] + corners[:-turns] if side is not Side.TOP else corners
    middle = (ring[0][0] + ring[-1][0]) / 2, (ring[0][1] + ring[-1][1]) / 2
    return _chain([middle, *ring, middle], tube.wall)


def _channel(channel: Channel) -> tuple[FlatStrip, ...]:
    """Return a channel's walls from the lower lip or flange tip round the web to the upper one."""
    y, z, t = channel.flange / 2, (channel.height - channel.wall) / 2, channel.wall
    web, tip = y - t / 2, -y + t / 2 if channel.lip > 0.0 else -y
    lips = channel.height / 2 - channel.lip
    points = [(tip, -z), (web, -z), (web, z), (tip, z)]
    return _chain([(tip, -lips), *points, (tip, lips)] if channel.lip > 0.0 else points, t)


def _depth_of(point: FlatPoint, side: Side) -> float:
    """Return how far a point lies towards the cut side, from the middle of the box."""
    return {Side.TOP: point[1], Side.BOTTOM: -point[1], Side.LEFT: point[0], Side.RIGHT: -point[0]}[side]


def _split(strip: FlatStrip, side: Side, place: float) -> list[FlatStrip]:
    """Return the strip cut in two where it crosses the cut's floor, or whole."""
    a, b = _depth_of(strip.start, side), _depth_of(strip.end, side)
    if (a - place) * (b - place) >= -NEAR * NEAR or min(abs(a - place), abs(b - place)) < NEAR:
        return [strip]
    share = (place - a) / (b - a)
    middle = tuple(p + share * (q - p) for p, q in zip(strip.start, strip.end, strict=True))
    return [replace(strip, end=(middle[0], middle[1])), replace(strip, start=(middle[0], middle[1]))]


def _is_gone(strip: FlatStrip, side: Side, place: float) -> bool:
    return (_depth_of(strip.start, side) + _depth_of(strip.end, side)) / 2 > place + NEAR


def notched(shape: RectTube | Channel, side: Side, depth: float) -> NotchedStrips:
    """Return the section's strips with all that lies within `depth` (m) of that side of the outline marked as gone.

    A wall on that side whose middle line lies within the depth goes as a whole; a shallower cut takes nothing.
    """
    closed = isinstance(shape, RectTube)
    run = _tube(shape, side) if isinstance(shape, RectTube) else _channel(shape)
    height, width = shape.height, shape.width if isinstance(shape, RectTube) else shape.flange
    place = (height if side in (Side.TOP, Side.BOTTOM) else width) / 2 - depth
    pieces = [piece for strip in run for piece in _split(strip, side, place)]
    return NotchedStrips(tuple(pieces), tuple(_is_gone(piece, side, place) for piece in pieces), closed)


def in_one_piece(strips: Sequence[FlatStrip]) -> bool:
    """Return whether the strips hang together in their order."""
    return bool(strips) and all(
        abs(a.end[0] - b.start[0]) + abs(a.end[1] - b.start[1]) < NEAR for a, b in pairwise(strips)
    )
