"""Copies of a frame laid beside each other, and variants solved from the parts fixed for all of them. Variants and cases are the
last axes. SI.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams, beams_of, deformation_stiffness
from framecheck.frame.freedoms import EndReleases
from framecheck.frame.precomputed import BY, PAIRS, WAYS, Alike, PrecomputedParts
from framecheck.frame.supports import Links
from framecheck.frame.warping import HELD, WarpTies
from framecheck.model.arrays import Array, IntArray


def moved_on(numbers: IntArray, count: int, by: int) -> IntArray:
    """Return numbers (n, ...) `count` times one after another, each time `by` further on; HELD stays."""
    step = by * np.arange(count).reshape(-1, *(1,) * numbers.ndim)
    return np.where(numbers == HELD, HELD, numbers + step).reshape(-1, *numbers.shape[1:])


def repeated(values: Array, count: int) -> Array:
    """Return values (n, ...) `count` times one after another."""
    return np.tile(values, (count, *(1,) * (values.ndim - 1)))


def tiled_pieces(pieces: Pieces, count: int) -> Pieces:
    """Return the pieces of `count` copies; sections are numbered on, members keep their numbers."""
    return replace(
        pieces,
        member=np.tile(pieces.member, count),
        section=moved_on(pieces.section, count, len(pieces.keys)),
        nodes=moved_on(pieces.nodes, count, len(pieces.places)),
        arms=repeated(pieces.arms, count),
        base=np.tile(pieces.base, count),
        origin=repeated(pieces.origin, count),
        places=repeated(pieces.places, count),
        angle=np.tile(pieces.angle, count),
        mirrored=np.tile(pieces.mirrored, count),
    )


def tiled_ties(ties: WarpTies, pieces: Pieces, beams: Beams, count: int) -> WarpTies:
    """Return the ties of `count` copies; pieces: of one copy, beams: of all. Steps follow the copies' own shear centres."""
    step = repeated(ties.step, count)
    follows = np.flatnonzero(np.tile(np.append(False, pieces.member[1:] == pieces.member[:-1]), count))
    here = follows[ties.step[follows % pieces.count, 0].any(axis=1) & ~ties.step[follows % pieces.count, 1].any(axis=1)]
    moved = beams.pole[here] - beams.pole[here - 1]
    step[here, 0, 1], step[here, 0, 2] = -moved[:, 1], -moved[:, 0]
    tie = moved_on(ties.tie, count, len(ties.springs))
    return WarpTies(tie, repeated(ties.factor, count), step, np.tile(ties.springs, count))


def tiled_slips(slips: EndReleases, pieces: int, count: int) -> EndReleases:
    """Return the slips of `count` copies of so many pieces."""
    return EndReleases(
        piece=moved_on(slips.piece, count, pieces),
        end=np.tile(slips.end, count),
        way=np.tile(slips.way, count),
        axis=repeated(slips.axis, count),
        stiffness=np.tile(slips.stiffness, count),
        off=repeated(slips.off, count),
    )


def tiled_links(links: Links, nodes: int, count: int) -> Links:
    """Return the springs between points of `count` copies of so many nodes."""
    at = moved_on(links.nodes, count, nodes)
    return replace(links, nodes=at, rows=repeated(links.rows, count), stiffness=np.tile(links.stiffness, count))


def plain_chunk(plain: PrecomputedParts, tables: Array, forces: Array) -> Array:
    """Fill the section forces (v, m, k, 9) of some variants (v, n_key, 14); return their free unknowns (f, v, k)."""
    like = _kinds(plain, tables)
    stiff = deformation_stiffness(like)[:, WAYS, BY].reshape(len(tables), -1, len(PAIRS))
    made = _made(plain, like, tables)
    passed = -_resisted(plain.alike, stiff, made)
    moved = _moved(plain, tables, stiff, passed)
    free = len(moved)
    made += (plain.strain.reshape(-1, free) @ moved.reshape(free, -1)).reshape(made.shape)
    _fill(plain, tables, _resisted(plain.alike, stiff, made), forces)
    return moved


