"""Every length over which a member may buckle, tried under all bounds side by side: what it bears and what it carries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache

import numpy as np

from framecheck.checks.heat import strengths_of
from framecheck.checks.lateral_buckling.curves import MetalKind, amplification, kind_of
from framecheck.checks.lateral_buckling.elastic import bounding_shapes, is_alike_both_ways, moment_shape
from framecheck.checks.lateral_buckling.lengths import (
    Brackets,
    Chain,
    ChainLine,
    Known,
    Meeting,
    Unbraced,
    brackets_of,
    chains_of,
    line_of,
    members_at,
    unbraced_lengths,
)
from framecheck.checks.lateral_buckling.strengths import (
    LengthStrength,
    Shapes,
    Stiffness,
    held_by_frame,
    left_by_height,
    softened,
    stiffness_along,
    strength,
    turned_shapes,
    turned_strength,
    ways,
)
from framecheck.checks.member_rows import distinct_sections, first_within
from framecheck.checks.wall_rules import metal_of, reason_against
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.case import Case
from framecheck.model.frame import Member
from framecheck.section.properties import SectionProperties
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class, value_class


@array_class
class LateralTrial:
    """One section of one part of a member, with its strengths; all (n_bound x n_case,), bound after bound.

    compression: the largest over the part, N; vertical, sideways: moments acting together at `station` (m), Nm. turned: the
    strength if the same moments were reversed.
    """

    part: Unbraced
    metal: MetalKind
    compression: Array
    vertical: Array
    sideways: Array
    strength: LengthStrength
    turned: LengthStrength
    station: Array


@array_class
class ChainRun:
    """A chain under all bounds. soft (n_station,): the share of the yield strength that welding leaves. grows (n_bound x n_case,): by
    how much the loads may grow until the frame buckles, 0 where that is not known; None where it is known nowhere.
    """

    line: ChainLine
    soft: Array
    brackets: Brackets
    grows: Array | None


@array_class
class LoadedPart:
    """A part of a chain: the stations in it (n_station,), what resists, the largest compression (n_column,), N, the largest moments
    both ways (n_column, 2), Nm, and their shapes.
    """

    inside: BoolArray
    stiff: Stiffness
    compression: Array
    most: Array
    shapes: tuple[Shapes, Shapes]


@value_class
class PartSection:
    """A section in a part of a chain, and its metal: its strength is the same for every member of the chain."""

    part: Unbraced
    section: SectionProperties
    metal: MetalKind


@array_class
class CoveredSection:
    """A section of a member that the rules cover; at: which of the chain's stations are the member's and have it, (n_station,)."""

    section: SectionProperties
    at: BoolArray
    metal: MetalKind


def trials_by_member(outcome: SolvedCase) -> list[tuple[LateralTrial, ...]]:
    """Return every section of every part of each member, in the frame's order."""
    frame = outcome.case.frame
    meeting, found = members_at(frame), dict[int, tuple[LateralTrial, ...]]()
    for chain in dict.fromkeys(chains_of(frame).values()):
        found |= trials_of_chain(outcome, chain, run_of(outcome, chain, meeting))
    return [found[number] for number in range(len(frame.members))]


def run_of(outcome: SolvedCase, chain: Chain, meeting: Meeting) -> ChainRun:
    """Return a chain of members under all bounds side by side."""
    frame, lines = outcome.case.frame, outcome.solutions[0].members
    line = line_of(frame, outcome.solutions, chain)
    soft = [strengths_of(outcome, frame.members[each], lines[each]).share for each in chain.members]
    turned = [share[:: -1 if back else 1] for share, back in zip(soft, chain.backward, strict=True)]
    brackets = brackets_of(frame, chain, meeting, float(line.stations[-1]), float(line.stations[0]))
    return ChainRun(line, np.concatenate(turned), brackets, frame_grows(outcome))


def frame_grows(outcome: SolvedCase) -> Array | None:
    """Return by how much the loads may grow until the frame buckles under each bound, (n_bound x n_case,); see ChainRun."""
    known = [bool(each.settled.all()) for each in outcome.buckling]
    if not any(known):
        return None
    return np.concatenate([each.factors if is_known else np.zeros(len(each.factors))
                           for each, is_known in zip(outcome.buckling, known, strict=True)])  # fmt: skip


def trials_of_chain(outcome: SolvedCase, chain: Chain, run: ChainRun) -> Mapping[int, tuple[LateralTrial, ...]]:
    """Return the trials of each member of a chain; what they share is worked out once."""

    @cache
    def loaded(part: Unbraced) -> LoadedPart:
        return loaded_part(run.line, part)

    @cache
    def strengths(of: PartSection) -> tuple[LengthStrength, LengthStrength]:
        return strengths_in(run, of, loaded(of.part))

    def trials_of(number: int) -> Iterator[LateralTrial]:
        line, mine = run.line, run.line.owner == number
        known = tuple(covered_sections(outcome, number, line, mine))
        for part in parts_near(outcome.case, outcome.case.frame.members[number], run, mine):
            for each in known:
                at, of = inside(line, part) & each.at, PartSection(part, each.section, each.metal)
                if np.count_nonzero(at) > 1:
                    yield at_worst_station(line, of, at, loaded(part).compression, strengths(of))

    return {number: tuple(trials_of(number)) for number in chain.members}


