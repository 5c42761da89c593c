"""Numbers of the unknowns, and how each piece hangs on them. SI.

Order: six per node (three displacements, three turns, vehicle axes; frame points, places inside members, stiff bodies), then
the shared rates of twist, then the slips of springy or released joints.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import END, Beams, across, deformations, end_movements
from framecheck.frame.geometry import cross_rows
from framecheck.frame.joints import Hang
from framecheck.frame.kink_springs import TurnSpring
from framecheck.frame.warping import HELD, WarpTies
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

NONE = -1


@array_class
class Slips:
    """The springs and releases at members' ends; m of them, each one unknown: how far the end goes from its node.

    piece, end, way (m,): way 0..5 along and about the joint's axes; axis (m, 3) of that way; stiffness (m,).
    """

    piece: IntArray
    end: IntArray
    way: IntArray
    axis: Array
    stiffness: Array


@array_class
class Group:
    """Pieces with equally many unknowns. pieces (m,): which; freedoms (m, k): their unknowns, NONE where there is none.

    ends (m, 2, 7, k): unknowns to the movements of the pieces' ends; strain (m, 8, k): to the deformations.
    """

    pieces: IntArray
    freedoms: IntArray
    ends: Array
    strain: Array

    def among(self, count: int) -> IntArray | slice:
        """Return where its pieces are among all `count`: a slice where they are all of them, which copies nothing."""
        return slice(None) if len(self.pieces) == count else self.pieces


@array_class
class Freedoms:
    """The unknowns: n_node nodes, n_tie rates of twist, n_slip slips; groups of pieces hang on them."""

    n_node: int
    n_tie: int
    slips: Slips
    ties: WarpTies
    groups: tuple[Group, ...]

    @property
    def count(self) -> int:
        """Return the number of unknowns."""
        return 6 * self.n_node + self.n_tie + len(self.slips.piece)


def slips_of(pieces: Pieces, hangs: Sequence[Hang], turns: Sequence[TurnSpring] = ()) -> Slips:
    """Return the slips of all ends that are not rigid, and of the legs of kinks; an end that has springs of its own keeps those."""
    rows = [
        (int((pieces.first, pieces.last)[hang.end][hang.member]), hang.end, way, hang.axes[way % 3], stiffness)
        for hang in hangs
        for way, stiffness in enumerate(hang.stiffness)
        if np.isfinite(stiffness)
    ]
    taken = {(row[0], row[1]) for row in rows}
    at_kinks = [(pieces.at(each.member, each.leg, each.end), each) for each in turns]
    rows += [
        (piece, each.end, each.way, each.axis, each.stiffness)
        for piece, each in at_kinks
        if (piece, each.end) not in taken
    ]
    piece, end, way = (np.array([row[k] for row in rows], dtype=np.int64) for k in range(3))
    axis = np.array([row[3] for row in rows], dtype=np.float64).reshape(-1, 3)
    return Slips(piece, end, way, axis, np.array([row[4] for row in rows], dtype=np.float64))


def freedoms_of(pieces: Pieces, beams: Beams, ties: WarpTies, slips: Slips) -> Freedoms:
    """Return all unknowns: plain pieces in one group, those with warping in one, those with slips in another."""
    n_node, n_tie = len(pieces.places), len(ties.springs)
    slipping = np.zeros(pieces.count, dtype=bool)
    slipping[slips.piece] = True
    warping = ~slipping & (ties.tie != HELD).any(axis=1)
    moves = end_movements(beams, pieces.arms)
    six = (6 * pieces.nodes[:, :, None] + np.arange(6)).reshape(-1, 12)
    groups = []
    for chosen, extra in ((~slipping & ~warping, 0), (warping, 2), (slipping, 14)):
        which = np.flatnonzero(chosen)
        if not len(which):
            continue
        freedoms = np.full((len(which), 12 + extra), NONE, dtype=np.int64)
        freedoms[:, :12] = six[which]
        ends = np.zeros((len(which), 2, END, 12 + extra))
        whole = slice(None) if len(which) == pieces.count else which  # a slice copies nothing
        ends[:, 0, :, :6], ends[:, 1, :, 6:12] = moves[whole, 0], moves[whole, 1]
        if extra:
            _add_rates(freedoms, ends, ties, which, 6 * n_node)
        if extra > 2:
            _add_slips(freedoms, ends, beams, slips, which, 6 * n_node + n_tie)
        strain = deformations(beams.length[which], ends[:, 0], ends[:, 1])
        groups.append(Group(which, freedoms, ends, strain))
    return Freedoms(n_node, n_tie, slips, ties, tuple(groups))


def _add_rates(freedoms: IntArray, ends: Array, ties: WarpTies, which: IntArray, first: int) -> None:
    """Let the shared rates of twist move the pieces' ends: columns 12 and 13."""
    tie = ties.tie[which]
    freedoms[:, 12:14] = np.where(tie == HELD, NONE, first + tie)
    for end in (0, 1):
        rate = np.where(tie[:, end] == HELD, 0.0, ties.factor[which, end])
        ends[:, end, 6, 12 + end] = rate
        for row, movement in enumerate((0, 4, 5)):
            ends[:, end, movement, 12 + end] = rate * ties.step[which, end, row]


def _add_slips(freedoms: IntArray, ends: Array, beams: Beams, slips: Slips, which: IntArray, first: int) -> None:
    """Let the slips move the pieces' ends: columns 14 to 19 at the start, 20 to 25 at the end."""
    row = np.searchsorted(which, slips.piece)
    column = 14 + 6 * slips.end + slips.way
    freedoms[row, column] = first + np.arange(len(row))
    ends[row, slips.end, :, column] = slip_movements(beams, slips)


def slip_movements(beams: Beams, slips: Slips) -> Array:
    """Return the movements (m, 7) of the piece's end per unit slip; slips sit on the member's reference line."""
    axes, along = beams.axes[slips.piece], slips.way < 3
    moves = np.zeros((len(slips.piece), END))
    straight = np.einsum("mij,mj->mi", axes, slips.axis)
    turned = np.where(along[:, None], 0.0, straight)
    for row, offset in ((0, beams.centroid), (1, beams.pole), (2, beams.pole)):
        arm = across(axes, offset[slips.piece])
        swung = np.einsum("mj,mj->m", cross_rows(arm, axes[:, row]), slips.axis)
        moves[:, row] = np.where(along, straight[:, row], swung)
    moves[:, 3], moves[:, 4], moves[:, 5] = turned[:, 0], turned[:, 2], -turned[:, 1]
    return moves
