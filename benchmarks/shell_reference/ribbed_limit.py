"""Limit load of a plate with ribs, from below but for what is said here: moments and membrane forces in balance, none beyond yield.

The sheet bends as in plate_limit.py. Each rib is twelve fibres, in balance with a strip of sheet in its own plane: the shear between
them runs out evenly over half the strip, and what the strip takes as a membrane leaves the less for bending (a core at yield in its
plane, the outside in bending: any directions). The sheet's cross stress where that shear changes is left out, and so are a rib's
twist and its own sideways bending; neither would raise the load much. One cone programme, by clarabel.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from plate_limit import Triangles, balance, crossed, pressed
from scipy import sparse

FIBRES = 12
Parts = dict[int, float]
Row = dict[str, object]


class Programme:
    """A cone programme under construction: variables in blocks, rows in balance, cones. maximise the first variable, the load."""

    def __init__(self) -> None:
        self.count = 1
        self.equal: list[tuple[dict[int, float], float]] = []
        self.cones: list[list[tuple[dict[int, float], float]]] = []

    def block(self, count: int) -> np.ndarray:
        """Return the numbers of new variables."""
        self.count += count
        return np.arange(self.count - count, self.count)

    def solved(self, kept: sparse.csr_matrix, right: np.ndarray) -> float:
        """Return the greatest load, where kept (rows, all variables) times the variables is right, and all else holds."""
        import clarabel

        single, single_right = rows_of(self.equal, self.count)
        wide = sparse.hstack([kept, sparse.csr_matrix((kept.shape[0], self.count - kept.shape[1]))])
        coned, coned_right = rows_of([row for cone in self.cones for row in cone], self.count)
        matrix = sparse.vstack([wide, single, -coned]).tocsc()
        bounds = np.concatenate([right, single_right, coned_right])
        goal = np.zeros(self.count)
        goal[0] = -1.0
        settings = clarabel.DefaultSettings()
        settings.verbose = False
        kinds = [clarabel.ZeroConeT(len(right) + len(single_right)), *(clarabel.SecondOrderConeT(len(cone)) for cone in self.cones)]
        answer = clarabel.DefaultSolver(sparse.csc_matrix((self.count, self.count)), goal, matrix, bounds, kinds, settings).solve()
        if "Solved" not in str(answer.status):
            raise RuntimeError(f"the cone programme ended as {answer.status}")
        return float(answer.x[0])


def rows_of(rows: list[tuple[dict[int, float], float]], count: int) -> tuple[sparse.csr_matrix, np.ndarray]:
    """Return rows of coefficients and a number as a matrix (n, count) and a column (n,)."""
    places = [(n, column, value) for n, (parts, _) in enumerate(rows) for column, value in parts.items()]
    i, j, v = (np.array(each) for each in zip(*places, strict=True))
    return sparse.csr_matrix((v, (i, j)), shape=(len(rows), count)), np.array([number for _, number in rows])


def strip_of(row: Row, rib: Row) -> float:
    """Return half the width of the strip that works with a rib, mm: to the next rib, the edge, a tenth of its length at most."""
    across = row["size"][1] if rib["runs"] == "x" else row["size"][0]
    others = [abs(each["at"] - rib["at"]) / 2 for each in row["ribs"] if each is not rib]
    return min(*others, rib["at"], across - rib["at"], (rib["to"] - rib["from"]) / 10)


def ribbed_limit_load(
    row: Row, lines: tuple[np.ndarray, np.ndarray], bolts: list[tuple[float, float, float]], strength: float
) -> float:
    """Return the limit load of a plate with ribs, N. lines: of the mesh, at bolts, patch, ribs, strips; bolts as `limit_load`."""
    mesh, thick = crossed(*lines), row["thickness"]
    whole, sides = balance(mesh)
    moment, axial = strength * thick**2 / 4, strength * thick
    programme = Programme()
    moments = programme.block(3 * len(mesh.corners)).reshape(-1, 3)
    used = {t: [] for t in range(len(mesh.corners))}
    ups: list[tuple[int, dict[int, float]]] = []
    for rib in row["ribs"]:
        ups += put_rib(programme, mesh, row, rib, (strength, axial), used)
    for t, three in enumerate(moments):
        mx, my, mxy = (int(each) for each in three)
        room = (dict.fromkeys(used[t][:1], -1.0), 1.0)
        programme.cones.append([room, ({mx: 1.0, my: -0.5}, 0.0), ({my: np.sqrt(3) / 2}, 0.0), ({mxy: np.sqrt(3)}, 0.0)])
    away = [np.hypot(*(mesh.vertices - np.array(bolt[:2])).T) for bolt in bolts]
    held = np.concatenate([np.flatnonzero(each <= max(bolt[2] + 1e-6, each.min())) for each, bolt in zip(away, bolts, strict=True)])
    kept = np.setdiff1d(np.arange(whole.shape[0]), held)
    force = np.concatenate([pressed(mesh, tuple(row["patch"])), np.zeros(sides)])
    size = float(np.max(np.ptp(mesh.vertices, axis=0)))
    scale = np.concatenate([np.ones(len(mesh.vertices)), np.full(sides, 1 / size)])
    bent = sparse.hstack([-sparse.csr_matrix(force[:, None]), whole]).tolil()
    bent.resize((whole.shape[0], programme.count))
    for vertex, parts in ups:
        for column, value in parts.items():
            bent[vertex, column] += value
    balanced = (sparse.diags(scale) @ bent.tocsr())[kept]
    return programme.solved(balanced, np.zeros(len(kept))) * moment


def put_rib(programme: Programme, mesh: Triangles, row: Row, rib: Row, yields: tuple[float, float],
            used: dict[int, list[int]]) -> list[tuple[int, dict[int, float]]]:
    """Add a rib and its strip; return what it puts on the vertices under it, over the plastic moment. used: how much of the sheet's
    bending each triangle has lost.
    """
    axis = 0 if rib["runs"] == "x" else 1
    strength, axial = yields
    thick, plastic = row["thickness"], strength * row["thickness"] ** 2 / 4
    on = np.flatnonzero((abs(mesh.vertices[:, 1 - axis] - rib["at"]) < 1e-6)
                        & (mesh.vertices[:, axis] > rib["from"] - 1e-6) & (mesh.vertices[:, axis] < rib["to"] + 1e-6))  # fmt: skip
    on = on[np.argsort(mesh.vertices[on, axis])]
    at, half = mesh.vertices[on, axis], strip_of(row, rib)
    fibres = programme.block(len(on) * FIBRES).reshape(len(on), FIBRES)
    levels = thick / 2 + (np.arange(FIBRES) + 0.5) * rib["height"] / FIBRES
    area = rib["thickness"] * rib["height"] / FIBRES * strength
    for end in (0, -1):
        programme.equal += [({int(fibre): 1.0}, 0.0) for fibre in fibres[end]]
    programme.cones += [[({}, 1.0), ({int(fibre): 1.0}, 0.0)] for fibre in fibres.ravel()]
    pull = [{int(f): area for f in line} for line in fibres]
    turn = [{int(f): area * z / plastic for f, z in zip(line, levels, strict=True)} for line in fibres]
    ups = []
    for n, (a, b) in enumerate(pairwise(at)):
        for vertex, way in ((on[n], 1.0), (on[n + 1], -1.0)):
            ups.append((int(vertex), {k: way * v / (b - a) for k, v in turn[n].items()}))
            ups.append((int(vertex), {k: -way * v / (b - a) for k, v in turn[n + 1].items()}))
        lost = loss_of_strip(programme, (pull[n], pull[n + 1]), b - a, half, axial)
        middles = mesh.vertices[mesh.corners].mean(axis=1)
        inside = (abs(middles[:, 1 - axis] - rib["at"]) < half) & (middles[:, axis] > a) & (middles[:, axis] < b)
        for t in np.flatnonzero(inside):
            used[int(t)].append(lost)
    return ups


def loss_of_strip(programme: Programme, pulls: tuple[Parts, Parts], length: float, half: float, axial: float) -> int:
    """Return the variable that is what a strip loses of its bending: (n / Np)2, n of pull over the strip and half the shear beside the
    rib, at both ends of a stretch.
    """
    share, lost = (int(each) for each in programme.block(2))
    shear = {k: np.sqrt(3) * v / length / 2 / axial for k, v in pulls[1].items()}
    shear |= {k: -np.sqrt(3) * v / length / 2 / axial for k, v in pulls[0].items()}
    for pull in pulls:
        programme.cones.append([({share: 1.0}, 0.0), ({k: v / (2 * half) / axial for k, v in pull.items()}, 0.0), (shear, 0.0)])
    programme.cones.append([({lost: 0.5}, 0.5), ({share: 1.0}, 0.0), ({lost: 0.5}, -0.5)])
    return lost
