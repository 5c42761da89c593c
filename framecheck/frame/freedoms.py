"""Numbers of the unknowns, how each piece hangs on them, and pins where every member's end is free to turn. SI.

Order: six per node (three displacements, three turns, vehicle axes; frame points, places inside members, stiff bodies), then
the shared rates of twist, then the slips of springy or released joints.

A pinned end still hands on twist. Where pinned bars meet, points may so turn together, each bar spinning about its own axis
without twisting: a movement of several points that moves and strains nothing. It is held at as many single turns as it has ways.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import END, Beams, across, deformations, end_movements
from framecheck.frame.geometry import cross_rows
from framecheck.frame.joints import EndConnection
from framecheck.frame.kink_springs import TurnSpring
from framecheck.frame.supports import Links
from framecheck.frame.warping import HELD, WarpTies
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.value_class import array_class

NONE = -1


@array_class
class EndReleases:
    """The springs and releases at members' ends; m of them, each one unknown: how far the end goes from its node.

    piece, end, way (m,): way 0..5 along and about the joint's axes; axis (m, 3) of that way; stiffness (m,); off (m, 3): from the
    member's end to a place on the axis that it turns about.
    """

    piece: IntArray
    end: IntArray
    way: IntArray
    axis: Array
    stiffness: Array
    off: Array


@array_class
class Blocks:
    """Small matrices (m, k, k) on unknowns (m, k), NONE where there is none."""

    freedoms: IntArray
    values: Array


@array_class
class PieceGroup:
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
    slips: EndReleases
    ties: WarpTies
    groups: tuple[PieceGroup, ...]

    @property
    def count(self) -> int:
        """Return the number of unknowns."""
        return 6 * self.n_node + self.n_tie + len(self.slips.piece)


def slips_of(pieces: Pieces, hangs: Sequence[EndConnection], turns: Sequence[TurnSpring] = ()) -> EndReleases:
    """Return the slips of all ends that are not rigid, and of the legs of kinks; an end that has springs of its own keeps those."""
    rows = [
        (piece, hang.end, way, hang.axes[way % len(hang.axes)], stiffness, hang.centre)
        for hang in hangs
        for piece in (int((pieces.first, pieces.last)[hang.end][hang.member]),)
        for way, stiffness in enumerate(hang.stiffness)
        if np.isfinite(stiffness)
    ]
    taken = {(row[0], row[1]) for row in rows}
    at_kinks = [(pieces.at(each.member, each.leg, each.end), each) for each in turns]
    rows += [
        (piece, each.end, each.way, each.axis, each.stiffness, np.zeros(3))
        for piece, each in at_kinks
        if (piece, each.end) not in taken
    ]
    piece, end, way = (np.array([row[k] for row in rows], dtype=np.int64) for k in range(3))
    axis, off = (np.array([row[k] for row in rows], dtype=np.float64).reshape(-1, 3) for k in (3, 5))
    return EndReleases(piece, end, way, axis, np.array([row[4] for row in rows], dtype=np.float64), off)


def freedoms_of(pieces: Pieces, beams: Beams, ties: WarpTies, slips: EndReleases) -> Freedoms:
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
        groups.append(PieceGroup(which, freedoms, ends, strain))
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


def _add_slips(freedoms: IntArray, ends: Array, beams: Beams, slips: EndReleases, which: IntArray, first: int) -> None:
    """Let the slips move the pieces' ends: columns 14 to 19 at the start, 20 to 25 at the end."""
    row = np.searchsorted(which, slips.piece)
    column = 14 + 6 * slips.end + slips.way
    freedoms[row, column] = first + np.arange(len(row))
    ends[row, slips.end, :, column] = slip_movements(beams, slips)


def slip_movements(beams: Beams, slips: EndReleases) -> Array:
    """Return the movements (m, 7) of the piece's end per unit slip, which sits on the member's reference line or off it."""
    axes, along = beams.axes[slips.piece], slips.way < 3
    moves = np.zeros((len(slips.piece), END))
    straight = np.einsum("mij,mj->mi", axes, slips.axis)
    turned = np.where(along[:, None], 0.0, straight)
    for row, offset in ((0, beams.centroid), (1, beams.pole), (2, beams.pole)):
        arm = across(axes, offset[slips.piece]) - slips.off
        swung = np.einsum("mj,mj->m", cross_rows(arm, axes[:, row]), slips.axis)
        moves[:, row] = np.where(along, straight[:, row], swung)
    moves[:, 3], moves[:, 4], moves[:, 5] = turned[:, 0], turned[:, 2], -turned[:, 1]
    return moves


NOTHING = 1e-9
Released = dict[tuple[int, int], list[Array]]
"""Axes of the turns that ends of pieces release, by piece and end."""


@array_class
class FreePinRotations:
    """m turns of points that move nothing. freedoms (m, 3): the point's turns; axis (m, 3) unit; stiffness (m,) that holds
    them, Nm/rad: it feels nothing unless a moment acts where none can be taken.
    """

    freedoms: IntArray
    axis: Array
    stiffness: Array

    @property
    def values(self) -> Array:
        """Return the holding stiffness (m, 3, 3)."""
        return self.stiffness[:, None, None] * self.axis[:, :, None] * self.axis[:, None, :]


