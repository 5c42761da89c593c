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
SAME_PLANE = 0.5  # rail walls; from there inwards to one plane the joint is taken between the two meshes


@value_class
class Outline:
    """Middle-line sizes in m: depth (z); width (rail: y, branch: x); wall; length kept."""

    depth: float
    width: float
    wall: float
    length: float


class Panel(NamedTuple):
    """A flat wall across one axis (0, 1, 2) at a place, gridded along the two others, in m.

    names: (n_first, n_second) whole numbers: points of the same name are one node, wherever they are computed to lie.
    """

    normal: int
    at: float
    first: Array
    second: Array
    wall: float
    e: float
    nu: float
    names: IntArray


class Mesh(NamedTuple):
    """nodes (n, 3) in m; corners (m, 4) node numbers; plates (m)."""

    nodes: Array
    corners: IntArray
    plates: Plates


def gap_of(chord: Chord, branch: Branch) -> float:
    """Return how far the branch's wall lies within the rail's, middle line to middle line, m; negative: beyond it."""
    return (chord.depth - chord.wall - branch.depth + branch.wall) / 2


def branch_outline(chord: Chord, branch: Branch, gap: float) -> Outline:
    """Return the branch's middle line, its walls a gap within the rail's (0: in one plane), m."""
    depth, width = chord.depth - chord.wall - 2 * gap, branch.width - branch.wall
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


def _joined(*pieces: Array) -> Array:
    """Return pieces of a line, each from the last one's end, as one."""
    return np.concatenate((pieces[0], *(piece[1:] for piece in pieces[1:])))


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


class Span(NamedTuple):
    """Grid lines of one axis, first and last by number."""

    first: int
    last: int


class Grid(NamedTuple):
    """The grid lines of the three axes in m, rising, and which of them each part spans.

    x, z: the rail's lines; x_in, z_in: under the branch; y: across the rail; y_out: along the branch.
    """

    lines: tuple[Array, Array, Array]
    x: Span
    x_in: Span
    z: Span
    z_in: Span
    y: Span
    y_out: Span


def grid_of(rail: Outline, stub: Outline, closed: bool) -> Grid:
    """Return the grid; closed: the branch is a tube, so that a quarter of the joint serves."""
    half, high = stub.width / 2, stub.depth / 2
    x = _joined(
        even(0.0, half, DIVISION.half),
        graded(half, rail.length, DIVISION.rail, min(half / 3, rail.depth / 16)),
    )
    z = even(0.0, high, DIVISION.high)
    if rail.depth / 2 > high:
        z = _joined(z, even(high, rail.depth / 2, DIVISION.gap))
    out = graded(0.0, -stub.length, DIVISION.out, stub.depth / 16)[::-1]
    y = _joined(out, graded(0.0, rail.width, DIVISION.across, rail.width / 8))
    first, zero = 0 if closed else -DIVISION.half, 0 if closed else len(x) - 1
    return Grid(
        (x if closed else _joined(-x[::-1], x), y, z),
        x=Span(0, zero + len(x) - 1),
        x_in=Span(zero + first, zero + DIVISION.half),
        z=Span(0, len(z) - 1),
        z_in=Span(0, DIVISION.high),
        y=Span(DIVISION.out, len(y) - 1),
        y_out=Span(0, DIVISION.out),
    )


def _panel(grid: Grid, normal: int, at: int, spans: tuple[Span, Span], made: tuple[float, float, float]) -> Panel:
    """Return the panel across an axis at one of its lines, over spans of the two other axes; made: wall, e, nu."""
    first, second = (axis for axis in range(3) if axis != normal)
    numbers = np.arange(np.prod([len(lines) for lines in grid.lines])).reshape([len(lines) for lines in grid.lines])
    over = [slice(span.first, span.last + 1) for span in spans]
    names = np.take(numbers, at, axis=normal)[over[0], over[1]]
    places = float(grid.lines[normal][at]), grid.lines[first][over[0]], grid.lines[second][over[1]]
    return Panel(normal, *places, *made, names)


def _rail_panels(chord: Chord, grid: Grid) -> list[Panel]:
    made = (chord.wall, chord.e, chord.nu)
    near, *far = (grid.y.first, grid.y.last) if chord.closed else (grid.y.first,)
    faces = [_panel(grid, 1, at, (grid.x, grid.z), made) for at in (near, *far)]
    return [*faces, _panel(grid, 2, grid.z.last, (grid.x, grid.y), made)]


def _branch_panels(branch: Branch, grid: Grid, along: Span) -> list[Panel]:
    made = (branch.wall, branch.e, branch.nu)
    flange = _panel(grid, 2, grid.z_in.last, (grid.x_in, along), made)
    return [flange, _panel(grid, 0, grid.x_in.last if branch.closed else grid.x_in.first, (along, grid.z_in), made)]


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
    """Join the panels where their points have one name."""
    points = np.concatenate([_panel_points(panel).reshape(-1, 3) for panel in panels])
    starts = np.concatenate(([0], np.cumsum([panel.names.size for panel in panels])))
    names = np.concatenate([panel.names.ravel() for panel in panels])
    _, keep, number = np.unique(names, return_index=True, return_inverse=True)
    corners = np.concatenate([_panel_corners(panel, int(s)) for panel, s in zip(panels, starts[:-1], strict=True)])
    plates = Plates(*(np.concatenate(parts) for parts in zip(*map(_panel_plates, panels), strict=True)))
    return Mesh(points[keep], number.reshape(-1)[corners], plates)


def mesh(chord: Chord, branch: Branch, make: Make, gap: float) -> Mesh:
    """Return the shell model of the joint's part at z >= 0, and at x >= 0 if the branch is a tube; gap: see branch_outline."""
    grid = grid_of(chord_outline(chord, branch), branch_outline(chord, branch, gap), branch.closed)
    panels = _rail_panels(chord, grid) + _branch_panels(branch, grid, grid.y_out)
    if make is Make.THROUGH and chord.closed:
        panels += _branch_panels(branch, grid, grid.y)
    return merged(panels)
