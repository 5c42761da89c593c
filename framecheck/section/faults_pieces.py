"""What is wrong with the sizes of a one-piece shape: pairs of fault and what would do. Checked before any outline is drawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from math import isfinite

from framecheck.model.shapes import (
    Angle,
    Channel,
    GivenProperties,
    Hat,
    IShape,
    OutlinePolygon,
    Piece,
    RectTube,
    RoundTube,
    ZShape,
)

Found = Iterator[tuple[str, str]]
MAY_BE_ZERO = frozenset(
    {
        "outside_radius",
        "inside_radius",
        "root_radius",
        "lip",
        "overhang",
        "top",
        "bottom",
        "left",
        "right",
        "bends",
        "inset",
    }
)
ANY_SIGN = frozenset({"offset", "position", "i_product"})


def mm(length: float) -> str:
    """Return a length in m as text in mm."""
    return f"{length * 1000:.4g} mm"


def size_faults(shape: object) -> Found:
    """Yield sizes that are negative, zero where there must be something, or not numbers."""
    assert hasattr(shape, "__dataclass_fields__")
    for field in fields(shape):  # type: ignore[arg-type]
        value = getattr(shape, field.name)
        if isinstance(value, float | int) and not isinstance(value, bool):
            yield from _one_size(field.name, float(value))


def _one_size(name: str, value: float) -> Found:
    """Yield the fault of one size."""
    words = name.replace("_", " ")
    if not isfinite(value):
        yield f"{words} is not a number", "give a length"
    elif name in ANY_SIGN:
        return
    elif value < 0 or (value == 0 and name not in MAY_BE_ZERO):
        yield f"{words} is {'negative' if value < 0 else 'zero'}", f"give a {words} above zero"


def piece_faults(shape: Piece) -> Found:
    """Yield what does not fit together in a one-piece shape whose sizes are all sound."""
    match shape:
        case RectTube():
            yield from _rect_tube(shape)
        case RoundTube():
            if 2 * shape.wall >= shape.diameter:
                yield (
                    f"wall {mm(shape.wall)} is half the diameter {mm(shape.diameter)} or more",
                    "give a thinner wall, or a round bar",
                )
        case Channel():
            yield from _channel(shape)
        case Angle():
            yield from _leg("height", shape.height, shape.wall + shape.inside_radius)
            yield from _leg("width", shape.width, shape.wall + shape.inside_radius)
        case Hat():
            yield from _hat(shape)
        case ZShape():
            yield from _height(shape.height, shape.wall, shape.inside_radius)
            yield from _leg("flange", shape.flange, shape.wall + shape.inside_radius)
        case IShape():
            yield from _i_shape(shape)
        case OutlinePolygon():
            yield from _loops(shape)
        case _:
            return


def _rect_tube(shape: RectTube) -> Found:
    """Yield the faults of a rectangular tube."""
    for name, size in (("width", shape.width), ("height", shape.height)):
        if 2 * shape.wall >= size:
            yield f"wall {mm(shape.wall)} is half the {name} {mm(size)} or more", "give a thinner wall, or a solid bar"
    least = min(shape.width, shape.height)
    if 2 * shape.outside_radius > least:
        yield (
            f"outside radius {mm(shape.outside_radius)} does not fit a side of {mm(least)}",
            "give at most half the side",
        )


def _channel(shape: Channel) -> Found:
    """Yield the faults of a stamped channel."""
    bend = shape.wall + shape.inside_radius
    yield from _height(shape.height, shape.wall, shape.inside_radius)
    yield from _leg("flange", shape.flange, 2 * bend if shape.lip else bend)
    if shape.lip:
        yield from _leg("lip", shape.lip, bend)
        if 2 * shape.lip >= shape.height:
            yield (
                f"lip {mm(shape.lip)} is too long: the two lips meet in a height of {mm(shape.height)}",
                "give a lip under half the height",
            )


def _height(height: float, wall: float, radius: float) -> Found:
    """Yield the fault of a web that its two bends fill."""
    if 2 * (wall + radius) > height or 2 * wall >= height:
        yield (
            f"height {mm(height)} leaves no web between two bends of {mm(wall + radius)}",
            "give a smaller wall or bend radius",
        )


def _leg(name: str, size: float, bend: float) -> Found:
    """Yield the fault of a leg shorter than its bend."""
    if size <= bend - 1e-12:
        yield (
            f"{name} {mm(size)} is shorter than its bend, wall and inside radius together {mm(bend)}",
            f"give a longer {name}",
        )


def _hat(shape: Hat) -> Found:
    """Yield the faults of a hat."""
    yield from _height(shape.height, shape.wall, shape.inside_radius)
    yield from _leg("crown", shape.crown, 2 * (shape.wall + shape.inside_radius))
    yield from _leg("brim", shape.brim, shape.inside_radius)


def _i_shape(shape: IShape) -> Found:
    """Yield the faults of an I."""
    if 2 * (shape.flange + shape.root_radius) >= shape.height:
        yield f"flanges {mm(shape.flange)} and root radii fill the height {mm(shape.height)}", "give thinner flanges"
    if shape.web + 2 * shape.root_radius >= shape.width:
        yield f"web {mm(shape.web)} and root radii fill the width {mm(shape.width)}", "give a thinner web"


def _loops(shape: OutlinePolygon) -> Found:
    """Yield loops with too few points or points that are not numbers."""
    for name, loop in (("outline", shape.exterior), *((f"hole {i}", hole) for i, hole in enumerate(shape.holes, 1))):
        if len(set(loop)) < 3:
            yield f"{name} has {len(set(loop))} different points", "a closed loop needs three or more"
        if not all(isfinite(y) and isfinite(z) for y, z in loop):
            yield f"{name} has a point that is not a number", "give every point as two lengths"


def given_faults(shape: GivenProperties) -> Found:
    """Yield catalogue numbers that no section can have."""
    for name in ("area", "i_vertical", "i_sideways", "torsion_constant"):
        yield from _one_size(name, getattr(shape, name))
    if shape.i_product**2 >= shape.i_vertical * shape.i_sideways > 0:
        yield "product of inertia is larger than any section's with these second moments", "check its unit and value"
    if not shape.warping_constant >= 0:
        yield "warping constant is negative", "give 0 for a closed section"
    if shape.fibres and min(shape.fibres) <= 0:
        yield "a fibre distance is zero or negative", "give each distance from the centroid as a length above zero"
