"""What each open piece's ends do to its warping: free, held, passed on or held by a spring. SI.

Warping is passed on as the rate of twist. Where the shear centre moves aside by (dy, dz) from one section to the next, the same
warped cross-section is, for the second, turned by dy (about y) and dz (about z) times the rate of twist besides: w2 = w1 + dy z -
dz y, the change of pole of the sectorial coordinate (V. Z. Vlasov, Thin-Walled Elastic Beams, 1961, ch. I; from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from framecheck.frame.discretise import Key, Pieces
from framecheck.frame.element import Beams
from framecheck.frame.geometry import End, outward, running_on
from framecheck.frame.joint_faces import drawn_axes, rails_at
from framecheck.frame.results import Warping
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd
from framecheck.value_class import array_class

if TYPE_CHECKING:  # only a frame with cuts enters that room
    from framecheck.frame.notch_softness import NotchSoftness

HELD = -1
RESTRAINT_DEPTHS = 1.5
"""A closed neighbour holds an open stretch's warping about as E Cw / (this x depth). Fitted: the notch model (notch_softness.py)
gives 0.9 to 2 depths for cuts two to five depths long in tubes of 60 to 100 mm; only used where no notch model applies."""


@array_class
class WarpTies:
    """How pieces' ends take part in the shared rates of twist.

    tie (n, 2): number of the shared rate, HELD where there is none; factor (n, 2): the end's rate per shared rate;
    step (n, 2, 3): stretch and slopes v', w' of the end per unit of its rate. springs (n_tie,): to the ground, N m3.
    """

    tie: IntArray
    factor: Array
    step: Array
    springs: Array


class _Ties:
    """Ties as they are found."""

    def __init__(self, pieces: Pieces, beams: Beams) -> None:
        n = pieces.count
        self.pieces, self.beams = pieces, beams
        self.tie = np.full((n, 2), HELD, dtype=np.int64)
        self.factor, self.step = np.ones((n, 2)), np.zeros((n, 2, 3))
        self.springs: dict[int, float] = {}
        self.shared: dict[object, int] = {}
        self.count = 0

    def new(self, count: int) -> IntArray:
        """Return new tie numbers (count,)."""
        self.count += count
        return np.arange(self.count - count, self.count)

    def done(self) -> WarpTies:
        """Return the ties found."""
        springs = np.zeros(self.count)
        for tie, stiffness in self.springs.items():
            springs[tie] = stiffness
        return WarpTies(self.tie, self.factor, self.step, springs)


def warp_ties(
    frame: Frame, pieces: Pieces, beams: Beams, warping: Warping | None, notches: Mapping[Key, NotchSoftness]
) -> WarpTies:
    """Return the ties of all open pieces; notches: by section key, for pieces that are cuts."""
    ties = _Ties(pieces, beams)
    if beams.warps.any():
        _inside_members(ties, notches)
        _at_ends(ties, frame, warping)
    return ties.done()


def _inside_members(ties: _Ties, notches: Mapping[Key, NotchSoftness]) -> None:
    """Tie pieces that follow each other in a member."""
    pieces, warps = ties.pieces, ties.beams.warps
    before = np.flatnonzero(pieces.member[:-1] == pieces.member[1:])
    both = before[warps[before] & warps[before + 1]]
    ties.tie[both, 1] = ties.tie[both + 1, 0] = ties.new(len(both))
    moved = ties.beams.pole[both + 1] - ties.beams.pole[both]
    ties.step[both + 1, 0, 1], ties.step[both + 1, 0, 2] = -moved[:, 1], -moved[:, 0]
    for piece in before[warps[before] & ~warps[before + 1]].tolist():
        _against_closed(ties, piece, 1, notches)
    for piece in before[~warps[before] & warps[before + 1]].tolist():
        _against_closed(ties, piece + 1, 0, notches)
    for piece in np.flatnonzero(np.isin(pieces.section, [pieces.keys.index(key) for key in notches])).tolist():
        _notch_steps(ties, piece, notches[pieces.keys[pieces.section[piece]]])


def _against_closed(ties: _Ties, piece: int, end: int, notches: Mapping[Key, NotchSoftness]) -> None:
    """Tie an open piece's end to the closed piece beside it: an elastic restraint."""
    beams, key = ties.beams, ties.pieces.keys[ties.pieces.section[piece]]
    tie = int(ties.new(1)[0])
    softness = notches.get(key)
    if softness is not None:
        stiffness = softness.warping_stiffness
    else:
        stiffness = float(beams.warping[piece]) / (RESTRAINT_DEPTHS * float(beams.depth[piece]))
    if np.isinf(stiffness):
        return
    ties.tie[piece, end], ties.springs[tie] = tie, stiffness


def _notch_steps(ties: _Ties, piece: int, softness: NotchSoftness) -> None:
    """Give a notched open piece its steps against its whole neighbours, instead of those of the poles alone."""
    if not any(softness.step):
        return
    turn = ties.beams.turn[piece]
    hand = float(np.sign(np.linalg.det(turn)))
    slopes = hand * turn @ np.array([softness.step[2], softness.step[1]])
    for end in (0, 1):
        ties.step[piece, end] = [-hand * softness.step[0], *slopes]
    if piece + 1 < len(ties.tie) and ties.tie[piece, 1] == ties.tie[piece + 1, 0] != HELD:
        ties.step[piece + 1, 0] = 0.0


