"""The joint's springs: the shell model's flexibility less what beams and a rigid arm already hold; branches laid across a wall.

The branch's axis runs square to the rail, towards -z; its section lies in x and y, at y < 0, by its outline's x and height over the
face. What of it lies flat next to the face is welded; between welds it lies loose.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from math import inf, pi

import numpy as np

from framecheck.frame.joint.beams import (
    bent_over,
    branch_compliance,
    branch_flexibility,
    carried_up,
    rail_flexibility,
    section_of,
    transport,
)
from framecheck.frame.joint.data import (
    RUNNING_ON,
    Branch,
    BranchMake,
    Chord,
    Gussets,
    JointStiffness,
    RailEnd,
    RailFinish,
    full_reach,
    level_of,
    tube_outline,
)
from framecheck.frame.joint.lines import DIVISION, GridLines, branch_length, extent_of, lines_under, x_lines
from framecheck.frame.joint.mesh import BranchFoot, Build, Cutout, RailGrid, cutout, finish_ends, foot_of, swept
from framecheck.frame.joint.outlines import SAME, Mirrors, halved, mirrors_of, turned
from framecheck.frame.joint.panels import even, graded, joined, section_grid
from framecheck.frame.joint.shell import tip_flexibility
from framecheck.model.arrays import Array, IntArray

OVER = 6
"""Elements along the branch over the rail."""


def laid_cutout(chord: Chord, branch: Branch) -> Cutout:
    """Return the shell model of a branch that lies on the rail's face."""
    both = mirrors_of(chord, branch)
    mirrors, extent, build = Mirrors(both.x, False), extent_of(chord, branch, BranchMake.LAID), Build()
    level, height = level_of(chord, branch), lines_under(branch)
    chord, branch = halved(chord, branch, mirrors)
    (low, high), x = chord.face, x_lines(branch, extent, mirrors.x)
    face = even(low, high, OVER)
    section = section_grid(chord, face, DIVISION.across)
    places = np.empty((len(x.at), len(section.points), 3))
    places[..., 0], places[..., 1:] = x.at[:, None], section.points
    ground = RailGrid(x, GridLines(face, (), ()), section, build.add_nodes(places))
    build.add(swept(ground.nodes, section.segments), np.tile(section.walls, len(x.at) - 1), chord)
    foot = foot_of(branch, x, GridLines(height, *_corners(branch, height)))
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


def _weld(build: Build, foot: BranchFoot, rows: IntArray, ground: RailGrid) -> None:
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
    cut, length, level = laid_cutout(chord, branch), extent_of(chord, branch, BranchMake.LAID).branch, level_of(chord, branch)
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
    return found * extent_of(chord, branch, BranchMake.LAID).branch


FIRM = 0.02  # a joint is at least so flexible, as a share of the beams in its cut-out
SAME_PLANE = 0.5  # rail walls; from there inwards to one plane the joint is taken between the two meshes
FADES = 0.8  # share of the reach beyond which a rail's end is taken between what it is and a rail that runs on
LONG = 0.8992159230248872
"""a / D of the box whose line has a circle's length and second moment: the root of a^3/3 - pi a^2/4 + pi/8 = 0 between 0 and 1."""


def flexibility_of_cutout(chord: Chord, branch: Branch, make: BranchMake) -> Array:
    """Return a joint's own flexibility (6, 6) at the middle of the rail's face: the cut-out's less the beams'."""
    rest = tip_flexibility(cutout(chord, branch, make)) - branch_flexibility(chord, branch, make)
    to_tip = transport(0.0, -branch_length(chord, branch, make), 0.0)
    at_face: Array = to_tip.T @ rest @ to_tip - rail_flexibility(chord, branch)
    return at_face


