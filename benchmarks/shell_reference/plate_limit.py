"""Limit load of a plate of von Mises metal from below: moments in balance everywhere, none beyond yield, the load as large as can be.

Constant moments in triangles, the bending moment across every side alike on both, twisting moments' corner forces in balance at every
vertex: in balance with forces at the vertices exactly (K. Hellan, K. Herrmann, C. Johnson, from memory), so below the true limit load
of those forces. One cone programme, by clarabel (installed by hand, no dependency). The project comes from above, by another method.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse


@dataclass(frozen=True)
class Triangles:
    """vertices (n, 2), mm; corners (m, 3): numbers of vertices."""

    vertices: np.ndarray
    corners: np.ndarray


def crossed(xs: np.ndarray, ys: np.ndarray) -> Triangles:
    """Return every rectangle between lines cut along both diagonals."""
    nx, ny = len(xs), len(ys)
    corner = np.stack(np.meshgrid(xs, ys, indexing="ij"), axis=-1).reshape(-1, 2)
    middle = np.stack(np.meshgrid((xs[1:] + xs[:-1]) / 2, (ys[1:] + ys[:-1]) / 2, indexing="ij"), axis=-1).reshape(-1, 2)
    i, j = (each.ravel() for each in np.meshgrid(np.arange(nx - 1), np.arange(ny - 1), indexing="ij"))
    a, b, c, d = i * ny + j, (i + 1) * ny + j, (i + 1) * ny + j + 1, i * ny + j + 1
    m = nx * ny + np.arange(len(i))
    corners = np.concatenate([np.stack(each, axis=1) for each in ((a, b, m), (b, c, m), (c, d, m), (d, a, m))])
    return Triangles(np.concatenate([corner, middle]), corners)


def balance(mesh: Triangles) -> tuple[sparse.csr_matrix, int]:
    """Return the matrix (vertices and sides, 3 a triangle) of forces at vertices and of moments left across sides; how many sides."""
    sides: dict[tuple[int, int], int] = {}
    rows, columns, values = [], [], []
    for t, corner in enumerate(mesh.corners):
        points = mesh.vertices[corner]
        for k in range(3):
            one, two = int(corner[k]), int(corner[(k + 1) % 3])
            along = points[(k + 1) % 3] - points[k]
            length = float(np.hypot(*along))
            tangent, normal = along / length, np.array([along[1], -along[0]]) / length
            side = sides.setdefault((min(one, two), max(one, two)), len(sides))
            sign = 1.0 if one < two else -1.0
            bent, twisted = _parts(normal, normal), _parts(tangent, normal)
            for row, part in ((two, twisted), (one, -twisted), (len(mesh.vertices) + side, sign * length * bent)):
                rows += [row] * 3
                columns += [3 * t, 3 * t + 1, 3 * t + 2]
                values += list(part)
    shape = (len(mesh.vertices) + len(sides), 3 * len(mesh.corners))
    return sparse.csr_matrix((values, (rows, columns)), shape=shape), len(sides)


def _parts(left: np.ndarray, right: np.ndarray) -> np.ndarray:
    """Return what m_x, m_y, m_xy count in left . m . right."""
    return np.array([left[0] * right[0], left[1] * right[1], left[0] * right[1] + left[1] * right[0]])


def pressed(mesh: Triangles, patch: tuple[float, float, float, float]) -> np.ndarray:
    """Return one newton spread over a patch (x, y, length, width), at the vertices."""
    x, y, a, b = patch
    points = mesh.vertices[mesh.corners]
    middles = points.mean(axis=1)
    inside = (abs(middles[:, 0] - x) < a / 2) & (abs(middles[:, 1] - y) < b / 2)
    one, two = points[:, 1] - points[:, 0], points[:, 2] - points[:, 0]
    areas = abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2 * inside
    force = np.zeros(len(mesh.vertices))
    for k in range(3):
        np.add.at(force, mesh.corners[:, k], areas / 3)
    return force / force.sum()


Box = tuple[float, float, float, float]


def limit_load(
    xs: np.ndarray, ys: np.ndarray, bolts: list[tuple[float, float, float]], patch: Box, moment: float
) -> float:
    """Return the limit load in N of a patch; bolts (x, y, radius of the seat, 0: a point) hold both ways; moment: plastic moment of
    the sheet, N.
    """
    import clarabel

    mesh = crossed(xs, ys)
    whole, sides = balance(mesh)
    away = [np.hypot(*(mesh.vertices - np.array(bolt[:2])).T) for bolt in bolts]
    held = np.concatenate([np.flatnonzero(each <= max(bolt[2] + 1e-6, each.min())) for each, bolt in zip(away, bolts, strict=True)])
    kept = np.setdiff1d(np.arange(whole.shape[0]), held)
    size = float(np.max(np.ptp(mesh.vertices, axis=0)))
    scale = np.concatenate([np.ones(len(mesh.vertices)), np.full(sides, 1 / size)])[kept]
    force = np.concatenate([pressed(mesh, patch), np.zeros(sides)])[kept]
    equal = sparse.hstack([sparse.diags(scale) @ whole[kept], -sparse.csr_matrix(force[:, None])])
    count = len(mesh.corners)
    unit = sparse.csr_matrix(np.array([[0.0, 0, 0], [-1, 0.5, 0], [0, -np.sqrt(3) / 2, 0], [0, 0, -np.sqrt(3)]]))
    cones = sparse.hstack([sparse.kron(sparse.eye(count), unit), sparse.csr_matrix((4 * count, 1))])
    limits = np.tile([1.0, 0, 0, 0], count)
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    answer = clarabel.DefaultSolver(
        sparse.csc_matrix((3 * count + 1, 3 * count + 1)), np.concatenate([np.zeros(3 * count), [-1.0]]),
        sparse.vstack([equal, cones]).tocsc(), np.concatenate([np.zeros(len(kept)), limits]),
        [clarabel.ZeroConeT(len(kept)), *(clarabel.SecondOrderConeT(4) for _ in range(count))], settings,
    ).solve()  # fmt: skip
    if "Solved" not in str(answer.status):
        raise RuntimeError(f"the cone programme ended as {answer.status}")
    return float(answer.x[-1]) * moment
