"""Splices of two tubes that meet end to end: welded all round, under fish plates, or both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.geometry import member_axes
from framecheck.frame.joint_faces import drawn_axes
from framecheck.model.arrays import Array
from framecheck.model.frame import Member
from framecheck.model.joining import FishPlate, LapHold, Splice
from framecheck.model.shapes import RectTube, Side
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.joint_context import JointContext, as_vector, electrode_of
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record

STRAIGHT = 0.9998  # cosine of 1 degree
ALIKE = 1e-3
"""m: outsides that differ by more do not butt."""
ONE_WALL = 0.7


def butted(builder: FrameBuilder, record: Record) -> Splice | None:
    """Return a splice of two tubes that meet end to end; None where a fault was noted."""
    first, second = (builder.members[name] for name in record["members"])
    ends = [(own, other) for own in (-1, 0) for other in (0, -1) if first.points[own] == second.points[other]]
    if first is second or len(ends) != 1:
        fault = f"'{first.name}' and '{second.name}' do not meet end to end at one point"
        builder.diagnostics.refuse(record.line_of("members"), record.subject, fault, "end both at one point")
        return None
    own, other = ends[0]
    out, back = (way_out(builder, member, end) for member, end in ((first, own), (second, other)))
    shapes = [builder.catalogue.section(m.stretches[end].section).shape for m, end in ((first, own), (second, other))]
    fault = fault_of(builder, record, (first, second), shapes, (out, back))
    plates = () if fault else plates_of(builder, record, first, (out, own), shapes)
    if fault or plates is None:
        remedy = "join what differs by a plate and ask an engineer, or leave the splice out"
        builder.diagnostics.refuse(record.line_of("members"), record.subject, fault, remedy) if fault else None
        return None
    turned = tuple(abs(float(drawn_axes(out, m)[1] @ drawn_axes(out, first)[1])) < ONE_WALL for m in (first, second))
    point = first.points[own]
    context = JointContext(builder, builder.catalogue.library)
    up = drawn_axes(out, first)[1]
    return Splice(
        name=record["name"],
        members=(first.name, second.name),
        sections=(first.stretches[own].section, second.stretches[other].section),
        ties=((point, own_point(builder, record, second, other)),),
        length=0.0,
        aside=0.0,
        middle=builder.points[point],
        axes=(as_vector(out), as_vector(np.cross(up, out)), as_vector(up)),
        turned=(turned[0], turned[1]),
        first_outside=True,
        holds=(LapHold.BUTT,) if LapHold.BUTT in record["welds"] else (),
        spots=(),
        leg=record["leg"],
        electrode=electrode_of(context, record),
        is_electrode_stated=record.given("electrode"),
        plates=plates,
        outside=sizes_of(out, first, shapes[0], first),
    )


def way_out(builder: FrameBuilder, member: Member, end: int) -> Array:
    """Return a member's unit way out at one of its ends, 0 or -1, (3,)."""
    last, inner = (np.array(builder.points[member.points[n]]) for n in ((-1, -2) if end else (0, 1)))
    way: Array = (last - inner) / np.linalg.norm(last - inner)
    return way


def fault_of(
    builder: FrameBuilder, record: Record, members: tuple[Member, Member], shapes: Sequence[object], ways: tuple[Array, Array]
) -> str:
    """Return why two members can't be spliced end to end, "" where they can."""
    if float(ways[0] @ ways[1]) > -STRAIGHT:
        return "they meet at an angle: a butt splice is straight"
    if (
        [each for each in record["welds"] if each is not LapHold.BUTT]
        or record["plugs"]
        or record["bolts"]
        or record["bears"]
    ):
        return "they meet end to end: only 'all round' and 'plates' hold them"
    for member, shape in zip(members, shapes, strict=True):
        if not isinstance(shape, RectTube):
            return f"'{member.name}' is no box tube where it is spliced: the give of other shapes is not modelled"
    sizes = [sizes_of(ways[0], member, shape, members[0]) for member, shape in zip(members, shapes, strict=True)]
    apart = max(abs(a - b) for a, b in zip(*sizes, strict=True))
    return f"their outsides differ by {length(apart)}" if apart > ALIKE else ""


def sizes_of(way: Array, member: Member, shape: object, beside: Member) -> tuple[float, float]:
    """Return a tube's outside sizes along the other member's own y and z, m."""
    assert isinstance(shape, RectTube)
    turned = abs(float(drawn_axes(way, member)[1] @ drawn_axes(way, beside)[1])) < ONE_WALL
    return (shape.height, shape.width) if turned else (shape.width, shape.height)


def plates_of(
    builder: FrameBuilder, record: Record, first: Member, lie: tuple[Array, int], shapes: Sequence[object]
) -> tuple[FishPlate, ...] | None:
    """Return the fish plates; None where a fault was noted."""
    row = record["plates"]
    if row is None:
        return ()
    material = builder.catalogue.section(first.stretches[lie[1]].section).material
    metal = material if row["material"] is None else builder.catalogue.material(row["material"])
    found = []
    for side in row["on"] or (Side.LEFT, Side.RIGHT):
        wall = wall_of(side, first, lie)
        flat = min(flat_of(shape, wall[0]) for shape in shapes)
        if row["height"] > flat:
            fault = f"a plate {length(row['height'])} high does not lie on a wall whose flat is {length(flat)} wide"
            builder.diagnostics.refuse(row.line, row.subject, fault, "make it narrower")
            return None
        found.append(FishPlate(wall, row["length"], row["height"], row["thickness"], metal, row["taper"]))
    if row["thickness"] < 1e-3 or 2 * row["taper"] >= row["length"]:
        fault = "is thinner than 1 mm" if row["thickness"] < 1e-3 else "its pointed ends are longer than the plate"
        builder.diagnostics.refuse(row.line, row.subject, fault, "give a plate that can be welded on")
        return None
    return tuple(found)


def flat_of(shape: object, axis: int) -> float:
    """Return the width of the flat of a tube's wall that looks along its own y (1) or z (2), m."""
    assert isinstance(shape, RectTube)
    return (shape.height if axis == 1 else shape.width) - 2 * max(shape.outside_radius, shape.wall)


def wall_of(side: Side, first: Member, lie: tuple[Array, int]) -> tuple[int, int]:
    """Return the wall (axis of the splice, side) that lies on a side of the first member, seen looking along it."""
    out, end = lie
    left, up = member_axes((out if end else -out)[None])[0][1:]
    own_up = drawn_axes(out, first)[1]
    axes = (np.cross(own_up, out), own_up)
    way = {Side.LEFT: left, Side.RIGHT: -left, Side.TOP: up, Side.BOTTOM: -up}[side]
    along = [float(way @ axis) for axis in axes]
    axis = 0 if abs(along[0]) > abs(along[1]) else 1
    return axis + 1, 1 if along[axis] > 0 else -1


def own_point(builder: FrameBuilder, record: Record, member: Member, end: int) -> str:
    """Return a point of the second member's own at the butt, in place of the one that both had."""
    shared = member.points[end]
    new = f"{record['name']} on {member.name}"
    builder.add_point(new, builder.points[shared], record.line, record.subject)
    points = (*member.points[:-1], new) if end else (new, *member.points[1:])
    builder.members[member.name] = replace(member, points=points)
    return new
