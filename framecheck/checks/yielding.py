"""First yield of a member: the equivalent stress on each section's surface against the yield strength there."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_rows import Line
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame, Make, Member, MemberEnd
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.stress import MemberStress, Outcome
from framecheck.value_class import array_class

SOURCE = "R. von Mises (1913); EN 1993-1-1:2005, 6.2.1(5), eq. (6.1)"

HEAT_REACH = 0.025
"""How far from a welded end or joint the metal counts as heat-affected, m (one inch: AISI and Aluminum Design Manual
practice for weld-affected zones, from memory)."""

UNWELDED = (Make.PINNED, Make.GIVEN)


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return one row a member and load case, at its worst station under its worst bound, and what was not judged."""
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        trials = [Trial(outcome, member, bound, stresses[number]) for bound, stresses in enumerate(outcome.stresses)]
        lines += rows(outcome, trials)
        lines += unjudged(member, trials[0].stress)
    return tuple(lines)


@array_class
class Trial:
    """A member under one bound. Stations differ from bound to bound: extremes move."""

    outcome: Outcome
    member: Member
    bound: int
    stress: MemberStress

    def worst(self) -> tuple[Array, IntArray, Array]:
        """Return per load case (n_case,): the share of yield used, the station's number, the yield strength there, Pa."""
        strengths = yield_along(self.outcome.case.frame, self.member, self.stress)
        used = self.stress.nominal / strengths[:, None]
        station = np.argmax(used, axis=0)
        return used.max(axis=0), station, strengths[station]

    def row(self, case: int, station: int, strength: float) -> CheckResult:
        """Return the row of one load case at one station."""
        demand, loads = float(self.stress.nominal[station, case]), self.outcome.loads[case]
        return CheckResult(
            check=Check.YIELD,
            mode=Mode.FIRST_YIELD,
            subject=Subject(Thing.MEMBER, self.member.name),
            load_case=loads.name,
            demand=demand,
            capacity=strength,
            unit="Pa",
            target=self.outcome.case.targets.of(loads.name),
            source=SOURCE,
            station=float(self.stress.forces.stations[station]),
            bound=self.outcome.solutions[self.bound].bound,
        )


def rows(outcome: Outcome, trials: list[Trial]) -> Iterator[CheckResult]:
    """Yield the member's row of each load case under its worst bound."""
    found = [trial.worst() for trial in trials]
    governing = np.argmax(np.stack([used for used, _, _ in found]), axis=0)
    for case, bound in enumerate(governing.tolist()):
        _, stations, strengths = found[bound]
        if np.isfinite(strengths[case]):
            yield trials[bound].row(case, int(stations[case]), float(strengths[case]))


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


def unjudged(member: Member, stress: MemberStress) -> Iterator[Open]:
    """Yield the sections of a member whose stress can't be given."""
    blind = {section.name for section, known in zip(stress.forces.sections, stress.known, strict=True) if not known}
    for name in sorted(blind):
        reason = f"section '{name}' is given by numbers without fibre distances, so no stress follows"
        yield left_open(Thing.MEMBER, member.name, Question.YIELD, reason)
