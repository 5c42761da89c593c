"""The joint's springs: the shell model's flexibility less what beams and a rigid arm already hold."""

from __future__ import annotations

from functools import cache
from math import inf

import numpy as np

from framecheck.frame.joint.beams import branch_flexibility, moved, rail_flexibility
from framecheck.frame.joint.data import Branch, Chord, JointStiffness, Make
from framecheck.frame.joint.mesh import branch_outline, chord_outline, mesh
from framecheck.frame.joint.shell import Motion, system, tip_stiffness
from framecheck.model.arrays import Array

# The ways the tip can move (freedoms: 0-2 along, 3-5 about x, y, z), apart from each other by the mirrors.
TUBE_MOTIONS = (Motion(1, -1, (2, 3)), Motion(-1, 1, (0, 5)), Motion(-1, -1, (4,)), Motion(1, 1, (1,)))
CHANNEL_MOTIONS = (Motion(0, -1, (2, 3, 4)), Motion(0, 1, (0, 1, 5)))


def tip_flexibility(chord: Chord, branch: Branch, make: Make) -> Array:
    """Return the whole cut-out's flexibility (6, 6) at the branch's tip, SI, about the axes of the mesh."""
    motions, copies = (TUBE_MOTIONS, 4) if branch.closed else (CHANNEL_MOTIONS, 2)
    model, flexibility = system(mesh(chord, branch, make)), np.zeros((6, 6))
    for motion in motions:
        flexibility[np.ix_(motion.freedoms, motion.freedoms)] = np.linalg.inv(copies * tip_stiffness(model, motion))
    return flexibility


def local_flexibility(chord: Chord, branch: Branch, make: Make) -> Array:
    """Return the joint's own flexibility (6, 6) at the middle of the rail's face: the cut-out's less the beams'.

    Rows and columns: displacements along x (rail), y (branch), z (up), then turns about them; SI.
    """
    rail, stub = chord_outline(chord, branch), branch_outline(chord, branch)
    rest = tip_flexibility(chord, branch, make) - branch_flexibility(branch, stub)
    to_tip = moved(0.0, -stub.length)
    at_face: Array = to_tip.T @ rest @ to_tip - rail_flexibility(chord, rail)
    return at_face


def _spring(flexibility: float) -> float:
    """Return the stiffness; inf where the joint is no softer than beams on a rigid arm."""
    return 1 / flexibility if flexibility > 0.0 else inf


@cache
def joint_stiffness(chord: Chord, branch: Branch, make: Make) -> JointStiffness:
    """Return the springs of a crossmember's end on a rail, from a small shell model of it (docs/theory/joints.md).

    They sit at the middle of the rail's face: rail axis, rigid arm to the face, springs, branch beam. Through a channel
    is as butt on its web: there is no second face. A channel branch gets no twist or shear spring: its twist and
    warping are the frame's own.
    """
    along, pull, lift, roll, twist, yaw = map(float, np.diag(local_flexibility(chord, branch, make)))
    if not branch.closed:
        along = lift = twist = 0.0
    return JointStiffness(_spring(roll), _spring(yaw), _spring(twist), _spring(pull), _spring(lift), _spring(along))
