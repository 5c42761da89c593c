"""How strong a member's metal is along it: as welded beside welds, as delivered elsewhere."""

from __future__ import annotations

from collections.abc import Collection, Mapping

import numpy as np

from framecheck.checks.heat.zones import SoftenedZone, shop_of, zones_of
from framecheck.checks.member_rows import SectionRows, material_at
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.model.loads import CaseLoads
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class

SAME = 1e-7
"""m; a station this near to the edge of a softened length belongs to it."""

Span = tuple[float, float]


@array_class
class Strengths:
    """A member's metal along it, (n_station,): the share of the yield strength that welding leaves (1: all; of several metals the
    least), hot: whether a weld is near; zones: why.
    """

    share: Array
    hot: BoolArray
    zones: tuple[SoftenedZone, ...]

    def words_at(self, station: int, place: float) -> str:
        """Return why the metal is soft at a station (its number and place, m), "" where it is not."""
        if self.share[station] >= 1.0:
            return ""
        zone = next(each for each in self.zones if each.low - SAME <= place <= each.high + SAME)
        return f"metal softened by welding, {zone.words}"


def softens(frame: Frame, member: Member) -> bool:
    """Return whether it matters to any of a member's metals where it is welded: to those it softens, and to aluminium's walls."""
    sections = [frame.sections[each.section] for each in member.stretches]
    metals = [metal for each in sections for metal in (each.material, *each.metals)]
    return any(left_by_welding(metal) < 1.0 or metal.kind != "steel" for metal in metals)


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


def strengths_of(outcome: SolvedCase, member: Member, line: MemberForces) -> Strengths:
    """Return how much of its yield strength a member keeps at each station of a solved line."""
    frame = outcome.case.frame
    share = np.ones(len(line.stations))
    if not softens(frame, member):
        return Strengths(share, share < 1.0, ())
    span = float(line.stations.min()), float(line.stations.max())
    zones = zones_of(shop_of(outcome.case, outcome.sections, outcome.loads), member, span)
    hot = np.zeros(len(line.stations), dtype=bool)
    for zone in zones:
        hot |= (line.stations >= zone.low - SAME) & (line.stations <= zone.high + SAME)
    left = np.array([left_of(frame, member, *at) for at in zip(line.sections, line.stations.tolist(), strict=True)])
    return Strengths(np.where(hot, left, 1.0), hot, zones)


def all_strengths(outcome: SolvedCase) -> Mapping[int, Strengths]:
    """Return the strengths of each member to which it matters where it is welded, by its place in the frame."""
    members, lines = outcome.case.frame.members, outcome.solutions[0].members
    soft = (number for number, member in enumerate(members) if softens(outcome.case.frame, member))
    return {number: strengths_of(outcome, members[number], lines[number]) for number in soft}


@array_class
class SoftenedShare:
    """Rows of forces beside welds, (n_row, 1): share of the strength kept there, 1 elsewhere; whether a weld is near."""

    kept: Array
    welded: BoolArray

    def of(self, rows: slice) -> SoftenedShare:
        """Return the same of some rows that follow each other."""
        return SoftenedShare(self.kept[rows], self.welded[rows])


def beside(each: SectionRows, strengths: Mapping[int, Strengths]) -> SoftenedShare:
    """Return how the rows of one section stand to welds; strengths: of the members to which that matters."""
    kept = [strengths[n].share[at] if n in strengths else np.ones(int(at.sum())) for n, at, _ in each.places]
    near = [strengths[n].hot[at] if n in strengths else np.zeros(int(at.sum()), dtype=bool) for n, at, _ in each.places]
    return SoftenedShare(np.concatenate(kept)[:, None], np.concatenate(near)[:, None])


def left_of(frame: Frame, member: Member, section: SectionProperties, station: float) -> float:
    """Return the share of its yield strength that a section's metal keeps beside a weld; of several metals the least share."""
    known = frame.sections.get(section.name)
    metals = (material_at(frame, member, station),) if known is None else (known.material, *known.metals)
    return min(left_by_welding(metal) for metal in metals)
