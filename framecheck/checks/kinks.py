"""Kinks: what acts at a mitred or bent corner of a tube, and what it bears less than its straight legs, at first yield through the
wall.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from math import cos, sin, sqrt

import numpy as np

from framecheck.checks.heat import strengths_of
from framecheck.checks.joint_rows import Line
from framecheck.frame.corner_springs import corner_at
from framecheck.frame.geometry import run_seen_from
from framecheck.frame.joint.data import DISTANCES, WALLS, CornerGive
from framecheck.frame.joint.data import KinkLeg as KinkLeg
from framecheck.frame.kink_bends import readings_of
from framecheck.frame.kink_mixtures import row_on_leg
from framecheck.frame.kinks import Covered, Kink, KinkSide, corner_of, covered, give_of, kinks_of
from framecheck.frame.member_mixtures import MemberMixtures
from framecheck.frame.results import Bound, MemberForces
from framecheck.frame.star_mitres import crowded_ends, star_mitres
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Kinks
from framecheck.model.said import SaidAmount, Words, joined, said
from framecheck.results.ledger import is_kinked
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.surface_stress import peaks
from framecheck.value_class import array_class

GONE = 1.5
"""How far on, in the farthest of DISTANCES, nothing of a kink's stress is left."""
SOURCE = "inner shell model of the kink (docs/theory/kinks.md), read 1.5 walls from the mitre"


@array_class
class LegAtKink:
    """One leg at a kink in all load cases, made as one of the kink's readings.

    station: m along its member; row: number of its station on this leg.
    actions (n_case, 4): moments in the kink's plane, out of it, torsion about the mean direction, Nm, and pull along the leg, N.
    """

    kink: Kink
    made: Kink
    side: KinkSide
    corner: KinkLeg
    give: CornerGive
    station: float
    row: int
    actions: Array

    def reaches(self, stations: Array) -> bool:
        """Return whether the kink's stress is felt at any of some stations in their order."""
        reach = GONE * self._farthest
        between = stations[0] - reach < self.station < stations[-1] + reach
        return bool(between and (np.abs(stations - self.station) < reach).any())

    @property
    def _farthest(self) -> float:
        """Return how far on the model looks, m."""
        return max(DISTANCES[-1] * self._size, WALLS * self.corner.wall)

    @property
    def _size(self) -> float:
        """Return the size that distances are shares of, m."""
        return max(self.corner.height, self.corner.width) - self.corner.wall

    def at_surface(self, stations: Array) -> Array:
        """Return the stress (n_station, 4) that unit actions add at the wall's surface, by how far a station is from the kink."""
        places = np.maximum(np.array((*DISTANCES, 0.0)) * self._size, WALLS * self.corner.wall)
        places[-1] = GONE * self._farthest
        rows = np.array((*self.give.surface, (0.0,) * 4))
        away = np.abs(stations - self.station)
        return np.stack([np.interp(away, places, each) for each in rows.T], axis=1)


def legs_at_kinks(outcome: SolvedCase, bound: int) -> Iterator[LegAtKink]:
    """Yield every leg at a kink that the model covers, once for each way it may be made, under one bound by its number; and every end
    that may be mitred to others that it meets.
    """
    frame = outcome.case.frame
    for kink in filter(is_covered, kinks_of(frame)):
        for side in kink.sides:
            yield from (leg_made(outcome, bound, kink, side, made) for made in readings_of(kink))
    crowded = set(crowded_ends(frame))
    for kink in filter(is_covered, star_mitres(frame)):
        give = NOTHING if (kink.name, kink.point) in crowded else None
        yield leg_made(outcome, bound, kink, kink.sides[1], replace(kink, made=Kinks.MITRED), give)


def is_covered(kink: Kink) -> bool:
    """Return whether the model covers a kink."""
    return all(covered(kink, each) is Covered.YES for each in kink.sides)


NOTHING = CornerGive(0.0, 0.0, 0.0, 0.0, ((0.0,) * 4,) * len(DISTANCES), (0.0,) * 4)
"""Of an end among many: its knee's factor alone is judged, the rest is left open."""


def leg_made(
    outcome: SolvedCase, bound: int, kink: Kink, side: KinkSide, made: Kink, give: CornerGive | None = None
) -> LegAtKink:
    """Return one leg at a kink in one of its readings, under one bound by its number; give: None: that of its shell model."""
    line = outcome.solutions[bound].members[side.member]
    row, corner = row_on_leg(outcome.case.frame, line, side), corner_of(made, side)
    actions = actions_on(kink, line.member_forces[row], line.axes[row])
    return LegAtKink(kink, made, side, corner, give or give_of(corner, None), float(line.stations[row]), row, actions)


