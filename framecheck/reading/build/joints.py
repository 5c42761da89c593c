"""Joints: records to bolt groups, weld groups, stitches, spots, sleeves and brackets."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import pairwise
from math import dist

import numpy as np

from framecheck.model.joints import BoltGroup, ClampedTube, CrushSleeve, PinnedSleeve, Prying
from framecheck.model.weld_joints import Bracket, Joint, PressedMember, SpotGroup, Stitch, WeldGroup, WeldRun
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.doubts import doubt_joint, doubt_pressed
from framecheck.reading.build.frame_builder import SAME_PLACE, FrameBuilder
from framecheck.reading.build.joint_context import (
    JointContext,
    as_vector,
    electrode_of,
    part_of,
    ply_of,
    refuse_counts,
    refuse_walls,
)
from framecheck.reading.build.tube_in_tube import as_drawn
from framecheck.reading.form import Record
from framecheck.reading.library import Library


def bolts(context: JointContext, record: Record) -> Joint:
    """Return a bolt group."""
    contact, place = record["contact"], context.place(record["at"])
    group = BoltGroup(
        name=record["name"],
        place=place,
        plane=context.plane(record["plane"]),
        positions=context.spots(record),
        bolt=context.bolt(record["bolt"]),
        plies=tuple(ply_of(context, each) for each in record["plies"]),
        contact=None if contact is None else (*sorted(contact["across"]), *sorted(contact["along"])),
        prying=None if record["prying"] is None else prying(context, record["prying"]),
        tube=None if record["tube"] is None else clamped(context, record["tube"]),
        shares_with=record["shares with"],
    )
    return as_drawn(context.builder, record, group)


def prying(context: JointContext, record: Record) -> Prying:
    """Return the plate that bends between its bolts and what pulls it."""
    material = context.material(record["material"])
    return Prying(record["offset"], record["edge"], record["pitch"], record["thickness"], material)


def clamped(context: JointContext, record: Record) -> ClampedTube:
    """Return the tube that bolts pass through."""
    sleeve = record["sleeve"]
    return ClampedTube(
        width=record["width"],
        wall=record["wall"],
        depth=record["depth"],
        washer=record["washer"],
        material=context.material(record["material"]),
        sleeve=None if sleeve is None else crush_sleeve(context, sleeve),
    )


def crush_sleeve(context: JointContext, record: Record) -> CrushSleeve:
    """Return a sleeve round a bolt."""
    if not record["inside diameter"] < record["outside diameter"]:
        context.builder.diagnostics.refuse(record.line, record.subject, "is as wide inside as outside", "give it a wall")
    return CrushSleeve(
        record["outside diameter"], record["inside diameter"], context.material(record["material"]).yield_strength
    )


def pinned_sleeve(context: JointContext, record: Record) -> Joint:
    """Return one tube in another."""
    outer, inner = (ply_of(context, each) for each in record["walls"])
    bolt = context.bolt(record["bolt"])
    place = context.place(record["at"])
    if not record["depth"] > 2 * outer.thickness:
        fault = "its outer walls are thicker than it is deep"
        context.builder.diagnostics.refuse(record.line_of("depth"), record.subject, fault, "'depth' is outside, along the bolts")
    return PinnedSleeve(
        record["name"], place, bolt, record["bolts"], record["depth"], (outer, inner), record["clearance"]
    )


def welds(context: JointContext, record: Record) -> Joint:
    """Return a group of fillets."""
    around = record["around"]
    if (around is None) == (not record["runs"]):
        context.builder.diagnostics.refuse(
            record.line, record.subject, "neither or both of 'runs' and 'around'", "write one of the two"
        )
    runs = [run for each in record["runs"] for run in runs_of(context, each)] if around is None else rectangle(context, around)
    return WeldGroup(
        name=record["name"],
        place=context.place(record["at"]),
        runs=tuple(runs),
        electrode=electrode_of(context, record),
        parts=tuple(part_of(context, each, runs) for each in record["parts"]),
        on=record["on"],
        direction=record["direction"],
        shares_with=record["shares with"],
    )


def runs_of(context: JointContext, record: Record) -> list[WeldRun]:
    """Return the straight fillets through corners; a fault is noted where two neighbours are at one place."""
    corners = [vector(each) for each in record["corners"]]
    closed = [*corners, corners[0]] if record["closed"] else corners
    if any(dist(start, end) < SAME_PLACE for start, end in pairwise(closed)):
        fault = "two corners in a row are at one place: there is no fillet between them"
        context.builder.diagnostics.refuse(record.line, record.subject, fault, "move or leave out one of the two")
    return [WeldRun(start, end, record["leg"]) for start, end in pairwise(closed)]


def rectangle(context: JointContext, record: Record) -> list[WeldRun]:
    """Return the four fillets round a rectangle."""
    plane = context.plane(record["plane"])
    halves = [
        (u * record["across"] / 2, v * record["along"] / 2) for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
    ]
    across, along, origin = np.array(plane.across), np.array(plane.along), np.array(plane.origin)
    corners = [as_vector(origin + u * across + v * along) for u, v in halves]
    return [WeldRun(start, end, record["leg"]) for start, end in pairwise(corners)]


def stitch(context: JointContext, record: Record) -> Joint:
    """Return stitches along a built-up member."""
    if not record["length"] <= record["pitch"]:
        fault = "its stitches are longer than their pitch"
        context.builder.diagnostics.refuse(record.line, record.subject, fault, "pitch is from middle to middle")
    return Stitch(
        name=record["name"],
        member=record["member"],
        length=record["length"],
        pitch=record["pitch"],
        leg=record["leg"],
        seams=record["seams"],
        way=record["shear"],
        first_moment=record["first moment"],
        second_moment=record["second moment"],
        electrode=electrode_of(context, record),
        parts=tuple(part_of(context, each) for each in record["parts"]),
        enclosed_area=record["enclosed area"],
        shares_with=record["shares with"],
    )


def spot_welds(context: JointContext, record: Record) -> Joint:
    """Return a group of plug or spot welds."""
    return SpotGroup(
        name=record["name"],
        place=context.place(record["at"]),
        plane=context.plane(record["plane"]),
        positions=context.spots(record),
        kind=record["spot"],
        diameter=record["diameter"],
        electrode=electrode_of(context, record),
        parts=tuple(part_of(context, each) for each in record["parts"]),
    )


def bracket(context: JointContext, record: Record) -> Joint:
    """Return a bracket on a member's face."""
    on, doubler = record["on"], record["doubler material"]
    return Bracket(
        name=record["name"],
        place=context.place(record["at"]),
        plane=context.plane(record["plane"]),
        width=record["width"],
        length=record["length"],
        member=PressedMember(
            kind=on["kind"],
            width=on["width"],
            depth=on["depth"],
            wall=on["wall"],
            outside_radius=on["outside radius"],
            material=context.material(on["material"]),
            utilisation=on["utilisation"],
        ),
        end_distance=record["end distance"],
        doubler=record["doubler"],
        doubler_material=None if doubler is None else context.material(doubler),
    )


MAKERS: Mapping[str, Callable[[JointContext, Record], Joint]] = {
    "bolts": bolts,
    "pinned sleeve": pinned_sleeve,
    "welds": welds,
    "stitch welds along a member": stitch,
    "spot welds": spot_welds,
    "bracket": bracket,
}


def joints_of(builder: FrameBuilder, records: tuple[Record, ...], library: Library) -> tuple[Joint, ...]:
    """Return the joints of a case."""
    context = JointContext(builder, library)
    joints = tuple(MAKERS[record["kind"]](context, record) for record in records)
    for record, joint in zip(records, joints, strict=True):
        doubt_joint(builder, record, joint)
        refuse_walls(builder, record, joint)
        doubt_pressed(builder, record, joint)
    refuse_counts(builder, records, joints)
    return joints
