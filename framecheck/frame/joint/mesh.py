"""The joint cut out of the frame, as flat walls along their middle lines: whole, or half or a quarter where planes mirror it.

x along the rail, z square to it in the face, y = 0 the rail face's middle plane; the branch lies at y < 0. Corners are sharp. Nodes
are shared by number, never by place: no size can part two walls.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.data import Branch, BranchMake, Chord, Gussets, RailFinish
from framecheck.frame.joint.lines import DIVISION, Extent, GridLines, branch_lines, extent_of, x_lines, z_lines
from framecheck.frame.joint.outlines import SAME, Mirrors, halved, mirrors_of
from framecheck.frame.joint.panels import PanelMesh, SectionGrid, grid_corners, section_grid
from framecheck.frame.joint.shell_elements import Plates, fill_triangle
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.value_class import array_class


class Cutout(NamedTuple):
    """The meshed joint. held, tip (n,): nodes at the rail's held ends and at the branch's cut, which turns about point (3,)."""

    mesh: PanelMesh
    mirrors: Mirrors
    held: BoolArray
    tip: BoolArray
    point: Array


@array_class
class BranchFoot:
    """The branch's section on the grid: lines (c, 2), the x and z line of each column; segments (m, 2) of columns; walls (m,);
    welded (c,)."""

    lines: IntArray
    segments: IntArray
    walls: Array
    welded: BoolArray

    def column(self, x: int, z: int) -> int:
        """Return the column on two lines."""
        return int(np.flatnonzero((self.lines == (x, z)).all(axis=1))[0])


class Build:
    """A mesh as it grows: nodes, elements, nodes carried by others."""

    def __init__(self) -> None:
        self.count = 0
        self.nodes: list[Array] = []
        self.corners: list[IntArray] = []
        self.made: list[Array] = []
        self.carried: list[IntArray] = []

    def add_nodes(self, places: Array) -> IntArray:
        """Take in nodes (..., 3); return their numbers (...)."""
        self.nodes.append(places.reshape(-1, 3))
        self.count += len(self.nodes[-1])
        return np.arange(self.count - len(self.nodes[-1]), self.count).reshape(places.shape[:-1])

    def add(self, corners: IntArray, wall: float | Array, of: Chord | Branch) -> None:
        """Take in elements (m, 4) of a wall."""
        made = np.empty((len(corners), 3))
        made[:, 0], made[:, 1], made[:, 2] = wall, of.e, of.nu
        self.corners.append(corners)
        self.made.append(made)

    def carry(self, nodes: IntArray, by: IntArray) -> None:
        """Let nodes move rigidly with others."""
        self.carried.append(np.stack((nodes.ravel(), by.ravel()), axis=1))

    def cutout(self, mirrors: Mirrors, held: IntArray, tip: IntArray, point: Array) -> Cutout:
        """Return what was taken in, less nodes that nothing touches; held, tip: numbers of nodes; point: see `Cutout`."""
        places, corners = np.concatenate(self.nodes), np.concatenate(self.corners)
        carried = np.concatenate((np.zeros((0, 2), dtype=np.int64), *self.carried))
        used, number = np.unique(np.concatenate((corners.ravel(), carried.ravel())), return_inverse=True)
        corners, carried = number[: corners.size].reshape(-1, 4), number[corners.size :].reshape(-1, 2)
        nodes = places[used]
        mesh = PanelMesh(nodes, corners, Plates(nodes[corners], *np.concatenate(self.made).T), carried)
        return Cutout(mesh, mirrors, np.isin(used, held), np.isin(used, tip), point)


def swept(rows: IntArray, segments: IntArray) -> IntArray:
    """Return the elements (m, 4) between neighbouring rows of nodes (r, columns), segment by segment."""
    a, b = segments.T
    corners: IntArray = np.stack((rows[:-1][:, a], rows[1:][:, a], rows[:-1][:, b], rows[1:][:, b]), axis=-1)
    return corners.reshape(-1, 4)


def foot_of(branch: Branch, x: GridLines, z: GridLines) -> BranchFoot:
    """Return the branch's section as it stands on the grid lines."""
    columns: dict[tuple[int, int], int] = {}
    segments, walls, welded = [], [], set()
    for strip in branch.outline.strips:
        (x0, z0), (x1, z1) = (branch.outline.corners[number] for number in (strip.first, strip.second))
        ends = sorted(((x.number(x0), z.number(z0)), (x.number(x1), z.number(z1))))
        span = [(i, j) for i in range(ends[0][0], ends[1][0] + 1) for j in range(ends[0][1], ends[1][1] + 1)]
        chain = [columns.setdefault(each, len(columns)) for each in span]
        segments += list(pairwise(chain))
        walls += [strip.wall] * (len(chain) - 1)
        welded |= set(chain) if strip.welded else set()
    held = np.isin(np.arange(len(columns)), list(welded))
    return BranchFoot(np.array(list(columns)), np.array(segments), np.array(walls), held)


