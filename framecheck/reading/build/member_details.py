"""Members' ends, kinks and tapers: built, or refused where they can't be made as the file says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import cos, dist, hypot, inf, tan
from typing import TYPE_CHECKING, Any

import numpy as np

from framecheck.errors import InputError
from framecheck.frame.end_arms import foot_on_face
from framecheck.frame.geometry import lengths, outward, running_on
from framecheck.frame.joint.data import Outline
from framecheck.frame.joint.outlines import outline_of
from framecheck.frame.joint_faces import JointFace, rails_at
from framecheck.frame.joints import seats_of
from framecheck.frame.kink_bends import tightest_bend, widest_bend
from framecheck.frame.kinks import kinks_of, leg_length
from framecheck.frame.member_ends import first_end, last_end, sides_of
from framecheck.frame.stand_in import sizes
from framecheck.model.frame import LAID, STANDING, Frame, Kinks, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.joining import LEAST_PLATE, EndFinish, GussetPair
from framecheck.reading.build.frame_builder import SAME_PLACE, FrameBuilder
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record
from framecheck.section.validate import section_faults

if TYPE_CHECKING:
    from framecheck.section.taper import Steps


HAIR = 1e-6  # m
Told = tuple[str, str]
"""What is wrong, and what would do."""


def refuse_ends(builder: FrameBuilder, frame: Frame) -> None:
    """Note every member end that can't be made as it is said, at its member's line."""
    ends = [each for member in frame.members for each in (member.start, member.end)]
    if not any(each.welded or each.gussets or each.make in STANDING for each in ends):
        return
    seats = seats_of(frame)
    for number, member in enumerate(frame.members):
        for end, made in ((0, member.start), (1, member.end)):
            line, subject = builder.member_places[member.name]
            for fault, remedy in of_end(frame, member, (end, made), seats.get((number, end))):
                builder.diagnostics.refuse(line, subject, f"at '{member.points[-end]}': {fault}", remedy)


ONE_LINE = 0.94
"""Cosine of 20 degrees: two members that turn more where they meet are not drawn as one."""


def doubt_arms(builder: FrameBuilder, frame: Frame) -> None:
    """Note the arms, shorter than half the section, that alone keep a member's end from running on into another at its point."""
    made = {(number, end): each for number, member in enumerate(frame.members) for end, each in enumerate((member.start, member.end))}
    if not any(each.has_arm for each in made.values()):
        return
    none = (0.0, 0.0, 0.0)
    bare = [replace(each, start=replace(each.start, arm=none), end=replace(each.end, arm=none)) for each in frame.members]
    for (number, end), (other, there) in running_on(replace(frame, members=tuple(bare))).items():
        straight = -sum(a * b for a, b in zip(outward(frame, (number, end)), outward(frame, (other, there)), strict=True))
        member, away = frame.members[number], hypot(*made[number, end].arm)
        height, width, _ = sizes(frame.sections[member.stretches[-end].section].shape)
        if straight > ONE_LINE and made[number, end].has_arm and away < min(height, width) / 2:
            line, subject = builder.member_places[member.name]
            what = f"its arm of {length(away)} keeps it from running on into '{frame.members[other].name}': what stands at "
            what += f"'{member.points[-end]}' stands on two ends"
            builder.diagnostics.doubt(line, subject, what, "leave the arm out, or accept it")


def of_end(frame: Frame, member: Member, at: tuple[int, MemberEnd], seat: JointFace | None) -> Iterator[Told]:
    """Yield what is wrong with one end; at: 0 start or 1 end, and what is said of it."""
    made = at[1]
    yield from of_welds(frame, member, at)
    if made.gussets is not None and made.gussets.thickness < LEAST_PLATE:
        yield "it has gussets under 1 mm", "write 1 mm or more: thinner sheet burns away"
    if made.gussets is not None and made.make in LAID:
        yield "it lies across the wall, where gussets are not modelled", "leave them out: the answer is then on the safe side"
    elif made.gussets is not None:
        yield from of_gussets(frame, (member, at[0]), made.gussets, seat)
    if seat is None or seat.unmodelled is not None or made.make not in STANDING:
        return
    beside = abs(float(foot_on_face((seat.arm, seat.axes[1]), np.array(made.arm)) @ seat.axes[2]))
    if made.has_arm and all(beside > (seat.chord.depth + width_of(each.branch.outline)) / 2 + HAIR for each in seat.turns):
        fault = f"its arm takes it {length(beside)} from the middle of a wall that is {length(seat.chord.depth)} wide, beside it"
        yield fault, "write an arm that ends on the wall, or the end's springs by `stiffness`"
    yield from sorted({fault for each in seat.turns for fault in of_fit(made.make, seat, each.branch.outline)})


def width_of(foot: Outline) -> float:
    """Return how wide a foot is across the rail, outside to outside, m."""
    low, high = foot.span(1)
    return high - low + (max(each.wall for each in foot.strips) if foot.closed else 0.0)


