"""Section forces and movements anywhere along pieces, exactly: the unloaded piece's answer plus the particular one. SI."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from framecheck.frame.discretise import SAME
from framecheck.frame.element import Beams
from framecheck.frame.loads import Loads
from framecheck.frame.member_loads import Begun
from framecheck.frame.particular import FORCES, forces, movements, props, symmetric, times
from framecheck.frame.stations import Stations
from framecheck.frame.torsion import even_shape, odd_shape
from framecheck.model.arrays import Array, IntArray


@dataclass(frozen=True, eq=False, slots=True)
class Answer:
    """The solved pieces, n of them in k cases. forces (8, n, k): of the deformations; start (7, n, k): the start's movements
    beyond the particular answer's.
    """

    beams: Beams
    loads: Loads
    forces: Array
    start: Array


@dataclass(frozen=True, eq=False, slots=True)
class Fields:
    """At m stations in k cases. forces (8, m, k): N, Vy, Vz, T, Ms, Mv, B, T warping in the member's axes, T about the shear
    centre; moves (6, m, k): stretch of the centroid, v, w and twist of the shear centre, slopes v', w'.
    """

    forces: Array
    moves: Array


def fields_at(answer: Answer, stations: Stations) -> Fields:
    """Return forces and movements at stations."""
    made = np.take(answer.forces, stations.piece, axis=1)
    found = Fields(_own_forces(answer, stations, made), _own_moves(answer, stations, made))
    _add_whole(answer, stations, found)
    _add_begun(answer, stations, found)
    return found


def _own_forces(answer: Answer, stations: Stations, made: Array) -> Array:
    """Return the unloaded pieces' section forces (8, m, k); made (8, m, k): forces of the deformations."""
    piece, beams = stations.piece, answer.beams
    found = np.zeros((FORCES, *made.shape[1:]))
    found[0], found[1:3] = made[0], made[3:5]
    found[3] = made[5] + made[6]
    beyond = stations.at - beams.length[piece] / 2
    found[4:6] = made[3:5] * beyond[:, None] - made[1:3]
    warps = np.flatnonzero(beams.warps[piece])
    if len(warps):
        even, odd, rate = _shapes(beams, piece[warps], beyond[warps])
        half = beams.length[piece[warps], None] / 2 * made[6, warps]
        found[6, warps] = made[7, warps] * even[0] - half * odd[0]
        found[7, warps] = rate * (half * odd[1] - made[7, warps] * even[1])
    return found


def _shapes(beams: Beams, piece: IntArray, beyond: Array) -> tuple[tuple[Array, Array], tuple[Array, Array], Array]:
    """Return the even and odd warping shapes (m, 1) and k (m, 1) at places `beyond` the pieces' middles."""
    z = beams.z[piece, None]
    rate = 2 * z / beams.length[piece, None]
    along = rate * beyond[:, None]
    return even_shape(along, z), odd_shape(along, z), rate


def _own_moves(answer: Answer, stations: Stations, made: Array) -> Array:
    """Return the unloaded pieces' movements (6, m, k); made (8, m, k): forces of the deformations."""
    piece, beams, x = stations.piece, answer.beams, stations.at[:, None]
    shear, flexibility = made[3:5], symmetric(beams.flexibility)[:, piece, None]
    first = -made[1:3] - shear * (beams.length[piece, None] / 2)
    found = np.take(answer.start[:6], piece, axis=1)
    found[0] += made[0] * (x / beams.stretch[piece, None])
    found[1:3] += x * found[4:6] - times(flexibility, first * (x**2 / 2) + shear * (x**3 / 6))
    if beams.slip.any():
        found[1:3] += times(symmetric(beams.slip)[:, piece, None] * x, shear)
    found[4:6] -= times(flexibility, first * x + shear * (x**2 / 2))
    found[3] += (made[5] + made[6]) * (x / beams.twist[piece, None])
    warps = np.flatnonzero(beams.warps[piece])
    if len(warps):
        here = piece[warps]
        even, odd, _ = _shapes(beams, here, stations.at[warps] - beams.length[here] / 2)
        swing = made[7, warps] * (even[0] - 1) - beams.length[here, None] / 2 * made[6, warps] * (odd[0] + 1)
        found[3, warps] += swing / beams.twist[here, None]
    return found


def _add_whole(answer: Answer, stations: Stations, found: Fields) -> None:
    """Add the particular answers of loads along whole pieces, and of warmth."""
    loads, piece = answer.loads, stations.piece
    if loads.even is not None and loads.growing is not None:
        prop = props(answer.beams, piece, 1)
        reached, along = np.ones((len(piece), 1), dtype=bool), stations.at[:, None]
        for order, load in ((0, loads.even[:, piece]), (1, loads.growing[:, piece])):
            if load.any():
                found.forces[...] += forces(prop, load, order, along, reached)
                found.moves[...] += movements(prop, load, order, along, reached)[:6]
    if loads.strain is not None:
        found.moves[0] += loads.strain[piece] * stations.at[:, None]


def felt(begun: Begun, stations: Stations) -> tuple[IntArray, IntArray]:
    """Return pairs (m,) of a load that begins within a piece and a station of the same piece."""
    low, high = (np.searchsorted(stations.piece, begun.piece, side) for side in ("left", "right"))
    count = high - low
    load = np.repeat(np.arange(len(begun.piece)), count)
    station = np.arange(len(load)) - np.repeat(np.cumsum(count) - count, count) + low[load]
    return load, station


def _add_begun(answer: Answer, stations: Stations, found: Fields) -> None:
    """Add the particular answers of loads that begin within pieces."""
    begun = answer.loads.begun
    if not len(begun.piece):
        return
    loads, stands = felt(begun, stations)
    for order in (-1, 0, 1):
        chosen = np.flatnonzero(begun.order[loads] == order)
        if not len(chosen):
            continue
        load, here = loads[chosen], stands[chosen]
        prop = props(answer.beams, begun.piece[load], 0)
        along = stations.at[here] - begun.at[load]
        reached = begun.at[load] <= stations.begin[here] + SAME
        p = begun.load[:, load]
        add_to(found.forces, here, begun.case[load], forces(prop, p, order, along, reached))
        add_to(found.moves, here, begun.case[load], movements(prop, p, order, along, reached)[:6])


def add_to(total: Array, row: IntArray, case: IntArray, values: Array) -> None:
    """Add values (c, m) to total (c, n, k) at rows and cases (m,); the same place may come more than once."""
    for component, part in zip(total, values, strict=True):
        np.add.at(component, (row, case), part)
