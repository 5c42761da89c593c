"""Flat walls gridded into shell elements, and a rail's section cut into short walls with grid lines across them. SI."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.data import Chord, WallStrip
from framecheck.frame.joint.outlines import SAME
from framecheck.frame.joint.shell_elements import Plates
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class


class WallPanel(NamedTuple):
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


class PanelMesh(NamedTuple):
    """nodes (n, 3) in m; corners (m, 4) node numbers; plates (m).

    carried (k, 2): a node and the one that it moves with rigidly.
    """

    nodes: Array
    corners: IntArray
    plates: Plates
    carried: IntArray = np.zeros((0, 2), dtype=np.int64)


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


def joined(*pieces: Array) -> Array:
    """Return pieces of a line, each from the last one's end, as one."""
    return np.concatenate((pieces[0], *(piece[1:] for piece in pieces[1:])))


def _panel_points(panel: WallPanel) -> Array:
    """Return the grid points (a, b, 3) of a panel."""
    points = np.empty((len(panel.first), len(panel.second), 3))
    first, second = (axis for axis in range(3) if axis != panel.normal)
    points[:, :, panel.normal] = panel.at
    points[:, :, first] = panel.first[:, None]
    points[:, :, second] = panel.second[None, :]
    return points


def grid_corners(numbers: IntArray) -> IntArray:
    """Return the corners (m, 4) of the elements of a grid of node numbers (a, b)."""
    corners = np.stack((numbers[:-1, :-1], numbers[1:, :-1], numbers[:-1, 1:], numbers[1:, 1:]), axis=-1)
    return corners.reshape(-1, 4)


def merged(panels: list[WallPanel]) -> PanelMesh:
    """Join the panels where their points have one name."""
    points = np.concatenate([_panel_points(panel).reshape(-1, 3) for panel in panels])
    names = np.concatenate([panel.names.ravel() for panel in panels])
    _, keep, number = np.unique(names, return_index=True, return_inverse=True)
    number, starts = number.reshape(-1), np.cumsum([0] + [panel.names.size for panel in panels])
    grids = [number[s : s + panel.names.size].reshape(panel.names.shape) for s, panel in zip(starts[:-1], panels, strict=True)]
    corners = [grid_corners(grid) for grid in grids]
    made = [np.repeat([[panel.wall, panel.e, panel.nu]], len(each), axis=0) for panel, each in zip(panels, corners, strict=True)]
    of, nodes = np.concatenate(corners), points[keep]
    return PanelMesh(nodes, of, Plates(nodes[of], *np.concatenate(made).T))


@array_class
class SectionGrid:
    """Points (n, 2) of a section, y and z; segments (m, 2) between them; walls (m,).

    face (k,): the points on the grid lines across the face. far: those of an equal wall behind it, none: empty.
    before, behind: the points along the walls that leave the face's lower and upper edge square to it, towards the branch (y < 0) and
    away from it, from the face on; none: empty.
    """

    points: Array
    segments: IntArray
    walls: Array
    face: IntArray
    far: IntArray
    before: tuple[IntArray, IntArray]
    behind: tuple[IntArray, IntArray]


NONE = np.zeros(0, dtype=np.int64)


