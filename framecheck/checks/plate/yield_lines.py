"""Collapse by yield lines: rigid triangles that fold along their sides.

Each side that folds takes the plastic moment times its length times its turn; what the load does equals it. A linear
programme finds the pattern of folds, among the sides of the mesh, with the least load; a round fan about a patch is tried beside
it. Any pattern is an upper bound of the load at which the plate truly collapses, and a coarse mesh a higher one; what the sheet
gains as a membrane afterwards is left out.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from framecheck.checks.plate.bending import Sheet, patch_of, places
from framecheck.checks.plate.stiffeners import HELD_SIDES, Beam, yield_strength
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.plate import Hold, Patch, Plate, PlateLoad, Run
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csc_array

PIECES = 6  # cells along a side, at least; each is cut in four by its diagonals


def plastic_moment(yield_strength: float, thickness: float) -> float:
    """Return the plastic moment of a sheet per length, N: Fy t2 / 4 (statics of the fully plastic rectangle)."""
    return yield_strength * thickness**2 / 4


class Facets(NamedTuple):
    """The folded plate: corners (n, 2) in m, triangles (m, 3); nx, ny: mesh lines, whose crossings come first, x slowest."""

    corners: Array
    triangles: IntArray
    nx: int
    ny: int


def facets(plate: Plate, pieces: int) -> Facets:
    """Return the plate cut in cells by mesh lines and each cell in four by its diagonals."""
    xs, ys = (np.array(places_without_seats(plate, axis, pieces)) for axis in (0, 1))
    nx, ny = len(xs), len(ys)
    crossings = np.stack(np.meshgrid(xs, ys, indexing="ij"), axis=-1).reshape(-1, 2)
    number = np.arange(nx * ny).reshape(nx, ny)
    cells = np.stack([number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]], axis=-1).reshape(-1, 4)
    middles = nx * ny + np.arange(len(cells))
    triangles = np.concatenate(
        [np.column_stack([cells[:, k], cells[:, (k + 1) % 4], middles]) for k in range(4)]
    )
    return Facets(np.concatenate([crossings, crossings[cells].mean(axis=1)]), triangles, nx, ny)


def places_without_seats(plate: Plate, axis: int, pieces: int) -> tuple[float, ...]:
    """Return mesh lines as for bending, but none at the edges of bolt seats and fewer in patches."""
    from dataclasses import replace

    bare = replace(plate, bolts=tuple(replace(bolt, seat=0.0) for bolt in plate.bolts))
    return places(bare, axis, pieces, cuts=2)


def slopes(mesh: Facets) -> Array:
    """Return the gradients of the three corner functions of each triangle (m, 3, 2), 1/m."""
    a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
    double = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    opposite = np.stack([c - b, a - c, b - a], axis=1)
    return np.stack([-opposite[:, :, 1], opposite[:, :, 0]], axis=-1) / double[:, None, None]


def areas(mesh: Facets) -> Array:
    """Return the triangles' areas (m,), m2."""
    a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
    double = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    return np.asarray(np.abs(double) / 2)


class Sides(NamedTuple):
    """Sides of triangles: ends (k, 2) corner numbers, owner (k,) triangle, other (k,) triangle or -1 at the plate's edge."""

    ends: IntArray
    owner: IntArray
    other: IntArray


