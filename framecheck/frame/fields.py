"""Section forces and movements anywhere along pieces, exactly: the unloaded piece's answer plus the particular one. SI."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from framecheck.frame.discretise import SAME
from framecheck.frame.element import Beams, even_shape, odd_shape
from framecheck.frame.loads import Loads
from framecheck.frame.member_loads import Begun
from framecheck.frame.stations import Stations
from framecheck.frame.within_piece import FORCES, Bow, Props, forces, movements, props, symmetric, times
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.value_class import array_class

SLICE = 1000  # stations worked on at once


@array_class
class SolvedPieces:
    """The solved pieces, n of them in k cases. forces (8, n, k): of the deformations; start (7, n, k): the start's movements
    beyond the particular answer's. bow: what pieces of a moved frame do between their ends.
    """

    beams: Beams
    loads: Loads
    forces: Array
    start: Array
    bow: Bow | None = None


def of_cases(answer: SolvedPieces, cases: IntArray) -> SolvedPieces:
    """Return the answer in some cases alone, in rising order; of its loads only what acts within pieces."""
    loads, begun = answer.loads, answer.loads.begun
    kept = np.flatnonzero(np.isin(begun.case, cases))
    some = replace(
        begun,
        piece=begun.piece[kept],
        case=np.searchsorted(cases, begun.case[kept]),
        order=begun.order[kept],
        at=begun.at[kept],
        load=begun.load[:, kept],
        line=begun.line[kept],
    )
    even, growing = (None if each is None else each[:, :, cases] for each in (loads.even, loads.growing))
    strain = None if loads.strain is None else loads.strain[:, cases]
    few = replace(loads, begun=some, even=even, growing=growing, strain=strain)
    return SolvedPieces(answer.beams, few, answer.forces[:, :, cases], answer.start[:, :, cases])


@array_class
class Fields:
    """At m stations in k cases. forces (8, m, k): N, Vy, Vz, T, Ms, Mv, B, T warping in the member's axes, T about the shear
    centre; moves (6, m, k): stretch of the centroid, v, w and twist of the shear centre, slopes v', w'.
    """

    forces: Array
    moves: Array


def fields_at(answer: SolvedPieces, stations: Stations) -> Fields:
    """Return forces and movements at stations; of many, slice by slice, so that what is worked on stays near the processor."""
    count, curves = len(stations.piece), _curves(answer)
    if count <= SLICE:
        return _fields(answer, stations, curves)
    found = Fields(*(np.empty((size, count, answer.forces.shape[2])) for size in (FORCES, 6)))
    for first in range(0, count, SLICE):
        part = slice(first, first + SLICE)
        here = _fields(answer, stations.part(part), curves)
        found.forces[:, part], found.moves[:, part] = here.forces, here.moves
    return found


def _fields(answer: SolvedPieces, stations: Stations, curves: tuple[Array, Array, Array]) -> Fields:
    """Return forces and movements at stations; curves: see _curves."""
    made = np.take(answer.forces, stations.piece, axis=1)
    moves = _own_moves(answer, stations, made, curves)
    for part in _parts(answer, stations):
        part.add(moves, movements)
    if answer.loads.strain is not None:
        moves[0] += answer.loads.strain[stations.piece] * stations.at[:, None]
    if answer.bow is not None:
        answer.bow.add_moves(moves, stations)
    return Fields(_all_forces(answer, stations, made), moves)


def unloaded(answer: SolvedPieces, stations: Stations) -> Fields:
    """Return forces and movements at stations of the pieces as if no load acted within them."""
    made = np.take(answer.forces, stations.piece, axis=1)
    return Fields(_own_forces(answer, stations, made), _own_moves(answer, stations, made, _curves(answer)))


def forces_at(answer: SolvedPieces, stations: Stations) -> Array:
    """Return section forces (8, m, k) at stations, without the movements."""
    return _all_forces(answer, stations, np.take(answer.forces, stations.piece, axis=1))


def _all_forces(answer: SolvedPieces, stations: Stations, made: Array) -> Array:
    """Return section forces (8, m, k); made (8, m, k): forces of the deformations."""
    found = _own_forces(answer, stations, made)
    for part in _parts(answer, stations):
        part.add(found, forces)
    if answer.bow is not None:
        answer.bow.add_forces(found, stations)
    return found


def _own_forces(answer: SolvedPieces, stations: Stations, made: Array) -> Array:
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


def _own_moves(answer: SolvedPieces, stations: Stations, made: Array, curves: tuple[Array, Array, Array]) -> Array:
    """Return the unloaded pieces' movements (6, m, k); made (8, m, k): forces of the deformations; curves: see _curves."""
    piece, beams, x = stations.piece, answer.beams, stations.at[:, None]
    bent, grown, slid = (np.take(each, piece, axis=1) for each in curves)
    found = np.take(answer.start[:6], piece, axis=1)
    found[0] += made[0] * (x / beams.stretch[piece, None])
    found[1:3] += x * (found[4:6] + slid - (bent + grown * (x / 3)) * (x / 2))
    found[4:6] -= x * (bent + grown * (x / 2))
    found[3] += (made[5] + made[6]) * (x / beams.twist[piece, None])
    warps = np.flatnonzero(beams.warps[piece])
    if len(warps):
        here = piece[warps]
        even, odd, _ = _shapes(beams, here, stations.at[warps] - beams.length[here] / 2)
        swing = made[7, warps] * (even[0] - 1) - beams.length[here, None] / 2 * made[6, warps] * (odd[0] + 1)
        found[3, warps] += swing / beams.twist[here, None]
    return found


