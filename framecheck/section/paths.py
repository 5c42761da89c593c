"""The mid-line of each shape that is bent from one sheet, in m, from the middle of its outline box."""

from __future__ import annotations

from framecheck.model.shapes import Angle, Channel, Hat, ZShape

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
