"""The frame's stiffness matrix from its pieces and links; small ones dense, without scipy, large ones sparse. SI."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from framecheck.frame.freedoms import NONE, Freedoms, Group
from framecheck.frame.links import Links
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csr_array

DENSE = 1000
"""Most unknowns of a dense matrix: up to here it is factorised in the time that importing a sparse solver takes."""


@array_class
class Blocks:
    """Small matrices (m, k, k) on unknowns (m, k), NONE where there is none."""

    freedoms: IntArray
    values: Array


def group_blocks(group: Group, stiffness: Array) -> Blocks:
    """Return a group's stiffness on its unknowns; stiffness (n, 8, 8) of all pieces' deformations."""
    return Blocks(group.freedoms, group.strain.transpose(0, 2, 1) @ (stiffness[group.pieces] @ group.strain))


def link_blocks(links: Links) -> Blocks:
    """Return the links' stiffness on their unknowns."""
    return Blocks(links.freedoms, links.stiffness[:, None, None] * links.rows[:, :, None] * links.rows[:, None, :])


def diagonal(freedoms: Freedoms) -> tuple[IntArray, Array]:
    """Return the springs that work on one unknown alone: rates of twist and slips."""
    first = 6 * freedoms.n_node
    own = np.concatenate((freedoms.ties.springs, freedoms.slips.stiffness))
    return first + np.arange(len(own)), own


def all_blocks(freedoms: Freedoms, stiffness: Array, links: Links) -> list[Blocks]:
    """Return everything that makes up the stiffness matrix."""
    unknowns, own = diagonal(freedoms)
    blocks = [group_blocks(group, stiffness) for group in freedoms.groups]
    return [*blocks, link_blocks(links), Blocks(unknowns[:, None], own[:, None, None])]


def dense_matrix(blocks: list[Blocks], count: int) -> Array:
    """Return the assembled matrix (count, count)."""
    size = count + 1  # the last row and column take what belongs to no unknown
    places, values = [], []
    for block in blocks:
        at = np.where(block.freedoms == NONE, count, block.freedoms)
        places.append((at[:, :, None] * size + at[:, None, :]).ravel())
        values.append(block.values.ravel())
    total = np.bincount(np.concatenate(places), np.concatenate(values), size * size).astype(np.float64, copy=False)
    return total.reshape(size, size)[:count, :count]


def sparse_matrix(blocks: list[Blocks], count: int) -> csr_array:
    """Return the assembled matrix (count, count), sparse."""
    from scipy.sparse import coo_array

    rows, columns, values = [], [], []
    for block in blocks:
        at = block.freedoms.astype(np.int32)
        there = np.broadcast_to((at[:, :, None] != NONE) & (at[:, None, :] != NONE), block.values.shape)
        keep = there & (block.values != 0.0)
        rows.append(np.broadcast_to(at[:, :, None], block.values.shape)[keep])
        columns.append(np.broadcast_to(at[:, None, :], block.values.shape)[keep])
        values.append(block.values[keep])
    parts = np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))
    return coo_array(parts, shape=(count, count)).tocsr()
