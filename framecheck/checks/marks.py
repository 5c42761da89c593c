"""Stations that the frame is asked for besides its own: at bolt holes, readings, and the edges of metal that welding has softened."""

from __future__ import annotations

from collections.abc import Mapping

from framecheck.frame.structure import Structure
from framecheck.model.case import Case
from framecheck.model.frame import Section
from framecheck.model.loads import CaseLoads
from framecheck.section.properties import SectionProperties


def marks_of(
    case: Case, structure: Structure, sections: Mapping[str, SectionProperties], loads: tuple[CaseLoads, ...]
) -> Mapping[str, tuple[float, ...]]:
    """Return those stations, m by member."""
    found: dict[str, tuple[float, ...]] = {}
    if case.joints:
        from framecheck.checks.holes import hole_marks
        from framecheck.results.drilling import drilled

        found = hole_marks(case.frame, drilled(case))
    for reading in case.readings:
        found = {**found, reading.member: (*found.get(reading.member, ()), reading.station)}
    if not any(is_changed_by_welding(section) for section in case.frame.sections.values()):
        return found
    from framecheck.checks.heat import heat_marks

    beams, pieces = structure.beams, structure.pieces
    first, last = beams.start[pieces.first], (beams.start + beams.length)[pieces.last]
    spans = {member.name: (float(first[n]), float(last[n])) for n, member in enumerate(case.frame.members)}
    soft = heat_marks(case, sections, loads, spans)
    return {name: (*found.get(name, ()), *soft.get(name, ())) for name in (*found, *soft)}


def is_changed_by_welding(section: Section) -> bool:
    """Return whether it may matter where a section is welded: one of its metals is softened, or is not steel."""
    return any(each.welded_yield is not None or each.kind != "steel" for each in (section.material, *section.metals))
