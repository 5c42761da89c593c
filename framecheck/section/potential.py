"""The Laplace problem over a section: one factorisation for warping, shear and warping shear, another for the stress function."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.elements import VALUES, Elements, contracted
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csc_array


@array_class
class Potential:
    """A factorised Laplace operator with one node of each separate body held.

    solve: loads (n, k) that balance on each body to potentials (n, k), zero at the held nodes.
    """

    elements: Elements
    solve: Callable[[Array], Array]

    def flow(self, potential: Array) -> Array:
        """Return the gradient at the sampling points, (m, 6, 2, ...), of potentials (n, ...)."""
        return contracted("mgid,mi...->mgd...", self.elements.slopes(), potential[self.elements.ids])

    def values(self, potential: Array) -> Array:
        """Return potentials (n, ...) at the sampling points, (m, 6, ...)."""
        return contracted("gi,mi...->mg...", VALUES, potential[self.elements.ids])


def laplace_matrix(elements: Elements, conducts: Array) -> csc_array:
    """Return the matrix of integrals of c grad N_i . grad N_j, (n, n); conducts (m,): c of each triangle."""
    from scipy.sparse import coo_array

    slopes = elements.slopes()
    weighted = slopes * (elements.weights * conducts[:, None])[:, :, None, None]
    blocks = contracted("mgid,mgjd->mij", weighted, slopes)
    rows = np.repeat(elements.ids, 6, axis=1).ravel()
    columns = np.tile(elements.ids, (1, 6)).ravel()
    n = len(elements.nodes)
    return coo_array((blocks.ravel(), (rows, columns)), shape=(n, n)).tocsc()


def factorised(matrix: csc_array) -> Callable[[Array], Array]:
    """Return a solver for a symmetric positive definite matrix."""
    from scipy.sparse.linalg import splu

    ordering = {"SymmetricMode": True}
    factors = splu(matrix, permc_spec="MMD_AT_PLUS_A", options=ordering, diag_pivot_thresh=0.0)
    solve: Callable[[Array], Array] = factors.solve
    return solve


def potential_of(elements: Elements, matrix: csc_array, held: IntArray) -> Potential:
    """Return the problem with natural borders; held: one node of each separate body."""
    n = len(elements.nodes)
    free = np.setdiff1d(np.arange(n), held)
    inner = factorised(matrix[free][:, free].tocsc())

    def solve(loads: Array) -> Array:
        answer = np.zeros_like(loads)
        answer[free] = inner(loads[free])
        return answer

    return Potential(elements, solve)


def one_node_each(elements: Elements, body: IntArray) -> IntArray:
    """Return one node of each body; body (m,) numbers each triangle's."""
    _, first = np.unique(body, return_index=True)
    nodes: IntArray = elements.ids[first, 0]
    return nodes


def assembled(elements: Elements, blocks: Array) -> Array:
    """Return element loads (m, 6, k) summed at the nodes, (n, k)."""
    n, k = len(elements.nodes), blocks.shape[2]
    flat = elements.ids.ravel()
    return np.stack([np.bincount(flat, blocks[:, :, i].ravel(), n) for i in range(k)], axis=1)


def load_from(elements: Elements, flow: Array, source: Array) -> Array:
    """Return the loads of integral (grad N . flow + N source); flow (m, 6, 2, k), source (m, 6, k)."""
    weights = elements.weights
    blocks = contracted("mg,mgid,mgdk->mik", weights, elements.slopes(), flow)
    blocks += contracted("mg,gi,mgk->mik", weights, VALUES, source)
    return assembled(elements, blocks)
