"""One direction of a rectangular plate: where its mesh lines run, and what its elements' shape functions give there.

A rectangle of conforming bicubic elements (Bogner, Fox and Schmit) is a product of two lines of cubic Hermite elements, so every
matrix of the plate is a product of the small matrices here. The shape functions are scikit-fem's (ElementLineHermite, ElementLineP2).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np

from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.value_class import array_class

SAME = 1e-3  # of the length: lines nearer than this are one line; closer ones would cost more digits than they place better


@array_class
class Line:
    """A line of n - 1 elements with `nodes` (n,), m, and g Gauss points with weights (g,), m, at `gauss` (g,), m.

    value, slope, bend (g, 2n): of the Hermite functions at the Gauss points; freedom 2i is the value, 2i + 1 the slope at
    node i. node_bend (n, 2n): second derivative at the nodes, mean of both sides.
    flat_value, flat_slope (g, 2n - 1): of the quadratic functions, nodes and middles in order; flat_nodes (2n - 1,): where;
    node_flat_slope (n, 2n - 1): their slope at the nodes, mean of both sides.
    """

    nodes: Array
    gauss: Array
    weights: Array
    value: Array
    slope: Array
    bend: Array
    node_bend: Array
    flat_nodes: Array
    flat_value: Array
    flat_slope: Array
    node_flat_slope: Array

    def index(self, at: float) -> int:
        """Return the node at a place (m)."""
        return int(np.argmin(np.abs(self.nodes - at)))

    @property
    def node_value(self) -> Array:
        """Return the matrix (n, 2n) that picks the values at the nodes."""
        return np.asarray(np.eye(2 * len(self.nodes))[::2])

    @property
    def node_slope(self) -> Array:
        """Return the matrix (n, 2n) that picks the slopes at the nodes."""
        return np.asarray(np.eye(2 * len(self.nodes))[1::2])

    def weighed(self, left: Array, right: Array, share: Array | None = None) -> Array:
        """Return the integral of left times right over the line, or over the share (g,) of it."""
        weights = self.weights if share is None else self.weights * share
        return np.asarray(left.T @ (weights[:, None] * right))

    def mean_over(self, at: float, size: float) -> Array:
        """Return what the mean over a stretch about a place (m) is of the unknowns, shape (2n,); a stretch that the mesh
        does not see is a point.
        """
        share = self.weights * self.within(at - size / 2, at + size / 2)
        total = float(share.sum())
        return np.asarray(self.value.T @ share / total if total > 0 else self.node_value[self.index(at)])

    def value_at(self, place: float) -> Array:
        """Return what the value at a place (m) is of the unknowns, shape (2n,): cubic Hermite functions."""
        n = int(np.clip(np.searchsorted(self.nodes, place, side="right") - 1, 0, len(self.nodes) - 2))
        size = float(self.nodes[n + 1] - self.nodes[n])
        s = (place - float(self.nodes[n])) / size
        found = np.zeros(2 * len(self.nodes))
        found[2 * n : 2 * n + 4] = (
            1 - 3 * s**2 + 2 * s**3, size * s * (1 - s) ** 2, 3 * s**2 - 2 * s**3, size * s**2 * (s - 1),
        )  # fmt: skip
        return found

    def within(self, start: float, end: float) -> Array:
        """Return 1 at the Gauss points between start and end (m), else 0, shape (g,)."""
        return np.asarray((self.gauss > start) & (self.gauss < end), dtype=np.float64)


def line_places(length: float, exact: Iterable[float], near: Iterable[float], pieces: int) -> tuple[float, ...]:
    """Return mesh lines (m): the ends, all exact places, those near ones that crowd no other, none further apart than
    length / pieces.
    """
    places = [0.0, length]
    for place in exact:
        if min(abs(place - other) for other in places) > SAME * length:
            places.append(place)
    for place in near:
        if 0 < place < length and min(abs(place - other) for other in places) > length / (8 * pieces):
            places.append(place)
    places.sort()
    filled = [np.linspace(a, b, max(int(np.ceil((b - a) * pieces / length - 1e-6)), 1) + 1)[:-1]
              for a, b in pairwise(places)]  # fmt: skip
    return (*(float(place) for place in np.concatenate(filled)), length)


@lru_cache(maxsize=32)
def line_of(places: tuple[float, ...]) -> Line:
    """Return the line through the places (m, rising)."""
    from skfem import Basis, ElementLineHermite, ElementLineP2, MeshLine

    nodes = np.array(places)
    mesh = MeshLine(nodes)
    cubic = Basis(mesh, ElementLineHermite(), intorder=6)
    quadratic = Basis(mesh, ElementLineP2(), quadrature=cubic.quadrature)
    order = np.concatenate([2 * np.arange(len(nodes)), 2 * np.arange(len(nodes) - 1) + 1])
    value, slope, bend = (_at_gauss(cubic, what, np.arange(cubic.N)) for what in (np.asarray, _grad, _hess))
    flat_value, flat_slope = (_at_gauss(quadratic, what, order) for what in (np.asarray, _grad))
    arrays = (
        nodes, np.asarray(cubic.global_coordinates())[0].ravel(), cubic.dx.ravel(), value, slope, bend, _node_bend(nodes),
        _with_middles(nodes), flat_value, flat_slope, _node_flat_slope(nodes),
    )  # fmt: skip
    return Line(*(frozen(np.asarray(array, dtype=np.float64)) for array in arrays))


def _grad(field: Any) -> Array:
    return np.asarray(field.grad)


def _hess(field: Any) -> Array:
    return np.asarray(field.hess)


def _at_gauss(basis: Any, what: Callable[[Any], Array], order: IntArray) -> Array:
    """Return the values or a derivative of all functions at all Gauss points (g, n), columns renumbered by `order`."""
    functions, freedoms = basis.basis, basis.element_dofs
    elements, points = basis.dx.shape
    found = np.zeros((elements * points, basis.N))
    rows = np.arange(elements * points).reshape(elements, points)
    for function, columns in zip(functions, freedoms, strict=True):
        given = what(function[0]).reshape(elements, points)
        found[rows, order[columns][:, None]] = given
    return found


def _with_middles(nodes: Array) -> Array:
    """Return nodes and element middles in order."""
    every = np.empty(2 * len(nodes) - 1)
    every[::2], every[1::2] = nodes, (nodes[1:] + nodes[:-1]) / 2
    return every


def _mean_of_sides(count: int, left: list[Array], right: list[Array], width: int, step: int) -> Array:
    """Return rows (count, width): at each node the mean of what the elements on its two sides give at their ends."""
    rows, given = np.zeros((count, width)), np.zeros(count)
    for e, (at_start, at_end) in enumerate(zip(left, right, strict=True)):
        columns = slice(step * e, step * e + len(at_start))
        rows[e, columns] += at_start
        rows[e + 1, columns] += at_end
        given[e : e + 2] += 1
    return np.asarray(rows / given[:, None])


def _node_bend(nodes: Array) -> Array:
    """Return second derivatives at the nodes. Cubic Hermite functions: w'' = (-6, -4h, 6, -2h) / h2 at the start."""
    sizes = np.diff(nodes)
    starts = [np.array([-6.0, -4 * h, 6.0, -2 * h]) / h**2 for h in sizes]
    ends = [np.array([6.0, 2 * h, -6.0, 4 * h]) / h**2 for h in sizes]
    return _mean_of_sides(len(nodes), starts, ends, 2 * len(nodes), 2)


def _node_flat_slope(nodes: Array) -> Array:
    """Return slopes at the nodes. Quadratic functions: u' = (-3, 4, -1) / h at the start."""
    sizes = np.diff(nodes)
    starts = [np.array([-3.0, 4.0, -1.0]) / h for h in sizes]
    ends = [np.array([1.0, -4.0, 3.0]) / h for h in sizes]
    return _mean_of_sides(len(nodes), starts, ends, 2 * len(nodes) - 1, 2)
