"""Kinks: what a mitred or bent corner of a tube bears less than its straight legs, at first yield through the wall."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from math import cos, sin, sqrt

import numpy as np

from framecheck.checks.at_kinks import SOURCE, LegAtKink, legs_at_kinks
from framecheck.checks.heat import strengths_of
from framecheck.checks.joint_rows import Line
from framecheck.frame.kink.data import Corner
from framecheck.frame.kinks import Covered, Kink, covered, kinks_of
from framecheck.model.arrays import Array
from framecheck.model.said import Amount, Words, joined, said
from framecheck.results.ledger import is_kinked
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.stress import Outcome

KNEE_SOURCE = (
    "in the kink's plane: knee joints of rectangular hollow sections, J. A. Packer et al., CIDECT Design Guide 3, 2nd ed. (2009), eq. "
    "5.16; its reduction factor from memory (F. Mang et al. 1980)"
)


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the worst row of every kink, and the kinks that are left open.

    A kink that is not said how it is made is judged as the worst of what it may be.
    """
    legs = [(bound, leg) for bound in range(len(outcome.solutions)) for leg in legs_at_kinks(outcome, bound)]
    legs = [each for each in legs if is_kinked(each[1].kink)]
    by_kink = sorted(legs, key=lambda each: (each[1].kink.name, each[1].kink.point))
    worst = (
        max((worst_row(outcome, *each) for each in group), key=lambda row: row.used)
        for _, group in groupby(by_kink, key=lambda each: (each[1].kink.name, each[1].kink.point))
    )
    return *worst, *not_covered(outcome)


def worst_row(outcome: Outcome, bound: int, leg: LegAtKink) -> CheckResult:
    """Return the row of the load case that uses most of what one leg may bear at a kink."""
    member = outcome.case.frame.members[leg.side.member]
    stress = outcome.stresses[bound][leg.side.member]
    share = float(strengths_of(outcome, member, stress.forces).share[leg.row])
    strength, demand = share * float(stress.strength[leg.row].min()), demands(leg, stress.nominal[leg.row])
    targets = np.array([outcome.case.targets.of(loads.name) for loads in outcome.loads])
    case = int(np.argmax(demand * targets))
    return CheckResult(
        check=Check.KINK,
        mode=Mode.KINK_YIELDS,
        subject=Subject(Thing.KINK, leg.kink.name, leg.kink.point),
        load_case=outcome.loads[case].name,
        demand=float(demand[case]),
        capacity=strength,
        unit="Pa",
        target=float(targets[case]),
        source=f"{KNEE_SOURCE}; out of it: {SOURCE}",
        station=leg.station,
        bound=outcome.solutions[bound].bound,
        note=words_of(leg, float(demand[case]), float(stress.nominal[leg.row, case])),
    )


def demands(leg: LegAtKink, nominal: Array) -> Array:
    """Return the stress (n_case,) to be held against yield: the straight leg's over the knee's factor, and what bending out of the
    kink's plane, torsion and, of a bend, bending in its plane add through the wall.
    """
    added = np.array(leg.give.through_wall)
    if leg.corner.radius == 0.0 and not leg.corner.round:
        added[0] = 0.0
    return np.asarray(nominal / knee_factor(leg.corner) + np.abs(leg.actions[:, :3]) @ added[:3], dtype=np.float64)


THICK_PLATE = 10e-3
"""m: a plate of this and of two walls makes a knee as strong as its tubes. CIDECT Design Guide 3, section 5.2.1."""


def knee_factor(corner: Corner) -> float:
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
    words: tuple[Words | Amount, ...] = (made.made.value,)
    if made.radius is not None:
        words = words[0], " to ", Amount(made.radius, "size")
    if made.plate is not None:
        words = words[0], " of ", Amount(made.plate, "size")
    return said("taken as ", *words, ", the worst of what it may be: write how it is made")


REASONS = {
    Covered.SHAPE: "no model covers a kink of its shape: the wall's stress there is not known",
    Covered.SHARP: "it turns by more than a right angle, which no model covers",
    Covered.ROUND_PLATE: "a plate inside a round tube is not modelled",
}


def not_covered(outcome: Outcome) -> Iterator[Open]:
    """Yield the kinks that no model covers."""
    for kink in filter(is_kinked, kinks_of(outcome.case.frame)):
        why = next((each for side in kink.sides if (each := covered(kink, side)) is not Covered.YES), None)
        if why is not None:
            yield left_open(Thing.KINK, kink.name, Question.KINK, REASONS[why], kink.point)

