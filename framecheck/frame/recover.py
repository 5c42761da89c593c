"""Loads within pieces turned into loads on the unknowns; and from solved unknowns back to forces, movements and energy. SI.

A piece under load is its particular answer plus an unloaded piece whose ends move by what is left. So the nodes
must carry what holds the particular answer's ends, and its deformations count as already made.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from framecheck.frame.element import END, Beams, deformations
from framecheck.frame.fields import Fields, SolvedPieces, add_to, fields_at, forces_at
from framecheck.frame.freedoms import NONE, Freedoms
from framecheck.frame.loads import Loads
from framecheck.frame.results import MemberLines
from framecheck.frame.stations import Stations, roots_within, stations_of, stretches_of, summing_stations, with_more
from framecheck.frame.structure import Structure, shifts_of
from framecheck.frame.within_piece import Bow, forces, movements, props, symmetric
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.value_class import array_class

AS_END = np.array([1.0, 1.0, 1.0, 1.0, -1.0, -1.0, 1.0])  # section forces at a face to forces on the end's movements


@array_class
class Made:
    """The particular answers at the ends of the m pieces that have any, in k cases. row (n,): of each piece among them, NONE.

    moves (m, 2, 7, k): movements of the ends; pushes (m, 2, 7, k): what is outside must do to them; strain (m, 8, k): deformations.
    """

    row: IntArray
    moves: Array
    pushes: Array
    strain: Array

    def among(self, pieces: IntArray) -> tuple[IntArray, IntArray]:
        """Return places in `pieces` of those that have an answer, and their rows here."""
        rows = self.row[pieces]
        there = np.flatnonzero(rows != NONE)
        return there, rows[there]


def particular_ends(beams: Beams, loads: Loads) -> Made | None:
    """Return the particular answers at the pieces' ends; None where nothing acts within pieces."""
    n, cases = len(beams.length), loads.nodal.shape[1]
    loaded = np.full(n, loads.even is not None or loads.strain is not None)
    loaded[loads.begun.piece] = True
    count = int(loaded.sum())
    if not count:
        return None
    row = np.where(loaded, np.cumsum(loaded) - 1, NONE)
    moves, pushes = np.zeros((2, END, count, cases)), np.zeros((2, END, count, cases))
    if loads.even is not None and loads.growing is not None:
        for order, load in ((0, loads.even), (1, loads.growing)):
            _add_whole(beams, order, load, moves, pushes)
    _add_begun(beams, loads, row, (moves, pushes))
    if loads.strain is not None:
        moves[1, 0] += loads.strain * beams.length[:, None]
    moves, pushes = (np.ascontiguousarray(each.transpose(2, 0, 1, 3)) for each in (moves, pushes))
    return Made(row, moves, pushes, deformations(beams.length[loaded], moves[:, 0], moves[:, 1]))


def _add_whole(beams: Beams, order: int, load: Array, moves: Array, pushes: Array) -> None:
    """Add loads (6, n, k) along whole pieces; moves, pushes (2, 7, n, k)."""
    if not load.any():
        return
    prop = props(beams, slice(None), 1)
    for end, along in ((0, 0.0 * beams.length), (1, beams.length)):
        reached = np.ones((len(along), 1), dtype=bool)
        moves[end] += movements(prop, load, order, along[:, None], reached)
        made = forces(prop, load, order, along[:, None], reached)[:END]
        pushes[end] += (-1.0, 1.0)[end] * AS_END[:, None, None] * made


def _add_begun(beams: Beams, loads: Loads, row: IntArray, to: tuple[Array, Array]) -> None:
    """Add loads that begin within pieces to moves and pushes (2, 7, m, k); row (n,): of each piece there."""
    begun = loads.begun
    for order in (-1, 0, 1):
        chosen = np.flatnonzero(begun.order == order)
        if not len(chosen):
            continue
        piece, case, load = begun.piece[chosen], begun.case[chosen], begun.load[:, chosen]
        prop = props(beams, piece, 0)
        for end in (0, 1):
            along = beams.length[piece] * end - begun.at[chosen]
            reached = np.full(len(chosen), end == 1)
            add_to(to[0][end], row[piece], case, movements(prop, load, order, along, reached))
            made = (-1.0, 1.0)[end] * AS_END[:, None] * forces(prop, load, order, along, reached)[:END]
            add_to(to[1][end], row[piece], case, made)


