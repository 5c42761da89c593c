"""A frame in the making: points and members as they are found, and how a section is turned in its member.

Directions round a member are counted in quarter turns from its left (+y): 0 left, 1 up, 2 right, 3 down.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import cos, dist, radians

import numpy as np

from framecheck.frame.geometry import member_axes
from framecheck.model.arrays import Vector
from framecheck.model.frame import EndWarping, Make, Member, MemberEnd, Orientation
from framecheck.model.joining import UNCAPPED, GussetPair, Splice
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    Drilled,
    FloorClosed,
    Hat,
    Plated,
    Shape,
    Side,
    Sleeve,
    Worn,
)
from framecheck.reading.blocks.common import vector
from framecheck.reading.blocks.frame import Toward
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.diagnostics import RENAME, Diagnostics, Taken
from framecheck.reading.form import Record

LEFT, UP, RIGHT, DOWN = range(4)
QUARTERS: Mapping[Side, int] = {Side.LEFT: LEFT, Side.TOP: UP, Side.RIGHT: RIGHT, Side.BOTTOM: DOWN}
SIDES = {quarter: side for side, quarter in QUARTERS.items()}

VECTORS: Mapping[Toward, Vector] = {
    Toward.FORWARD: (1.0, 0.0, 0.0),
    Toward.REARWARD: (-1.0, 0.0, 0.0),
    Toward.LEFT: (0.0, 1.0, 0.0),
    Toward.RIGHT: (0.0, -1.0, 0.0),
    Toward.UP: (0.0, 0.0, 1.0),
    Toward.DOWN: (0.0, 0.0, -1.0),
}


def open_quarter(shape: Shape) -> int | None:
    """Return where a shape is open as drawn, None where it has no open side."""
    match shape:
        case Channel() | Angle() | BoxedChannel():
            return RIGHT
        case Hat():
            return DOWN
        case FloorClosed(base=base) | Plated(base=base) | Worn(base=base) | Drilled(base=base):
            return open_quarter(base)
        case Sleeve(core=core):
            return open_quarter(core)
        case _:
            return None


def direction(toward: Toward, y: float = 0.0) -> Vector:
    """Return a direction as a vector; inboard and outboard for something at y, m."""
    if toward is Toward.INBOARD:
        return (0.0, -1.0 if y > 0 else 1.0, 0.0)
    if toward is Toward.OUTBOARD:
        return (0.0, 1.0 if y > 0 else -1.0, 0.0)
    return VECTORS[toward]


def quarter_of(along: Vector, wanted: Vector) -> int | None:
    """Return which quarter round a member along a direction looks the wanted way most; None where the member itself runs that way."""
    unit = np.array([along]) / np.linalg.norm(along)
    _, left, up = member_axes(unit)[0]
    parts = np.array([left @ wanted, up @ wanted])
    most = int(np.argmax(np.abs(parts)))
    if abs(parts[most]) < 0.5:
        return None
    return (LEFT if parts[most] > 0 else RIGHT) if most == 0 else (UP if parts[most] > 0 else DOWN)


def turned(drawn: int, wanted: int) -> Orientation:
    """Return how a section open toward `drawn` is laid to be open toward `wanted`: flipped over rather than half turned."""
    quarters = (wanted - drawn) % 4
    if quarters == 2:
        return Orientation(0, True) if drawn in (LEFT, RIGHT) else Orientation(2, True)
    return Orientation(quarters)


def mirror_image(orientation: Orientation) -> Orientation:
    """Return the orientation of the mirror image about the vehicle's middle, for a member that runs the same way along x."""
    return Orientation(-orientation.quarter_turns % 4, not orientation.mirrored)


SAME_PLACE = 1e-6  # m: points nearer than this are one place
SHORTEST = 1e-4
"""m: a member shorter between two points is no member, and would cost the whole frame twelve of its sixteen digits."""
IN_EACH_OTHER = cos(radians(1.0))
"""Of the angle that a member's legs leave between them: with less, their walls lie in each other and the turn has no direction."""


