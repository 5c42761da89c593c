"""The standard weld groups as runs: b horizontal (y), d vertical (z), in the plane x = 0, m; leg, m."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin

from framecheck.model.arrays import Vector
from framecheck.model.weld_joints import WeldRun

Corner = tuple[float, float]


def polyline(leg: float, corners: list[Corner]) -> tuple[WeldRun, ...]:
    """Return the runs along a polyline of (y, z) corners in the plane x = 0."""
    points: list[Vector] = [(0.0, y, z) for y, z in corners]
    return tuple(WeldRun(start, end, leg) for start, end in pairwise(points))


def vertical_line(d: float, leg: float) -> tuple[WeldRun, ...]:
    """Return one vertical line."""
    return polyline(leg, [(0.0, 0.0), (0.0, d)])


def two_vertical(b: float, d: float, leg: float) -> tuple[WeldRun, ...]:
    """Return two vertical lines b apart."""
    return vertical_line(d, leg) + polyline(leg, [(b, 0.0), (b, d)])


def two_horizontal(b: float, d: float, leg: float) -> tuple[WeldRun, ...]:
    """Return two horizontal lines d apart."""
    return polyline(leg, [(0.0, 0.0), (b, 0.0)]) + polyline(leg, [(0.0, d), (b, d)])


def angle(b: float, d: float, leg: float) -> tuple[WeldRun, ...]:
    """Return an L: vertical d, horizontal b at its foot."""
    return polyline(leg, [(0.0, d), (0.0, 0.0), (b, 0.0)])


def channel(b: float, d: float, leg: float) -> tuple[WeldRun, ...]:
    """Return a C: vertical d with a horizontal b at each end."""
    return polyline(leg, [(b, d), (0.0, d), (0.0, 0.0), (b, 0.0)])


def u_shape(b: float, d: float, leg: float) -> tuple[WeldRun, ...]:
    """Return two verticals d with a horizontal b on top."""
    return polyline(leg, [(0.0, 0.0), (0.0, d), (b, d), (b, 0.0)])


def all_round(b: float, d: float, leg: float) -> tuple[WeldRun, ...]:
    """Return a rectangle."""
    return polyline(leg, [(0.0, 0.0), (b, 0.0), (b, d), (0.0, d), (0.0, 0.0)])


def circle(diameter: float, leg: float, sides: int = 96) -> tuple[WeldRun, ...]:
    """Return a circle as a polygon of the same length (its second moments are within 1e-3 with 96 sides)."""
    radius = diameter / 2 * (pi / sides) / sin(pi / sides)
    turns = [2 * pi * side / sides for side in range(sides + 1)]
    return polyline(leg, [(radius * cos(turn), radius * sin(turn)) for turn in turns])
