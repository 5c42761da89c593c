"""Where a member's end sits on another member: on which face of the rail, how far from its axis. SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np

from framecheck.frame.branch_turns import BranchTurn, DrawnEnd, can_be_meshed, share_of_other, standing_at, turns_of
from framecheck.frame.end_arms import foot_on_face
from framecheck.frame.geometry import (
    MemberRun,
    OneFrame,
    RunLeg,
    cross,
    member_axes,
    point_stations,
    runs_of,
    section_turns,
)
from framecheck.frame.joint.data import RUNNING_ON, Branch, Chord, Outline, channel_outline, full_reach, tube_outline
from framecheck.frame.joint.outlines import outline_of, turned
from framecheck.frame.leaning import FACING, corner_share, leaning_share, way_into
from framecheck.frame.member_ends import RailEnds, ends_seen
from framecheck.frame.stand_in import MODEL_ERROR, OPEN_RAIL, Unmodelled, as_rail, first_piece, has_model, round_middle
from framecheck.frame.stand_in import TubeOutline as Size
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import SAME_STATION, Frame, Member, Section, sections_at
from framecheck.value_class import array_class

SAME = 1e-9  # m


@array_class
class JointFace:
    """A member's end on a rail's face. arm: (3,) from the frame point to the middle plane of the face.

    axes: (3, 3) rows: along the rail, out of the face, square to both; the joint's springs act along and about them.
    unmodelled: why no model covers it; chord and branch are then stand-ins, and `share` of their springs is surely no stiffer.
    on, of: the names of the rail's and of the branch's section there.
    turns: the branch in each quarter turn that it lies about as near to, the nearest first.
    ends: how the rail's ends are seen from here at the soft and at the stiff end of the range; the chord has the soft ones.
    beside: of one that meets no face squarely, the same on the face round the corner; corner: how near it lies to both, up to 1.
    askew: of one that leans, the same as if it met no face squarely; away: how near it comes to that, up to 1.
    """

    arm: Array
    axes: Array
    chord: Chord
    turns: tuple[BranchTurn, ...]
    ends: RailEnds
    unmodelled: Unmodelled | None = None
    share: float = 1.0
    on: str = ""
    of: str = ""
    beside: JointFace | None = None
    corner: float = 0.0
    askew: JointFace | None = None
    away: float = 0.0

    @property
    def branch(self) -> Branch:
        """Return the branch in its nearest quarter turn."""
        return self.turns[0].branch

    @property
    def over(self) -> float:
        """Return how much of what may reach over the wall's edge does, 0 to 1."""
        return sum(each.share * each.over for each in self.turns) / sum(each.share for each in self.turns)

    @property
    def between_flanges(self) -> bool:
        """Return whether walls run from both edges of the face along the branch, as a channel's flanges do."""
        corners, face = self.chord.outline.corners, self.chord.face
        return all(any(y < 0.0 and z == edge for y, z in corners) for edge in face)


def rails_at(frame: Frame) -> Mapping[str, tuple[MemberRun, int]]:
    """Return, per point, the run of members that passes through it and the point's place in it; a rail's end counts as passing.

    Rails come before others that pass through the same point.
    """
    return _rails_at(OneFrame(frame))


@lru_cache(maxsize=4)
def _rails_at(of: OneFrame) -> Mapping[str, tuple[MemberRun, int]]:
    frame = of.frame
    passing: dict[str, tuple[MemberRun, int]] = {}
    runs = sorted(runs_of(frame), key=lambda run: not run.is_rail)
    for run in runs:
        for each, number in run.inner_places():
            passing.setdefault(each.points[number], (each, number))
    for run in runs:
        if run.is_rail:
            passing.setdefault(run.points[0], (run, 0))
            passing.setdefault(run.points[-1], (run, len(run.legs)))
    return passing


def ends_at(frame: Frame) -> Mapping[str, list[tuple[MemberRun, int]]]:
    """Return, per point, the runs of members that end there and the point's place in each."""
    found: dict[str, list[tuple[MemberRun, int]]] = {}
    for run in runs_of(frame):
        found.setdefault(run.points[0], []).append((run, 0))
        found.setdefault(run.points[-1], []).append((run, len(run.legs)))
    return found


def drawn_axes(along: Array, member: Member) -> tuple[Array, Array]:
    """Return a member's section's own y and z (3,) in space, for a unit direction (3,); read-only."""
    return _drawn(along.tobytes(), np.pi / 2 * member.orientation.quarter_turns + member.roll, member.orientation.mirrored)


@lru_cache(maxsize=1024)
def _drawn(along: bytes, angle: float, mirrored: bool) -> tuple[Array, Array]:
    axes = member_axes(np.frombuffer(along)[None])[0]
    left, up = section_turns(np.array([angle]), np.array([mirrored]))[0].T @ axes[1:]
    return frozen(left), frozen(up)