def of_fit(make: Make, seat: JointFace, foot: Outline) -> Iterator[Told]:
    """Yield why an end does not fit on the wall that it stands on; foot: in one of the quarter turns that count."""
    low, high = foot.span(1)
    wall, wide = max(each.wall for each in foot.strips), width_of(foot)
    if wide > seat.chord.depth + HAIR:
        fault = f"it is {length(wide)} wide where the wall it stands on is {length(seat.chord.depth)}"
        yield fault, "take a narrower one, or say that it is cut to fit by `make: rigid` or by a `stiffness`"
    if make is Make.WEB_AND_FLANGES:
        gap = max(low - seat.chord.face[0], seat.chord.face[1] - high)
        if not seat.between_flanges:
            yield "there are no flanges beside it to weld it to", "turn the rail's open side towards it, or write `butt on one face`"
        elif gap > 2 * (wall + seat.chord.wall):
            yield f"it ends {length(gap)} short of the flanges' middle: no weld reaches them", "write `butt on one face`"


def of_welds(frame: Frame, member: Member, at: tuple[int, MemberEnd]) -> Iterator[Told]:
    """Yield the welded sides on which the member has no wall."""
    end, made = at
    if not made.welded:
        return
    twice = [side.value for number, side in enumerate(made.welded) if side in made.welded[:number]]
    if twice:
        yield f"its {twice[0]} is named twice among the sides that are welded", "name each side once"
    outline = outline_of(frame.sections[member.stretches[-end].section].shape)
    if outline is None:
        yield "its section has no flat sides", "leave out `welded sides`: it is then welded all round"
        return
    there = sides_of(outline, member)
    for side in made.welded:
        if side not in there:
            names = ", ".join(sorted(each.value for each in there))
            yield f"there is no wall on its {side.value} to weld", f"write sides that it has: {names}"


def of_gussets(frame: Frame, at: tuple[Member, int], pair: GussetPair, seat: JointFace | None) -> Iterator[Told]:
    """Yield the ways in which gussets stand on nothing; at: the member, and 0 start or 1 end."""
    member, end = at
    whole = sum(dist(frame.points[a], frame.points[b]) for a, b in zip(member.points, member.points[1:], strict=False))
    if pair.along_member > whole:
        yield f"its gussets are {length(pair.along_member)} along it, and it is {length(whole)} long", "write shorter ones"
    if seat is None:
        return
    along = float(foot_on_face((seat.arm, seat.axes[1]), np.array((member.end if end else member.start).arm)) @ seat.axes[0])
    beside = tuple(rail_beside(frame, member.points[-end], along))
    yield from dict.fromkeys(told for each in seat.turns for told in off_walls(pair, each.branch.outline, beside))
    edge = (seat.chord.face[1] - seat.chord.face[0] + seat.chord.wall) / 2 + HAIR
    off = max((abs(each.z) for turn in seat.turns for each in turn.branch.gussets), default=0.0)
    if seat.unmodelled is None and off > edge:
        fault = f"its gussets lie {length(off)} from the middle of the wall, beyond its edge"
        yield fault, "write a `height` or an arm that keeps them on it"


def off_walls(pair: GussetPair, foot: Outline, beside: tuple[float, ...]) -> Iterator[Told]:
    """Yield the ways in which gussets miss the walls; foot: in one of the quarter turns that count; beside: of the rail, m."""
    low, high = foot.span(1)
    if pair.height is not None and abs(pair.height) > (high - low) / 2 + foot.strips[0].wall / 2 + HAIR:
        fault = f"its gussets lie {length(abs(pair.height))} from its middle, off its walls"
        yield fault, f"write a height of {length((high - low) / 2)} or less"
    sides = foot.span(0)
    reach = max(-sides[0], sides[1]) + pair.along_rail
    for away in beside:
        if reach > away + HAIR:
            fault = f"its gussets reach {length(reach)} along the rail, which ends {length(away)} away"
            yield fault, "write shorter ones, or draw the rail as long as it is"


def rail_beside(frame: Frame, point: str, along: float) -> Iterator[float]:
    """Yield how far a rail goes on each way, from so far along it beside a point, where it is not said to run on, m."""
    run, number = rails_at(frame).get(point, (None, 0))
    if run is None or run.is_ring:
        return
    legs = lengths(frame, run.points)
    for made, away in ((first_end(run), sum(legs[:number]) + along), (last_end(run), sum(legs[number:]) - along)):
        if made.cap.finish is not EndFinish.RUNS_ON:
            yield away


SHARE_OF_A_HAIR = 1e-9


def as_made(builder: FrameBuilder, record: Record) -> dict[str, Any]:
    """Return how a member's kinks and changes of section are made; a fault is noted where a size belongs to another make."""
    kinks, radius, plate = record["kinks"], record["bend radius"], record["kink plate"]
    for key, needs in (("bend radius", Kinks.BENT), ("kink plate", Kinks.PLATED)):
        if record[key] is not None and kinks is not needs:
            remedy = f"write 'kinks: {needs.value}', or leave it out"
            builder.diagnostics.refuse(
                record.line_of(key), record.subject, f"has a {key}, and its kinks are not {needs.value}", remedy
            )
    if plate is not None and plate < LEAST_PLATE:
        remedy = "write 1 mm or more: thinner sheet burns away"
        builder.diagnostics.refuse(record.line_of("kink plate"), record.subject, "has a plate under 1 mm in its kinks", remedy)
    return {"kinks": kinks, "splices": record["splices"], "bend_radius": radius, "kink_plate": plate}


