"""Where a frame's forces are worked out, and in which blocks of load cases, so that memory and time grow with their number and not
with its square.

A moment is largest where a shear force vanishes, and each load case has such places of its own. All load cases are held at all of
these places while that is little; where it would be much, each block of load cases is held at its own places alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from framecheck.checks.heat import heat_marks
from framecheck.checks.hole_places import hole_marks
from framecheck.frame.report import LITTLE, SolvedFrame, common_crossings
from framecheck.frame.structure import Structure
from framecheck.model.case import Case
from framecheck.model.frame import Section
from framecheck.model.loads import CaseLoads
from framecheck.results.subjects import drilled
from framecheck.section.properties import SectionProperties

Loads = tuple[CaseLoads, ...]
OF_A_BLOCK = 600_000
"""Stations times load cases times bounds of a block: more is more places that other load cases brought, fewer is more blocks."""
PIECE_STATIONS = 5
"""Stations of a piece without places of its own, as a rule."""


def blocks_of(answers: Sequence[SolvedFrame]) -> tuple[Loads, ...]:
    """Return load cases in blocks that are judged by themselves; one block where all together are little work.

    answers: the frame under all bounds in which ends whose make is left out are alike.
    """
    bounds, structure, loads = len(answers), answers[0].structure, tuple(answers[0].cases)
    if len(loads) < 2 or most_places(structure, loads) * len(loads) * bounds <= LITTLE:
        return (loads,)
    places = len(common_crossings(answers, any_number=True))
    if places * len(loads) * bounds <= LITTLE:
        return (loads,)
    size = block_size(places / len(loads), PIECE_STATIONS * structure.pieces.count, bounds)
    return tuple(loads[first : first + size] for first in range(0, len(loads), size))


MOST_CROSSINGS = 4
"""Places of a stretch where one of two shear forces, which run as quadratics, can vanish in one load case."""


def most_places(structure: Structure, loads: Loads) -> int:
    """Return the number of places that load cases can have at the most: a stretch ends where a load on a member begins or ends."""
    begun = sum(len(each.member_loads) for each in loads)
    return MOST_CROSSINGS * len(loads) * (structure.pieces.count + 2 * begun)


def block_size(places: float, stations: int, bounds: int) -> int:
    """Return how many load cases fit a block: places, stations: of its own by load case, and those that all have."""
    size = 2
    while (size + 1) * (stations + (size + 1) * places) * bounds <= OF_A_BLOCK:
        size += 1
    return size


def marks_of(
    case: Case, structure: Structure, sections: Mapping[str, SectionProperties], loads: tuple[CaseLoads, ...]
) -> Mapping[str, tuple[float, ...]]:
    """Return the stations that checks and readings ask for besides the frame's own, m by member."""
    found: dict[str, tuple[float, ...]] = {}
    if case.joints:
        found = hole_marks(case.frame, drilled(case))
    for reading in case.readings:
        found = {**found, reading.member: (*found.get(reading.member, ()), reading.station)}
    if not any(is_changed_by_welding(section) for section in case.frame.sections.values()):
        return found

    beams, pieces = structure.beams, structure.pieces
    first, last = beams.start[pieces.first], (beams.start + beams.length)[pieces.last]
    spans = {member.name: (float(first[n]), float(last[n])) for n, member in enumerate(case.frame.members)}
    soft = heat_marks(case, sections, loads, spans)
    return {name: (*found.get(name, ()), *soft.get(name, ())) for name in (*found, *soft)}


def is_changed_by_welding(section: Section) -> bool:
    """Return whether it may matter where a section is welded: one of its metals is softened, or is not steel."""
    return any(each.welded_yield is not None or each.kind != "steel" for each in (section.material, *section.metals))
