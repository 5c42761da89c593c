"""What one leg of a kink gives and feels, from a shell model of it less one of the same leg straight. SI.

The plane between both legs is a mirror: bending in and out of the kink's plane and pull are even about it, torsion is odd.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.shell import HOLD, NEAR, System, assembled, held_by_mirror, resisted
from framecheck.frame.kink.data import DISTANCES, WALLS, Corner, CornerGive, Row
from framecheck.frame.kink.mesh import Leg, axes, leg_of, size
from framecheck.frame.kink.quad import stiffness, stresses
from framecheck.model.arrays import Array, BoolArray, IntArray

EVEN, ODD = (0, 4, 5), (1, 2, 3)
"""The plate's freedoms that load the leg evenly and oddly about the mirror; the others only move it as a whole."""


class Felt(NamedTuple):
    """How the plate moves, and the stress at the elements' middles, by row.

    even (3, 3): under force along x, moments about y, z; odd (3, 3): under forces along y, z, moment about x, all about the
    origin. surface, through (rows, 4): largest principal stress under unit moments about z (in plane), y (out of plane), x (torsion),
    and under unit pull along the leg.
    """

    even: Array
    odd: Array
    surface: Array
    through: Array


def _system(leg: Leg) -> tuple[System, IntArray]:
    """Return the assembled leg and each node's number in it."""
    elements = np.concatenate([stiffness(each) for each in leg.quads]) * leg.share[:, None, None]
    return assembled(leg.places, leg.corners, elements)


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
    held[np.ix_(np.abs(nodes[:, 0]) < NEAR, np.isin(range(6), held_by_mirror(0, even)))] = True
    held[plate] = True
    return held.ravel()


def _answer(model: System, modes: Array, held: BoolArray) -> tuple[Array, Array]:
    """Return the flexibility (k, k) in the k given movements of the plate, and all freedoms (6 n, k) under unit loads on them."""
    from scipy.linalg import solveh_banded

    push = resisted(model, modes)
    band, free_push = model.band.copy(), np.where(held[:, None], 0.0, push)
    band[0, held] = HOLD * band[0].max()
    moved = solveh_banded(band, free_push, overwrite_ab=True, lower=True, check_finite=False)
    flexibility = np.linalg.inv(modes.T @ push - free_push.T @ moved)
    return flexibility, (modes - moved) @ flexibility


def _largest(stress: Array) -> Array:
    """Return the larger principal stress (...,) by size; stress (..., 3): xx, yy, xy."""
    middle, half = (stress[..., 0] + stress[..., 1]) / 2, (stress[..., 0] - stress[..., 1]) / 2
    return np.asarray(np.abs(middle) + np.hypot(half, stress[..., 2]), dtype=np.float64)


def felt(leg: Leg, way: Array) -> Felt:
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
    pulled, bent = stresses(leg.quads[0], at_corners)
    by_row = (len(leg.along), -1, 4)
    surface = np.maximum(_largest(pulled + bent), _largest(pulled - bent)).reshape(by_row).max(axis=1)
    return Felt(even, odd, surface, _largest(pulled).reshape(by_row).max(axis=1))


def _as_beam(straight: Felt, corner: Corner) -> Array:
    """Return the turns (3, 3) per moment that a straight leg would give, about the kink's axes."""
    own = np.zeros((3, 3))
    own[0, 0], own[1:, 1:] = straight.odd[2, 2], straight.even[1:, 1:]
    found: Array = axes(corner).T @ own @ axes(corner)
    return found


def corner_give(corner: Corner) -> CornerGive:
    """Return what a leg of a kink gives and feels beyond a straight one (docs/theory/kinks.md)."""
    leg, unbent = leg_of(corner), leg_of(replace(corner, turn=0.0, plate=0.0, radius=0.0))
    kinked, straight = felt(leg, axes(corner)[0]), felt(unbent, np.array([1.0, 0.0, 0.0]))
    rest = -_as_beam(straight, corner)
    rest[0, 0] += kinked.odd[2, 2]
    rest[1:, 1:] += kinked.even[1:, 1:]
    surface = _added(corner, (leg, kinked.surface), (unbent, straight.surface))
    through = _added(corner, (leg, kinked.through), (unbent, straight.through))
    return CornerGive(
        in_plane=float(rest[2, 2]),
        out_of_plane=float(rest[1, 1]),
        mixed=float(rest[1, 2]),
        torsion=float(rest[0, 0]),
        surface=tuple(_row(each) for each in surface),
        through_wall=_row(through[0]),
    )


def _row(values: Array) -> Row:
    a, b, c, d = values.tolist()
    return a, b, c, d


def _added(corner: Corner, kinked: tuple[Leg, Array], straight: tuple[Leg, Array]) -> Array:
    """Return the stress (distances, 4) that the kink adds at DISTANCES from it; never more than nearer to it, never negative."""
    (leg, own), (unbent, plain) = kinked, straight
    usual = np.stack([np.interp(leg.along, unbent.along, each) for each in plain.T], axis=1)
    falling = np.maximum.accumulate(np.maximum(own - usual, 0.0)[::-1])[::-1]
    places = np.maximum(np.array(DISTANCES) * size(corner), WALLS * corner.wall)
    return np.stack([np.interp(places, leg.along, each) for each in falling.T], axis=1)
