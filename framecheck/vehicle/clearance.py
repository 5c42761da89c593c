"""Gaps left between parts when the frame moves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.vehicle import Clearance, Place
from framecheck.value_class import value_class
from framecheck.vehicle.scene import cross

CLEAR = "clear"

Movement = tuple[Vector, Vector]
"""Displacement m and rotation rad of a frame point."""


@value_class
class GapLeft:
    """A gap in a load case: today's, what is left, m; below zero the parts are in contact."""

    name: str
    load_case: str
    today: float
    left: float
    least: float

    @property
    def verdict(self) -> str:
        """Return "contact", "LOW" (less than asked) or "clear"."""
        if self.left <= 0.0:
            return "contact"
        return "LOW" if self.left < self.least else CLEAR


def movement(place: Place, points: Mapping[str, Vector], moved: Mapping[str, Movement]) -> Array:
    """Return the displacement (3,) of a place: its point's, and rotation x arm (small rotations), m."""
    shift, turn = moved[place.point]
    at = points[place.point] if place.at is None else place.at
    arm = np.array(at) - np.array(points[place.point])
    return np.asarray(np.array(shift) + cross(np.array(turn, dtype=np.float64), arm), dtype=np.float64)


def gap_left(
    clearance: Clearance, load_case: str, points: Mapping[str, Vector], moved: Mapping[str, Movement]
) -> GapLeft:
    """Return the gap left when points move: today's plus the movement apart along the line between the two places.

    Against a plane that stays still: along its normal.
    """
    apart = movement(clearance.first, points, moved)
    direction = np.array(clearance.normal, dtype=np.float64)
    if clearance.second is not None:
        apart = apart - movement(clearance.second, points, moved)
        direction = _where(clearance.first, points) - _where(clearance.second, points)
    length = float(np.linalg.norm(direction))
    if length < 1e-9:
        fault = "its two places are the same: no direction to measure the gap in"
        raise InputError([Fault("", f"clearance {clearance.name}", fault, "give the places of the two parts")])
    left = clearance.gap + float(apart @ direction) / length
    return GapLeft(clearance.name, load_case, clearance.gap, left, clearance.least)


def gaps_left(
    clearances: Sequence[Clearance], points: Mapping[str, Vector], moved: Mapping[str, Mapping[str, Movement]]
) -> tuple[GapLeft, ...]:
    """Return every gap in every load case, the smallest left first; moved: by load case, by point."""
    rows = [gap_left(each, name, points, case) for name, case in moved.items() for each in clearances]
    return tuple(sorted(rows, key=lambda row: (row.left, row.name, row.load_case)))


def _where(place: Place, points: Mapping[str, Vector]) -> Array:
    return np.array(points[place.point] if place.at is None else place.at, dtype=np.float64)
