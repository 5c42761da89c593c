"""The check of members as columns and beams that may buckle as a whole: one row a member and load case."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil

import numpy as np

from framecheck.checks.joint_rows import Line
from framecheck.checks.lateral_buckling.curves import CURVES, amplification, interaction
from framecheck.checks.lateral_buckling.strengths import is_lopsided, left_unsaid
from framecheck.checks.lateral_buckling.trials import LateralTrial, reason_of, trials_by_member
from framecheck.checks.member_rows import distinct_sections, first_within
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Member
from framecheck.model.said import Words, joined, length, said
from framecheck.results.row import CAP, Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase

SOURCE = (
    "ANSI/AISC 360-22, H1 (both), app. 8 (B1, Cm = 1), on the elastic moment with Wagner's term, the moments as they run, loads "
    "between braces on the outline's worse side; first yield for the full moment; largest compression of the part with moments "
    "acting together"
)
SOURCES = {metal: f"{curves.source}; {SOURCE}" for metal, curves in CURVES.items()}


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every member, worst part and bound, and what could not be checked."""
    found = trials_by_member(outcome)
    factors = split(found, largest_factors(tuple(trial for each in found for trial in each), columns_of(outcome)))
    turned = turned_factors(outcome, found)
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        by_case = by_bound_and_case(outcome, factors[number])
        lines += () if outcome.in_blocks else rows(outcome, member, found[number], by_case)
        lines += left_unsaid(outcome, member, by_case.min(axis=0, initial=CAP), tuple(turned[number]))
        lines += unchecked(outcome, member, outcome.solutions[0].members[number])
    return tuple(lines)


def columns_of(outcome: SolvedCase) -> int:
    """Return the number of load cases under all bounds."""
    return len(outcome.solutions) * len(outcome.loads)


def by_bound_and_case(outcome: SolvedCase, factors: Array) -> Array:
    """Return factors (n_trial, n_bound x n_case) as (n_bound x n_trial, n_case), bound after bound."""
    shape = len(factors), len(outcome.solutions), len(outcome.loads)
    return factors.reshape(shape).transpose(1, 0, 2).reshape(-1, len(outcome.loads))


def turned_factors(outcome: SolvedCase, found: Sequence[tuple[LateralTrial, ...]]) -> list[Array]:
    """Return member by member the factors (n, n_case) of its lopsided lengths if their moments were reversed, n 0 where none is;
    inf under bounds under which a length is not lopsided.
    """
    lopsided = [tuple(each for each in trials if is_lopsided(each.strength, each.turned).any()) for trials in found]
    every = tuple(other_way(each) for trials in lopsided for each in trials)
    marks = [_under_bounds(outcome, is_lopsided(each.strength, each.turned)) for trials in lopsided for each in trials]
    factors = largest_factors(every, columns_of(outcome))
    if every:
        factors = np.where(np.stack(marks), factors, np.inf)
    return [by_bound_and_case(outcome, each) for each in split(lopsided, factors)]


def _under_bounds(outcome: SolvedCase, columns: BoolArray) -> BoolArray:
    """Return (n_bound x n_case,): whether any load case is marked under the same bound."""
    shape = len(outcome.solutions), len(outcome.loads)
    return np.broadcast_to(columns.reshape(shape).any(axis=1, keepdims=True), shape).ravel()


def other_way(trial: LateralTrial) -> LateralTrial:
    """Return a trial as if its moments were reversed."""
    return replace(trial, strength=trial.turned)


def split(found: Sequence[tuple[LateralTrial, ...]], factors: Array) -> list[Array]:
    """Return the rows of factors (n_trial, n_column) member by member."""
    return np.split(factors, np.cumsum([len(each) for each in found])[:-1])


