"""The room of a picture: its ends, its pixels, and where words still find a place."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.chart import Note, Range, TextSide, letters_wide
from framecheck.value_class import value_class


@value_class
class Pixels:
    """How wide and high a picture is, pixels."""

    wide: float
    high: float

    def plot(self, beside: Pixels) -> Pixels:
        """Return what is left for the plot."""
        return Pixels(self.wide - beside.wide, self.high - beside.high)


@value_class
class Room:
    """The ends of a picture, m, and how long a pixel is there."""

    x: Range
    y: Range
    pixel: float


LETTER_HIGH = 15.0
"""Pixels that a line of words takes."""
BESIDE_SCALE, BESIDE = Pixels(100.0, 24.0), Pixels(32.0, 24.0)
"""What a picture keeps beside its plot, with and without a scale of colours (svg.py)."""
LEFT_OF = {TextSide.LEFT: 1.0, TextSide.RIGHT: 0.0, TextSide.ABOVE: 0.5, TextSide.MIDDLE: 0.5}
"""How much of a text stands at the left of its place."""


class RoomForWords:
    """The places that words have taken in a picture, so that none lies over another."""

    def __init__(self, room: Room, taken: Iterable[Note]) -> None:
        self._room, self._pixel = room, room.pixel
        self._boxes = [self._box(each.text, np.array(each.at), each.side) for each in taken]

    def _box(self, text: str, at: Array, side: TextSide = TextSide.ABOVE) -> tuple[float, float, float, float]:
        wide = letters_wide(text) * self._pixel
        left, foot = at[0] - LEFT_OF[side] * wide, at[1] - (0.0 if side is TextSide.ABOVE else 0.5 * LETTER_HIGH * self._pixel)
        return left, left + wide, foot, foot + LETTER_HIGH * self._pixel

    def keep_off(self, points: Array, half: float) -> None:
        """Keep words off a line through points (n, 2). half: of its width."""
        (left, low), (right, high) = (points.min(axis=0) - half).tolist(), (points.max(axis=0) + half).tolist()
        self._boxes.append((left, right, low, high))

    def names(self, lines: Iterable[tuple[str, Array]]) -> list[Note]:
        """Return the name of each line (n, 2) beside it where there is room, the first line first."""
        return [note for name, points in lines if (note := self.name(name, points)) is not None]

    def name(self, text: str, points: Array) -> Note | None:
        """Return a name beside a line, None where no place is free."""
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            for lift in (0.45, -1.5):
                at = points[round(share * (len(points) - 1))] + np.array([0.0, lift * LETTER_HIGH * self._pixel])
                if note := self.free(text, at):
                    return note
        return None

    def free(self, text: str, at: Array) -> Note | None:
        """Return words at a place, which then is taken; None where others stand there, or the picture ends."""
        box = self._box(text, at)
        (left, right), (low, high) = self._room.x, self._room.y
        is_within = left <= box[0] and box[1] <= right and low <= box[2] and box[3] <= high
        if not is_within or any(box[0] < b[1] and b[0] < box[1] and box[2] < b[3] and b[2] < box[3] for b in self._boxes):
            return None
        self._boxes.append(box)
        return Note(text, (float(at[0]), float(at[1])), TextSide.ABOVE)
