"""Bolts that go through walls: refused where the wall is not there, or one tube ends in the other before its last bolt."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.frame import Member
from framecheck.model.joints import AtMemberEnd, AtPoint, BoltGroup, Place, PlyKind, Terminal
from framecheck.model.outline_box import outline_box
from framecheck.model.weld_joints import Joint
from framecheck.reading.build.draft import SAME_PLACE, Draft
from framecheck.reading.desk import length
from framecheck.reading.form import Record

ACROSS = 0.5
"""The largest cosine of the angle between a bolt and a member that it goes through."""


def refuse_walls(draft: Draft, record: Record, joint: Joint) -> None:
    """Refuse bolts through hollow walls that lie off their member, and a sleeve that does not reach all of its bolts."""
    if not isinstance(joint, BoltGroup):
        return
    hollow = [ply.kind is PlyKind.TUBE_WALL for ply in joint.plies]
    if all(hollow) and len(hollow) > 1:
        refuse_short_face(draft, record, joint)
    elif not (any(hollow) and isinstance(joint.place, AtPoint)):  # the hollow wall may be another part's than the member's
        return
    seated = list(members_at(draft, joint.place))
    misses = [miss for member, point in seated for miss in off_member(draft, joint, member, point)]
    if len(misses) == len(seated) and misses:
        remedy = "move the pattern onto the member, or the joint to the member that the bolts go through"
        draft.desk.refuse(record.line_of("plane"), record.subject, misses[0], remedy)


def refuse_short_face(draft: Draft, record: Record, group: BoltGroup) -> None:
    """Refuse a face on which one tube lies in another that ends before the outermost hole does."""
    if group.contact is None:
        return
    places, reach = np.array(group.positions), group.bolt.hole / 2
    left, right, low, high = group.contact
    out = max(float(np.max(places + reach - (right, high))), float(np.max((left, low) - places + reach)))
    if out > SAME_PLACE:
        fault = f"the face on which one tube lies in the other is shorter than its bolts' spread: a hole is {length(out)} beyond it"
        draft.desk.refuse(record.line_of("contact"), record.subject, fault, "lengthen the sleeve, or bring the bolts together")


def members_at(draft: Draft, place: Place) -> Iterator[tuple[Member, str]]:
    """Yield the members that bolts may go through, with the point at which they sit."""
    if isinstance(place, AtMemberEnd) and place.member in draft.members:
        member = draft.members[place.member]
        yield member, member.points[0 if place.end is Terminal.START else -1]
    elif isinstance(place, AtPoint):
        yield from ((each, place.point) for each in draft.members.values() if place.point in each.points)


def off_member(draft: Draft, group: BoltGroup, member: Member, point: str) -> Iterator[str]:
    """Yield how bolts miss a member that they stand across, in words; at most once."""
    plane, at = group.plane, member.points.index(point)
    places = np.array([draft.points[name] for name in member.points])
    bolts = np.array(plane.origin) + np.array(group.positions) @ np.array([plane.across, plane.along])
    facing = np.array(plane.facing)
    found = []
    for way in (places[: at + 1][::-1], places[at:]):
        lengths = np.linalg.norm(np.diff(way, axis=0), axis=1)
        if len(lengths) and lengths[0] > 0.0:
            step = (way[1] - way[0]) / lengths[0]
            if abs(float(step @ facing)) > ACROSS:
                return
            found.append(misses(bolts, step, float(lengths.sum()), facing))
    if not found:
        return
    beyond, aside = (np.min([each[:, column] for each in found], axis=0) for column in (0, 1))
    half = max(max(outline_box(draft.shelf.section(each.section).shape)) for each in member.stretches) / 2
    if half and float(aside.max()) > half:
        yield f"its bolts go through no wall of '{member.name}': they lie {length(float(aside.max()))} beside its middle line"
    elif float(beyond.max()) > SAME_PLACE:
        yield f"its bolts go through no wall of '{member.name}': they lie {length(float(beyond.max()))} beyond its end"


def misses(bolts: Array, step: Array, size: float, facing: Array) -> Array:
    """Return (n, 2): how far each bolt lies beyond either end of a length of a member, and beside it, m. step: its way."""
    along = bolts @ step
    beside = np.cross(step, facing)
    beyond = np.maximum(np.maximum(-along, along - size), 0.0)
    return np.column_stack((beyond, np.abs(bolts @ beside) / np.linalg.norm(beside)))