class _Section:
    """A section's points as they are numbered: its corners first."""

    def __init__(self, chord: Chord, lines: Array, parts: int) -> None:
        self.chord, self.lines, self.parts = chord, lines, parts
        self.corners = np.array(chord.outline.corners)
        self.points = [self.corners]
        self.count = len(self.corners)
        self.low, self.high = chord.face
        self.at_face = {number for each in chord.face_strips for number in (each.first, each.second)}

    def add(self, places: Array) -> IntArray:
        """Take in points (n, 2); return their numbers."""
        self.points.append(places)
        self.count += len(places)
        return np.arange(self.count - len(places), self.count)

    def shares(self, strip: WallStrip) -> Array:
        """Return where grid lines cross a wall, as shares of its length: those of the face in it and in an equal wall behind it."""
        (y0, z0), (y1, z1) = self.corners[[strip.first, strip.second]]
        length = float(np.hypot(y1 - y0, z1 - z0))
        if abs(y1 - y0) < SAME and (y0 == 0.0 or self.spans_as_the_face(z0, z1)):
            low, high = min(z0, z1) - SAME, max(z0, z1) + SAME
            crossing = self.lines[(self.lines > low) & (self.lines < high)]
            shares = (crossing - min(z0, z1)) / length
            shares[0], shares[-1] = 0.0, 1.0
            rising: Array = shares if z1 > z0 else 1 - shares[::-1]
            return rising
        if strip.first in self.at_face:
            return graded(0.0, 1.0, self.parts, 1 / 8)
        if strip.second in self.at_face:
            falling: Array = 1 - graded(0.0, 1.0, self.parts, 1 / 8)[::-1]
            return falling
        return even(0.0, 1.0, self.parts)

    def spans_as_the_face(self, z0: float, z1: float) -> bool:
        """Return whether a wall reaches from the face's lower edge to its upper one."""
        return abs(min(z0, z1) - self.low) < SAME and abs(max(z0, z1) - self.high) < SAME

    def chain(self, strip: WallStrip) -> IntArray:
        """Return the numbers of the points along a wall."""
        a, b = self.corners[[strip.first, strip.second]]
        inner = self.add(a + self.shares(strip)[1:-1, None] * (b - a))
        return np.concatenate(([strip.first], inner, [strip.second]))


def section_grid(chord: Chord, lines: Array, parts: int) -> SectionGrid:
    """Return a rail's section with its grid lines; lines: of the face; parts: across any other wall."""
    section = _Section(chord, lines, parts)
    chains = [section.chain(each) for each in chord.outline.strips]
    points = np.concatenate(section.points)
    segments = np.concatenate([np.stack((each[:-1], each[1:]), axis=1) for each in chains])
    walls = np.concatenate([np.full(len(each) - 1, of.wall) for each, of in zip(chains, chord.outline.strips, strict=True)])
    sides = (_sides(section, chains, points, sign) for sign in (-1, 1))
    return SectionGrid(points, segments, walls, _on_lines(points, 0.0), _far(section, points), *sides)


def _on_lines(points: Array, y: float) -> IntArray:
    """Return the points in a plane parallel to the face, rising."""
    there = np.flatnonzero(np.abs(points[:, 0] - y) < SAME)
    found: IntArray = there[np.argsort(points[there, 1])]
    return found


def _far(section: _Section, points: Array) -> IntArray:
    """Return the points of the wall behind the face that reaches from edge to edge as it does."""
    for strip in section.chord.outline.strips:
        (y0, z0), (y1, z1) = section.corners[[strip.first, strip.second]]
        if y0 > SAME and abs(y1 - y0) < SAME and section.spans_as_the_face(z0, z1):
            return _on_lines(points, y0)
    return NONE


def _sides(section: _Section, chains: list[IntArray], points: Array, sign: int) -> tuple[IntArray, IntArray]:
    """Return the points along the walls that leave the face's two edges square to it, to y < 0 (sign -1) or y > 0 (1)."""
    found = []
    for edge in (section.low, section.high):
        walls = [each for each in chains if _leaves(points[each[[0, -1]]], edge, sign)]
        side = walls[0] if walls else NONE
        found.append(side if not walls or abs(points[side[0], 0]) < SAME else side[::-1])
    return found[0], found[1]


def _leaves(ends: Array, edge: float, sign: int) -> bool:
    """Return whether a wall with these ends (2, 2) runs along y from the face's edge at that z to one side."""
    y = sorted((sign * ends[:, 0]).tolist())
    return bool(np.all(np.abs(ends[:, 1] - edge) < SAME)) and abs(y[0]) < SAME < y[1]
