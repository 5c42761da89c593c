"""Members as straight legs with the box that their sections fill: what sheet may lie on. SI."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from framecheck.frame.geometry import counted_from, point_stations
from framecheck.frame.joint_faces import drawn_axes
from framecheck.frame.vibration import reference_line
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Frame, Member, sections_at
from framecheck.model.shape_parts import outline_box
from framecheck.value_class import array_class

NEAR = 1e-3
"""m: sheet nearer than this to a section's box lies on it: places are told in 1/32 in or whole mm (common practice, no source)."""
ALONG = 0.02
"""Sine of the angle up to which a straight length runs along an edge or a sheet's plane (common practice, no source)."""


@array_class
class Leg:
    """A straight length of a member, arms at the member's own ends counted.

    member: its place in the frame; start, end (3,): places of its reference line; station: of its first point; way (3,): unit
    direction; across (2, 3): the section's own y and z; half (2,): half the box of its largest section that way, m.
    first, last: whether the member begins or ends with it.
    """

    member: int
    start: Array
    end: Array
    station: float
    way: Array
    across: Array
    half: Array
    first: bool
    last: bool

    @property
    def length(self) -> float:
        """Return its length, m."""
        return float((self.end - self.start) @ self.way)

    def along(self, places: Array) -> Array:
        """Return how far along it the feet of places (n, 3) lie, within its ends, m."""
        feet: Array = np.clip((places - self.start) @ self.way, 0.0, self.length)
        return feet

    def holds(self, places: Array) -> BoolArray:
        """Return which places (n, 3) lie in its box or on it."""
        on = (places - self.start) @ self.way
        found: BoolArray = (self.off(places) <= NEAR) & (on >= -NEAR) & (on <= self.length + NEAR)
        return found

    def off(self, places: Array) -> Array:
        """Return how far beside its box places (n, 3) lie, below nothing within it, m."""
        found: Array = (np.abs((places - self.start) @ self.across.T) - self.half).max(axis=1)
        return found


def legs_of(frame: Frame) -> tuple[Leg, ...]:
    """Return all legs of a frame's members."""
    return tuple(leg for number in range(len(frame.members)) for leg in legs_of_member(frame, number))


def legs_of_member(frame: Frame, number: int) -> tuple[Leg, ...]:
    """Return the legs of one member."""
    member = frame.members[number]
    line, stations = reference_line(frame, member), point_stations(frame, member)
    found = []
    for (first, second), (start, end), point in zip(pairwise(stations), pairwise(line), member.points, strict=False):
        span = end - start
        way = span / max(float(np.linalg.norm(span)), 1e-12)
        y, z = drawn_axes(way, member)
        place, ends = np.array(frame.points[point]), (first == 0.0, second == stations[-1])
        zero = counted_from((start, end, place), second) if ends == (True, False) else first
        half = _half_box(frame, member, first, second)
        found.append(Leg(number, start, end, zero + float((start - place) @ way), way, np.array([y, z]), half, *ends))
    return tuple(found)


def _half_box(frame: Frame, member: Member, first: float, second: float) -> Array:
    """Return half the width and height of a member's largest section between two stations, m."""
    names = {name for share in (0.01, 0.5, 0.99) for name in sections_at(member, first + share * (second - first))}
    boxes = np.array([outline_box(frame.sections[name].shape) for name in names], dtype=np.float64)
    height, width = boxes.max(axis=0)
    return np.array([width, height]) / 2
