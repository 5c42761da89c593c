"""Splices: two members that lap, from where they lie; the points at which they are tied are added to both."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from framecheck.frame.geometry import member_axes
from framecheck.frame.joint_faces import drawn_axes
from framecheck.model.arrays import Array
from framecheck.model.frame import Member
from framecheck.model.joining import LapHold, LapSpot, Splice, tied_at
from framecheck.model.shapes import RectTube, Side
from framecheck.reading.build.frame_builder import SAME_PLACE, FrameBuilder
from framecheck.reading.build.joint_context import JointContext, as_vector, electrode_of
from framecheck.reading.diagnostics import RENAME, length
from framecheck.reading.form import Record
from framecheck.value_class import array_class

PARALLEL = 1e-3
"""rad: members that lean more toward each other do not lie on one another."""
TOUCHING = 1e-3
"""m: walls farther apart than this do not touch."""
PRESSED = 5e-4
"""m: by how much drawn walls may lie in each other: sizes are nominal."""
ONE_WALL = 0.7  # cosine: an axis that lies along another


@array_class
class Meeting:
    """How two members lap. lasts: point at whose end each laps, by number in its points; out: the first's way out of its length (3,).

    ends: places (2, 3) of both ends, m; length: of the lap, m; across: from the first's middle line to the second's (3,), m.
    """

    members: tuple[Member, Member]
    lasts: tuple[int, int]
    out: Array
    ends: Array
    length: float
    across: Array


@array_class
class Lie:
    """How the tubes lie in the lap. axes (3, 3): rows along, across, up; shapes: of both; turned: width lies up; aside: m."""

    axes: Array
    shapes: tuple[RectTube, RectTube]
    turned: tuple[bool, bool]
    aside: float

    def size(self, number: int, axis: int) -> float:
        """Return the outside size of a tube along axis 1 (across) or 2 (up), m."""
        shape = self.shapes[number]
        return shape.height if (axis == 2) != self.turned[number] else shape.width

    @property
    def first_outside(self) -> bool:
        """Return whether the first tube is the outer one."""
        return self.size(0, 1) + self.size(0, 2) >= self.size(1, 1) + self.size(1, 2)


def add_splices(builder: FrameBuilder, records: tuple[Record, ...]) -> None:
    """Add the splices of a frame, and their points to its members; a fault is noted where two members do not lap."""
    taken: dict[str, int] = {}
    for record in records:
        if taken.setdefault(record["name"], record.line) != record.line:
            fault = f"a splice '{record['name']}' stands on line {taken[record['name']]} already"
            builder.diagnostics.refuse(record.line, record.subject, fault, RENAME)
        elif all(name in builder.members for name in record["members"]):
            found = splice_of(builder, record)
            builder.splices += () if found is None else (found,)


def splice_of(builder: FrameBuilder, record: Record) -> Splice | None:
    """Return a splice; None where a fault was noted."""
    if record["plates"] is not None or LapHold.BUTT in record["welds"]:
        from framecheck.reading.build.butts import butted

        return butted(builder, record)
    meeting = meeting_of(builder, record)
    lie = None if meeting is None else lie_of(builder, record, meeting)
    if meeting is None or lie is None:
        return None
    holds = holds_of(builder, record, lie)
    spots = spots_of(builder, record, meeting, lie)
    if not holds and not spots:
        builder.diagnostics.refuse(
            record.line, record.subject, "nothing holds the two together", "write 'welds', 'plugs' or 'bolts'"
        )
        return None
    at = tied_at(meeting.length, holds, spots, lie.first_outside)
    sections = tuple(
        each.stretches[-1 if last else 0].section for each, last in zip(meeting.members, meeting.lasts, strict=True)
    )
    context, through = JointContext(builder, builder.catalogue.library), record["bolts"]
    return Splice(
        name=record["name"],
        members=(meeting.members[0].name, meeting.members[1].name),
        sections=(sections[0], sections[1]),
        ties=tuple(tie_points(builder, record, meeting, place, number) for number, place in enumerate(at, 1)),
        length=meeting.length,
        aside=lie.aside,
        middle=as_vector(meeting.ends.mean(axis=0)),
        axes=(as_vector(lie.axes[0]), as_vector(lie.axes[1]), as_vector(lie.axes[2])),
        turned=lie.turned,
        first_outside=lie.first_outside,
        holds=holds,
        spots=spots,
        leg=record["leg"],
        electrode=electrode_of(context, record),
        is_electrode_stated=record.given("electrode"),
        **({} if through is None else {"bolt": context.bolt(through["bolt"]), "edge": through["edge"]}),
    )


def meeting_of(builder: FrameBuilder, record: Record) -> Meeting | None:
    """Return how two members lap; None where they do not, and the fault is noted."""
    first, second = (builder.members[name] for name in record["members"])
    if first is second:
        builder.diagnostics.refuse(
            record.line_of("members"), record.subject, "it names one member twice", "name the two that lap"
        )
        return None
    for own in (-1, 0):
        for other in (0, -1):
            (end, out, room), (far, back, space) = way_out(builder, first, own), way_out(builder, second, other)
            lap = float((end - far) @ out)
            across = (far - end) + lap * out
            if (
                float(out @ back) < -np.cos(PARALLEL)
                and SAME_PLACE < lap < min(room, space)
                and np.linalg.norm(across) < lap
            ):
                return Meeting((first, second), (own, other), out, np.array([end, far]), lap, across)
    fault = f"'{first.name}' and '{second.name}' do not lap: neither runs on along the other's end"
    builder.diagnostics.refuse(
        record.line_of("members"), record.subject, fault, "draw both as long as they are, parallel where they lap"
    )
    return None


def way_out(builder: FrameBuilder, member: Member, last: int) -> tuple[Array, Array, float]:
    """Return a member's end (3,), m, its unit way out there (3,), and the length of its last straight piece, m."""
    end, inner = (np.array(builder.points[member.points[number]]) for number in ((-1, -2) if last else (0, 1)))
    room = float(np.linalg.norm(end - inner))
    return end, (end - inner) / room, room


