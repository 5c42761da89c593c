"""First yield of a member: the equivalent stress on each section's surface against the yield strength there."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_rows import Line
from framecheck.checks.result import CAP, CheckResult, NotChecked
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Make, Member, MemberEnd
from framecheck.stress import MemberStress, Outcome

CHECK = "yield"
SOURCE = "R. von Mises (1913); EN 1993-1-1:2005, 6.2.1(5), eq. (6.1)"

HEAT_REACH = 0.025
"""How far from a welded end or joint the metal counts as heat-affected, m (one inch: AISI and Aluminum Design Manual
practice for weld-affected zones, from memory)."""

UNWELDED = (Make.PINNED, Make.GIVEN)


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return one row a member and load case, at its worst station under its worst bound, and what was not judged."""
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        stresses = [bound[number] for bound in outcome.stresses]
        strengths = yield_along(outcome.case.frame, member, stresses[0])
        lines += rows(outcome, member, stresses, strengths)
        lines += unjudged(member, stresses[0])
    return tuple(lines)


def rows(outcome: Outcome, member: Member, stresses: list[MemberStress], strengths: Array) -> Iterator[CheckResult]:
    """Yield the member's row of each load case; strengths (n_station,), Pa, inf where no stress is known."""
    used = np.stack([each.nominal / strengths[:, None] for each in stresses])  # (n_bound, n_station, n_case)
    for number, loads in enumerate(outcome.loads):
        bound, station = np.unravel_index(int(np.argmax(used[:, :, number])), used.shape[:2])
        if not stresses[0].known[station]:
            continue
        demand, strength = float(stresses[bound].nominal[station, number]), float(strengths[station])
        yield CheckResult(
            check=CHECK,
            where=member.name,
            load_case=loads.name,
            station=float(stresses[bound].forces.stations[station]),
            demand=demand,
            capacity=strength,
            unit="Pa",
            safety_factor=min(strength / demand, CAP) if demand > 0 else CAP,
            target=outcome.case.targets.of(loads.name),
            source=SOURCE,
            mode=outcome.solutions[bound].bound.name,
        )


def yield_along(frame: Frame, member: Member, stress: MemberStress) -> Array:
    """Return the yield strength (n_station,) along a member, Pa: as welded beside welds; inf where no stress is known."""
    strengths = np.array([section.yield_strength for section in stress.forces.sections])
    strengths[~stress.known] = np.inf
    materials = [frame.sections[stretch.section].material for stretch in member.stretches]
    softened = {each.yield_strength: each.welded_yield for each in materials if each.welded_yield is not None}
    if not softened:
        return strengths
    hot = heat_affected(frame, member, stress.forces.places, stress.forces.stations)
    welded = np.array([softened.get(each, each) for each in strengths.tolist()])
    return np.where(hot, np.minimum(strengths, welded), strengths)


def heat_affected(frame: Frame, member: Member, places: Array, stations: Array) -> Array:
    """Return which stations (n_station,) lie within HEAT_REACH of a weld: a welded end, or a member welded on."""
    hot = np.zeros(len(stations), dtype=bool)
    for at, end in ((stations.min(), member.start), (stations.max(), member.end)):
        if end.make not in UNWELDED:
            hot |= np.abs(stations - at) <= HEAT_REACH
    for point in _welded_on(frame, member):
        hot |= np.linalg.norm(places - np.array(frame.points[point]), axis=1) <= HEAT_REACH
    return hot


def _welded_on(frame: Frame, member: Member) -> Iterator[str]:
    """Yield the points of a member on which another member's end is welded."""
    for other in frame.members:
        if other is not member:
            for point, end in ((other.points[0], other.start), (other.points[-1], other.end)):
                if point in member.points and _is_welded(end):
                    yield point


def _is_welded(end: MemberEnd) -> bool:
    return end.make not in UNWELDED


def unjudged(member: Member, stress: MemberStress) -> Iterator[NotChecked]:
    """Yield the sections of a member whose stress can't be given."""
    blind = {section.name for section, known in zip(stress.forces.sections, stress.known, strict=True) if not known}
    for name in sorted(blind):
        reason = f"section '{name}' is given by numbers without fibre distances, so no stress follows"
        yield NotChecked(f"{member.name}: yield", reason)
