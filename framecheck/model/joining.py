"""How the parts of a built-up section are held together along the member. Lengths in m."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ContinuousWeld:
    """Welded all along each seam."""


@dataclass(frozen=True, slots=True)
class StitchWeld:
    """Welds of `length` at every `pitch` (middle to middle) along each seam."""

    length: float
    pitch: float


@dataclass(frozen=True, slots=True)
class BoltRow:
    """Bolts, rivets or spot welds at every `pitch` along each seam."""

    pitch: float


Joining = ContinuousWeld | StitchWeld | BoltRow
CONTINUOUS = ContinuousWeld()
