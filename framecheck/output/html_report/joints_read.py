"""The joints of the case in words: what each holds, and what the file says of how it is made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import singledispatch
from math import dist, inf

from framecheck.model.arrays import Vector
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd
from framecheck.model.joining import Cap, EndFinish, Splice
from framecheck.model.joints import AtMemberEnd, AtPoint, Bolt, BoltGroup, InSplice, PinnedSleeve, Place, Ply
from framecheck.model.shop_tables import Material
from framecheck.model.weld_joints import Bracket, Direction, Joint, SpotGroup, Stitch, WeldedOn, WeldedPart, WeldGroup
from framecheck.output.display import Units, number, with_unit
from framecheck.output.html_report.inputs import SIX
from framecheck.output.html_report.tables import HtmlTable, words
from framecheck.run import Results

OPEN = "left open: solved as butt-welded and as rigid"
NOTHING = "a free end: no other member is there"
MADE = {
    Make.UNSAID: OPEN,
    Make.RIGID: "rigid",
    Make.BUTT: "butt-welded on one face of the wall",
    Make.THROUGH: "passed through both faces and welded to both",
    Make.THROUGH_ONE: "passed through the near face and welded to it",
    Make.WEB_AND_FLANGES: "welded to the web and to both flanges",
    Make.ON_TOP: "laid across the top wall",
    Make.UNDERNEATH: "slung under the bottom wall",
    Make.ON_PLATE: "on a plate between, taken from soft to rigid",
    Make.BOLTED: "by a bolted flange, taken from soft to rigid",
    Make.GUSSETED: "with gussets",
    Make.FLANGES: "flange to flange",
    Make.PINNED: "pinned: passes on no moment",
}
WARPS = {
    EndWarping.FREE: "its warping free",
    EndWarping.FIXED: "its warping held",
    EndWarping.CONTINUOUS: "its warping passed on",
}
NAMES = ("along", "sideways", "vertically", "about its length", "bending vertically", "bending sideways")
NEAR = 1e-9
SLACK = 1e-6
"""m, on the length of a splice."""


def described(results: Results, units: Units) -> HtmlTable:
    """Return every joint that is checked, in words."""
    rows = tuple(
        (joint.name, kind_of(joint), placed(joint, results.outcome.case.frame), "; ".join(said(joint, units)))
        for joint in results.outcome.case.joints
    )
    return HtmlTable("Joints that are checked, as described", words("joint", "kind", "where", "in words"), rows)


def member_ends(results: Results, units: Units) -> HtmlTable:
    """Return how each end of each member is held, in words."""
    frame = results.outcome.case.frame
    rows = tuple(
        (member.name, which, point, *met_and_made(frame, member, point, end, units))
        for member in frame.members
        for which, point, end in (
            ("first", member.points[0], member.start),
            ("last", member.points[-1], member.end),
        )
    )
    return HtmlTable("Member ends as described", words("member", "end", "at point", "meets", "how it is made"), rows)


def met_and_made(frame: Frame, member: Member, point: str, end: MemberEnd, units: Units) -> tuple[str, str]:
    """Return what a member's end meets, and how it is made: in a splice, on other members, or free."""
    splice = next((each for each in frame.splices if member.name in each.members and lies_in(frame.points[point], each)), None)
    if splice is not None:
        other = next(name for name in splice.members if name != member.name)
        return other, f"{'end to end' if splice.butts else 'lapped'}, in the splice '{splice.name}': see the joints below"
    met = ", ".join(meets(frame, member, point))
    return (met, end_in_words(end, units)) if met else ("nothing", f"{NOTHING}{finished(end.cap, units)}")


def lies_in(point: Vector, splice: Splice) -> bool:
    """Return whether a member's end lies in a splice, along it."""
    off = sum((a - b) * c for a, b, c in zip(point, splice.middle, splice.axes[0], strict=True))
    return abs(off) <= splice.length / 2 + SLACK


