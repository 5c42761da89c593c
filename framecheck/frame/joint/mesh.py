"""The joint cut out of the frame, as flat walls along their middle lines: a quarter if two planes mirror it, else half.

x along the rail, z up, y = 0 the rail face's middle plane; the rail's body lies at y > 0, the branch at y < 0.
Corners are sharp. The rail is held at its cut ends; the branch's cut end is a rigid plate.
A channel branch has its web at x < 0.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.data import Branch, Chord, Make
from framecheck.frame.joint.rectangle import Plates
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import value_class

TUBE_REACH = 5.0  # rail kept beyond the branch, in rail sizes: a tube's outline has then regained its shape
CHANNEL_REACH = 2.5  # the same for a channel, which has no shape to regain; further on it only twists as a beam
LEAST_REACH = 0.5
BRANCH_REACH = 1.5  # length of branch kept, in branch sizes
SAME_PLANE = 0.5  # branch and rail walls nearer than this, in rail walls, are taken as one plane


@value_class
class Outline:
    """Middle-line sizes in m: depth (z); width (rail: y, branch: x); wall; length kept."""

    depth: float
    width: float
    wall: float
    length: float


class Panel(NamedTuple):
    """A flat wall across one axis (0, 1, 2) at a place, gridded along the two others, in m."""

    normal: int
    at: float
    first: Array
    second: Array
    wall: float
    e: float
    nu: float


class Mesh(NamedTuple):
    """nodes (n, 3) in m; corners (m, 4) node numbers; plates (m)."""

    nodes: Array
    corners: IntArray
    plates: Plates


def branch_outline(chord: Chord, branch: Branch) -> Outline:
    """Return the branch's middle line; its depth is held to the rail's, and meets it when the walls nearly do."""
    depth, width = branch.depth - branch.wall, branch.width - branch.wall
    limit = chord.depth - chord.wall
    if depth > limit - 2 * SAME_PLANE * chord.wall:
        depth = limit
    return Outline(depth, width, branch.wall, BRANCH_REACH * max(depth, width))


def chord_outline(chord: Chord, branch: Branch) -> Outline:
    """Return the rail's middle line; length: from the branch's middle to the cut."""
    depth, width = chord.depth - chord.wall, chord.width - (chord.wall if chord.closed else chord.wall / 2)
    size, half = max(depth, width), (branch.width - branch.wall) / 2
    reach = min((TUBE_REACH if chord.closed else CHANNEL_REACH) * size, chord.reach - half)
    return Outline(depth, width, chord.wall, half + max(reach, LEAST_REACH * size))


def even(start: float, end: float, parts: int) -> Array:
    """Return equally spaced points from start to end."""
    return np.linspace(start, end, parts + 1)


def graded(start: float, end: float, parts: int, first: float) -> Array:
    """Return points from start to end; the steps grow by a constant ratio from about `first`."""
    length = abs(end - start)
    if parts * first >= length:
        return even(start, end, parts)
    low, high = 1.0, 10.0
    for _ in range(40):
        ratio = (low + high) / 2
        low, high = (ratio, high) if first * (ratio**parts - 1) < length * (ratio - 1) else (low, ratio)
    steps = np.concatenate(([0.0], np.cumsum(ratio ** np.arange(parts))))
    points: Array = start + (end - start) * steps / steps[-1]
    return points


def _join(*pieces: Array) -> Array:
    """Return the distinct points of all pieces, rising."""
    points: Array = np.unique(np.round(np.concatenate(pieces), 9))
    return points


@value_class
class Division:
    """Numbers of elements.

    high, half: under the branch, half its depth and half its width; gap: from there to the rail's corner; out: along
    the branch; rail, across: along and across the rail. Twice as many change a T joint's turn by 3 % at the most.
    """

    high: int = 3
    half: int = 2
    gap: int = 2
    out: int = 6
    rail: int = 9
    across: int = 4


DIVISION = Division()


def grids(rail: Outline, stub: Outline, closed: bool) -> dict[str, Array]:
    """Return the grid lines by name: x (all), x_in (under the branch), z, z_in, y (rail), y_out (branch)."""
    half, high = stub.width / 2, stub.depth / 2
    z_in = _join(even(0.0, high, DIVISION.high))
    z = _join(z_in, graded(high, rail.depth / 2, DIVISION.gap, 1e9) if rail.depth / 2 > high else z_in)
    x_in = even(0.0, half, DIVISION.half)
    x = _join(x_in, graded(half, rail.length, DIVISION.rail, min(half / 3, rail.depth / 16)))
    if not closed:
        x, x_in = _join(-x, x), _join(-x_in, x_in)
    y = _join(graded(0.0, rail.width, DIVISION.across, rail.width / 8))
    y_out = _join(graded(0.0, -stub.length, DIVISION.out, stub.depth / 16))
    return {"x": x, "x_in": _join(x_in), "z": z, "z_in": z_in, "y": y, "y_out": y_out}


def _rail_panels(chord: Chord, rail: Outline, grid: dict[str, Array]) -> list[Panel]:
    made = (chord.wall, chord.e, chord.nu)
    panels = [
        Panel(1, 0.0, grid["x"], grid["z"], *made),
        Panel(2, rail.depth / 2, grid["x"], grid["y"], *made),
    ]
    far = [Panel(1, rail.width, grid["x"], grid["z"], *made)] if chord.closed else []
    return panels + far


def _branch_panels(branch: Branch, stub: Outline, grid: dict[str, Array], along: Array) -> list[Panel]:
    made = (branch.wall, branch.e, branch.nu)
    web_at = stub.width / 2 if branch.closed else -stub.width / 2
    flange = Panel(2, stub.depth / 2, grid["x_in"], along, *made)
    return [flange, Panel(0, web_at, along, grid["z_in"], *made)]


def _panel_points(panel: Panel) -> Array:
    """Return the grid points (a, b, 3) of a panel."""
    points = np.empty((len(panel.first), len(panel.second), 3))
    first, second = (axis for axis in range(3) if axis != panel.normal)
    points[:, :, panel.normal] = panel.at
    points[:, :, first] = panel.first[:, None]
    points[:, :, second] = panel.second[None, :]
    return points


def _panel_plates(panel: Panel) -> Plates:
    """Return the rectangles of a panel, first grid direction slowest."""
    p, q = np.meshgrid(np.abs(np.diff(panel.first)), np.abs(np.diff(panel.second)), indexing="ij")
    first, second = (axis for axis in range(3) if axis != panel.normal)
    axes = np.zeros((3, 3))
    axes[0, first] = axes[1, second] = 1.0
    axes[2] = np.cross(axes[0], axes[1])
    n = p.size
    wall, e, nu = (np.full(n, value) for value in (panel.wall, panel.e, panel.nu))
    return Plates(p.ravel(), q.ravel(), wall, e, nu, np.broadcast_to(axes, (n, 3, 3)))


def _panel_corners(panel: Panel, start: int) -> IntArray:
    """Return the corners (m, 4) of a panel's rectangles, its points numbered from start."""
    number = start + np.arange(len(panel.first) * len(panel.second)).reshape(len(panel.first), -1)
    corners = np.stack((number[:-1, :-1], number[1:, :-1], number[:-1, 1:], number[1:, 1:]), axis=-1)
    return corners.reshape(-1, 4)


