"""Stiffness of flat four-cornered shell elements, many at once; a triangle as three patches of them. SI.

Membrane: the five-parameter hybrid-stress quadrilateral (Pian and Sumihara 1984); as a rectangle exact in in-plane bending.
Bending: the mixed-interpolation four-node plate (Bathe and Dvorkin 1985); its transverse shear carries the residual
bending flexibility h^2/12D of MacNeal (1978), so a strip bent by end forces is exact whatever its length.
Drilling: each node's turn about the normal follows the element's mean spin through a weak spring.
(All three from memory; tests hold them to closed forms.)
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.model.arrays import Array, IntArray

SHEAR_CORRECTION = 5 / 6
DRILLING = 0.02  # share of the shear modulus; results change by under 1 % between 0.002 and 0.2
# Corners in the order (-1, -1), (1, -1), (-1, 1), (1, 1) of the element's own two coordinates.
XI = np.array([-1.0, 1.0, -1.0, 1.0])
ETA = np.array([-1.0, -1.0, 1.0, 1.0])
GAUSS = 1 / np.sqrt(3)
POINTS = tuple((a, b) for b in (-GAUSS, GAUSS) for a in (-GAUSS, GAUSS))
U, V, W, RX, RY, RZ = range(6)
IN_PLANE = np.array([6 * corner + way for corner in range(4) for way in (U, V)])
ACROSS = np.array([6 * corner + way for corner in range(4) for way in (W, RX, RY)])
SPUN = np.array([6 * corner + way for corner in range(4) for way in (U, V, RZ)])


class Plates(NamedTuple):
    """n quadrilaterals: corners (n, 4, 3) in m; wall in m; e in Pa; nu; each shape (n,)."""

    corners: Array
    wall: Array
    e: Array
    nu: Array


class FlatQuads(NamedTuple):
    """Quadrilaterals in their own planes: axes (n, 3, 3), rows along, across, normal; places (n, 4, 2) from the middle."""

    axes: Array
    places: Array


class Slopes(NamedTuple):
    """At one point of each element: jacobian (n, 2, 2), rows d(x, y)/dxi and d(x, y)/deta; area: its determinant (n,);
    of_x, of_y (n, 4): what each corner's value adds to the slopes."""

    jacobian: Array
    area: Array
    of_x: Array
    of_y: Array


def _dot(first: Array, second: Array) -> Array:
    found: Array = first.transpose(0, 2, 1) @ second
    return found


def _solved(of: Array, right: Array) -> Array:
    return np.linalg.solve(of, right).astype(np.float64, copy=False)


def _inverse(of: Array) -> Array:
    """Return the inverses of 2 x 2 matrices (n, 2, 2)."""
    (a, b), (c, d) = of.transpose(1, 2, 0)
    swapped: Array = np.stack((d, -b, -c, a), axis=-1) / (a * d - b * c)[:, None]
    return swapped.reshape(-1, 2, 2)


def flattened(corners: Array) -> FlatQuads:
    """Return the elements in the plane that their diagonals lie along."""
    along = corners[:, 1] + corners[:, 3] - corners[:, 0] - corners[:, 2]
    normal = np.cross(corners[:, 3] - corners[:, 0], corners[:, 2] - corners[:, 1])
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    along -= normal * np.sum(along * normal, axis=1)[:, None]
    along /= np.linalg.norm(along, axis=1)[:, None]
    axes = np.stack((along, np.cross(normal, along), normal), axis=1)
    off = corners - corners.mean(axis=1)[:, None]
    return FlatQuads(axes, np.einsum("nci,nai->nca", off, axes[:, :2]))


def _slopes(places: Array, xi: float, eta: float) -> Slopes:
    d_xi, d_eta = XI * (1 + ETA * eta) / 4, ETA * (1 + XI * xi) / 4
    jacobian = np.stack((d_xi @ places, d_eta @ places), axis=1)
    (a, b), (c, d) = jacobian[:, 0].T, jacobian[:, 1].T
    area = a * d - b * c
    of_x = (d[:, None] * d_xi - b[:, None] * d_eta) / area[:, None]
    of_y = (a[:, None] * d_eta - c[:, None] * d_xi) / area[:, None]
    return Slopes(jacobian, area, of_x, of_y)


def _strains(at: Slopes, ways: int, first: int, second: int, sign: float) -> Array:
    """Return rows (n, 3, 4 ways) of the strains xx, yy, xy of two fields, first and sign * second, of so many at each corner."""
    rows = np.zeros((len(at.area), 3, 4, ways))
    rows[:, 0, :, first] = rows[:, 2, :, second] = at.of_x
    rows[:, 1, :, second] = rows[:, 2, :, first] = at.of_y
    rows[:, :, :, second] *= sign
    return rows.reshape(-1, 3, 4 * ways)


