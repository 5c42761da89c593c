"""What follows from a shape's sizes: the shapes it is made of, its outside size, its thinnest wall. SI."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any

from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    BuiltUp,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    GivenProperties,
    Hat,
    Hole,
    IShape,
    OutlinePolygon,
    Pairing,
    Plated,
    RectTube,
    RoundBar,
    RoundTube,
    Shape,
    Side,
    Sleeve,
    Worn,
    ZShape,
)

PART_FIELDS: dict[type, tuple[str, ...]] = {
    BoxedChannel: ("channel",),
    Sleeve: ("outer", "core"),
    FloorClosed: ("base",),
    Plated: ("base",),
    Worn: ("base",),
    Drilled: ("base",),
    ChannelPair: ("first", "second"),
}
"""The fields of each shape of several that hold a shape, the one that was there first leading."""
SHEETS: dict[type, int] = {BoxedChannel: 1, FloorClosed: 1}
"""Parts that a shape adds by a thickness alone."""
ACROSS = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}


def pieces_in(shape: Shape) -> tuple[Shape, ...]:
    """Return the shapes that a shape is made of, the one that was there first leading; none in one piece."""
    return tuple(getattr(shape, name) for name in PART_FIELDS.get(type(shape), ()))


def built_up_in(shape: Shape) -> Iterator[BuiltUp]:
    """Yield every built-up shape in a shape, from whichever level of it."""
    if isinstance(shape, BuiltUp):
        yield shape
    for piece in pieces_in(shape):
        yield from built_up_in(piece)


def part_count(shape: Shape) -> int:
    """Return of how many parts a shape is put together."""
    added = len(shape.plates) if isinstance(shape, Plated) else SHEETS.get(type(shape), 0)
    return added + sum(map(part_count, pieces_in(shape))) or 1


def parts_held_by(built: BuiltUp) -> range:
    """Return the numbers of the parts that a built-up shape's own joining holds on: not those of the level that was there first."""
    return range(part_count(pieces_in(built)[0]), part_count(built))


def drilled_whole(shape: Shape) -> Shape:
    """Return a shape whose pieces were drilled as a whole that is drilled, each hole through the parts of its piece alone.

    Holes in the parts of a sleeve stay where they are: the two bend each by itself.
    """
    match shape:
        case Drilled(base=Drilled(base=base, holes=first), holes=further):
            return Drilled(base, (*first, *further))
        case Worn(base=Drilled(base=base, holes=holes)):
            rust: dict[str, Any] = {"base": base}
            own: Any = replace(shape, **rust)
            return Drilled(own, tuple(_from_worn(hole, shape) for hole in holes))
        case BoxedChannel() | FloorClosed() | Plated() | ChannelPair():
            return _lifted(shape)
        case _:
            return shape


def united(holes: Iterable[Hole]) -> tuple[Hole, ...]:
    """Return holes with those of one side and the same parts that run into each other as one, in order along the side."""
    found: list[Hole] = []
    for hole in sorted(holes, key=lambda each: (each.side.value, each.of, each.position - each.size / 2)):
        last = found[-1] if found else None
        if last is None or (last.side, last.of) != (hole.side, hole.of) or _low(hole) > _high(last):
            found.append(hole)
        else:
            low, high = _low(last), max(_high(last), _high(hole))
            found[-1] = replace(last, size=high - low, position=(low + high) / 2)
    return tuple(found)


def _low(hole: Hole) -> float:
    return hole.position - hole.size / 2


def _high(hole: Hole) -> float:
    return hole.position + hole.size / 2


def shares_left(holes: Iterable[Hole], width: float, height: float) -> tuple[float, float]:
    """Return the shares left of the walls that carry shear vertically (left, right) and sideways (top, bottom).

    The wall that has lost most governs; its length: the side of the outline box, m.
    """
    apart = united(holes)
    lost = {side: sum(hole.size for hole in apart if hole.side is side) for side in Side}
    return 1 - max(lost[Side.LEFT], lost[Side.RIGHT]) / height, 1 - max(lost[Side.TOP], lost[Side.BOTTOM]) / width


def _from_worn(hole: Hole, worn: Worn) -> Hole:
    """Return a hole measured from the middle of what rust left of its side."""
    upright = hole.side in ACROSS
    shift = (worn.bottom - worn.top) / 2 if upright else (worn.right - worn.left) / 2
    return replace(hole, position=hole.position - shift)


def _lifted(shape: BoxedChannel | FloorClosed | Plated | ChannelPair) -> Shape:
    """Return a built-up shape with the holes of its pieces told of the whole."""
    holes: list[Hole] = []
    plain: dict[str, Any] = {}
    number = 0
    for name in PART_FIELDS[type(shape)]:
        piece = getattr(shape, name)
        if isinstance(piece, Drilled):
            plain[name] = piece.base
            holes += _of_parts(piece.holes, range(number, number + part_count(piece.base)), _is_turned(shape, name))
        number += part_count(piece)
    return Drilled(replace(shape, **plain), tuple(holes)) if plain else shape


def _is_turned(shape: Shape, name: str) -> bool:
    """Return whether a piece stands left to right in a shape: the second of two channels, but nested."""
    return isinstance(shape, ChannelPair) and shape.pairing is not Pairing.NESTED and name == "second"


def _of_parts(holes: Iterable[Hole], parts: range, turned: bool) -> Iterator[Hole]:
    """Yield the holes of a piece, told by the numbers of its parts in the whole, mirrored where the piece is."""
    for hole in holes:
        own = tuple(parts[number] for number in hole.of) or tuple(parts)
        if turned and hole.side in ACROSS:
            yield replace(hole, of=own, side=ACROSS[hole.side])
        else:
            yield replace(hole, of=own, position=-hole.position if turned else hole.position)


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


def shapes_within(shape: object) -> Iterator[object]:
    """Yield a shape and every shape that it is made of, whatever field they stand in."""
    yield shape
    for part in parts_within(shape):
        yield from shapes_within(part)


def is_built_up(shape: object) -> bool:
    """Return whether a shape, or any shape that it is made of, has parts that are joined to one another."""
    return any(each.name == "joined" for one in shapes_within(shape) for each in fields(one))  # type: ignore[arg-type]
