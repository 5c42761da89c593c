"""Stiffness of the joint's shell model as its rigid branch tip feels it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.mesh import Cutout
from framecheck.frame.joint.outlines import SAME
from framecheck.frame.joint.panels import PanelMesh
from framecheck.frame.joint.shell_elements import stiffness
from framecheck.model.arrays import Array, BoolArray, IntArray


class TipMotion(NamedTuple):
    """A way for the tip to move: +1 even, -1 odd under the mirrors across x and z (0: none), and the tip freedoms."""

    even_x: int
    even_z: int
    freedoms: tuple[int, ...]


class System(NamedTuple):
    """The shell model numbered for a narrow band; freedom = 6 * number + direction.

    nodes (n, 3) in m in that order; corners (m, 4); elements (m, 24, 24). number (k,): that of each of the mesh's nodes; a carried
    node has that of the one it moves with.
    """

    nodes: Array
    corners: IntArray
    elements: Array
    number: IntArray


def held_by_mirror(axis: int, even: int) -> list[int]:
    """Return the node freedoms held on a mirror plane across that axis.

    Even: the displacement across the plane and the two turns about the axes in it; odd: the three others.
    """
    even_held = [axis, *(3 + other for other in range(3) if other != axis)]
    return even_held if even > 0 else [freedom for freedom in range(6) if freedom not in even_held]


def _narrow_numbers(corners: IntArray, count: int) -> IntArray:
    """Return each node's new number for a narrow band (reverse Cuthill-McKee)."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import reverse_cuthill_mckee

    rows, columns = np.repeat(corners, 4, axis=1).ravel(), np.tile(corners, (1, 4)).ravel()
    graph = coo_matrix((np.ones(len(rows)), (rows, columns)), shape=(count, count)).tocsr()
    number = np.empty(count, dtype=np.int64)
    number[reverse_cuthill_mckee(graph, symmetric_mode=True)] = np.arange(count)
    return number


def freedoms_of(corners: IntArray) -> IntArray:
    """Return the freedoms (m, 24) of each element."""
    return (6 * corners[:, :, None] + np.arange(6)).reshape(-1, 24)


def lower_band(elements: Array, freedoms: IntArray, size: int) -> Array:
    """Return the lower band (b, size) of the assembled stiffness: band[i - j, j], column by column, as LAPACK takes it uncopied.

    freedoms (m, 24): of each element, negative where they are held.
    """
    rows, columns = freedoms[:, :, None], freedoms[:, None, :]
    below = (rows >= columns) & (columns >= 0)
    depth = (rows - columns)[below]
    width = int(depth.max()) + 1
    place = depth + width * np.broadcast_to(columns, elements.shape)[below]
    band = np.bincount(place, weights=elements[below], minlength=width * size)
    return band.astype(np.float64, copy=False).reshape(size, width).T


def assembled(places: Array, corners: IntArray, elements: Array) -> System:
    """Return the shell model of elements (m, 24, 24) on the nodes at places (n, 3)."""
    number = _narrow_numbers(corners, len(places))
    nodes, numbered = np.empty_like(places), number[corners]
    nodes[number] = places
    return System(nodes, numbered, elements, number)


def _carried(mesh: PanelMesh, elements: Array) -> Array:
    """Return the elements (m, 24, 24) as felt by the nodes that carry their corners: u = u_0 + turn x arm."""
    arms = np.zeros_like(mesh.nodes)
    arms[mesh.carried[:, 0]] = mesh.nodes[mesh.carried[:, 0]] - mesh.nodes[mesh.carried[:, 1]]
    moved = np.flatnonzero(np.isin(mesh.corners, mesh.carried[:, 0]).any(axis=1))
    x, y, z = arms[mesh.corners[moved]].transpose(2, 0, 1)
    turn = np.zeros((len(moved), 4, 6, 4, 6))
    for corner in range(4):
        turn[:, corner, :, corner] = np.eye(6)
        for row, column, arm in ((0, 4, z), (0, 5, -y), (1, 3, -z), (1, 5, x), (2, 3, y), (2, 4, -x)):
            turn[:, corner, row, corner, column] = arm[:, corner]
    flat = turn.reshape(-1, 24, 24)
    found = elements.copy()
    found[moved] = flat.transpose(0, 2, 1) @ elements[moved] @ flat
    return found


