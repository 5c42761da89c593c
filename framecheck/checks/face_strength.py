"""What the wall under a member's end bears: yield lines, punching, the walls beside it, and the branch's own uneven load. SI."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import numpy as np

from framecheck.checks.feet import BranchEnd, EndOnWall, MetWall, WallKind
from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.formulas import wall_bending
from framecheck.model.arrays import Array
from framecheck.value_class import value_class

FACES = (WallKind.BOX, WallKind.CHANNEL, WallKind.ROUND)
"""Rails whose walls the rules speak of."""
INSCRIBED = sqrt(0.5)
"""Side of the square in a circle of diameter 1: a stiff patch within another one never bears more than it (limit theorems)."""
ROUND_ON_FLAT = pi / 4
"""EN 1993-1-8:2005, 7.5.2.1, note to table 7.11 (seen): a round branch bears pi / 4 of a box of its diameter."""


@value_class
class Bears:
    """What is borne of each load by itself, N and Nm: force away from the wall, force against it, both moments."""

    pull: float
    push: float
    in_plane: float
    about_rail: float


def least(first: Bears, second: Bears) -> Bears:
    """Return the lesser of two in each way."""
    return Bears(
        min(first.pull, second.pull), min(first.push, second.push),
        min(first.in_plane, second.in_plane), min(first.about_rail, second.about_rail),
    )  # fmt: skip


def between(first: Bears, second: Bears, share: float) -> Bears:
    """Return what lies a share of the way from the first to the second, straight."""
    return Bears(
        first.pull + share * (second.pull - first.pull),
        first.push + share * (second.push - first.push),
        first.in_plane + share * (second.in_plane - first.in_plane),
        first.about_rail + share * (second.about_rail - first.about_rail),
    )


def times(bears: Bears, force: float, moment: float) -> Bears:
    """Return strengths times factors on forces and on moments."""
    return Bears(bears.pull * force, bears.push * force, bears.in_plane * moment, bears.about_rail * moment)


def face(foot: EndOnWall) -> Bears:
    """Return what folds the wall, what compression in the rail takes not counted.

    A channel that lies with its open side across the rail counts no more than its web, as a plate along the rail: limit theorems.
    """
    found = under_patch(foot.wall, foot.branch)
    if lies_open(foot):
        found = least(found, under_patch(foot.wall, replace(foot.branch, kind=WallKind.PLATE, b1=foot.branch.t1)))
    left = end_share(foot.wall, foot.branch)
    return times(found, left, left)


def lies_open(foot: EndOnWall) -> bool:
    """Return whether a branch is open along the rail: a channel with its web to one side; upright it is open at one end."""
    return foot.branch.kind is WallKind.CHANNEL and not foot.upright


def under_patch(wall: MetWall, branch: BranchEnd) -> Bears:
    """Return what folds the wall under a branch, far from the rail's ends."""
    if wall.kind is WallKind.ROUND:
        return on_round(wall, branch)
    if branch.kind is WallKind.ROUND:
        force = times(on_flat(wall, branch.b1, branch.b1, WallKind.BOX), ROUND_ON_FLAT, 1.0)
        inside = on_flat(wall, INSCRIBED * branch.b1, INSCRIBED * branch.b1, WallKind.BOX)
        return Bears(force.pull, force.push, inside.in_plane, inside.about_rail)
    return on_flat(wall, branch.b1, branch.h1, branch.kind)


def end_share(wall: MetWall, branch: BranchEnd) -> float:
    """Return what an open end of the rail leaves: half where it is nearer than b0 sqrt(1 - beta), all from 1.2 times that on.

    ANSI/AISC 360-22, K1.4, seen; for a round rail D (1.25 - beta / 2). From there to 1.2 times as far it is taken straight.
    """
    beta = min(branch.b1 / wall.b0, 1.0)
    reach = wall.b0 * ((1.25 - beta / 2) if wall.kind is WallKind.ROUND else sqrt(max(1 - min(beta, en.WIDEST), 0.0)))
    return float(np.clip(0.5 + 0.5 * (wall.left / reach - 1.0) / 0.2, 0.5, 1.0))


def on_flat(wall: MetWall, b1: float, h1: float, kind: WallKind) -> Bears:
    """Return what folds a flat wall under a patch b1 x h1; wider than 0.85 of it: straight to the walls beside it at full width."""
    beta = min(b1 / wall.b0, 1.0)
    narrow, eta, fy = min(beta, en.WIDEST), h1 / wall.b0, en.strength_that_counts(wall.metal.yield_strength)
    fold = fy * wall.t0**2
    if wall.kind is WallKind.CHANNEL:
        return hinged(wall, fold, (narrow, eta, h1), kind)
    if kind is WallKind.CHANNEL:
        force = wall_bending.one_ended_axial(fold, narrow, eta)
        turn = 0.5 * en.face_in_plane(fold, narrow, eta, h1)
        lines = Bears(force, force, turn, wall_bending.one_ended_out_of_plane(fold, narrow, wall.b0, h1))
    else:
        force = en.face_axial(fold, narrow, eta)
        turn = en.face_in_plane(fold, narrow, eta, h1)
        lines = Bears(force, force, turn, en.face_out_of_plane(fold, narrow, wall.b0, h1))
    share = (beta - narrow) / (1 - en.WIDEST)
    found = between(lines, beside(wall, h1), share)
    whole = en.distortion(fy, wall.t0, (wall.b0, wall.h0), h1)
    return least(found, Bears(found.pull, found.push, found.in_plane, whole))


