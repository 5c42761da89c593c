"""Copies of a frame laid beside each other: pieces, ties, slips and links with their numbers moved on. SI."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams
from framecheck.frame.freedoms import Slips
from framecheck.frame.links import Links
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


def tiled_slips(slips: Slips, pieces: int, count: int) -> Slips:
    """Return the slips of `count` copies of so many pieces."""
    return Slips(
        piece=moved_on(slips.piece, count, pieces),
        end=np.tile(slips.end, count),
        way=np.tile(slips.way, count),
        axis=repeated(slips.axis, count),
        stiffness=np.tile(slips.stiffness, count),
    )


def tiled_links(links: Links, nodes: int, count: int) -> Links:
    """Return the springs between points of `count` copies of so many nodes."""
    at = moved_on(links.nodes, count, nodes)
    return replace(links, nodes=at, rows=repeated(links.rows, count), stiffness=np.tile(links.stiffness, count))
