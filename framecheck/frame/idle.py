"""Pins where every member's end is free to turn: the point's own turning means nothing, so it is held. SI.

A pinned end still hands on twist. Where pinned bars meet, points may so turn together, each bar spinning about its own axis
without twisting: a movement of several points that moves and strains nothing. It is held at as many single turns as it has ways.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams
from framecheck.frame.freedoms import Slips
from framecheck.frame.links import Links
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.value_class import array_class

NOTHING = 1e-9
Released = dict[tuple[int, int], list[Array]]
"""Axes of the turns that ends of pieces release, by piece and end."""


@array_class
class Idle:
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


def idle_turns(frame: Frame, pieces: Pieces, beams: Beams, slips: Slips, links: Links) -> Idle:
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
    return Idle(6 * nodes[:, None] + np.arange(3, 6), axes, np.array([hold for _, _, hold in found], dtype=np.float64))


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