def lie_of(builder: FrameBuilder, record: Record, meeting: Meeting) -> Lie | None:
    """Return how the tubes lie; None where they are no box tubes or do not touch, and the fault is noted."""
    shapes, own = [], []
    for member, last in zip(meeting.members, meeting.lasts, strict=True):
        section = builder.catalogue.section(member.stretches[-1 if last else 0].section)
        if not isinstance(section.shape, RectTube):
            fault = f"'{member.name}' is no box tube where it laps: the give of other shapes is not modelled"
            remedy = "join them rigidly or by a spring, and ask an engineer"
            builder.diagnostics.refuse(record.line_of("members"), record.subject, fault, remedy)
            return None
        shapes.append(section.shape)
        own.append(drawn_axes(meeting.out, member))
    aside = float(np.linalg.norm(meeting.across))
    beside = aside > TOUCHING
    up = own[0][1]
    across = meeting.across / aside if beside else np.cross(up, meeting.out)
    up = np.cross(meeting.out, across)
    turned = tuple(bool(abs(float(up @ each[1])) < ONE_WALL) for each in own)
    askew = max(min(abs(float(across @ each[0])), abs(float(across @ each[1]))) for each in own)
    lie = Lie(
        np.array([meeting.out, across, up]), (shapes[0], shapes[1]), (turned[0], turned[1]), aside if beside else 0.0
    )
    fault = "their walls do not lie on one another: one is turned against the other" if askew > 1e-2 else misfit(lie)
    if fault:
        builder.diagnostics.refuse(
            record.line_of("members"), record.subject, fault, "move or turn one of the members, or choose another size"
        )
        return None
    return lie


def misfit(lie: Lie) -> str:
    """Return how the tubes do not fit, "" where they do."""
    if lie.aside:
        gap = lie.aside - (lie.size(0, 1) + lie.size(1, 1)) / 2
        if gap > TOUCHING:
            return f"their walls are {length(gap)} apart: nothing joins them"
        return f"they lie {length(-gap)} in each other" if gap < -PRESSED else ""
    outer, inner = (0, 1) if lie.first_outside else (1, 0)
    slack = min(lie.size(outer, axis) - 2 * lie.shapes[outer].wall - lie.size(inner, axis) for axis in (1, 2))
    return f"the inner tube is {length(-slack)} too large for the outer one" if slack < -PRESSED else ""


def holds_of(builder: FrameBuilder, record: Record, lie: Lie) -> tuple[LapHold, ...]:
    """Return what holds the tubes along whole lines; a fault is noted where such a line is not there."""
    found = [*record["welds"], *((LapHold.BEARING,) if record["bears"] else ())]
    inside = lie.aside == 0.0
    for hold in found:
        if inside != (hold in (LapHold.MOUTH, LapHold.BEARING)):
            place = "one lies in the other" if inside else "they lie side by side"
            fault = (
                f"there is no weld '{hold.value}' where {place}"
                if hold is not LapHold.BEARING
                else f"nothing bears where {place}"
            )
            key = "bears" if hold is LapHold.BEARING else "welds"
            builder.diagnostics.refuse(
                record.line_of(key), record.subject, fault, "'round the mouth' for a sleeve, the others side by side"
            )
    return tuple(hold for hold in LapHold if hold in found)


