"""What a file leaves out where no check would miss it: half a joint, sides, load cases that could not be run, walls that do not
count.
"""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.frame.geometry import point_stations
from framecheck.frame.joints import flanged_seats, meetings_of
from framecheck.model.case import Case, LoadCase
from framecheck.model.frame import Frame, Make, Member
from framecheck.model.joining import LapHold
from framecheck.model.joints import Ply
from framecheck.model.shapes import RectTube, Sleeve
from framecheck.model.weld_joints import WeldedPart
from framecheck.results.ledger import kinks
from framecheck.results.subjects import Open, Question, Remark, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.vehicle.load_cases import NotRun, missing_data, one_sided

REACH = 1e-3
"""How near to a detail a place counts as covered by it, m."""


def left_out(outcome: SolvedCase) -> Iterator[Open]:
    """Yield what the file leaves out."""
    case = outcome.case
    yield from half_joints(case)
    yield from flanges(case.frame)
    yield from left_of_splices(case.frame)
    yield from telescoped(case.frame)
    yield from places_without_detail(case)


def left_of_splices(frame: Frame) -> Iterator[Open]:
    """Yield what of splices is not given or not judged: the leg of their welds, bending across of walls in a lap, play of bolts."""
    for splice in frame.splices:
        if splice.leg is None and (splice.plates or set(splice.holds) - {LapHold.BEARING}):
            reason = "the leg of its welds is not given: they were judged as fillets as thick as the thinnest part"
            yield left_open(Thing.SPLICE, splice.name, Question.SPLICE, reason, "leg", "write its `leg`")
        if not splice.butts and LapHold.MOUTH not in splice.holds:
            reason = "how its walls bend across, where the lap pulls their outline out of shape, is not judged"
            yield left_open(Thing.SPLICE, splice.name, Question.SPLICE, reason, "walls in the lap", "ask an engineer")
        if splice.bolt is not None and splice.bolt.clamp is None:
            reason = "the frame is solved as if its bolts did not move in their holes: they are not tightened to a known clamp"
            yield left_open(Thing.SPLICE, splice.name, Question.JOINT_STIFFNESS, reason, "play", "write the bolts' `clamp share`")


def telescoped(frame: Frame) -> Iterator[Open]:
    """Yield the lengths where a member goes over from one tube to another within it: they were taken as one piece all along."""
    for member in frame.members:
        names = [each.section for each in member.stretches]
        for before, name, after in zip(names, names[1:], names[2:], strict=False):
            shape = frame.sections[name].shape
            if isinstance(shape, Sleeve) and {frame.sections[each].shape for each in (before, after)} == {shape.outer, shape.core}:
                reason = "taken as welded all along: held by plugs, bolts or at one end alone it twists up to 1.5 times as far"
                remedy = "draw both tubes as members that lap, and write `splices`"
                yield left_open(Thing.SECTION_CHANGE, member.name, Question.JOINT_STIFFNESS, reason, name, remedy)


def half_joints(case: Case) -> Iterator[Open]:
    """Yield the joints of which the file gives one part alone: bearing, tear-out and wall of the other are not asked for."""
    for joint in case.joints:
        parts: tuple[Ply | WeldedPart, ...] = getattr(joint, "plies", getattr(joint, "parts", ()))
        if len(parts) == 1:
            reason = f"it holds '{parts[0].name}' to something that the file does not give"
            yield left_open(Thing.JOINT, joint.name, Question.JOINT, reason, "the other part", "write the other part too")


def ends_on(frame: Frame, rail: Member) -> Iterator[tuple[Member, str]]:
    """Yield the members that end on a rail, and the points."""
    for member in frame.members:
        if member is not rail:
            yield from ((member, point) for point in (member.points[0], member.points[-1]) if point in rail.points)


