"""The rim of a meshed section: its outside and the edges of its voids, and the lower bound of the torsion constant from them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.elements import SIDES, VALUES, Elements, contracted
from framecheck.section.potential import assembled, factorised
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csc_array


@array_class
class Rim:
    """sides (s, 3): start, middle and end node of each side on the rim, material on the left; loop (s,): which loop it is of;
    enclosed (loops,): area inside each loop, mm2, negative for a void.
    """

    sides: IntArray
    loop: IntArray
    enclosed: Array

    @property
    def voids(self) -> IntArray:
        """Return the loops that are the edges of voids."""
        return np.flatnonzero(self.enclosed < 0)


def rim_of(elements: Elements) -> Rim:
    """Return the sides that belong to one triangle only, in loops."""
    all_sides = np.concatenate([elements.ids[:, [i, 3 + k, j]] for k, (i, j) in enumerate(SIDES)])
    _, first, count = np.unique(all_sides[:, 1], return_index=True, return_counts=True)
    sides = all_sides[first[count == 1]]
    loop = _loops(sides, len(elements.nodes))
    start, end = elements.nodes[sides[:, 0]], elements.nodes[sides[:, 2]]
    sector = (start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0]) / 2
    return Rim(sides, loop, np.asarray(np.bincount(loop, sector), dtype=np.float64))


def _loops(sides: IntArray, n: int) -> IntArray:
    """Return the loop number of each side, by following each to the next, doubling the stride."""
    following = np.arange(n, dtype=np.int64)
    following[sides[:, 0]] = sides[:, 2]
    label = np.arange(n)
    for _ in range(int(np.ceil(np.log2(max(len(sides), 2)))) + 1):
        label = np.minimum(label, label[following])
        following = following[following]
    _, loop = np.unique(label[sides[:, 0]], return_inverse=True)
    return loop.astype(np.int64)


def torsion_lower_bound(elements: Elements, matrix: csc_array, rim: Rim) -> float:
    """Return the torsion constant from the stress function, mm4, never above the true one.

    L. Prandtl (1903): Poisson's equation, zero on the outside and a constant on the edge of each void; J = twice its volume.
    The minimum of the complementary energy (I. S. Sokolnikoff, Mathematical Theory of Elasticity, chapter 4, from memory).
    matrix: of what yields to shear, 1 / shear modulus.
    """
    from scipy.sparse import coo_array

    unknown = _unknowns(elements, rim)
    known = unknown >= 0
    n = int(unknown.max()) + 1
    place = coo_array(
        (np.ones(int(known.sum())), (np.flatnonzero(known), unknown[known])), shape=(len(unknown), n)
    ).tocsc()
    load: Array = np.asarray(place.T @ _volume_load(elements), dtype=np.float64)
    load[n - len(rim.voids) :] -= 2 * rim.enclosed[rim.voids]
    return float(load @ factorised((place.T @ matrix @ place).tocsc())(load))


def _unknowns(elements: Elements, rim: Rim) -> IntArray:
    """Return the unknown of each node: its own inside, one for each void (the last ones), -1 on the outside."""
    inside = np.ones(len(elements.nodes), dtype=np.bool_)
    inside[rim.sides] = False
    unknown = np.full(len(elements.nodes), -1, dtype=np.int64)
    unknown[inside] = np.arange(int(inside.sum()))
    for i, void in enumerate(rim.voids):
        unknown[rim.sides[rim.loop == void]] = int(inside.sum()) + i
    return unknown


def _volume_load(elements: Elements) -> Array:
    """Return twice the integral of each shape function, (n,)."""
    blocks = 2 * contracted("mg,gi->mi", elements.weights, VALUES)
    return assembled(elements, blocks[..., None])[:, 0]