def _places(foot: BranchFoot, x: GridLines, z: GridLines, y: Array) -> Array:
    """Return the places (n, columns, 3) of the branch's section at each y."""
    found = np.empty((len(y), len(foot.lines), 3))
    found[..., 0], found[..., 1], found[..., 2] = x.at[foot.lines[:, 0]], y[:, None], z.at[foot.lines[:, 1]]
    return found


@array_class
class RailGrid:
    """What the branch stands on: the grid lines, the rail's section, its nodes (x lines, points)."""

    x: GridLines
    z: GridLines
    section: SectionGrid
    nodes: IntArray

    @property
    def face(self) -> IntArray:
        """Return the face's nodes (x lines, z lines)."""
        found: IntArray = self.nodes[:, self.section.face]
        return found


def _ground(build: Build, chord: Chord, branch: Branch, mirrors: Mirrors, extent: Extent) -> RailGrid:
    """Mesh the rail."""
    x, z = x_lines(branch, extent, mirrors.x), z_lines(chord, branch, mirrors.z)
    section = section_grid(chord, z.at, DIVISION.across)
    places = np.empty((len(x.at), len(section.points), 3))
    places[..., 0], places[..., 1:] = x.at[:, None], section.points
    return RailGrid(x, z, section, build.add_nodes(places))


def _rail_elements(build: Build, chord: Chord, branch: Branch, ground: RailGrid, make: BranchMake) -> None:
    """Take in the rail's walls; where the branch passes one face and no more, without what lies within it."""
    corners = swept(ground.nodes, ground.section.segments)
    walls = np.tile(ground.section.walls, len(ground.x.at) - 1)
    if make is BranchMake.THROUGH_ONE:
        numbers = (slice(each.numbers[0], each.numbers[-1] + 1) for each in (ground.x, ground.z))
        within = grid_corners(ground.face[tuple(numbers)])
        kept = ~(np.sort(corners, axis=1)[:, None] == np.sort(within, axis=1)).all(axis=2).any(axis=1)
        corners, walls = corners[kept], walls[kept]
    build.add(corners, walls, chord)


def _stand(build: Build, branch: Branch, extent: Extent, ground: RailGrid, flange: Array) -> tuple[BranchFoot, IntArray]:
    """Mesh the branch from the face on; return its section and its nodes (y lines, columns)."""
    foot = foot_of(branch, ground.x, ground.z)
    y = branch_lines(branch, extent, flange)
    root = ground.face[foot.lines[:, 0], foot.lines[:, 1]]
    loose = ~foot.welded
    root[loose] = build.add_nodes(_places(foot, ground.x, ground.z, y[:1])[0, loose])
    rows = np.concatenate((root[None], build.add_nodes(_places(foot, ground.x, ground.z, y[1:]))))
    build.add(swept(rows, foot.segments), np.tile(foot.walls, len(rows) - 1), branch)
    return foot, rows


def _pass_through(build: Build, branch: Branch, foot: BranchFoot, ground: RailGrid) -> None:
    """Mesh the branch from the near face to the far one."""
    section = ground.section
    side = next(each for each in section.behind if len(each))
    y = section.points[side, 0]
    rows = build.add_nodes(_places(foot, ground.x, ground.z, y))
    rows[0], rows[-1] = (ground.nodes[foot.lines[:, 0], each[foot.lines[:, 1]]] for each in (section.face, section.far))
    for edge, walls in zip((0, len(ground.z.at) - 1), section.behind, strict=True):
        along = foot.lines[:, 1] == edge
        if len(walls) == len(y) and along.any():
            rows[:, along] = ground.nodes[foot.lines[along, 0]][:, walls].T
    build.add(swept(rows, foot.segments), np.tile(foot.walls, len(rows) - 1), branch)