def actions_on(kink: Kink, forces: Array, axes: Array) -> Array:
    """Return what acts (n, 4) at a station on a leg: moments about the kink's axes, and pull along the leg; forces (n, 6) and axes
    (3, 3): of its member there.

    A member's moments turn about its x (T), y (Mv = integral of z) and, against it, z (Ms = integral of y).
    """
    pull, _, _, twist, vertical, sideways = forces.T
    moments = np.stack((twist, vertical, -sideways), axis=1) @ axes
    mean, inside, square = kink.axes
    return np.stack((moments @ square, moments @ inside, moments @ mean, pull), axis=1)


def along_member(frame: Frame, legs: Sequence[LegAtKink], number: int) -> list[LegAtKink]:
    """Return the legs at every kink of the run that a member belongs to, at their stations along that member or beyond its ends: what
    a kink adds does not end where one member is written as two.
    """
    if all(each.side.member == number for each in legs):
        return list(legs)
    members, stations = run_seen_from(frame, number)
    return [
        replace(each, station=station) for each in legs if each.side.member in members for station in stations[each.kink.point]
    ]


KNEE_SOURCE = (
    "in the kink's plane: knee joints of rectangular hollow sections, J. A. Packer et al., CIDECT Design Guide 3, 2nd ed. (2009), eq. "
    "5.16; its reduction factor from memory (F. Mang et al. 1980)"
)


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the worst row of every kink, and the kinks that are left open.

    A kink that is not said how it is made is judged as the worst of what it may be.
    """
    legs = [(bound, leg) for bound in range(len(outcome.solutions)) for leg in legs_at_kinks(outcome, bound)]
    legs = [each for each in legs if is_kinked(each[1].kink)]
    rows = [worst_row(outcome, *each) for each in legs]
    rows += [worst_in_mixtures(outcome, each, leg) for each in outcome.mixed for _, leg in legs_once(legs)]
    rows.sort(key=lambda row: (row.subject.name, row.subject.part))
    worst = (max(group, key=lambda row: row.used) for _, group in groupby(rows, key=lambda row: (row.subject.name, row.subject.part)))
    return *worst, *not_covered(outcome)


def legs_once(legs: Sequence[tuple[int, LegAtKink]]) -> list[tuple[int, LegAtKink]]:
    """Return each leg at a kink in each of its readings once, whatever the bound."""
    return [each for each in legs if each[0] == 0]


def worst_row(outcome: SolvedCase, bound: int, leg: LegAtKink) -> CheckResult:
    """Return the row of the load case that uses most of what one leg may bear at a kink, under one bound by its number."""
    stress = outcome.stresses[bound][leg.side.member]
    strength = strength_at(outcome, leg, (stress.forces, leg.row)) * float(stress.strength[leg.row].min())
    nominal = stress.nominal[leg.row][None]
    return row_of(outcome, leg, (nominal, demands(leg, leg.actions, nominal), strength), lambda _: outcome.solutions[bound].bound)


def worst_in_mixtures(outcome: SolvedCase, mixed: MemberMixtures, leg: LegAtKink) -> CheckResult:
    """Return the row of the mixture of ends, and the load case, that uses most of what one leg may bear at a kink."""
    side = leg.side
    own = next(
        each for each in mixed.kinks if (each.side.member, each.side.leg, each.side.end) == (side.member, side.leg, side.end)
    )
    section, axes = own.line.sections[own.row], own.line.axes[own.row]
    assert section.fields is not None
    actions = actions_on(leg.kink, own.member_forces.reshape(-1, 6), axes).reshape(*own.forces.shape[:2], 4)
    nominal = peaks(section.fields, own.forces).nominal
    strength = strength_at(outcome, leg, (own.line, own.row)) * section.yield_strength
    of = mixed.frame, mixed.every, mixed.base
    return row_of(outcome, leg, (nominal, demands(leg, actions, nominal), strength), lambda number: own.bound(number, of))


def strength_at(outcome: SolvedCase, leg: LegAtKink, at: tuple[MemberForces, int]) -> float:
    """Return the share of its strength that a leg keeps beside welds, at a row of its member's table."""
    line, row = at
    return float(strengths_of(outcome, outcome.case.frame.members[leg.side.member], line).share[row])


