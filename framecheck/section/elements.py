"""Six-node triangles, the Laplace problem solved on them, and how a meshed section stretches and bends. mm.

Node order: corners 0, 1, 2, then the middles of sides 0-1, 1-2, 2-0. O. C. Zienkiewicz and R. L. Taylor, The Finite Element
Method, vol. 1, quadratic triangle; sampling points: D. A. Dunavant, Int. J. Num. Meth. Eng. 21 (1985), degree 4 (both from memory;
the rule is checked against exact integrals in the tests).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.parts import TriangleMesh
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csc_array


_A, _B = 0.445948490915965, 0.091576213509771
POINTS = np.array([np.roll([1 - 2 * _c, _c, _c], _i) for _c in (_A, _B) for _i in range(3)])
"""(6, 3) area coordinates of the sampling points."""
WEIGHTS = np.array([0.223381589678011] * 3 + [0.109951743655322] * 3)
"""(6,) shares of the triangle's area."""
CORNERS = np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1], [0.5, 0.5, 0], [0, 0.5, 0.5], [0.5, 0, 0.5]])
"""(6, 3) area coordinates of the nodes."""
SIDES = ((0, 1), (1, 2), (2, 0))


def contracted(subscripts: str, *arrays: Array) -> Array:
    """Return numpy's einsum, typed."""
    result: Array = np.einsum(subscripts, *arrays)
    return result


def values_at(at: Array) -> Array:
    """Return the six shape functions at area coordinates (k, 3): (k, 6)."""
    corners = at * (2 * at - 1)
    middles = np.stack([4 * at[:, i] * at[:, j] for i, j in SIDES], axis=1)
    return np.concatenate([corners, middles], axis=1)


def slopes_at(at: Array) -> Array:
    """Return the derivatives of the shape functions by the area coordinates at (k, 3): (k, 6, 3)."""
    slopes = np.zeros((len(at), 6, 3))
    for i in range(3):
        slopes[:, i, i] = 4 * at[:, i] - 1
    for side, (i, j) in enumerate(SIDES):
        slopes[:, 3 + side, i] = 4 * at[:, j]
        slopes[:, 3 + side, j] = 4 * at[:, i]
    return slopes


VALUES = values_at(POINTS)
SLOPES = slopes_at(POINTS)
NODE_SLOPES = slopes_at(CORNERS)


@array_class
class Elements:
    """Six-node triangles: nodes (n, 2) in mm, ids (m, 6), part (m,), area (m,) mm2, steepness (m, 3, 2) of the area coordinates.

    young, rigid (m,): Young's and shear modulus over those that the whole is referred to; ones where there is one metal.
    """

    nodes: Array
    ids: IntArray
    part: IntArray
    area: Array
    steepness: Array
    young: Array
    rigid: Array

    @property
    def weights(self) -> Array:
        """Return the area that each sampling point stands for, (m, 6), mm2."""
        weights: Array = self.area[:, None] * WEIGHTS
        return weights

    @property
    def stretching(self) -> Array:
        """Return the area of each sampling point as it resists stretching (transformed section), (m, 6), mm2."""
        weights: Array = (self.area * self.young)[:, None] * WEIGHTS
        return weights

    @property
    def at(self) -> Array:
        """Return the sampling points, (m, 6, 2), mm."""
        corners: Array = self.nodes[self.ids[:, :3]]
        return contracted("gk,mkd->mgd", POINTS, corners)

    def slopes(self, table: Array = SLOPES) -> Array:
        """Return the shape functions' derivatives by y and z, (m, k, 6, 2), 1/mm."""
        return contracted("gik,mkd->mgid", table, self.steepness)

    def integral(self, values: Array) -> Array:
        """Return the integral of values (m, 6, ...) at the sampling points over the section."""
        return contracted("mg,mg...->...", self.weights, values)

    def stretched(self, values: Array) -> Array:
        """Return the integral of values (m, 6, ...) over the transformed section: each part counts by its Young's modulus."""
        return contracted("mg,mg...->...", self.stretching, values)