def hinged(wall: MetWall, fold: float, sizes: tuple[float, float, float], kind: WallKind) -> Bears:
    """Return what folds a channel's web, whose flanges turn with it; sizes: (beta, eta, h1). An open branch: half."""
    beta, eta, h1 = sizes
    force = wall_bending.hinged_axial(fold, beta, eta)
    found = Bears(
        force, force,
        wall_bending.hinged_in_plane(fold, beta, eta, h1),
        wall_bending.hinged_out_of_plane(fold, beta, wall.b0, h1),
    )  # fmt: skip
    return times(found, 0.5, 0.5) if kind is WallKind.CHANNEL else found


def beside(wall: MetWall, h1: float) -> Bears:
    """Return what yields or buckles the walls beside a branch as wide as the rail."""
    fy = en.strength_that_counts(wall.metal.yield_strength)
    buckling = en.buckling_stress_of_sides(fy, wall.metal.young, wall.h0 / wall.t0)
    return Bears(
        en.sides_axial(fy, wall.t0, h1), en.sides_axial(buckling, wall.t0, h1),
        en.sides_in_plane(fy, wall.t0, h1), en.sides_out_of_plane(fy, wall.t0, wall.b0, h1),
    )  # fmt: skip


def on_round(wall: MetWall, branch: BranchEnd) -> Bears:
    """Return what folds the wall of a round rail. EN 1993-1-8:2005, tables 7.2 to 7.5, from memory; a box as table 7.4 has it."""
    beta, gamma = min(branch.b1 / wall.b0, 1.0), wall.b0 / (2 * wall.t0)
    fold = en.strength_that_counts(wall.metal.yield_strength) * wall.t0**2
    if branch.kind is WallKind.ROUND:
        force = en.on_round_axial(fold, beta, gamma)
        turns = en.on_round_in_plane(fold, beta, gamma, branch.b1), en.on_round_out_of_plane(fold, beta, branch.b1)
        return Bears(force, force, *turns)
    force = en.box_on_round(fold, beta, branch.h1 / wall.b0)
    found = Bears(force, force, force * branch.h1, force * branch.b1 / 2)
    return times(found, 0.5, 0.5) if branch.kind is WallKind.CHANNEL else found


def compressed(foot: EndOnWall, n: Array) -> Array:
    """Return the share of the yield lines that compression in the rail leaves, of n: stress over yield strength, any shape."""
    if foot.wall.kind is WallKind.ROUND:
        return en.compressed_round(n)
    return en.compressed_wall(n, min(foot.branch.b1 / foot.wall.b0, en.WIDEST))


def punched(foot: EndOnWall) -> Bears:
    """Return what punches the wall: shear yield along what counts of the branch's outline, plastic, round as its share of a box.

    In the last two wall thicknesses before the rail's corner the branch's sides come to stand on the walls beside it: there their
    strength goes straight from shear to pull.
    """
    wall, branch = foot.wall, foot.branch
    fy = en.strength_that_counts(wall.metal.yield_strength)
    b1, h1 = min(branch.b1, wall.b0), branch.h1
    near = float(np.clip((b1 - wall.b0 + 2 * wall.t0) / (2 * wall.t0), 0.0, 1.0))
    sides, ends = fy * wall.t0 * (near + (1 - near) / sqrt(3)), fy * wall.t0 / sqrt(3)
    counts = b1 if wall.kind is WallKind.ROUND else en.punching_width(wall.b0, wall.t0, b1)
    along = 1 if lies_open(foot) else 2
    across = 1 if branch.kind is WallKind.CHANNEL and foot.upright else 2
    force = along * sides * h1 + across * ends * counts
    turn = along * sides * h1**2 / 4 + (across - 1) * ends * counts * h1
    over = (along - 1) * sides * h1 * b1 + across * ends * (b1**2 - (b1 - counts) ** 2) / 4
    if branch.kind is WallKind.ROUND:
        force, turn, over = ROUND_ON_FLAT * force, turn / 1.5, over / 1.5
    return Bears(force, force, turn, over)


def branch_yields(foot: EndOnWall) -> Bears:
    """Return what yields the branch itself, where a soft wall leaves its sides across the rail part of their load."""
    wall, branch = foot.wall, foot.branch
    fy1 = en.strength_that_counts(branch.metal.yield_strength)
    strengths = en.strength_that_counts(wall.metal.yield_strength), fy1
    b1, h1 = branch.b1, branch.h1
    t1 = h1 if branch.kind is WallKind.PLATE else min(branch.t1, b1 / 2, h1 / 2)
    beff = b1 if wall.kind is WallKind.ROUND else en.effective_width(wall.b0, (wall.t0, t1), strengths, b1)
    if branch.kind is WallKind.PLATE:
        force = fy1 * h1 * beff
        over = fy1 * h1 * (b1**2 - (b1 - beff) ** 2) / 4
        return Bears(force, force, fy1 * h1**2 * beff / 4, over)
    force = en.branch_axial(fy1, t1, h1, beff)
    turns = en.branch_in_plane(fy1, t1, (b1, h1), beff), en.branch_out_of_plane(fy1, t1, (b1, h1), beff)
    found = Bears(force, force, *turns)
    if branch.kind is WallKind.ROUND:
        return times(found, ROUND_ON_FLAT, (b1**3 - (b1 - 2 * t1) ** 3) / 6 / en.plastic_modulus(b1, b1, t1))
    return times(found, 0.5, 0.5) if branch.kind is WallKind.CHANNEL else found


def used(bears: Bears, pull: Array, in_plane: Array, about_rail: Array) -> Array:
    """Return the share of strengths that loads use together, added up: EN 1993-1-8, 7.5.2.1, from memory; AISC 360-22, (K4-9)."""
    force = np.where(pull >= 0.0, pull / bears.pull, -pull / bears.push)
    total: Array = force + np.abs(in_plane) / bears.in_plane + np.abs(about_rail) / bears.about_rail
    return total
