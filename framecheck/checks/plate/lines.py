"""One direction of a rectangular plate: where its mesh lines run, and what its elements' shape functions give there.

A rectangle of conforming bicubic elements (Bogner, Fox and Schmit) is a product of two lines of cubic Hermite elements, so every
matrix of the plate is a product of the small matrices here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from itertools import pairwise

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.value_class import array_class

SAME = 1e-3  # of the length: lines nearer than this are one line; closer ones would cost more digits than they place better


SMALL = 1e-9  # of the length: a stretch below it is a point
HALVES = (0.5 - 0.5 / 3**0.5, 0.5 + 0.5 / 3**0.5)  # Gauss points of a cubic, of equal weight


@array_class
class PlateLine:
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
        """Return what the mean over a stretch about a place (m) is of the unknowns, shape (2n,), whatever lines the mesh has; a
        stretch without length is a point.
        """
        low, high = np.clip([at - size / 2, at + size / 2], self.nodes[0], self.nodes[-1])
        inner = self.nodes[(self.nodes > low) & (self.nodes < high)]
        cuts = np.concatenate([[low], inner, [high]])
        if high - low < SMALL * float(self.nodes[-1] - self.nodes[0]):
            return self.value_at(at)
        parts = ((a + (b - a) * share, (b - a) / 2) for a, b in pairwise(cuts) for share in HALVES)
        return np.asarray(sum(weight * self.value_at(float(place)) for place, weight in parts) / (high - low))

    def value_at(self, place: float) -> Array:
        """Return what the value at a place (m) is of the unknowns, shape (2n,)."""
        return self._at(place, hermite)

    def slope_at(self, place: float) -> Array:
        """Return what the slope at a place (m) is of the unknowns, shape (2n,)."""
        return self._at(place, hermite_slope)

    def element_at(self, place: float) -> int:
        """Return the number of the element that a place (m) lies in."""
        return int(np.clip(np.searchsorted(self.nodes, place, side="right") - 1, 0, len(self.nodes) - 2))

    def _at(self, place: float, function: Callable[[Array, Array], Array]) -> Array:
        n = self.element_at(place)
        size = self.nodes[n + 1] - self.nodes[n]
        found = np.zeros(2 * len(self.nodes))
        found[2 * n : 2 * n + 4] = function(np.array((place - self.nodes[n]) / size), size)
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


@lru_cache(maxsize=64)
def line_of(places: tuple[float, ...]) -> PlateLine:
    """Return the line through the places (m, rising), four Gauss points an element."""
    nodes = np.array(places)
    points, weights = np.polynomial.legendre.leggauss(4)
    share, sizes = (points + 1) / 2, np.diff(nodes)[:, None]
    arrays = (
        nodes, (nodes[:-1, None] + sizes * share).ravel(), (sizes * weights / 2).ravel(),
        *(_by_element(each(share, sizes)) for each in (hermite, hermite_slope, hermite_bend)), _node_bend(nodes),
        _with_middles(nodes), *(_by_element(each(share, sizes)) for each in (quadratic, quadratic_slope)), _node_flat_slope(nodes),
    )  # fmt: skip
    return PlateLine(*(frozen(each) for each in arrays))


def hermite(s: Array, h: Array) -> Array:
    """Return the cubic Hermite functions at shares s of elements of size h, shape (..., 4): value and slope at start, at end."""
    return _together(1 - 3 * s**2 + 2 * s**3, h * s * (1 - s) ** 2, 3 * s**2 - 2 * s**3, h * s**2 * (s - 1))


def hermite_slope(s: Array, h: Array) -> Array:
    """Return their first derivatives, 1/m."""
    return _together(6 * (s**2 - s) / h, 1 - 4 * s + 3 * s**2, 6 * (s - s**2) / h, 3 * s**2 - 2 * s)


def hermite_bend(s: Array, h: Array) -> Array:
    """Return their second derivatives, 1/m2."""
    return _together((12 * s - 6) / h**2, (6 * s - 4) / h, (6 - 12 * s) / h**2, (6 * s - 2) / h)


def quadratic(s: Array, h: Array) -> Array:
    """Return the quadratic functions of start, middle and end, shape (..., 3)."""
    return _together((1 - s) * (1 - 2 * s), 4 * s * (1 - s), s * (2 * s - 1) + 0 * h)


def quadratic_slope(s: Array, h: Array) -> Array:
    """Return their first derivatives, 1/m."""
    return _together((4 * s - 3) / h, (4 - 8 * s) / h, (4 * s - 1) / h)


def _together(*parts: Array) -> Array:
    return np.stack(np.broadcast_arrays(*parts), axis=-1)


def _by_element(values: Array) -> Array:
    """Return functions (e, q, k) of each element at its own places as a matrix (e q, n) of all: two new ones an element."""
    elements, points, count = values.shape
    found = np.zeros((elements, points, 2 * elements + count - 2))
    columns = 2 * np.arange(elements)[:, None] + np.arange(count)
    found[np.arange(elements)[:, None, None], np.arange(points)[:, None], columns[:, None, :]] = values
    return found.reshape(elements * points, -1)


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
