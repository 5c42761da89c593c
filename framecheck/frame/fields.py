"""Section forces and movements anywhere along pieces, exactly: the unloaded piece's answer plus the particular one. SI."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from framecheck.frame.discretise import SAME
from framecheck.frame.element import Beams
from framecheck.frame.loads import Loads
from framecheck.frame.particular import FORCES, forces, movements, props
from framecheck.frame.stations import Stations
from framecheck.frame.torsion import even_shape, odd_shape
from framecheck.model.arrays import Array, IntArray


@dataclass(frozen=True, eq=False, slots=True)
class Answer:
    """The solved pieces, n of them in k cases. forces (n, k, 8): of the deformations; start (n, k, 7): the start's movements
    beyond the particular answer's.
    """

    beams: Beams
    loads: Loads
    forces: Array
    start: Array


@dataclass(frozen=True, eq=False, slots=True)
class Fields:
    """At m stations in k cases. forces (m, k, 8): N, Vy, Vz, T, Ms, Mv, B, T warping in the member's axes, T about the shear
    centre; moves (m, k, 6): stretch of the centroid, v, w and twist of the shear centre, slopes v', w'.
    """

    forces: Array
    moves: Array


def fields_at(answer: Answer, stations: Stations) -> Fields:
    """Return forces and movements at stations."""
    found = Fields(_own_forces(answer, stations), _own_moves(answer, stations))
    _add_whole(answer, stations, found)
    _add_begun(answer, stations, found)
    return found


def _own_forces(answer: Answer, stations: Stations) -> Array:
    """Return the unloaded pieces' section forces (m, k, 8)."""
    piece, beams = stations.piece, answer.beams
    made = answer.forces[piece]
    found = np.zeros((*made.shape[:2], FORCES))
    found[..., 0] = made[..., 0]
    found[..., 1:3] = made[..., 3:5]
    found[..., 3] = made[..., 5] + made[..., 6]
    beyond = stations.at - beams.length[piece] / 2
    found[..., 4:6] = made[..., 3:5] * beyond[:, None, None] - made[..., 1:3]
    warps = np.flatnonzero(beams.warps[piece])
    if len(warps):
        even, odd, rate = _shapes(beams, piece[warps], beyond[warps])
        half = beams.length[piece[warps], None] / 2 * made[warps, :, 6]
        found[warps, :, 6] = made[warps, :, 7] * even[0] - half * odd[0]
        found[warps, :, 7] = rate * (half * odd[1] - made[warps, :, 7] * even[1])
    return found


def _shapes(beams: Beams, piece: IntArray, beyond: Array) -> tuple[tuple[Array, Array], tuple[Array, Array], Array]:
    """Return the even and odd warping shapes (m, 1) and k (m, 1) at places `beyond` the pieces' middles."""
    z = beams.z[piece, None]
    rate = 2 * z / beams.length[piece, None]
    along = rate * beyond[:, None]
    return even_shape(along, z), odd_shape(along, z), rate


def _own_moves(answer: Answer, stations: Stations) -> Array:
    """Return the unloaded pieces' movements (m, k, 6)."""
    piece, beams = stations.piece, answer.beams
    made, x = answer.forces[piece], stations.at[:, None]
    half = beams.length[piece, None, None] / 2
    shear, first = made[..., 3:5], -made[..., 1:3] - made[..., 3:5] * half
    flexibility, slip = beams.flexibility[piece], beams.slip[piece]
    x2 = x[..., None]
    found = answer.start[piece][..., :6]
    found[..., 0] += made[..., 0] * x / beams.stretch[piece, None]
    found[..., 1:3] += found[..., 4:6] * x2 + (shear @ slip) * x2
    found[..., 1:3] -= (first * (x2**2 / 2) + shear * (x2**3 / 6)) @ flexibility
    found[..., 4:6] -= (first * x2 + shear * (x2**2 / 2)) @ flexibility
    found[..., 3] += (made[..., 5] + made[..., 6]) * x / beams.twist[piece, None]
    warps = np.flatnonzero(beams.warps[piece])
    if len(warps):
        here = piece[warps]
        even, odd, _ = _shapes(beams, here, stations.at[warps] - beams.length[here] / 2)
        swing = made[warps, :, 7] * (even[0] - 1) - beams.length[here, None] / 2 * made[warps, :, 6] * (odd[0] + 1)
        found[warps, :, 3] += swing / beams.twist[here, None]
    return found


def _add_whole(answer: Answer, stations: Stations, found: Fields) -> None:
    """Add the particular answers of loads along whole pieces, and of warmth."""
    loads, piece = answer.loads, stations.piece
    if loads.even is not None and loads.growing is not None:
        prop = props(answer.beams, piece, 1)
        reached, along = np.ones((len(piece), 1), dtype=bool), stations.at[:, None]
        for order, load in ((0, loads.even[piece]), (1, loads.growing[piece])):
            found.forces[...] += forces(prop, load, order, along, reached)
            found.moves[...] += movements(prop, load, order, along, reached)[..., :6]
    if loads.strain is not None:
        found.moves[..., 0] += loads.strain[piece] * stations.at[:, None]


def _add_begun(answer: Answer, stations: Stations, found: Fields) -> None:
    """Add the particular answers of loads that begin within pieces."""
    begun = answer.loads.begun
    if not len(begun.piece):
        return
    low, high = (np.searchsorted(stations.piece, begun.piece, side) for side in ("left", "right"))
    which = np.repeat(np.arange(len(begun.piece)), high - low)
    at = np.arange(len(which)) - np.repeat(np.cumsum(high - low) - (high - low), high - low) + low[which]
    for order in (-1, 0, 1):
        chosen = begun.order[which] == order
        load, here = which[chosen], at[chosen]
        prop = props(answer.beams, begun.piece[load], 0)
        along = stations.at[here] - begun.at[load]
        reached = begun.at[load] <= stations.begin[here] + SAME
        to = (here, begun.case[load])
        np.add.at(found.forces, to, forces(prop, begun.load[load], order, along, reached))
        np.add.at(found.moves, to, movements(prop, begun.load[load], order, along, reached)[..., :6])