def _curves(answer: SolvedPieces) -> tuple[Array, Array, Array]:
    """Return each unloaded piece's curvature at its start, how fast it grows, and its slope of shear, (2, n, k) each."""
    beams, shear = answer.beams, answer.forces[3:5]
    first = -answer.forces[1:3] - shear * (beams.length[:, None] / 2)
    flexibility, slip = symmetric(beams.flexibility)[..., None], symmetric(beams.slip)[..., None]
    return times(flexibility, first), times(flexibility, shear), times(slip, shear)


Formula = Callable[[Props, Array, int, Array, BoolArray], Array]


@array_class
class _Part:
    """Loads p (6, ...) of one order, felt at places `along` beyond where they begin. to: row and case (m,) of each, None where
    every station and case feels one.
    """

    prop: Props
    p: Array
    order: int
    along: Array
    reached: BoolArray
    to: tuple[IntArray, IntArray] | None

    def add(self, total: Array, formula: Formula) -> None:
        """Add what a formula gives of the loads to total (c, m, k): its first c components."""
        values = formula(self.prop, self.p, self.order, self.along, self.reached)[: len(total)]
        if self.to is None:
            total += values
        else:
            add_to(total, *self.to, values)


def _parts(answer: SolvedPieces, stations: Stations) -> Iterator[_Part]:
    """Yield the loads within pieces, order by order, with the stations that feel them."""
    loads, piece, begun = answer.loads, stations.piece, answer.loads.begun
    if loads.even is not None and loads.growing is not None:
        prop, everywhere = props(answer.beams, piece, 1), np.ones((len(piece), 1), dtype=bool)
        for order, load in ((0, loads.even), (1, loads.growing)):
            if load.any():
                yield _Part(prop, load[:, piece], order, stations.at[:, None], everywhere, None)
    pairs = felt(begun, stations) if len(begun.piece) else None
    for order in (-1, 0, 1) if pairs else ():
        assert pairs is not None
        chosen = np.flatnonzero(begun.order[pairs[0]] == order)
        if len(chosen):
            which, here = pairs[0][chosen], pairs[1][chosen]
            along, reached = stations.at[here] - begun.at[which], begun.at[which] <= stations.begin[here] + SAME
            prop, to = props(answer.beams, begun.piece[which], 0), (here, begun.case[which])
            yield _Part(prop, begun.load[:, which], order, along, reached, to)


def felt(begun: Begun, stations: Stations) -> tuple[IntArray, IntArray]:
    """Return pairs (m,) of a load that begins within a piece and a station of the same piece."""
    low, high = (np.searchsorted(stations.piece, begun.piece, side) for side in ("left", "right"))
    count = high - low
    load = np.repeat(np.arange(len(begun.piece)), count)
    station = np.arange(len(load)) - np.repeat(np.cumsum(count) - count, count) + low[load]
    return load, station


def add_to(total: Array, row: IntArray, case: IntArray, values: Array) -> None:
    """Add values (c, m) to one plain array total (c, n, k) at rows and cases (m,); the same place may come more than once."""
    parts, rows, cases = total.shape
    place = np.arange(parts)[:, None] * (rows * cases) + (row * cases + case)
    np.add.at(total.reshape(-1), place.ravel(), values.ravel())
