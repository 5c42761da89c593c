"""Which of the ends that may be soft or stiff are changed so that a frame buckles sooner, end by end, while its mode is held. SI.

Over the stiff springs 1 / a, a the factor at buckling, is to the first order less by m s' A^-1 s + b' A^-1 g. A: give of the springs;
m: 1 / a; s: their slips in the mode, b: under the loads; g: what unit forces in them do of the geometric stiffness in the mode. The
first part is what they hold of the mode, the second the load that they move. An end that changes is a pivot of A (principal pivoting).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.fields import SolvedPieces, forces_at
from framecheck.frame.geometric_stiffness import arm_forms, end_forces, form_at, offset_forms
from framecheck.frame.second_order import TURNS, Search
from framecheck.frame.soft_frame import Springs
from framecheck.frame.unlike import Ends
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class, value_class

LEAST = 1e-5
"""Share of 1 / a that an end must add to it to be changed."""


@array_class
class ModeParts:
    """What the modes of k cases say of the springs. values (k,): m; slips, made (n, k): s and g; stiff: the ends that are, by case."""

    cases: IntArray
    values: Array
    slips: Array
    made: Array
    stiff: tuple[Ends, ...]

    def of(self, which: IntArray) -> ModeParts:
        """Return the same of some of the cases."""
        stiff = tuple(self.stiff[number] for number in which.tolist())
        return ModeParts(self.cases[which], self.values[which], self.slips[:, which], self.made[:, which], stiff)


@value_class
class Change:
    """Ends that change, the one that adds most first, and by what share 1 / a grows with all of them."""

    ends: tuple[tuple[int, int], ...]
    share: float


def changes_of(springs: Springs, modes: ModeParts) -> list[Change]:
    """Return what changes in each case."""
    found: dict[int, Change] = {}
    for stiff in dict.fromkeys(modes.stiff):
        which = [number for number, each in enumerate(modes.stiff) if each == stiff]
        found |= zip(which, _changes(springs, modes, which, stiff), strict=True)
    return [found[number] for number in range(len(modes.stiff))]


def _changes(springs: Springs, modes: ModeParts, which: Sequence[int], stiff: Ends) -> list[Change]:
    """Return what changes in some cases, which begin with the same ends stiff."""
    loads = springs.slips[:, np.searchsorted(springs.cases, modes.cases[which])]
    felt = np.stack((modes.slips[:, which], loads, modes.made[:, which]), axis=2).transpose(1, 0, 2)
    scale = 1.0 / np.sqrt(np.diagonal(springs.give) + springs.less)
    table = scale[:, None] * (springs.give + np.diag(springs.less)) * scale
    blocks = blocks_of(springs)
    order, gains = _pivoted(*swept(table, scale[:, None] * felt, springs.of(stiff)), blocks, modes.values[which])
    ends = tuple(springs.ends)
    return [
        Change(tuple(ends[number] for number in row if number >= 0), float(gain))
        for row, gain in zip(order.tolist(), gains, strict=True)
    ]  # fmt: skip


def blocks_of(springs: Springs) -> IntArray:
    """Return the numbers (E, w) of the springs of each end, filled up with n where it has fewer."""
    n, width = len(springs.less), max(each.stop - each.start for each in springs.ends.values())
    blocks = np.full((len(springs.ends), width), n)
    for row, each in zip(blocks, springs.ends.values(), strict=True):
        row[: each.stop - each.start] = np.arange(each.start, each.stop)
    return blocks


def swept(give: Array, felt: Array, rows: IntArray) -> tuple[Array, Array]:
    """Return the table (n + 1, n + 1) with some rows pivoted, and felt (k, n + 1, 3) with it; the last row is nothing's."""
    n = len(give)
    rest = np.setdiff1d(np.arange(n), rows)
    table, own = np.zeros((n + 1, n + 1)), np.zeros((len(felt), n + 1, 3))
    held = np.linalg.inv(give[np.ix_(rows, rows)])
    beside = held @ give[np.ix_(rows, rest)]
    table[np.ix_(rows, rows)] = -held
    table[np.ix_(rows, rest)], table[np.ix_(rest, rows)] = beside, beside.T
    table[np.ix_(rest, rest)] = give[np.ix_(rest, rest)] - give[np.ix_(rest, rows)] @ beside
    own[:, rows], own[:, rest] = held @ felt[:, rows], felt[:, rest] - beside.T @ felt[:, rows]
    return table, own


