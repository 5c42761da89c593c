"""The frame: a record to points, members, cuts, supports, springs and the sections they use."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from math import dist, inf

from framecheck.frame.geometry import as_met
from framecheck.model.body import StatedBody
from framecheck.model.frame import Cut, Frame, Member, Section, StiffBody, Stretch
from framecheck.model.loads import PointSpring, Support
from framecheck.model.openings import Opening
from framecheck.model.shapes import Side
from framecheck.reading.blocks.common import vector
from framecheck.reading.blocks.frame import DIRECTIONS
from framecheck.reading.build.frame_builder import SAME_PLACE, FrameBuilder, both_ends
from framecheck.reading.build.ladder import add_ladder
from framecheck.reading.build.member_details import (
    as_made,
    doubt_arms,
    refuse_ends,
    refuse_tight_bends,
    taper,
    to_the_end,
)
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.diagnostics import Diagnostics, length
from framecheck.reading.form import Record

RAILS = ("left rail", "right rail")


def draft_of(diagnostics: Diagnostics, catalogue: SectionCatalogue, record: Record) -> FrameBuilder:
    """Return the points and members of a frame; faults are noted."""
    builder = FrameBuilder(diagnostics, catalogue)
    if record["ladder"] is not None:
        add_ladder(builder, record["ladder"])
    for name, place in record["points"].items():
        builder.add_point(name, vector(place), place.line, place.subject)
    for member in record["members"]:
        _add_member(builder, member)
    for cut in record["cuts"]:
        _add_cut(builder, cut)
    if record["splices"]:
        from framecheck.reading.build.splices import add_splices

        add_splices(builder, record["splices"])
    if not builder.members and not diagnostics.faults:
        diagnostics.refuse(record.line, record.subject, "there are no members", "describe a ladder, a body, or points and members")
    _refuse_loose_points(builder, record)
    return builder


def _refuse_loose_points(builder: FrameBuilder, record: Record) -> None:
    """Note every point that nothing reaches: it could not carry a load."""
    if builder.diagnostics.faults:
        return
    reached = {name for member in builder.members.values() for name in member.points}
    reached |= {builder.point(name) for spring in record["springs"] for name in spring["points"]}
    reached |= {builder.point(name) for panel in record["panels"] for name in panel["corners"]}
    for name in record["points"]:
        if name in builder.points and name not in reached:
            remedy = "draw a member or a spring through it, or remove it"
            builder.diagnostics.refuse(builder.lines[name], name, "no member reaches this point", remedy)


def frame_of(builder: FrameBuilder, record: Record, bodies: tuple[StiffBody, ...], origin: str) -> Frame:
    """Return the frame of a builder without faults; bends and ends that do not fit are noted."""
    frame = Frame(
        points=builder.points,
        members=tuple(builder.members.values()),
        sections=sections_of(builder),
        supports=tuple(support_of(builder, each) for each in record["supports"]),
        springs=tuple(spring_of(builder, each) for each in record["springs"]),
        splices=builder.splices,
        origin=origin,
        stiff_bodies=bodies,
    )
    if record["panels"]:
        from framecheck.reading.build.panels import with_panels

        frame = with_panels(builder, frame, record["panels"], record.values.get("settled"))
    if record["stated body"] is not None:
        frame = replace(frame, body=stated_body(builder, record["stated body"]))
    openings = tuple(opening_of(builder, each) for each in record["openings"])
    frame = as_met(replace(frame, openings=openings, sheet=record["sheet carries"]))
    refuse_tight_bends(builder, frame)
    if not builder.diagnostics.faults:
        refuse_ends(builder, frame)
        doubt_arms(builder, frame)
    return frame


def sections_of(builder: FrameBuilder) -> Mapping[str, Section]:
    """Return the sections that members use, in the order of their first use."""
    names = (stretch.section for member in builder.members.values() for stretch in member.stretches)
    return {name: builder.catalogue.section(name) for name in dict.fromkeys(names)}


def _add_member(builder: FrameBuilder, record: Record) -> None:
    points = tuple(builder.point(name) for name in record["points"])
    if not all(name in builder.points for name in points):
        return
    lie = builder.orientation(record, points, record["open side"])
    start, end = both_ends(record, "start", "end")
    made = {"roll": record["roll"], **as_made(builder, record)}
    member = Member(record["name"], points, (), lie, start, end, **made)
    builder.add_member(member, record.line, record.subject)
    if builder.members.get(record["name"]) is member:
        builder.members[member.name] = replace(member, stretches=_stretches(builder, record))


def _stretches(builder: FrameBuilder, record: Record) -> tuple[Stretch, ...]:
    """Return a member's sections, each up to the place where the next begins, tapers as steps."""
    section, reached, whole = record["section"], 0.0, builder.length(record["name"])
    stretches: list[Stretch] = []
    for change in record["changes"]:
        end = _end_of_change(builder, change, reached, whole)
        if change["at"] > reached:
            stretches.append(Stretch(section, change["at"]))
        if change["taper to"] is not None and end > change["at"]:
            stretches += taper(builder, change, (section, change["taper to"]), (change["at"], end))
        section, reached = change["taper to"] or change["section"] or section, end
    return to_the_end(stretches, section, whole)


