"""Many variants of one frame at once: the same points and members, other sections. Dense, in chunks that stay in the cache. SI.

The copies are laid beside each other as one frame of many parts, so that every formula serves them as it serves one; only the
equations are solved part by part, in one call. Where nothing warps and axes stay in place there is less to do (precomputed.py).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.errors import Fault, InputError, UnsolvableError
from framecheck.frame.element import beams_of, deformation_stiffness
from framecheck.frame.fields import forces_at
from framecheck.frame.freedoms import NONE, Blocks, freedoms_of
from framecheck.frame.loads import Loads, imbalance, loads_of, own_weight
from framecheck.frame.member_loads import on_line
from framecheck.frame.precomputed import Base, PrecomputedParts, is_plain, plain_of
from framecheck.frame.recover import load_vector, particular_ends, section_forces, solved_pieces
from framecheck.frame.solve import factor_of, from_asked_plane, hanging_supports, moved_by_supports, with_ground
from framecheck.frame.stations import Stations, few_stations, stretches_of
from framecheck.frame.structure import Structure, all_blocks
from framecheck.frame.supports import ground_of, hold_of_case, refuse_unbalanced
from framecheck.frame.tiled_variants import (
    moved_on,
    plain_chunk,
    repeated,
    tiled_links,
    tiled_pieces,
    tiled_slips,
    tiled_ties,
)
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.model.loads import CaseLoads
from framecheck.value_class import array_class

CHUNK = 128  # variants at once


@array_class
class Batch:
    """v variants solved for k cases. displacements (v, n_point, k, 6), m and rad, vehicle axes.

    forces (v, m, k, 9): at m stations, as in MemberForces.forces, in the sections' own axes. member, section (m,): places in
    frame.members and in structure.pieces.keys; stations (m,): m from the member's first point. Arrays read-only.
    """

    displacements: Array
    forces: Array
    member: IntArray
    section: IntArray
    stations: Array


def solve_variants(structure: Structure, tables: Array, cases: Sequence[CaseLoads]) -> Batch:
    """Return the variants solved; tables (v, n_key, 14): section_table of each, in the order of structure.pieces.keys.

    The cases all hang on the supports or all on nothing. Arms, joints' springs and cuts stay as the structure has them.
    MechanismError: the structure itself moves freely.
    """
    base, count = _base(structure, cases), len(tables)
    piece, points = base.stations.piece, len(structure.frame.points)
    moved = np.empty((count, points, len(cases), 6))
    forces = np.empty((count, len(piece), len(cases), 9))
    plain = plain_of(base, tables[0]) if count and is_plain(structure, tables) else None
    for first in range(0, count, CHUNK):
        part = slice(first, first + CHUNK)
        if plain is None:
            unknowns = _chunk(base, tables[part], forces[part])
        else:
            unknowns = _all_unknowns(plain, plain_chunk(plain, tables[part], forces[part]))
        moved[part] = _points_moved(base, unknowns)
    return Batch(
        displacements=frozen(moved),
        forces=frozen(forces),
        member=structure.pieces.member[piece],
        section=structure.pieces.section[piece],
        stations=frozen(structure.beams.start[piece] + base.stations.at),
    )


def _base(structure: Structure, cases: Sequence[CaseLoads]) -> Base:
    """Return what all variants share; the structure itself is factorised, so that a mechanism is named."""
    if structure.sheets is not None or structure.body is not None:
        fault = Fault("", "frame", "variants of a frame with panels or a stated body are not screened", "write engine: every check")
        raise InputError([fault])
    loads = loads_of(structure.frame, structure.pieces, structure.beams, structure.links.bodies, cases)
    if len({hold_of_case(case) for case in cases}) != 1:
        raise UnsolvableError(
            "variants are solved for cases that all hang on the same supports or all on nothing; give them apart"
        )
    name: object
    if cases[0].free_free:
        refuse_unbalanced([case.name for case in cases], imbalance(structure.pieces.places, loads.total, loads.size))
        name, supports = "free_free", hanging_supports(structure)
    else:
        name, supports = ground_of(structure.frame, cases[0])
    free = factor_of(structure, name, supports).free
    stations = few_stations(structure.beams, stretches_of(structure.beams, loads))
    return Base(structure, cases, loads, supports, free, stations)


def _all_unknowns(plain: PrecomputedParts, free: Array) -> Array:
    """Return all unknowns (n, v, k) from the free ones (f, v, k)."""
    unknowns = np.repeat(plain.given[:, None], free.shape[1], axis=1)
    unknowns[plain.base.free] = free
    return unknowns


def _points_moved(base: Base, unknowns: Array) -> Array:
    """Return the points' displacements (v, n_point, k, 6) from unknowns (n, v, k): free-free, from the plane that was asked for."""
    nodes, points = base.structure.freedoms.n_node, len(base.structure.frame.points)
    six = unknowns[: 6 * nodes].reshape(nodes, 6, *unknowns.shape[1:])
    for number, case in enumerate(base.cases):
        if case.free_free:
            six[..., number] = from_asked_plane(base.structure, case.reference, base.supports, six[..., number])
    return six[:points].transpose(2, 0, 3, 1)


