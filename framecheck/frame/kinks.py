"""Where members turn, how each turn is made or may be made, and what one leg of it gives. SI."""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from functools import lru_cache
from itertools import chain
from math import acos, atan2, cos, inf, pi, sin, tan

import numpy as np

from framecheck.frame.geometry import MemberRun, OneFrame, RunLeg, cross, lengths, point_stations, runs_of
from framecheck.frame.joint.data import DISTANCES, CornerGive, KinkLeg, Row
from framecheck.frame.joint_faces import drawn_axes
from framecheck.frame.joints import seats_of
from framecheck.frame.number_cache import NumberStore, kept_numbers
from framecheck.frame.stand_in import as_rail
from framecheck.model.arrays import Array
from framecheck.model.frame import LAID, SAME_STATION, STANDING, Frame, Kinks, Member, MemberEnd, Section, sections_at
from framecheck.model.joining import EndFinish
from framecheck.model.shapes import RectTube, RoundTube
from framecheck.value_class import array_class

SLIGHT = 0.1 * pi / 180
"""A turn of less gives nothing that could be told: 3e-6 of a rail's own bending at most."""
STEEPEST = pi / 2
"""The sharpest turn that the model was held against shells at; a sharper one is not modelled."""
SQUARE = 1.0 * pi / 180
"""So much a turn may be over a right angle and still be one: places are told in 1/32 in or mm (common practice, no source)."""
NUMBERS = 4 + 4 * len(DISTANCES) + 4


class Covered(Enum):
    """Whether the model covers a kink; if not, why."""

    YES = "modelled"
    SHAPE = "no model covers a kink of that shape"
    SHARP = "it turns by more than a right angle"
    ROUND_PLATE = "a plate inside a round tube is not modelled"


@array_class
class KinkSide:
    """One leg at a kink. member: its place in the frame; leg: which of its legs; end: which end of that leg lies at the kink, 0 or 1.

    out (3,): unit direction away from the kink; up (3,): the section's own z. room: to where the outline is held in shape, m.
    """

    member: int
    leg: int
    end: int
    section: Section
    out: Array
    up: Array
    room: float


@array_class
class Kink:
    """A point at which a run of members turns. name: of the member before it.

    axes (3, 3) rows: mean direction of both legs, towards the inside of the turn, normal of the kink's plane; turn in rad.
    made: as the members say, Kinks.UNSAID where they say nothing or two things; plate, radius: m, None where they are not said.
    widest: radius of the widest bend that the legs beside it have room for, m.
    """

    name: str
    point: str
    turn: float
    axes: Array
    sides: tuple[KinkSide, KinkSide]
    made: Kinks
    plate: float | None
    radius: float | None
    widest: float

    @property
    def is_open(self) -> bool:
        """Return whether it is solved over a range: how it is made is not said, or no model covers it."""
        return not self.is_said or any(covered(self, side) is not Covered.YES for side in self.sides)

    @property
    def is_said(self) -> bool:
        """Return whether the file says how it is made, with its bend's radius or its plate's thickness."""
        match self.made:
            case Kinks.UNSAID:
                return False
            case Kinks.BENT:
                return self.radius is not None
            case Kinks.PLATED:
                return self.plate is not None
            case Kinks.MITRED:
                return True


def kinks_of(frame: Frame) -> tuple[Kink, ...]:
    """Return every kink of a frame, along its runs of members."""
    return _kinks(OneFrame(frame))


@lru_cache(maxsize=4)
def _kinks(of: OneFrame) -> tuple[Kink, ...]:
    frame = of.frame
    runs = runs_of(frame) if frame.sections else ()
    found = (_kink(frame, *place) for run in runs for place in run.inner_places())
    return tuple(kink for kink in found if kink is not None)


