"""Loads per length and point loads on members, cut at the ends of pieces. SI.

Each part becomes powers that begin at a place of its piece (within_piece.py); what falls on a rigid arm goes to the arm's node.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.discretise import SAME, Pieces
from framecheck.frame.element import Beams
from framecheck.frame.geometry import cross
from framecheck.model.arrays import Array, IntArray, Vector
from framecheck.model.loads import CaseLoads
from framecheck.value_class import array_class

_Forces = tuple[IntArray, IntArray, Array, Array]  # piece, case, place from its start; force and moment about there (m, 6)
GAUSS = 0.5 - 0.5 / np.sqrt(3), 0.5 + 0.5 / np.sqrt(3)


@array_class
class Spots:
    """m forces and moments on nodes. node, case (m,); load (m, 6), vehicle axes."""

    node: IntArray
    case: IntArray
    load: Array


@array_class
class Begun:
    """m loads that begin within pieces. piece, case, order (m,); at (m,) from the piece's start, m; load (6, m).

    line (m, 6): force and moment on the reference line, vehicle axes; total (k, 6), size (k, 2): of all of them, as in Loads.
    """

    piece: IntArray
    case: IntArray
    order: IntArray
    at: Array
    load: Array
    line: Array
    total: Array
    size: Array


@array_class
class _Lines:
    """m loads on members as written. member, case (m,); low, high (m,) stations; first, last (m, 6): force and moment
    about the line per length, or of a point load where low = high.
    """

    member: IntArray
    case: IntArray
    low: Array
    high: Array
    first: Array
    last: Array

    def part(self, which: IntArray) -> _Lines:
        """Return some of the loads."""
        on = self.member[which], self.case[which]
        return _Lines(*on, self.low[which], self.high[which], self.first[which], self.last[which])

    def value(self, station: Array) -> Array:
        """Return the load per length (m, 6) at a station of each."""
        share = ((station - self.low) / (self.high - self.low))[:, None]
        return self.first * (1 - share) + self.last * share


@array_class
class _Parts:
    """m even stretches of load on pieces or on their arms: from low to high (m,), from the piece's start; force and moment first, last
    (m, 6).
    """

    piece: IntArray
    case: IntArray
    low: Array
    high: Array
    first: Array
    last: Array


def _lines(members: Mapping[str, int], cases: Sequence[CaseLoads], length: Array) -> _Lines:
    """Return all loads on members; length (n_member,)."""
    rows = [(members[load.member], number, load) for number, case in enumerate(cases) for load in case.member_loads]
    for _, number, load in rows:
        if load.start > load.end or load.start < -SAME:
            raise UnsolvableError(f"load case '{cases[number].name}': a load on '{load.member}' starts beyond where it ends")
    member, case = (np.array([row[k] for row in rows], dtype=np.int64) for k in range(2))
    low, high = (np.array([getattr(row[2], name) for row in rows], dtype=np.float64) for name in ("start", "end"))
    first, last = (_about_line([(each.arm, getattr(each, name)) for *_, each in rows]) for name in ("force_start", "force_end"))
    return _Lines(member, case, low, np.minimum(high, np.maximum(length[member], low)), first, last)


def _about_line(forces: Sequence[tuple[Vector, Vector]]) -> Array:
    """Return the force and moment (m, 6) on the reference line of forces at an arm from it."""
    arm, force = np.array(forces, dtype=np.float64).reshape(-1, 2, 3).transpose(1, 0, 2)
    return np.concatenate((force, cross(arm, force)), axis=1)


def begun_of(
    pieces: Pieces, beams: Beams, members: Mapping[str, int], cases: Sequence[CaseLoads]
) -> tuple[Begun, Spots]:
    """Return the members' loads that begin within pieces, and those on arms."""
    ends = beams.start + beams.length
    length = ends[pieces.last] + np.linalg.norm(pieces.arms[pieces.last, 1], axis=1)
    lines = _lines(members, cases, length)
    is_point = lines.high - lines.low <= SAME
    points = lines.part(np.flatnonzero(is_point))
    spread = lines.part(np.flatnonzero(~is_point))
    piece, at = _points_on(pieces, beams, points)
    inside = (at >= -SAME) & (at <= beams.length[piece] + SAME)
    within = _within(pieces, beams, spread)
    on_arms = _on_arms(pieces, beams, spread)
    arm_forces = _as_forces(on_arms)
    out = np.flatnonzero(~inside)
    spots = _on_nodes(
        pieces,
        beams,
        np.concatenate((arm_forces[0], piece[out])),
        np.concatenate((arm_forces[1], points.case[out])),
        np.concatenate((arm_forces[2], at[out])),
        np.concatenate((arm_forces[3], points.first[out])),
    )
    inside_at = np.clip(at, 0.0, beams.length[piece])[inside]
    single = piece[inside], points.case[inside], inside_at, points.first[inside]
    return _begun(beams, single, within, len(cases)), spots


def _points_on(pieces: Pieces, beams: Beams, points: _Lines) -> tuple[IntArray, Array]:
    """Return the piece of each point load and its place on it; beyond the piece's ends where it is on an arm."""
    which, piece = _pairs(pieces, points)
    before = which[beams.start[piece] <= points.low[which] + SAME]
    number = np.maximum(np.bincount(before, minlength=len(points.low)) - 1, 0)
    on = pieces.first[points.member] + number
    return on, points.low - beams.start[on]