def row_of(
    outcome: SolvedCase, leg: LegAtKink, judged: tuple[Array, Array, float], bound: Callable[[int], Bound]
) -> CheckResult:
    """Return the worst row of a leg at a kink; judged: the straight leg's stress and the demand (m, n_case), Pa, and the strength;
    bound: the m-th.
    """
    nominal, demand, strength = judged
    targets = np.array([outcome.case.targets.of(loads.name) for loads in outcome.loads])
    number, case = (int(each) for each in np.unravel_index(np.argmax(demand * targets), demand.shape))
    return CheckResult(
        check=Check.KINK,
        mode=Mode.KINK_YIELDS,
        subject=Subject(Thing.KINK, leg.kink.name, leg.kink.point),
        load_case=outcome.loads[case].name,
        demand=float(demand[number, case]),
        capacity=strength,
        unit="Pa",
        target=float(targets[case]),
        source=f"{KNEE_SOURCE}; out of it: {SOURCE}",
        station=leg.station,
        bound=bound(number),
        note=words_of(leg, float(demand[number, case]), float(nominal[number, case])),
    )


def demands(leg: LegAtKink, actions: Array, nominal: Array) -> Array:
    """Return the stress (...,) of actions (..., 4) to be held against yield: the straight leg's over the knee's factor, and what
    bending out of the kink's plane, torsion and, of a bend, bending in its plane add through the wall.
    """
    added = np.array(leg.give.through_wall)
    if leg.corner.radius == 0.0 and not leg.corner.round:
        added[0] = 0.0
    return np.asarray(nominal / knee_factor(leg.corner) + np.abs(actions[..., :3]) @ added[:3], dtype=np.float64)


THICK_PLATE = 10e-3
"""m: a plate of this and of two walls makes a knee as strong as its tubes. CIDECT Design Guide 3, section 5.2.1."""


def knee_factor(corner: KinkLeg) -> float:
    """Return what share of a straight tube's moment and pull a mitred knee bears in its plane, at most 1.

    CIDECT Design Guide 3, eq. 5.16: N / Npl + M / Mpl <= alpha. At a right angle alpha = 3 sqrt(b / h) / (b / t)^0.8 +
    1 / (1 + 2 b / h), at a lesser turn a 1 - sqrt(2) sin(a / 2) (1 - alpha), from memory (F. Mang et al. 1980); h in the kink's plane.
    1 with a thick plate; with a thinner one in proportion (judgement, no source). A bend and a round tube are judged by their own
    stress instead: 1.
    """
    if corner.radius > 0.0 or corner.round:
        return 1.0
    deep = corner.height * cos(corner.tilt) + corner.width * sin(corner.tilt)
    wide = corner.height * sin(corner.tilt) + corner.width * cos(corner.tilt)
    square = 3 * sqrt(wide / deep) / (wide / corner.wall) ** 0.8 + 1 / (1 + 2 * wide / deep)
    lacking = sqrt(2) * sin(corner.turn / 2) * (1 - min(square, 1.0))
    return float(1 - lacking * (1 - min(corner.plate / max(2 * corner.wall, THICK_PLATE), 1.0)))


def words_of(leg: LegAtKink, demand: float, nominal: float) -> Words:
    """Return how the kink is made, or taken to be made, and how much worse than a straight tube it is."""
    made = leg.made.made.value if leg.kink.is_said else taken_as(leg.made)
    raised = f"{demand / nominal:.2f} times the straight tube's stress" if nominal > 0.0 else ""
    return joined(made, raised)


def taken_as(made: Kink) -> Words:
    """Return the worst of what a kink may be of which it is not, or not wholly, said how it is made."""
    words: tuple[Words | SaidAmount, ...] = (made.made.value,)
    if made.radius is not None:
        words = words[0], " to ", SaidAmount(made.radius, "size")
    if made.plate is not None:
        words = words[0], " of ", SaidAmount(made.plate, "size")
    return said("taken as ", *words, ", the worst of what it may be: write how it is made")


REASONS = {
    Covered.SHAPE: "no model covers a kink of its shape: the wall's stress there is not known",
    Covered.SHARP: "it turns by more than a right angle, which no model covers",
    Covered.ROUND_PLATE: "a plate inside a round tube is not modelled",
}

CROWDED = "more than four ends meet there: held to a mitred knee's factor alone; what else the walls feel is not modelled"


OPEN_CORNER = "a third tube is open into it: held to a mitre of two; what the walls of three feel is not modelled"


def not_covered(outcome: SolvedCase) -> Iterator[Open]:
    """Yield the kinks that no model covers."""
    frame = outcome.case.frame
    for kink in filter(is_kinked, kinks_of(frame)):
        if corner_at(frame, kink) is not None:
            yield left_open(Thing.KINK, kink.name, Question.KINK, OPEN_CORNER, kink.point)
    for kink in filter(is_kinked, (*kinks_of(frame), *star_mitres(frame))):
        why = next((each for side in kink.sides if (each := covered(kink, side)) is not Covered.YES), None)
        if why is not None:
            yield left_open(Thing.KINK, kink.name, Question.KINK, REASONS[why], kink.point)
    for name, point in crowded_ends(frame):
        yield left_open(Thing.KINK, name, Question.KINK, CROWDED, point)
