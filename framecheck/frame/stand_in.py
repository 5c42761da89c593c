"""A box or channel that stands in for a shape whose joints no model covers, surely no stiffer than the real joint. SI.

A larger patch held rigidly on a plate is never softer than a smaller one within it (the held shape only adds constraints), so that
a footprint within the real one gives an estimate on the soft side; what a rigid patch leaves out (walls that give, an outline that
is open) goes into the shares below.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from math import sqrt

from framecheck.frame.joint.outlines import outline_of
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    GivenProperties,
    Hat,
    IShape,
    OutlinePolygon,
    Plated,
    Point,
    RectTube,
    RoundBar,
    RoundTube,
    Shape,
    Sleeve,
    Worn,
    ZShape,
)
from framecheck.value_class import value_class

MODEL_ERROR = 0.8
"""Share of a stand-in's springs at the soft end: shell references hold the joint model within 20 % (tests/verification)."""
OPEN_FOOTPRINT = 0.5
"""The size of the box within the outline of an open shape's end: no wall of the box is longer than what the shape is welded by.
Held against a channel's own joint model and a hat's shell model."""
OPEN_RAIL = 0.25
"""Share where the rail is no tube or channel, where its flange is met, or where its open end is: a wall held along one edge only
gives more than one held along two. Judgement, no source; a shell model 40 mm from a rail's open end is 1.5 times softer at most."""
ON_PLATE = MODEL_ERROR * OPEN_RAIL
"""Share of a butt-welded end's springs that one with a plate between has at least. Judgement, no source."""


class Unmodelled(Enum):
    """Why no model covers a member's end."""

    SHAPES = "no model covers this pair of shapes"
    PLATE = "no model covers the plate that closes the rail's end"
    FOOT_PLATE = "the plate between it and the wall is not modelled"
    FLANGES = "flange to flange"
    GUSSETS = "the gussets are not modelled"
    RAIL_END = "it stands on a member's end"
    MEETING = "it meets others and stands on no wall of theirs"
    OVER_EDGE = "it reaches over the edge of the wall that it stands on"
    ASKEW = "it meets no face squarely"


@value_class
class TubeOutline:
    """A tube's or channel's outline. wall_left, wall_right: of the upright walls; 0: there is none (a channel's open side).

    round: a round tube as a crossmember; a round rail stands as a box.
    """

    height: float
    width: float
    wall: float
    wall_left: float
    wall_right: float
    radius: float
    round: bool = False

    @property
    def closed(self) -> bool:
        """Return whether the outline runs all round."""
        return self.wall_right > 0.0


def outline(shape: Shape) -> TubeOutline | None:
    """Return the outline of a tube or channel; None for shapes whose joints are not known."""
    match shape:
        case RectTube(height, width, wall, radius):
            return TubeOutline(height, width, wall, wall, wall, radius)
        case Channel(height, flange, wall, radius):
            return TubeOutline(height, flange, wall, wall, 0.0, radius + wall)
        case BoxedChannel(channel, plate, inset):
            inner = outline(channel)
            beyond = plate if inset is None else 0.0
            return inner and replace(inner, width=inner.width + beyond, wall_right=plate)
        case Drilled(base):
            return outline(base)
        case Worn():
            return _worn(shape)
        case _:
            return None


def _worn(shape: Worn) -> TubeOutline | None:
    """Return a worn piece's outline: each wall by what is left of it."""
    found = outline(shape.base)
    if found is None:
        return None
    right = found.wall_right - shape.right if found.closed else 0.0
    return replace(
        found,
        wall=found.wall - max(shape.top, shape.bottom),
        wall_left=found.wall_left - shape.left,
        wall_right=right,
    )


def as_rail(shape: Shape) -> TubeOutline:
    """Return what a rail of any shape is no softer than: a tube of the size of a round one, else a channel of its outside size."""
    known = outline(shape)
    if known is not None:
        return known
    match shape:
        case RoundTube(diameter, wall):
            return box(diameter, diameter, wall)
        case Sleeve(outer):
            return as_rail(outer)
        case Plated(base) | FloorClosed(base) | Worn(base) | Drilled(base):
            return as_rail(base)
        case ChannelPair(first):
            return as_rail(first)
        case _:
            height, width, wall = sizes(shape)
            return replace(box(height, width, wall), wall_right=0.0)


def has_model(shape: Shape) -> bool:
    """Return whether the joint model knows a crossmember of that shape."""
    return isinstance(shape, RoundTube) or outline_of(shape) is not None


def first_piece(shape: Shape) -> Shape:
    """Return what a sleeved, plated or floored rail is no softer than: the outer tube, or the piece without its plates or sheet."""
    match shape:
        case Sleeve(outer):
            return first_piece(outer)
        case Plated(base) | FloorClosed(base):
            return first_piece(base)
        case _:
            return shape


def round_middle(shape: Shape) -> float:
    """Return the middle-line diameter of a round tube, or of one in a changed or sleeved piece, m; 0 for other shapes."""
    match shape:
        case RoundTube(diameter, wall):
            return diameter - wall
        case Sleeve(outer):
            return round_middle(outer)
        case Drilled(base):
            return round_middle(base)
        case _:
            return 0.0


def as_branch(shape: Shape) -> TubeOutline:
    """Return a crossmember's own foot where the model knows it, else a box that lies within its foot."""
    known = outline(shape)
    if known is not None:
        return known
    match shape:
        case RoundTube(diameter, wall):
            return replace(box(diameter, diameter, wall), round=True)
        case Sleeve(outer):
            return as_branch(outer)
        case Plated(base) | FloorClosed(base) | Worn(base) | Drilled(base):
            return as_branch(base)
        case ChannelPair(first):
            return as_branch(first)
        case _:
            height, width, wall = sizes(shape)
            return box(OPEN_FOOTPRINT * height, OPEN_FOOTPRINT * width, wall)


def box(height: float, width: float, wall: float) -> TubeOutline:
    """Return a box's outline, its wall no more than a third of its smaller side."""
    wall = min(wall, height / 3, width / 3)
    return TubeOutline(height, width, wall, wall, wall, 0.0)


def sizes(shape: Shape) -> tuple[float, float, float]:
    """Return a shape's outside height and width and its thinnest wall, m; of an outline or numbers, a mean wall."""
    match shape:
        case Angle(height, width, wall):
            return height, width, wall
        case Hat(height, crown, _, wall):
            return height, crown, wall
        case ZShape(height, flange, wall):
            return height, flange, wall
        case IShape(height, width, web, flange):
            return height, width, min(web, flange)
        case Flat(height, width):
            return height, width, min(height, width) / 2
        case RoundBar(diameter):
            return diameter, diameter, diameter / 4
        case OutlinePolygon(exterior, holes):
            height, width = (max(each) - min(each) for each in reversed(tuple(zip(*exterior, strict=True))))
            return _mean_wall(area_within(exterior) - sum(map(area_within, holes)), height, width)
        case GivenProperties(area, i_vertical, i_sideways):
            return _mean_wall(area, 2 * sqrt(i_vertical / area), 2 * sqrt(i_sideways / area))
        case _:
            found = as_rail(shape)
            return found.height, found.width, found.wall


def _mean_wall(area: float, height: float, width: float) -> tuple[float, float, float]:
    """Return height, width and the wall that a box of that size and area has."""
    return height, width, area / (2 * (height + width))


def area_within(loop: tuple[Point, ...]) -> float:
    """Return the area within a closed loop of points (the trapezium rule around it), m2."""
    pairs = zip(loop, loop[1:] + loop[:1], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2
