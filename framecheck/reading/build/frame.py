"""The frame: a record to points, members, cuts, supports, springs and the sections they use."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from math import dist, inf

from framecheck.model.body import StatedBody
from framecheck.model.frame import Cut, Frame, Member, Section, StiffBody, Stretch
from framecheck.model.shapes import Side
from framecheck.model.supports import Spring, Support
from framecheck.reading.blocks.common import vector
from framecheck.reading.blocks.frame import DIRECTIONS
from framecheck.reading.build.draft import SAME_PLACE, Draft, both_ends
from framecheck.reading.build.ends import refuse_ends
from framecheck.reading.build.kinks import as_made, refuse_tight_bends
from framecheck.reading.build.ladder import add_ladder
from framecheck.reading.build.sections import Shelf
from framecheck.reading.build.tapers import taper, to_the_end
from framecheck.reading.desk import Desk, length
from framecheck.reading.form import Record

RAILS = ("left rail", "right rail")


def draft_of(desk: Desk, shelf: Shelf, record: Record) -> Draft:
    """Return the points and members of a frame; faults are on the desk."""
    draft = Draft(desk, shelf)
    if record["ladder"] is not None:
        add_ladder(draft, record["ladder"])
    for name, place in record["points"].items():
        draft.add_point(name, vector(place), place.line, place.subject)
    for member in record["members"]:
        _add_member(draft, member)
    for cut in record["cuts"]:
        _add_cut(draft, cut)
    if record["splices"]:
        from framecheck.reading.build.splices import add_splices

        add_splices(draft, record["splices"])
    if not draft.members and not desk.faults:
        desk.refuse(record.line, record.subject, "there are no members", "describe a ladder, or points and members")
    _refuse_loose_points(draft, record)
    return draft


def _refuse_loose_points(draft: Draft, record: Record) -> None:
    """Note every point that nothing reaches: it could not carry a load."""
    if draft.desk.faults:
        return
    reached = {name for member in draft.members.values() for name in member.points}
    reached |= {draft.point(name) for spring in record["springs"] for name in spring["points"]}
    reached |= {draft.point(name) for panel in record["panels"] for name in panel["corners"]}
    for name in record["points"]:
        if name in draft.points and name not in reached:
            remedy = "draw a member or a spring through it, or remove it"
            draft.desk.refuse(draft.lines[name], name, "no member reaches this point", remedy)


def frame_of(draft: Draft, record: Record, bodies: tuple[StiffBody, ...], origin: str) -> Frame:
    """Return the frame of a draft without faults; bends and ends that do not fit are noted."""
    frame = Frame(
        points=draft.points,
        members=tuple(draft.members.values()),
        sections=sections_of(draft),
        supports=tuple(support_of(draft, each) for each in record["supports"]),
        springs=tuple(spring_of(draft, each) for each in record["springs"]),
        splices=draft.splices,
        origin=origin,
        stiff_bodies=bodies,
    )
    if record["panels"]:
        from framecheck.reading.build.panels import with_panels

        frame = with_panels(draft, frame, record["panels"])
    if record["stated body"] is not None:
        frame = replace(frame, body=stated_body(draft, record["stated body"]))
    refuse_tight_bends(draft, frame)
    if not draft.desk.faults:
        refuse_ends(draft, frame)
    return frame


def sections_of(draft: Draft) -> Mapping[str, Section]:
    """Return the sections that members use, in the order of their first use."""
    names = (stretch.section for member in draft.members.values() for stretch in member.stretches)
    return {name: draft.shelf.section(name) for name in dict.fromkeys(names)}


def _add_member(draft: Draft, record: Record) -> None:
    points = tuple(draft.point(name) for name in record["points"])
    if not all(name in draft.points for name in points):
        return
    lie = draft.orientation(record, points, record["open side"])
    start, end = both_ends(record, "start", "end")
    made = {"roll": record["roll"], **as_made(draft, record)}
    member = Member(record["name"], points, (), lie, start, end, **made)
    draft.add_member(member, record.line, record.subject)
    if draft.members.get(record["name"]) is member:
        draft.members[member.name] = replace(member, stretches=_stretches(draft, record))


def _stretches(draft: Draft, record: Record) -> tuple[Stretch, ...]:
    """Return a member's sections, each up to the place where the next begins, tapers as steps."""
    section, reached, whole = record["section"], 0.0, draft.length(record["name"])
    stretches: list[Stretch] = []
    for change in record["changes"]:
        end = _end_of_change(draft, change, reached, whole)
        if change["at"] > reached:
            stretches.append(Stretch(section, change["at"]))
        if change["taper to"] is not None and end > change["at"]:
            stretches += taper(draft, change, (section, change["taper to"]), (change["at"], end))
        section, reached = change["taper to"] or change["section"] or section, end
    return to_the_end(stretches, section, whole)


