"""The bolted joints of a case under the solved frame's forces: their rows, and the forces on their bolts for the fatigue check."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.bolt_strength import BoltLoads, slip_resistance
from framecheck.checks.bolts.fit import unclamped
from framecheck.checks.bolts.group import BoltForces, all_bolt_forces
from framecheck.checks.bolts.group_rows import check_group as group_check
from framecheck.checks.bolts.plies import shop_lines
from framecheck.checks.bolts.sleeve import (
    Through,
    crossing_forces,
    face_resistance,
    is_through,
    one_face,
    placed_check,
    shear_in_lap,
    through,
)
from framecheck.checks.bolts.sleeve import check_pinned_sleeve as sleeve_check
from framecheck.checks.bolts.sleeve import check_through_bolts as through_check
from framecheck.checks.joint_forces import axis_at, every_case_by_bound, joint_loads
from framecheck.checks.joint_rows import Line, claims
from framecheck.frame.geometry import section_turns
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.frame import Frame
from framecheck.model.joints import AtMemberEnd, AtPoint, Bolt, BoltGroup, JointLoad, PinnedSleeve, Terminal
from framecheck.model.shape_parts import outline_box
from framecheck.model.shop_tables import EdgeDistance, JointTables
from framecheck.results.subjects import Question, Thing, left_open, legs, seat_on
from framecheck.stress import SolvedCase

SQUARE = 0.5
"""The least cosine between bolts and a member whose end plate they hold: others go across it."""


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every bolt group and pinned sleeve of the case."""
    tables, lines = outcome.case.joint_tables or JointTables(), list[Line]()
    for joint in outcome.case.joints:
        if isinstance(joint, BoltGroup):
            lines += bolt_lines(outcome, joint, joint_loads(outcome, joint.place), tables.edges)
            lines += [*shop_lines(joint), *claims(outcome.case.frame, joint)]
        elif isinstance(joint, PinnedSleeve):
            lines += sleeve_lines(outcome, joint)
            lines += claims(outcome.case.frame, joint)
    return tuple(lines)


def bolt_lines(
    outcome: SolvedCase, group: BoltGroup, loads: Sequence[JointLoad], edges: tuple[EdgeDistance, ...]
) -> tuple[Line, ...]:
    """Return the lines of a bolt group: bolts through one tube in another by their crossings, all others in one plane."""
    found = through(outcome.case, group)
    if found is not None:
        frame = outcome.case.frame
        return (*through_check(found, tubes_axis(frame, group), loads, edges), *unclamped(frame, group, found.sleeve))
    lines = group_check(group, loads, edges, offset=member_offset(outcome, group))
    return (*lines, *depth_unknown(group)) if is_through(group) else lines


def tubes_axis(frame: Frame, group: BoltGroup) -> Vector:
    """Return the direction of the tubes in each other that bolts go through: of the member at their place, across the bolts; where
    none is known along x, or along the pattern where the bolts go that way themselves.
    """
    seated = ((member, seat_on(frame, group, member)) for member in frame.members) if isinstance(group.place, AtPoint) else ()
    found = [leg for member, point in seated if point is not None for leg in legs(frame, member, point)]
    for leg in (*found, axis_at(frame, group.place)):
        if abs(float(np.dot(leg, group.plane.facing))) < SQUARE:
            return leg
    return group.plane.along


def member_offset(outcome: SolvedCase, group: BoltGroup) -> float | None:
    """Return how far the farthest bolt of an end plate lies outside the outline of its member, m; None: no end plate."""
    frame, place = outcome.case.frame, group.place
    square = abs(float(np.dot(axis_at(frame, place), group.plane.facing)))
    if not isinstance(place, AtMemberEnd) or square <= SQUARE:
        return None
    number, member = next((n, each) for n, each in enumerate(frame.members) if each.name == place.member)
    end = 0 if place.end is Terminal.START else -1
    height, width = outline_box(frame.sections[member.stretches[end].section].shape)
    lie = member.orientation
    angle = np.array([lie.quarter_turns * np.pi / 2 + member.roll])
    turn = section_turns(angle, np.array([lie.mirrored]))[0]
    own = turn.T @ outcome.solutions[0].members[number].axes[end, 1:]
    plane = group.plane
    away = np.array(plane.origin) + np.array(group.positions) @ np.array([plane.across, plane.along])
    outside = np.maximum(np.abs(away @ own.T) - np.array([width, height]) / 2, 0.0)
    return float(np.linalg.norm(outside, axis=1).max()) / square  # a member cut on the slant: seen along the plate