def fitted(chord: Chord, branch: Branch) -> Iterator[tuple[float, Branch]]:
    """Yield the branches, with their shares, that stand for one whose edge all but reaches an edge of the rail's face.

    The strip between is then too narrow to be meshed: the joint is taken straight between that of walls in one plane and that of the
    narrowest strip, so that no size makes it jump. A branch that reaches further counts as reaching the edge.
    """
    low, high = chord.face
    start, end = branch.outline.span(1)
    least = SAME_PLANE * chord.wall
    gaps = start - low, high - end
    shares = [min(max(gap / least, 0.0), 1.0) for gap in gaps]
    inner = [min(max(gap, least), max(high - low, 0.0)) for gap in gaps]
    most, least_share = max(shares), min(shares)
    wide = shares.index(most)
    one = (inner[0] if wide == 0 else 0.0, inner[1] if wide == 1 else 0.0)
    for share, (below, above) in ((1 - most, (0.0, 0.0)), (most - least_share, one), (least_share, (inner[0], inner[1]))):
        if share > 0.0:
            yield share, _spanning(branch, low + below, high - above)


def on_lines(branch: Branch) -> Iterator[tuple[float, Branch]]:
    """Yield the branches, with their shares, whose gussets stand at heights of grid lines: straight between the lines beside each."""
    lines = lines_under(branch)
    found: list[tuple[float, tuple[Gussets, ...]]] = [(1.0, ())]
    for each in branch.gussets:
        above = int(np.clip(np.searchsorted(lines, each.z), 1, len(lines) - 1)) if len(lines) > 1 else 0
        low, high = float(lines[max(above - 1, 0)]), float(lines[above])
        part = min(max((each.z - low) / (high - low), 0.0), 1.0) if high > low else 1.0
        part = round(part) if abs(part - round(part)) < SAME else part
        ways = ((1 - part, replace(each, z=low)), (part, replace(each, z=high)))
        found = [(share * way, (*legs, leg)) for share, legs in found for way, leg in ways if way > 0.0]
    yield from ((share, replace(branch, gussets=legs)) for share, legs in found)


def _spanning(branch: Branch, low: float, high: float) -> Branch:
    """Return a branch stretched to reach from low to high across the face, gussets with it; as it is where it has no depth there."""
    start, end = branch.outline.span(1)
    if end - start < SAME:
        return branch
    share = (high - low) / (end - start)

    def place(z: float) -> float:
        return low if z == start else high if z == end else low + share * (z - start)

    outline = replace(branch.outline, corners=tuple((x, place(z)) for x, z in branch.outline.corners))
    return replace(branch, outline=outline, gussets=tuple(replace(each, z=place(each.z)) for each in branch.gussets))


def settled(chord: Chord) -> Iterator[tuple[float, Chord]]:
    """Yield the rails, with their shares, that stand for one with open or closed ends: at least one end is held.

    An end as far off as tells no more is as a rail that runs on, and nearer it comes in gradually. Of two that both tell, the
    farther one is held the more, by the fourth power of how far it is off.
    """
    reach = full_reach(chord)
    one, other = (_running_share(end, reach) for end in chord.ends)
    first, second = chord.ends
    held = tuple(end if end.finish is RailFinish.HELD else RUNNING_ON for end in chord.ends)
    parts = (
        (one * other, (held[0], held[1])),
        (one * (1 - other), (held[0], second)),
        ((1 - one) * other, (first, held[1])),
        *_one_held((1 - one) * (1 - other), first, second),
    )
    yield from ((share, replace(chord, ends=ends)) for share, ends in parts if share > 0.0)


def _running_share(end: RailEnd, reach: float) -> float:
    """Return how much an end is as that of a rail that runs on: 1 where it is held."""
    return 1.0 if end.finish is RailFinish.HELD else min(max((end.away / reach - FADES) / (1 - FADES), 0.0), 1.0)


def _one_held(share: float, first: RailEnd, second: RailEnd) -> Iterator[tuple[float, tuple[RailEnd, RailEnd]]]:
    """Yield two loose ends with one of them held, in shares of `share`."""
    if share > 0.0:
        near, far = first.away**4, second.away**4
        yield share * near / (near + far), (replace(first, finish=RailFinish.HELD), second)
        yield share * far / (near + far), (first, replace(second, finish=RailFinish.HELD))


def local_flexibility(chord: Chord, branch: Branch, make: BranchMake) -> Array:
    """Return the joint's own flexibility (6, 6) at the middle of the rail's face.

    Rows and columns: displacements along x (rail), y (branch), z (up), then turns about them; SI.
    """
    if make is BranchMake.LAID:
        over: Array = np.sum([share * laid_flexibility(rail, branch) for share, rail in settled(chord)], axis=0)
        return over
    parts = [
        share * part * level * flexibility_of_cutout(rail, leveled, make)
        for share, rail in settled(chord)
        for part, foot in fitted(rail, branch)
        for level, leveled in on_lines(foot)
    ]
    found: Array = np.sum(parts, axis=0)
    return found


