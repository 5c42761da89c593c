"""Where the units of a chart lie on its panel, and how numbers are written there."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.chart import Range
from framecheck.value_class import value_class

LETTER = 6.7
"""Width of a letter of the page's usual font at 12 pixels, a little more than most have, so that names fit."""


def letters_wide(text: str) -> float:
    """Return about how wide a text is, pixels."""
    return LETTER * len(text)


@value_class
class View:
    """The plot's box, pixels from the panel's upper left corner, and the units at its ends."""

    left: float
    top: float
    across: float
    up: float
    x: Range
    y: Range

    @property
    def right(self) -> float:
        """Return the box's right edge."""
        return self.left + self.across

    @property
    def bottom(self) -> float:
        """Return the box's lower edge."""
        return self.top + self.up

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Return the pixels of a place."""
        return (
            self.left + self.across * (x - self.x[0]) / (self.x[1] - self.x[0]),
            self.bottom - self.up * (y - self.y[0]) / (self.y[1] - self.y[0]),
        )

    def places(self, points: Array) -> Array:
        """Return the pixels (n, 2) of places (n, 2)."""
        low, high = np.array([self.x[0], self.y[0]]), np.array([self.x[1], self.y[1]])
        share = (points - low) / (high - low)
        pixels: Array = np.array([self.left, self.bottom]) + share * np.array([self.across, -self.up])
        return pixels


def path(pixels: Array, end: str = "") -> str:
    """Return a path's commands through pixels (n, 2), a gap where one is not finite."""
    words, is_down = [], False
    for x, y in pixels.tolist():
        if x != x or y != y:
            is_down = False
            continue
        words.append(f"{'L' if is_down else 'M'}{x:.1f} {y:.1f}")
        is_down = True
    return "".join(words) + end