def _elasticity(nu: Array) -> Array:
    """Return plane stress stiffness (n, 3, 3) per E/(1 - nu^2)."""
    found = np.zeros((len(nu), 3, 3))
    found[:, 0, 0] = found[:, 1, 1] = 1.0
    found[:, 0, 1] = found[:, 1, 0] = nu
    found[:, 2, 2] = (1 - nu) / 2
    return found


def _membrane(plates: Plates, flat: FlatQuads, points: list[Slopes]) -> Array:
    """Return the stiffness (n, 8, 8) of the wall in its plane: five stresses that balance within the element."""
    n = len(plates.wall)
    (a1, b1), (a3, b3) = (XI @ flat.places / 4).T, (ETA @ flat.places / 4).T
    compliance: Array = np.linalg.inv(_elasticity(plates.nu)) * ((1 - plates.nu**2) / plates.e)[:, None, None]
    held, work = np.zeros((n, 5, 5)), np.zeros((n, 5, 8))
    for (xi, eta), at in zip(POINTS, points, strict=True):
        stress = np.zeros((n, 3, 5))
        stress[:, range(3), range(3)] = 1.0
        stress[:, :, 3] = np.stack((a1**2, b1**2, a1 * b1), axis=1) * eta
        stress[:, :, 4] = np.stack((a3**2, b3**2, a3 * b3), axis=1) * xi
        weight = (plates.wall * at.area)[:, None, None]
        held += _dot(stress, compliance @ stress) * weight
        work += _dot(stress, _strains(at, 2, 0, 1, 1.0)) * weight
    return _dot(work, _solved(held, work))


def _bending(plates: Plates, plate: Array, points: list[Slopes]) -> Array:
    """Return the stiffness (n, 12, 12) of w and the turns in its plane against curvature; plate (n,): E t^3 / 12(1 - nu^2), Nm."""
    total = np.zeros((len(plate), 12, 12))
    elastic = _elasticity(plates.nu) * plate[:, None, None]
    for at in points:
        rows = _strains(at, 3, 2, 1, -1.0)
        total += _dot(rows, elastic @ rows) * at.area[:, None, None]
    return total


def _edge(places: Array, first: int, second: int) -> Array:
    """Return the row (n, 12) of the transverse shear along an edge, per unit of the element's own coordinate."""
    row = np.zeros((len(places), 4, 3))
    half = (places[:, second] - places[:, first]) / 2
    for corner, sign in ((first, -0.5), (second, 0.5)):
        row[:, corner, 0] = sign
        row[:, corner, 2], row[:, corner, 1] = half[:, 0] / 2, -half[:, 1] / 2
    return row.reshape(-1, 12)


def _shear(plates: Plates, plate: Array, flat: FlatQuads, points: list[Slopes]) -> Array:
    """Return the stiffness (n, 12, 12) of the transverse shear, tied at the middles of the edges."""
    low, high, left, right = (_edge(flat.places, *pair) for pair in ((0, 1), (2, 3), (0, 2), (1, 3)))
    yielding = 1 / (SHEAR_CORRECTION * plates.e / (2 * (1 + plates.nu)) * plates.wall)
    total = np.zeros((len(plate), 12, 12))
    for (xi, eta), at in zip(POINTS, points, strict=True):
        own = np.stack(((1 - eta) * low + (1 + eta) * high, (1 - xi) * left + (1 + xi) * right), axis=1) / 2
        rows = _inverse(at.jacobian) @ own
        flexible = _dot(at.jacobian, at.jacobian) / (3 * plate)[:, None, None] + yielding[:, None, None] * np.eye(2)
        total += _dot(rows, _inverse(flexible) @ rows) * at.area[:, None, None]
    return total


def _drilling(plates: Plates, middle: Slopes) -> Array:
    """Return the stiffness (n, 12, 12) that holds each node's turn about the normal to the mean spin (v,x - u,y)/2."""
    rows = np.zeros((len(plates.wall), 4, 4, 3))
    rows[:, :, :, 0] = (middle.of_y / 2)[:, None]
    rows[:, :, :, 1] = (-middle.of_x / 2)[:, None]
    rows[:, range(4), range(4), 2] = 1.0
    flat = rows.reshape(-1, 4, 12)
    strength = DRILLING * plates.e / (2 * (1 + plates.nu)) * plates.wall * middle.area
    return _dot(flat, flat) * strength[:, None, None]


AT_ONCE = 200
"""Elements whose stiffness is worked out together: so few that they stay in a processor's own memory."""


