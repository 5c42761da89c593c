"""The springs of a member's end on a rail, along and about the joint's axes: along the rail, out of its face, square to both. SI."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.frame.branch_turns import BranchTurn
from framecheck.frame.joint.data import Branch, BranchMake, Chord, JointStiffness
from framecheck.frame.joint_faces import JointFace
from framecheck.frame.number_cache import NumberStore, joint_springs
from framecheck.frame.results import Joints
from framecheck.frame.stand_in import MODEL_ERROR, ON_PLATE
from framecheck.model.arrays import Array
from framecheck.model.frame import Make

MODELS = {
    Make.ON_TOP: BranchMake.LAID,
    Make.UNDERNEATH: BranchMake.LAID,
    Make.THROUGH: BranchMake.THROUGH,
    Make.THROUGH_ONE: BranchMake.THROUGH_ONE,
    Make.WEB_AND_FLANGES: BranchMake.FLANGES,
}


UNSAID = (BranchMake.BUTT, BranchMake.THROUGH_ONE)
"""The softest that an end of no said make may be: way by way the softer of both. Through one face it gives more where the wall that
is cut holds it alone."""


def has_unsized(make: Make, turn: BranchTurn) -> bool:
    """Return whether an end has gussets that no model covers in a quarter turn: of no given size, or on no wall of it."""
    return turn.bare or (make is Make.GUSSETED and not turn.branch.gussets)


def models_of(make: Make, where: JointFace, turn: BranchTurn, joints: Joints | None) -> tuple[BranchMake, ...]:
    """Return the makes whose softest springs an end is given; none: rigid.

    Unsaid it is the softest of what it may be, to rigid; with gussets of no given size, butt-welded to rigid (_over_turns); where no
    model covers it, that of its stand-in to rigid.
    """
    if make is Make.RIGID or (make is Make.UNSAID and joints in (None, Joints.STIFF)):
        return ()
    if where.unmodelled is not None:
        return () if joints is Joints.STIFF else (BranchMake.BUTT,)
    if make is Make.UNSAID:
        return UNSAID if joints is Joints.SOFT else (BranchMake.BUTT,)
    if joints is Joints.STIFF and has_unsized(make, turn):
        return (BranchMake.THROUGH,)
    if make is Make.WEB_AND_FLANGES and not where.between_flanges:
        return (BranchMake.BUTT,)
    return (MODELS.get(make, BranchMake.BUTT),)


def seat_springs(where: JointFace, make: Make, joints: Joints | None, store: NumberStore | None) -> Array:
    """Return the springs (6,) of a seat: at a rail's corner those of both faces, of one that leans, or reaches over the wall's edge,
    between modelled and open.
    """
    springs = _over_turns(where, make, joints, store)
    if where.beside is not None:
        alike = alike_across(springs, _over_turns(where.beside, make, joints, store))
        springs = springs ** (1.0 - where.corner) * alike**where.corner
    springs = softest_share(where, make, joints) * springs
    if joints is Joints.STIFF:
        return springs / max((1.0 - where.away) * (1.0 - where.over), LEAST_GIVE)
    if joints is Joints.SOFT:
        springs = springs * MODEL_ERROR**where.over
    if where.askew is None:
        return springs
    return springs ** (1.0 - where.away) * seat_springs(where.askew, make, joints, store) ** where.away


def seat_centre(where: JointFace, make: Make, store: NumberStore | None) -> Array:
    """Return where a seat turns about the rail's axis, (3,) from the member's end, m: of all makes that it may have the mean by what
    they give, at both ends of its range alike; of one that no model covers, and the more the nearer to it, at the end itself."""
    if where.unmodelled is not None:
        return np.zeros(3)
    chord, height = replace(where.chord, ends=where.ends.soft), 0.0
    for turn in where.turns:
        found = [joint_springs(chord, turn.branch, each, store) for each in models_of(make, where, turn, Joints.SOFT)]
        gives = [1.0 / each.bending_vertical for each in found]
        height += turn.share * sum(give * each.centre for give, each in zip(gives, found, strict=True)) / sum(gives)
    whole = sum(each.share for each in where.turns)
    away: Array = -height / whole * (1.0 - where.away) * where.axes[2]  # the joint's own z runs against the third axis
    return away


def softest_share(where: JointFace, make: Make, joints: Joints | None) -> float:
    """Return how much of its model's springs a seat has: at its softest an end of no said make may have a plate between, or be bolted
    on one, and be as soft as one that says so."""
    unsaid = make is Make.UNSAID and joints is Joints.SOFT
    return min(where.share, ON_PLATE) if unsaid else where.share


LEAST_GIVE = 1e-4
"""Of a joint's own: what gives less is rigid for all that any row can tell."""


def _over_turns(where: JointFace, make: Make, joints: Joints | None, store: NumberStore | None) -> Array:
    """Return the springs (6,) along and about a seat's axes, of each quarter turn as far as it counts."""
    chord = replace(where.chord, ends=where.ends.stiff if joints is Joints.STIFF else where.ends.soft)
    whole = sum(each.share for each in where.turns)
    springs = np.ones(6)
    for turn in where.turns:
        found = softest_springs(chord, turn.branch, models_of(make, where, turn, joints), store)
        rigid = joints is Joints.STIFF and where.unmodelled is None and has_unsized(make, turn)
        springs *= (found / LEAST_GIVE if rigid else found) ** (turn.share / whole)
    return springs


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
