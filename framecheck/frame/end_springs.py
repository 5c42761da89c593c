"""The springs of a member's end on a rail, along and about the joint's axes: along the rail, out of its face, square to both. SI."""

from __future__ import annotations

import numpy as np

from framecheck.frame.joint.data import Branch, BranchMake, Chord, JointStiffness
from framecheck.frame.number_cache import NumberStore, joint_springs
from framecheck.model.arrays import Array


def softest_springs(chord: Chord, branch: Branch, models: tuple[BranchMake, ...], store: NumberStore | None) -> Array:
    """Return the springs (6,) along and about a seat's axes, each the softest of some makes."""
    springs = [_along_and_about(joint_springs(chord, branch, model, store)) for model in models]
    softest: Array = np.min(springs, axis=0)
    return softest


def _along_and_about(found: JointStiffness) -> tuple[float, ...]:
    """Return the springs along and about the seat's axes: along the rail, out of its face, square to both."""
    moves = found.shear_sideways, found.axial, found.shear_vertical
    return *moves, found.bending_vertical, found.twist, found.bending_sideways


def alike_across(one: Array, other: Array) -> Array:
    """Return springs (6,) no stiffer than those of two faces at a rail's corner, alike in every direction across the rail."""
    least = np.minimum(one, other).reshape(2, 3)
    return np.concatenate([(ways[0], ways[1:].min(), ways[1:].min()) for ways in least])
