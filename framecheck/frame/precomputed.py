"""Variants whose pieces carry no warping and whose axes stay where they are: then all is a sum of fixed parts times few numbers.

The stiffness is a sum of fixed matrices times the pieces' own stiffnesses; what loads within pieces do to them is a sum of fixed
answers times their flexibilities; section forces are fixed rows times the forces of the deformations. So a variant costs
one solution of its equations and a share of a few large matrix products. Arrays here have variants and cases last. SI.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import DEFORMATIONS, Beams, beams_of
from framecheck.frame.fields import SolvedPieces, forces_at
from framecheck.frame.freedoms import NONE, Blocks, Freedoms, freedoms_of
from framecheck.frame.loads import Loads, own_weight
from framecheck.frame.member_loads import begun_of_none
from framecheck.frame.recover import load_vector, particular_ends, section_forces
from framecheck.frame.solve import moved_by_supports, with_ground
from framecheck.frame.stations import Stations
from framecheck.frame.structure import Structure, dense_matrix, diagonal, link_blocks
from framecheck.frame.supports import Supports
from framecheck.model.arrays import Array, IntArray
from framecheck.model.loads import CaseLoads
from framecheck.value_class import array_class

UNIT = np.array([[[1.0, 0.0], [0.0, 1.0]], [[0.0, 1.0], [1.0, 0.0]]])
"""The two ways of being flexible across, each plane alone and one plane by the other."""

PAIRS = ((0, 0), (1, 1), (1, 2), (2, 1), (2, 2), (3, 3), (3, 4), (4, 3), (4, 4), (5, 5))
"""Deformations that resist each other in a piece without warping."""

WAYS, BY = (np.array(PAIRS)[:, column] for column in (0, 1))

LARGEST = 1e6
"""Most numbers of kinds of pieces times entries of the matrix: beyond, keeping the parts costs more than it saves."""

SAME_DIGITS = 12  # pieces whose lengths (m) and angles agree to so many decimals are alike


@array_class
class Base:
    """What all variants share: loads, supports and free unknowns, and the stations."""

    structure: Structure
    cases: Sequence[CaseLoads]
    loads: Loads
    supports: Supports
    free: IntArray
    stations: Stations


@array_class
class Acting:
    """Loads of one kind on n pieces in k cases. strain (4, n, 8, k): deformations made where EA = GJ = 1 and the flexibility of
    bending, then of shear, is each of UNIT; within (m, k, 9): section forces at the stations.
    """

    strain: Array
    within: Array


@array_class
class Alike:
    """Kinds of pieces: of one section, length and angle. first (g,): a piece of each; of (n,): the kind of each piece."""

    first: IntArray
    of: IntArray


@array_class
class PrecomputedParts:
    """The fixed parts. n pieces, f free unknowns, k cases, m stations.

    strain (n, 8, f): free unknowns to deformations; parts (g, pair, f f): see _parts; fixed (f, f): stiffness of all but pieces;
    given (n_unknown, k): moved supports; start (n, 8, k): deformations that those and warmth make; right (f, k): loads that no
    piece's stiffness passes on; rows (m, 8, 9): forces of deformations to section forces; acting: loads as they are;
    weight, weight_right (n_key, f, k): of 1 kg/m, None and empty where nothing weighs.
    """

    base: Base
    alike: Alike
    strain: Array
    parts: Array
    fixed: Array
    given: Array
    start: Array
    right: Array
    rows: Array
    acting: Acting
    weight: Acting | None
    weight_right: Array


def is_plain(structure: Structure, tables: Array) -> bool:
    """Return whether no piece of any variant (v, n_key, 14) carries warping and centroids and shear centres stay in place."""
    still = not np.ptp(tables[:, :, 8:12], axis=0).any()
    return still and not tables[:, :, 2].any() and not structure.freedoms.n_tie


def plain_of(base: Base, table: Array) -> PrecomputedParts | None:
    """Return the fixed parts of variants that lie as the sections of one table (n_key, 14) do; None where they take too much."""
    pieces, like = base.structure.pieces, base.structure.freedoms
    beams = beams_of(pieces, table, [member.name for member in base.structure.frame.members])
    freedoms = freedoms_of(pieces, beams, like.ties, like.slips)
    alike = _alike(pieces, beams)
    if len(alike.first) * len(base.free) ** 2 > LARGEST:
        return None
    placed = replace(base, structure=replace(base.structure, beams=beams, freedoms=freedoms))
    whole, rest = _strain(freedoms, pieces.count), _rest(placed)
    given = moved_by_supports(base.loads, freedoms.count, np.arange(len(base.cases)))
    start = whole @ given
    if base.loads.strain is not None:
        start[:, 0] -= base.loads.strain * beams.length[:, None]
    loads = replace(base.loads, even=None, growing=None, strain=None)
    strain = np.ascontiguousarray(whole[:, :, base.free])
    return PrecomputedParts(
        base=placed,
        alike=alike,
        strain=strain,
        parts=_parts(strain, alike),
        fixed=rest[np.ix_(base.free, base.free)],
        given=given,
        start=start,
        right=(_pushed(placed, loads) - rest @ given)[base.free],
        rows=_rows(placed),
        acting=_acting(placed, loads),
        weight=_weight(placed),
        weight_right=_weight_right(placed),
    )


def _strain(freedoms: Freedoms, pieces: int) -> Array:
    """Return what takes all unknowns to the pieces' deformations (n, 8, n_unknown)."""
    strain = np.zeros((pieces, DEFORMATIONS, freedoms.count + 1))  # the last column takes what belongs to no unknown
    for group in freedoms.groups:
        for way in range(DEFORMATIONS):
            strain[group.pieces[:, None], way, group.freedoms] = group.strain[:, way]
    return strain[:, :, :-1]


