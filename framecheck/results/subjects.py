"""What can fail, and how it may: the subjects of a case, the questions asked of them, which members bolts go through."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from itertools import pairwise

from framecheck.frame.joints import seats_of
from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import AtMemberEnd, AtPoint, BoltGroup, InSplice, Terminal
from framecheck.model.said import Words
from framecheck.model.weld_joints import Bracket, WeldGroup
from framecheck.value_class import value_class


class Thing(Enum):
    """What kind of thing a row or a ledger entry speaks of."""

    __hash__ = object.__hash__  # by what it is: Enum hashes its name anew each time, and there may be a million look-ups

    MEMBER = "member"
    MEMBER_END = "member end"
    POINT = "frame point"
    KINK = "kink"
    PLACE = "place on a member"
    SPLICE = "splice"
    SECTION_CHANGE = "change of section"
    SEAM = "seam"
    CUT = "notch"
    HOLE = "hole"
    PLATE = "skid plate"
    PANEL = "panel"
    PANEL_SEAM = "seam of a panel"
    JOINT = "joint"
    DETAIL = "fatigue detail"
    STRAP = "strap"
    CLEARANCE = "clearance"
    LOAD_CASE = "load case"
    LOAD_KIND = "kind of load case"
    FRAME = "frame"
    DEFAULT = "default"
    STATEMENT = "statement of the file"


@value_class
class Subject:
    """One thing of the case: its kind, the name it has in the file, and the part of it that is meant ("" for the whole)."""

    thing: Thing
    name: str
    part: str = ""

    @property
    def words(self) -> str:
        """Return the subject as people read it."""
        if not self.part:
            return self.name
        if self.thing is Thing.DETAIL and self.name in self.part:
            return self.part
        if self.thing in (Thing.MEMBER_END, Thing.KINK, Thing.PLACE):
            return f"{self.name} at {self.part}"
        return f"{self.name}: {self.part}" if self.thing in (Thing.CUT, Thing.SEAM) else f"{self.name}, {self.part}"


class Question(Enum):
    """What is asked of a subject: (what it is called where it is left open, what would close it)."""

    __hash__ = object.__hash__  # by what it is: Enum hashes its name anew each time, and there may be a million look-ups

    DOUBT = ("statements that may contradict each other", "mend or accept each")
    ENGINE = ("sections by thin-wall theory", "install the mesher, or accept it")
    LOAD_CASE = ("load cases not run", "add them under `load cases`")
    ONE_SIDE = ("load cases run on one side only", "write the other side too, or name no side")
    YIELD = ("yield of members", "give the section as a shape")
    LOCAL_BUCKLING = ("local buckling of members", "give it as flat walls or a round tube")
    MEMBER_BUCKLING = ("buckling of members", "use another section, or ask an engineer")
    DISTORTION = ("distortional buckling of lips", "use a plain bent sheet, or ask an engineer")
    PERMANENT_SET = ("permanent set in rare load cases", "ask for first yield alone")
    FRAME_BUCKLING = ("buckling of the frame as a whole", "ask an engineer")
    SECOND_ORDER = ("large movements", "stiffen the frame, or ask an engineer")
    FACE = ("walls under member ends", "write a `bracket` joint at each")
    FASTENING = ("welds or bolts of member ends", "write a `welds` or `bolts` joint")
    ATTACHED_WALL = ("walls under brackets and mounts", "write a `bracket` joint")
    ATTACHED_BY = ("welds or bolts of brackets and mounts", "write a `welds` or `bolts` joint")
    KINK = ("kinks of members", "ask an engineer, or accept with a reason")
    SPLICE = ("splices of members", "write `splices`, or each as a `welds` or `bolts` joint")
    SECTION_CHANGE = ("changes of section", "write a fatigue detail, or accept with a reason")
    SEAM = ("seams of built-up sections", "write the leg, or the bolts' or spots' size")
    NOTCH = ("notches", "give its corner radius, and a section as a shape")
    HOLE = ("holes in members", "give the section as a shape")
    JOINT = ("joints", "write the sizes that the joint leaves out")
    CLAMPED_TUBE = ("tubes that bolts clamp through", "write how far the bolts are tightened")
    PLATE = ("skid plates", "write what the plate leaves out")
    PANEL = ("panels of sheet", "ask an engineer, or accept with a reason")
    BODY = ("stiffness of a stated body", "measure it: framecheck test, --fit")
    PANEL_SEAM = ("seams of panels", "write each panel's `seam`")
    FATIGUE = ("fatigue", "write `fatigue:` with a duty and details")
    CLEARANCE = ("clearances", "write the gap and the least that should be left")
    STRAP = ("straps", "write each strap's `working load limit`")
    JOINT_STIFFNESS = ("joints that no model covers", "write the end's springs, or accept")
    UNSAID = ("values taken by default", "write them in the file, or accept")

    @property
    def title(self) -> str:
        """Return what is open, in words; a file may accept it by this name."""
        return self.value[0]

    @property
    def remedy(self) -> str:
        """Return what would have it judged."""
        return self.value[1]


@value_class
class Entry:
    """One line of the ledger: a question asked of a subject."""

    subject: Subject
    question: Question


@value_class
class Open:
    """An entry, or a part of it, that was not judged: why, and what to write to have it judged."""

    entry: Entry
    reason: Words
    remedy: Words = ""

    @property
    def closes(self) -> Words:
        """Return what would close it."""
        return self.remedy or self.entry.question.remedy


@value_class
class Claim:
    """An entry that a check has judged, where no row speaks of that entry itself."""

    entry: Entry


@value_class
class Remark:
    """Something a reader should know that leaves nothing open: a value taken on the unfavourable side, a limit of every answer."""

    subject: str
    reason: str


def asked(thing: Thing, name: str, question: Question, part: str = "") -> Entry:
    """Return the entry of a question about a thing."""
    return Entry(Subject(thing, name, part), question)


def left_open(thing: Thing, name: str, question: Question, reason: Words, part: str = "", remedy: Words = "") -> Open:
    """Return that a question about a thing was not judged."""
    return Open(asked(thing, name, question, part), reason, remedy)


SEEN_AS_DETAILS = (WeldGroup, Bracket)
"""Joints whose fatigue is asked of a detail: a weld group's throats, the member's wall under a bracket."""


def of_life(case: Case) -> Iterator[Entry]:
    """Yield details, walls under member ends, joints and seams that may crack; the life of the frame where no duty is given."""
    if case.fatigue is None:
        yield asked(Thing.FRAME, "life of the frame", Question.FATIGUE)
        return
    yield from (asked(Thing.DETAIL, each.member, Question.FATIGUE, each.name) for each in case.fatigue.details)
    yield from (asked(Thing.DETAIL, each.weld, Question.FATIGUE, each.name) for each in case.fatigue.welds)
    members = case.frame.members
    for number, end in seats_of(case.frame):
        yield asked(Thing.MEMBER_END, members[number].name, Question.FATIGUE, members[number].points[-end])
    yield from (holes_asked(group, member) for group, member in drilled(case) if not isinstance(group.place, InSplice))
    yield from (asked(Thing.SEAM, each.member, Question.FATIGUE, each.section) for each in case.fatigue.seams)
    yield from (asked(Thing.JOINT, joint.name, Question.FATIGUE) for joint in case.joints if not isinstance(joint, SEEN_AS_DETAILS))


ACROSS = 0.5
"""The largest cosine of the angle between a bolt and a member that it goes through: bolts nearer to its direction hold a plate on
its end."""


def drilled(case: Case) -> Iterator[tuple[BoltGroup, Member]]:
    """Yield every bolt group with each member at its place that its bolts stand across."""
    for joint in case.joints:
        if isinstance(joint, BoltGroup):
            yield from (
                (joint, member)
                for member in case.frame.members
                if (point := seat_on(case.frame, joint, member)) is not None and stands_across(case.frame, joint, member, point)
            )


def holes_asked(group: BoltGroup, member: Member) -> Entry:
    """Return the question how long a member lasts at the holes of its bolts."""
    return asked(Thing.HOLE, member.name, Question.FATIGUE, group.name)


def seat_on(frame: Frame, joint: BoltGroup, member: Member) -> str | None:
    """Return the point of a member at which bolts sit; None where they do not sit on it."""
    if isinstance(joint.place, InSplice):
        return dict(joint.place.points).get(member.name)
    point = seat_of(frame, joint)
    return point if point in member.points else None


def middle_of(frame: Frame, joint: BoltGroup) -> Vector:
    """Return the place that a pattern of bolts is counted from, m, vehicle axes."""
    return joint.place.middle if isinstance(joint.place, InSplice) else frame.points[seat_of(frame, joint) or ""]


def seat_of(frame: Frame, joint: BoltGroup) -> str | None:
    """Return the frame point that bolts sit at; None where their loads are given."""
    match joint.place:
        case AtPoint(point):
            return point
        case AtMemberEnd(name, end):
            member = next((each for each in frame.members if each.name == name), None)
            return None if member is None else member.points[0 if end is Terminal.START else -1]
    return None


def stands_across(frame: Frame, joint: BoltGroup, member: Member, point: str) -> bool:
    """Return whether bolts stand across a member at one of its points."""
    return all(abs(dot(leg, joint.plane.facing)) <= ACROSS for leg in legs(frame, member, point))


def legs(frame: Frame, member: Member, point: str) -> tuple[Vector, ...]:
    """Return the unit directions of the one or two straight lengths of a member that meet at one of its points."""
    number = member.points.index(point)
    names = member.points[max(number - 1, 0) : number + 2]
    return tuple(direction(frame.points[first], frame.points[second]) for first, second in pairwise(names))


def direction(start: Vector, end: Vector) -> Vector:
    """Return the unit vector from one place to another."""
    x, y, z = (b - a for a, b in zip(start, end, strict=True))
    size = dot((x, y, z), (x, y, z)) ** 0.5
    return x / size, y / size, z / size


def dot(first: Vector, second: Vector) -> float:
    """Return the scalar product."""
    return sum(a * b for a, b in zip(first, second, strict=True))
