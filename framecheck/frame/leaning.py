"""How a branch that leans meets its rail's face: where its line does, how near it comes to meeting none, and two."""

from __future__ import annotations

from math import acos, atan2, degrees

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member

FACING = 0.75
"""Least cosine between a branch and the way the rail's face looks; beyond that it is no T joint."""
SHORTEST = 1e-9
"""m: no line."""
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


def way_into(frame: Frame, member: Member, at_start: bool) -> Array:
    """Return the unit direction (3,) from a member's end into it, along its line as the arms of its ends move it: where they leave it
    no length, as it is drawn.
    """
    (here, there), points = (member.start, member.end), member.points
    if not at_start:
        here, there, points = there, here, points[::-1]
    drawn = np.subtract(frame.points[points[1]], frame.points[points[0]])
    moved = drawn - here.arm + (there.arm if len(points) == 2 else np.zeros(3))
    line = moved if float(np.linalg.norm(moved)) > SHORTEST else drawn
    way: Array = line / np.linalg.norm(line)
    return way
