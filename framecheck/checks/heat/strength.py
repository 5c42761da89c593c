"""How strong a member's metal is along it: as welded beside welds, as delivered elsewhere."""

from __future__ import annotations

from collections.abc import Collection, Mapping

import numpy as np

from framecheck.checks.heat.zones import Zone, shop_of, zones_of
from framecheck.checks.member_rows import material_at
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.model.loads import CaseLoads
from framecheck.model.materials import Material
from framecheck.section.properties import SectionProperties
from framecheck.stress import Outcome
from framecheck.value_class import array_class

SAME = 1e-7
"""m; a station this near to the edge of a softened length belongs to it."""

Span = tuple[float, float]


@array_class
class Strengths:
    """A member's metal along it, (n_station,): the share of the yield strength that welding leaves (1: all); zones: why."""

    share: Array
    zones: tuple[Zone, ...]

    def words_at(self, station: int, place: float) -> str:
        """Return why the metal is soft at a station (its number and place, m), "" where it is not."""
        if self.share[station] >= 1.0:
            return ""
        zone = next(each for each in self.zones if each.low - SAME <= place <= each.high + SAME)
        return f"metal softened by welding, {zone.words}"


def softens(frame: Frame, member: Member) -> bool:
    """Return whether welding lowers the strength of any of a member's metals."""
    return any(left_by_welding(frame.sections[each.section].material) < 1.0 for each in member.stretches)


def left_by_welding(metal: Material) -> float:
    """Return the share of its yield strength that a metal keeps beside a weld, at most 1."""
    return 1.0 if metal.welded_yield is None else min(metal.welded_yield / metal.yield_strength, 1.0)


def heat_marks(
    case: Case,
    sections: Mapping[str, SectionProperties],
    loads: Collection[CaseLoads],
    spans: Mapping[str, Span],
) -> dict[str, tuple[float, ...]]:
    """Return the edges of softened lengths by member, m: stations at which stress is wanted. spans: of members, end to end."""
    soft = [member for member in case.frame.members if softens(case.frame, member)]
    if not soft:
        return {}
    shop = shop_of(case, sections, loads)
    return {
        member.name: tuple(at for zone in zones_of(shop, member, spans[member.name]) for at in (zone.low, zone.high))
        for member in soft
    }


def strengths_of(outcome: Outcome, member: Member, line: MemberForces) -> Strengths:
    """Return how much of its yield strength a member keeps at each station of a solved line."""
    frame = outcome.case.frame
    share = np.ones(len(line.stations))
    if not softens(frame, member):
        return Strengths(share, ())
    span = float(line.stations.min()), float(line.stations.max())
    zones = zones_of(shop_of(outcome.case, outcome.sections, outcome.loads), member, span)
    hot = np.zeros(len(line.stations), dtype=bool)
    for zone in zones:
        hot |= (line.stations >= zone.low - SAME) & (line.stations <= zone.high + SAME)
    left = np.array([left_of(frame, member, *at) for at in zip(line.sections, line.stations.tolist(), strict=True)])
    return Strengths(np.where(hot, left, 1.0), zones)


def shares_of(outcome: Outcome) -> Mapping[int, Array]:
    """Return the share of the yield strength left, (n_station,), of each member that welding softens, by its place in the frame."""
    members, lines = outcome.case.frame.members, outcome.solutions[0].members
    soft = (number for number, member in enumerate(members) if softens(outcome.case.frame, member))
    return {number: strengths_of(outcome, members[number], lines[number]).share for number in soft}


def left_of(frame: Frame, member: Member, section: SectionProperties, station: float) -> float:
    """Return the share of its yield strength that a section's metal keeps beside a weld."""
    known = frame.sections.get(section.name)
    return left_by_welding(material_at(frame, member, station) if known is None else known.material)