def way_between(frame: Frame, first: str, second: str) -> Array:
    """Return the unit direction (3,) from one point to another."""
    span = np.array(frame.points[second]) - np.array(frame.points[first])
    way: Array = span / np.linalg.norm(span)
    return way


def way_of_run(frame: Frame, run: MemberRun, number: int) -> Array:
    """Return the unit direction (3,) of a run at one of its points: at a kink midway between both legs."""
    first, last = max(number - 1, 0), min(number + 1, len(run.legs))
    ways = [way_between(frame, *run.points[leg : leg + 2]) for leg in range(first, last)]
    mean = np.sum(ways, axis=0)
    way: Array = mean / np.linalg.norm(mean)
    return way


@array_class
class Face:
    """A wall that a branch meets. way: (3,) that it looks; distance: of its middle plane from the rail's axis along that, m; outline:
    of the rail in the joint's own axes."""

    way: Array
    distance: float
    outline: Outline


def face_met(outline: Outline, own: tuple[Array, Array], along: Array, toward: Array) -> Face | None:
    """Return the wall that a branch meets: of those square to it that lie across its axis the nearest; None where there is none.

    An open section is met on the same wall from outside and, between its flanges, from inside.
    """
    number = int(np.argmax([abs(float(each @ toward)) for each in own]))
    lean = float(own[number] @ toward)
    if abs(lean) < FACING:
        return None
    way = own[number] if lean > 0.0 else -own[number]
    sign, third = (1 if lean > 0.0 else -1), cross(along, way)
    upright = round(float(own[1 - number] @ third))
    rows = ((-sign, 0), (0, -upright)) if number == 0 else ((0, -sign), (-upright, 0))
    seen = turned(outline, *rows)
    at = _nearest_wall(seen)
    return None if at is None else Face(way, -at, turned(seen, (1, 0), (0, 1), (-at, 0.0)))


def _nearest_wall(seen: Outline) -> float | None:
    """Return the least depth at which a wall lies square to the branch and across its axis; None: none does, or in pieces."""
    for depth in sorted({y for y, _ in seen.corners}):
        flat = [each for each in seen.strips if all(seen.corners[n][0] == depth for n in (each.first, each.second))]
        spans = sorted(sorted(seen.corners[n][1] for n in (each.first, each.second)) for each in flat)
        if flat and spans[0][0] < 0.0 < max(high for _, high in spans):
            return depth if all(low <= high for (_, high), (low, _) in pairwise(spans)) else None
    return None


def seat(frame: Frame, rail: tuple[MemberRun, int], branch: Member, at_start: bool) -> JointFace:
    """Return where a branch's end sits on a rail; rail: the rail and the joint's point in it.

    Where the rail's section changes there, it sits on the thinner side; where no model covers one side, on that one.
    """
    run, number = rail
    beside = [leg for leg in (number - 1, number) if 0 <= leg < len(run.legs)]
    found = [_seat_on(frame, run, (leg, number), branch, at_start) for leg in beside]
    return min(found, key=lambda each: (each.unmodelled is None, *softness(each.chord)))


def softness(chord: Chord) -> tuple[float, float, float]:
    """Return what orders rails, softest first."""
    width, depth = chord.outline.sizes
    return chord.wall, depth, width


def seat_on_ends(frame: Frame, ends: list[tuple[MemberRun, int]], branch: Member, at_start: bool) -> JointFace:
    """Return where a branch's end sits on the ends of members: no model covers it; on the thinnest, from that one's axis."""
    found = [seat(frame, each, branch, at_start) for each in ends]
    return _on_end(min(found, key=_softest))


def _on_end(where: JointFace) -> JointFace:
    """Return a seat as of a member's end, wherever the rail ends."""
    chord = replace(where.chord, ends=(RUNNING_ON, RUNNING_ON))
    beside = None if where.beside is None else _on_end(where.beside)
    why, ends = where.unmodelled or Unmodelled.RAIL_END, RailEnds(chord.ends, chord.ends)
    share = MODEL_ERROR * OPEN_RAIL
    return replace(where, arm=np.zeros(3), chord=chord, ends=ends, unmodelled=why, share=share, beside=beside)


def _softest(where: JointFace) -> tuple[float, ...]:
    """Return what orders seats on members' ends, softest first; between equal members by the way they run, not by their order."""
    way = np.round(np.abs(where.axes[0]), 6)
    return *softness(where.chord), *way.tolist()