def load_vector(freedoms: Freedoms, stiffness: Array, loads: Loads, made: Made | None) -> Array:
    """Return the load on every unknown (n_unknown, k)."""
    cases = loads.nodal.shape[1]
    vector = np.zeros((freedoms.count + 1, cases))
    vector[: 6 * freedoms.n_node] = loads.nodal.transpose(0, 2, 1).reshape(-1, cases)
    for group in freedoms.groups if made else ():
        assert made is not None
        rows, own = made.among(group.pieces)
        held = group.strain[rows].transpose(0, 2, 1) @ (stiffness[group.pieces[rows]] @ made.strain[own])
        for end in (0, 1):
            held -= group.ends[rows, end].transpose(0, 2, 1) @ made.pushes[own, end]
        at = np.where(group.freedoms[rows] == NONE, freedoms.count, group.freedoms[rows])
        vector += _gathered(at.ravel(), held.reshape(-1, cases), len(vector))
    return vector[:-1]


def _gathered(at: Array, values: Array, size: int) -> Array:
    """Return the sums (size, k) of rows values (m, k) by their places `at` (m,)."""
    return np.stack([np.bincount(at, column, size) for column in values.T], axis=1)


NOISE = 1e-9  # of the largest shear force in all; smaller ones have no crossing worth a station


@array_class
class Solved:
    """The solved pieces, and the particular answers of loads within them."""

    answer: SolvedPieces
    made: Made | None


def solved_pieces(
    structure: Structure, loads: Loads, made: Made | None, unknowns: Array, bow: Bow | None = None
) -> Solved:
    """Return the pieces' answer from the unknowns (n_unknown, k); bow: of a moved frame."""
    n, cases = structure.pieces.count, unknowns.shape[1]
    if structure.sheets is not None and structure.sheets.fields is not None:
        loads, made = _with_flows(structure, loads, unknowns)
    forces, start = np.empty((8, n, cases)), np.empty((7, n, cases))
    with_none = np.concatenate((unknowns, np.zeros((1, cases))))
    for group in structure.freedoms.groups:
        moved = with_none[group.freedoms]  # NONE takes the last row
        strain, begun = group.strain @ moved, group.ends[:, 0] @ moved
        if made is not None:
            here, rows = made.among(group.pieces)
            strain[here] -= made.strain[rows]
            begun[here] -= made.moves[rows, 0]
        where = group.among(n)
        forces[:, where] = (structure.stiffness[where] @ strain).transpose(1, 0, 2)
        start[:, where] = begun.transpose(1, 0, 2)
    return Solved(SolvedPieces(structure.beams, loads, forces, start, bow), made)


def _with_flows(structure: Structure, loads: Loads, unknowns: Array) -> tuple[Loads, Made | None]:
    """Return the loads with what panels that carry shear alone hand on along pieces, and their particular answers."""
    from framecheck.frame.panel.recover import with_flows

    assert structure.sheets is not None
    flowing = with_flows(structure.sheets, structure.pieces.count, loads, unknowns)
    return flowing, particular_ends(structure.beams, flowing)


def all_stations(answer: SolvedPieces, crossings: Array, count: int) -> tuple[Stations, Fields]:
    """Return the stations of all pieces, `count` a stretch and crossings (n, 2) among them, and the fields there."""
    stretches = stretches_of(answer.beams, answer.loads)
    stations = stations_of(answer.beams, stretches, count)
    if len(crossings):
        stations = with_more(stations, stretches, crossings[:, 0].astype(np.int64), crossings[:, 1])
    return stations, fields_at(answer, stations)


