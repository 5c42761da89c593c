"""All sheet of a frame as one stiffness on the frame's unknowns, and back from these to what the sheet carries. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams
from framecheck.frame.freedoms import Blocks
from framecheck.frame.panel.bare import NOTHING, Bare, bare_of
from framecheck.frame.panel.division import DividedSheet
from framecheck.frame.panel.fields import ShearFields, fields_of
from framecheck.frame.panel.hung import Aside, Hung, asides_of, hung_nodes
from framecheck.frame.panel.patch import PanelPatch, patch_of
from framecheck.frame.supports import rigid_moves
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.model.panels import PanelCarries
from framecheck.value_class import array_class

AS_JOINED = 100.0
"""What joins two members through one place on sheet, as so many times E t of the sheet: ten times as much moves no answer by 1e-3."""


@array_class
class Seams:
    """Places of the sheet that lie on several members: rows (r, k): unknowns to how far each goes off their mean; stiffness, N/m."""

    rows: Array
    stiffness: float

    def energy(self, moved: Array) -> Array:
        """Return the energy (j,) stored by unknowns (k, j), J."""
        found: Array = self.stiffness * np.sum((self.rows @ moved) ** 2, axis=0) / 2
        return found


@array_class
class Sheets:
    """Sheet of all panels on k unknowns of the frame.

    unknowns (k,); values (k, k): stiffness; moves (3 n, k): unknowns to the sheet's nodes, zero for those within one panel.
    patches: by panel, None for one that carries shear alone; fields: of these. asides: points on members' faces.
    bare: what points that hang on sheet alone do across it.
    """

    division: DividedSheet
    unknowns: IntArray
    values: Array
    moves: Array
    patches: tuple[PanelPatch | None, ...]
    fields: ShearFields | None
    asides: tuple[Aside, ...]
    bare: tuple[Bare, ...]
    hung: tuple[Hung | None, ...]
    seams: Seams

    @property
    def block(self) -> Blocks:
        """Return its part of the frame's stiffness."""
        return Blocks(self.unknowns[None], self.values[None])

    def carry(self, vector: Array) -> None:
        """Move loads (n, j) on points that lie on members' faces to the members."""
        for aside in self.asides:
            own = slice(6 * aside.node, 6 * aside.node + 6)
            for node, rows in zip(aside.hung.nodes.tolist(), aside.hung.rows, strict=True):
                vector[6 * node : 6 * node + 6] += rows.T @ vector[own]
            vector[own] = 0.0

    def follow(self, unknowns: Array) -> None:
        """Let points that lie on members' faces move with the members; unknowns (n, j)."""
        for aside in self.asides:
            own = slice(6 * aside.node, 6 * aside.node + 6)
            unknowns[own] = 0.0
            for node, rows in zip(aside.hung.nodes.tolist(), aside.hung.rows, strict=True):
                unknowns[own] += rows @ unknowns[6 * node : 6 * node + 6]

    @property
    def bare_blocks(self) -> list[Blocks]:
        """Return what lets bare points follow the sheet's members across it: it feels nothing, for a load there is refused."""
        hold = max(float(np.abs(self.values.diagonal()).max(initial=0.0)), 1.0)
        return [Blocks(each.freedoms[None], hold * np.outer(each.row, each.row)[None]) for each in self.bare]

    @property
    def nodes(self) -> IntArray:
        """Return the frame's nodes that it hangs on."""
        return np.array(sorted({*(self.unknowns // 6).tolist(), *(each.node for each in self.asides)}), dtype=np.int64)


def sheets_of(frame: Frame, division: DividedSheet, pieces: Pieces, beams: Beams) -> Sheets:
    """Return the sheet of a frame."""
    hung = hung_nodes(frame, division, pieces)
    kept = np.array([each is not None for each in hung]) | division.shared
    unknowns, moves = _moves(hung, division)
    turning = set(pieces.nodes.ravel().tolist())
    firm = tuple(each if each is not None and turning.issuperset(each.nodes.tolist()) else None for each in hung)
    patches = tuple(
        None if panel.carries is PanelCarries.SHEAR else patch_of(panel, number, division, kept, firm)
        for number, panel in enumerate(frame.panels)
    )
    free = np.flatnonzero(kept & np.array([each is None for each in hung]))
    size, count = len(unknowns), 3 * len(free)
    whole = np.zeros((size + count, size + count))
    column = {int(node): size + 3 * place for place, node in enumerate(free.tolist())}
    for patch in patches:
        if patch is not None:
            _add(whole, patch, (unknowns, moves), column)
    seams = Seams(*_seams(frame, hung, unknowns))
    whole[:size, :size] += seams.stiffness * seams.rows.T @ seams.rows
    fields = fields_of(frame, division, hung, pieces, beams)
    if fields is not None:
        rows = fields.rows @ moves
        whole[:size, :size] += rows.T @ fields.stiffness @ rows
    follow = _follow(whole, size)
    values = whole[:size, :size] + whole[:size, size:] @ follow
    moves = moves.copy()
    for place, node in enumerate(free.tolist()):
        moves[3 * node : 3 * node + 3] = follow[3 * place : 3 * place + 3]
    values = _in_balance(values, pieces.places[unknowns[::6] // 6])
    bare = tuple(bare_of(frame, division, hung, pieces, (unknowns, values)))
    return Sheets(
        division, unknowns, values, moves, patches, fields, asides_of(frame, division, hung), bare, hung, seams
    )


def _in_balance(values: Array, places: Array) -> Array:
    """Return a stiffness (k, k) on nodes at places (k / 6, 3) without what rounding makes of a rigid move of them all."""
    away = places - places.mean(axis=0)
    extent = max(float(np.abs(away).max(initial=0.0)), 1e-9)
    rigid = np.zeros((len(places), 6, 6))
    rigid[:, :3], rigid[:, 3:, 3:] = rigid_moves(away), np.eye(3)
    rigid = rigid.reshape(-1, 6) / np.array([1.0, 1.0, 1.0, extent, extent, extent])
    rigid[~values.any(axis=1)] = 0.0  # turns of points on sheet alone
    way, _ = np.linalg.qr(rigid)
    off = values - (values @ way) @ way.T
    off = off - way @ (way.T @ off)
    found: Array = (off + off.T) / 2
    return found


def _seams(frame: Frame, hung: Sequence[Hung | None], unknowns: IntArray) -> tuple[Array, float]:
    """Return what joins members that sheet lies on at one place: rows (r, k) and their stiffness, N/m."""
    column = {int(unknown): place for place, unknown in enumerate(unknowns.tolist())}
    found = []
    for each in hung:
        if each is None or len(each.nodes) < 2:
            continue
        count = len(each.nodes)
        for place in range(count):
            rows = np.zeros((3, len(unknowns)))
            for other, (node, shares) in enumerate(zip(each.nodes.tolist(), each.rows, strict=True)):
                first = column[6 * node]
                rows[:, first : first + 6] += (count * (other == place) - 1.0) * shares[:3]
            found.append(rows)
    stiffest = max(panel.material.youngs_modulus * panel.thickness for panel in frame.panels)
    return np.concatenate(found) if found else np.zeros((0, len(unknowns))), AS_JOINED * stiffest


def _moves(hung: Sequence[Hung | None], division: DividedSheet) -> tuple[IntArray, Array]:
    """Return the frame's unknowns (k,) that sheet hangs on, and (3 n, k): them to the movements of its nodes."""
    nodes = sorted({int(node) for each in hung if each is not None for node in each.nodes})
    first = {node: 6 * place for place, node in enumerate(nodes)}
    moves = np.zeros((3 * len(division.places), 6 * len(nodes)))
    for place, each in enumerate(hung):
        if each is not None:
            for node, rows in zip(each.nodes.tolist(), each.rows, strict=True):
                moves[3 * place : 3 * place + 3, first[node] : first[node] + 6] += rows[:3]
    return (6 * np.array(nodes, dtype=np.int64)[:, None] + np.arange(6)).ravel(), moves


def _add(whole: Array, patch: PanelPatch, of: tuple[IntArray, Array], column: Mapping[int, int]) -> None:
    """Add a panel's stiffness on its outer nodes to the whole's, on unknowns and free nodes; of: unknowns (k,), moves of the nodes."""
    (unknowns, moves), nodes = of, patch.outer
    rows = moves[(3 * nodes[:, None] + np.arange(3)).ravel()]
    for each in patch.beside:
        rows[3 * each.row : 3 * each.row + 3, np.searchsorted(unknowns, each.unknowns)] += each.turn
    used = np.flatnonzero(rows.any(axis=0))
    free = [(row, column[int(node)]) for row, node in enumerate(nodes.tolist()) if int(node) in column]
    at = np.concatenate([used, *(np.arange(first, first + 3) for _, first in free)])
    local = np.zeros((len(rows), len(at)))
    local[:, : len(used)] = rows[:, used]
    for place, (row, _) in enumerate(free):
        first = len(used) + 3 * place
        local[3 * row : 3 * row + 3, first : first + 3] = np.eye(3)
    whole[np.ix_(at, at)] += local.T @ patch.solid @ local


def _follow(whole: Array, size: int) -> Array:
    """Return (f, size): how free movements follow the unknowns; across flat sheet, which resists nothing, they stay."""
    free = whole[size:, size:]
    if not len(free):
        return np.zeros((0, size))
    values, ways = np.linalg.eigh(free)
    held = values > NOTHING * max(float(values[-1]), 1e-300)
    follow: Array = -(ways[:, held] / values[held]) @ (ways[:, held].T @ whole[size:, :size])
    return follow