def spots_of(builder: FrameBuilder, record: Record, meeting: Meeting, lie: Lie) -> tuple[LapSpot, ...]:
    """Return the plugs or bolts; a fault is noted where one lies off the walls or on another."""
    if record["plugs"] is not None and record["bolts"] is not None:
        fault = "both plugs and bolts: how they share is not modelled"
        builder.diagnostics.refuse(record.line, record.subject, fault, "write one of the two; the other then carries nothing")
        return ()
    row = record["plugs"] or record["bolts"]
    if row is None:
        return ()
    plug = record["bolts"] is None
    size = row["diameter"] if plug else JointContext(builder, builder.catalogue.library).bolt(row["bolt"]).thread.diameter
    walls = [wall_of(side, meeting, lie) for side in row["on"] or (() if lie.aside else (Side.LEFT, Side.RIGHT))]
    found = [
        LapSpot(along, row["aside"], size, wall)
        for wall in ([(1, 1)] if lie.aside else walls)
        for along in sorted(row["along"])
    ]
    for fault in spot_faults(found, meeting, lie):
        builder.diagnostics.refuse(row.line, row.subject, fault, "move it, or make the lap longer")
        return ()
    return tuple(found)


def wall_of(side: Side, meeting: Meeting, lie: Lie) -> tuple[int, int]:
    """Return the wall (axis of the lap, side) that lies on a side of the first member, seen looking along it."""
    left, up = member_axes((meeting.out if meeting.lasts[0] else -meeting.out)[None])[0][1:]
    way = {Side.LEFT: left, Side.RIGHT: -left, Side.TOP: up, Side.BOTTOM: -up}[side]
    along = [float(way @ axis) for axis in lie.axes]
    axis = 1 if abs(along[1]) > abs(along[2]) else 2
    return axis, 1 if along[axis] > 0 else -1


def spot_faults(spots: list[LapSpot], meeting: Meeting, lie: Lie) -> Iterator[str]:
    """Yield what is wrong with the places of plugs or bolts."""
    for spot in spots:
        if abs(spot.along) + spot.diameter / 2 > meeting.length / 2:
            yield f"a spot {length(abs(spot.along))} from the middle lies beyond the lap, which is {length(meeting.length)} long"
        flat = min(
            lie.size(n, 3 - spot.wall[0]) / 2 - max(lie.shapes[n].outside_radius, lie.shapes[n].wall) for n in (0, 1)
        )
        if abs(spot.aside) + spot.diameter / 2 > flat:
            yield f"a spot of {length(spot.diameter)} lies beyond the flat of a wall, which reaches {length(flat)} from its middle"
    places = sorted({spot.along for spot in spots})
    if any(after - before < spots[0].diameter * 1.05 for before, after in pairwise(places)):
        yield "two of its spots are closer than a diameter"


def tie_points(builder: FrameBuilder, record: Record, meeting: Meeting, at: float, number: int) -> tuple[str, str]:
    """Return the points of both members at a place along the lap; they are added where there are none."""
    half = meeting.length / 2
    places = (meeting.ends[0] - (half - at) * meeting.out, meeting.ends[1] + (half + at) * meeting.out)
    names = [
        point_on(builder, record, each.name, place, number) for each, place in zip(meeting.members, places, strict=True)
    ]
    return names[0], names[1]


def point_on(builder: FrameBuilder, record: Record, name: str, place: Array, number: int) -> str:
    """Return a member's point at a place on it, added where there is none."""
    member = builder.members[name]
    spots = [np.array(builder.points[point]) for point in member.points]
    for point, spot in zip(member.points, spots, strict=True):
        if np.linalg.norm(spot - place) < SAME_PLACE:
            return point
    new = f"{record['name']} {number} on {name}"
    builder.add_point(new, as_vector(place), record.line, record.subject)
    after = next(
        k + 1
        for k, (one, two) in enumerate(pairwise(spots))
        if abs(np.linalg.norm(place - one) + np.linalg.norm(two - place) - np.linalg.norm(two - one)) < SAME_PLACE
    )
    builder.members[name] = replace(member, points=(*member.points[:after], new, *member.points[after:]))
    return new
