"""Sheets bent along a path as graphs of walls, for many variants at once; and round tubes."""

from __future__ import annotations

from math import pi, sin

import numpy as np

from framecheck.model.arrays import Array, BoolArray
from framecheck.section.midline_walls import WallGraph

PIECES = 4
"""Straight pieces that stand for a bend of a quarter turn; variants by the thousand take VARIANT_PIECES."""
VARIANT_PIECES = 2
RING = 64
"""Straight pieces that stand for a round tube."""


def open_strip(corners: Array, radius: Array, thickness: Array, bend_thickness: Array, pieces: int) -> WallGraph:
    """Return a sheet bent along a path of right-angled corners. corners: (..., k, 2); radius: of the mid-line at bends, (...,);
    thickness: (..., k - 1) of each straight; bend_thickness: (..., k - 2)."""
    arcs = _arcs(corners[..., :-2, :], corners[..., 1:-1, :], corners[..., 2:, :], radius, pieces)
    nodes = np.concatenate([corners[..., :1, :], _in_line(arcs), corners[..., -1:, :]], axis=-2)
    pieces = arcs.shape[-2] - 1
    n_walls = nodes.shape[-2] - 1
    bend = np.array(([False] + [True] * pieces) * (corners.shape[-2] - 2) + [False])
    walls = _alternating(thickness[..., 1:], bend_thickness, pieces)
    thick = np.concatenate([thickness[..., :1], _bend_first(walls, pieces)], axis=-1)
    turn = _turns(corners[..., :-2, :], corners[..., 1:-1, :], corners[..., 2:, :])
    curved = np.concatenate([np.zeros_like(thick[..., :1]), _curvature(turn, radius, pieces)], axis=-1)
    ends = tuple((i, i + 1) for i in range(n_walls))
    return _graph(nodes, ends, thick, curved, bend, pieces)


def closed_strip(corners: Array, radius: Array, thickness: Array, bend_thickness: Array, pieces: int) -> WallGraph:
    """Return a tube with right-angled corners. corners: (..., k, 2) in order; thickness: (..., k), each of the straight that
    follows its corner; bend_thickness: (..., k)."""
    before, after = np.roll(corners, 1, axis=-2), np.roll(corners, -1, axis=-2)
    arcs = _arcs(before, corners, after, radius, pieces)
    nodes = _in_line(arcs)
    pieces, n_walls = arcs.shape[-2] - 1, nodes.shape[-2]
    thick = _bend_first(_alternating(thickness, bend_thickness, pieces), pieces)
    curved = _curvature(_turns(before, corners, after), radius, pieces)
    bend = np.array(([True] * pieces + [False]) * corners.shape[-2])
    ends = tuple((i, (i + 1) % n_walls) for i in range(n_walls))
    return _graph(nodes, ends, thick, curved, bend, pieces)


def _graph(
    nodes: Array, ends: tuple[tuple[int, int], ...], thickness: Array, curvature: Array, bend: BoolArray, pieces: int
) -> WallGraph:
    """Return a graph of solid walls; a chord weighs as much as its arc."""
    half = pi / 4 / max(pieces, 1)
    solid = np.where(bend, half / sin(half), 1.0)
    return WallGraph(nodes, ends, thickness, solid, curvature, bend, np.zeros(nodes.shape[:-2]))


def _arcs(before: Array, corner: Array, after: Array, radius: Array, pieces: int) -> Array:
    """Return points along the arc at each corner, (..., k, pieces + 1, 2); just the corner where every radius is zero."""
    u, v = _unit(corner - before), _unit(after - corner)
    steps = np.linspace(0.0, pi / 2, pieces + 1 if np.any(radius > 0.0) else 1)
    outward = radius[..., None, None, None] * (np.sin(steps) - 1.0)[:, None]
    inward = radius[..., None, None, None] * (1.0 - np.cos(steps))[:, None]
    return np.asarray(corner[..., None, :] + outward * u[..., None, :] + inward * v[..., None, :])


def _unit(step: Array) -> Array:
    """Return directions, (..., 2)."""
    return np.asarray(step / np.sqrt(np.sum(step**2, axis=-1))[..., None])


def _turns(before: Array, corner: Array, after: Array) -> Array:
    """Return +1 where the path turns left at a corner (from y to z), -1 right, (..., k)."""
    u, v = corner - before, after - corner
    return np.asarray(np.sign(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]))


def _in_line(arcs: Array) -> Array:
    """Return the points of all arcs in one row, (..., k x points, 2)."""
    return arcs.reshape(*arcs.shape[:-3], -1, 2)


def _alternating(straight: Array, bent: Array, pieces: int) -> Array:
    """Return (..., k, pieces + 1): for each corner the values of its bend's pieces, then of the straight after it."""
    return np.concatenate([np.repeat(bent[..., None], pieces, axis=-1), straight[..., None]], axis=-1)


def _bend_first(walls: Array, pieces: int) -> Array:
    """Return (..., k x (pieces + 1))."""
    return walls.reshape(*walls.shape[:-2], walls.shape[-2] * (pieces + 1))


def _curvature(turn: Array, radius: Array, pieces: int) -> Array:
    """Return the curvature of each wall, (..., k x (pieces + 1)), zero for straights and where the radius is zero."""
    bent = turn * np.where(radius > 0.0, 1.0 / np.where(radius > 0.0, radius, 1.0), 0.0)[..., None]
    return _bend_first(_alternating(np.zeros_like(bent), bent, pieces), pieces)


def ring(diameter: float, wall: float) -> WallGraph:
    """Return a round tube; wall of half the diameter: a solid bar. The polygon is as long as the mid-line circle.

    Its torsion constant is that of a thick ring, pi/2 (outer radius4 - inner radius4) = 2 pi R t (R2 + t2/4), not R2 + t2/3.
    """
    radius = (diameter - wall) / 2
    angle = 2 * pi * np.arange(RING) / RING
    nodes = radius * (pi / RING) / sin(pi / RING) * np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    ends = tuple((i, (i + 1) % RING) for i in range(RING))
    shape, bend = np.ones(RING), np.ones(RING, dtype=np.bool_)
    extra = np.array(-2 * pi * radius * wall**3 / 12)
    return WallGraph(nodes, ends, wall * shape, shape, shape / radius, bend, extra)
