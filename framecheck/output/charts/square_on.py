"""Pictures square to a plane in the vehicle: how one looks at it, the room round it, its sizes, which way is up and ahead."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.chart import LINE, Drawn, Note, TextSide
from framecheck.output.charts.drawings import dimension
from framecheck.output.charts.room import Pixels, Room
from framecheck.output.display import Units, bare, shown_unit
from framecheck.value_class import array_class

WAYS = (("rear", "front"), ("right", "left"), ("down", "up"))
"""What lies against and along each of the vehicle's axes."""
LEAST_WAY = 0.35
"""A part of a way that is named, as a share of its length."""
FLAT = 1e-6


@array_class
class Looking:
    """How one looks at a thing: (3,) each, vehicle axes. facing: from it to the eye."""

    right: Array
    up: Array
    facing: Array


def looking_at(places: Array) -> Looking:
    """Return the look square to the plane in which places (n, 3) lie best, from in front, from the left or from above, up upward.

    Places on one line: with that line across the picture, from the side.
    """
    _, sizes, axes = np.linalg.svd(places - places.mean(axis=0))
    facing = axes[2]
    if sizes[1] <= FLAT * sizes[0]:
        aside = np.cross(axes[0], (0.0, 0.0, 1.0))
        facing = aside / np.linalg.norm(aside) if np.linalg.norm(aside) > FLAT else np.array([1.0, 0.0, 0.0])
    return looking_along(facing)


def looking_along(facing: Array) -> Looking:
    """Return the look square to a plane by its normal (3,), from in front, from the left or from above: there its front is right."""
    facing = facing * np.sign(facing[np.argmax(np.abs(facing))])
    upward = np.array([0.0, 1.0, 0.0]) if abs(facing[2]) > 1 - FLAT else np.array([0.0, 0.0, 1.0])
    up = upward - (upward @ facing) * facing
    up = up / np.linalg.norm(up)
    return Looking(np.cross(up, facing), up, facing)


def way_words(way: Array) -> str:
    """Return which way of the vehicle a direction (3,) is."""
    return " ".join(words[int(part > 0)] for part, words in zip(way.tolist()[::-1], WAYS[::-1], strict=True) if abs(part) > LEAST_WAY)


def room_round(places: Array, least: float, plot: Pixels, share: tuple[float, float] = (0.44, 0.42)) -> Room:
    """Return a picture's room with places (n, 2) in the middle of it and words round them.

    least: size that is shown at least; share: of the plot's width and height that the places may take.
    """
    low, high = places.min(axis=0), places.max(axis=0)
    wide = np.maximum(high - low, least)
    pixel = float(max(wide[0] / (share[0] * plot.wide), wide[1] / (share[1] * plot.high)))
    middle, half = (low + high) / 2, pixel * np.array([plot.wide, plot.high]) / 2
    (left, foot), (right, top) = (middle - half).tolist(), (middle + half).tolist()
    return Room((left, right), (foot, top), pixel)


def overall(places: Array, room: Room, units: Units) -> Iterator[Drawn]:
    """Yield how far places (n, 2) reach, across and up, beside them."""
    unit, off, cap = shown_unit("size", units).size, 22 * room.pixel, 8 * room.pixel
    (left, low), (right, high) = places.min(axis=0).tolist(), places.max(axis=0).tolist()
    if right - left > FLAT:
        yield from dimension((left, low - 2.0 * off), (right, low - 2.0 * off), cap)
        yield Note(bare((right - left) * unit, "size", units), ((left + right) / 2, low - 2.0 * off), TextSide.ABOVE)
    if high - low > FLAT:
        yield from dimension((left - 1.5 * off, low), (left - 1.5 * off, high), cap)
        yield Note(bare((high - low) * unit, "size", units), (left - 1.5 * off, (low + high) / 2), TextSide.LEFT)


def sides(look: Looking, room: Room) -> Iterator[Note]:
    """Yield which way of the vehicle the picture's right and top are."""
    (left, right), (low, high) = room.x, room.y
    yield Note(way_words(look.right), (right - 2 * room.pixel, (low + high) / 2), TextSide.LEFT, LINE)
    yield Note(way_words(-look.right), (left + 2 * room.pixel, (low + high) / 2), TextSide.RIGHT, LINE)
    yield Note(way_words(look.up), ((left + right) / 2, high - 14 * room.pixel), TextSide.ABOVE, LINE)
    yield Note(way_words(-look.up), ((left + right) / 2, low + 2 * room.pixel), TextSide.ABOVE, LINE)