def stiffness(plates: Plates) -> Array:
    """Return the stiffness (n, 24, 24) in global axes; per node three displacements, then three rotations; SI."""
    found = np.empty((len(plates.wall), 24, 24))
    for first in range(0, len(found), AT_ONCE):
        found[first : first + AT_ONCE] = _stiffness(Plates(*(each[first : first + AT_ONCE] for each in plates)))
    return found


def _stiffness(plates: Plates) -> Array:
    """Return the stiffness of elements as `stiffness`, of all at once."""
    flat = flattened(plates.corners)
    plate = plates.e * plates.wall**3 / (12 * (1 - plates.nu**2))
    points = [_slopes(flat.places, *each) for each in POINTS]
    local = np.zeros((len(plate), 24, 24))
    local[:, IN_PLANE[:, None], IN_PLANE] = _membrane(plates, flat, points)
    local[:, ACROSS[:, None], ACROSS] = _bending(plates, plate, points) + _shear(plates, plate, flat, points)
    local[:, SPUN[:, None], SPUN] += _drilling(plates, _slopes(flat.places, 0.0, 0.0))
    back = np.ascontiguousarray(flat.axes.transpose(0, 2, 1))[:, None]
    half = (back @ local.reshape(-1, 8, 3, 24)).reshape(-1, 24, 24)
    product: Array = (back @ half.transpose(0, 2, 1).reshape(-1, 8, 3, 24)).reshape(-1, 24, 24)
    return product


def stresses(plates: Plates, moves: Array) -> tuple[Array, Array]:
    """Return the stress (n, 3, k) at the elements' middles, xx, yy, xy in their own axes, Pa: through the wall, and at its surface
    besides; moves (n, 24, k): of the corners, global axes.
    """
    flat, count = flattened(plates.corners), len(plates.wall)
    middle = _slopes(flat.places, 0.0, 0.0)
    own = (flat.axes[:, None] @ moves.reshape(count, 8, 3, -1)).reshape(count, 24, -1)
    elastic = _elasticity(plates.nu) * (plates.e / (1 - plates.nu**2))[:, None, None]
    pulled: Array = elastic @ _strains(middle, 2, 0, 1, 1.0) @ own[:, IN_PLANE]
    bent: Array = elastic @ _strains(middle, 3, 2, 1, -1.0) @ own[:, ACROSS] * (plates.wall / 2)[:, None, None]
    return pulled, bent


Share = tuple[float, float, float]
CORNERS: tuple[Share, Share, Share] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
MIDDLE: Share = (1 / 3, 1 / 3, 1 / 3)


def _patches(half: int) -> Array:
    """Return the shares (3, half + 1, half + 1, 3) of the three corners at the grid points of the three patches."""
    t = np.linspace(0.0, 1.0, half + 1)
    found = []
    for first in range(3):
        corner, second, third = (np.array(CORNERS[(first + k) % 3]) for k in range(3))
        one, other, middle = (corner + second) / 2, (corner + third) / 2, np.array(MIDDLE)
        a, b = t[:, None, None], t[None, :, None]
        found.append((1 - a) * (1 - b) * corner + a * (1 - b) * one + (1 - a) * b * other + a * b * middle)
    return np.array(found)


def fill_triangle(first: IntArray, second: IntArray, free: int) -> tuple[Array, IntArray]:
    """Return the places (n, 2) of the nodes that a triangle needs besides those of its two legs, and its elements (m, 4).

    first, second: node numbers along the legs, from the corner they share on; places: shares of the two legs' lengths. New nodes are
    numbered from `free`. A point's name is its share of the three corners, which no size changes.
    """
    parts, half = len(first) - 1, (len(first) - 1) // 2
    numbers: dict[tuple[int, int], int] = {}
    places: list[tuple[float, float]] = []
    for k in range(parts + 1):
        numbers[_name(k / parts, 0.0)], numbers[_name(0.0, k / parts)] = int(first[k]), int(second[k])
    elements = []
    for patch in _patches(half):
        grid = np.empty((half + 1, half + 1), dtype=np.int64)
        for at in np.ndindex(half + 1, half + 1):
            _, p, q = (float(each) for each in patch[at])
            name = _name(p, q)
            if name not in numbers:
                numbers[name] = free + len(places)
                places.append((p, q))
            grid[at] = numbers[name]
        elements.append(np.stack((grid[:-1, :-1], grid[1:, :-1], grid[:-1, 1:], grid[1:, 1:]), axis=-1).reshape(-1, 4))
    return np.array(places), np.concatenate(elements)


def _name(first: float, second: float) -> tuple[int, int]:
    return round(first * 1e6), round(second * 1e6)
