"""The check of members as columns and beams that may buckle as a whole: one row a member and load case."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil

import numpy as np

from framecheck.checks.heat import strengths_of
from framecheck.checks.joint_rows import Line
from framecheck.checks.lateral_buckling.curves import CURVES, MetalKind, amplification, interaction, kind_of
from framecheck.checks.lateral_buckling.elastic import bounding_shapes, is_alike_both_ways, moment_shape
from framecheck.checks.lateral_buckling.lengths import Chain, Known, Unbraced, chains_of, line_of, unbraced_lengths
from framecheck.checks.lateral_buckling.strengths import (
    Shapes,
    Strength,
    held_by_frame,
    is_lopsided,
    left_by_height,
    left_unsaid,
    softened,
    stiffness_along,
    strength,
    turned_shapes,
    turned_strength,
    ways,
)
from framecheck.checks.member_rows import distinct_sections, first_within
from framecheck.checks.wall_rules import metal_of, reason_against
from framecheck.frame.results import Bound, MemberForces
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Member
from framecheck.model.said import Words, joined, length, said
from framecheck.results.row import CAP, Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.section.properties import SectionProperties
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class

SOURCE = (
    "ANSI/AISC 360-22, H1 (both), app. 8 (B1, Cm = 1), on the elastic moment with Wagner's term, the moments as they run, loads "
    "between braces on the outline's worse side; first yield for the full moment; largest compression of the part with moments "
    "acting together"
)


@array_class
class LateralTrial:
    """One section of one part of a member under one bound, with its strengths; all (n_case,).

    compression: the largest over the part, N; vertical, sideways: moments acting together at `station` (m), Nm. turned: the
    strength if the same moments were reversed.
    """

    part: Unbraced
    metal: MetalKind
    bound: Bound
    compression: Array
    vertical: Array
    sideways: Array
    strength: Strength
    turned: Strength
    station: Array


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every member, worst part and bound, and what could not be checked."""
    members = outcome.case.frame.members
    chains = chains_of(outcome.case.frame)
    found = [tuple(trials(outcome, chains[number], number)) for number in range(len(members))]
    factors = split(found, largest_factors(tuple(trial for each in found for trial in each), len(outcome.loads)))
    lopsided = [tuple(other_way(each) for each in trials if is_lopsided(each.strength, each.turned)) for trials in found]
    turned = split(lopsided, largest_factors(tuple(trial for each in lopsided for trial in each), len(outcome.loads)))
    lines: list[Line] = []
    for number, member in enumerate(members):
        lines += rows(outcome, member, found[number], factors[number])
        lines += left_unsaid(outcome, member, factors[number].min(axis=0, initial=CAP), tuple(turned[number]))
        lines += unchecked(outcome, member, outcome.solutions[0].members[number])
    return tuple(lines)


def other_way(trial: LateralTrial) -> LateralTrial:
    """Return a trial as if its moments were reversed."""
    return replace(trial, strength=trial.turned)


def split(found: Sequence[tuple[LateralTrial, ...]], factors: Array) -> list[Array]:
    """Return the rows of factors (n_trial, n_case) member by member."""
    return np.split(factors, np.cumsum([len(each) for each in found])[:-1])


def rows(outcome: SolvedCase, member: Member, found: tuple[LateralTrial, ...], factors: Array) -> Iterator[CheckResult]:
    """Yield the worst trial of each load case; factors (n_trial, n_case)."""
    if not found:
        return
    subject = Subject(Thing.MEMBER, member.name)
    for number, loads in enumerate(outcome.loads):
        worst = int(np.argmin(factors[:, number]))
        trial, factor = found[worst], float(factors[worst, number])
        yield CheckResult(
            check=Check.BUCKLING,
            mode=Mode.MEMBER_BUCKLES,
            subject=subject,
            load_case=loads.name,
            demand=1 / factor,
            capacity=1.0,
            unit="1",
            target=outcome.case.targets.of(loads.name),
            source=f"{CURVES[trial.metal].source}; {SOURCE}",
            station=float(trial.station[number]),
            bound=trial.bound,
            note=worded(trial, number),
        )


def worded(trial: LateralTrial, number: int) -> Words:
    """Return what governs a trial in one load case, in words: the length, how it acts, what lateral buckling takes."""
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


def trials(outcome: SolvedCase, chain: Chain, number: int) -> Iterator[LateralTrial]:
    """Yield every section of every part of a member, by its place in the frame, under every bound; chain: what it is part of."""
    frame = outcome.case.frame
    for bound, solution in enumerate(outcome.solutions):
        run = line_of(frame, solution, chain)
        soft = [strengths_of(outcome, frame.members[each], solution.members[each]).share for each in chain.members]
        turned = [share[:: -1 if back else 1] for share, back in zip(soft, chain.backward, strict=True)]
        mine, member = run.owner == number, frame.members[number]
        known = tuple(covered_sections(outcome, member, solution.members[number], (run.line, mine)))
        seen = ChainMember(outcome, member, run.line, mine, run.own, bound, np.concatenate(turned), known)
        stations = run.line.stations
        for part in unbraced_lengths(outcome.case, chain, seen.member, float(stations[-1]), float(stations[0])):
            inside = (stations >= part.start - 1e-6) & (stations <= part.end + 1e-6)
            if np.count_nonzero(inside & seen.mine) > 1:
                yield from part_trials(seen, part, inside)


@array_class
class CoveredSection:
    """A section of a member that the rules cover; at: which of the chain's stations are the member's and have it, (n_station,)."""

    section: SectionProperties
    at: BoolArray
    metal: MetalKind


