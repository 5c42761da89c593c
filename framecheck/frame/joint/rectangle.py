"""Stiffness of flat rectangular shell elements, four nodes of six freedoms, many at once.

Membrane: the five-parameter hybrid-stress rectangle (Pian and Sumihara 1984), exact in in-plane bending.
Bending: the mixed-interpolation four-node plate (Bathe and Dvorkin 1985); its transverse shear carries the residual
bending flexibility h^2/12D of MacNeal (1978), so a strip bent by end forces is exact whatever its length.
Drilling: each node's turn about the normal follows the element's mean spin through a weak spring.
(All three from memory; tests hold them to closed forms.)
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.model.arrays import Array

SHEAR_CORRECTION = 5 / 6
DRILLING = 0.02  # share of the shear modulus; results change by under 1 % between 0.002 and 0.2
# Corners in the order (0, 0), (p, 0), (0, q), (p, q).
ALONG = np.array([-1.0, 1.0, -1.0, 1.0]) / 2
ACROSS = np.array([-1.0, -1.0, 1.0, 1.0]) / 2
CROSSED = np.array([1.0, -1.0, -1.0, 1.0]) / 4
U, V, W, RX, RY, RZ = range(6)


class Plates(NamedTuple):
    """n rectangles: sides p, q, wall in m; e in Pa; nu; each shape (n,). axes (n, 3, 3): rows along p, q, normal."""

    p: Array
    q: Array
    wall: Array
    e: Array
    nu: Array
    axes: Array


def _plane(plates: Plates, first: int, second: int, sign: float) -> Array:
    """Return rows (n, 5, 4, 6) of two fields, first and sign * second: mean strains xx, yy, xy, two crossed modes."""
    rows = np.zeros((len(plates.p), 5, 4, 6))
    dx, dy = ALONG / plates.p[:, None], ACROSS / plates.q[:, None]
    rows[:, 0, :, first] = dx
    rows[:, 1, :, second] = sign * dy
    rows[:, 2, :, first] = dy
    rows[:, 2, :, second] = sign * dx
    rows[:, 3, :, first] = CROSSED
    rows[:, 4, :, second] = CROSSED
    return rows


def _plane_weights(plates: Plates, rigidity: Array, crossed: tuple[Array, Array]) -> Array:
    """Return weights (n, 5, 5): plane elasticity times area on the mean strains, then the crossed modes' own."""
    weights = np.zeros((len(plates.p), 5, 5))
    full = rigidity * plates.p * plates.q
    weights[:, 0, 0] = weights[:, 1, 1] = full
    weights[:, 0, 1] = weights[:, 1, 0] = plates.nu * full
    weights[:, 2, 2] = (1 - plates.nu) / 2 * full
    weights[:, 3, 3], weights[:, 4, 4] = crossed
    return weights


def _membrane(plates: Plates) -> tuple[Array, Array]:
    """Return rows (n, 5, 4, 6) and weights (n, 5, 5) of u and v."""
    stretch = plates.e * plates.wall
    crossed = 4 / 3 * stretch * plates.q / plates.p, 4 / 3 * stretch * plates.p / plates.q
    return _plane(plates, U, V, 1.0), _plane_weights(plates, stretch / (1 - plates.nu**2), crossed)


def _bending(plates: Plates, plate: Array) -> tuple[Array, Array]:
    """Return rows (n, 5, 4, 6) and weights (n, 5, 5) of the curvatures; plate (n,): E t^3 / 12(1 - nu^2), Nm."""
    p, q, twist = plates.p, plates.q, (1 - plates.nu) / 2
    third = plate * p * q / 3
    crossed = third * 4 * (1 / p**2 + twist / q**2), third * 4 * (1 / q**2 + twist / p**2)
    return _plane(plates, RY, RX, -1.0), _plane_weights(plates, plate, crossed)


def _shear(plates: Plates, plate: Array) -> tuple[Array, Array]:
    """Return rows (n, 4, 4, 6) and weights (n, 4, 4) of the transverse shear, tied at the middles of the edges."""
    n, p, q = len(plates.p), plates.p, plates.q
    rows, weights = np.zeros((n, 4, 4, 6)), np.zeros((n, 4, 4))
    edges = ((0, 1, p, RY, 0.5), (2, 3, p, RY, 0.5), (0, 2, q, RX, -0.5), (1, 3, q, RX, -0.5))
    for row, (i, j, side, turn, half) in enumerate(edges):
        rows[:, row, i, W], rows[:, row, j, W] = -1 / side, 1 / side
        rows[:, row, i, turn] = rows[:, row, j, turn] = half
    shear = 1 / (SHEAR_CORRECTION * plates.e / (2 * (1 + plates.nu)) * plates.wall)
    pair = np.array([[2.0, 1.0], [1.0, 2.0]]) / 6
    for start, side in ((0, p), (2, q)):
        strength = p * q / (shear + side**2 / (12 * plate))
        weights[:, start : start + 2, start : start + 2] = strength[:, None, None] * pair
    return rows, weights


def _drilling(plates: Plates) -> tuple[Array, Array]:
    """Return rows (n, 4, 4, 6) and weights (n, 4, 4) of each node's turn about the normal less (v,x - u,y)/2."""
    rows = np.zeros((len(plates.p), 4, 4, 6))
    rows[:, :, :, U] = (ACROSS / plates.q[:, None] / 2)[:, None]
    rows[:, :, :, V] = (-ALONG / plates.p[:, None] / 2)[:, None]
    rows[:, range(4), range(4), RZ] = 1.0
    strength = DRILLING * plates.e / (2 * (1 + plates.nu)) * plates.wall * plates.p * plates.q / 4
    return rows, strength[:, None, None] * np.eye(4)


def stiffness(plates: Plates) -> Array:
    """Return the stiffness (n, 24, 24) in global axes; per node three displacements, then three rotations; SI."""
    plate = plates.e * plates.wall**3 / (12 * (1 - plates.nu**2))
    parts = _membrane(plates), _bending(plates, plate), _shear(plates, plate), _drilling(plates)
    local = np.concatenate([rows for rows, _ in parts], axis=1)
    count = local.shape[1]
    turned = (local.reshape(-1, count * 8, 3) @ plates.axes).reshape(-1, count, 24)
    ends = np.cumsum([0] + [rows.shape[1] for rows, _ in parts])
    weighted = [w @ turned[:, a:b] for (_, w), a, b in zip(parts, ends[:-1], ends[1:], strict=True)]
    product: Array = turned.transpose(0, 2, 1) @ np.concatenate(weighted, axis=1)
    return product