def _seat_on(
    frame: Frame, run: MemberRun, place: tuple[int, int], branch: Member, at_start: bool, stand_in: int | None = None
) -> JointFace:
    """Return where a branch's end sits on one leg of a rail at a point; place: leg and point by number; stand_in: as if it met no face
    squarely, 0 on the nearest one, 1 on the next."""
    leg, number = run.legs[place[0]], place[1]
    toward = way_into(frame, branch, at_start)
    on = section_beside(frame, leg, at_first=(place[0] == number) != leg.reversed)
    of = frame.sections[branch.stretches[0 if at_start else -1].section]
    along = way_of_run(frame, run, number)
    own = drawn_axes(-along if leg.reversed else along, leg.member)
    known = outline_of(on.shape)
    walls = known or outline_of(first_piece(on.shape))
    met = None if walls is None or stand_in is not None else face_met(walls, own, along, toward)
    why = why_unmodelled(known is not None and has_model(of.shape), met is not None)
    face = met or stand_in_face(as_rail(on.shape), own, toward, stand_in == 1)
    axes = np.stack([along, face.way, cross(along, face.way)])
    arm = toward * face.distance / float(toward @ face.way) if face.distance else np.zeros(3)
    chord, turns = chord_of(on, face.outline), turns_of(of, branch_end(branch, at_start, toward), axes)
    meshes = can_be_meshed(chord, turns[0].branch)
    if not meshes:  # the box that stands for the rail has no wall behind its face
        why, chord = why or Unmodelled.SHAPES, chord_of(on, stand_in_face(as_rail(on.shape), own, toward).outline)
    share = 1.0 if why is None else MODEL_ERROR * (1.0 if walls is not None and face.distance and meshes else OPEN_RAIL)
    away = leaning_share(float(toward @ face.way)) if met is not None and why is None else 0.0
    arm, said = arm * (1.0 - away), np.array((branch.start if at_start else branch.end).arm)
    foot = foot_on_face((arm, face.way), said)
    across = -float((said if round_middle(on.shape) else foot) @ axes[2])  # the joint's own z runs against the third axis
    turns = tuple(each for each in turns if can_be_meshed(chord, each.branch)) or turns[:1]
    turns = tuple(standing_at(chord, each, across) for each in turns)
    ends = ends_seen(frame, run, (number, float(foot @ along)), face.outline, full_reach(chord))
    corner = corner_share(own, toward) if met is None and stand_in != 1 else 0.0
    beside = _seat_on(frame, run, place, branch, at_start, 1) if corner else None
    askew = _seat_on(frame, run, place, branch, at_start, 0) if away else None
    seen = replace(chord, ends=ends.soft)
    return JointFace(arm, axes, seen, turns, ends, why, share, on.name, of.name, beside, corner, askew, away)


def lean_share(end: tuple[Member, bool], toward: Array, axes: Array) -> float:
    """Return by what share the other quarter turn of a branch counts."""
    _, up = drawn_axes(toward if end[1] else -toward, end[0])
    return share_of_other(float(up @ axes[0]), float(up @ axes[2]))


def why_unmodelled(known_shapes: bool, on_face: bool) -> Unmodelled | None:
    """Return why no model covers an end."""
    if known_shapes and on_face:
        return None
    return Unmodelled.ASKEW if known_shapes else Unmodelled.SHAPES


def chord_of(section: Section, outline: Outline) -> Chord:
    """Return the rail as the joint sees it."""
    return Chord(outline, section.material.youngs_modulus, section.material.poissons_ratio)


def branch_end(member: Member, at_start: bool, toward: Array) -> DrawnEnd:
    """Return a member's end as its quarter turns are told from; toward: (3,) from the rail."""
    way = toward if at_start else -toward
    return DrawnEnd(member, at_start, drawn_axes(way, member), way)


def stand_in_face(rail: Size, own: tuple[Array, Array], toward: Array, other: bool = False) -> Face:
    """Return the face of a stand-in that looks most toward the branch, without an arm: from the rail's axis; other: the next one."""
    left, up = (float(each @ toward) for each in own)
    upright = (abs(left) >= abs(up)) != other
    lean, axis = (left, own[0]) if upright else (up, own[1])
    depth, width = (rail.height, rail.width) if upright else (rail.width, rail.height)
    made = tube_outline if rail.closed else channel_outline
    wall = min(rail.wall, rail.wall_left)
    across = width - wall / (1 if rail.closed else 2)
    return Face(axis if lean >= 0.0 else -axis, 0.0, made(across, depth - wall, wall))


def section_beside(frame: Frame, leg: RunLeg, at_first: bool) -> Section:
    """Return the section of a leg beside its first or its second point, as its member is drawn."""
    stations = point_stations(frame, leg.member)
    start, end = stations[leg.number], stations[leg.number + 1]
    inside = min(2 * SAME_STATION, (end - start) / 2)
    return frame.sections[sections_at(leg.member, start + inside if at_first else end - inside)[0]]
