"""Where a member's end lies across the top or bottom wall of another member. SI."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.frame.geometry import cross
from framecheck.frame.joint.data import full_reach, level_of, lies_flat
from framecheck.frame.joint.outlines import outline_of, turned
from framecheck.frame.rail_ends import ends_seen
from framecheck.frame.runs import Run
from framecheck.frame.seats import (
    FACING,
    Seat,
    branch_of,
    chord_of,
    drawn_axes,
    face_met,
    section_beside,
    softness,
    stand_in_face,
    way_between,
    way_of_run,
    why_unmodelled,
)
from framecheck.frame.stand_in import MODEL_ERROR, OPEN_RAIL, Unmodelled, as_rail
from framecheck.model.frame import Frame, Make, Member


def laid_seat(frame: Frame, rail: tuple[Run, int], branch: Member, at_start: bool) -> Seat:
    """Return where a branch that lies across a rail's top or bottom wall leaves the rail, at the height of its own middle.

    Where the rail's section changes there, it lies on the thinner side.
    """
    run, number = rail
    beside = [leg for leg in (number - 1, number) if 0 <= leg < len(run.legs)]
    found = [_laid_on(frame, run, (leg, number), (branch, at_start)) for leg in beside]
    return min(found, key=lambda each: (each.unmodelled is None, *softness(each.chord)))


def _laid_on(frame: Frame, run: Run, place: tuple[int, int], end: tuple[Member, bool]) -> Seat:
    leg, number = run.legs[place[0]], place[1]
    branch, at_start = end
    toward = way_between(frame, *branch.points[:2]) if at_start else way_between(frame, *branch.points[:-3:-1])
    made = branch.start if at_start else branch.end
    on = section_beside(frame, leg, at_first=(place[0] == number) != leg.reversed)
    of = frame.sections[branch.stretches[0 if at_start else -1].section]
    along = way_of_run(frame, run, number)
    own = drawn_axes(-along if leg.reversed else along, leg.member)
    up = max(own, key=lambda each: abs(float(each[2])))
    way = up if (float(up[2]) >= 0.0) == (made.make is Make.ON_TOP) else -up
    side = cross(along, way) if float(cross(along, way) @ toward) >= 0.0 else cross(way, along)
    known, foot = outline_of(on.shape), outline_of(of.shape)
    face = None if known is None else face_met(known, own, along, way)
    why = why_unmodelled(known is not None and foot is not None, face is not None and float(side @ toward) >= FACING)
    face = face or stand_in_face(as_rail(on.shape), own, way)
    seen = face.outline if float(cross(along, way) @ side) > 0.0 else turned(face.outline, (1, 0), (0, -1))
    chord, lies = chord_of(on, seen), replace(branch_of(of, end, toward, np.stack([along, side, -way])), gussets=())
    if why is None and not lies_flat(lies):
        why = Unmodelled.SHAPES
    ends = ends_seen(frame, run, number, seen, full_reach(chord))
    height = float(np.dot(made.arm, way)) or face.distance + level_of(chord, lies)
    arm = side * -chord.face[0] + way * height
    share = 1.0 if why is None else MODEL_ERROR * OPEN_RAIL
    axes, seen_chord = np.stack([along, side, cross(along, side)]), replace(chord, ends=ends.soft)
    return Seat(arm, axes, seen_chord, lies, ends, why, share, on.name, of.name)