def _end_of_change(builder: FrameBuilder, change: Record, reached: float, whole: float) -> float:
    """Return where a change is complete, m along its member; a fault is noted where it doesn't say that, or lies wrong."""
    at, until, tapered = change["at"], change["until"], change["taper to"] is not None
    if tapered == (change["section"] is not None) or tapered != (until is not None):
        fault = "does not say one of 'section', or 'taper to' with 'until'"
        builder.diagnostics.refuse(change.line, change.subject, fault, "write 'section', or both 'taper to' and 'until'")
        return float(at)
    fits = reached <= at < until <= whole + SAME_PLACE if tapered else reached < at < whole
    if not fits:
        fault = "is not further along the member than the one before, or lies beyond its end"
        remedy = f"choose from 0 to {length(whole)}, in order"
        builder.diagnostics.refuse(change.line, change.subject, fault, remedy)
    return float(until) if tapered else float(at)


def _add_cut(builder: FrameBuilder, record: Record) -> None:
    """Add a notch to its member, or its mirror image to the right rail too."""
    if (record["at"] is None) == (record["x"] is None):
        builder.diagnostics.refuse(record.line, record.subject, "either 'at' or 'x' says where it is", "write one of the two")
        return
    for name in RAILS if record["member"] == "rails" else (record["member"],):
        member = builder.members.get(name)
        if member is not None and _fits(builder, record, member):
            seen = builder.seen_side(record, member.name)
            side = None if seen is None else member.orientation.own_side(seen)
            if side is not None:
                builder.members[name] = replace(member, cuts=(*member.cuts, _cut(builder, record, member, side)))


def _cut(builder: FrameBuilder, record: Record, member: Member, side: Side) -> Cut:
    at = _station(builder, record, member)
    assert at is not None
    return Cut(record["name"], side, at, record["depth"], record["length"], record["corner radius"])


def _fits(builder: FrameBuilder, record: Record, member: Member) -> bool:
    """Return whether a cut lies within its member; the fault is noted where it doesn't."""
    at, whole, half = _station(builder, record, member), builder.length(member.name), record["length"] / 2
    if at is not None and half <= at <= whole - half:
        return True
    fault = f"does not lie within '{member.name}', which is {length(whole)} long"
    builder.diagnostics.refuse(record.line, record.subject, fault, "move it, or make it shorter")
    return False


def _station(builder: FrameBuilder, record: Record, member: Member) -> float | None:
    """Return how far along its member a cut's middle is, None where the member has no place with its x."""
    if record["at"] is not None:
        return float(record["at"])
    travelled = 0.0
    places = [builder.points[name] for name in member.points]
    for first, second in pairwise(places):
        step = second[0] - first[0]
        share = (record["x"] - first[0]) / step if step else -1.0
        if 0.0 <= share <= 1.0:
            return travelled + share * dist(first, second)
        travelled += dist(first, second)
    return None


def support_of(builder: FrameBuilder, record: Record) -> Support:
    """Return a support: held directions, and springs in the others."""
    stiffness = list(six_springs(record["springs"])) if record["springs"] is not None else [0.0] * 6
    for number in record["held"]:
        stiffness[number] = inf
    return Support(builder.point(record["point"]), tuple(stiffness))  # type: ignore[arg-type]


def spring_of(builder: FrameBuilder, record: Record) -> PointSpring:
    """Return a spring between two points."""
    first, second = record["points"]
    return PointSpring(record["name"], (builder.point(first), builder.point(second)), six_springs(record["stiffness"]))


def opening_of(builder: FrameBuilder, record: Record) -> Opening:
    """Return an opening; one whose corners are at one place is noted."""
    corners = tuple(builder.point(name) for name in record["corners"])
    opening = Opening(record["name"], corners, record["gap"] or 0.0)
    places = builder.points
    if any(a in places and b in places and dist(places[a], places[b]) < SAME_PLACE for a, b in opening.diagonals):
        fault = "two of its opposite corners are at one place"
        builder.diagnostics.refuse(record.line_of("corners"), record.subject, fault, "write four points in order round it")
    return opening


def stated_body(builder: FrameBuilder, record: Record) -> StatedBody | None:
    """Return a body told by its stiffness; corners that span nothing and a bending without its points are noted."""
    names = tuple(builder.point(name) for name in record["corners"])
    middle = tuple(builder.point(name) for name in record["middle"])
    if not all(name in builder.points for name in (*names, *middle)):
        return None
    (lf, rf, lr, rr) = (builder.points[name] for name in names)
    line, subject = record.line, record.subject
    if lf[1] <= rf[1] or lr[1] <= rr[1] or min(lf[0], rf[0]) <= max(lr[0], rr[0]):
        fault = "its corners are not left front, right front, left rear and right rear"
        builder.diagnostics.refuse(record.line_of("corners"), subject, fault, "write them in that order")
    if bool(record["bending"]) != bool(middle):
        builder.diagnostics.refuse(line, subject, "'bending' and 'middle' go together", "write both, or neither")
    ranges = [(min(each), max(each)) if each else (0.0, 0.0) for each in (record["torsion"], record["bending"])]
    return StatedBody(names, ranges[0], record["source"], middle, ranges[1])  # type: ignore[arg-type]


def six_springs(record: Record) -> tuple[float, float, float, float, float, float]:
    """Return the stiffness along x, y, z and about x, y, z."""
    return tuple(record[key] for key in DIRECTIONS)
