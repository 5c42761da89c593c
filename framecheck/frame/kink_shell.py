"""What one leg of a kink gives and feels, from a shell model of it less one of the same leg straight (docs/theory/kinks.md). SI.

The plane between both legs is a mirror: bending in and out of the kink's plane and pull are even about it, torsion is odd.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import cos, pi, sin

import numpy as np

from framecheck.frame.joint.data import DISTANCES, WALLS, CornerGive, KinkLeg, Row
from framecheck.frame.joint.outlines import SAME
from framecheck.frame.joint.shell import HOLD, System, assembled, held_by_mirror, resisted
from framecheck.frame.joint.shell_elements import stiffness, stresses
from framecheck.frame.kink_mesh import LegMesh, axes, leg_of, size, straight_leg_of
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.value_class import array_class

EVEN, ODD = (0, 4, 5), (1, 2, 3)
"""The plate's freedoms that load the leg evenly and oddly about the mirror; the others only move it as a whole."""


@array_class
class Felt:
    """How the plate moves, and the stress at the middles of the leg's elements.

    even (3, 3): under force along x, moments about y, z; odd (3, 3): under forces along y, z, moment about x, all about the
    origin. pulled, bent (rows, around, 3, 4): stress through the wall, and at its surface besides, under unit moments about z
    (in plane), y (out of plane), x (torsion), and under unit pull along the leg.
    """

    even: Array
    odd: Array
    pulled: Array
    bent: Array


def _system(leg: LegMesh) -> tuple[System, IntArray]:
    """Return the assembled leg and each node's number in it."""
    elements = np.concatenate([stiffness(each) for each in leg.plates]) * leg.share[:, None, None]
    model = assembled(leg.places, leg.corners, elements, folded(leg) if len(leg.plates) == 1 else None)
    return model, model.number


def folded(leg: LegMesh) -> IntArray:
    """Return a number for each node: ring by ring, within a ring from one side to the other, so that neighbours are never far."""
    around = leg.ring.shape[1]
    half = np.arange(around) < around // 2
    rank = np.where(half, 2 * np.arange(around), 2 * (around - np.arange(around)) - 1)
    number: IntArray = (around * np.arange(len(leg.ring))[:, None] + rank).ravel()
    return number


def _plate_modes(nodes: Array, plate: IntArray) -> Array:
    """Return the freedoms (6 n, 6) that move with the rigid plate's six about the origin."""
    x, y, z = nodes[plate].T
    moves = np.tile(np.eye(6), (len(plate), 1, 1))
    moves[:, 0, 4], moves[:, 0, 5], moves[:, 1, 3] = z, -y, -z
    moves[:, 1, 5], moves[:, 2, 3], moves[:, 2, 4] = x, y, -x
    modes = np.zeros((len(nodes), 6, 6))
    modes[plate] = moves
    return modes.reshape(-1, 6)


def _held(nodes: Array, plate: IntArray, even: int) -> BoolArray:
    """Return which freedoms (6 n,) the mirror and the plate hold."""
    held = np.zeros((len(nodes), 6), dtype=bool)
    held[np.ix_(np.abs(nodes[:, 0]) < SAME, np.isin(range(6), held_by_mirror(0, even)))] = True
    held[plate] = True
    return held.ravel()


def _answer(model: System, modes: Array, held: BoolArray) -> tuple[Array, Array]:
    """Return the flexibility (k, k) in the k given movements of the plate, and all freedoms (6 n, k) under unit loads on them."""
    from scipy.linalg import solveh_banded

    push = resisted(model, modes)
    band, free_push = model.band.copy(), np.where(held[:, None], 0.0, push)
    band[0, held] = HOLD * band[0].max()
    moved = solveh_banded(band, free_push, overwrite_ab=True, lower=True, check_finite=False)
    flexibility = np.asarray(np.linalg.inv(modes.T @ push - free_push.T @ moved), dtype=np.float64)
    return flexibility, (modes - moved) @ flexibility


def felt(leg: LegMesh, way: Array) -> Felt:
    """Return what a leg answers to loads on its plate; way (3,): along the leg."""
    model, number = _system(leg)
    plate = number[leg.ring[-1]]
    modes = _plate_modes(model.nodes, plate)
    even, moved = _answer(model, modes[:, EVEN], _held(model.nodes, plate, 1))
    odd, turned = _answer(model, modes[:, ODD], _held(model.nodes, plate, -1))
    pull = way[0] * moved[:, 0] + way[1] * turned[:, 0]
    moves = np.stack((moved[:, 2], moved[:, 1], turned[:, 2], pull), axis=1)
    of_leg = number[leg.corners[: leg.ring[1:].size]]
    at_corners = moves.reshape(-1, 6, 4)[of_leg].reshape(len(of_leg), 24, 4)
    by_row = (len(leg.along), -1, 3, 4)
    return Felt(even, odd, *(each.reshape(by_row) for each in stresses(leg.plates[0], at_corners)))


@cache
def straight(corner: KinkLeg) -> tuple[LegMesh, Felt]:
    """Return a straight leg with its height in the plane it is bent in, and what it answers."""
    leg = straight_leg_of(corner)
    return leg, felt(leg, np.array([1.0, 0.0, 0.0]))


