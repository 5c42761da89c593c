"""Where a member's end sits on another member: on which face of the rail, how far from its axis. SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import inf, isinf

import numpy as np

from framecheck.frame.geometry import cross, member_axes, point_stations, section_turns
from framecheck.frame.joint.data import Branch, Chord
from framecheck.frame.runs import Leg, Run, lengths, runs_of
from framecheck.frame.stand_in import (
    MODEL_ERROR,
    OPEN_RAIL,
    Outline,
    Unmodelled,
    as_branch,
    as_rail,
    has_model,
    outline,
)
from framecheck.model.arrays import Array
from framecheck.model.frame import SAME_STATION, Frame, Member, Section, sections_at
from framecheck.value_class import array_class

FACING = 0.75  # least cosine between a branch and the way the rail's face looks; beyond that it is no T joint


@array_class
class Seat:
    """A member's end on a rail's face. arm: (3,) from the frame point to the middle plane of the face.

    axes: (3, 3) rows: along the rail, out of the face, square to both; the joint's springs act along and about them.
    unmodelled: why no model covers it; chord and branch are then stand-ins, and `share` of their springs is surely no stiffer.
    on, of: the names of the rail's and of the branch's section there.
    """

    arm: Array
    axes: Array
    chord: Chord
    branch: Branch
    unmodelled: Unmodelled | None = None
    share: float = 1.0
    on: str = ""
    of: str = ""


def rails_at(frame: Frame) -> Mapping[str, tuple[Run, int]]:
    """Return, per point, the run of members that passes through it and the point's place in it; a rail's end counts as passing.

    Rails come before others that pass through the same point.
    """
    passing: dict[str, tuple[Run, int]] = {}
    runs = sorted(runs_of(frame), key=lambda run: not run.is_rail)
    for run in runs:
        for number in range(1, len(run.legs)):
            passing.setdefault(run.points[number], (run, number))
    for run in runs:
        if run.is_rail:
            passing.setdefault(run.points[0], (run, 0))
            passing.setdefault(run.points[-1], (run, len(run.legs)))
    return passing


def ends_at(frame: Frame) -> Mapping[str, list[tuple[Run, int]]]:
    """Return, per point, the runs of members that end there and the point's place in each."""
    found: dict[str, list[tuple[Run, int]]] = {}
    for run in runs_of(frame):
        found.setdefault(run.points[0], []).append((run, 0))
        found.setdefault(run.points[-1], []).append((run, len(run.legs)))
    return found


def drawn_axes(along: Array, member: Member) -> tuple[Array, Array]:
    """Return a member's section's own y and z (3,) in space, for a unit direction (3,)."""
    axes = member_axes(along[None])[0]
    angle = np.pi / 2 * member.orientation.quarter_turns + member.roll
    turn = section_turns(np.array([angle]), np.array([member.orientation.mirrored]))[0]
    own = turn.T @ axes[1:]
    return own[0], own[1]


def _between(frame: Frame, first: str, second: str) -> Array:
    """Return the unit direction (3,) from one point to another."""
    span = np.array(frame.points[second]) - np.array(frame.points[first])
    way: Array = span / np.linalg.norm(span)
    return way


def _along(frame: Frame, run: Run, number: int) -> Array:
    """Return the unit direction (3,) of a run at one of its points: at a kink midway between both legs."""
    first, last = max(number - 1, 0), min(number + 1, len(run.legs))
    ways = [_between(frame, *run.points[leg : leg + 2]) for leg in range(first, last)]
    mean = np.sum(ways, axis=0)
    way: Array = mean / np.linalg.norm(mean)
    return way


def _chord(section: Section, shape: Outline, upright: bool, wall: float) -> Chord:
    """Return the rail as the joint sees it; upright: its own upright wall is the face."""
    depth, width = (shape.height, shape.width) if upright else (shape.width, shape.height)
    material = section.material
    return Chord(depth, width, wall, shape.closed, shape.radius, material.youngs_modulus, material.poissons_ratio)


def _branch(section: Section, shape: Outline, upright: bool) -> Branch:
    """Return the crossmember's end as the joint sees it; upright: its own z is square to the rail's axis and its face."""
    depth, width = (shape.height, shape.width) if upright else (shape.width, shape.height)
    material = section.material
    wall = shape.wall
    moduli = material.youngs_modulus, material.poissons_ratio
    return Branch(depth, width, wall, shape.closed, shape.radius, *moduli, round=shape.round)


def _face(shape: Outline, own: tuple[Array, Array], toward: Array) -> tuple[Array, float, float, bool] | None:
    """Return the way a face looks, its middle plane's distance along that from the axis, its wall, whether it is upright.

    A channel has one face, its web, met from outside or, between the flanges, from inside.
    """
    left, up = own
    leans = float(left @ toward), float(up @ toward)
    if abs(leans[0]) >= FACING and not shape.closed:
        way = np.sign(leans[0]) * left
        return way, float(np.sign(leans[0])) * (shape.width - shape.wall_left) / 2, shape.wall_left, True
    if abs(leans[0]) >= FACING:
        wall = shape.wall_left if leans[0] > 0 else shape.wall_right
        return np.sign(leans[0]) * left, (shape.width - wall) / 2, wall, True
    if abs(leans[1]) >= FACING and shape.closed:
        return np.sign(leans[1]) * up, (shape.height - shape.wall) / 2, shape.wall, False
    return None


