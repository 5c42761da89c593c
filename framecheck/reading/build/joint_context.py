"""What joints and plates are made with: places, planes, patterns, bolts, parts; and bolts through walls that are not there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import hypot, inf, sqrt
from typing import Any

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Member
from framecheck.model.joints import (
    AtMemberEnd,
    AtPoint,
    Bolt,
    BoltGroup,
    GivenLoads,
    JointLoad,
    PatternPlane,
    PinnedSleeve,
    Place,
    Ply,
    PlyKind,
    Terminal,
)
from framecheck.model.loads import ZERO
from framecheck.model.shape_parts import outline_box
from framecheck.model.shop_tables import BoltGrade, Electrode, Material, Thread
from framecheck.model.weld_joints import Joint, WeldedPart, WeldRun
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.frame_builder import SAME_PLACE, FrameBuilder
from framecheck.reading.build.tube_in_tube import is_of_tubes, refuse_short_face, refuse_short_sleeve
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record
from framecheck.reading.library import Library
from framecheck.reading.shop_tables import bolts_of, welds_of
from framecheck.value_class import value_class

PARALLEL = 0.02
"""Runs that come nearer by less than this share of their length are parallel."""


@value_class
class JointContext:
    """What joints are made with: the frame's names, the tables."""

    builder: FrameBuilder
    library: Library

    def material(self, name: str) -> Material:
        """Return a material."""
        return self.builder.catalogue.material(name)

    def place(self, record: Record) -> Place:
        """Return where a joint sits."""
        said = [record[key] is not None for key in ("member", "point", "loads")]
        if sum(said) != 1:
            fault = "does not say in one way where the joint sits"
            self.builder.diagnostics.refuse(record.line, record.subject, fault, "write one of 'member', 'point', 'loads'")
        if record["member"] is not None:
            return AtMemberEnd(record["member"], record["end"])
        if record["point"] is not None:
            return AtPoint(self.builder.point(record["point"]))
        return GivenLoads(tuple(given_load(each) for each in record["loads"] or ()))

    def plane(self, record: Record) -> PatternPlane:
        """Return how a pattern lies; across = facing x along."""
        facing = unit(record["facing"])
        along = unit(record["along"]) if record["along"] is not None else default_along(facing)
        square = abs(float(np.dot(facing, along))) < 1e-6
        if not square or not np.any(facing) or not np.any(along):
            fault = "'along' does not lie in the plane that faces that way"
            self.builder.diagnostics.refuse(record.line, record.subject, fault, "choose two directions square to one another")
        origin = ZERO if record["origin"] is None else vector(record["origin"])
        return PatternPlane(as_vector(np.cross(facing, along)), as_vector(along), as_vector(facing), origin)

    def spots(self, record: Record) -> tuple[tuple[float, float], ...]:
        """Return (across, along) of each bolt or spot."""
        grid = record["grid"]
        if (grid is None) == (not record["spots"]):
            self.builder.diagnostics.refuse(
                record.line, record.subject, "neither or both of 'spots' and 'grid'", "write one of the two"
            )
            return ()
        if grid is None:
            return tuple((each["across"], each["along"]) for each in record["spots"])
        for way in ("across", "along"):
            if grid[way] > 1 and not grid[f"pitch {way}"] > 0:
                fault = f"{grid[way]} stand {way} at no pitch: all in one spot"
                self.builder.diagnostics.refuse(grid.line, grid.subject, fault, f"write 'pitch {way}', from one to the next")
        across, along = (centred(grid[way], grid[f"pitch {way}"]) for way in ("across", "along"))
        return tuple((u, v) for v in along for u in across)

    def bolt(self, record: Record) -> Bolt:
        """Return a bolt with its rows of the tables."""
        tables = bolts_of(self.library)
        thread = next(row for row in tables.threads if row.name == record["thread"])
        return Bolt(
            thread=thread,
            grade=grade_of(self, record, thread),
            hole=record["hole"] or hole_of(self, record, thread),
            threads=record["threads"],
            shear_planes=record["shear planes"] or 1,
            clamp_share=record["clamp share"],
            tightened=record["tightened"],
            torque_factor=next((row for row in tables.torque_factors if row.name == record["threads are"]), None),
            surface=next((row for row in tables.surfaces if row.name == record["faces"]), None),
        )


def grade_of(context: JointContext, record: Record, thread: Thread) -> BoltGrade:
    """Return the row of a grade that holds for a size."""
    rows = [row for row in bolts_of(context.library).grades if row.name == record["grade"]]
    fit = [row for row in rows if thread.diameter <= row.largest_diameter * (1 + 1e-9)]
    if not fit:
        fault = f"'{record['grade']}' is not made as large as {thread.name}"
        context.builder.diagnostics.refuse(
            record.line_of("grade"), record.subject, fault, "choose a smaller thread or another grade"
        )
        return rows[-1]
    return min(fit, key=lambda row: row.largest_diameter)


def hole_of(context: JointContext, record: Record, thread: Thread) -> float:
    """Return the standard hole of a thread."""
    near = [row.hole for row in bolts_of(context.library).holes if abs(row.diameter - thread.diameter) < 1e-5]
    if not near:
        fault = f"no standard hole is known for {thread.name}"
        context.builder.diagnostics.refuse(record.line, record.subject, fault, "write 'hole' with its diameter")
        return thread.diameter
    return near[0]


def ply_of(context: JointContext, record: Record) -> Ply:
    """Return a part that bolts bear on."""
    material = context.material(record["material"])
    return Ply(record["name"], record["thickness"], material, record["edge"], record["kind"], record["share"])


