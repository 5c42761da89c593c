"""Said beside a result: rows of tables whose source nobody could open, and movements too large for a frame solved as if it moved
little.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum, auto
from math import pi
from typing import Any, Protocol

import numpy as np

from framecheck.frame.results import Bound, FrameSolution, MemberForces
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.model.duty import DetailClass, Fatigue, SurfaceFinish
from framecheck.model.frame import Frame, Member, sections_at
from framecheck.model.shape_parts import shapes_within
from framecheck.model.shop_tables import (
    BoltGrade,
    CripplingRow,
    EdgeDistance,
    Electrode,
    LeastLeg,
    Material,
    Seen,
    Surface,
)
from framecheck.results.row import CheckResult, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class


class Row(Protocol):
    """A row of a table."""

    @property
    def name(self) -> str:
        """Return what it is called."""
        ...

    @property
    def seen(self) -> Seen:
        """Return how its source was seen."""
        ...


class Behind(Enum):
    """What kind of row a strength rests on."""

    METAL = auto()
    BOLT = auto()
    FACES = auto()
    FILLER = auto()
    EDGE = auto()
    LEG = auto()
    WEB = auto()
    LIFE = auto()


RESTS_ON: Mapping[Mode, Behind] = {
    **dict.fromkeys((Mode.BOLT_SHEAR, Mode.BOLT_TENSION, Mode.BOLT_TENSION_PRYING, Mode.BOLT_BOTH, Mode.SHEAR_AT_WALL), Behind.BOLT),
    **dict.fromkeys((Mode.SLIP, Mode.SLIP_DRAWS_IN), Behind.FACES),
    **dict.fromkeys((Mode.WELD_METAL, Mode.PLUG, Mode.ARC_SPOT), Behind.FILLER),
    Mode.DAMAGE: Behind.LIFE, Mode.LEAST_EDGE: Behind.EDGE, Mode.LEAST_LEG: Behind.LEG, Mode.STAMPED_WEB: Behind.WEB,
}  # fmt: skip
"""What a way to fail rests on; the metal where it is not listed."""


def from_memory(case: Case, row: CheckResult) -> tuple[str, ...]:
    """Return the names of the rows and load factors behind a result whose source nobody could open."""
    asked = RESTS_ON.get(row.mode, Behind.METAL)
    names = [each.name for each in rows_behind(case, row) if each.seen is Seen.MEMORY and kind_of(each) is asked]
    return tuple(dict.fromkeys((*names, *load_factors(case, row))))


def load_factors(case: Case, row: CheckResult) -> Iterator[str]:
    """Yield the sizes of a result's load that come from the table and from memory."""
    load_case = next((each for each in case.load_cases if each.name == row.load_case), None)
    for name, basis in ({} if load_case is None else load_case.basis).items():
        if basis.seen is Seen.MEMORY:
            yield f"load factor '{name}'"


def rows_behind(case: Case, row: CheckResult) -> Iterator[Row]:
    """Yield every row of a table that stands in what a result speaks of."""
    for part in parts_of(case, row):
        for each in shapes_within(part):
            found: Any = each
            if isinstance(getattr(found, "seen", None), Seen):
                yield found


def parts_of(case: Case, row: CheckResult) -> Iterator[object]:
    """Yield what a result speaks of: a joint, a plate, fatigue details, the sections of a member."""
    thing, name = row.subject.thing, row.subject.name
    joints = [each for each in case.joints if each.name == name]
    if RESTS_ON.get(row.mode) is Behind.LIFE and case.fatigue is not None:
        yield from of_fatigue(case, case.fatigue, row.subject)
    elif thing is Thing.PLATE:
        yield from (each for each in case.plates if each.name == name)
    elif joints:
        yield from joints
    else:
        yield from metals_of(case, row)


def of_fatigue(case: Case, asked: Fatigue, subject: Subject) -> Iterator[object]:
    """Yield the detail, weld, bolts, seam or walls under member ends that a life is told of."""
    at, part = subject.name, subject.part
    match subject.thing:
        case Thing.JOINT:
            yield from (each for each in asked.bolts if each.joint == at)
        case Thing.SEAM:
            yield from (each for each in asked.seams if (each.member, each.section) == (at, part))
        case Thing.MEMBER_END:
            kinds = {metal.kind for each in case.frame.sections.values() for metal in each.metals or (each.material,)}
            yield from (each for each in asked.faces if each.metal in kinds)
        case _:
            yield from (each for each in asked.details if (each.member, each.name) == (at, part))
            yield from (each for each in asked.welds if (each.weld, each.name) == (at, part))