def _pairs(pieces: Pieces, lines: _Lines) -> tuple[IntArray, IntArray]:
    """Return every pair (load, piece of its member)."""
    first, count = pieces.first[lines.member], pieces.last[lines.member] - pieces.first[lines.member] + 1
    which = np.repeat(np.arange(len(first)), count)
    return which, np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count) + first[which]


def _within(pieces: Pieces, beams: Beams, lines: _Lines) -> _Parts:
    """Return the loads per length cut at the pieces' ends."""
    which, piece = _pairs(pieces, lines)
    of, start = lines.part(which), beams.start[piece]
    low, high = np.maximum(of.low, start), np.minimum(of.high, start + beams.length[piece])
    return _kept(of, piece, low, high, start)


def _on_arms(pieces: Pieces, beams: Beams, lines: _Lines) -> _Parts:
    """Return the loads per length that fall on the arms at members' ends."""
    first, last = pieces.first[lines.member], pieces.last[lines.member]
    begin, end = beams.start[first], beams.start[last] + beams.length[last]
    before = _kept(lines, first, lines.low, np.minimum(lines.high, begin), begin)
    after = _kept(lines, last, np.maximum(lines.low, end), lines.high, beams.start[last])
    pairs = ((getattr(before, name), getattr(after, name)) for name in ("piece", "case", "low", "high", "first", "last"))
    return _Parts(*(np.concatenate(pair) for pair in pairs))


def _kept(lines: _Lines, piece: IntArray, low: Array, high: Array, start: Array) -> _Parts:
    """Return the parts between stations low and high (m,) that have a length; start: station of each piece."""
    which = np.flatnonzero(high - low > SAME)
    of, low, high, start = lines.part(which), low[which], high[which], start[which]
    return _Parts(piece[which], of.case, low - start, high - start, of.value(low), of.value(high))


def _as_forces(parts: _Parts) -> _Forces:
    """Return piece, case, place and load (2m,) of two loads with the same resultant as each part (Gauss)."""
    size = (parts.high - parts.low)[:, None]
    at = [parts.low + share * (parts.high - parts.low) for share in GAUSS]
    force = [size / 2 * (parts.first * (1 - share) + parts.last * share) for share in GAUSS]
    return np.tile(parts.piece, 2), np.tile(parts.case, 2), np.concatenate(at), np.concatenate(force)


def _on_nodes(pieces: Pieces, beams: Beams, piece: IntArray, case: IntArray, at: Array, load: Array) -> Spots:
    """Return loads (m, 6) on arms beyond the ends of pieces as forces and moments on the arms' nodes."""
    node = pieces.nodes[piece, np.where(at < 0, 0, 1)]
    arm = beams.ends[piece, 0] + at[:, None] * beams.axes[piece, 0] - pieces.places[node]
    force, moment = load[:, :3], load[:, 3:]
    return Spots(node, case, np.concatenate((force, moment + cross(arm, force)), axis=1))


def _begun(beams: Beams, points: _Forces, parts: _Parts, cases: int) -> Begun:
    """Return point loads (piece, case, at, load) and parts as powers that begin somewhere."""
    slope = (parts.last - parts.first) / (parts.high - parts.low)[:, None]
    ends = np.flatnonzero(parts.high < beams.length[parts.piece] - SAME)
    piece, case, at, load = points
    m, e = len(parts.piece), len(ends)
    order = np.repeat([-1, 0, 1, 0, 1], [len(piece), m, m, e, e])
    pieces = np.concatenate((piece, parts.piece, parts.piece, parts.piece[ends], parts.piece[ends]))
    in_case = np.concatenate((case, parts.case, parts.case, parts.case[ends], parts.case[ends]))
    begin = np.concatenate((at, parts.low, parts.low, parts.high[ends], parts.high[ends]))
    line = np.concatenate((load, parts.first, slope, -parts.last[ends], -slope[ends]))
    spread = _as_forces(parts)
    total, size = _resultant(beams, points, spread, cases)
    return Begun(pieces, in_case, order, begin, on_line(beams, pieces, line), line, total, size)


def _resultant(beams: Beams, points: _Forces, spread: _Forces, cases: int) -> tuple[Array, Array]:
    """Return total (k, 6) about the origin and size (k, 2) of all loads."""
    total, size = np.zeros((cases, 6)), np.zeros((cases, 2))
    for piece, case, at, load in (points, spread):
        force, moment = load[:, :3], load[:, 3:]
        place = beams.ends[piece, 0] + at[:, None] * beams.axes[piece, 0]
        np.add.at(total, case, np.concatenate((force, cross(place, force) + moment), axis=1))
        np.add.at(size, case, np.stack((np.abs(force).sum(axis=1), np.abs(moment).sum(axis=1)), axis=1))
    return total, size


def on_line(beams: Beams, piece: IntArray, load: Array) -> Array:
    """Return the six components (6, m) that forces and moments (m, 6) on the reference line, vehicle axes, make in their pieces."""
    x, y, z = np.einsum("mij,mj->im", beams.axes[piece], load[:, :3])
    about_x, about_y, about_z = np.einsum("mij,mj->im", beams.axes[piece], load[:, 3:])
    pole, centroid = beams.pole[piece], beams.centroid[piece]
    torque = about_x + y * pole[:, 1] - z * pole[:, 0]
    return np.stack([x, y, z, torque, -about_z - x * centroid[:, 0], about_y - x * centroid[:, 1]])


def begun_of_none(like: Begun) -> Begun:
    """Return no loads, for as many cases."""
    none = np.zeros(0, dtype=np.int64)
    return Begun(none, none, none, np.zeros(0), np.zeros((6, 0)), np.zeros((0, 6)), 0 * like.total, 0 * like.size)
