"""Rows of the shop's tables behind a result whose source nobody could open: said beside the result."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum, auto
from typing import Any, Protocol

from framecheck.model.case import Case
from framecheck.model.duty import Fatigue
from framecheck.model.frame import sections_at
from framecheck.model.materials import Material
from framecheck.model.seen import Seen
from framecheck.results.ledger import shapes_within
from framecheck.results.row import CheckResult, Mode
from framecheck.results.subjects import Subject, Thing


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
    from framecheck.model.duty import DetailClass, Finish
    from framecheck.model.joint_tables import BoltGrade, CripplingRow, EdgeDistance, Electrode, LeastLeg, Surface

    kinds: Mapping[type, Behind] = {
        BoltGrade: Behind.BOLT, Surface: Behind.FACES, Electrode: Behind.FILLER, EdgeDistance: Behind.EDGE, LeastLeg: Behind.LEG,
        CripplingRow: Behind.WEB, DetailClass: Behind.LIFE, Finish: Behind.LIFE,
    }  # fmt: skip
    return kinds.get(type(row), Behind.METAL)