@array_class
class ChainMember:
    """A member under one bound, by its number, and the chain it is part of. Of the chain's stations, (n_station,): mine: which are the
    member's, own: where along it, m, soft: the share of the yield strength that welding leaves. sections: those of the member.
    """

    outcome: SolvedCase
    member: Member
    line: MemberForces
    mine: BoolArray
    own: Array
    bound: int
    soft: Array
    sections: Sequence[CoveredSection]

    def buckles_at(self) -> Array | None:
        """Return by how much the loads may grow until the frame buckles, (n_case,); None where that is not known."""
        known = self.outcome.buckling
        return known[self.bound].factors if known and known[self.bound].settled.all() else None


def covered_sections(
    outcome: SolvedCase, member: Member, own: MemberForces, chain: tuple[MemberForces, BoolArray]
) -> Iterator[CoveredSection]:
    """Yield the sections of a member that the rules cover; own: its line, chain: that of its chain, and what of it is own."""
    line, mine = chain
    places = dict(distinct_sections(own))
    for section in dict.fromkeys(line.sections):
        if section not in places:
            continue
        station = first_within(own, places[section])
        if is_covered(outcome, member, section, station):
            at = mine & np.array([each is section for each in line.sections])
            yield CoveredSection(section, at, kind_of(metal_of(outcome.case.frame, member, section, station).kind))


def part_trials(seen: ChainMember, part: Unbraced, inside: BoolArray) -> Iterator[LateralTrial]:
    """Yield the trials of one part, one a section that the rules cover; inside (n_station,): the stations in the part."""
    line = seen.line
    first, last = np.flatnonzero(inside)[[0, -1]].tolist()
    stiff = stiffness_along(line.stations[inside], line.sections[first : last + 1])
    compression = np.maximum(-line.forces[inside, :, 0], 0.0).max(axis=0)
    most = np.abs(line.forces[inside][..., 4:6]).max(axis=0)
    shapes, factor = shapes_of(line, part, inside), seen.buckles_at()
    for known in seen.sections:
        section, metal, at = known.section, known.metal, inside & known.at
        if np.count_nonzero(at) < 2:
            continue
        plain = holds = strength(section, stiff, part, shapes, metal)
        alike = all(is_alike_both_ways(bent) for bent in ways(section, stiff))
        other = plain if alike else strength(section, stiff, part, turned_shapes(shapes), metal)
        if factor is not None and part.known is not Known.STATED:
            heights = (left_by_height(bent, part.lateral, shape) for bent, shape in zip(ways(section, stiff), shapes, strict=True))
            vertical, sideways = (factor * each * left for each, left in zip(most.T, heights, strict=True))
            holds = held_by_frame(holds, section, metal, (factor * compression, vertical, sideways))
        hot = inside & (seen.soft < 1.0)
        holds = softened(holds, (line.stations[hot] - part.start) / (part.end - part.start), seen.soft[hot])
        yield at_worst_station(seen, part, metal, at, compression, (holds, turned_strength(holds, plain, other)))


def at_worst_station(
    seen: ChainMember, part: Unbraced, metal: MetalKind, at: BoolArray, compression: Array, strengths: tuple[Strength, Strength]
) -> LateralTrial:
    """Return the trial at the station whose moments use most, in each load case; at (n_station,): of one section in the part.

    strengths: as it is bent, and with the moments reversed.
    """
    holds, turned = strengths
    moments = np.abs(seen.line.forces[at][..., 4:6])
    with np.errstate(divide="ignore"):
        grown = [np.minimum(amplification(compression, critical), 1e6) for critical in holds.critical]
    used = grown[0] * moments[..., 0] / holds.vertical + grown[1] * moments[..., 1] / holds.sideways
    most, cases = np.argmax(used, axis=0), np.arange(moments.shape[1])
    vertical, sideways = moments[most, cases].T
    bound = seen.outcome.solutions[seen.bound].bound
    return LateralTrial(part, metal, bound, compression, vertical, sideways, holds, turned, seen.own[at][most])


def shapes_of(line: MemberForces, part: Unbraced, inside: BoolArray) -> tuple[Shapes, Shapes]:
    """Return the shapes of the moments along a part, bent vertically and sideways; bounds of them where an end is not held."""
    stations, forces = line.stations[inside], line.forces[inside]
    if not part.held:
        vertical, sideways = (bounding_shapes(forces[:, :, at], forces[:, :, shear], part.lateral) for at, shear in ((4, 2), (5, 1)))
        return vertical, sideways
    both = moment_shape(stations, *(np.concatenate((forces[:, :, i], forces[:, :, j]), axis=1) for i, j in ((4, 5), (2, 1))))
    first, second = both.parted()
    return (first,), (second,)


STEEPEST = 10.0
"""The most by which B1 can grow a moment before the column strength is used up: 1 / (1 - 0.877) = 8.2."""


def largest_factors(found: tuple[LateralTrial, ...], count: int) -> Array:
    """Return by how much all forces may grow in proportion, (n_trial, n_case), at most CAP; by halving, all trials at once."""
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


def is_covered(outcome: SolvedCase, member: Member, section: SectionProperties, station: float) -> bool:
    """Return whether the rules cover a section."""
    return not reason_of(outcome, member, section, station)


def reason_of(outcome: SolvedCase, member: Member, section: SectionProperties, station: float) -> str:
    """Return why a section is not covered, "" where it is: walls known."""
    return reason_against(outcome.case.frame, member, section, station)


def unchecked(outcome: SolvedCase, member: Member, line: MemberForces) -> Iterator[Open]:
    """Yield the sections of a member that the rules do not cover."""
    for section, at in distinct_sections(line):
        reason = reason_of(outcome, member, section, first_within(line, at))
        if reason:
            yield left_open(Thing.MEMBER, member.name, Question.MEMBER_BUCKLING, reason)