def joined_elements(mesh: TriangleMesh) -> Elements:
    """Return six-node triangles that share nodes wherever parts touch."""
    return _elements(mesh.points, mesh.triangles, mesh.part)


def parted_elements(mesh: TriangleMesh) -> Elements:
    """Return six-node triangles whose parts have nodes of their own where they touch."""
    keys = mesh.triangles + (mesh.part * len(mesh.points))[:, None]
    own, triangles = np.unique(keys, return_inverse=True)
    return _elements(mesh.points[own % len(mesh.points)], triangles.reshape(-1, 3).astype(np.int64), mesh.part)


def _elements(points: Array, triangles: IntArray, part: IntArray) -> Elements:
    """Return three-node triangles with a node added in the middle of each side."""
    pairs = np.sort(triangles[:, np.array(SIDES)].reshape(-1, 2), axis=1)
    _, first, middle = np.unique(pairs[:, 0] * len(points) + pairs[:, 1], return_index=True, return_inverse=True)
    sides = pairs[first]
    nodes = np.concatenate([points, points[sides].mean(axis=1)])
    ids = np.concatenate([triangles, middle.reshape(-1, 3) + len(points)], axis=1).astype(np.int64)
    area, steepness = _shape(points[triangles])
    return Elements(nodes, ids, part, area, steepness, np.ones(len(part)), np.ones(len(part)))


def _shape(corners: Array) -> tuple[Array, Array]:
    """Return area (m,) and derivatives of the area coordinates (m, 3, 2) from corners (m, 3, 2)."""
    opposite = np.roll(corners, -2, axis=1) - np.roll(corners, -1, axis=1)
    u, v = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    doubled = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    steepness = np.stack([-opposite[..., 1], opposite[..., 0]], axis=-1) / doubled[:, None, None]
    return doubled / 2, steepness


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


@array_class
class StrainPlane:
    """The plane that stays plane, over one body or several that each keep a plane of their own; of the transformed section where
    metals differ (each part counts by its Young's modulus).

    area: mm2; centroid (2,): of all, mm; body (m,): each triangle's body; own (bodies, 2): each body's centroid from `centroid`;
    moments (2, 2): integrals of yy, yz, zy, zz about the body's own centroid, summed, mm4.
    """

    area: float
    centroid: Array
    body: IntArray
    own: Array
    moments: Array

    def local(self, elements: Elements) -> Array:
        """Return the sampling points measured from the centroid of their body, (m, 6, 2)."""
        local: Array = elements.at - self.centroid - self.own[self.body][:, None, :]
        return local

    def bending(self) -> Array:
        """Return the inverse of the moments: slopes of stress (along y, along z) by unit moment (Ms, Mv), 1/mm4, (2, 2)."""
        return np.asarray(np.linalg.inv(self.moments), dtype=np.float64)


def plane_of(elements: Elements, body: IntArray) -> StrainPlane:
    """Return the plane of bodies numbered by triangle; all zeros: one plane for the whole."""
    area = float((elements.area * elements.young).sum())
    centroid = elements.stretched(elements.at) / area
    from_middle = elements.at - centroid
    first = _by_body(elements, body, from_middle)
    own = first / np.bincount(body, elements.area * elements.young)[:, None]
    local = from_middle - own[body][:, None, :]
    moments = elements.stretched(local[..., :, None] * local[..., None, :])
    return StrainPlane(area, centroid, body, own, moments)


def _by_body(elements: Elements, body: IntArray, values: Array) -> Array:
    """Return the integrals over each body of the transformed section, (bodies, k), of values (m, 6, k) at the sampling points."""
    sums = contracted("mg,mgk->mk", elements.stretching, values)
    return np.stack([np.bincount(body, sums[:, k]) for k in range(values.shape[2])], axis=1)


def body_means(elements: Elements, body: IntArray, values: Array) -> Array:
    """Return the mean of values (m, 6) at the sampling points over each body, (bodies,)."""
    return _by_body(elements, body, values[..., None])[:, 0] / np.bincount(body, elements.area * elements.young)