def _end_of_change(draft: Draft, change: Record, reached: float, whole: float) -> float:
    """Return where a change is complete, m along its member; a fault is noted where it doesn't say that, or lies wrong."""
    at, until, tapered = change["at"], change["until"], change["taper to"] is not None
    if tapered == (change["section"] is not None) or tapered != (until is not None):
        fault = "does not say one of 'section', or 'taper to' with 'until'"
        draft.desk.refuse(change.line, change.subject, fault, "write 'section', or both 'taper to' and 'until'")
        return float(at)
    fits = reached <= at < until <= whole + SAME_PLACE if tapered else reached < at < whole
    if not fits:
        fault = "is not further along the member than the one before, or lies beyond its end"
        remedy = f"choose from 0 to {length(whole)}, in order"
        draft.desk.refuse(change.line, change.subject, fault, remedy)
    return float(until) if tapered else float(at)


def _add_cut(draft: Draft, record: Record) -> None:
    """Add a notch to its member, or its mirror image to the right rail too."""
    if (record["at"] is None) == (record["x"] is None):
        draft.desk.refuse(record.line, record.subject, "either 'at' or 'x' says where it is", "write one of the two")
        return
    for name in RAILS if record["member"] == "rails" else (record["member"],):
        member = draft.members.get(name)
        if member is not None and _fits(draft, record, member):
            side = _cut_side(draft, record, member)
            if side is not None:
                draft.members[name] = replace(member, cuts=(*member.cuts, _cut(draft, record, member, side)))


def _cut(draft: Draft, record: Record, member: Member, side: Side) -> Cut:
    at = _station(draft, record, member)
    assert at is not None
    return Cut(record["name"], side, at, record["depth"], record["length"], record["corner radius"])


def _fits(draft: Draft, record: Record, member: Member) -> bool:
    """Return whether a cut lies within its member; the fault is noted where it doesn't."""
    at, whole, half = _station(draft, record, member), draft.length(member.name), record["length"] / 2
    if at is not None and half <= at <= whole - half:
        return True
    fault = f"does not lie within '{member.name}', which is {length(whole)} long"
    draft.desk.refuse(record.line, record.subject, fault, "move it, or make it shorter")
    return False


def _station(draft: Draft, record: Record, member: Member) -> float | None:
    """Return how far along its member a cut's middle is, None where the member has no place with its x."""
    if record["at"] is not None:
        return float(record["at"])
    travelled = 0.0
    places = [draft.points[name] for name in member.points]
    for first, second in pairwise(places):
        step = second[0] - first[0]
        share = (record["x"] - first[0]) / step if step else -1.0
        if 0.0 <= share <= 1.0:
            return travelled + share * dist(first, second)
        travelled += dist(first, second)
    return None


def _cut_side(draft: Draft, record: Record, member: Member) -> Side | None:
    """Return which side of the section's own drawing a cut takes away, from what the user sees looking along the member."""
    seen = draft.seen_side(record, member.name)
    return None if seen is None else member.orientation.own_side(seen)


def support_of(draft: Draft, record: Record) -> Support:
    """Return a support: held directions, and springs in the others."""
    stiffness = list(six_springs(record["springs"])) if record["springs"] is not None else [0.0] * 6
    for number in record["held"]:
        stiffness[number] = inf
    return Support(draft.point(record["point"]), tuple(stiffness))  # type: ignore[arg-type]


def spring_of(draft: Draft, record: Record) -> Spring:
    """Return a spring between two points."""
    first, second = record["points"]
    return Spring(record["name"], (draft.point(first), draft.point(second)), six_springs(record["stiffness"]))


def stated_body(draft: Draft, record: Record) -> StatedBody | None:
    """Return a body told by its stiffness; corners that span nothing and a bending without its points are noted."""
    names = tuple(draft.point(name) for name in record["corners"])
    middle = tuple(draft.point(name) for name in record["middle"])
    if not all(name in draft.points for name in (*names, *middle)):
        return None
    (lf, rf, lr, rr) = (draft.points[name] for name in names)
    line, subject = record.line, record.subject
    if lf[1] <= rf[1] or lr[1] <= rr[1] or min(lf[0], rf[0]) <= max(lr[0], rr[0]):
        fault = "its corners are not left front, right front, left rear and right rear"
        draft.desk.refuse(record.line_of("corners"), subject, fault, "write them in that order")
    if bool(record["bending"]) != bool(middle):
        draft.desk.refuse(line, subject, "'bending' and 'middle' go together", "write both, or neither")
    ranges = [(min(each), max(each)) if each else (0.0, 0.0) for each in (record["torsion"], record["bending"])]
    return StatedBody(names, ranges[0], record["source"], middle, ranges[1])  # type: ignore[arg-type]


def six_springs(record: Record) -> tuple[float, float, float, float, float, float]:
    """Return the stiffness along x, y, z and about x, y, z."""
    return tuple(record[key] for key in DIRECTIONS)