def idle_turns(frame: Frame, pieces: Pieces, beams: Beams, slips: EndReleases, links: Links) -> FreePinRotations:
    """Return the turns of points that every member's end there releases and nothing else resists."""
    released: Released = defaultdict(list)
    for piece, end, way, axis, stiffness in zip(
        slips.piece.tolist(), slips.end.tolist(), slips.way.tolist(), slips.axis, slips.stiffness.tolist(), strict=True
    ):
        if way >= 3 and stiffness == 0:
            released[piece, end].append(axis)
    found: list[tuple[int, Array, float]] = []
    left: dict[int, Array] = {}
    for node in sorted({int(pieces.nodes[where]) for where in released}):
        held = [*_of_links(links, node), *_of_supports(frame, node), np.zeros((3, 3))]
        alone = _null_space(np.vstack((*_of_members(pieces, released, node), *held)))
        found += [(node, way, _hold(pieces, beams, node)) for way in alone.T]
        spins = _of_members(pieces, released, node, beams.axes[:, 0])
        left[node] = _null_space(np.vstack((*spins, *held, alone.T)))
    if any(basis.shape[1] for basis in left.values()):
        spun = _spins(frame, pieces, beams, released, links, left)
        found += [(node, way, _hold(pieces, beams, node)) for node, way in spun]
    nodes = np.array([node for node, _, _ in found], dtype=np.int64)
    axes = np.array([axis for _, axis, _ in found], dtype=np.float64).reshape(-1, 3)
    return FreePinRotations(6 * nodes[:, None] + np.arange(3, 6), axes, np.array([hold for _, _, hold in found], dtype=np.float64))


def _hold(pieces: Pieces, beams: Beams, node: int) -> float:
    """Return a stiffness of the members' own size at a node, Nm/rad."""
    here = np.flatnonzero((pieces.nodes == node).any(axis=1))
    return float(np.max(np.trace(beams.bending[here], axis1=1, axis2=2) / beams.length[here]))


def _null_space(rows: Array) -> Array:
    """Return (n, m) orthonormal columns that rows (k, n) do not feel."""
    lacking = np.zeros((max(0, rows.shape[1] - len(rows)), rows.shape[1]))
    _, sizes, ways = np.linalg.svd(np.vstack((rows, lacking)), full_matrices=False)
    return np.asarray(ways[sizes < NOTHING].T, dtype=np.float64)


def _spins(
    frame: Frame, pieces: Pieces, beams: Beams, released: Released, links: Links, left: dict[int, Array]
) -> Iterator[tuple[int, Array]]:
    """Yield a node and a turn (3,) of it for each way in which nodes turn together without straining a member.

    left: what turns (3, d) of a node with released ends nothing but twist of its members resists. Members hand the turn about
    their axes on: the ways are the null space of the differences along them; each is held where it turns most.
    """
    axes, bases = beams.axes[:, 0], dict(left)
    for node in sorted(set(range(len(pieces.places))) - set(left)):
        held = [*_of_links(links, node), *_of_supports(frame, node), np.zeros((3, 3))]
        bases[node] = _null_space(np.vstack((*_of_members(pieces, released, node, axes), *held)))
    first = dict(zip(bases, np.cumsum([0, *(basis.shape[1] for basis in bases.values())]).tolist(), strict=False))
    owners = [(node, basis[:, way]) for node, basis in bases.items() for way in range(basis.shape[1])]
    rows = np.zeros((pieces.count, len(owners)))
    for piece, ends in enumerate(pieces.nodes.tolist()):
        if any(abs(float(axis @ axes[piece])) > 0.99 for end in (0, 1) for axis in released.get((piece, end), [])):
            continue
        for node, sign in zip(ends, (1.0, -1.0), strict=True):
            at = slice(first[node], first[node] + bases[node].shape[1])
            rows[piece, at] += sign * (axes[piece] @ bases[node])
    ways = _null_space(rows) if owners else np.zeros((0, 0))
    for _ in range(ways.shape[1]):
        row, column = np.unravel_index(int(np.argmax(np.round(np.abs(ways), 9))), ways.shape)
        yield owners[int(row)]
        others = np.delete(ways, column, axis=1)
        ways = others - np.outer(ways[:, column], others[row] / ways[row, column])


def _of_members(pieces: Pieces, released: Released, node: int, spun: Array | None = None) -> list[Array]:
    """Return rows that tell how far a turn of the node (3,) turns or moves the ends of members there.

    spun: the members' axes (n_piece, 3), where turns about them are left out.
    """
    rows = []
    for piece, end in np.argwhere(pieces.nodes == node).tolist():
        free = np.array(released.get((piece, end), [])).reshape(-1, 3)
        held = np.eye(3) - free.T @ free
        if spun is not None and np.abs(free @ spun[piece]).max(initial=0.0) < 0.99:
            held = held - np.outer(spun[piece], spun[piece])
        x, y, z = pieces.arms[piece, end]
        rows += [held, np.array([[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]])]
    return rows


def _of_links(links: Links, node: int) -> list[Array]:
    """Return rows that tell how far a turn of the node stretches springs."""
    acting = links.stiffness > 0
    return [links.rows[acting & (links.nodes[:, end] == node), 6 * end + 3 : 6 * end + 6] for end in (0, 1)]


def _of_supports(frame: Frame, node: int) -> list[Array]:
    """Return the turns of the node that the ground resists."""
    name = list(frame.points)[node] if node < len(frame.points) else ""
    held = [np.array(support.stiffness[3:]) > 0 for support in frame.supports if support.point == name]
    return [np.eye(3)[ways] for ways in held]