def _add_gussets(build: Build, branch: Branch, foot: BranchFoot, rows: IntArray, ground: RailGrid) -> None:
    """Mesh each triangle between face and branch."""
    for each in branch.gussets:
        for sign in each.sides:
            _add_gusset(build, branch, (each, sign), (foot, rows), ground)


def _add_gusset(build: Build, branch: Branch, of: tuple[Gussets, int], stand: tuple[BranchFoot, IntArray], ground: RailGrid) -> None:
    (gusset, sign), (foot, rows) = of, stand
    z = int(np.argmin(np.abs(ground.z.at - gusset.z)))
    edge = ground.x.numbers[-1 if sign > 0 else 0]
    steps = np.arange(DIVISION.leg + 1)
    along_rail, along_branch = ground.face[edge + sign * steps, z], rows[steps, foot.column(edge, z)]
    corner = np.array([ground.x.at[edge], 0.0, ground.z.at[z]])
    legs = np.array([[sign * gusset.along_rail, 0.0, 0.0], [0.0, -gusset.along_branch, 0.0]])
    places, elements = fill_triangle(along_rail, along_branch, build.count)
    build.add_nodes(corner + places @ legs)
    build.add(elements, gusset.thickness, branch)


def _weld_flanges(build: Build, foot: BranchFoot, rows: IntArray, ground: RailGrid) -> None:
    """Let the branch's outer edges along the flanges, and its walls at their tips, move with the flanges, where it has walls there."""
    for edge, side in zip((ground.z.numbers[0], ground.z.numbers[-1]), ground.section.before, strict=True):
        columns = np.flatnonzero(foot.lines[:, 1] == edge)
        if not len(side) or not len(columns):
            continue
        x = foot.lines[columns, 0]
        outer = (x == x.max()) | (x == x.min()) & (ground.x.at[x] < -SAME)
        for column in columns[outer]:
            build.carry(rows[1 : len(side), column], ground.nodes[foot.lines[column, 0], side[1:]])
        inner = columns[~outer]
        build.carry(rows[len(side) - 1, inner], ground.nodes[foot.lines[inner, 0], side[-1]])


def _close_end(build: Build, chord: Chord, ground: RailGrid, row: int, plate: float) -> None:
    """Mesh the plate that closes the rail's end at an x line."""
    section = ground.section
    side = section.behind[1]
    y = section.points[side, 0]
    places = np.empty((len(y), len(ground.z.at), 3))
    places[..., 0], places[..., 1], places[..., 2] = ground.x.at[row], y[:, None], ground.z.at
    nodes = build.add_nodes(places)
    nodes[0], nodes[:, -1] = ground.face[row], ground.nodes[row, side]
    if len(section.behind[0]):
        nodes[:, 0] = ground.nodes[row, section.behind[0]]
    if len(section.far):
        nodes[-1] = ground.nodes[row, section.far]
    build.add(grid_corners(nodes), plate, chord)


def cutout(chord: Chord, branch: Branch, make: BranchMake) -> Cutout:
    """Return the shell model of a joint whose branch's corners lie within the rail's face."""
    mirrors, extent, build = mirrors_of(chord, branch), extent_of(chord, branch, make), Build()
    chord, branch = halved(chord, branch, mirrors)
    ground = _ground(build, chord, branch, mirrors, extent)
    _rail_elements(build, chord, branch, ground, make)
    flange = ground.section.points[ground.section.before[1], 0] if make is BranchMake.FLANGES else np.zeros(0)
    foot, rows = _stand(build, branch, extent, ground, flange)
    if make is BranchMake.THROUGH and len(ground.section.far) and any(map(len, ground.section.behind)):
        _pass_through(build, branch, foot, ground)
    if make is BranchMake.FLANGES:
        _weld_flanges(build, foot, rows, ground)
    _add_gussets(build, branch, foot, rows, ground)
    held = finish_ends(build, chord, ground, mirrors)
    return build.cutout(mirrors, held, rows[-1], np.array([0.0, -extent.branch, 0.0]))


def finish_ends(build: Build, chord: Chord, ground: RailGrid, mirrors: Mirrors) -> IntArray:
    """Mesh the plates that close the rail's ends; return the nodes of those that are held."""
    held = []
    for row, end in ((0, chord.ends[0]), (-1, chord.ends[1])) if not mirrors.x else ((-1, chord.ends[1]),):
        if end.finish is RailFinish.PLATE:
            _close_end(build, chord, ground, row, end.plate)
        if end.finish is RailFinish.HELD:
            held.append(row)
    return ground.nodes[held].ravel()
