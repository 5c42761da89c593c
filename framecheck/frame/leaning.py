"""How near a branch that leans comes to meeting no face of its rail, and to meeting two."""

from __future__ import annotations

from math import acos, atan2, degrees

from framecheck.model.arrays import Array

FACING = 0.75
"""Least cosine between a branch and the way the rail's face looks; beyond that it is no T joint."""
LEANING = 35.0
"""Degrees from square from where the range of an end begins to open, to be as wide at FACING as where no model covers it. Judgement,
no source: the shell models are of square joints."""


def leaning_share(cosine: float) -> float:
    """Return how near an end that leans comes to where it counts as meeting no face, 0 to 1."""
    facing = degrees(acos(FACING))
    return max(0.0, (degrees(acos(min(cosine, 1.0))) - LEANING) / (facing - LEANING))


def corner_share(own: tuple[Array, Array], toward: Array) -> float:
    """Return how near a branch lies to both faces at a rail's corner: 0 where it meets one squarely enough, 1 midway."""
    less, more = sorted(abs(float(each @ toward)) for each in own)
    facing = degrees(acos(FACING))
    return max(0.0, (degrees(atan2(less, more)) - facing) / (45.0 - facing))
