"""The joint's springs: the shell model's flexibility less what beams and a rigid arm already hold."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import inf, pi

import numpy as np

from framecheck.frame.joint.beams import branch_flexibility, channel, moved, rail_flexibility, tube
from framecheck.frame.joint.data import Branch, Chord, JointStiffness, Make
from framecheck.frame.joint.mesh import SAME_PLANE, branch_outline, chord_outline, gap_of, mesh
from framecheck.frame.joint.shell import Motion, system, tip_stiffness
from framecheck.model.arrays import Array

FIRM = 0.02  # a joint is at least so flexible, as a share of the beams in its cut-out
LONG = 0.8992159230248872
"""a / D of the box whose line has a circle's length and second moment: the root of a^3/3 - pi a^2/4 + pi/8 = 0 between 0 and 1."""
# The ways the tip can move (freedoms: 0-2 along, 3-5 about x, y, z), apart from each other by the mirrors.
TUBE_MOTIONS = (Motion(1, -1, (2, 3)), Motion(-1, 1, (0, 5)), Motion(-1, -1, (4,)), Motion(1, 1, (1,)))
CHANNEL_MOTIONS = (Motion(0, -1, (2, 3, 4)), Motion(0, 1, (0, 1, 5)))


def tip_flexibility(chord: Chord, branch: Branch, make: Make, gap: float) -> Array:
    """Return the whole cut-out's flexibility (6, 6) at the branch's tip, SI, about the axes of the mesh."""
    motions, copies = (TUBE_MOTIONS, 4) if branch.closed else (CHANNEL_MOTIONS, 2)
    model, flexibility = system(mesh(chord, branch, make, gap)), np.zeros((6, 6))
    for motion in motions:
        flexibility[np.ix_(motion.freedoms, motion.freedoms)] = np.linalg.inv(copies * tip_stiffness(model, motion))
    return flexibility


def flexibility_with_gap(chord: Chord, branch: Branch, make: Make, gap: float) -> Array:
    """Return the joint's own flexibility (6, 6) with the branch's walls a gap within the rail's, m: the cut-out's less the beams'."""
    rail, stub = chord_outline(chord, branch), branch_outline(chord, branch, gap)
    rest = tip_flexibility(chord, branch, make, gap) - branch_flexibility(branch, stub)
    to_tip = moved(0.0, -stub.length)
    at_face: Array = to_tip.T @ rest @ to_tip - rail_flexibility(chord, rail)
    return at_face


def local_flexibility(chord: Chord, branch: Branch, make: Make) -> Array:
    """Return the joint's own flexibility (6, 6) at the middle of the rail's face.

    Rows and columns: displacements along x (rail), y (branch), z (up), then turns about them; SI. Where the branch's wall
    all but lies in the plane of the rail's, the strip between them is too narrow to be meshed: there the joint is taken
    straight between that of walls in one plane and that of the narrowest strip, so that no size makes it jump.
    """
    gap, least = gap_of(chord, branch), SAME_PLANE * chord.wall
    if gap >= least:
        return flexibility_with_gap(chord, branch, make, gap)
    in_one_plane = flexibility_with_gap(chord, branch, make, 0.0)
    if gap <= 0.0:
        return in_one_plane
    between: Array = in_one_plane + gap / least * (flexibility_with_gap(chord, branch, make, least) - in_one_plane)
    return between


def least_flexibility(chord: Chord, branch: Branch) -> Array:
    """Return the least flexibility (6,) that a joint is taken to have: FIRM of that of the beams in the cut-out, way by way.

    Less is lost in what shell and beams differ by, and would jump between very stiff and rigid.
    """
    stub = branch_outline(chord, branch, max(gap_of(chord, branch), 0.0))
    section = (tube if branch.closed else channel)(stub.depth, stub.width, stub.wall)
    e, g = branch.e, branch.e / (2 * (1 + branch.nu))
    moves = g * section.shear_across, e * section.area, g * section.shear_up
    of_branch = stub.length / np.array([*moves, e * section.i_up, g * section.j, e * section.i_across])
    least: Array = FIRM * (of_branch + np.diag(rail_flexibility(chord, chord_outline(chord, branch))))
    return least


@cache
def joint_stiffness(chord: Chord, branch: Branch, make: Make) -> JointStiffness:
    """Return the springs of a crossmember's end on a rail, from a small shell model of it (docs/theory/joints.md).

    They sit at the middle of the rail's face: rail axis, rigid arm to the face, springs, branch beam. Through a channel
    is as butt on its web: there is no second face. A channel branch gets no twist or shear spring: its twist and
    warping are the frame's own. A round tube is as the boxes of `boxes_for`: each bending from its own, the rest from the softer.
    """
    if branch.round:
        about_rail, upright = (joint_stiffness(chord, each, make) for each in boxes_for(branch))
        turns = about_rail.bending_vertical, upright.bending_sideways
        return JointStiffness(*turns, *map(min, _rest(about_rail), _rest(upright)))
    found = np.maximum(np.diag(local_flexibility(chord, branch, make)), least_flexibility(chord, branch))
    along, pull, lift, roll, twist, yaw = (1 / found).tolist()
    if not branch.closed:
        along = lift = twist = inf
    return JointStiffness(roll, yaw, twist, pull, lift, along)


def _rest(found: JointStiffness) -> tuple[float, float, float, float]:
    """Return twist and the three straight springs."""
    return found.twist, found.axial, found.shear_vertical, found.shear_sideways


def boxes_for(branch: Branch) -> tuple[Branch, Branch]:
    """Return the boxes that stand for a round tube bent about the rail and about the upright: long across the axis bent about.

    Both have the weld's length and its second moment about that axis: middle lines a x b with 2 (a + b) = pi D and
    a^3/6 + a^2 b/2 = pi D^3/8 (per thickness, the whole line), so a = LONG D.
    """
    middle = branch.depth - branch.wall
    long, short = LONG * middle + branch.wall, (pi / 2 - LONG) * middle + branch.wall
    of_box = replace(branch, round=False)
    return replace(of_box, depth=long, width=short), replace(of_box, depth=short, width=long)
