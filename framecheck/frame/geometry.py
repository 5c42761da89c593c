"""Where members lie: their axes in space, and how a section is turned in them. SI; vehicle axes x forward, y left, z up."""

from __future__ import annotations

from itertools import pairwise
from math import dist

import numpy as np

from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Frame, Member

VERTICAL = 1e-6  # sine of the angle to the vertical below which a member counts as vertical


def member_axes(along: Array) -> Array:
    """Return members' axes (n, 3, 3), x, y, z as rows, from unit directions (n, 3).

    z is the direction square to the member that is nearest to up; of a vertical member, y is the vehicle's left.
    """
    left = np.stack([-along[:, 1], along[:, 0], np.zeros(len(along))], axis=1)
    size = np.linalg.norm(left, axis=1)
    upright = size < VERTICAL
    left[upright] = np.array([0.0, 1.0, 0.0]) - along[upright] * along[upright, 1:2]
    left /= np.linalg.norm(left, axis=1)[:, None]
    return np.stack([along, left, cross(along, left)], axis=1)


def section_turns(angles: Array, mirrored: BoolArray) -> Array:
    """Return matrices (n, 2, 2) from a section's own (y, z) to the member's: first mirrored, then turned by the angle, rad."""
    c, s, flip = np.cos(angles), np.sin(angles), np.where(mirrored, -1.0, 1.0)
    return np.stack([c * flip, -s, s * flip, c], axis=1).reshape(-1, 2, 2)


def cross_rows(arms: Array, axes: Array) -> Array:
    """Return arms x axes (n, m, 3): rows that give, times a turn, how far a point at the end of an arm moves along each axis.

    arms (n, m, 3), axes (n, m, 3): axis . (turn x arm) = (arm x axis) . turn.
    """
    return cross(arms, axes)


def cross(first: Array, second: Array) -> Array:
    """Return vector products (..., 3); numpy's own takes ten times as long for few."""
    found = np.empty(np.broadcast_shapes(first.shape, second.shape))
    for way, (one, two) in enumerate(((1, 2), (2, 0), (0, 1))):
        found[..., way] = first[..., one] * second[..., two] - first[..., two] * second[..., one]
    return found


def point_stations(frame: Frame, member: Member) -> list[float]:
    """Return the station of each of a member's points, m."""
    places = [frame.points[name] for name in member.points]
    stations = [0.0]
    for first, second in pairwise(places):
        stations.append(stations[-1] + dist(first, second))
    return stations