def _pivoted(table: Array, felt: Array, blocks: IntArray, values: Array) -> tuple[IntArray, Array]:
    """Return the ends (k, E) in the order in which they change, -1 behind the last one, and the share (k,) that all add."""
    cases, none = np.arange(len(felt)), blocks == len(table) - 1
    own = np.repeat(table[blocks[:, :, None], blocks[:, None, :]][None], len(felt), axis=0)
    own[:, none] += np.eye(blocks.shape[1])[np.nonzero(none)[1]]
    order, gains = np.full((len(felt), len(blocks)), -1), np.zeros(len(felt))
    left, past = np.ones(order.shape, dtype=np.bool_), list[tuple[Array, Array]]()
    for number in range(len(blocks)):
        more = np.where(left, -_added(own, felt[:, blocks], values), -np.inf)
        best = np.argmax(more, axis=1)
        going = more[cases, best] > LEAST
        if not going.any():
            break
        rows = blocks[best]
        beside = table[rows].transpose(0, 2, 1)
        for column, push in past:
            beside = beside - column @ (push @ column[cases[:, None], rows].transpose(0, 2, 1))
        push = np.linalg.inv(own[cases, best]) * going[:, None, None]
        past.append((beside, push))
        felt = felt - beside @ (push @ felt[cases[:, None], rows])
        across = beside[:, blocks]
        own = own - across @ push[:, None] @ across.transpose(0, 1, 3, 2)
        order[going, number], left[cases[going], best[going]] = best[going], False
        own[cases[going], best[going]] = np.eye(blocks.shape[1])
        gains[going] += more[cases, best][going]
    return order, gains


def _added(own: Array, felt: Array, values: Array) -> Array:
    """Return what share of 1 / a each end (k, E) takes off it as it changes; own (k, E, w, w), felt (k, E, w, 3)."""
    push = np.linalg.solve(own, felt)
    held, moved = np.sum(felt[..., 0] * push[..., 0], axis=2), np.sum(felt[..., 1] * push[..., 2], axis=2)
    taken: Array = held + moved / values[:, None]
    return taken


def geometric_work(search: Search, pieces: Pieces, unit: SolvedPieces, moved: Array) -> Array:
    """Return the geometric stiffness (n, j) of n answers in modes, movements (N, j) of a search."""
    beams, pushes = search.answer.beams, end_forces(unit)
    known = np.concatenate((moved[: search.count], np.zeros((1, moved.shape[1]))))
    total = np.zeros((pushes.shape[2], moved.shape[1]))
    offsets = offset_forms(beams, unit_pushes(len(beams.length)))
    for part in search.parts:
        ends = part.maps @ known[part.at]
        strains = (part.rows @ np.concatenate((ends, part.shaped(moved)), axis=1)[:, None]).reshape(-1, 6, moved.shape[1])
        pulls = np.zeros((8, len(strains), 6))
        pulls[np.arange(6), :, np.arange(6)] = 1.0
        forms = form_at(beams, search.wagner, part.stations.piece, pulls) * part.stations.weight[:, None, None, None]
        total += worked(forces_at(unit, part.stations)[:6].transpose(1, 2, 0), forms, strains)
        for end, turns in enumerate(TURNS):
            total += worked(pushes[end, part.pieces], offsets[end, part.pieces], ends[:, turns])
    long = np.flatnonzero(pieces.arms.any(axis=(1, 2)))
    forms = arm_forms(beams, unit_pushes(len(beams.length)), pieces.arms)[:, long].reshape(-1, 3, 3, 3)
    return total + worked(pushes[:, long].reshape(-1, *pushes.shape[2:]), forms, moved[search.turning.at])


def unit_pushes(count: int) -> Array:
    """Return a unit force each way (2, n, 3, 3) at both ends of pieces."""
    return np.broadcast_to(np.eye(3), (2, count, 3, 3))


def worked(forces: Array, forms: Array, moved: Array) -> Array:
    """Return (n, j): over all places m, forces (m, n, c) times what forms (m, c, i, i) of each make of movements (m, i, j) squared."""
    made = np.sum((forms @ moved[:, None]) * moved[:, None], axis=2)
    count = forces.shape[1]
    found: Array = forces.transpose(1, 0, 2).reshape(count, -1) @ made.reshape(-1, moved.shape[2])
    return found