def flanges(frame: Frame) -> Iterator[Open]:
    """Yield the ends with a flange that meets no other member: what it is bolted to is not known, it was taken as rigid."""
    met = {**meetings_of(frame), **flanged_seats(frame)}
    for number, member in enumerate(frame.members):
        for end, made, point in ((0, member.start, member.points[0]), (1, member.end, member.points[-1])):
            if made.make is Make.FLANGES and (number, end) not in met:
                reason = "a flange that meets no other member: taken as rigid, not modelled"
                yield left_open(Thing.MEMBER_END, member.name, Question.JOINT_STIFFNESS, reason, point)


def places_without_detail(case: Case) -> Iterator[Open]:
    """Yield, under a duty, the kinks, changes of section and feet of other members that no fatigue detail covers."""
    asked = case.fatigue
    if asked is None:
        return
    for member in case.frame.members:
        spans = [(each.start, each.end) for each in asked.details if each.member == member.name and each.cut is None]
        for name, station in welded_places(case.frame, member):
            if not any(start - REACH <= station <= end + REACH for start, end in spans):
                reason = "no fatigue detail covers it"
                yield left_open(Thing.PLACE, member.name, Question.FATIGUE, reason, name, "write a detail at each")
    for splice in case.frame.splices:
        for name in splice.members:
            if not any(each.member == name and splice.name in each.name for each in asked.details):
                reason = f"no fatigue detail covers what splice '{splice.name}' does to it"
                yield left_open(Thing.PLACE, name, Question.FATIGUE, reason, splice.name, "write a detail that names the splice")


def welded_places(frame: Frame, member: Member) -> Iterator[tuple[str, float]]:
    """Yield the places of a member that are, or may be, welded: name and station, m."""
    stations = dict(zip(member.points, point_stations(frame, member), strict=True))
    welded = {*(point for _, point in ends_on(frame, member)), *kinks(frame, member)}
    for point in member.points:
        if point in welded:
            yield point, stations[point]
    for stretch in member.stretches[:-1]:
        yield f"the end of {stretch.section}", stretch.until


GEAR_LACKS = ("curb strike sideways", "curb strike head-on", "pothole under braking", "jacked at a point")


def sides_left_out(case: Case) -> Iterator[Open]:
    """Yield the load cases of which the file leaves out a side."""
    yield from (side_left_out(each) for each in one_sided(case))


def not_built(case: Case) -> Iterator[Open]:
    """Yield the usual kinds of load whose data the file lacks, and the hard ones that a running gear does not make by itself."""
    for kind, remedy in missing_data(case).items():
        yield left_open(Thing.LOAD_KIND, kind, Question.LOAD_CASE, f"data are lacking: {remedy}")
    for kind in () if case.gear is None else GEAR_LACKS:
        reason, remedy = "a running gear does not make it by itself", "write it force by force"
        yield left_open(Thing.LOAD_KIND, kind, Question.LOAD_CASE, reason, remedy=remedy)


def side_left_out(load_case: LoadCase) -> Open:
    """Return that a load case is run on one side only."""
    side = "" if load_case.side is None else f" ({load_case.side.value})"
    return left_open(Thing.LOAD_CASE, load_case.name, Question.ONE_SIDE, f"the file says its side{side}, so the other one is not run")


def not_worked_out(found: NotRun) -> Open:
    """Return that a load case which runs by default could not be made from the file's data."""
    reason = f"it could not be worked out: {found.reason}"
    remedy = "mend what it says, or write 'load cases' without it"
    return left_open(Thing.LOAD_CASE, found.load_case.name, Question.LOAD_CASE, reason, remedy=remedy)


def walls_as_written(case: Case) -> Iterator[Remark]:
    """Yield a remark for every tube that may be described by its nominal wall (A500: the design wall is 0.93 of it)."""
    for name, section in case.frame.sections.items():
        if section.material.design_share < 1.0 and section.sold is None and isinstance(section.shape, RectTube):
            yield Remark(
                f"section '{name}'",
                f"its wall counts as the file writes it; if that is the nominal wall of {section.material.name}, write `design share: "
                f"{section.material.design_share:g}`: a mill may deliver a thinner one",
            )