def system(mesh: PanelMesh) -> System:
    """Return the assembled shell model."""
    elements, own = stiffness(mesh.plates), np.arange(len(mesh.nodes))
    if len(mesh.carried):
        elements = _carried(mesh, elements)
        own[mesh.carried[:, 0]] = mesh.carried[:, 1]
    kept, own = np.unique(own, return_inverse=True)
    model = assembled(mesh.nodes[kept], own[mesh.corners], elements)
    return model._replace(number=model.number[own])


def _held(model: System, cut: Cutout, motion: TipMotion) -> BoolArray:
    """Return which freedoms (6 n) are held: by the mirrors, at the rail's cut and at the tip."""
    held = np.zeros((len(model.nodes), 6), dtype=bool)
    for axis, even in ((0, motion.even_x), (2, motion.even_z)):
        if even:
            held[np.ix_(np.abs(model.nodes[:, axis]) < SAME, np.isin(range(6), held_by_mirror(axis, even)))] = True
    held[model.number[cut.held | cut.tip]] = True
    return held.ravel()


def _tip_modes(model: System, cut: Cutout) -> Array:
    """Return the freedoms (6 n, 6) that move with the tip plate's six; zero away from the plate."""
    tip = model.number[cut.tip]
    x, y, z = (model.nodes[tip] - cut.point).T
    moves = np.tile(np.eye(6), (len(x), 1, 1))
    moves[:, 0, 4], moves[:, 1, 3], moves[:, 1, 5], moves[:, 2, 4] = z, -z, x, -x
    moves[:, 0, 5], moves[:, 2, 3] = -y, y
    modes = np.zeros((len(model.nodes), 6, 6))
    modes[tip] = moves
    return modes.reshape(-1, 6)


def resisted(model: System, modes: Array) -> Array:
    """Return the forces (6 n, k) that hold the model in the given freedoms (6 n, k)."""
    return resisted_by(model.elements, freedoms_of(model.corners), modes)


def resisted_by(elements: Array, freedoms: IntArray, modes: Array) -> Array:
    """Return the forces (6 n, k) with which elements (m, 24, 24) on freedoms (m, 24) resist the movements (6 n, k)."""
    forces = np.zeros_like(modes)
    moving: BoolArray = np.any(modes, axis=1)
    moved = moving[freedoms].any(axis=1)  # most movements are a few nodes'
    np.add.at(forces, freedoms[moved], elements[moved] @ modes[freedoms[moved]])
    return forces


def condensed(model: System, modes: Array, held: BoolArray) -> Array:
    """Return the meshed part's stiffness (k, k) in the k given movements (6 n, k); held (6 n,) freedoms stay, the rest follows."""
    return condensed_moves(model, modes, held)[0]


def condensed_moves(model: System, modes: Array, held: BoolArray) -> tuple[Array, Array]:
    """Return the meshed part's stiffness (k, k) in the k given movements (6 n, k), and all freedoms (6 n, k) under each."""
    from scipy.linalg import solveh_banded

    push, free = resisted(model, modes), np.flatnonzero(~held)
    number = np.full(len(held), -1)
    number[free] = np.arange(len(free))
    band = lower_band(model.elements, number[freedoms_of(model.corners)], len(free))
    moves = modes.copy()
    moves[free] = -solveh_banded(band, push[free], overwrite_ab=True, lower=True, check_finite=False)
    stiff: Array = modes.T @ push + push[free].T @ moves[free]
    return stiff, moves


# The ways the tip can move (freedoms: 0-2 along, 3-5 about x, y, z), apart from each other by the mirrors across x and z.
MOTIONS = {
    (True, True): (TipMotion(1, -1, (2, 3)), TipMotion(-1, 1, (0, 5)), TipMotion(-1, -1, (4,)), TipMotion(1, 1, (1,))),
    (False, True): (TipMotion(0, -1, (2, 3, 4)), TipMotion(0, 1, (0, 1, 5))),
    (True, False): (TipMotion(1, 0, (1, 2, 3)), TipMotion(-1, 0, (0, 4, 5))),
    (False, False): (TipMotion(0, 0, (0, 1, 2, 3, 4, 5)),),
}


def tip_flexibility(cut: Cutout) -> Array:
    """Return the whole cut-out's flexibility (6, 6) at the branch's tip, SI, about the axes of the mesh."""
    model, found = system(cut.mesh), np.zeros((6, 6))
    modes = _tip_modes(model, cut)
    for motion in MOTIONS[cut.mirrors]:
        felt = condensed(model, modes[:, list(motion.freedoms)], _held(model, cut, motion))
        found[np.ix_(motion.freedoms, motion.freedoms)] = np.linalg.inv(cut.mirrors.copies * felt)
    return found