def merged(panels: list[Panel]) -> Mesh:
    """Join the panels where their points coincide."""
    points = [_panel_points(panel).reshape(-1, 3) for panel in panels]
    starts = np.concatenate(([0], np.cumsum([len(block) for block in points])))
    stacked = np.concatenate(points)
    places = np.round(stacked * 1e8).astype(np.int64)
    _, keep, number = np.unique(places, axis=0, return_index=True, return_inverse=True)
    corners = np.concatenate([_panel_corners(panel, int(s)) for panel, s in zip(panels, starts[:-1], strict=True)])
    plates = Plates(*(np.concatenate(parts) for parts in zip(*map(_panel_plates, panels), strict=True)))
    return Mesh(stacked[keep], number.reshape(-1)[corners], plates)


def mesh(chord: Chord, branch: Branch, make: Make) -> Mesh:
    """Return the shell model of the joint's part at z >= 0, and at x >= 0 if the branch is a tube."""
    rail, stub = chord_outline(chord, branch), branch_outline(chord, branch)
    grid = grids(rail, stub, branch.closed)
    panels = _rail_panels(chord, rail, grid) + _branch_panels(branch, stub, grid, grid["y_out"])
    if make is Make.THROUGH and chord.closed:
        panels += _branch_panels(branch, stub, grid, grid["y"])
    return merged(panels)
