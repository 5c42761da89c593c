"""Shapes as thin walls along their middle lines, corners sharp, in a section's own y and z from the middle of its box. SI."""

from __future__ import annotations

from dataclasses import replace

from framecheck.frame.joint.data import Outline, Point, Strip
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
from framecheck.section.paths import BentSheet, mid_line

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
            return Outline(((-half[0], -half[1]), half), (Strip(0, 1, min(height, width)),))
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
    return Outline(corners, tuple(Strip(n, (n + 1) % 4, wall) for n, wall in enumerate(walls)))


def sheet(shape: BentSheet) -> Outline:
    """Return a sheet of even thickness bent along a path."""
    corners = tuple(mid_line(shape))
    return Outline(corners, tuple(Strip(n, n + 1, shape.wall) for n in range(len(corners) - 1)))


def _i_outline(shape: IShape) -> Outline:
    y, z, web, flange = shape.width / 2, (shape.height - shape.flange) / 2, shape.web, shape.flange
    corners: tuple[Point, ...] = ((0.0, -z), (0.0, z), (y, z), (-y, z), (y, -z), (-y, -z))
    return Outline(corners, (Strip(0, 1, web), *(Strip(foot, tip, flange) for foot, tip in ((1, 2), (1, 3), (0, 4), (0, 5)))))


def _boxed(shape: BoxedChannel) -> Outline | None:
    """Return a boxed channel without lips; its flanges' tips beyond a plate that is set in are left out (unfavourable)."""
    found = outline_of(shape.channel)
    if found is None or len(found.corners) != 4:
        return None
    plate, low = shape.plate, found.span(0)[0]
    at, shift = (low - plate / 2, plate / 2) if shape.inset is None else (low + shape.inset + plate / 2, 0.0)
    corners = tuple(((at if y == low else y) + shift, z) for y, z in found.corners)
    return Outline(corners, (*found.strips, Strip(3, 0, plate)))


def _toe_to_toe(first: Channel, second: Channel) -> Outline | None:
    """Return two channels of one height and without lips as a box; its top and bottom as thick as the thinner."""
    if first.height != second.height or first.lip or second.lip:
        return None
    thinner = min(first.wall, second.wall)
    return box(first.height, first.flange + second.flange, (first.wall, thinner, second.wall, thinner))


def side_of(outline: Outline, strip: Strip) -> Side:
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
