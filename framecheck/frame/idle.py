"""Pins where every member's end is free to turn: the point's own turning means nothing, so it is held. SI."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams
from framecheck.frame.freedoms import Slips
from framecheck.frame.links import Links
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.value_class import array_class

NOTHING = 1e-9


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
    released: dict[tuple[int, int], list[Array]] = defaultdict(list)
    for piece, end, way, axis, stiffness in zip(
        slips.piece.tolist(), slips.end.tolist(), slips.way.tolist(), slips.axis, slips.stiffness.tolist(), strict=True
    ):
        if way >= 3 and stiffness == 0:
            released[piece, end].append(axis)
    found: list[tuple[int, Array, float]] = []
    for node in sorted({int(pieces.nodes[where]) for where in released}):
        stiff = [*_of_members(pieces, released, node), *_of_links(links, node), *_of_supports(frame, node)]
        _, sizes, ways = np.linalg.svd(np.vstack((*stiff, np.zeros((3, 3)))))
        here = np.flatnonzero((pieces.nodes == node).any(axis=1))
        hold = float(np.max(np.trace(beams.bending[here], axis1=1, axis2=2) / beams.length[here]))
        found += [(node, way, hold) for way, size in zip(ways, sizes, strict=True) if size < NOTHING]
    nodes = np.array([node for node, _, _ in found], dtype=np.int64)
    axes = np.array([axis for _, axis, _ in found], dtype=np.float64).reshape(-1, 3)
    return Idle(6 * nodes[:, None] + np.arange(3, 6), axes, np.array([hold for _, _, hold in found], dtype=np.float64))


def _of_members(pieces: Pieces, released: dict[tuple[int, int], list[Array]], node: int) -> list[Array]:
    """Return rows that tell how far a turn of the node (3,) turns or moves the ends of members there."""
    rows = []
    for piece, end in np.argwhere(pieces.nodes == node).tolist():
        free = np.array(released.get((piece, end), [])).reshape(-1, 3)
        x, y, z = pieces.arms[piece, end]
        rows += [np.eye(3) - free.T @ free, np.array([[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]])]
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
