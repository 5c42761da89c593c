"""Details whose class is read with the net section: the stress of what the holes of a member's bolts leave."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.alone_in_sleeve import parts_alone
from framecheck.checks.fatigue.assess import DetailPlace, Piece, pieces
from framecheck.checks.hole_places import stations_of
from framecheck.checks.net_section import holes_in, raised_by, reason_against, strips
from framecheck.frame.results import MemberForces
from framecheck.model.case import Case
from framecheck.model.duty import BaseMetal, Detail, HoleClasses
from framecheck.model.frame import SAME_STATION, Member
from framecheck.model.joints import BoltGroup
from framecheck.model.shapes import Drilled
from framecheck.results.subjects import drilled
from framecheck.section.properties import SectionProperties


def pieces_of(case: Case, detail: Detail, spot: DetailPlace, of: tuple[Member, MemberForces]) -> Iterator[Piece]:
    """Yield what a detail's member carries in its spot: as a whole, and a tube in another by itself; by what holes leave of it where
    the detail's class is read so.
    """
    member, line = of
    alone = () if spot.net else parts_alone(case, member, line, spot.start, spot.end)
    for section, stations, forces in (*pieces(spot, line), *alone):
        raised = raised_at_holes(case, (member, line), section, spot) if reads_net(detail) else 1.0
        yield section, stations, raised * forces


def reads_net(detail: Detail) -> bool:
    """Return whether a detail's class is read with the stress of the net section."""
    return not isinstance(detail.resistance, BaseMetal) and detail.resistance.on_net_section


def raised_at_holes(case: Case, of: tuple[Member, MemberForces], section: SectionProperties, spot: DetailPlace) -> float:
    """Return by how much the holes in a detail's spot raise the stress of a section at most; 1 where it is drawn drilled."""
    member, line = of
    if is_drilled(case, section.name) or reason_against(section):
        return 1.0
    found = [1.0]
    for group in through(case, member):
        holes = holes_in(case.frame, group, member, line)
        reach = group.bolt.hole / 2
        for hole in np.flatnonzero((holes.stations >= spot.start - reach) & (holes.stations <= spot.end + reach)).tolist():
            at = int(np.argmin(np.abs(line.stations - holes.stations[hole])))
            found.append(raised_by(section, tuple(strips(group, member, line, (holes, hole, at), section))))
    return max(found)


def through(case: Case, member: Member) -> list[BoltGroup]:
    """Return the bolts that go through a member."""
    return [group for group, each in drilled(case) if each is member]


def is_drilled(case: Case, name: str) -> bool:
    """Return whether a section is drawn with its holes."""
    known = case.frame.sections.get(name)
    return known is not None and isinstance(known.shape, Drilled)


def not_read(case: Case, detail: Detail, of: tuple[Member, MemberForces]) -> str:
    """Return why a detail whose class is read with the net section can't be, "" where it is.

    No hole is known there and nothing stands for it, or the walls that it goes through are not known.
    """
    member, line = of
    if not reads_net(detail) or detail.concentration > 1.0:
        return ""
    at = np.flatnonzero((line.stations >= detail.start - SAME_STATION) & (line.stations <= detail.end + SAME_STATION))
    sections = [section for n, section in enumerate(line.sections) if n in at]
    if any(is_drilled(case, section.name) for section in sections):
        return ""
    stations = [stations_of(case.frame, group, member) for group in through(case, member)]
    if not any(np.any((each >= detail.start) & (each <= detail.end)) for each in stations):
        return "its class is read with the stress of what a hole leaves, and no hole is drawn there"
    return next((reason for section in sections if (reason := reason_against(section))), "")


def hole_detail(case: Case, group: BoltGroup, of: tuple[Member, MemberForces], classes: HoleClasses) -> Detail | str:
    """Return the holes of a group in a member as a detail that may crack; why not, in words, "" where none lies within it or the file
    has a detail there.
    """
    (member, line), bolt = of, group.bolt
    stations = stations_of(case.frame, group, member)
    stations = stations[(stations >= line.stations.min()) & (stations <= line.stations.max())]
    if not len(stations):
        return ""
    first, last = float(stations.min()), float(stations.max())
    own = (each for each in case.fatigue.details if each.member == member.name) if case.fatigue is not None else ()
    if any(reads_net(each) and each.start <= first and each.end >= last for each in own):
        return ""
    if any(case.frame.sections[each.section].material.kind != "steel" for each in member.stretches):
        return "no class for holes in this metal is built in"
    row = classes.loose if bolt.clamp is None or bolt.surface is None else classes.clamped
    return Detail(group.name, member.name, row, first, last, beside=classes.beside)