def _kink(frame: Frame, run: MemberRun, number: int) -> Kink | None:
    """Return the kink at one of a run's inner points, None where it goes on straight."""
    ways = [_way(frame, leg) for leg in run.legs[number - 1 : number + 1]]
    turn = acos(min(1.0, max(-1.0, float(ways[0] @ ways[1]))))
    if not SLIGHT < turn < pi - SLIGHT:
        return None
    mean, inside = ways[0] + ways[1], ways[1] - ways[0]
    mean, inside = mean / np.linalg.norm(mean), inside / np.linalg.norm(inside)
    legs = run.legs[number - 1], run.legs[number]
    sides = _side(frame, run, (number, number - 1), -ways[0]), _side(frame, run, (number, number), ways[1])
    axes = np.stack([mean, inside, cross(mean, inside)])
    widest = min(lengths(frame, run.points[number - 1 : number + 2])) / tan(turn / 2)
    return Kink(legs[0].member.name, run.points[number], turn, axes, sides, *_made(*legs), widest)


def _way(frame: Frame, leg: RunLeg) -> Array:
    """Return the unit direction (3,) of a leg along its run, from end to end of the metal: arms at a member's own ends counted."""
    member, last = leg.member, len(leg.member.points) - 2
    start, end = (np.array(frame.points[name]) for name in member.points[leg.number : leg.number + 2])
    start = start + _arm(frame, member, 0) if leg.number == 0 else start
    end = end + _arm(frame, member, 1) if leg.number == last else end
    span = start - end if leg.reversed else end - start
    return np.asarray(span / np.linalg.norm(span), dtype=np.float64)


def _arm(frame: Frame, member: Member, end: int) -> Array:
    """Return the arm (3,) of a member's end: of one that lies across a wall to its own height there."""
    made = member.end if end else member.start
    where = seats_of(frame).get((frame.members.index(member), end)) if made.make in LAID else None
    return np.array(made.arm) if where is None else where.arm


def _made(before: RunLeg, after: RunLeg) -> tuple[Kinks, float | None, float | None]:
    """Return how a kink between two members, or within one, is made: as the corner or either says; unsaid where they contradict."""
    corner = _end_there(before, last=True).corner
    if before.member is not after.member and corner is not None and corner == _end_there(after, last=False).corner:
        return corner.kinks, corner.kink_plate, corner.bend_radius
    both = before.member, after.member
    makes = {each.kinks for each in both} - {Kinks.UNSAID}
    plates, radii = ({getattr(each, key) for each in both} - {None} for key in ("kink_plate", "bend_radius"))
    if max(len(makes), len(plates), len(radii)) > 1:
        return Kinks.UNSAID, None, None
    return next(iter(makes), Kinks.UNSAID), next(iter(plates), None), next(iter(radii), None)


def _end_there(leg: RunLeg, last: bool) -> MemberEnd:
    return leg.member.end if last != leg.reversed else leg.member.start


def _side(frame: Frame, run: MemberRun, place: tuple[int, int], out: Array) -> KinkSide:
    """Return one leg at a kink; place: the kink's point and the leg in the run, by number."""
    leg = run.legs[place[1]]
    at_second = (place[1] < place[0]) != leg.reversed
    up = drawn_axes(-out if at_second else out, leg.member)[1]
    section = frame.sections[_section_beside(frame, leg, at_second)]
    number = next(each for each, member in enumerate(frame.members) if member is leg.member)
    return KinkSide(number, leg.number, int(at_second), section, out, up, _room(frame, run, place))


def _section_beside(frame: Frame, leg: RunLeg, at_second: bool) -> str:
    """Return the name of the section of a leg beside its first or second point."""
    stations = point_stations(frame, leg.member)
    start, end = stations[leg.number : leg.number + 2]
    inside = min(2 * SAME_STATION, (end - start) / 2)
    return sections_at(leg.member, end - inside if at_second else start + inside)[0]


def _room(frame: Frame, run: MemberRun, place: tuple[int, int]) -> float:
    """Return how far along a leg's way the outline is next kept in shape, m: by a clamp, held in all six ways, or by a plate over the
    run's end or the face that it stands on; inf: nowhere.
    """
    legs, (point, leg) = lengths(frame, run.points), place
    onward = range(point, len(legs)) if leg == point else range(point - 1, -1, -1)
    away = 0.0
    for each in onward:
        away += legs[each]
        if run.points[each + 1 if leg == point else each] in frame.clamped:
            return away
    return away if _is_closed(run, leg == point) else inf


def _is_closed(run: MemberRun, at_last: bool) -> bool:
    """Return whether a run's end is said to be closed: by a plate, or by the face it stands on."""
    made = _end_there(run.legs[-1 if at_last else 0], at_last)
    return made.cap.finish is EndFinish.PLATE or made.make in STANDING


