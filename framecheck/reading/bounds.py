"""The sizes that a number in a file can have and be meant. Wide: they keep slips of the keyboard and overflow out, not odd designs."""

from __future__ import annotations

from collections.abc import Mapping

BOUNDS: Mapping[str, tuple[float, float]] = {
    "length": (1e-6, 1e3),
    "thickness": (1e-6, 10.0),
    "distance": (1.0, 1e12),
    "area": (1e-10, 1e2),
    "volume": (1e-14, 1e2),
    "second moment": (1e-16, 1e2),
    "warping": (1e-26, 1e2),
    "mass": (1e-6, 1e6),
    "force": (1e-6, 1e9),
    "weight": (1e-6, 1e9),
    "stress": (1.0, 1e13),
    "moment": (1e-9, 1e9),
    "stiffness": (1e-6, 1e12),
    "turning stiffness": (1e-9, 1e12),
    "warping stiffness": (1e-12, 1e12),
    "density": (1e-3, 1e6),
    "angle": (1e-9, 1e3),
    "speed": (1e-6, 1e3),
    "turning speed": (1e-6, 1e6),
    "acceleration": (1e-6, 1e5),
    "temperature difference": (1e-6, 1e4),
    "expansion": (1e-12, 1e-2),
}
"""Least size of what must be above zero, and greatest size, by quantity, SI."""
OTHERS = (1e-12, 1e12)
LARGEST_NUMBER = 1e12
"""Greatest plain number."""


def beyond(value: float, quantity: str, positive: bool) -> str:
    """Return why a size can't be meant, "" where it can. positive: it must be above zero, so that a hair's breadth is a slip too."""
    least, most = BOUNDS.get(quantity, OTHERS)
    if abs(value) > most:
        return "is larger than anything on a vehicle"
    return "is smaller than anything that can be made or weighed" if positive and 0 < value < least else ""
