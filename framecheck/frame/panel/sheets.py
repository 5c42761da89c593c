"""All sheet of a frame as one stiffness on the frame's unknowns, and back from these to what the sheet carries. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams
from framecheck.frame.freedoms import Blocks
from framecheck.frame.panel.bare import NOTHING, Bare, bare_of
from framecheck.frame.panel.division import DividedSheet
from framecheck.frame.panel.fields import ShearFields, fields_of
from framecheck.frame.panel.hung import Aside, Hung, asides_of, ends_of, hung_nodes, nearest
from framecheck.frame.panel.patch import PanelPatch, patch_of
from framecheck.frame.panel.wall_seats import WallSeat, wall_seats
from framecheck.frame.supports import rigid_moves
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.frame import Frame
from framecheck.model.panels import PanelCarries
from framecheck.value_class import array_class

AS_JOINED = 100.0
"""What joins two members through one place on sheet, as so many times E t of the sheet: ten times as much moves no answer by 1e-3."""

SLIGHT = 1e-3
"""A wall that gives less than this share of what joins members gives is rigid: it moves no answer by 1e-5, nor does a hair of it."""


@array_class
class Seams:
    """Places of the sheet that lie on several members, and walls that bend under it: rows (r, k): unknowns to how far each goes off
    their mean, and, to scale, off its member; stiffness, N/m."""

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
    hold = _Hold(hung, kept, seats_on(frame, division, pieces))
    turning = set(pieces.nodes.ravel().tolist())
    firm = tuple(each if each is not None and turning.issuperset(each.nodes.tolist()) else None for each in hung)
    patches = tuple(
        None if panel.carries is PanelCarries.SHEAR else patch_of(panel, number, division, kept, firm)
        for number, panel in enumerate(frame.panels)
    )
    unknowns, size, moves = hold.unknowns, len(hold.unknowns), hold.moves
    whole = np.zeros((hold.count, hold.count))
    for patch in patches:
        if patch is not None:
            _add(whole, patch, unknowns, moves)
    own = float(whole.diagonal()[size:].max(initial=1e-300))
    seams = Seams(*hold.seams(frame))
    whole += seams.stiffness * seams.rows.T @ seams.rows
    fields = fields_of(frame, division, hung, pieces, beams)
    if fields is not None:
        rows = fields.rows @ moves
        whole += rows.T @ fields.stiffness @ rows
    follow = _follow(whole, size, own)
    values = whole[:size, :size] + whole[:size, size:] @ follow
    moves, sewn = (each[:, :size] + each[:, size:] @ follow for each in (moves, seams.rows))
    values = _in_balance(values, pieces.places[unknowns[::6] // 6])
    bare = tuple(bare_of(frame, division, hung, pieces, (unknowns, values)))
    return Sheets(
        division, unknowns, values, moves, patches, fields, asides_of(frame, division, hung), bare, hung, replace(seams, rows=sewn)
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


Seats = Mapping[tuple[int, int], WallSeat]


def seats_on(frame: Frame, division: DividedSheet, pieces: Pieces) -> Seats:
    """Return the seats by node of the sheet and node of the frame."""
    least = SLIGHT / joined_by(frame)
    found = {at: each for at, seat in wall_seats(frame, division).items() if len((each := _giving(seat, least)).give)}
    ends = {member: ends_of(pieces, member) for _, member in found}
    return {
        (node, nearest(ends[member], next(foot for foot in division.feet[node] if foot.leg.member == member))): seat
        for (node, member), seat in found.items()
    }


def _giving(seat: WallSeat, least: float) -> WallSeat:
    """Return a seat's walls that give more than a little, m/N."""
    return WallSeat(seat.ways[seat.give > least], seat.give[seat.give > least])


def joined_by(frame: Frame) -> float:
    """Return the stiffness that joins members through one place on sheet, N/m."""
    return AS_JOINED * max(panel.material.youngs_modulus * panel.thickness for panel in frame.panels)