def _at_ends(ties: _Ties, frame: Frame, warping: Warping | None) -> None:
    """Tie the members' own ends."""
    warps, pieces = ties.beams.warps, ties.pieces
    alike = alike_beyond(frame)
    for (number, end), (other, other_end) in alike.items():
        one, two = (int((pieces.first, pieces.last)[e][n]) for n, e in ((number, end), (other, other_end)))
        if warps[one] and warps[two] and (number, end) < (other, other_end):
            ties.tie[one, end] = ties.tie[two, other_end] = ties.new(1)[0]
    for end, places in ((0, pieces.first), (1, pieces.last)):
        open_ends = np.array([n for n in np.flatnonzero(warps[places]).tolist() if (n, end) not in alike], dtype=np.int64)
        said = [_said(_end(frame.members[number], end), warping) for number in open_ends.tolist()]
        free = np.array([each is EndWarping.FREE for each in said], dtype=bool)
        ties.tie[places[open_ends[free]], end] = ties.new(int(free.sum()))
        for number, each in zip(open_ends.tolist(), said, strict=True):
            if each is not EndWarping.FREE and each is not EndWarping.FIXED:
                _at_end(ties, frame, number, end, each)


def alike_beyond(frame: Frame) -> Mapping[End, End]:
    """Return the ends, of unsaid warping, from which a member runs on in the same section and lie, each with its partner.

    Warping passes on there as it does within a member.
    """
    return {end: other for end, other in running_on(frame).items() if _is_alike(frame, end, other)}


def _is_alike(frame: Frame, end: End, other: End) -> bool:
    """Return whether two members' ends are one bar cut in two: one section, lying alike, nothing said of their warping."""
    members = [frame.members[number] for number, _ in (end, other)]
    ends = [_end(member, which) for member, (_, which) in zip(members, (end, other), strict=True)]
    sections = [member.stretches[-which].section for member, (_, which) in zip(members, (end, other), strict=True)]
    if sections[0] != sections[1] or any(each.warping is not EndWarping.UNSAID for each in ends):
        return False
    along = np.subtract(outward(frame, other), outward(frame, end))
    along /= np.linalg.norm(along)
    lies = [
        drawn_axes(way * along, member)
        for way, member in ((1.0 if end[1] else -1.0, members[0]), (-1.0 if other[1] else 1.0, members[1]))
    ]
    return all(np.allclose(a, b, atol=1e-6) for a, b in zip(*lies, strict=True))


def _said(end: MemberEnd, warping: Warping | None) -> EndWarping:
    """Return what holds at an end: what the user said, what the make implies, or the bound."""
    if end.warping is not EndWarping.UNSAID:
        return end.warping
    if end.make is Make.FLANGES:
        return EndWarping.CONTINUOUS
    return EndWarping.FIXED if warping is Warping.FIXED else EndWarping.FREE


def _at_end(ties: _Ties, frame: Frame, number: int, end: int, said: EndWarping) -> None:
    """Tie an end with a spring, or one that passes its warping on."""
    member = frame.members[number]
    made, piece = _end(member, end), int((ties.pieces.first, ties.pieces.last)[end][number])
    point = member.points[0 if end == 0 else -1]
    if said is EndWarping.SPRING:
        tie = int(ties.new(1)[0])
        ties.tie[piece, end], ties.springs[tie] = tie, made.warping_stiffness
    elif made.make is Make.FLANGES:
        _flange_to_flange(ties, frame, piece, end, point)
    else:
        tie = ties.shared.setdefault(point, ties.count)
        ties.count = max(ties.count, tie + 1)
        ties.tie[piece, end] = tie


def _flange_to_flange(ties: _Ties, frame: Frame, piece: int, end: int, point: str) -> None:
    """Tie an end whose flanges are joined to a rail's: both flanges turn alike in their planes, so rates go as 1/depth.

    A closed rail, or none, holds the warping.
    """
    rail = rails_at(frame).get(point)
    if rail is None or int(ties.pieces.member[piece]) in rail[0].numbers:
        return
    on_rail = np.isin(ties.pieces.member, list(rail[0].numbers))
    there = np.flatnonzero(on_rail & (ties.pieces.nodes == _node(frame, point)).any(axis=1))
    if not len(there) or not ties.beams.warps[there[0]]:
        return
    on = int(there[0])
    on_end = int(ties.pieces.nodes[on, 1] == _node(frame, point))
    tie = int(ties.tie[on, on_end])
    if tie != HELD:
        ties.tie[piece, end] = tie
        ties.factor[piece, end] = float(ties.beams.depth[on] / ties.beams.depth[piece])


def _node(frame: Frame, point: str) -> int:
    return list(frame.points).index(point)


def _end(member: Member, end: int) -> MemberEnd:
    return member.start if end == 0 else member.end


def any_open_end_unsaid(frame: Frame, open_sections: frozenset[str]) -> bool:
    """Return whether a member with an open section at its end leaves its warping there unsaid."""
    unsaid = {
        (number, end)
        for number, member in enumerate(frame.members)
        for end, made, stretch in ((0, member.start, member.stretches[0]), (1, member.end, member.stretches[-1]))
        if made.warping is EndWarping.UNSAID and made.make is not Make.FLANGES and stretch.section in open_sections
    }
    return bool(unsaid) and not unsaid <= set(alike_beyond(frame))
