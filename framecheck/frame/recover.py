"""From solved unknowns to what is reported: forces, displacements and energy of every member. SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from framecheck.frame.element import Beams, end_forces
from framecheck.frame.equivalent import Made
from framecheck.frame.fields import Answer, Fields, fields_at
from framecheck.frame.loads import Loads
from framecheck.frame.results import MemberForces
from framecheck.frame.stations import Stations, roots_within, stations_of, with_more
from framecheck.frame.structure import Structure, shifts_of
from framecheck.model.arrays import Array, IntArray, frozen

NOISE = 1e-9  # of the largest shear force in all; smaller ones have no crossing worth a station


@dataclass(frozen=True, eq=False, slots=True)
class Solved:
    """The solved pieces with the forces (n, 2, 7, k) that what is outside puts on their ends."""

    answer: Answer
    ends: Array


def solved_pieces(structure: Structure, loads: Loads, made: Made | None, unknowns: Array) -> Solved:
    """Return the pieces' answer from the unknowns (n_unknown, k)."""
    n, cases = structure.pieces.count, unknowns.shape[1]
    strain, start = np.empty((n, 8, cases)), np.empty((n, 7, cases))
    with_none = np.concatenate((unknowns, np.zeros((1, cases))))
    for group in structure.freedoms.groups:
        moved = with_none[group.freedoms]  # NONE takes the last row
        strain[group.pieces] = group.strain @ moved
        start[group.pieces] = group.ends[:, 0] @ moved
    if made is not None:
        strain -= made.strain
        start -= made.moves[:, 0]
    forces = structure.stiffness @ strain
    ends = np.stack(end_forces(structure.beams.length, forces), axis=1)
    if made is not None:
        ends += made.pushes
    turned = np.ascontiguousarray(forces.transpose(0, 2, 1)), np.ascontiguousarray(start.transpose(0, 2, 1))
    return Solved(Answer(structure.beams, loads, *turned), ends)


def all_stations(answer: Answer, crossings: Array) -> tuple[Stations, Fields]:
    """Return the stations of all pieces, crossings (n, 2) among them, and the fields there."""
    stations = stations_of(answer.beams, answer.loads)
    if len(crossings):
        firsts, count = _stretches(stations)
        row, share = firsts[crossings[:, 0].astype(np.int64)], crossings[:, 1]
        start, end = stations.at[row], stations.at[row + count - 1]
        stations = with_more(stations, stations.piece[row], start + share * (end - start), stations.begin[row])
    return stations, fields_at(answer, stations)


