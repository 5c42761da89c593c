"""Loads within pieces turned into loads on the unknowns. SI.

A piece under load is its particular answer (particular.py) plus an unloaded piece whose ends move by what is left. So the nodes
must carry what holds the particular answer's ends, and its deformations count as already made.
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.element import END, Beams, deformations
from framecheck.frame.fields import add_to
from framecheck.frame.freedoms import NONE, Freedoms
from framecheck.frame.loads import Loads
from framecheck.frame.particular import forces, movements, props
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

AS_END = np.array([1.0, 1.0, 1.0, 1.0, -1.0, -1.0, 1.0])  # section forces at a face to forces on the end's movements


@array_class
class Made:
    """The particular answers at the ends of the m pieces that have any, in k cases. row (n,): of each piece among them, NONE.

    moves (m, 2, 7, k): movements of the ends; pushes (m, 2, 7, k): what is outside must do to them; strain (m, 8, k): deformations.
    """

    row: IntArray
    moves: Array
    pushes: Array
    strain: Array

    def among(self, pieces: IntArray) -> tuple[IntArray, IntArray]:
        """Return places in `pieces` of those that have an answer, and their rows here."""
        rows = self.row[pieces]
        there = np.flatnonzero(rows != NONE)
        return there, rows[there]


def particular_ends(beams: Beams, loads: Loads) -> Made | None:
    """Return the particular answers at the pieces' ends; None where nothing acts within pieces."""
    n, cases = len(beams.length), loads.nodal.shape[1]
    loaded = np.full(n, loads.even is not None or loads.strain is not None)
    loaded[loads.begun.piece] = True
    count = int(loaded.sum())
    if not count:
        return None
    row = np.where(loaded, np.cumsum(loaded) - 1, NONE)
    moves, pushes = np.zeros((2, END, count, cases)), np.zeros((2, END, count, cases))
    if loads.even is not None and loads.growing is not None:
        for order, load in ((0, loads.even), (1, loads.growing)):
            _add_whole(beams, order, load, moves, pushes)
    _add_begun(beams, loads, row, (moves, pushes))
    if loads.strain is not None:
        moves[1, 0] += loads.strain * beams.length[:, None]
    moves, pushes = (np.ascontiguousarray(each.transpose(2, 0, 1, 3)) for each in (moves, pushes))
    return Made(row, moves, pushes, deformations(beams.length[loaded], moves[:, 0], moves[:, 1]))


def _add_whole(beams: Beams, order: int, load: Array, moves: Array, pushes: Array) -> None:
    """Add loads (6, n, k) along whole pieces; moves, pushes (2, 7, n, k)."""
    if not load.any():
        return
    prop = props(beams, slice(None), 1)
    for end, along in ((0, 0.0 * beams.length), (1, beams.length)):
        reached = np.ones((len(along), 1), dtype=bool)
        moves[end] += movements(prop, load, order, along[:, None], reached)
        made = forces(prop, load, order, along[:, None], reached)[:END]
        pushes[end] += (-1.0, 1.0)[end] * AS_END[:, None, None] * made


def _add_begun(beams: Beams, loads: Loads, row: IntArray, to: tuple[Array, Array]) -> None:
    """Add loads that begin within pieces to moves and pushes (2, 7, m, k); row (n,): of each piece there."""
    begun = loads.begun
    for order in (-1, 0, 1):
        chosen = np.flatnonzero(begun.order == order)
        if not len(chosen):
            continue
        piece, case, load = begun.piece[chosen], begun.case[chosen], begun.load[:, chosen]
        prop = props(beams, piece, 0)
        for end in (0, 1):
            along = beams.length[piece] * end - begun.at[chosen]
            reached = np.full(len(chosen), end == 1)
            add_to(to[0][end], row[piece], case, movements(prop, load, order, along, reached))
            made = (-1.0, 1.0)[end] * AS_END[:, None] * forces(prop, load, order, along, reached)[:END]
            add_to(to[1][end], row[piece], case, made)


def load_vector(freedoms: Freedoms, stiffness: Array, loads: Loads, made: Made | None) -> Array:
    """Return the load on every unknown (n_unknown, k)."""
    cases = loads.nodal.shape[1]
    vector = np.zeros((freedoms.count + 1, cases))
    vector[: 6 * freedoms.n_node] = loads.nodal.transpose(0, 2, 1).reshape(-1, cases)
    for group in freedoms.groups if made else ():
        assert made is not None
        rows, own = made.among(group.pieces)
        held = group.strain[rows].transpose(0, 2, 1) @ (stiffness[group.pieces[rows]] @ made.strain[own])
        for end in (0, 1):
            held -= group.ends[rows, end].transpose(0, 2, 1) @ made.pushes[own, end]
        at = np.where(group.freedoms[rows] == NONE, freedoms.count, group.freedoms[rows])
        vector += _gathered(at.ravel(), held.reshape(-1, cases), len(vector))
    return vector[:-1]


def _gathered(at: Array, values: Array, size: int) -> Array:
    """Return the sums (size, k) of rows values (m, k) by their places `at` (m,)."""
    return np.stack([np.bincount(at, column, size) for column in values.T], axis=1)