def _chunk(base: Base, tables: Array, forces: Array) -> Array:
    """Fill the section forces (v, m, k, 9) of some variants (v, n_key, 14); return their unknowns (n, v, k)."""
    count = len(tables)
    copies = _copies(base.structure, tables)
    loads = _loads(base, copies, count)
    made = particular_ends(copies.beams, loads)
    vector = load_vector(copies.freedoms, copies.stiffness, loads, made)
    places = _places(base.structure, count)
    moved = _solved(base, copies, places, vector[places])
    unknowns = np.empty_like(vector)
    unknowns[places] = moved
    answer = solved_pieces(copies, loads, made, unknowns).answer
    own, n = base.stations, base.structure.pieces.count
    at = Stations(moved_on(own.piece, count, n), *(np.tile(each, count) for each in (own.at, own.begin, own.weight)))
    forces[...] = section_forces(copies, at, forces_at(answer, at)).reshape(forces.shape)
    return moved.transpose(1, 0, 2)


def _copies(structure: Structure, tables: Array) -> Structure:
    """Return the variants as one frame of many parts; its matrix stays that of one."""
    count = len(tables)
    pieces = tiled_pieces(structure.pieces, count)
    beams = beams_of(pieces, tables.reshape(-1, tables.shape[2]), [member.name for member in structure.frame.members])
    ties = tiled_ties(structure.freedoms.ties, structure.pieces, beams, count)
    freedoms = freedoms_of(pieces, beams, ties, tiled_slips(structure.freedoms.slips, structure.pieces.count, count))
    links = tiled_links(structure.links, len(structure.pieces.places), count)
    sections, stiff = structure.sections * count, structure.stiff_sections * count
    made = replace(structure, pieces=pieces, sections=sections, stiff_sections=stiff, beams=beams, freedoms=freedoms)
    return replace(made, links=links, stiffness=deformation_stiffness(beams))


def _loads(base: Base, copies: Structure, count: int) -> Loads:
    """Return the cases' loads on all copies; the frame's own weight is each one's own."""
    begun, own = base.loads.begun, base.loads
    piece, line = moved_on(begun.piece, count, base.structure.pieces.count), repeated(begun.line, count)
    begun = replace(
        begun,
        piece=piece,
        case=np.tile(begun.case, count),
        order=np.tile(begun.order, count),
        at=np.tile(begun.at, count),
        load=on_line(copies.beams, piece, line),
        line=line,
    )
    weight = own_weight(copies.beams, [case.motion for case in base.cases])
    return replace(
        own,
        nodal=repeated(own.nodal, count),
        begun=begun,
        even=None if weight is None else weight.even,
        growing=None if weight is None else weight.growing,
        strain=None if own.strain is None else repeated(own.strain, count),
    )


def _places(structure: Structure, count: int) -> IntArray:
    """Return the place (v, n) of each copy's unknowns among those of all copies, which go by kind."""
    kinds = 6 * structure.freedoms.n_node, structure.freedoms.n_tie, len(structure.freedoms.slips.piece)
    firsts = np.concatenate(([0], count * np.cumsum(kinds)[:-1]))
    rows = [
        first + size * np.arange(count)[:, None] + np.arange(size) for first, size in zip(firsts, kinds, strict=True)
    ]
    return np.concatenate(rows, axis=1)


def _solved(base: Base, copies: Structure, places: IntArray, vector: Array) -> Array:
    """Return the unknowns (v, n, k) of all copies under loads (v, n, k)."""
    count, size = places.shape
    stiffness = _matrices(all_blocks(copies.freedoms, copies.stiffness, copies.links), places)
    one = np.zeros((size, size))
    idle = base.structure.idle
    for freedoms, values in zip(idle.freedoms, idle.values, strict=True):
        one[np.ix_(freedoms, freedoms)] += values
    stiffness += with_ground(one, base.supports)
    given = moved_by_supports(base.loads, size, np.arange(vector.shape[2]))
    free = base.free
    moved = np.tile(given, (count, 1, 1))
    right = vector - stiffness @ given if given.any() else vector
    moved[:, free] += np.linalg.solve(stiffness[:, free[:, None], free], right[:, free])
    return moved


def _matrices(blocks: list[Blocks], places: IntArray) -> Array:
    """Return the stiffness (v, n, n) of each copy."""
    count, size = places.shape
    copy, own = np.zeros(count * size, dtype=np.int64), np.zeros(count * size, dtype=np.int64)
    copy[places] = np.arange(count)[:, None]
    own[places] = np.arange(size)
    at, values = [], []
    for block in blocks:
        if not block.values.size:
            continue
        row = np.where(block.freedoms == NONE, 0, own[block.freedoms])
        first = copy[block.freedoms.max(axis=1)] * size
        entry = ((first[:, None] + row)[:, :, None] * size + row[:, None, :]).ravel()
        there = np.broadcast_to(
            (block.freedoms != NONE)[:, :, None] & (block.freedoms != NONE)[:, None, :], block.values.shape
        ).ravel()
        at.append(entry)
        values.append(np.where(there, block.values.ravel(), 0.0))
    total = np.bincount(np.concatenate(at), np.concatenate(values), count * size * size).astype(np.float64)
    return total.reshape(count, size, size)