def summed_over(answer: SolvedPieces, stations: Stations, fields: Fields, count: int) -> tuple[Stations, Fields]:
    """Return the stations whose weights sum energy and work, and the fields there: the given ones where they do."""
    summing = summing_stations(answer.beams, stretches_of(answer.beams, answer.loads), stations, count)
    return (stations, fields) if summing is stations else (summing, fields_at(answer, summing))


def crossings_of(answer: SolvedPieces) -> Array:
    """Return where a shear force vanishes in the section's own axes, so that a moment is extreme: stretch, share of it (n, 2)."""
    stretches = stretches_of(answer.beams, answer.loads)
    loaded = np.flatnonzero(stretches.loaded)
    if not len(loaded):
        return np.empty((0, 2))
    looked = np.repeat(loaded, 3)
    at = stretches.places(looked, np.tile([0.0, 0.5, 1.0], len(loaded)))
    places = Stations(stretches.piece[looked], at, stretches.start[looked], np.zeros(len(at)))
    shear = _own_axes(answer.beams.turn[places.piece], forces_at(answer, places)[1:3])
    first, middle, last = (shear[:, which::3] for which in range(3))
    where, share = roots_within(first, middle, last, NOISE * float(np.abs(shear).max(initial=0.0)))
    return np.stack((loaded[where[1]], np.round(share, 9)), axis=1)


def _own_axes(turn: Array, vector: Array) -> Array:
    """Return a vector (2, m, k) in the members' axes in the sections' own; turn (m, 2, 2)."""
    t = turn[..., None]
    return np.array(
        (t[:, 0, 0] * vector[0] + t[:, 1, 0] * vector[1], t[:, 0, 1] * vector[0] + t[:, 1, 1] * vector[1])
    )


def reference_moves(beams: Beams, stations: Stations, fields: Fields) -> Array:
    """Return displacements (m, k, 3) of the reference line, vehicle axes."""
    piece, (along, y, z, twist, slope_y, slope_z) = stations.piece, fields.moves
    centroid, pole = beams.centroid[piece, :, None], beams.pole[piece, :, None]
    if centroid.any():
        along = along + slope_y * centroid[:, 0] + slope_z * centroid[:, 1]
    if pole.any():
        y, z = y + twist * pole[:, 1], z - twist * pole[:, 0]
    axes, found = beams.axes[piece, :, :, None], np.empty((3, *along.shape))
    for way in range(3):
        found[way] = axes[:, 0, way] * along + axes[:, 1, way] * y + axes[:, 2, way] * z
    return found.transpose(1, 2, 0)


def moves_at_arms(beams: Beams, stations: Stations, fields: Fields, arms: Array) -> Array:
    """Return displacements (m, k, 3) of places at arms (m, 3) from the reference line, vehicle axes; each section keeps its shape."""
    axes, (twist, slope_y, slope_z) = beams.axes[stations.piece], fields.moves[3:]
    x, y, z = (axes @ arms[:, :, None]).transpose(1, 0, 2)
    turned = np.stack((-slope_y * y - slope_z * z, slope_y * x - twist * z, slope_z * x + twist * y))
    return np.asarray(reference_moves(beams, stations, fields) + np.einsum("mij,imk->mkj", axes, turned))


def section_forces(structure: Structure, stations: Stations, made: Array) -> Array:
    """Return forces (m, k, 9) in the sections' own axes, about their own centres, from those in the members' axes (8, m, k).

    N, Vy, Vz, T, Mv, Ms, B, T Saint-Venant, T warping.
    """
    piece = stations.piece
    turn, pull = structure.beams.turn[piece], made[0]
    hand = (turn[:, 0, 0] * turn[:, 1, 1] - turn[:, 0, 1] * turn[:, 1, 0])[:, None]
    (shear_y, shear_z), (sideways, vertical) = _own_axes(turn, made[1:3]), _own_axes(turn, made[4:6])
    torque, shift = hand * made[3], shifts_of(structure)[structure.pieces.section[piece]][..., None]
    if shift.any():
        centroid, pole = shift[:, 0], shift[:, 1]
        torque = torque + shear_y * pole[:, 1] - shear_z * pole[:, 0]
        vertical, sideways = vertical - pull * centroid[:, 1], sideways - pull * centroid[:, 0]
    held = hand * made[7]
    rows = (pull, shear_y, shear_z, torque, vertical, sideways, hand * made[6], torque - held, held)
    return np.array(rows).transpose(1, 2, 0)