def finished(cap: Cap, units: Units) -> str:
    """Return how a free end is finished, "" where the file does not say."""
    plate = f", closed by a plate of {with_unit(cap.thickness, 'size', units)}"
    return {
        EndFinish.UNSAID: "",
        EndFinish.OPEN: ", open",
        EndFinish.RUNS_ON: ", where the tube runs on",
        EndFinish.PLATE: plate,
    }[cap.finish]


def meets(frame: Frame, member: Member, point: str) -> Iterator[str]:
    """Yield the names of the other members through a point or at its place, and what holds the point to the ground."""
    here = frame.points[point]
    for other in frame.members:
        if other is not member and any(dist(frame.points[each], here) < NEAR for each in other.points):
            yield other.name
    if any(support.point == point for support in frame.supports):
        yield "the ground"


def end_in_words(end: MemberEnd, units: Units) -> str:
    """Return how a member's end is made."""
    made = springs(end, units) if end.make is Make.GIVEN else ", ".join((MADE[end.make], *details(end, units)))
    if end.warping is EndWarping.SPRING:
        return f"{made}; its warping on a spring"
    return f"{made}; {WARPS[end.warping]}" if end.warping in WARPS else made


def details(end: MemberEnd, units: Units) -> Iterator[str]:
    """Yield what else is said of how an end is made."""
    if end.welded:
        yield f"welded on {', '.join(side.value for side in end.welded)} alone"
    pair = end.gussets
    if pair is not None:
        legs, wall = (with_unit(each, "length", units) for each in (pair.along_rail, pair.along_member)), pair.thickness
        where = pair.place.value if pair.height is None else f"{with_unit(pair.height, 'length', units)} above its middle"
        yield f"two gussets, {' by '.join(legs)} by {with_unit(wall, 'length', units)}, {where}"
    elif end.make is Make.GUSSETED:
        yield "their sizes not said: solved from butt-welded to rigid"


def springs(end: MemberEnd, units: Units) -> str:
    """Return the given stiffness of an end, direction by direction; what is rigid is left out."""
    parts = [
        f"{name} {'free' if value == 0 else with_unit(value, kind, units)}"
        for name, value, kind in zip(NAMES, end.stiffness or (), SIX, strict=False)
        if value != inf
    ]
    return f"springs as given: {', '.join(parts)}" if parts else "rigid as given"


def kind_of(joint: Joint) -> str:
    """Return what kind of joint it is."""
    match joint:
        case BoltGroup():
            return "bolts"
        case PinnedSleeve():
            return "pinned sleeve"
        case WeldGroup():
            return "welds"
        case Stitch():
            return "stitch weld"
        case SpotGroup():
            return f"{joint.kind.value}s"
        case Bracket():
            return "bracket on a wall"


def placed(joint: Joint, frame: Frame) -> str:
    """Return where a joint sits."""
    return f"along {joint.member}" if isinstance(joint, Stitch) else place_in_words(joint.place, frame)


def place_in_words(place: Place, frame: Frame) -> str:
    """Return a place: a member's end with its point, a frame point, or loads of its own."""
    match place:
        case AtMemberEnd():
            member = next((each for each in frame.members if each.name == place.member), None)
            at = "" if member is None else f", at {member.points[0 if place.end.value == 'start' else -1]}"
            return f"{'first' if place.end.value == 'start' else 'last'} end of {place.member}{at}"
        case AtPoint():
            return f"point {place.point}"
        case InSplice():
            return f"splice {place.splice}"
        case _:
            return "loads written in the file"


@singledispatch
def said(joint: Joint, units: Units) -> Iterator[str]:
    """Yield what the file says of a joint, phrase by phrase."""
    raise TypeError(f"no words for {type(joint).__name__}")


@said.register
def _(joint: BoltGroup, units: Units) -> Iterator[str]:
    yield f"{len(joint.positions)} bolts {bolt_in_words(joint.bolt, units)}"
    yield from plies(joint.plies, units)
    if joint.tube is not None:
        wall = with_unit(joint.tube.wall, "size", units)
        yield f"through a tube with a wall of {wall}, {'with' if joint.tube.sleeve else 'without'} a crush sleeve"
    yield "prying as written" if joint.prying else "prying by the plates' own size"
    yield from shared(joint.shares_with)


