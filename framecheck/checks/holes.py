"""Members at the holes of the bolts that go through them: first yield and rupture of the net section."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.alone_in_sleeve import alone_beside, open_part_beside
from framecheck.checks.effective import Effective, effective_normal
from framecheck.checks.heat import strengths_of
from framecheck.checks.joint_rows import Line
from framecheck.checks.member_rows import all_bounds, material_at
from framecheck.checks.net_section import Holes, holes_in, reason_against, strips, without
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.frame import SAME_STATION, Member
from framecheck.model.joints import ASKED, BoltGroup
from framecheck.model.shapes import Drilled
from framecheck.model.shop_tables import Material
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.row_order import margin
from framecheck.results.subjects import (
    Claim,
    Open,
    Question,
    Subject,
    Thing,
    asked,
    drilled,
    left_open,
)
from framecheck.section.properties import SectionProperties
from framecheck.stress import SolvedCase
from framecheck.surface_stress import SHEARING
from framecheck.yield_criterion import equivalent_on_surface

YIELD_SOURCE = "R. von Mises (1913) on the elastic net section; holes: ANSI/AISC 360-22, B4.3b (1/16 in more than the hole; s2 / 4g)"
RUPTURE_SOURCE = (
    "ANSI/AISC 360-22, D2(b), eq. (D2-2) (ASD 2.00), shear lag not counted; EN 1993-1-1:2005, 6.2.3(2) is its like"
)
def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the worst row of each mode for every member that bolts go through, and what could not be judged."""
    return tuple(line for group, member in drilled(outcome.case) for line in lines_of(outcome, group, member))


def lines_of(outcome: SolvedCase, group: BoltGroup, member: Member) -> Iterator[Line]:
    """Yield the lines of one group through one member."""
    number = outcome.case.frame.members.index(member)
    line = outcome.solutions[0].members[number]
    holes = holes_in(outcome.case.frame, group, member, line)
    found: dict[Mode, CheckResult] = {}
    for each in np.flatnonzero((holes.stations >= line.stations.min()) & (holes.stations <= line.stations.max())):
        away = np.abs(line.stations - holes.stations[each])
        for at in np.flatnonzero(away <= away.min() + SAME_STATION).tolist():  # where a force jumps, both its sides
            for row in at_hole(outcome, (group, member, number), line, (holes, int(each), at)):
                if isinstance(row, Open):
                    yield row
                    return
                if row.mode not in found or margin(row) < margin(found[row.mode]):
                    found[row.mode] = row
    yield from found.values()
    if found and (name := open_part_beside(outcome.case.frame, line)):
        reason = f"'{name}' runs on by itself beyond the tube over it and carries all at the first holes; both together were judged"
        yield left_open(Thing.HOLE, member.name, Question.HOLE, reason, group.name, "draw it `drilled` there by itself too")
    if not found:
        yield Claim(asked(Thing.HOLE, member.name, Question.HOLE, group.name))


def at_hole(
    outcome: SolvedCase, of: tuple[BoltGroup, Member, int], line: MemberForces, where: tuple[Holes, int, int]
) -> Iterator[CheckResult | Open]:
    """Yield the rows of the section at one hole, and of each tube that carries the load there by itself."""
    (group, _, _), (holes, hole, at) = of, where
    yield from rows_of(outcome, of, line, where, (line.sections[at], 1.0))
    for tube in alone_beside(outcome.case.frame, line, at):
        share = float(tube.shares(holes.stations[[hole]], holes.stations, group.bolt.hole)[0])
        yield from rows_of(outcome, of, line, where, (tube.section, share))


def rows_of(
    outcome: SolvedCase,
    of: tuple[BoltGroup, Member, int],
    line: MemberForces,
    where: tuple[Holes, int, int],
    bearer: tuple[SectionProperties, float],
) -> Iterator[CheckResult | Open]:
    """Yield the rows of a section that carries a share of the load at one hole, worst bound and load case of each mode; nothing where
    no wall is drilled.
    """
    (group, member, number), at = of, where[2]
    (section, part), frame = bearer, outcome.case.frame
    if reason := reason_against(section):
        yield left_open(Thing.HOLE, member.name, Question.HOLE, reason, group.name, "give the section as flat walls in one metal")
        return
    known = frame.sections.get(section.name)
    lost = () if known is not None and isinstance(known.shape, Drilled) else tuple(strips(group, member, line, where, section))
    if not lost:
        return
    metal = material_at(frame, member, float(line.stations[at])) if known is None else known.material
    share = float(strengths_of(outcome, member, line).share[at])
    forces = part * all_bounds(outcome, number)[:, at]
    stress = net_stress(section, forces, without(section, lost))
    words = words_of(section, line.sections[at], part, sum(area for _, area, _ in lost))
    for mode, demand, strength, target, source in modes(stress, metal, share):
        for case, (loads, bound) in enumerate(zip(outcome.loads, demand.argmax(axis=0).tolist(), strict=True)):
            yield CheckResult(
                check=Check.HOLES,
                mode=mode,
                subject=Subject(Thing.HOLE, member.name, group.name),
                load_case=loads.name,
                demand=float(demand[bound, case]),
                capacity=strength,
                unit="Pa",
                target=outcome.case.targets.of(loads.name) if target is None else target,
                source=source,
                station=float(line.stations[at]),
                bound=outcome.solutions[bound].bound,
                note=words,
            )


def words_of(section: SectionProperties, drawn: SectionProperties, part: float, lost: float) -> str:
    """Return what the holes take, in words, and how much of the load one tube carries there by itself."""
    away = f"{100 * lost / section.area:.0f} % of the section drilled away"
    return away if section is drawn else f"{away}, {100 * part:.0f} % of the load in '{section.name}' alone"


Stress = tuple[Array, Array]
Asked = tuple[Mode, Array, float, float | None, str]


def modes(stress: Stress, metal: Material, share: float) -> Iterator[Asked]:
    """Yield (mode, demand (n_bound, n_case), strength, target or None for the case's own, source) of the net section."""
    equivalent, pull = stress
    ultimate = metal.ultimate_strength if share >= 1.0 else metal.welded_ultimate or metal.ultimate_strength
    yield Mode.NET_YIELDS, equivalent, share * metal.yield_strength, None, YIELD_SOURCE
    yield Mode.NET_TEARS, pull, ultimate, ASKED.strength, RUPTURE_SOURCE


def net_stress(section: SectionProperties, forces: Array, net: Effective) -> Stress:
    """Return the largest equivalent stress and pull, each (n_bound, n_case), Pa, of a net section under forces (..., 9)."""
    fields = section.fields
    if fields is None:
        raise ValueError(f"section {section.name} has no stress fields")
    normal = effective_normal(fields, forces, net)
    shear = [forces[..., SHEARING] @ fields.shear[:, axis].T for axis in (0, 1)]
    equivalent = equivalent_on_surface(normal, shear[0], shear[1])
    return equivalent.max(axis=-1), np.maximum(normal, 0.0).max(axis=-1)
