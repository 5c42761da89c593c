"""Loads per length and point loads on members, cut at the ends of pieces. SI.

Each part becomes powers that begin at a place of its piece (particular.py); what falls on a rigid arm goes to the arm's node.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.discretise import SAME, Pieces
from framecheck.frame.element import Beams
from framecheck.model.arrays import Array, IntArray
from framecheck.model.loads import CaseLoads, MemberLoad


@dataclass(frozen=True, eq=False, slots=True)
class Spot:
    """A force and moment (6,) on a node in one case, vehicle axes."""

    node: int
    case: int
    load: Array


@dataclass(frozen=True, eq=False, slots=True)
class Begun:
    """m loads that begin within pieces. piece, case, order (m,); at (m,) from the piece's start, m; load (m, 6).

    line (m, 3): the force on the reference line in vehicle axes. total (k, 6), size (k, 2): of all of them.
    """

    piece: IntArray
    case: IntArray
    order: IntArray
    at: Array
    load: Array
    line: Array
    total: Array
    size: Array


class _Found:
    """Parts of loads as they are found: rows (piece, case, order, at, force) and spots on nodes."""

    def __init__(self, pieces: Pieces, beams: Beams) -> None:
        self.pieces, self.beams = pieces, beams
        self.rows: list[tuple[int, int, int, float, Array]] = []
        self.spots: list[Spot] = []
        self.sums: list[tuple[int, Array, Array]] = []

    def point(self, piece: int, case: int, at: float, force: Array) -> None:
        """Add a point load within a piece, or on its arm."""
        beams, place = self.beams, self._place(piece, at)
        if -SAME <= at <= beams.length[piece] + SAME:
            self.rows.append((piece, case, -1, float(np.clip(at, 0.0, beams.length[piece])), force))
            self._count(case, place, force)
        else:
            node = int(self.pieces.nodes[piece, 0 if at < 0 else 1])
            self.spots.append(Spot(node, case, np.concatenate((force, np.cross(place - self.pieces.places[node], force)))))

    def stretch(self, piece: int, case: int, at: tuple[float, float], force: tuple[Array, Array]) -> None:
        """Add a load per length between two places of a piece, straight between its two values."""
        (low, high), (first, second) = at, force
        slope = (second - first) / (high - low)
        self.rows += [(piece, case, 0, low, first), (piece, case, 1, low, slope)]
        if high < self.beams.length[piece] - SAME:
            self.rows += [(piece, case, 0, high, -second), (piece, case, 1, high, -slope)]
        for place, push in self._gauss(piece, at, force):
            self._count(case, place, push)

    def on_arm(self, piece: int, end: int, case: int, at: tuple[float, float], force: tuple[Array, Array]) -> None:
        """Add a load per length on the rigid arm beyond a piece's end."""
        node = int(self.pieces.nodes[piece, end])
        for place, push in self._gauss(piece, at, force):
            self.spots.append(Spot(node, case, np.concatenate((push, np.cross(place - self.pieces.places[node], push)))))

    def _gauss(self, piece: int, at: tuple[float, float], force: tuple[Array, Array]) -> list[tuple[Array, Array]]:
        """Return two forces (place, force) with the same resultant as a load straight between two values."""
        half = (at[1] - at[0]) / 2
        shares = [0.5 - 0.5 / np.sqrt(3), 0.5 + 0.5 / np.sqrt(3)]
        return [(self._place(piece, at[0] + s * 2 * half), half * (force[0] * (1 - s) + force[1] * s)) for s in shares]

    def _place(self, piece: int, at: float) -> Array:
        place: Array = self.beams.ends[piece, 0] + at * self.beams.axes[piece, 0]
        return place

    def _count(self, case: int, place: Array, force: Array) -> None:
        self.sums.append((case, place, force))


def _part(found: _Found, member: int, case: int, load: MemberLoad) -> None:
    """Cut one load at the pieces of its member."""
    pieces, beams = found.pieces, found.beams
    first, last = int(pieces.first[member]), int(pieces.last[member])
    starts = beams.start[first : last + 1]
    ends = starts + beams.length[first : last + 1]
    length = float(ends[-1] + np.linalg.norm(pieces.arms[last, 1]))
    low, high = load.start, min(load.end, length)
    force = np.array(load.force_start), np.array(load.force_end)
    if high - low <= SAME:
        number = int(np.clip(np.searchsorted(starts, low, side="right") - 1, 0, last - first))
        found.point(first + number, case, low - float(starts[number]), force[0])
        return

    def value(station: float) -> Array:
        share = (station - low) / (high - low)
        return force[0] * (1 - share) + force[1] * share

    for number, (start, end) in enumerate(zip(starts.tolist(), ends.tolist(), strict=True)):
        here = max(low, start), min(high, end)
        if here[1] - here[0] > SAME:
            at = here[0] - start, here[1] - start
            found.stretch(first + number, case, at, (value(here[0]), value(here[1])))
    for piece, end, (a, b) in ((first, 0, (low, min(high, starts[0]))), (last, 1, (max(low, ends[-1]), high))):
        if b - a > SAME:
            base = float(beams.start[piece])
            found.on_arm(piece, end, case, (a - base, b - base), (value(a), value(b)))


def begun_of(
    pieces: Pieces, beams: Beams, members: Mapping[str, int], cases: Sequence[CaseLoads]
) -> tuple[Begun, list[Spot]]:
    """Return the members' loads that begin within pieces, and those on arms."""
    found = _Found(pieces, beams)
    for number, case in enumerate(cases):
        for load in case.member_loads:
            if load.start > load.end or load.start < -SAME:
                raise UnsolvableError(f"load case '{case.name}': a load on '{load.member}' starts beyond where it ends")
            _part(found, members[load.member], number, load)
    return _begun(found, len(cases)), found.spots


def _begun(found: _Found, cases: int) -> Begun:
    rows = found.rows
    piece, case, order = (np.array([row[k] for row in rows], dtype=np.int64) for k in range(3))
    line = np.array([row[4] for row in rows], dtype=np.float64).reshape(-1, 3)
    total, size = np.zeros((cases, 6)), np.zeros((cases, 2))
    for number, place, force in found.sums:
        total[number] += np.concatenate((force, np.cross(place, force)))
        size[number, 0] += float(np.abs(force).sum())
    at = np.array([row[3] for row in rows], dtype=np.float64)
    return Begun(piece, case, order, at, on_line(found.beams, piece, line), line, total, size)


def on_line(beams: Beams, piece: IntArray, force: Array) -> Array:
    """Return the six components (m, 6) that forces (m, 3) in vehicle axes on the reference line make in their pieces."""
    x, y, z = np.einsum("mij,mj->im", beams.axes[piece], force)
    pole, centroid = beams.pole[piece], beams.centroid[piece]
    torque = y * pole[:, 1] - z * pole[:, 0]
    return np.stack([x, y, z, torque, -x * centroid[:, 0], -x * centroid[:, 1]], axis=1)