def piece_energy(beams: Beams, stations: Stations, fields: Fields) -> Array:
    """Return the strain energy (n, k) of pieces: half the integral of section forces times what they bend, J."""
    weighs = stations.weight > 0
    weighing = slice(None) if weighs.all() else np.flatnonzero(weighs)  # a slice copies nothing
    piece, made = stations.piece[weighing], fields.forces[:, weighing]
    density: Array = np.square(made[0])
    density /= beams.stretch[piece, None]
    for matrices, (first, second) in ((beams.flexibility, made[4:6]), (beams.slip, made[1:3])):
        for factor, left, right in zip(symmetric(matrices), (first, 2 * first, second), (first, second, second), strict=True):
            if factor.any():
                density += factor[piece, None] * left * right
    density += np.square(made[3] - made[7]) / beams.twist[piece, None]
    if beams.warping.any():
        held = np.where(beams.warping > 0, beams.warping, np.inf)
        density += made[6] ** 2 / held[piece, None]
    density *= stations.weight[weighing, None] / 2
    firsts = np.flatnonzero(np.concatenate(([True], piece[1:] != piece[:-1])))
    summed: Array = np.add.reduceat(density, firsts, axis=0)
    return summed


def member_forces(structure: Structure, stations: Stations, fields: Fields) -> MemberLines:
    """Return the forces and movements along every member."""
    beams, pieces, piece = structure.beams, structure.pieces, stations.piece
    return MemberLines(
        names=[member.name for member in structure.frame.members],
        cuts=np.searchsorted(pieces.member[piece], np.arange(len(structure.frame.members) + 1)),
        sections=(structure.sections, pieces.section[piece]),
        rows=(
            frozen(beams.start[piece] + stations.at),
            frozen(section_forces(structure, stations, fields.forces)),
            frozen(fields.forces[[0, 1, 2, 3, 5, 4]].transpose(1, 2, 0)),
            frozen(reference_moves(beams, stations, fields)),
            frozen(beams.ends[piece, 0] + stations.at[:, None] * beams.axes[piece, 0]),
            frozen(beams.axes[piece]),
        ),
    )


def member_end_forces(structure: Structure, solved: Solved) -> Mapping[str, Array]:
    """Return (k, 2, 6) per member: what its start and its end put on their points, N and Nm at the points, vehicle axes.

    By virtual work: a node feels a deformation's force times how far the node's movement makes the deformation.
    """
    pieces, forces, made = structure.pieces, solved.answer.forces, solved.made
    on_nodes = np.empty((pieces.count, 12, forces.shape[2]))
    for group in structure.freedoms.groups:
        where = group.among(pieces.count)
        passed = np.ascontiguousarray(-group.strain[:, :, :12].transpose(0, 2, 1))
        on_nodes[where] = passed @ np.ascontiguousarray(forces[:, where].transpose(1, 0, 2))
        for end in (0, 1) if made is not None else ():
            assert made is not None
            here, rows = made.among(group.pieces)
            moves = group.ends[here, end, :, :12].transpose(0, 2, 1)
            on_nodes[group.pieces[here]] -= moves @ made.pushes[rows, end]
        for end in (0, 1) if solved.answer.bow is not None else ():
            assert solved.answer.bow is not None
            moves = group.ends[:, end, :, :12].transpose(0, 2, 1)
            on_nodes[where] -= moves @ solved.answer.bow.pushes[where, end]
    by_member = np.empty((len(pieces.first), forces.shape[2], 2, 6))
    by_member[:, :, 0] = on_nodes[pieces.first, :6].transpose(0, 2, 1)
    by_member[:, :, 1] = on_nodes[pieces.last, 6:].transpose(0, 2, 1)
    frozen(by_member)
    return {member.name: by_member[number] for number, member in enumerate(structure.frame.members)}
