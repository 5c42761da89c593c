"""A frame that hangs on nothing: held without force at three places, then measured from the mean plane through its points. SI."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, IntArray

BALANCED = 1e-6
"""Largest residual, of the loads' own size, with which loads count as balanced."""

SLENDER = 1e-6  # area of a triangle over its longest side squared, below which three points lie in one line


def rigid_moves(places: Array) -> Array:
    """Return (n, 3, 6): displacements of places (n, 3) when all moves by one along, or one about, each axis."""
    n = len(places)
    moves = np.zeros((n, 3, 6))
    moves[:, :, :3] = np.eye(3)
    x, y, z = places.T
    moves[:, 1, 3], moves[:, 2, 3] = -z, y
    moves[:, 0, 4], moves[:, 2, 4] = z, -x
    moves[:, 0, 5], moves[:, 1, 5] = -y, x
    return moves


def three_far_apart(places: Array) -> IntArray | None:
    """Return three places (of n) that span a wide triangle; None where all lie in one line."""
    if len(places) < 3:
        return None
    first = int(np.argmax(np.sum((places - places.mean(axis=0)) ** 2, axis=1)))
    from_first = places - places[first]
    second = int(np.argmax(np.sum(from_first**2, axis=1)))
    areas = np.linalg.norm(np.cross(from_first, from_first[second]), axis=1)
    third = int(np.argmax(areas))
    longest = float(from_first[second] @ from_first[second])
    if longest == 0 or areas[third] < SLENDER * longest:
        return None
    return np.array([first, second, third], dtype=np.int64)


def isostatic(places: Array, nodes: IntArray) -> IntArray:
    """Return six unknowns of three nodes that just hold a rigid frame, as far from a mechanism as can be.

    Chosen one by one: the displacement that the rigid moves left free do most (Gram-Schmidt with pivoting).
    """
    rows = rigid_moves(places[nodes] - places[nodes].mean(axis=0))
    rows[:, :, 3:] /= np.abs(rows[:, :, 3:]).max()
    left: Array = rows.reshape(9, 6)
    chosen = []
    for _ in range(6):
        sizes: Array = np.sqrt(np.sum(left**2, axis=1))
        best = int(np.argmax(np.round(sizes, 9)))
        chosen.append(6 * int(nodes[best // 3]) + best % 3)
        along: Array = left[best] / sizes[best]
        left = left - (left @ along)[:, None] * along
    return np.array(chosen, dtype=np.int64)


def holding_nodes(places: Array, used: IntArray) -> IntArray:
    """Return three of the used nodes to hold a frame at; UnsolvableError where all lie in one line."""
    found = three_far_apart(places[used])
    if found is None:
        raise UnsolvableError("a frame that hangs on nothing must have three points off one line; all of its points lie in one")
    return used[found]


def from_mean_plane(moved: Array, places: Array, reference: IntArray) -> Array:
    """Return the rigid move (6,) of each column that best fits the displacements (n_node, 3, k) of the reference nodes, (6, k)."""
    rows = rigid_moves(places[reference]).reshape(-1, 6)
    fit: Array = np.linalg.pinv(rows) @ moved[reference].reshape(-1, moved.shape[2])
    return fit


def refuse_unbalanced(names: Sequence[str], balance: Array) -> None:
    """Raise where the loads of a case that hangs on nothing do not balance."""
    for name, residual in zip(names, balance.tolist(), strict=True):
        if not residual <= BALANCED:
            raise UnsolvableError(
                f"load case '{name}' hangs on nothing but its loads leave {residual:.1e} of their size unbalanced; "
                "add the missing force, or supports"
            )