def parts_near(case: Case, member: Member, run: ChainRun, mine: BoolArray) -> Iterator[Unbraced]:
    """Yield the parts of a chain that two and more of a member's stations lie in; mine (n_station,): the member's."""
    own = run.line.stations[mine]
    low, high = float(own.min()) - EDGE, float(own.max()) + EDGE
    for part in unbraced_lengths(case, member, run.brackets):
        if part.start <= high and part.end >= low and np.count_nonzero(inside(run.line, part) & mine) > 1:
            yield part


EDGE = 1e-6
"""m; a station this near to the end of a part belongs to it."""


def covered_sections(outcome: SolvedCase, number: int, line: ChainLine, mine: BoolArray) -> Iterator[CoveredSection]:
    """Yield the sections of a member that the rules cover; line: its chain's, mine: what of it is the member's."""
    member, own = outcome.case.frame.members[number], outcome.solutions[0].members[number]
    for section, at in distinct_sections(own):
        station = first_within(own, at)
        if is_covered(outcome, member, section, station):
            of_chain = mine & np.array([each is section for each in line.sections])
            metal = kind_of(metal_of(outcome.case.frame, member, section, station).kind)
            yield CoveredSection(section, of_chain, metal)


def inside(line: ChainLine, part: Unbraced) -> BoolArray:
    """Return which of a chain's stations, (n_station,), are in a part of it."""
    return (line.stations >= part.start - EDGE) & (line.stations <= part.end + EDGE)


def loaded_part(line: ChainLine, part: Unbraced) -> LoadedPart:
    """Return what acts along one part of a chain."""
    within = inside(line, part)
    forces, stations = line.forces[within], line.stations[within]
    sections = tuple(line.sections[each] for each in np.flatnonzero(within).tolist())
    compression = np.maximum(-forces[..., 0], 0.0).max(axis=0, initial=0.0)
    most = np.abs(forces[..., 4:6]).max(axis=0, initial=0.0)
    return LoadedPart(within, stiffness_along(stations, sections), compression, most, shapes_of(stations, forces, part))


def strengths_in(run: ChainRun, of: PartSection, loaded: LoadedPart) -> tuple[LengthStrength, LengthStrength]:
    """Return the strengths of a section in a part of a chain: as it is bent, and with the moments reversed."""
    part, section, metal = of.part, of.section, of.metal
    plain = holds = strength(section, loaded.stiff, part, loaded.shapes, metal)
    both = ways(section, loaded.stiff)
    alike = all(is_alike_both_ways(bent) for bent in both)
    other = plain if alike else strength(section, loaded.stiff, part, turned_shapes(loaded.shapes), metal)
    if run.grows is not None and part.known is not Known.STATED:
        heights = (left_by_height(bent, part.lateral, shape) for bent, shape in zip(both, loaded.shapes, strict=True))
        vertical, sideways = (run.grows * each * left for each, left in zip(loaded.most.T, heights, strict=True))
        holds = held_by_frame(holds, section, metal, (run.grows * loaded.compression, vertical, sideways))
    hot = loaded.inside & (run.soft < 1.0)
    if hot.any():
        holds = softened(holds, (run.line.stations[hot] - part.start) / (part.end - part.start), run.soft[hot])
    return holds, turned_strength(holds, plain, other)


def at_worst_station(
    line: ChainLine, of: PartSection, at: BoolArray, compression: Array, strengths: tuple[LengthStrength, LengthStrength]
) -> LateralTrial:
    """Return the trial at the station whose moments use most, in each load case; at (n_station,): of one section in the part.

    strengths: as it is bent, and with the moments reversed.
    """
    holds, turned = strengths
    moments = np.abs(line.forces[at][..., 4:6])
    with np.errstate(divide="ignore"):
        grown = [np.minimum(amplification(compression, critical), 1e6) for critical in holds.critical]
    used = grown[0] * moments[..., 0] / holds.vertical + grown[1] * moments[..., 1] / holds.sideways
    most, cases = np.argmax(used, axis=0), np.arange(moments.shape[1])
    vertical, sideways = moments[most, cases].T
    return LateralTrial(of.part, of.metal, compression, vertical, sideways, holds, turned, line.own[at][most])


def shapes_of(stations: Array, forces: Array, part: Unbraced) -> tuple[Shapes, Shapes]:
    """Return the shapes of the moments along a part, bent vertically and sideways; bounds of them where an end is not held.

    stations (n,), m, and forces (n, n_column, 9): of the part.
    """
    if not part.held:
        vertical, sideways = (bounding_shapes(forces[:, :, at], forces[:, :, shear], part.lateral) for at, shear in ((4, 2), (5, 1)))
        return vertical, sideways
    both = moment_shape(stations, *(np.concatenate((forces[:, :, i], forces[:, :, j]), axis=1) for i, j in ((4, 5), (2, 1))))
    first, second = both.parted()
    return (first,), (second,)


def is_covered(outcome: SolvedCase, member: Member, section: SectionProperties, station: float) -> bool:
    """Return whether the rules cover a section."""
    return not reason_of(outcome, member, section, station)


def reason_of(outcome: SolvedCase, member: Member, section: SectionProperties, station: float) -> str:
    """Return why a section is not covered, "" where it is: walls known."""
    return reason_against(outcome.case.frame, member, section, station)