def part_of(context: JointContext, record: Record, runs: Sequence[WeldRun] = ()) -> WeldedPart:
    """Return a part that a weld is made on; how many of the runs load its wall at one place, where not said: by where they lie."""
    material, thickness = context.material(record["material"]), record["thickness"]
    return WeldedPart(record["name"], thickness, material, record["weld"], record["fillets"] or fillets_beside(runs, thickness))


def fillets_beside(runs: Sequence[WeldRun], thickness: float) -> int:
    """Return 2 where two runs lie side by side no farther apart than a part is thick: one on each side of it; else 1."""
    return 2 if any(apart(*pair) <= 1.05 * thickness for pair in combinations(runs, 2)) else 1


def apart(first: WeldRun, second: WeldRun) -> float:
    """Return how far apart two parallel runs lie that overlap along their length, m; infinite for others."""
    start, along = np.array(first.start), np.subtract(first.end, first.start)
    length = float(np.linalg.norm(along))
    axis = along / length if length else along
    ends = np.array([second.start, second.end]) - start
    reach = ends @ axis
    aside = np.linalg.norm(ends - np.outer(reach, axis), axis=1)
    overlaps = min(float(reach.max()), length) > max(float(reach.min()), 0.0)
    return float(aside.max()) if length and overlaps and np.ptp(aside) < PARALLEL * length else inf


def electrode_of(context: JointContext, record: Record) -> Electrode:
    """Return a filler metal; that it joins the metals of the parts is for the check to say."""
    return next(row for row in welds_of(context.library).electrodes if row.name == record["electrode"])


def as_vector(values: Any) -> Vector:
    """Return three numbers as a plain vector, without negative zeros."""
    return (float(values[0]) + 0.0, float(values[1]) + 0.0, float(values[2]) + 0.0)


def unit(said: Vector | Record) -> Vector:
    """Return a direction by word or by numbers as a unit vector; zero where it is none."""
    x, y, z = vector(said) if isinstance(said, Record) else said
    size = sqrt(x * x + y * y + z * z)
    return (x / size, y / size, z / size) if size else ZERO


def default_along(facing: Vector) -> Vector:
    """Return up, made square to the facing; forward for what faces up or down."""
    x, y, z = facing
    level = hypot(x, y)
    return (-x * z / level, -y * z / level, level) if level > 1e-6 else (1.0, 0.0, 0.0)


def centred(count: int, pitch: float) -> tuple[float, ...]:
    """Return places about zero at even distances."""
    return tuple((n - (count - 1) / 2) * pitch for n in range(count))


def given_load(record: Record) -> JointLoad:
    """Return loads written in the case file."""
    force, moment = record["force"], record["moment"]
    return JointLoad(
        record["load case"], ZERO if force is None else vector(force), ZERO if moment is None else vector(moment)
    )


ACROSS = 0.5
"""The largest cosine of the angle between a bolt and a member that it goes through."""


def refuse_walls(builder: FrameBuilder, record: Record, joint: Joint) -> None:
    """Refuse bolts through hollow walls that lie off their member, and a sleeve that does not reach all of its bolts."""
    if not isinstance(joint, BoltGroup):
        return
    hollow = [ply.kind is PlyKind.TUBE_WALL for ply in joint.plies]
    if is_of_tubes(joint):
        refuse_short_face(builder, record, joint)
        refuse_short_sleeve(builder, record, joint)
    elif not (any(hollow) and isinstance(joint.place, AtPoint)):  # the hollow wall may be another part's than the member's
        return
    seated = list(members_at(builder, joint.place))
    misses = [miss for member, point in seated for miss in off_member(builder, joint, member, point)]
    if len(misses) == len(seated) and misses:
        remedy = "move the pattern onto the member, or the joint to the member that the bolts go through"
        builder.diagnostics.refuse(record.line_of("plane"), record.subject, misses[0], remedy)


def refuse_counts(builder: FrameBuilder, records: tuple[Record, ...], joints: tuple[Joint, ...]) -> None:
    """Refuse a pinned sleeve that counts other bolts than the pattern of the same bolts at its place has."""
    for record, sleeve in zip(records, joints, strict=True):
        for group in joints:
            if not (isinstance(sleeve, PinnedSleeve) and isinstance(group, BoltGroup) and group.place == sleeve.place):
                continue
            if group.bolt.thread == sleeve.bolt.thread and len(group.positions) != sleeve.bolts:
                fault = f"it says {sleeve.bolts} bolts, and '{group.name}' at the same place has {len(group.positions)}"
                builder.diagnostics.refuse(record.line_of("bolts"), record.subject, fault, "write the same number in both")


def members_at(builder: FrameBuilder, place: Place) -> Iterator[tuple[Member, str]]:
    """Yield the members that bolts may go through, with the point at which they sit."""
    if isinstance(place, AtMemberEnd) and place.member in builder.members:
        member = builder.members[place.member]
        yield member, member.points[0 if place.end is Terminal.START else -1]
    elif isinstance(place, AtPoint):
        yield from ((each, place.point) for each in builder.members.values() if place.point in each.points)


def off_member(builder: FrameBuilder, group: BoltGroup, member: Member, point: str) -> Iterator[str]:
    """Yield how bolts miss a member that they stand across, in words; at most once."""
    plane, at = group.plane, member.points.index(point)
    places = np.array([builder.points[name] for name in member.points])
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
    half = max(max(outline_box(builder.catalogue.section(each.section).shape)) for each in member.stretches) / 2
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
