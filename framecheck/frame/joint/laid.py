"""A branch laid across a wall of the rail: welded along its outer edges there, across its end and where it leaves the rail. SI.

The branch's axis runs square to the rail, towards -z; its section lies in x and y, at y < 0, by its outline's x and height over the
face. What of it lies flat next to the face is welded; between welds it lies loose.
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.joint.beams import bent_over, rail_flexibility, section_of, transport
from framecheck.frame.joint.data import Branch, Chord, Make, level_of
from framecheck.frame.joint.lines import DIVISION, Lines, extent_of, lines_under, x_lines
from framecheck.frame.joint.mesh import Build, Cutout, Foot, Ground, finish_ends, foot_of, swept
from framecheck.frame.joint.mirrors import SAME, Mirrors, halved, mirrors_of
from framecheck.frame.joint.panels import even, graded, joined
from framecheck.frame.joint.section_grid import section_grid
from framecheck.frame.joint.shell import tip_flexibility
from framecheck.model.arrays import Array, IntArray

OVER = 6
"""Elements along the branch over the rail."""


def laid_cutout(chord: Chord, branch: Branch) -> Cutout:
    """Return the shell model of a branch that lies on the rail's face."""
    both = mirrors_of(chord, branch)
    mirrors, extent, build = Mirrors(both.x, False), extent_of(chord, branch, Make.LAID), Build()
    level, height = level_of(chord, branch), lines_under(branch)
    chord, branch = halved(chord, branch, mirrors)
    (low, high), x = chord.face, x_lines(branch, extent, mirrors.x)
    face = even(low, high, OVER)
    section = section_grid(chord, face, DIVISION.across)
    places = np.empty((len(x.at), len(section.points), 3))
    places[..., 0], places[..., 1:] = x.at[:, None], section.points
    ground = Ground(x, Lines(face, (), ()), section, build.add_nodes(places))
    build.add(swept(ground.nodes, section.segments), np.tile(section.walls, len(x.at) - 1), chord)
    foot = foot_of(branch, x, Lines(height, *_corners(branch, height)))
    along = joined(face[::-1], graded(low, low - extent.branch, DIVISION.out, extent.out))
    there = np.empty((len(along), len(foot.lines), 3))
    there[..., 0], there[..., 1], there[..., 2] = x.at[foot.lines[:, 0]], -level - height[foot.lines[:, 1]], along[:, None]
    rows = build.add_nodes(there)
    build.add(swept(rows, foot.segments), np.tile(foot.walls, len(rows) - 1), branch)
    _weld(build, foot, rows, ground)
    held = finish_ends(build, chord, ground, mirrors)
    return build.cutout(mirrors, held, rows[-1], np.array([0.0, -level, along[-1]]))


def _corners(branch: Branch, height: Array) -> tuple[tuple[float, ...], tuple[int, ...]]:
    places = tuple(sorted({corner[1] for corner in branch.outline.corners}))
    return places, tuple(int(np.argmin(np.abs(height - each))) for each in places)


def _weld(build: Build, foot: Foot, rows: IntArray, ground: Ground) -> None:
    """Let what lies flat next to the face move with it along its outer edges, at the branch's end and where it leaves the rail."""
    flat = np.flatnonzero(foot.lines[:, 1] == 0)
    flat = flat[np.isin(flat, foot.segments[(foot.lines[foot.segments, 1] == 0).all(axis=1)])]
    x = foot.lines[flat, 0]
    edges = flat[(x == x.min()) & (ground.x.at[x] < -SAME) | (x == x.max())]
    face = ground.face[:, ::-1]
    for row in range(OVER + 1):
        held = flat if row in (0, OVER) else edges
        build.carry(rows[row, held], face[foot.lines[held, 0], row])


def laid_flexibility(chord: Chord, branch: Branch) -> Array:
    """Return the joint's own flexibility (6, 6) where the branch's middle leaves the rail: the cut-out's less the beams'."""
    cut, length, level = laid_cutout(chord, branch), extent_of(chord, branch, Make.LAID).branch, level_of(chord, branch)
    of = section_of(branch.outline)
    x, height = of.centroid.tolist()
    start = np.array([x, -height, 0.0])
    beam = bent_over(_compliance(chord, branch), start, start + np.array([0.0, 0.0, length]))
    to_tip, to_face = transport(0.0, 0.0, -length), transport(0.0, level, -chord.face[0])
    rest: Array = to_tip.T @ (tip_flexibility(cut) - beam) @ to_tip
    return rest - to_face.T @ rail_flexibility(chord, branch) @ to_face


def _compliance(chord: Chord, branch: Branch) -> Array:
    """Return the strains (6, 6) of the branch along z per unit load at its centroid; an open section's twist left out."""
    of, e, g = section_of(branch.outline), branch.e, branch.e / (2 * (1 + branch.nu))
    found = np.diag([1 / (g * of.shear[0]), 1 / (g * of.shear[1]), 1 / (e * of.area), 0.0, 0.0, 0.0])
    over = np.array([[1.0, -1.0], [-1.0, 1.0]])
    found[3:5, 3:5] = np.linalg.inv(e * of.bent * over)
    found[5, 5] = 1 / (g * of.j) if branch.outline.closed else 0.0
    return found


def laid_least(chord: Chord, branch: Branch) -> Array:
    """Return the flexibility (6,) of the kept length of branch, way by way, without levers."""
    found = np.diag(_compliance(chord, branch)).copy()
    of = section_of(branch.outline)
    found[5] = 1 / (branch.e / (2 * (1 + branch.nu)) * of.j)
    return found * extent_of(chord, branch, Make.LAID).branch