def covered(kink: Kink, side: KinkSide) -> Covered:
    """Return whether the model covers one leg of a kink as it is made."""
    if not isinstance(side.section.shape, RectTube | RoundTube):
        return Covered.SHAPE
    if kink.turn > STEEPEST + SQUARE:
        return Covered.SHARP
    if kink.made is Kinks.PLATED and isinstance(side.section.shape, RoundTube):
        return Covered.ROUND_PLATE
    return Covered.YES


def corner_of(kink: Kink, side: KinkSide) -> KinkLeg:
    """Return one leg of a kink, made as one of its readings, as the model sees it; another shape as a stand-in."""
    sizes, metal = as_rail(side.section.shape), side.section.material
    wall = min(each for each in (sizes.wall, sizes.wall_left, sizes.wall_right) if each > 0.0)
    leg = KinkLeg(
        sizes.height, sizes.width, wall, round(min(kink.turn, STEEPEST), 9), round(tilt_of(kink, side), 9), side.room,
        plate=kink.plate or 0.0, radius=kink.radius or 0.0,
        round=isinstance(side.section.shape, RoundTube), e=metal.youngs_modulus, nu=metal.poissons_ratio,
    )  # fmt: skip
    return leg if leg.room < leg.reach else replace(leg, room=inf)  # room that changes nothing: like legs are one


def lean_of(kink: Kink, side: KinkSide) -> tuple[float, float]:
    """Return how much of the way in which a leg turns lies along its section's left and up, the leg before seen in the mirror."""
    right_handed = float(np.sign(side.out @ kink.axes[0])) * cross(side.up, side.out)
    inward = kink.axes[1] - float(kink.axes[1] @ side.out) * side.out
    inward /= np.linalg.norm(inward)
    return float(inward @ right_handed), float(inward @ side.up)


def tilt_of(kink: Kink, side: KinkSide) -> float:
    """Return the angle (0 to a right one) between the section's height and the kink's plane, rad; a round tube has none."""
    if isinstance(side.section.shape, RoundTube):
        return 0.0
    left, up = lean_of(kink, side)
    return atan2(abs(left), abs(up))


def inner_depth(kink: Kink, side: KinkSide) -> float:
    """Return how far the inside of the turn lies from a leg's middle, m: no bend can be tighter."""
    sizes, tilt = as_rail(side.section.shape), tilt_of(kink, side)
    if isinstance(side.section.shape, RoundTube):
        return sizes.height / 2
    return (sizes.height * cos(tilt) + sizes.width * sin(tilt)) / 2


def leg_length(frame: Frame, side: KinkSide) -> float:
    """Return the length of the leg that ends at a kink, m."""
    stations = point_stations(frame, frame.members[side.member])
    return stations[side.leg + 1] - stations[side.leg]


KNOWN: dict[KinkLeg, CornerGive] = {}
"""What this process has worked out or read: a corner has one answer, wherever it is asked for."""


def give_of(corner: KinkLeg, store: NumberStore | None) -> CornerGive:
    """Return what one leg of a kink gives and feels, kept or from its shell model."""
    if corner not in KNOWN:
        KNOWN[corner] = _give_of(corner, store)
    return KNOWN[corner]


def _give_of(corner: KinkLeg, store: NumberStore | None) -> CornerGive:
    def compute() -> list[float]:
        from framecheck.frame.kink_shell import corner_give

        found = corner_give(corner)
        return [found.in_plane, found.out_of_plane, found.mixed, found.torsion, *chain(*found.surface), *found.through_wall]

    in_plane, out_of_plane, mixed, torsion, *more = kept_numbers(("kink 6", corner), NUMBERS, store, compute)
    rows: list[Row] = [(a, b, c, d) for a, b, c, d in zip(*[iter(more)] * 4, strict=True)]
    return CornerGive(in_plane, out_of_plane, mixed, torsion, tuple(rows[:-1]), rows[-1])


def leaves_kinks_open(frame: Frame) -> bool:
    """Return whether any kink is solved over a range."""
    return any(kink.is_open for kink in kinks_of(frame))

