"""How large a shape is outside, and its thinnest wall. SI."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from framecheck.model.shapes import (
    Angle,
    Channel,
    Flat,
    GivenProperties,
    Hat,
    IShape,
    OutlinePolygon,
    RectTube,
    RoundBar,
    RoundTube,
    ZShape,
)

WALLS = frozenset({"wall", "web", "plate", "sheet", "thickness"})
"""Fields of shapes that are thicknesses of metal."""


def outline_box(shape: object) -> tuple[float, float]:
    """Return height and width of a shape's outline, m, that of its largest part where it is built up; zeros where not known."""
    match shape:
        case RectTube() | IShape() | Angle() | Flat():
            return (shape.height, shape.width)
        case Channel():
            return (shape.height, shape.flange)
        case ZShape():
            return (shape.height, 2 * shape.flange)
        case Hat():
            return (shape.height, shape.crown + 2 * shape.brim)
        case RoundTube() | RoundBar():
            return (shape.diameter, shape.diameter)
        case OutlinePolygon():
            ys, zs = zip(*shape.exterior, strict=True)
            return (max(zs) - min(zs), max(ys) - min(ys))
        case GivenProperties():
            top, bottom, left, right = shape.fibres or (0.0, 0.0, 0.0, 0.0)
            return (top + bottom, left + right)
    boxes = [outline_box(part) for part in parts_within(shape)]
    return (max((each[0] for each in boxes), default=0.0), max((each[1] for each in boxes), default=0.0))


def thinnest_wall(shape: object) -> float | None:
    """Return the least thickness of metal in a shape, m, None where it has none by name."""
    own = [getattr(shape, each.name) for each in fields(shape) if each.name in WALLS] if is_dataclass(shape) else []
    own += [min(shape.height, shape.width)] if isinstance(shape, Flat) else []
    inner = [wall for part in parts_within(shape) if (wall := thinnest_wall(part)) is not None]
    return min((*own, *inner), default=None)


def parts_within(shape: object) -> Iterator[Any]:
    """Yield what a shape is made of."""
    for each in fields(shape) if is_dataclass(shape) else ():
        value: Any = getattr(shape, each.name)
        for part in value if isinstance(value, tuple) else (value,):
            if is_dataclass(part):
                yield part