@said.register
def _(joint: PinnedSleeve, units: Units) -> Iterator[str]:
    yield f"{joint.bolts} bolts through both tubes, {bolt_in_words(joint.bolt, units)}"
    yield from plies(joint.walls, units)
    fit = "not given" if joint.clearance is None else f"{with_unit(joint.clearance, 'size', units)} on each side"
    yield f"play of the fit {fit}"


@said.register
def _(joint: WeldGroup, units: Units) -> Iterator[str]:
    length = sum(dist(run.start, run.end) for run in joint.runs)
    legs = sorted({run.leg for run in joint.runs})
    yield f"{len(joint.runs)} fillets, {with_unit(length, 'size', units)} in all, leg {lengths(legs, units)}"
    on = joint.on or (WeldedOn.TUBE_END if joint.ends_a_tube else WeldedOn.PLATES)
    yield f"{joint.electrode.name} filler, on {on.value}"
    yield from welded(joint.parts, units)
    yield f"growth of strength with the load's angle {'counted' if joint.direction is Direction.COUNTED else 'not counted'}"
    yield from shared(joint.shares_with)


@said.register
def _(joint: Stitch, units: Units) -> Iterator[str]:
    length, pitch, leg = (with_unit(each, "size", units) for each in (joint.length, joint.pitch, joint.leg))
    yield f"{joint.seams} seams of fillets {length} long every {pitch}, leg {leg}, {joint.electrode.name} filler"
    yield f"loaded by shear {joint.way.value}"
    yield from welded(joint.parts, units)
    yield from shared(joint.shares_with)


@said.register
def _(joint: SpotGroup, units: Units) -> Iterator[str]:
    yield f"{len(joint.positions)} spots of {with_unit(joint.diameter, 'size', units)}, {joint.electrode.name} filler"
    yield from welded(joint.parts, units)


@said.register
def _(joint: Bracket, units: Units) -> Iterator[str]:
    wide, long, wall = (with_unit(each, "size", units) for each in (joint.width, joint.length, joint.member.wall))
    yield f"pad {wide} wide and {long} long on the face of a {joint.member.kind.value}, wall {wall}, {joint.member.material.name}"
    yield f"doubler of {with_unit(joint.doubler, 'size', units)}" if joint.doubler > 0 else "no doubler"


def bolt_in_words(bolt: Bolt, units: Units) -> str:
    """Return a bolt with its hole, its threads, how it is tightened."""
    tightened = (
        "not tightened to a known share" if bolt.clamp_share is None else f"to {100 * bolt.clamp_share:.0f} % of proof"
    )
    faces = "" if bolt.surface is None else f", faces {bolt.surface.name}"
    return (
        f"{bolt.thread.name} {bolt.grade.name} in holes of {with_unit(bolt.hole, 'size', units)}, "
        f"{'one shear plane' if bolt.shear_planes == 1 else f'{bolt.shear_planes} shear planes'}, threads {bolt.threads.value}, "
        f"{tightened}{faces}"
    )


def plies(parts: Iterable[Ply], units: Units) -> Iterator[str]:
    """Yield each part that bolts hold."""
    for part in parts:
        edge = "" if part.edge is None else f", edge at {with_unit(part.edge, 'size', units)}"
        share = "" if part.share == 1 else f", {number(part.share, 2)} of the force"
        yield f"{metal(part.name, part.thickness, part.material, units)}{edge}{share}"


def welded(parts: Iterable[WeldedPart], units: Units) -> Iterator[str]:
    """Yield each part that is welded."""
    for part in parts:
        yield f"{metal(part.name, part.thickness, part.material, units)}, weld {part.weld_at.value}"


def metal(name: str, thickness: float, material: Material, units: Units) -> str:
    """Return a part with its thickness and its metal."""
    return f"{name} {with_unit(thickness, 'size', units)} {material.name}"


def lengths(values: Iterable[float], units: Units) -> str:
    """Return lengths, smallest first."""
    return " and ".join(with_unit(each, "size", units) for each in values)


def shared(name: str | None) -> Iterator[str]:
    """Yield the joint that shares the load, where one is named."""
    if name:
        yield f"shares its load with {name}"
