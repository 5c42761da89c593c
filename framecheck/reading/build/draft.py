"""A frame in the making: points and members as they are found, each fault noted where it stands in the file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import dist

from framecheck.model.arrays import Vector
from framecheck.model.ends import UNCAPPED, GussetPair
from framecheck.model.frame import EndWarping, Make, Member, MemberEnd, Orientation
from framecheck.model.shapes import Side
from framecheck.model.splices import Splice
from framecheck.reading.blocks.common import vector
from framecheck.reading.blocks.frame import Toward
from framecheck.reading.build.sections import Shelf
from framecheck.reading.build.turning import SIDES, direction, open_quarter, quarter_of, turned
from framecheck.reading.desk import RENAME, Desk, Taken
from framecheck.reading.form import Record

SAME_PLACE = 1e-6  # m: points nearer than this are one place
SHORTEST = 1e-4
"""m: a member shorter between two points is no member, and would cost the whole frame twelve of its sixteen digits."""


@dataclass(slots=True)
class Draft:
    """Points by name, the lines they stand on, other names of points, members by name with their lines and subjects."""

    desk: Desk
    shelf: Shelf
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
            self.desk.refuse(line, subject, f"the point's name '{name}' holds a comma", "use a name without commas")
        elif fault := self.point_names.take(name, line, "point"):
            self.desk.refuse(line, subject, fault, RENAME)
        else:
            self.points[name] = place
            self.lines[name] = line

    def add_alias(self, name: str, point: str, line: int, subject: str) -> None:
        """Let a point go by another name too."""
        if fault := self.point_names.take(name, line, "point"):
            self.desk.refuse(line, subject, fault, RENAME)
        self.aliases[name] = point

    def point(self, name: str) -> str:
        """Return the point that a name or another name stands for."""
        return self.aliases.get(name, name)

    def add_member(self, member: Member, line: int, subject: str) -> None:
        """Take in a member under a name of its own, if none of its lengths is zero."""
        fault = self.member_names.take(member.name, line, "member")
        if fault or member.name == "rails":
            self.desk.refuse(line, subject, fault or "'rails' means both rails", RENAME)
            return
        if not all(name in self.points for name in member.points):
            return
        places = [self.points[name] for name in member.points]
        for first, second, at, after in zip(member.points, member.points[1:], places, places[1:], strict=False):
            if dist(at, after) < SHORTEST:
                near = "at one place" if dist(at, after) < SAME_PLACE else f"only {1e3 * dist(at, after):.2g} mm apart"
                fault = f"has no length between '{first}' and '{second}', which are {near}"
                self.desk.refuse(line, subject, fault, "move or leave out one of the two points")
        self.members[member.name] = member
        self.member_places[member.name] = (line, subject)

    def length(self, name: str) -> float:
        """Return the length of a member, m."""
        places = [self.points[point] for point in self.members[name].points]
        return sum(dist(first, second) for first, second in pairwise(places))

    def orientation(self, record: Record, points: Sequence[str], toward: Toward | None) -> Orientation:
        """Return how a member's section is laid so that its open side looks the wanted way."""
        if toward is None:
            return Orientation()
        section = self.shelf.section(record["section"])
        drawn = open_quarter(section.shape)
        line, subject = record.line_of("open side"), record.subject
        if drawn is None:
            self.desk.refuse(line, subject, f"the section '{section.name}' has no open side", "remove 'open side'")
            return Orientation()
        first, last = self.points[points[0]], self.points[points[-1]]
        along = (last[0] - first[0], last[1] - first[1], last[2] - first[2])
        if dist(first, last) < SAME_PLACE:
            return Orientation()
        wanted = quarter_of(along, direction(toward, first[1]))
        if wanted is None:
            self.desk.refuse(
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
            self.desk.refuse(record.line_of("side"), record.subject, fault, "write top, bottom, left or right")
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
    )


END_DIRECTIONS = ("along", "sideways", "vertical", "twist", "bending vertically", "bending sideways")


def both_ends(record: Record, first: str, last: str, arm: Vector = (0.0, 0.0, 0.0)) -> tuple[MemberEnd, MemberEnd]:
    """Return a member's ends: `ends` for both, unless one has a key of its own."""
    common = record["ends"]
    start = common if record[first] is None else record[first]
    end = common if record[last] is None else record[last]
    return end_of(start, arm), end_of(end, arm)