def depth_unknown(group: BoltGroup) -> Iterator[Line]:
    """Yield that bolts through one tube in another were judged in one plane alone: their two sides are not told apart."""
    reason = "the depth of the tubes along the bolts is not given: twist and bending across them were not judged at the walls"
    remedy = "write `tube` with its depth, or the same bolts as a joint of kind `pinned sleeve` at the same place too"
    yield left_open(Thing.JOINT, group.name, Question.JOINT, reason, "both sides of the bolts", remedy)


def sleeve_lines(outcome: SolvedCase, sleeve: PinnedSleeve) -> Iterator[Line]:
    """Yield the lines of a pinned sleeve: by the bolts' own crossings where the file says where they sit."""
    axis, loads = axis_at(outcome.case.frame, sleeve.place), joint_loads(outcome, sleeve.place)
    groups = (each for each in outcome.case.joints if isinstance(each, BoltGroup) and each.place == sleeve.place)
    found = next((one for each in groups if (one := through(outcome.case, each))), None)
    if found is None:
        yield from sleeve_check(sleeve, axis, loads)
        yield from holes_unjudged(outcome, sleeve)
    else:
        shear = shear_in_lap(found.group, np.asarray(tubes_axis(outcome.case.frame, found.group)))
        yield from placed_check(sleeve, shear, [(load.load_case, crossing_forces(found, load).worst) for load in loads])


def holes_unjudged(outcome: SolvedCase, sleeve: PinnedSleeve) -> Iterator[Line]:
    """Yield that the tubes' net section at the pins was not judged, unless the same bolts are written as a group too."""
    if not any(isinstance(each, BoltGroup) and each.place == sleeve.place for each in outcome.case.joints):
        reason = "the places of its bolts along the tubes are not given, so their holes are not taken out of the tubes"
        remedy = "write the same bolts as a joint of kind `bolts` too"
        yield left_open(Thing.JOINT, sleeve.name, Question.JOINT, reason, "net section of the tubes", remedy)


def bolt_loads(outcome: SolvedCase, names: Container[str]) -> dict[str, BoltLoads]:
    """Return the forces on the bolts of the groups of some names whose loads are known in all load cases."""
    groups = [joint for joint in outcome.case.joints if isinstance(joint, BoltGroup) and joint.name in names]
    found = ((group.name, of_group(outcome, group)) for group in groups)
    return {name: loads for name, loads in found if loads is not None}


def of_group(outcome: SolvedCase, group: BoltGroup) -> BoltLoads | None:
    """Return the forces on a group's bolts, once a bound; None where a load case is missing or its moment finds no lever."""
    bounds = every_case_by_bound(outcome, group.place)
    if bounds is None:
        return None
    sleeve = through(outcome.case, group)
    if sleeve is not None:
        return of_crossings(sleeve, bounds)
    forces = [all_bolt_forces(group, bound) for bound in bounds]
    if any(is_left_over(each) for bound in forces for each in bound):
        return None
    tension = np.concatenate([np.stack([each.tension for each in bound]) for bound in forces], axis=1)
    shear = np.concatenate([np.stack([each.shear for each in bound]) for bound in forces], axis=1)
    return BoltLoads(group, frozen(tension), frozen(shear), frozen(friction(group.bolt, tension)))


def of_crossings(sleeve: Through, bounds: Sequence[Sequence[JointLoad]]) -> BoltLoads | None:
    """Return what the crossings of bolts through one tube in another carry, each in one plane; None where a moment finds no lever."""
    forces = [[crossing_forces(sleeve, load) for load in bound] for bound in bounds]
    if any(each.left > SMALL_SHARE * float(np.linalg.norm(each.moment)) for bound in forces for each in bound):
        return None
    shear = np.concatenate([np.stack([each.forces.reshape(-1, 3) for each in bound]) for bound in forces], axis=1)
    held = [[face_resistance(sleeve.group, each) or 0.0 for each in bound] for bound in forces]
    friction = np.repeat(np.array(held).T, len(sleeve.group.positions) * 2, axis=1)
    group = replace(sleeve.group, bolt=one_face(sleeve.group.bolt))
    return BoltLoads(group, frozen(np.zeros(shear.shape[:2])), frozen(shear), frozen(friction))


SMALL_SHARE = 1e-9
"""Share of a moment below which what finds no lever is rounding."""


def is_left_over(forces: BoltForces) -> bool:
    """Return whether the pattern has no lever for a part of the moment."""
    scale = 1e-9 * (float(np.abs(forces.shear).sum() + forces.tension.sum()) + 1.0)
    return max(abs(forces.twist_left), forces.bending_left) > scale


def friction(bolt: Bolt, tension: Array) -> Array:
    """Return the slip resistance of bolts under tension (n_case, n_bolt), N; 0 where it is not known."""
    found = [slip_resistance(bolt, float(each)) or 0.0 for each in tension.ravel()]
    return np.array(found, dtype=np.float64).reshape(tension.shape)