def sides(mesh: Facets) -> Sides:
    """Return every side of the mesh once, with the triangles that meet there."""
    every = np.sort(mesh.triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    owner = np.repeat(np.arange(len(mesh.triangles)), 3)
    order = np.lexsort((owner, every[:, 1], every[:, 0]))
    every, owner = every[order], owner[order]
    first = np.ones(len(every), dtype=bool)
    first[1:] = np.any(every[1:] != every[:-1], axis=1)
    start = np.flatnonzero(first)
    paired = np.append(~first[1:], False)[start]
    other = np.where(paired, owner[np.minimum(start + 1, len(owner) - 1)], -1)
    return Sides(every[start], owner[start], other)


def edge_of_plate(mesh: Facets, plate: Plate, ends: IntArray) -> dict[str, BoolArray]:
    """Return which sides lie on which edge of the plate, by the edge's name."""
    spots = mesh.corners[ends]
    near = 1e-9 * max(plate.length, plate.width)
    found = {}
    for edge, (run, end) in HELD_SIDES.items():
        axis = 1 if run is Run.X else 0
        level = 0.0 if end == 0 else (plate.length, plate.width)[axis]
        found[edge.value] = np.all(np.abs(spots[:, :, axis] - level) < near, axis=1)
    return found


@array_class
class Folds:
    """Rows (k, n) that give each fold's turn times its length from the corners' movements, and what one such unit costs (k,), N."""

    rows: csc_array
    cost: Array


def _sheet_folds(mesh: Facets, plate: Plate) -> Folds:
    """Return the folds of the sheet: inner sides, and those along clamped edges."""
    from scipy.sparse import coo_array

    found = sides(mesh)
    on_edge = edge_of_plate(mesh, plate, found.ends)
    clamped = np.zeros(len(found.ends), dtype=bool)
    for edge in plate.edges:
        clamped |= on_edge[edge.edge.value] & (edge.hold is Hold.CLAMPED)
    kept = (found.other >= 0) | clamped
    ends, owner, other = found.ends[kept], found.owner[kept], found.other[kept]
    along = mesh.corners[ends[:, 1]] - mesh.corners[ends[:, 0]]
    across = np.column_stack([-along[:, 1], along[:, 0]])  # a normal as long as the side
    grads = slopes(mesh)
    rows = np.repeat(np.arange(len(ends)), 3)
    one = np.einsum("kij,kj->ki", grads[owner], across)
    two = np.where((other >= 0)[:, None], np.einsum("kij,kj->ki", grads[other], across), 0.0)
    matrix = coo_array(
        (np.concatenate([one.ravel(), -two.ravel()]),
         (np.concatenate([rows, rows]), np.concatenate([mesh.triangles[owner].ravel(), mesh.triangles[other].ravel()]))),
        shape=(len(ends), len(mesh.corners)),
    )  # fmt: skip
    moment = plastic_moment(plate.material.yield_strength, plate.thickness)
    return Folds(matrix.tocsc(), np.full(len(ends), moment))


def _beam_folds(mesh: Facets, plate: Plate, beam: Beam) -> Folds:
    """Return the folds of a stiffener at the mesh lines it crosses. It turns at its yield moment, below its plastic one."""
    from scipy.sparse import coo_array

    run = beam.stiffener.run
    axis = 0 if run is Run.X else 1
    number = np.arange(mesh.nx * mesh.ny).reshape(mesh.nx, mesh.ny)
    lines = number if run is Run.X else number.T
    across = mesh.corners[lines[0], 1 - axis]
    line = lines[:, int(np.argmin(np.abs(across - beam.stiffener.at)))]
    spots = mesh.corners[line, axis]
    inside = [k for k in range(1, len(line) - 1) if beam.stiffener.start < spots[k] < beam.stiffener.end]
    rows = [np.array([1 / a, -1 / a - 1 / b, 1 / b]) for a, b in
            ((spots[k] - spots[k - 1], spots[k + 1] - spots[k]) for k in inside)]  # fmt: skip
    columns = np.array([line[k - 1 : k + 2] for k in inside], dtype=np.int64).ravel()
    matrix = coo_array(
        (np.array(rows).ravel(), (np.repeat(np.arange(len(inside)), 3), columns)), shape=(len(inside), len(mesh.corners))
    )
    moment = yield_strength(plate, beam.stiffener) * beam.added / beam.reach
    return Folds(matrix.tocsc(), np.full(len(inside), moment))


def work_of_patch(mesh: Facets, patch: Patch | None) -> Array:
    """Return what one newton (a patch) or one pascal (None: the whole plate) does per movement of each corner (n,)."""
    share = areas(mesh)
    if patch is not None:
        middle = mesh.corners[mesh.triangles].mean(axis=1)
        inside = np.all(np.abs(middle - np.array(patch.at)) < np.array(patch.size) / 2, axis=1)
        share = np.where(inside, share, 0.0) / (patch.size[0] * patch.size[1])
    found = np.zeros(len(mesh.corners))
    np.add.at(found, mesh.triangles.ravel(), np.repeat(share / 3, 3))
    return found


def held_corners(mesh: Facets, plate: Plate) -> BoolArray:
    """Return which corners (n,) do not move: at bolts and on held edges. Springs are taken as stiff: they don't yield."""
    held = np.zeros(len(mesh.corners), dtype=bool)
    for bolt in plate.bolts:
        held[int(np.argmin(np.hypot(*(mesh.corners - np.array(bolt.at)).T)))] = True
    found = sides(mesh)
    on_edge = edge_of_plate(mesh, plate, found.ends)
    for edge in plate.edges:
        held[found.ends[on_edge[edge.edge.value]].ravel()] = True
    return held


def fan_load(plate: Plate, patch: Patch) -> float:
    """Return the load of a round fan about a patch, N: 4 pi mp / (1 - 2 rho / 3 R), hinges along the rays and round the rim.

    Yield-line theory (K. W. Johansen), from memory: 4 pi mp for a point load; a patch of radius rho moves 1 - 2 rho / 3 R of its
    middle's movement on average. R: the rim, that meets no edge, bolt or stiffener; inf where it would not go round the patch.
    """
    (x, y), radius = patch.at, sqrt(patch.size[0] * patch.size[1] / pi)
    reach = [x, plate.length - x, y, plate.width - y]
    reach += [float(np.hypot(x - bolt.at[0], y - bolt.at[1])) for bolt in plate.bolts]
    reach += [abs((y if each.run is Run.X else x) - each.at) for each in plate.stiffeners]
    rim = min(reach)
    if rim <= radius:
        return float("inf")
    moment = plastic_moment(plate.material.yield_strength, plate.thickness)
    return 4 * pi * moment / (1 - 2 * radius / (3 * rim))


def collapse_loads(sheet: Sheet, loads: tuple[PlateLoad, ...], pieces: int = PIECES) -> tuple[float, ...]:
    """Return the collapse load of each load acting alone, N or Pa, an upper bound (inf: no pattern of folds gives way)."""
    from scipy.sparse import csc_array, vstack

    plate = sheet.plate
    mesh = facets(plate, pieces)
    parts = [_sheet_folds(mesh, plate), *(_beam_folds(mesh, plate, beam) for beam in sheet.beams)]
    free = ~held_corners(mesh, plate)
    rows = csc_array(vstack([part.rows for part in parts]))[:, np.flatnonzero(free)]
    folds = Folds(rows, np.concatenate([part.cost for part in parts]))
    found: dict[Patch | None, float] = {}
    for patch in dict.fromkeys(map(patch_of, loads)):
        fan = float("inf") if patch is None else fan_load(plate, patch)
        found[patch] = min(_least_load(folds, work_of_patch(mesh, patch)[free]), fan)
    return tuple(found[patch_of(load)] for load in loads)


def _least_load(folds: Folds, work: Array) -> float:
    """Return the least of cost |rows w| with work w = 1.

    By its dual, which is smaller: the most load p that moments m, |m| <= cost, carry: rows^T m = p work.
    """
    from scipy.optimize import linprog
    from scipy.sparse import csc_array, hstack

    balance = hstack([csc_array(folds.rows.T), csc_array(-work[:, None])], format="csc")
    bounds = [*((-c, c) for c in folds.cost), (0.0, None)]
    target = np.zeros(len(bounds))
    target[-1] = -1.0
    found = linprog(target, A_eq=balance, b_eq=np.zeros(len(work)), bounds=bounds, method="highs")
    return float("inf") if found.fun is None else -found.fun
