"""Many variants of one frame at once: the same points and members, other sections. Dense, in chunks that stay in the cache. SI.

The copies are laid beside each other as one frame of many parts, so that every formula serves them as it serves one; only the
equations are solved part by part, in one call.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.afloat import refuse_unbalanced
from framecheck.frame.assembly import Blocks, all_blocks
from framecheck.frame.element import beams_of, deformation_stiffness
from framecheck.frame.equivalent import load_vector, particular_ends
from framecheck.frame.fields import Answer, forces_at
from framecheck.frame.freedoms import NONE, freedoms_of
from framecheck.frame.links import Supports, supports_of
from framecheck.frame.loads import Loads, imbalance, loads_of, own_weight
from framecheck.frame.member_loads import begun_of_none, on_line
from framecheck.frame.recover import section_forces, solved_pieces
from framecheck.frame.solve import factor_of, from_asked_plane, hanging_supports, moved_by_supports, with_ground
from framecheck.frame.stations import Stations, few_stations, stretches_of
from framecheck.frame.structure import Structure
from framecheck.frame.tiling import moved_on, repeated, tiled_links, tiled_pieces, tiled_slips, tiled_ties
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.model.loads import CaseLoads

CHUNK = 64  # variants at once


@dataclass(frozen=True, eq=False, slots=True)
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


@dataclass(frozen=True, eq=False, slots=True)
class _Base:
    """What all variants share: loads, supports and free unknowns, and the stations.

    alike: section forces (8, m, k) of loads that begin within pieces, where they are the same in all variants; else None.
    """

    structure: Structure
    cases: Sequence[CaseLoads]
    loads: Loads
    supports: Supports
    free: IntArray
    stations: Stations
    alike: Array | None


def solve_variants(structure: Structure, tables: Array, cases: Sequence[CaseLoads]) -> Batch:
    """Return the variants solved; tables (v, n_key, 14): section_table of each, in the order of structure.pieces.keys.

    The cases all hang on the supports or all on nothing. Arms, joints' springs and cuts stay as the structure has them.
    MechanismError: the structure itself moves freely.
    """
    base = _base(structure, cases, not np.ptp(tables[:, :, 8:12], axis=0).any())
    chunks = [_chunk(base, tables[first : first + CHUNK]) for first in range(0, len(tables), CHUNK)]
    piece = base.stations.piece
    return Batch(
        displacements=frozen(np.concatenate([moved for moved, _ in chunks])),
        forces=frozen(np.concatenate([forces for _, forces in chunks])),
        member=structure.pieces.member[piece],
        section=structure.pieces.section[piece],
        stations=frozen(structure.beams.start[piece] + base.stations.at),
    )


def _base(structure: Structure, cases: Sequence[CaseLoads], in_place: bool) -> _Base:
    """Return what all variants share; the structure itself is factorised, so that a mechanism is named.

    in_place: whether centroids and shear centres stay where they are.
    """
    loads = loads_of(structure.frame, structure.pieces, structure.beams, structure.links.bodies, cases)
    hanging = {case.afloat for case in cases}
    if len(hanging) != 1:
        raise UnsolvableError(
            "variants are solved for cases that all hang on supports or all on nothing; give them apart"
        )
    if True in hanging:
        refuse_unbalanced([case.name for case in cases], imbalance(structure.pieces.places, loads.total, loads.size))
        name, supports = "afloat", hanging_supports(structure)
    else:
        name, supports = "supports", supports_of(structure.frame, structure.frame.supports)
    free = factor_of(structure, name, supports).free
    stations = few_stations(structure.beams, stretches_of(structure.beams, loads))
    alike = _of_begun(structure, loads, stations) if in_place and not structure.beams.warps.any() else None
    return _Base(structure, cases, loads, supports, free, stations, alike)


def _of_begun(structure: Structure, loads: Loads, stations: Stations) -> Array:
    """Return section forces (8, m, k) of the loads that begin within pieces, as if nothing else acted."""
    n, cases = structure.pieces.count, loads.nodal.shape[1]
    only = replace(loads, even=None, growing=None)
    return forces_at(Answer(structure.beams, only, np.zeros((8, n, cases)), np.zeros((7, n, cases))), stations)


def _chunk(base: _Base, tables: Array) -> tuple[Array, Array]:
    """Return displacements (v, n_point, k, 6) and section forces (v, m, k, 9) of some variants."""
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
    if base.alike is None:
        within = forces_at(answer, at)
    else:
        rest = replace(loads, begun=begun_of_none(loads.begun))
        within = forces_at(replace(answer, loads=rest), at)
        within.reshape(8, count, -1, within.shape[2])[...] += base.alike[:, None]
    forces = section_forces(copies, at, within)
    points = len(base.structure.frame.points)
    six = moved[:, : 6 * points].reshape(count, points, 6, -1).transpose(0, 1, 3, 2)
    return six, forces.reshape(count, -1, *forces.shape[1:])


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


def _loads(base: _Base, copies: Structure, count: int) -> Loads:
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


def _solved(base: _Base, copies: Structure, places: IntArray, vector: Array) -> Array:
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
    if base.cases[0].afloat:
        nodes = base.structure.freedoms.n_node
        six = moved[:, : 6 * nodes].reshape(count, nodes, 6, -1).transpose(1, 2, 3, 0)
        for number, case in enumerate(base.cases):
            six[:, :, number] = from_asked_plane(base.structure, case, base.supports, six[:, :, number])
        moved[:, : 6 * nodes] = six.transpose(3, 0, 1, 2).reshape(count, 6 * nodes, -1)
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