def rows(outcome: SolvedCase, member: Member, found: tuple[LateralTrial, ...], factors: Array) -> Iterator[CheckResult]:
    """Yield the worst trial of each load case; factors (n_bound x n_trial, n_case)."""
    if not found:
        return
    subject, count = Subject(Thing.MEMBER, member.name), len(outcome.loads)
    governing = np.argmin(factors, axis=0)
    least = factors[governing, np.arange(count)].tolist()
    for number, (loads, worst, factor) in enumerate(zip(outcome.loads, governing.tolist(), least, strict=True)):
        bound, at = divmod(worst, len(found))
        trial, column = found[at], bound * count + number
        yield CheckResult(
            check=Check.BUCKLING,
            mode=Mode.MEMBER_BUCKLES,
            subject=subject,
            load_case=loads.name,
            demand=1 / factor,
            capacity=1.0,
            unit="1",
            target=outcome.case.targets.of(loads.name),
            source=SOURCES[trial.metal],
            station=float(trial.station[column]),
            bound=outcome.solutions[bound].bound,
            note=worded(trial, column),
        )


def worded(trial: LateralTrial, number: int) -> Words:
    """Return what governs a trial in one load case under one bound, in words: the length, how it acts, what lateral buckling takes."""
    shares = {
        "squeezing": float(trial.compression[number] / trial.strength.axial[number]),
        "bending vertically": float(trial.vertical[number] / trial.strength.vertical[number]),
        "bending sideways": float(trial.sideways[number] / trial.strength.sideways[number]),
    }
    part, lost = trial.part, ceil(100 * (1 - float(trial.strength.left[number])) - 1e-6)
    over = said("column and bending together over ", length(part.lateral), f", {part.known.value}")
    shorter = float(trial.strength.shorter[number])
    effective = min(part.vertical, part.sideways) * shorter
    by_frame = said("as a column like ", length(effective), ", by the frame's own buckling") if shorter < 1.0 else ""
    lateral = f"lateral buckling takes {lost} % of the moment at first yield" if lost > 0 else "lateral buckling takes nothing"
    return joined(over, by_frame, f"mostly {max(shares, key=lambda name: shares[name])}", lateral)


STEEPEST = 10.0
"""The most by which B1 can grow a moment before the column strength is used up: 1 / (1 - 0.877) = 8.2."""


def largest_factors(found: tuple[LateralTrial, ...], count: int) -> Array:
    """Return by how much all forces may grow in proportion, (n_trial, n_column), at most CAP; by halving, all trials at once."""
    if not found:
        return np.zeros((0, count))
    compression = np.stack([trial.compression for trial in found])
    vertical = np.stack([trial.vertical / trial.strength.vertical for trial in found])
    sideways = np.stack([trial.sideways / trial.strength.sideways for trial in found])
    axial = compression / np.stack([trial.strength.axial for trial in found])
    euler = np.stack([trial.strength.critical for trial in found], axis=1)

    def used(factor: Array) -> Array:
        up, side = (amplification(factor * compression, each) for each in euler)
        return interaction(factor * axial, factor * (up * vertical + side * sideways))

    high = np.minimum(straight_factor(axial, vertical + sideways), CAP)
    low = high / STEEPEST
    with np.errstate(invalid="ignore", over="ignore"):
        low = np.where(used(high) <= 1.0, high, low)
        for _ in range(22):
            middle = np.sqrt(low * high)
            within = used(middle) <= 1.0
            low, high = np.where(within, middle, low), np.where(within, high, middle)
    return low


def straight_factor(axial: Array, bending: Array) -> Array:
    """Return the factor at which H1 is used up if moments did not grow: each branch of the interaction solved for it."""
    steep, flat = axial + 8 / 9 * bending, axial / 2 + bending
    first = 1 / np.maximum(steep, 1e-9)
    return np.where(first * axial >= 0.2, first, 1 / np.maximum(flat, 1e-9))


def unchecked(outcome: SolvedCase, member: Member, line: MemberForces) -> Iterator[Open]:
    """Yield the sections of a member that the rules do not cover."""
    for section, at in distinct_sections(line):
        reason = reason_of(outcome, member, section, first_within(line, at))
        if reason:
            yield left_open(Thing.MEMBER, member.name, Question.MEMBER_BUCKLING, reason)
