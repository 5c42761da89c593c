"""Directions in the vehicle's axes by word."""

from __future__ import annotations

from collections.abc import Mapping

from framecheck.model.arrays import Vector

WAYS: Mapping[str, Vector] = {
    "forward": (1.0, 0.0, 0.0),
    "rearward": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}
