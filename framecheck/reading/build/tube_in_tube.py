"""Bolts through one tube in another: what the drawing of their member says of them, and a sleeve that does not reach all of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from framecheck.model.frame import Member
from framecheck.model.joints import AtMemberEnd, BoltGroup, PlyKind, Terminal
from framecheck.model.shape_parts import outline_box
from framecheck.model.shapes import RectTube, RoundTube, Sleeve
from framecheck.reading.build.frame_builder import SAME_PLACE, FrameBuilder
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record


def is_of_tubes(group: BoltGroup) -> bool:
    """Return whether all that bolts hold are walls of hollow tubes, two or more."""
    return len(group.plies) > 1 and all(ply.kind is PlyKind.TUBE_WALL for ply in group.plies)


def as_drawn(builder: FrameBuilder, record: Record, group: BoltGroup) -> BoltGroup:
    """Return a group with what its member's drawing says of bolts through one tube in another, where the file does not say it.

    Where neither does, that they may cross the tubes once or twice is noted as a doubt: once is the kinder reading.
    """
    if not is_of_tubes(group):
        return group
    bolt, drawn = record["bolt"], list(sleeves_at(builder, group))
    unsaid = bolt["shear planes"] is None
    if unsaid and not drawn:
        what = "it holds walls of hollow tubes, and how often its bolts cross from one to the other is not said: once was taken"
        remedy = "write `shear planes: 2` where one tube lies in the other, 1 where they lie side by side"
        builder.diagnostics.doubt(bolt.line, bolt.subject, what, remedy)
    planes = 2 if unsaid and drawn else group.bolt.shear_planes
    levers = [lever for each in drawn if (lever := lever_of(each)) is not None]
    return replace(group, bolt=replace(group.bolt, shear_planes=planes), lever=min(levers, default=None))


def sleeves_at(builder: FrameBuilder, group: BoltGroup) -> Iterator[Sleeve]:
    """Yield the shapes of a group's member that are one tube in another."""
    if isinstance(group.place, AtMemberEnd) and group.place.member in builder.members:
        for stretch in builder.members[group.place.member].stretches:
            shape = builder.catalogue.section(stretch.section).shape
            if isinstance(shape, Sleeve):
                yield shape


def lever_of(shape: Sleeve) -> float | None:
    """Return how far apart the planes lie in which one tube meets the other, m, the nearer pair of a box; None: not known."""
    outer = shape.outer
    return min(outline_box(outer)) - 2 * outer.wall if isinstance(outer, RectTube | RoundTube) else None


def refuse_short_face(builder: FrameBuilder, record: Record, group: BoltGroup) -> None:
    """Refuse a face on which one tube lies in another that ends before the outermost hole does."""
    if group.contact is None:
        return
    places, reach = np.array(group.positions), group.bolt.hole / 2
    left, right, low, high = group.contact
    out = max(float(np.max(places + reach - (right, high))), float(np.max((left, low) - places + reach)))
    if out > SAME_PLACE:
        fault = f"the face on which one tube lies in the other is shorter than its bolts' spread: a hole is {length(out)} beyond it"
        builder.diagnostics.refuse(
            record.line_of("contact"), record.subject, fault, "lengthen the sleeve, or bring the bolts together"
        )


def refuse_short_sleeve(builder: FrameBuilder, record: Record, group: BoltGroup) -> None:
    """Refuse bolts of which one lies where its member is one tube alone, though a length of it is one tube in another."""
    place, plane = group.place, group.plane
    if not isinstance(place, AtMemberEnd) or place.member not in builder.members:
        return
    member = builder.members[place.member]
    sleeved = list(sleeved_lengths(builder, member))
    way = np.array([builder.points[name] for name in member.points])
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
        builder.diagnostics.refuse(record.line_of("plane"), record.subject, fault, "lengthen the sleeve, or bring the bolts together")


def sleeved_lengths(builder: FrameBuilder, member: Member) -> Iterator[tuple[float, float]]:
    """Yield from where to where a member is one tube in another, m along it."""
    start = 0.0
    for stretch in member.stretches:
        if isinstance(builder.catalogue.section(stretch.section).shape, Sleeve):
            yield start, stretch.until
        start = stretch.until


