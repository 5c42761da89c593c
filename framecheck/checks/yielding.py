"""First yield of a member: the equivalent stress on each section's surface against the yield strength there."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

import numpy as np

from framecheck.checks.heat import Strengths, left_by_welding, strengths_of
from framecheck.checks.joint_rows import Line
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Member
from framecheck.model.said import joined
from framecheck.results.places import sits
from framecheck.results.row import Check, CheckResult, Facing, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.results.summary import facings
from framecheck.section.properties import SectionProperties
from framecheck.stress import MemberStress, SolvedCase
from framecheck.value_class import array_class
from framecheck.yield_criterion import SOURCE


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return one row a member and load case, at its worst station under its worst bound, and what was not judged."""
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        if not outcome.in_blocks:
            lines += rows(outcome, [trial(outcome, number, bound) for bound in range(len(outcome.stresses))])
        lines += unjudged(member, outcome.stresses[0][number])
    return tuple(lines)


@array_class
class YieldTrial:
    """A member under one bound. Stations differ from bound to bound: extremes move.

    subject: the member, as rows name it.
    """

    outcome: SolvedCase
    member: Member
    subject: Subject
    bound: int
    stress: MemberStress
    soft: Strengths

    def worst(self) -> tuple[Array, IntArray, IntArray]:
        """Return per load case (n_case,): the share of yield used, the numbers of the station and of the metal."""
        used = np.stack([each.nominal / self.strengths(metal)[:, None] for metal, each in enumerate(self.stress.layers)])
        metals, _, cases = used.shape
        place = np.argmax(used.transpose(1, 0, 2).reshape(-1, cases), axis=0)
        return used.max(axis=(0, 1)), place // metals, place % metals

    def strengths(self, metal: int) -> Array:
        """Return the yield strength (n_station,) of one metal along the member, Pa, as welded beside welds; inf: there is none."""
        layer = self.stress.layers[metal]
        known = np.where(self.stress.known, layer.strength, np.inf)
        mixed = np.array([bool(section.metals) for section in self.stress.forces.sections])
        if not mixed.any():
            return self.soft.share * known
        left = [left_in(section, metal) for section in self.stress.forces.sections]
        return np.where(mixed & self.soft.hot, left, np.where(mixed, 1.0, self.soft.share)) * known

    def row(self, case: int, station: int, metal: int, strength: float) -> CheckResult:
        """Return the row of one load case at one station in one metal of a strength."""
        demand, loads = float(self.stress.layers[metal].nominal[station, case]), self.outcome.loads[case]
        place = float(self.stress.forces.stations[station])
        metals = self.stress.forces.sections[station].metals
        named = f"in {metals[metal].material.name}" if metals else ""
        return CheckResult(
            check=Check.YIELD,
            mode=Mode.FIRST_YIELD,
            subject=self.subject,
            load_case=loads.name,
            demand=demand,
            capacity=strength,
            unit="Pa",
            target=self.outcome.case.targets.of(loads.name),
            source=SOURCE,
            station=place,
            bound=self.outcome.solutions[self.bound].bound,
            note=joined(named, self.soft.words_at(station, place)),
            sides=self.sides(case, station, metal),
        )

    def sides(self, case: int, station: int, metal: int) -> tuple[Facing, ...]:
        """Return where on the section the worst fibre lies, as the section sits in the vehicle."""
        forces = self.stress.forces
        section = forces.sections[station]
        if section.fields is None:
            return ()
        y_min, y_max, z_min, z_max = section.box
        point = section.fields.points[self.stress.layers[metal].point[station, case]]
        own = point - np.array([(y_min + y_max) / 2, (z_min + z_max) / 2])
        x, y, z = (sits(self.member, forces, station) @ own).tolist()
        at_x, at_y, at_z = forces.places[station].tolist()
        return facings((x, y, z), (at_x, at_y, at_z))


def trial(outcome: SolvedCase, number: int, bound: int) -> YieldTrial:
    """Return a member, by its place in the frame, under one bound."""
    member, stress = outcome.case.frame.members[number], outcome.stresses[bound][number]
    subject = Subject(Thing.MEMBER, member.name)
    return YieldTrial(outcome, member, subject, bound, stress, strengths_of(outcome, member, stress.forces))


def rows(outcome: SolvedCase, trials: list[YieldTrial]) -> Iterator[CheckResult]:
    """Yield the member's row of each load case under its worst bound."""
    found = [trial.worst() for trial in trials]
    governing = np.argmax(np.stack([used for used, _, _ in found]), axis=0)
    strengths = [[each.strengths(metal) for metal in range(len(each.stress.layers))] for each in trials]
    for case, bound in enumerate(governing.tolist()):
        _, stations, metals = found[bound]
        station, metal = int(stations[case]), int(metals[case])
        strength = float(strengths[bound][metal][station])
        if isfinite(strength):
            yield trials[bound].row(case, station, metal, strength)


def left_in(section: SectionProperties, metal: int) -> float:
    """Return the share of its yield strength that one of a section's metals keeps beside a weld."""
    return left_by_welding(section.metals[metal].material) if metal < len(section.metals) else 1.0


def unjudged(member: Member, stress: MemberStress) -> Iterator[Open]:
    """Yield the sections of a member whose stress can't be given."""
    blind = {section for section, known in zip(stress.forces.sections, stress.known, strict=True) if not known}
    for section in sorted(blind, key=lambda each: each.name):
        reason = f"section '{section.name}' is {'; '.join(section.notes)}"
        yield left_open(Thing.MEMBER, member.name, Question.YIELD, reason)