def seat(frame: Frame, rail: tuple[Run, int], branch: Member, at_start: bool) -> Seat:
    """Return where a branch's end sits on a rail; rail: the rail and the joint's point in it.

    Where the rail's section changes there, it sits on the thinner side; where no model covers one side, on that one.
    """
    run, number = rail
    beside = [leg for leg in (number - 1, number) if 0 <= leg < len(run.legs)]
    found = [_seat_on(frame, run, (leg, number), branch, at_start) for leg in beside]
    return min(found, key=lambda each: (each.unmodelled is None, each.chord.wall, each.chord.depth, each.chord.width))


def seat_on_ends(frame: Frame, ends: list[tuple[Run, int]], branch: Member, at_start: bool) -> Seat:
    """Return where a branch's end sits on the ends of members: no model covers it; on the thinnest, from that one's axis."""
    found = [seat(frame, each, branch, at_start) for each in ends]
    softest = min(found, key=_softest)
    share = MODEL_ERROR * OPEN_RAIL
    return replace(softest, arm=np.zeros(3), unmodelled=softest.unmodelled or Unmodelled.RAIL_END, share=share)


def _softest(where: Seat) -> tuple[float, ...]:
    """Return what orders seats on members' ends, softest first; between equal members by the way they run, not by their order."""
    way = np.round(np.abs(where.axes[0]), 6)
    return where.chord.wall, where.chord.depth, where.chord.width, *way.tolist()


def _seat_on(frame: Frame, run: Run, place: tuple[int, int], branch: Member, at_start: bool) -> Seat:
    """Return where a branch's end sits on one leg of a rail at a point; place: leg and point by number."""
    leg, number = run.legs[place[0]], place[1]
    toward = _between(frame, *branch.points[:2]) if at_start else _between(frame, *branch.points[:-3:-1])
    on = _section_beside(frame, leg, at_first=(place[0] == number) != leg.reversed)
    of = frame.sections[branch.stretches[0 if at_start else -1].section]
    along = _along(frame, run, number)
    own = drawn_axes(-along if leg.reversed else along, leg.member)
    known = outline(on.shape)
    face = None if known is None else _face(known, own, toward)
    why, share = _unmodelled(known is not None and has_model(of.shape), face is not None)
    rail, foot = as_rail(on.shape), as_branch(of.shape)
    way, distance, wall, upright = face or _nearest_face(rail, own, toward)
    third = cross(along, way)
    own_up = drawn_axes(toward if at_start else -toward, branch)[1]
    arm = toward * distance / float(toward @ way) if distance else np.zeros(3)
    stands = abs(float(own_up @ third)) >= abs(float(own_up @ along))
    held = replace(_chord(on, rail, upright, wall), reach=held_reach(frame, run, number))
    return Seat(arm, np.stack([along, way, third]), held, _branch(of, foot, stands), why, share, on.name, of.name)


def _unmodelled(known_shapes: bool, on_face: bool) -> tuple[Unmodelled | None, float]:
    """Return why no model covers an end, and the share of its stand-in's springs that is surely no stiffer."""
    if known_shapes and on_face:
        return None, 1.0
    why = Unmodelled.ASKEW if known_shapes else Unmodelled.SHAPES
    return why, MODEL_ERROR * (1.0 if on_face else OPEN_RAIL)


def _nearest_face(shape: Outline, own: tuple[Array, Array], toward: Array) -> tuple[Array, float, float, bool]:
    """Return a face as `_face` does, that which looks most toward the branch, without an arm: from the rail's axis."""
    left, up = (float(each @ toward) for each in own)
    upright = abs(left) >= abs(up)
    lean, axis = (left, own[0]) if upright else (up, own[1])
    return (axis if lean >= 0.0 else -axis), 0.0, min(shape.wall, shape.wall_left), upright


def _section_beside(frame: Frame, leg: Leg, at_first: bool) -> Section:
    """Return the section of a leg beside its first or its second point, as its member is drawn."""
    stations = point_stations(frame, leg.member)
    start, end = stations[leg.number], stations[leg.number + 1]
    inside = min(2 * SAME_STATION, (end - start) / 2)
    return frame.sections[sections_at(leg.member, start + inside if at_first else end - inside)[0]]


def held_reach(frame: Frame, run: Run, number: int) -> float:
    """Return how far the nearest end of a rail is at which a clamp, held in all six ways, keeps its outline in shape, m.

    inf where no end is clamped: an open end, or one whose cap nobody told of, holds nothing (unfavourable).
    """
    clamped = {each.point for each in frame.supports if all(isinf(way) for way in each.stiffness)}
    legs = lengths(frame, run.points)
    ends = ((run.points[0], sum(legs[:number])), (run.points[-1], sum(legs[number:])))
    return min((away for point, away in ends if point in clamped), default=inf)