def _rest(base: Base) -> Array:
    """Return the stiffness (n_unknown, n_unknown) of all that is no piece: links, joints' springs, the ground."""
    structure, (unknowns, own) = base.structure, diagonal(base.structure.freedoms)
    springs, idle = (
        Blocks(unknowns[:, None], own[:, None, None]),
        Blocks(structure.idle.freedoms, structure.idle.values),
    )
    rest = dense_matrix([link_blocks(structure.links), springs, idle], structure.freedoms.count)
    return with_ground(rest, base.supports)


def _parts(strain: Array, alike: Alike) -> Array:
    """Return what a unit of each kind's stiffness in each of PAIRS adds to the matrix (g, pair, f f)."""
    kinds, free = len(alike.first), strain.shape[2]
    parts = np.empty((kinds, len(PAIRS), free, free))
    for kind in range(kinds):
        mine = strain[alike.of == kind]
        for pair, (way, by) in enumerate(PAIRS):
            np.matmul(mine[:, way].T, mine[:, by], out=parts[kind, pair])
    return parts.reshape(kinds, len(PAIRS), free * free)


def _alike(pieces: Pieces, beams: Beams) -> Alike:
    """Return the kinds of pieces."""
    marks = np.stack([pieces.section, beams.length, pieces.angle, pieces.mirrored], axis=1)
    _, first, of = np.unique(np.round(marks, SAME_DIGITS), axis=0, return_index=True, return_inverse=True)
    return Alike(first, of.reshape(-1))


def _pushed(base: Base, loads: Loads) -> Array:
    """Return the loads (n_unknown, k) on the unknowns, but for what the pieces' own stiffness passes on."""
    structure = base.structure
    made = particular_ends(structure.beams, loads)
    return load_vector(structure.freedoms, np.zeros_like(structure.stiffness), loads, made)


def _acting(base: Base, loads: Loads) -> Acting:
    """Return what some loads do within pieces."""
    beams, (n, cases) = base.structure.beams, (base.structure.pieces.count, len(base.cases))
    one, none = np.ones(n), np.zeros((n, 2, 2))
    units = [(unit + none, none) for unit in UNIT] + [(none, unit + none) for unit in UNIT]
    soft = [replace(beams, stretch=one, twist=one, flexibility=bent, slip=sheared) for bent, sheared in units]
    made = [particular_ends(each, loads) for each in soft]
    strain = np.zeros((len(units), n, DEFORMATIONS, cases))
    for number, each in enumerate(made):
        if each is not None:
            strain[number, each.row != NONE] = each.strain
    still = SolvedPieces(beams, loads, np.zeros((DEFORMATIONS, n, cases)), np.zeros((7, n, cases)))
    return Acting(strain, section_forces(base.structure, base.stations, forces_at(still, base.stations)))


def _unit_weight(base: Base, mass: Array) -> Loads | None:
    """Return the pieces' own weight with masses (n,), kg/m, and nothing else; None where nothing weighs."""
    loads = base.loads
    weight = own_weight(replace(base.structure.beams, mass=mass), [case.motion for case in base.cases])
    if weight is None:
        return None
    none = begun_of_none(loads.begun)
    return replace(loads, nodal=0 * loads.nodal, begun=none, even=weight.even, growing=weight.growing, strain=None)


def _weight(base: Base) -> Acting | None:
    """Return what a weight of 1 kg/m does within pieces."""
    loads = _unit_weight(base, np.ones(base.structure.pieces.count))
    return None if loads is None else _acting(base, loads)


def _weight_right(base: Base) -> Array:
    """Return the loads (n_key, f, k) on the unknowns when each section in turn weighs 1 kg/m."""
    section = base.structure.pieces.section
    each = [_unit_weight(base, 1.0 * (section == key)) for key in range(len(base.structure.pieces.keys))]
    vectors = [_pushed(base, loads)[base.free] for loads in each if loads is not None]
    return np.array(vectors).reshape(len(vectors), len(base.free), len(base.cases))


def _rows(base: Base) -> Array:
    """Return the section forces (m, 8, 9) at the stations of each force of a deformation alone."""
    loads = replace(base.loads, even=None, growing=None, begun=begun_of_none(base.loads.begun))
    n = base.structure.pieces.count
    alone = np.repeat(np.eye(DEFORMATIONS)[:, None], n, axis=1)
    answer = SolvedPieces(base.structure.beams, loads, alone, np.zeros((7, n, DEFORMATIONS)))
    return section_forces(base.structure, base.stations, forces_at(answer, base.stations))