def least_flexibility(chord: Chord, branch: Branch, make: BranchMake) -> Array:
    """Return the least flexibility (6,) that a joint is taken to have: FIRM of that of the beams in the cut-out, way by way.

    Less is lost in what shell and beams differ by: it would be steep in every size, and jump between very stiff and rigid.
    """
    rail = np.sum([share * np.diag(rail_flexibility(each, branch)) for share, each in settled(chord)], axis=0)
    own = laid_least(chord, branch) if make is BranchMake.LAID else branch_compliance(chord, branch, make)
    least: Array = FIRM * (own + rail)
    return least


@cache
def joint_stiffness(chord: Chord, branch: Branch, make: BranchMake) -> JointStiffness:
    """Return the springs of a crossmember's end on a rail, from a small shell model of it (docs/theory/joints.md).

    They sit at the middle of the rail's face: rail axis, rigid arm to the face, springs, branch beam. Through an open section
    is as butt on its wall: there is no second face. An open branch gets no twist or shear spring: its twist and
    warping are the frame's own. A round tube is as the boxes of `boxes_for`: each bending from its own, the rest from the softer.
    """
    if branch.round:
        about_rail, upright = (joint_stiffness(chord, each, make) for each in boxes_for(branch))
        twist, pull, lift, along = map(min, _rest(about_rail), _rest(upright))
        turns = about_rail.bending_vertical, upright.bending_sideways
        return JointStiffness(*turns, twist, pull, lift, along, about_rail.centre)
    own, least, centre = local_flexibility(chord, branch, make), least_flexibility(chord, branch, make), 0.0
    if make is not BranchMake.LAID:
        own = carried_up(own, middle_across(branch))
        centre = centre_of_turn(own, least, chord, branch)
        own = carried_up(own, centre)
    found = np.maximum(np.diag(own), least)
    along, pull, lift, roll, twist, yaw = (1 / found[[0, 2, 1, 3, 5, 4]] if make is BranchMake.LAID else 1 / found).tolist()
    if not branch.outline.closed:
        along = lift = twist = inf
    return JointStiffness(roll, yaw, twist, pull, lift, along, centre)


def centre_of_turn(own: Array, least: Array, chord: Chord, branch: Branch) -> float:
    """Return the height over the branch's middle about which a moment about the rail's axis turns it, m, within the face.

    There a pull does not turn it, so that two springs tell both. Off the middle of the face that is near its wall beside a corner of
    the rail, which hardly gives: springs at its middle would hold the turn by that wall.
    """
    middle = middle_across(branch)
    low, high = (edge - middle for edge in chord.face)
    return float(np.clip(own[1, 3] / max(own[3, 3], least[3]), low, high))


def middle_across(branch: Branch) -> float:
    """Return how far off the middle of the rail's face a branch stands, m."""
    low, high = branch.outline.span(1)
    return (low + high) / 2 if abs(low + high) > SAME else 0.0


def _rest(found: JointStiffness) -> tuple[float, float, float, float]:
    """Return twist and the three straight springs."""
    return found.twist, found.axial, found.shear_vertical, found.shear_sideways


def boxes_for(branch: Branch) -> tuple[Branch, Branch]:
    """Return the boxes that stand for a round tube bent about the rail and about the upright: long across the axis bent about.

    Both have the weld's length and its second moment about that axis: middle lines a x b with 2 (a + b) = pi D and
    a^3/6 + a^2 b/2 = pi D^3/8 (per thickness, the whole line), so a = LONG D.
    """
    long, short, wall = LONG * branch.round, (pi / 2 - LONG) * branch.round, branch.outline.strips[0].wall
    boxes = (tube_outline(across, up, wall, -across / 2) for across, up in ((short, long), (long, short)))
    upright, flat = (turned(each, (1, 0), (0, 1), (0.0, middle_across(branch))) for each in boxes)
    return replace(branch, round=0.0, outline=upright), replace(branch, round=0.0, outline=flat)
