"""The ledger: everything in a case that can fail, listed from the model before any check runs, and what became of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from math import degrees

from framecheck.frame.kinks import Kink, kinks_of
from framecheck.frame.star_mitres import crowded_ends, star_mitres
from framecheck.model.case import Accepted, Case
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import Terminal
from framecheck.model.said import Words
from framecheck.model.shape_parts import is_built_up, shapes_within
from framecheck.model.shapes import Drilled
from framecheck.results.as_measured import STATED_BODY, measured_body
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Claim, Entry, Open, Question, Remark, Thing, asked, drilled, of_life
from framecheck.section.shape_geometry import Lips, lips_of
from framecheck.value_class import value_class
from framecheck.vehicle.load_cases import runnable_kinds

NOTHING_JUDGED = "nothing has judged it"
UNJUDGED = {Question.BODY: "it is stated, and no test has found it"}
"""Why an entry that nobody claims is open, where more can be said than that."""
STRAIGHT = 0.5
"""A member whose direction turns by less than this at a point, in degrees, is straight there: sheet and saw cuts vary by as much."""


@value_class
class OpenGroup:
    """Open entries that one remedy closes."""

    question: Question
    remedy: Words
    entries: tuple[Open, ...]

    @property
    def reasons(self) -> tuple[Words, ...]:
        """Return why they are open, each reason once."""
        return tuple(dict.fromkeys(each.reason for each in self.entries))

    @property
    def names(self) -> tuple[str, ...]:
        """Return the subjects that are open, each once."""
        return tuple(dict.fromkeys(each.entry.subject.words for each in self.entries))


@value_class
class AcceptedEntry:
    """An open entry that the file accepts, and why: shown as accepted, never as judged."""

    entry: Open
    because: str


@value_class
class Ledger:
    """What became of everything that can fail.

    judged: entries that a row or a claim speaks of and nothing left open; open: what was not judged; accepted: what the file accepts.
    """

    judged: tuple[Entry, ...]
    open: tuple[Open, ...]
    accepted: tuple[AcceptedEntry, ...]

    @property
    def groups(self) -> tuple[OpenGroup, ...]:
        """Return the open entries by what would close them, in the order of the questions."""
        found: dict[tuple[Question, Words], list[Open]] = {}
        for each in self.open:
            found.setdefault((each.entry.question, each.closes), []).append(each)
        order = list(Question)
        grouped = (OpenGroup(question, remedy, tuple(each)) for (question, remedy), each in found.items())
        return tuple(sorted(grouped, key=lambda group: order.index(group.question)))


def ledger_of(case: Case, lines: Iterable[object], further: Iterable[Open] = ()) -> Ledger:
    """Return the ledger of a case from what the checks said of it; further: what is open for reasons outside the checks."""
    known = tuple(lines)
    by_thing = {(id(each.subject), each.check): each for each in known if isinstance(each, CheckResult)}  # few of very many rows
    claims = (each.entry for each in known if isinstance(each, Claim))
    claimed = dict.fromkeys((*(each.entry for each in by_thing.values()), *claims, *run_kinds(case), *measured_body(case)))
    said = [each for each in known if isinstance(each, Open)] + list(further) + list(doubts_of(case))
    listed = tuple(dict.fromkeys(entries(case)))
    spoken_of = claimed.keys() | {one.entry for one in said}
    unclaimed = [Open(each, UNJUDGED.get(each.question, NOTHING_JUDGED)) for each in listed if each not in spoken_of]
    still = tuple(dict.fromkeys((*said, *unclaimed)))
    accepted = tuple(AcceptedEntry(each, reason) for each in still if (reason := reason_to_accept(case.accepted, each)))
    taken = {each.entry for each in accepted}
    left = tuple(each for each in still if each not in taken)
    not_judged = {each.entry for each in still}
    judged = (*(each for each in listed if each in claimed), *claimed)
    return Ledger(tuple(each for each in dict.fromkeys(judged) if each not in not_judged), left, accepted)


def idle_acceptances(case: Case, ledger: Ledger) -> Iterator[Remark]:
    """Yield what the file accepts and is not open: misspelt, or judged by now."""
    for one in case.accepted:
        if not any(reason_to_accept((one,), each.entry) for each in ledger.accepted):
            yield Remark(f"accepted '{one.what}'", "nothing of that name is open: look at its words, or leave it out")


def doubts_of(case: Case) -> Iterator[Open]:
    """Yield what the file says and may not mean: the answer holds for what is written."""
    for each in case.doubts:
        entry = asked(Thing.STATEMENT, each.subject, Question.UNSAID if each.is_default else Question.DOUBT)
        yield Open(entry, f"{each.place}: {each.what}", each.remedy)


def reason_to_accept(accepted: Iterable[Accepted], each: Open) -> str:
    """Return why the file accepts an open entry, "" where it does not."""
    for one in accepted:
        title, _, name = one.what.partition(":")
        if title.strip() == each.entry.question.title and name.strip() in ("", each.entry.subject.words):
            return one.because
    return ""


# what can fail --------------------------------------------------------------------------------------------------------


def entries(case: Case) -> Iterator[Entry]:
    """Yield everything in a case that can fail."""
    for member in case.frame.members:
        yield from of_member(case, member)
    yield from of_kinks(case.frame)
    yield from of_member_ends(case.frame)
    yield from (asked(Thing.SPLICE, splice.name, Question.SPLICE) for splice in case.frame.splices)
    yield from of_panels(case.frame)
    yield from of_points(case)
    yield from of_joints(case)
    yield from of_vehicle(case)
    yield from of_load_kinds(case)
    yield from of_life(case)
    yield asked(Thing.FRAME, "frame", Question.FRAME_BUCKLING)


def of_member(case: Case, member: Member) -> Iterator[Entry]:
    """Yield what can fail along a member."""
    questions = [Question.YIELD, Question.LOCAL_BUCKLING, Question.MEMBER_BUCKLING]
    shapes = [case.frame.sections[each.section].shape for each in member.stretches]
    questions += [Question.DISTORTION] if any(lips_of(shape) is not Lips.NONE for shape in shapes) else []
    rare = case.strength.rare or tuple(case.targets.per_load_case)
    questions += [Question.PERMANENT_SET] if rare else []
    yield from (asked(Thing.MEMBER, member.name, question) for question in questions)
    yield from (asked(Thing.CUT, member.name, Question.NOTCH, cut.name) for cut in member.cuts)
    for before, after in pairwise(member.stretches):
        if not is_one_taper(case.frame, before.section, after.section):
            part = f"{before.section} to {after.section}"
            yield asked(Thing.SECTION_CHANGE, member.name, Question.SECTION_CHANGE, part)
    for name in dict.fromkeys(each.section for each in member.stretches):
        shape = case.frame.sections[name].shape
        if is_built_up(shape):
            yield asked(Thing.SEAM, member.name, Question.SEAM, name)
        if any(isinstance(each, Drilled) for each in shapes_within(shape)):
            yield asked(Thing.MEMBER, member.name, Question.HOLE, name)


def is_one_taper(frame: Frame, first: str, second: str) -> bool:
    """Return whether two sections are steps of one taper."""
    families = {frame.sections[name].family for name in (first, second)}
    return first == second or (len(families) == 1 and families != {""})


def of_kinks(frame: Frame) -> Iterator[Entry]:
    """Yield where a member, or one that runs on from it, changes its direction, and ends that may be mitred to others."""
    turns = ((kink.name, kink.point) for kink in filter(is_kinked, (*kinks_of(frame), *star_mitres(frame))))
    for name, point in (*turns, *crowded_ends(frame)):
        yield asked(Thing.KINK, name, Question.KINK, point)


def is_kinked(kink: Kink) -> bool:
    """Return whether a turn is one to be judged."""
    return degrees(kink.turn) > STRAIGHT


def kinks(frame: Frame, member: Member) -> Iterator[str]:
    """Yield the inner points at which a member changes its direction."""
    for kink in filter(is_kinked, kinks_of(frame)):
        if all(frame.members[side.member] is member for side in kink.sides):
            yield kink.point


def ends_at(frame: Frame) -> Mapping[str, list[tuple[Member, Terminal]]]:
    """Return the member ends at each point."""
    found: dict[str, list[tuple[Member, Terminal]]] = {}
    for member in frame.members:
        found.setdefault(member.points[0], []).append((member, Terminal.START))
        found.setdefault(member.points[-1], []).append((member, Terminal.END))
    return found


def of_member_ends(frame: Frame) -> Iterator[Entry]:
    """Yield the wall under each member end that stands on another member, its weld or bolts, and splices of two ends."""
    through = {point for member in frame.members for point in member.points[1:-1]}
    for point, ends in ends_at(frame).items():
        if len(ends) == 2 and point not in through:
            yield asked(Thing.SPLICE, " to ".join(sorted(member.name for member, _ in ends)), Question.SPLICE, point)
        elif len(ends) > 1 or point in through:
            for member, _ in ends:
                yield asked(Thing.MEMBER_END, member.name, Question.FACE, point)
                yield asked(Thing.MEMBER_END, member.name, Question.FASTENING, point)


def of_panels(frame: Frame) -> Iterator[Entry]:
    """Yield the sheet of every panel, and what joins it to the frame; strength and stiffness of a body that is stated alone."""
    if frame.body is not None:
        yield from (asked(Thing.PANEL, STATED_BODY, each) for each in (Question.PANEL, Question.BODY))
    for panel in frame.panels:
        yield asked(Thing.PANEL, panel.name, Question.PANEL)
        yield asked(Thing.PANEL_SEAM, panel.name, Question.PANEL_SEAM)


def of_points(case: Case) -> Iterator[Entry]:
    """Yield the wall and the fastening of every bracket: a point at which something outside the frame pulls."""
    for point in dict.fromkeys(attached_points(case)):
        yield asked(Thing.POINT, point, Question.ATTACHED_WALL)
        yield asked(Thing.POINT, point, Question.ATTACHED_BY)


def attached_points(case: Case) -> Iterator[str]:
    """Yield the points at which masses, mounts, suspension, straps, supports, written forces and load cases act."""
    yield from (mount.point for body in case.frame.stiff_bodies for mount in body.mounts)
    yield from (support.point for support in case.frame.supports)
    yield from (support.point for loads in case.written_loads for support in loads.supports or ())
    yield from (point for spring in case.frame.springs for point in spring.points)
    yield from (load.point for loads in case.written_loads for load in loads.point_loads)
    if case.gear is not None:
        yield from (point for part in (*case.gear.masses, case.gear.coupling) if part is not None for point in part.on)
        yield from (point for each in case.gear.axles for wheel in (each.axle.left, each.axle.right) for point in wheel.on)
    vehicle = case.vehicle
    if vehicle is None:
        return
    yield from (point for mass in vehicle.masses for point in mass.on)
    yield from (point for axle in vehicle.axles for wheel in (axle.left, axle.right) for point in wheel.on)
    yield from (damper.bracket.point for axle in vehicle.axles for damper in axle.dampers or ())
    yield from (strap.point for strap in vehicle.straps)
    yield from () if vehicle.steering is None else vehicle.steering.on
    if vehicle.driveline is not None:
        yield from vehicle.driveline.mounts
        yield from (point for drive in vehicle.driveline.final_drives for point in drive)
    yield from load_points(case)


def load_points(case: Case) -> Iterator[str]:
    """Yield the points that load cases name: jacks, stones, ropes."""
    for each in case.load_cases:
        for named in (each.factors.get("point"), each.factors.get("points")):
            words = named if isinstance(named, tuple) else (named,)
            yield from (point for point in words if isinstance(point, str) and point in case.frame.points)


def of_joints(case: Case) -> Iterator[Entry]:
    """Yield the joints and plates that the case describes."""
    yield from (asked(Thing.JOINT, joint.name, Question.JOINT) for joint in case.joints)
    clamped = (joint.name for joint in case.joints if getattr(joint, "tube", None) is not None)
    yield from (asked(Thing.JOINT, name, Question.CLAMPED_TUBE) for name in clamped)
    yield from (asked(Thing.HOLE, member.name, Question.HOLE, group.name) for group, member in drilled(case))
    for plate in case.plates:
        yield asked(Thing.PLATE, plate.name, Question.PLATE)
        yield from (asked(Thing.PLATE, plate.name, Question.PLATE, f"bolt {bolt.name}") for bolt in plate.bolts)


def of_vehicle(case: Case) -> Iterator[Entry]:
    """Yield clearances and straps."""
    if case.vehicle is not None:
        yield from (asked(Thing.CLEARANCE, each.name, Question.CLEARANCE) for each in case.vehicle.clearances)
        yield from (asked(Thing.STRAP, each.name, Question.STRAP) for each in case.vehicle.straps)


def of_load_kinds(case: Case) -> Iterator[Entry]:
    """Yield every kind of load case that the file's data could run."""
    if case.vehicle is not None or case.gear is not None:
        yield from (asked(Thing.LOAD_KIND, kind, Question.LOAD_CASE) for kind in runnable_kinds(case))


def run_kinds(case: Case) -> Iterator[Entry]:
    """Yield the kinds of load case that are run."""
    yield from (asked(Thing.LOAD_KIND, each.kind, Question.LOAD_CASE) for each in case.load_cases)