def crossings_of(answer: Answer) -> Array:
    """Return where a shear force vanishes in the section's own axes, so that a moment is extreme: stretch, share of it (n, 2)."""
    if answer.loads.even is None and not len(answer.loads.begun.piece):
        return np.empty((0, 2))
    stations = stations_of(answer.beams, answer.loads)
    firsts, count = _stretches(stations)
    looked = np.concatenate([firsts, firsts + count // 2, firsts + count - 1])
    at = Stations(stations.piece[looked], stations.at[looked], stations.begin[looked], stations.weight[looked])
    shear = fields_at(answer, at).forces[..., 1:3] @ answer.beams.turn[at.piece]
    first, middle, last = np.split(shear, 3)
    where, share = roots_within(first, middle, last, NOISE * float(np.abs(shear).max(initial=0.0)))
    return np.stack((where[0], np.round(share, 9)), axis=1)


def _stretches(stations: Stations) -> tuple[IntArray, int]:
    """Return the first station of each stretch and how many each has."""
    piece, begin = stations.piece, stations.begin
    fresh = (piece[1:] != piece[:-1]) | (begin[1:] != begin[:-1])
    firsts = np.flatnonzero(np.concatenate(([True], fresh)))
    return firsts, len(piece) // len(firsts)


def reference_moves(beams: Beams, stations: Stations, fields: Fields) -> Array:
    """Return displacements (m, k, 3) of the reference line, vehicle axes."""
    piece, moves = stations.piece, fields.moves
    centroid, pole = beams.centroid[piece, None], beams.pole[piece, None]
    local = np.empty((*moves.shape[:2], 3))
    local[..., 0] = moves[..., 0] + moves[..., 4] * centroid[..., 0] + moves[..., 5] * centroid[..., 1]
    local[..., 1] = moves[..., 1] + moves[..., 3] * pole[..., 1]
    local[..., 2] = moves[..., 2] - moves[..., 3] * pole[..., 0]
    found: Array = local @ beams.axes[piece]
    return found


def section_forces(structure: Structure, stations: Stations, fields: Fields) -> Array:
    """Return (m, k, 9): N, Vy, Vz, T, Mv, Ms, B, T Saint-Venant, T warping in the sections' own axes, about their own centres."""
    beams, piece = structure.beams, stations.piece
    turn, made = beams.turn[piece], fields.forces
    hand = (turn[:, 0, 0] * turn[:, 1, 1] - turn[:, 0, 1] * turn[:, 1, 0])[:, None]
    shift = shifts_of(structure)[structure.pieces.section[piece]]
    shear, moment, pull = made[..., 1:3] @ turn, made[..., 4:6] @ turn, made[..., 0]
    found = np.empty((*made.shape[:2], 9))
    found[..., 0], found[..., 1:3] = pull, shear
    centroid, pole = shift[:, None, 0], shift[:, None, 1]
    found[..., 3] = hand * made[..., 3] + shear[..., 0] * pole[..., 1] - shear[..., 1] * pole[..., 0]
    found[..., 4] = moment[..., 1] - pull * centroid[..., 1]
    found[..., 5] = moment[..., 0] - pull * centroid[..., 0]
    found[..., 6], found[..., 8] = hand * made[..., 6], hand * made[..., 7]
    found[..., 7] = found[..., 3] - found[..., 8]
    return found


def piece_energy(beams: Beams, stations: Stations, fields: Fields) -> Array:
    """Return the strain energy (n, k) of pieces: half the integral of section forces times what they bend, J."""
    piece, made = stations.piece, fields.forces
    weighing = np.flatnonzero(stations.weight > 0)
    here, made = piece[weighing], made[weighing]
    shear, moment = made[..., 1:3], made[..., 4:6]
    density: Array = np.square(made[..., 0]) / beams.stretch[here, None]
    density += np.sum((moment @ beams.flexibility[here]) * moment, axis=-1)
    density += np.sum((shear @ beams.slip[here]) * shear, axis=-1)
    density += (made[..., 3] - made[..., 7]) ** 2 / beams.twist[here, None]
    held = np.where(beams.warping > 0, beams.warping, np.inf)
    density += made[..., 6] ** 2 / held[here, None]
    density *= stations.weight[weighing, None] / 2
    return np.stack([np.bincount(here, column, len(beams.length)) for column in density.T], axis=1)


def member_forces(structure: Structure, stations: Stations, fields: Fields) -> tuple[MemberForces, ...]:
    """Return the forces and movements along every member."""
    beams, pieces, piece = structure.beams, structure.pieces, stations.piece
    member = pieces.member[piece]
    cuts = np.searchsorted(member, np.arange(len(structure.frame.members) + 1)).tolist()
    rows = (
        frozen(beams.start[piece] + stations.at),
        frozen(section_forces(structure, stations, fields)),
        frozen(fields.forces[..., [0, 1, 2, 3, 5, 4]]),
        frozen(reference_moves(beams, stations, fields)),
        frozen(beams.ends[piece, 0] + stations.at[:, None] * beams.axes[piece, 0]),
        frozen(beams.axes[piece]),
    )
    keys, sections = pieces.section[piece].tolist(), structure.sections
    found = []
    for number, of in enumerate(structure.frame.members):
        part = slice(cuts[number], cuts[number + 1])
        at, own, turned, moved, places, axes = (row[part] for row in rows)
        there = tuple([sections[key] for key in keys[part]])
        found.append(MemberForces(of.name, at, there, own, turned, moved, places, axes))
    return tuple(found)


def member_end_forces(structure: Structure, ends: Array) -> Mapping[str, Array]:
    """Return (k, 2, 6) per member: what its start and its end put on their points, N and Nm at the points, vehicle axes."""
    pieces, cases = structure.pieces, ends.shape[3]
    on_nodes = np.empty((pieces.count, 2, 6, cases))
    for group in structure.freedoms.groups:
        for end in (0, 1):
            moves = group.ends[:, end, :, 6 * end : 6 * end + 6]
            on_nodes[group.pieces, end] = -(moves.transpose(0, 2, 1) @ ends[group.pieces, end])
    both = np.stack((on_nodes[pieces.first, 0], on_nodes[pieces.last, 1]), axis=1)
    by_member = frozen(np.ascontiguousarray(both.transpose(0, 3, 1, 2)))
    return {member.name: by_member[number] for number, member in enumerate(structure.frame.members)}
