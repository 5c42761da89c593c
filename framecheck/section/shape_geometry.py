"""What follows from a shape alone: the box of each piece where it stands, the mid-line of a bent sheet, lips that may turn. SI."""

from __future__ import annotations

from enum import Enum

from framecheck.model.shape_parts import pieces_in
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    FloorClosed,
    Hat,
    Pairing,
    RoundTube,
    Shape,
    Sleeve,
    Worn,
    ZShape,
)
from framecheck.value_class import value_class


@value_class
class Box:
    """Low and high y, low and high z, m, from the middle of the box of the piece that was there first, as it was new."""

    y: tuple[float, float]
    z: tuple[float, float]

    @property
    def width(self) -> float:
        """Return how wide it is, m."""
        return self.y[1] - self.y[0]

    @property
    def height(self) -> float:
        """Return how high it is, m."""
        return self.z[1] - self.z[0]


def as_new(shape: Shape) -> Shape:
    """Return a piece as it was before rust."""
    return shape.base if isinstance(shape, Worn) else shape


def channel_in(shape: Shape) -> Channel:
    """Return a channel as it was before rust."""
    found = as_new(shape)
    assert isinstance(found, Channel)  # `validate` has refused all else
    return found


def box_of(shape: Shape) -> Box:
    """Return the outline box of a piece, less its rust, or of a built-up shape that plates may lie on."""
    match shape:
        case Worn():
            new = box_of(shape.base)
            return Box((new.y[0] + shape.right, new.y[1] - shape.left), (new.z[0] + shape.bottom, new.z[1] - shape.top))
        case BoxedChannel():
            new = box_of(shape.channel)
            beyond = shape.plate if shape.inset is None else 0.0
            return Box((new.y[0] - beyond, new.y[1]), new.z)
        case FloorClosed():
            return _with_floor(shape)
        case ChannelPair():
            return _pair(shape)
    half_width, half_height = _half_sizes(shape)
    return Box((-half_width, half_width), (-half_height, half_height))


def _half_sizes(shape: Shape) -> tuple[float, float]:
    """Return half the width and half the height of a plain piece."""
    match shape:
        case Channel():
            return shape.flange / 2, shape.height / 2
        case Hat():
            return shape.crown / 2 + shape.brim, shape.height / 2
        case ZShape():
            return shape.flange - shape.wall / 2, shape.height / 2
        case RoundTube():
            return shape.diameter / 2, shape.diameter / 2
        case _:
            width, height = getattr(shape, "width", 0.0), getattr(shape, "height", 0.0)
            return width / 2, height / 2


def _with_floor(shape: FloorClosed) -> Box:
    """Return the box of a channel or hat and its floor sheet."""
    new = box_of(shape.base)
    if isinstance(as_new(shape.base), Channel):
        return Box((new.y[0] - shape.sheet, new.y[1]), (new.z[0] - shape.overhang, new.z[1] + shape.overhang))
    return Box((new.y[0] - shape.overhang, new.y[1] + shape.overhang), (new.z[0] - shape.sheet, new.z[1]))


def _pair(shape: ChannelPair) -> Box:
    """Return the box of two channels."""
    (first, y), (second, other) = zip((box_of(shape.first), box_of(shape.second)), pair_places(shape), strict=True)
    low, high = first.y[0] + y, first.y[1] + y
    turned = shape.pairing is not Pairing.NESTED
    start, stop = (-second.y[1], -second.y[0]) if turned else second.y
    z = min(first.z[0], second.z[0]), max(first.z[1], second.z[1])
    return Box((min(low, start + other), max(high, stop + other)), z)


def pair_places(shape: ChannelPair) -> tuple[float, float]:
    """Return how far to the left two channels are moved, the second once turned: the pair centred, a nested one on the outer."""
    first, second = box_of(shape.first), box_of(shape.second)
    match shape.pairing:
        case Pairing.NESTED:
            outer = channel_in(shape.first)
            return 0.0, outer.flange / 2 - outer.wall - second.y[1]
        case Pairing.BACK_TO_BACK:
            at = (first.width - second.width) / 2
            return at - first.y[1], at + second.y[1]
        case Pairing.TOE_TO_TOE:
            at = (second.width - first.width) / 2
            return at - first.y[0], at + second.y[0]


Point = tuple[float, float]
BentSheet = Channel | Angle | Hat | ZShape


def mid_line(shape: BentSheet) -> list[Point]:
    """Return the mid-line's corner points (y, z) in order, bends not rounded."""
    match shape:
        case Channel():
            return channel_path(shape)
        case Angle():
            return angle_path(shape)
        case Hat():
            return hat_path(shape)
        case ZShape():
            return z_path(shape)


def channel_path(shape: Channel) -> list[Point]:
    """Return the letter C from its upper tip to its lower one."""
    half, t = shape.height / 2, shape.wall / 2
    web, tip, z = shape.flange / 2 - t, -shape.flange / 2, half - t
    if not shape.lip:
        return [(tip, z), (web, z), (web, -z), (tip, -z)]
    y, end = tip + t, half - shape.lip
    return [(y, end), (y, z), (web, z), (web, -z), (y, -z), (y, -end)]


def angle_path(shape: Angle) -> list[Point]:
    """Return the letter L from the top of its upright to the tip of its foot."""
    t = shape.wall / 2
    y, z = shape.width / 2 - t, -shape.height / 2 + t
    return [(y, shape.height / 2), (y, z), (-shape.width / 2, z)]


def hat_path(shape: Hat) -> list[Point]:
    """Return the hat from the tip of its left brim over the crown to the right one."""
    t = shape.wall / 2
    web, z = shape.crown / 2 - t, shape.height / 2 - t
    tip = shape.crown / 2 + shape.brim
    return [(tip, -z), (web, -z), (web, z), (-web, z), (-web, -z), (-tip, -z)]


def z_path(shape: ZShape) -> list[Point]:
    """Return the letter Z from the tip of its upper flange on the left to that of its lower one on the right."""
    z = shape.height / 2 - shape.wall / 2
    tip = shape.flange - shape.wall / 2
    return [(tip, z), (0.0, z), (0.0, -z), (-tip, -z)]


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
