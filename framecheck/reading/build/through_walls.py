"""Bolts that go through walls: refused where the wall is not there, or one tube ends in the other before its last bolt."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.frame import Member
from framecheck.model.joints import AtMemberEnd, AtPoint, BoltGroup, PinnedSleeve, Place, PlyKind, Terminal
from framecheck.model.outline_box import outline_box
from framecheck.model.shapes import Sleeve
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
        refuse_short_sleeve(draft, record, joint)
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


def refuse_short_sleeve(draft: Draft, record: Record, group: BoltGroup) -> None:
    """Refuse bolts of which one lies where its member is one tube alone, though a length of it is one tube in another."""
    place, plane = group.place, group.plane
    if not isinstance(place, AtMemberEnd) or place.member not in draft.members:
        return
    member = draft.members[place.member]
    sleeved = list(sleeved_lengths(draft, member))
    way = np.array([draft.points[name] for name in member.points])
    lengths = np.linalg.norm(np.diff(way, axis=0), axis=1)
    if not sleeved or not np.all(lengths):
        return
    first = place.end is Terminal.START
    step = (way[1] - way[0]) / lengths[0] if first else (way[-1] - way[-2]) / lengths[-1]
    bolts = np.array(plane.origin) + np.array(group.positions) @ np.array([plane.across, plane.along])
    stations = bolts @ step + (0.0 if first else float(lengths.sum()))
    outside = [float(at) for at in stations if not any(low - SAME_PLACE <= at <= high + SAME_PLACE for low, high in sleeved)]
    if outside:
        fault = f"the sleeve is shorter than its bolts' spread: at {length(outside[0])} along '{member.name}' there is one tube alone"
        draft.desk.refuse(record.line_of("plane"), record.subject, fault, "lengthen the sleeve, or bring the bolts together")


def sleeved_lengths(draft: Draft, member: Member) -> Iterator[tuple[float, float]]:
    """Yield from where to where a member is one tube in another, m along it."""
    start = 0.0
    for stretch in member.stretches:
        if isinstance(draft.shelf.section(stretch.section).shape, Sleeve):
            yield start, stretch.until
        start = stretch.until


def refuse_counts(draft: Draft, records: tuple[Record, ...], joints: tuple[Joint, ...]) -> None:
    """Refuse a pinned sleeve that counts other bolts than the pattern of the same bolts at its place has."""
    for record, sleeve in zip(records, joints, strict=True):
        for group in joints:
            if not (isinstance(sleeve, PinnedSleeve) and isinstance(group, BoltGroup) and group.place == sleeve.place):
                continue
            if group.bolt.thread == sleeve.bolt.thread and len(group.positions) != sleeve.bolts:
                fault = f"it says {sleeve.bolts} bolts, and '{group.name}' at the same place has {len(group.positions)}"
                draft.desk.refuse(record.line_of("bolts"), record.subject, fault, "write the same number in both")


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