def refuse_tight_bends(builder: FrameBuilder, frame: Frame) -> None:
    """Note every bend that is tighter than its tube is deep, or longer than a leg beside it; doubt one that is very wide."""
    if builder.diagnostics.faults or all(member.bend_radius is None for member in frame.members):
        return
    for name, fault, remedy in dict.fromkeys(tight_bends(frame)):
        builder.diagnostics.refuse(*builder.member_places[name], fault, remedy)
    for name, what in dict.fromkeys(wide_bends(frame)):
        builder.diagnostics.doubt(*builder.member_places[name], what, "draw a wide bend as points along its middle line")


def wide_bends(frame: Frame) -> Iterator[tuple[str, str]]:
    """Yield the member of each bend whose pull lies far beside the line that is drawn, and how far."""
    for kink in kinks_of(frame):
        if kink.radius is not None and kink.is_said and kink.radius > widest_bend(kink) * (1 + SHARE_OF_A_HAIR):
            away = length(kink.radius * (1 / cos(kink.turn / 2) - 1))
            yield kink.name, f"is bent at '{kink.point}' wider than 12 of its depths: its middle line passes {away} beside the corner"


def tight_bends(frame: Frame) -> Iterator[tuple[str, str, str]]:
    """Yield member, fault and remedy of each bend that does not fit."""
    reach: dict[tuple[int, int], float] = {}
    for kink in kinks_of(frame):
        if kink.radius is None or not kink.is_said:
            continue
        least = tightest_bend(kink)
        if kink.radius < least * (1 - SHARE_OF_A_HAIR):
            fault = f"is bent at '{kink.point}' to less than its own depth, tighter than tubes are bent"
            yield kink.name, fault, f"write a radius of the middle line of {length(least)} or more, or 'kinks: {Kinks.MITRED.value}'"
        for side in kink.sides:
            leg = side.member, side.leg
            reach[leg] = reach.get(leg, 0.0) + kink.radius * tan(kink.turn / 2)
            if reach[leg] > leg_length(frame, side):
                fault = f"has no room for the bend at '{kink.point}': its arc begins beyond the next point"
                yield kink.name, fault, "write a smaller radius, or move the points apart"


Span = tuple[float, float]


def taper(builder: FrameBuilder, record: Record, names: tuple[str, str], span: Span) -> tuple[Stretch, ...]:
    """Return the steps of a taper from one section to another between two stations (m along the member); none with a fault noted.

    The steps' sections are put into the catalogue, so that the frame sees ordinary sections.
    """
    from framecheck.section.taper import steps_between

    first, last = (builder.catalogue.section(name) for name in names)
    try:
        steps = steps_between(first, last)
    except InputError as error:
        fault = error.faults[0]
        builder.diagnostics.refuse(record.line_of("taper to"), record.subject, f"{fault.subject}: {fault.fault}", fault.remedy)
        return ()
    made = sections_of(first, last, steps)
    for section in made:
        for fault in section_faults(section):
            builder.diagnostics.refuse(
                record.line_of("taper to"), record.subject, f"{section.name}: {fault.fault}", fault.remedy
            )
        builder.catalogue.built.setdefault(section.name, section)
    start, end = span
    return tuple(
        Stretch(section.name, start + (number + 1) * (end - start) / len(made)) for number, section in enumerate(made)
    )


def to_the_end(stretches: Sequence[Stretch], section: str, whole: float) -> tuple[Stretch, ...]:
    """Return stretches that run on to the end of a member of a length, m: in a section, or in the last step where that ends there."""
    if stretches and stretches[-1].until >= whole - SAME_PLACE:
        return (*stretches[:-1], replace(stretches[-1], until=inf))
    return (*stretches, Stretch(section, inf))


def sections_of(first: Section, last: Section, steps: Steps) -> tuple[Section, ...]:
    """Return the sections of the steps; the first one carries the note."""
    family, count = f"{first.name} tapered to {last.name}", len(steps.shapes)
    note = said(steps)
    return tuple(
        Section(
            f"{family}, step {number} of {count}", shape, first.material, (note,) if number == 1 else (), family, first.metals
        )
        for number, shape in enumerate(steps.shapes, start=1)
    )


def said(steps: Steps) -> str:
    """Return how a taper is taken, and what that leaves wrong."""
    twist = "" if steps.closed else "; the twist that inclined flanges of an open section make is not counted"
    return (
        f"the taper is taken in {len(steps.shapes)} equal steps: its stiffness is within "
        f"{100 * steps.stiffness_error:.2g} % (by halving the steps), stress at the thin end of a step is up to "
        f"{100 * steps.stress_error:.2g} % above what is shown{twist}"
    )