def _kinds(plain: PrecomputedParts, tables: Array) -> Beams:
    """Return one piece of each kind in every variant as a beam, variant by variant."""
    pieces, first = plain.base.structure.pieces, plain.alike.first
    names = ("member", "section", "nodes", "arms", "base", "origin", "angle", "mirrored")
    some = replace(pieces, **{name: getattr(pieces, name)[first] for name in names})
    members = [member.name for member in plain.base.structure.frame.members]
    return beams_of(tiled_pieces(some, len(tables)), tables.reshape(-1, tables.shape[2]), members)


def _made(plain: PrecomputedParts, like: Beams, tables: Array) -> Array:
    """Return the deformations (n, 8, v, k) that are not made yet while all free unknowns rest: less what loads make."""
    count, kinds = len(tables), plain.alike.of
    made = np.repeat(plain.start[:, :, None], count, axis=2)
    mass = like.mass.reshape(count, -1)
    for acting, times in ((plain.acting, np.ones_like(mass)), (plain.weight, mass)):
        if acting is None or not acting.strain.any():
            continue

        def take(factor: Array, strain: Array, way: int, times: Array = times) -> None:
            if factor.any() and strain.any():
                made[:, way] -= (factor.reshape(count, -1) * times).T[kinds, :, None] * strain[:, None]

        take(1 / like.stretch, acting.strain[0, :, 0], 0)
        take(1 / like.twist, acting.strain[0, :, 5], 5)
        for soft, answers in ((like.flexibility, acting.strain[:2]), (like.slip, acting.strain[2:])):
            for way in (1, 2, 3, 4):
                plane = (way - 1) % 2
                take(soft[:, plane, plane], answers[0, :, way], way)
                take(soft[:, 0, 1], answers[1, :, way], way)
    return made


def _resisted(alike: Alike, stiff: Array, made: Array) -> Array:
    """Return the forces (n, 8, v, k) of deformations made (n, 8, v, k); stiff (v, g, pair): of each kind."""
    found = np.zeros_like(made)
    for pair, (way, by) in enumerate(PAIRS):
        if stiff[:, :, pair].any():
            found[:, way] += stiff[:, :, pair].T[alike.of, :, None] * made[:, by]
    return found


def _moved(plain: PrecomputedParts, tables: Array, stiff: Array, passed: Array) -> Array:
    """Return the free unknowns (f, v, k); passed (n, 8, v, k): what the pieces' stiffness passes on to them."""
    count, free, cases = len(tables), len(plain.fixed), passed.shape[3]
    used = stiff.any(axis=0)
    matrices = stiff[:, used] @ plain.parts[used]
    matrices += plain.fixed.reshape(-1)
    right = (plain.strain.reshape(-1, free).T @ passed.reshape(-1, count * cases)).reshape(free, count, cases)
    right += plain.right[:, None]
    if len(plain.weight_right):
        right += np.tensordot(tables[:, :, 12], plain.weight_right, 1).transpose(1, 0, 2)
    moved = np.linalg.solve(matrices.reshape(count, free, free), right.transpose(1, 0, 2))
    return np.ascontiguousarray(moved.transpose(1, 0, 2))


def _fill(plain: PrecomputedParts, tables: Array, made: Array, forces: Array) -> None:
    """Fill the section forces (v, m, k, 9) from the forces of the deformations (n, 8, v, k)."""
    piece = plain.base.stations.piece
    ends = np.searchsorted(piece, np.arange(len(made) + 1)).tolist()
    for own, low, high in zip(made, ends[:-1], ends[1:], strict=True):
        by_case = np.ascontiguousarray(own.transpose(1, 2, 0))
        here = forces[:, low:high]
        np.matmul(by_case[:, None], plain.rows[low:high], out=here)
        here += plain.acting.within[low:high]
    if plain.weight is not None:
        mass = tables[:, plain.base.structure.pieces.section[piece], 12]
        forces += mass[:, :, None, None] * plain.weight.within
