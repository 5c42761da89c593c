"""One panel as a membrane between its outer nodes: those within it are condensed. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.panel.division import DividedSheet
from framecheck.frame.panel.hung import Hung
from framecheck.frame.panel.membrane import Cells, cells_of, elasticity
from framecheck.frame.supports import carried, rigid_moves
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.panels import Panel
from framecheck.value_class import array_class

ROUNDING = 1e-12
"""m: what is less beside its node is at it."""
FLAT = 1e-12
"""Share of its size by which a panel may be out of its plane and count as flat: rounding of its corners."""


@array_class
class PlaceBeside:
    """A place of a panel a hair beside the node it shares with others. row: of the node among the panel's outer ones; turn (3, j): how
    it goes further than the node with some unknowns (j,) of the frame.
    """

    row: int
    unknowns: IntArray
    turn: Array


@array_class
class PanelPatch:
    """A panel between its o outer nodes, i nodes within. outer (o,), inner (i,): nodes; flat (2 o, 3 o): movements to those in its
    plane; stiffness (2 o, 2 o), N/m; follow (2 i, 2 o): movements within from those outside; cells: which; made: their matrices;
    beside: places beside their node.
    """

    outer: IntArray
    inner: IntArray
    flat: Array
    stiffness: Array
    follow: Array
    cells: IntArray
    made: Cells
    beside: tuple[PlaceBeside, ...]

    @property
    def solid(self) -> Array:
        """Return the stiffness (3 o, 3 o) against the outer nodes' movements."""
        found: Array = self.flat.T @ self.stiffness @ self.flat
        return found


def patch_of(
    panel: Panel, number: int, division: DividedSheet, is_outer: BoolArray, hung: Sequence[Hung | None]
) -> PanelPatch:
    """Return a panel as a membrane; is_outer (n,): which nodes of the sheet are kept; hung: on which members they hang."""
    cells = np.flatnonzero(division.of == number)
    nodes = np.array(sorted(set(division.cells[cells].ravel().tolist())), dtype=np.int64)
    outer, inner = nodes[is_outer[nodes]], nodes[~is_outer[nodes]]
    order = np.concatenate((outer, inner))
    place = np.zeros(len(division.places), dtype=np.int64)
    place[order] = np.arange(len(order))
    elastic = np.broadcast_to(elasticity(panel.material, panel.carrying), (len(cells), 3, 3))
    made = cells_of(division.flat[cells], elastic)
    at = (2 * place[division.cells[cells]][:, :, None] + np.arange(2)).reshape(len(cells), 8)
    size = 2 * len(order)
    whole = np.bincount((at[:, :, None] * size + at[:, None, :]).ravel(), made.stiffness.ravel(), size * size).reshape(
        size, size
    )
    kept = 2 * len(outer)
    follow = -np.linalg.solve(whole[kept:, kept:], whole[kept:, :kept]) if len(inner) else np.zeros((0, kept))
    stiffness = whole[:kept, :kept] + whole[:kept, kept:] @ follow
    own = own_places(division, cells, outer)
    flat, beside = _in_plane(division, number, own), tuple(_beside(own - division.places[outer], outer, hung))
    return PanelPatch(outer, inner, flat, (stiffness + stiffness.T) / 2, follow, cells, made, beside)


def own_places(division: DividedSheet, cells: IntArray, outer: IntArray) -> Array:
    """Return where a panel itself has its outer nodes (o, 3)."""
    solid = dict(zip(division.cells[cells].ravel().tolist(), division.solid[cells].reshape(-1, 3), strict=True))
    return np.array([solid[node] for node in outer.tolist()])


def _beside(away: Array, outer: IntArray, hung: Sequence[Hung | None]) -> Iterator[PlaceBeside]:
    """Yield the places that lie beside their node, by how much (o, 3): the sheet is stiff, and a hair times a turn would load it."""
    for row in np.flatnonzero(np.abs(away).max(axis=1) > ROUNDING).tolist():
        on = hung[int(outer[row])]
        if on is not None:
            arm = carried(away[row])[:3, 3:]
            unknowns = (6 * on.nodes[:, None] + np.arange(6)).ravel()
            yield PlaceBeside(row, unknowns, np.concatenate([arm @ shares[3:] for shares in on.rows], axis=1))


def _in_plane(division: DividedSheet, number: int, own: Array) -> Array:
    """Return (2 o, 3 o): movements at own places (o, 3) to those in the panel's plane, less what a rigid move of them all makes.

    A flat panel resists no rigid move anyhow; in one a little out of its plane, forces in the plane would not balance without.
    """
    site = division.sites[number]
    flat = np.kron(np.eye(len(own)), site.axes[:2])
    away = own - site.middle
    extent = float(np.abs(away).max(initial=1e-300))
    if float(np.abs(away @ site.axes[2]).max(initial=0.0)) <= FLAT * extent:
        return np.asarray(flat, dtype=np.float64)
    rigid = rigid_moves(away / extent).reshape(-1, 6)
    rest = flat - (flat @ rigid) @ np.linalg.pinv(rigid)
    return np.asarray(rest, dtype=np.float64)