def metals_of(case: Case, row: CheckResult) -> Iterator[Material]:
    """Yield the metals of a member where a result was found; of all its sections where that is not one place."""
    for member in case.frame.members:
        if member.name == row.subject.name:
            every = tuple(stretch.section for stretch in member.stretches)
            for name in every if row.station is None else sections_at(member, row.station):
                section = case.frame.sections[name]
                yield from section.metals or (section.material,)


def kind_of(row: object) -> Behind:
    """Return what kind of row a row is."""
    kinds: Mapping[type, Behind] = {
        BoltGrade: Behind.BOLT, Surface: Behind.FACES, Electrode: Behind.FILLER, EdgeDistance: Behind.EDGE, LeastLeg: Behind.LEG,
        CripplingRow: Behind.WEB, DetailClass: Behind.LIFE, SurfaceFinish: Behind.LIFE,
    }  # fmt: skip
    return kinds.get(type(row), Behind.METAL)


TWIST_LIMIT = 5 * pi / 180
"""Twist between two points of a member, rad. Common practice, no source: the sine errs by 0.1 %, the cosine by 0.4 %."""
SAG_LIMIT = 1 / 50
"""Sag over the length between a member's ends. Common practice, no source."""


class WayOfMoving(Enum):
    """How a member moves much."""

    TWIST = "twist"
    SAG = "sag"


@value_class
class LargeMovement:
    """A member that moves more in a load case than `limit`. amount, limit: rad of twist, or sag over length."""

    way: WayOfMoving
    load_case: str
    member: str
    bound: Bound
    amount: float
    limit: float


def large_movements(outcome: SolvedCase) -> tuple[LargeMovement, ...]:
    """Return each load case's largest movement of each kind that is over its limit, the furthest over first."""
    worst: dict[tuple[WayOfMoving, str], LargeMovement] = {}
    for each in all_large(outcome):
        key = each.way, each.load_case
        if key not in worst or each.amount > worst[key].amount:
            worst[key] = each
    return tuple(sorted(worst.values(), key=lambda each: -each.amount / each.limit))


def all_large(outcome: SolvedCase) -> Iterator[LargeMovement]:
    """Yield every member's movements over their limits in every load case and bound."""
    frame = outcome.case.frame
    for solution in outcome.solutions:
        for number, member in enumerate(frame.members):
            twist = twist_of(frame, solution, member)
            sag = sag_of(frame, solution, member, solution.members[number])
            for way, amounts, limit in ((WayOfMoving.TWIST, twist, TWIST_LIMIT), (WayOfMoving.SAG, sag, SAG_LIMIT)):
                for case in np.flatnonzero(amounts > limit).tolist():
                    name = outcome.loads[case].name
                    yield LargeMovement(way, name, member.name, solution.bound, float(amounts[case]), limit)


def chord_of(frame: Frame, member: Member) -> tuple[Array, float]:
    """Return the unit direction (3,) from a member's first point to its last, and how far apart they are, m."""
    span = np.subtract(frame.points[member.points[-1]], frame.points[member.points[0]])
    length = float(np.linalg.norm(span))
    return (span / length, length) if length > 0 else (np.array([1.0, 0.0, 0.0]), 1.0)


def twist_of(frame: Frame, solution: FrameSolution, member: Member) -> Array:
    """Return the largest twist between two points of a member about its chord, rad, (n_case,)."""
    along, _ = chord_of(frame, member)
    at = [solution.points.index(name) for name in member.points]
    turns = solution.displacements[at][..., 3:] @ along
    return np.asarray(np.ptp(turns, axis=0))


def sag_of(frame: Frame, solution: FrameSolution, member: Member, line: MemberForces) -> Array:
    """Return how far a member's line leaves the straight one between its moved ends, over its length, (n_case,).

    Where one end is free: the straight one that goes on from the other end as that is turned.
    """
    along, length = chord_of(frame, member)
    share = ((line.places - line.places[0]) @ along / length)[:, None, None]
    moved = line.displacements
    straight = moved[0] + share * (moved[-1] - moved[0])
    for end, other in ((0, -1), (-1, 0)):
        if is_free(frame, member, member.points[other]) and not is_free(frame, member, member.points[end]):
            turn = solution.displacements[solution.points.index(member.points[end])][:, 3:]
            straight = moved[end] + np.cross(turn[None], (line.places - line.places[end])[:, None])
    away = moved - straight
    away = away - (away @ along)[..., None] * along
    return np.asarray(np.linalg.norm(away, axis=2).max(axis=0) / length)


def is_free(frame: Frame, member: Member, point: str) -> bool:
    """Return whether nothing but the member itself is at one of its points."""
    held = {each.point for each in frame.supports} | {name for each in frame.springs for name in each.points}
    return point not in held and not any(point in other.points for other in frame.members if other is not member)