class _Hold:
    """The sheet's unknowns: the frame's that it hangs on, then of nodes on the sheet alone, then how far walls bend under it.

    unknowns (k,); count: of all; moves (3 n, count): of the sheet's nodes.
    """

    def __init__(self, hung: Sequence[Hung | None], kept: BoolArray, seats: Seats) -> None:
        self.hung, self.seats = hung, seats
        nodes = sorted({int(node) for each in hung if each is not None for node in each.nodes})
        free = [node for node in np.flatnonzero(kept).tolist() if hung[node] is None]
        self.unknowns = (6 * np.array(nodes, dtype=np.int64)[:, None] + np.arange(6)).ravel()
        self.first = {node: 6 * place for place, node in enumerate(nodes)}
        first = 6 * len(nodes) + 3 * len(free)
        self.slips = dict(zip(seats, first + np.cumsum([0, *(len(each.give) for each in seats.values())]), strict=False))
        self.count = first + sum(len(each.give) for each in seats.values())
        self.moves = np.zeros((3 * len(hung), self.count))
        for place, node in enumerate(free):
            column = 6 * len(nodes) + 3 * place
            self.moves[3 * node : 3 * node + 3, column : column + 3] = np.eye(3)
        for node, each in enumerate(hung):
            if each is not None:
                self.moves[3 * node : 3 * node + 3] = sum(self.shares(node, each))

    def shares(self, node: int, on: Hung) -> Iterator[Array]:
        """Yield (3, count) of what each of the frame's nodes adds to a node's movement, the give of its member's wall with it."""
        for at, rows in zip(on.nodes.tolist(), on.rows, strict=True):
            found, seat = np.zeros((3, self.count)), self.seats.get((node, at))
            found[:, self.first[at] : self.first[at] + 6] = rows[:3]
            if seat is not None:
                column = self.slips[node, at]
                found[:, column : column + len(seat.give)] = seat.ways.T / len(on.nodes)
            yield found

    def seams(self, frame: Frame) -> tuple[Array, float]:
        """Return what joins members that sheet lies on at one place, and walls' give: rows (r, count) and their stiffness, N/m."""
        stiffness = joined_by(frame)
        found = [np.zeros((0, self.count))]
        for node, each in enumerate(self.hung):
            if each is not None and len(each.nodes) > 1:
                found += [len(each.nodes) * share - self.moves[3 * node : 3 * node + 3] for share in self.shares(node, each)]
        for at, seat in self.seats.items():
            rows = np.zeros((len(seat.give), self.count))
            rows[np.arange(len(rows)), self.slips[at] + np.arange(len(rows))] = 1.0 / np.sqrt(stiffness * seat.give)
            found.append(rows)
        return np.concatenate(found), stiffness


def _add(whole: Array, patch: PanelPatch, unknowns: IntArray, moves: Array) -> None:
    """Add a panel's stiffness on its outer nodes to the whole's; unknowns (k,): the frame's among the whole's; moves: of the nodes."""
    rows = moves[(3 * patch.outer[:, None] + np.arange(3)).ravel()]
    for each in patch.beside:
        rows[3 * each.row : 3 * each.row + 3, np.searchsorted(unknowns, each.unknowns)] += each.turn
    at = np.flatnonzero(rows.any(axis=0))
    whole[np.ix_(at, at)] += rows[:, at].T @ patch.solid @ rows[:, at]


def _follow(whole: Array, size: int, firm: float) -> Array:
    """Return (f, size): how free movements follow the unknowns; across flat sheet, which resists nothing, they stay. firm: the sheet's
    own stiffness, N/m, whatever rigid walls stand beside it.
    """
    free = whole[size:, size:]
    if not len(free):
        return np.zeros((0, size))
    values, ways = np.linalg.eigh(free)
    held = values > NOTHING * firm
    follow: Array = -(ways[:, held] / values[held]) @ (ways[:, held].T @ whole[size:, :size])
    return follow
