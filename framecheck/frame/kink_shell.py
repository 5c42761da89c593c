"""What one leg of a kink gives and feels, from a shell model of it less one of the same leg straight (docs/theory/kinks.md). SI.

The plane between both legs is a mirror: bending in and out of the kink's plane and pull are even about it, torsion is odd.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin

import numpy as np

from framecheck.frame.joint.data import DISTANCES, WALLS, CornerGive, KinkLeg, Row
from framecheck.frame.joint.shell_elements import stresses
from framecheck.frame.kink_halves import plate_answer
from framecheck.frame.kink_mesh import LegMesh, axes, leg_of
from framecheck.frame.straight_leg import straight
from framecheck.model.arrays import Array
from framecheck.value_class import array_class


@array_class
class Felt:
    """How the plate turns, and the stress at the middles of the leg's elements.

    turns (3, 3): about x, y, z under unit moments about the origin; torsion moves neither of the others. pulled, bent (rows, around,
    3, 4): stress through the wall, and at its surface besides, under unit moments about z (in plane), y (out of plane), x (torsion),
    and under unit pull along the leg.
    """

    turns: Array
    pulled: Array
    bent: Array


def felt(leg: LegMesh, way: Array) -> Felt:
    """Return what a leg answers to loads on its plate; way (3,): along the leg."""
    answer = plate_answer(leg)
    even, odd = answer.even_moves, answer.odd_moves
    pull = way[0] * even[..., 0] + way[1] * odd[..., 0]
    moves = np.stack((even[..., 2], even[..., 1], odd[..., 2], pull), axis=-1)
    of_leg = leg.corners[: leg.ring[1:].size]
    at_corners = moves[of_leg].reshape(len(of_leg), 24, 4)
    by_row = (len(leg.along), -1, 3, 4)
    turns = np.zeros((3, 3))
    turns[0, 0], turns[1:, 1:] = answer.odd[2, 2], answer.even[1:, 1:]
    return Felt(turns, *(each.reshape(by_row) for each in stresses(leg.plates[0], at_corners)))


def straight_leg(corner: KinkLeg) -> tuple[Array, Felt]:
    """Return a kink's leg as if it were straight: how far its rows are from the mitre, and what it answers: its plate's turns about
    the leg's axes, and its stress where it carries what a kink's unit moments are on its own axes: a moment out of the plane twists
    it too, torsion bends it.
    """
    like = corner if corner.radius > 0.0 else replace(corner, turn=0.0)
    level = straight(replace(like, tilt=0.0, plate=0.0))
    c, s = cos(corner.tilt), sin(corner.tilt)
    tilted, loads, carried = np.array([[c, -s], [s, c]]), np.eye(4), np.eye(4)
    loads[:2, :2] = tilted
    half = corner.turn / 2
    carried[1:3, 1:3] = [[cos(half), -sin(half)], [sin(half), cos(half)]]
    turns = np.diag(level.turns)
    turns[1:, 1:] = tilted @ turns[1:, 1:] @ tilted.T
    return level.along, Felt(turns, level.pulled @ loads @ carried, level.bent @ loads @ carried)


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
    kinked, (along, plain) = felt(leg, axes(corner)[0]), straight_leg(corner)
    rest = kinked.turns - axes(corner).T @ plain.turns @ axes(corner)
    added = [_added(corner, (leg.along, of(kinked)), (along, of(plain))) for of in (at_surface, through)]
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


def _added(corner: KinkLeg, kinked: tuple[Array, Array], unbent: tuple[Array, Array]) -> Array:
    """Return the stress (distances, 4) that the kink adds at DISTANCES from it; never more than nearer to it, never negative."""
    (along, own), (level, plain) = kinked, unbent
    usual = np.stack([np.interp(along, level, each) for each in plain.T], axis=1)
    falling = np.maximum.accumulate(np.maximum(own - usual, 0.0)[::-1])[::-1]
    places = np.maximum(np.array(DISTANCES) * corner.size, WALLS * corner.wall)
    return np.stack([np.interp(places, along, each) for each in falling.T], axis=1)
