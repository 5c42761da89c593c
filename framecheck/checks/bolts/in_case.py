"""The bolted joints of a case under the solved frame's forces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.checks.bolts import check as group_check
from framecheck.checks.bolts.crossings import crossing_forces, is_through, through
from framecheck.checks.bolts.pinned_sleeve import check as sleeve_check
from framecheck.checks.bolts.pinned_sleeve import placed_check
from framecheck.checks.bolts.sleeve import check as through_check
from framecheck.checks.bolts.tightening import shop_lines
from framecheck.checks.joint_forces import axis_at, joint_loads
from framecheck.checks.joint_rows import Line, claims
from framecheck.frame.geometry import section_turns
from framecheck.model.joint_tables import EdgeDistance, JointTables
from framecheck.model.joints import AtMemberEnd, BoltGroup, JointLoad, PinnedSleeve, Terminal
from framecheck.model.outline_box import outline_box
from framecheck.results.subjects import Question, Thing, left_open
from framecheck.stress import Outcome

SQUARE = 0.5
"""The least cosine between bolts and a member whose end plate they hold: others go across it."""


def check(outcome: Outcome) -> tuple[Line, ...]:
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
    outcome: Outcome, group: BoltGroup, loads: Sequence[JointLoad], edges: tuple[EdgeDistance, ...]
) -> tuple[Line, ...]:
    """Return the lines of a bolt group: bolts through one tube in another by their crossings, all others in one plane."""
    found = through(outcome.case.joints, group)
    if found is not None:
        return through_check(found, axis_at(outcome.case.frame, group.place), loads, edges)
    lines = group_check(group, loads, edges, offset=member_offset(outcome, group))
    return (*lines, *depth_unknown(group)) if is_through(group) else lines


def member_offset(outcome: Outcome, group: BoltGroup) -> float | None:
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


def sleeve_lines(outcome: Outcome, sleeve: PinnedSleeve) -> Iterator[Line]:
    """Yield the lines of a pinned sleeve: by the bolts' own crossings where the file says where they sit."""
    axis, loads = axis_at(outcome.case.frame, sleeve.place), joint_loads(outcome, sleeve.place)
    groups = (each for each in outcome.case.joints if isinstance(each, BoltGroup) and each.place == sleeve.place)
    found = next((one for each in groups if (one := through(outcome.case.joints, each))), None)
    if found is None:
        yield from sleeve_check(sleeve, axis, loads)
        yield from holes_unjudged(outcome, sleeve)
    else:
        yield from placed_check(sleeve, [(load.load_case, crossing_forces(found, load).worst) for load in loads])


def holes_unjudged(outcome: Outcome, sleeve: PinnedSleeve) -> Iterator[Line]:
    """Yield that the tubes' net section at the pins was not judged, unless the same bolts are written as a group too."""
    if not any(isinstance(each, BoltGroup) and each.place == sleeve.place for each in outcome.case.joints):
        reason = "the places of its bolts along the tubes are not given, so their holes are not taken out of the tubes"
        remedy = "write the same bolts as a joint of kind `bolts` too"
        yield left_open(Thing.JOINT, sleeve.name, Question.JOINT, reason, "net section of the tubes", remedy)