def straight_leg(corner: KinkLeg) -> tuple[LegMesh, Felt]:
    """Return a kink's leg as if it were straight, and what it answers: its plate's turns about its own axes, and its stress where it
    carries what a kink's unit moments are on its own axes: a moment out of the plane twists it too, torsion bends it.
    """
    like = corner if corner.radius > 0.0 else replace(corner, turn=0.0)
    leg, level = straight(replace(like, tilt=0.0, plate=0.0))
    c, s = cos(corner.tilt), sin(corner.tilt)
    turned, loads, carried = np.array([[c, -s], [s, c]]), np.eye(4), np.eye(4)
    loads[:2, :2] = [[c, -s], [s, c]]
    half = corner.turn / 2
    carried[1:3, 1:3] = [[cos(half), -sin(half)], [sin(half), cos(half)]]
    even = np.diag([level.even[0, 0], 0.0, 0.0])
    even[1:, 1:] = turned @ level.even[1:, 1:] @ turned.T
    return leg, Felt(even, level.odd, level.pulled @ loads @ carried, level.bent @ loads @ carried)


def _largest(stress: Array) -> Array:
    """Return the larger principal stress by size; stress (rows, around, 3, loads): xx, yy, xy."""
    xx, yy, xy = stress[:, :, 0], stress[:, :, 1], stress[:, :, 2]
    return np.asarray(np.abs(xx + yy) / 2 + np.hypot((xx - yy) / 2, xy), dtype=np.float64)


def through(found: Felt) -> Array:
    """Return the largest stress through the wall in each row (rows, 4), Pa per Nm and N."""
    return np.asarray(_largest(found.pulled).max(axis=1), dtype=np.float64)


def at_surface(found: Felt) -> Array:
    """Return the largest stress at the wall's surfaces in each row (rows, 4), Pa per Nm and N."""
    sides = (_largest(found.pulled + way * found.bent) for way in (-1.0, 1.0))
    return np.asarray(np.maximum(*sides).max(axis=1), dtype=np.float64)


def _as_beam(found: Felt, corner: KinkLeg) -> Array:
    """Return the turns (3, 3) per moment that a straight leg would give, about the kink's axes."""
    own = np.zeros((3, 3))
    own[0, 0], own[1:, 1:] = found.odd[2, 2], found.even[1:, 1:]
    turned: Array = axes(corner).T @ own @ axes(corner)
    return turned


def corner_give(corner: KinkLeg) -> CornerGive:
    """Return what a leg of a kink gives and feels beyond a straight one (docs/theory/kinks.md)."""
    found = _corner_give(corner)
    share = 1 - corner.turn / PLATE_FADES
    if corner.plate == 0.0 or share <= 0.0:
        return found
    none = _corner_give(replace(corner, turn=0.0))
    return replace(
        found,
        surface=tuple(_less(each, other, share) for each, other in zip(found.surface, none.surface, strict=True)),
        through_wall=_less(found.through_wall, none.through_wall, share),
    )


PLATE_FADES = 10 * pi / 180
"""A plate across a straight tube keeps its walls from thinning and so adds a little stress by itself. Up to this turn part of it is
taken off, all at no turn, where there is no kink and no plate."""


def _less(row: Row, other: Row, share: float) -> Row:
    """Return a row less a share of another, never negative."""
    return _row(np.maximum(np.array(row) - share * np.array(other), 0.0))


def _corner_give(corner: KinkLeg) -> CornerGive:
    """Return what a leg of a kink gives and feels beyond a straight one without a plate."""
    leg = leg_of(corner)
    kinked, (level, plain) = felt(leg, axes(corner)[0]), straight_leg(corner)
    rest = -_as_beam(plain, corner)
    rest[0, 0] += kinked.odd[2, 2]
    rest[1:, 1:] += kinked.even[1:, 1:]
    added = [_added(corner, (leg, of(kinked)), (level, of(plain))) for of in (at_surface, through)]
    return CornerGive(
        in_plane=float(rest[2, 2]),
        out_of_plane=float(rest[1, 1]),
        mixed=float(rest[1, 2]),
        torsion=float(rest[0, 0]),
        surface=tuple(_row(each) for each in added[0]),
        through_wall=_row(added[1][0]),
    )


def _row(values: Array) -> Row:
    a, b, c, d = values.tolist()
    return a, b, c, d


def _added(corner: KinkLeg, kinked: tuple[LegMesh, Array], unbent: tuple[LegMesh, Array]) -> Array:
    """Return the stress (distances, 4) that the kink adds at DISTANCES from it; never more than nearer to it, never negative."""
    (leg, own), (level, plain) = kinked, unbent
    usual = np.stack([np.interp(leg.along, level.along, each) for each in plain.T], axis=1)
    falling = np.maximum.accumulate(np.maximum(own - usual, 0.0)[::-1])[::-1]
    places = np.maximum(np.array(DISTANCES) * size(corner), WALLS * corner.wall)
    return np.stack([np.interp(places, leg.along, each) for each in falling.T], axis=1)