@dataclass(slots=True)
class FrameBuilder:
    """Points by name, the lines they stand on, other names of points, members by name with their lines and subjects."""

    diagnostics: Diagnostics
    catalogue: SectionCatalogue
    points: dict[str, Vector] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)
    aliases: dict[str, str] = field(default_factory=dict)
    members: dict[str, Member] = field(default_factory=dict)
    point_names: Taken = field(default_factory=Taken)
    member_names: Taken = field(default_factory=Taken)
    member_places: dict[str, tuple[int, str]] = field(default_factory=dict)
    splices: tuple[Splice, ...] = ()

    def add_point(self, name: str, place: Vector, line: int, subject: str) -> None:
        """Take in a point under a name of its own."""
        if "," in name:
            self.diagnostics.refuse(line, subject, f"the point's name '{name}' holds a comma", "use a name without commas")
        elif fault := self.point_names.take(name, line, "point"):
            self.diagnostics.refuse(line, subject, fault, RENAME)
        else:
            self.points[name] = place
            self.lines[name] = line

    def add_alias(self, name: str, point: str, line: int, subject: str) -> None:
        """Let a point go by another name too."""
        if fault := self.point_names.take(name, line, "point"):
            self.diagnostics.refuse(line, subject, fault, RENAME)
        self.aliases[name] = point

    def point(self, name: str) -> str:
        """Return the point that a name or another name stands for."""
        return self.aliases.get(name, name)

    def add_member(self, member: Member, line: int, subject: str) -> None:
        """Take in a member under a name of its own, if none of its lengths is zero."""
        fault = self.member_names.take(member.name, line, "member")
        if fault or member.name == "rails":
            self.diagnostics.refuse(line, subject, fault or "'rails' means both rails", RENAME)
            return
        if not all(name in self.points for name in member.points):
            return
        places = [self.points[name] for name in member.points]
        self._refuse_folds(member, line, subject)
        for first, second, at, after in zip(member.points, member.points[1:], places, places[1:], strict=False):
            if dist(at, after) < SHORTEST:
                near = "at one place" if dist(at, after) < SAME_PLACE else f"only {1e3 * dist(at, after):.2g} mm apart"
                fault = f"has no length between '{first}' and '{second}', which are {near}"
                self.diagnostics.refuse(line, subject, fault, "move or leave out one of the two points")
        self.members[member.name] = member
        self.member_places[member.name] = (line, subject)

    def _refuse_folds(self, member: Member, line: int, subject: str) -> None:
        """Refuse a member that runs back along itself: its legs lie in each other, and there it has no direction."""
        places = [np.array(self.points[name]) for name in member.points]
        for name, before, at, after in zip(member.points[1:], places, places[1:], places[2:], strict=False):
            back, on = before - at, after - at
            if back @ on > IN_EACH_OTHER * np.linalg.norm(back) * np.linalg.norm(on):
                fault = f"turns back along itself at '{name}'"
                self.diagnostics.refuse(line, subject, fault, f"end it at '{name}', or move one of its points")

    def length(self, name: str) -> float:
        """Return the length of a member, m."""
        places = [self.points[point] for point in self.members[name].points]
        return sum(dist(first, second) for first, second in pairwise(places))

    def orientation(self, record: Record, points: Sequence[str], toward: Toward | None) -> Orientation:
        """Return how a member's section is laid so that its open side looks the wanted way."""
        if toward is None:
            return Orientation()
        section = self.catalogue.section(record["section"])
        drawn = open_quarter(section.shape)
        line, subject = record.line_of("open side"), record.subject
        if drawn is None:
            self.diagnostics.refuse(line, subject, f"the section '{section.name}' has no open side", "remove 'open side'")
            return Orientation()
        first, last = self.points[points[0]], self.points[points[-1]]
        along = (last[0] - first[0], last[1] - first[1], last[2] - first[2])
        if dist(first, last) < SAME_PLACE:
            return Orientation()
        wanted = quarter_of(along, direction(toward, first[1]))
        if wanted is None:
            self.diagnostics.refuse(
                line,
                subject,
                f"the member itself runs {toward.value}, its section can't open that way",
                "choose a direction across it",
            )
            return Orientation()
        return turned(drawn, wanted)

    def seen_side(self, record: Record, name: str) -> Side | None:
        """Return a side as seen looking along a member; of 'rails', left and right change over on the right one. None: not said."""
        said: Side | Toward | None = record["side"]
        if said is None or isinstance(said, Side):
            mirrored = record["member"] == "rails" and name == "right rail"
            return MIRRORED.get(said, said) if mirrored and said is not None else said
        member = self.members[name]
        first, last = self.points[member.points[0]], self.points[member.points[-1]]
        along = (last[0] - first[0], last[1] - first[1], last[2] - first[2])
        quarter = quarter_of(along, direction(said, first[1]))
        if quarter is None:
            fault = f"'{name}' has no {said.value} side: it runs across"
            self.diagnostics.refuse(record.line_of("side"), record.subject, fault, "write top, bottom, left or right")
            return None
        return SIDES[quarter]


MIRRORED = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}


def end_of(value: Make | Record | None, arm: Vector = (0.0, 0.0, 0.0)) -> MemberEnd:
    """Return a member's end from a word, a block or nothing."""
    if value is None:
        return MemberEnd(arm=arm)
    if isinstance(value, Make):
        return MemberEnd(value, arm=arm)
    return _written_end(value, arm)


def _gussets(record: Record | None) -> GussetPair | None:
    if record is None:
        return None
    return GussetPair(record["along rail"], record["along member"], record["thickness"], record["at"], record["height"])


def _written_end(record: Record, arm: Vector) -> MemberEnd:
    springs, warping, own = record["stiffness"], record["warping stiffness"], record["arm"]
    stiffness = None if springs is None else tuple(springs[key] for key in END_DIRECTIONS)
    own_arm = (0.0, 0.0, 0.0) if own is None else vector(own)
    return MemberEnd(
        make=record["make"] if stiffness is None else Make.GIVEN,
        warping=record["warping"] if warping is None else EndWarping.SPRING,
        stiffness=stiffness,
        warping_stiffness=warping or 0.0,
        arm=(arm[0] + own_arm[0], arm[1] + own_arm[1], arm[2] + own_arm[2]),
        leg=record["leg"],
        welded=tuple(record["welded sides"]),
        gussets=_gussets(record["gussets"]),
        cap=record["cap"] or UNCAPPED,
        corner=record.values.get("corner"),
    )


END_DIRECTIONS = ("along", "sideways", "vertical", "twist", "bending vertically", "bending sideways")


def both_ends(record: Record, first: str, last: str, arm: Vector = (0.0, 0.0, 0.0)) -> tuple[MemberEnd, MemberEnd]:
    """Return a member's ends: `ends` for both, unless one has a key of its own."""
    common = record["ends"]
    start = common if record[first] is None else record[first]
    end = common if record[last] is None else record[last]
    return end_of(start, arm), end_of(end, arm)
