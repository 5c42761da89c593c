"""Damage of one detail of a member under a duty, at its worst point."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from framecheck.checks.fatigue import sn
from framecheck.checks.fatigue.stretch import (
    StretchOfDetail,
    WholeSwings,
    parts_of,
    stretch_of,
    swings_at,
    whole_swings,
)
from framecheck.checks.fatigue.swings import Spectra, Swings, coarser, worse
from framecheck.checks.formulas.stress_concentration import fatigue_factor, notch_sensitivity, rail_factor
from framecheck.checks.kinks import LegAtKink
from framecheck.checks.member_stress import gathered, on_side
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, IntArray
from framecheck.model.duty import BaseMetal, Detail, DetailClass, PartialFactors, StressKind
from framecheck.model.frame import Member
from framecheck.model.shapes import Side
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties
from framecheck.surface_stress import narrowed
from framecheck.value_class import value_class

AT_ONCE = 1_000_000
"""Swings times places that are counted at once: some twenty arrays of 8 MB. A long record has thousands of swings."""


@value_class
class WorstOfDetail:
    """The worst point of a detail under one bound.

    damage: Miner's sum per km or year; station: m; range: the largest range there, Pa (of normal stress, or sqrt(3) times that of
    shear), concentration counted, partial factors not; event: the block that damages most (the largest range where none does);
    concentration: the factor counted.
    unread: the largest range, Pa, of a stress that no class is known for.
    """

    damage: float
    station: float
    range: float
    event: str
    concentration: float
    unread: float = 0.0


@value_class
class DetailPlace:
    """Where a detail sits: stations (m), side, and the stress concentration counted there."""

    start: float
    end: float
    side: Side | None
    concentration: float
    net: bool


def spot_of(detail: Detail, member: Member, line: MemberForces, material: Material) -> DetailPlace | None:
    """Return where a detail sits; at a notch, its corner with Kf = 1 + q (Kt - 1). None: no fit gives the corner's factor."""
    cut = next((each for each in member.cuts if each.name == detail.cut), None)
    if cut is None:
        end = min(detail.end, float(line.stations[-1]))
        side = None if detail.side is None else member.orientation.own_side(detail.side)
        return DetailPlace(min(detail.start, end), end, side, detail.concentration, False)
    start, end = cut.at - cut.length / 2, cut.at + cut.length / 2
    section = min((each for each, _, _ in gathered(line, start, end)), key=lambda each: each.area, default=None)
    if section is None or cut.corner_radius <= 0:
        return None
    left = section.box[3] - section.box[2] if cut.side in (Side.TOP, Side.BOTTOM) else section.box[1] - section.box[0]
    radius = np.array(cut.corner_radius)
    stress_factor = rail_factor(np.array(cut.depth), radius, left + cut.depth)
    factor = float(fatigue_factor(stress_factor, notch_sensitivity(material.ultimate_strength, radius)))
    return None if np.isnan(factor) else DetailPlace(start, end, cut.side, factor * detail.concentration, True)


Piece = tuple[SectionProperties, Array, Array]


def worst_point(
    detail: Detail,
    spot: DetailPlace,
    line: tuple[Iterable[Piece], Sequence[LegAtKink]],
    spectra: Spectra,
    metal: tuple[PartialFactors, float],
) -> WorstOfDetail | None:
    """Return the worst point of a detail; line: pieces of its member with their forces, and its kinks; metal: (partial factors,
    tensile strength).

    None: no stress is known there.
    """
    found = [
        worst_of_piece(detail, spot, (piece, line[1]), spectra, metal)
        for piece in line[0]
        if piece[0].fields is not None
    ]
    return max(found, key=lambda each: (each.damage, each.range), default=None)


def pieces(spot: DetailPlace, line: MemberForces) -> Iterator[Piece]:
    """Yield the pieces of the member in the spot: at a notch only those of the net section, which is the smallest."""
    found = gathered(line, spot.start, spot.end)
    least = min((section.area for section, _, _ in found), default=0.0)
    for piece in found:
        if not spot.net or piece[0].area <= least * (1 + 1e-9):
            yield piece


def worst_of_piece(
    detail: Detail,
    spot: DetailPlace,
    of: tuple[Piece, Sequence[LegAtKink]],
    spectra: Spectra,
    metal: tuple[PartialFactors, float],
) -> WorstOfDetail:
    """Return the worst point of one piece of a member with kinks."""
    (section, stations, forces), kinks = of
    fields = section.fields
    if fields is None:
        raise ValueError(f"section {section.name} has no stress fields")
    on = narrowed(fields, on_side(section, fields, spot.side))
    whole = stretch_of((on, stations, forces), spot.concentration, kinks, spectra)
    found = [worst_of_places(detail, part, spectra, metal) for part in parts_of(whole, AT_ONCE)]
    worst = found[first_of_most([each.damage for each in found], [each.range for each in found])]
    return replace(worst, unread=max(each.unread for each in found))


ALIKE = 1e-12
"""Damages that differ by less are one: which of two places is called the worst must not hang on rounding."""


def first_of_most(damages: ArrayLike, ranges: ArrayLike) -> int:
    """Return which place is damaged most, or swings most where none is damaged; of equals the first."""
    judged = next((each for each in (np.asarray(damages), np.asarray(ranges)) if each.max() > 0.0), np.zeros(1))
    return int(np.argmax(judged >= judged.max() * (1 - ALIKE)))


def worst_of_places(
    detail: Detail, stretch: StretchOfDetail, spectra: Spectra, metal: tuple[PartialFactors, float]
) -> WorstOfDetail:
    """Return the worst of all places of a stretch."""
    whole = whole_swings(stretch)
    largest = whole.largest(spectra)
    place = np.array([first_of_most(damages(detail, stretch, whole, spectra, metal), largest)])
    at_place = swings_at(stretch, spectra, place)
    of_swings = damage(detail, at_place.one_by_one(), np.ones(1), metal) * spectra.cycles
    total = float(damage(detail, at_place, spectra.cycles, metal)[0])
    size = float(largest[place[0]])
    straight = float(swings_at(stretch.straight(), spectra, place).largest[0]) if stretch.legs else 0.0
    raised = size / straight if straight > 0.0 else stretch.factor
    event = spectra.names[first_of_most(of_swings, at_place.one_by_one().largest)]
    station = float(stretch.stations[place[0] // len(stretch.fields.points)])
    return WorstOfDetail(total, station, size, event, raised, unread(detail, whole, spectra))


def unread(detail: Detail, whole: WholeSwings, spectra: Spectra) -> float:
    """Return the largest range, Pa, of a stress of a detail that no class is known for."""
    if not lacks_class(detail):
        return 0.0
    ranges = whole.shear if reads_normal(detail) else whole.normal
    return float((spectra.widest[:, None] * ranges).max())


def reads_normal(detail: Detail) -> bool:
    """Return whether the detail's class is for the normal stress."""
    return isinstance(detail.resistance, BaseMetal) or detail.resistance.stress is StressKind.NORMAL


def lacks_class(detail: Detail) -> bool:
    """Return whether one kind of stress of a detail has no class to be read with."""
    return not isinstance(detail.resistance, BaseMetal) and detail.beside is None


def damage(detail: Detail, stress: Swings, cycles: Array, metal: tuple[PartialFactors, float]) -> Array:
    """Return Miner's sum per km or year, (...,), partial factors counted; metal: (partial factors, tensile strength)."""
    factors, ultimate = metal
    if isinstance(detail.resistance, BaseMetal):
        return sn.damage_of_base_metal(stress.times(factors.load), cycles, detail.resistance, (ultimate, factors.strength))
    counted = stress.times(factors.load * factors.strength)
    read = {StressKind.NORMAL: counted.normal, StressKind.SHEAR: counted.shear}
    classes = classes_of(detail.resistance, detail.beside)
    return sn.damage_together([(read[each.stress], each) for each in classes], cycles)


def classes_of(resistance: DetailClass, beside: DetailClass | None) -> tuple[DetailClass, ...]:
    """Return the classes that a detail is read with."""
    return (resistance,) if beside is None else (resistance, beside)


def damages(
    detail: Detail, stretch: StretchOfDetail, whole: WholeSwings, spectra: Spectra, metal: tuple[PartialFactors, float]
) -> Array:
    """Return Miner's sum at all places of a stretch, (n_place,); 0 at those that are seen not to be the worst."""
    factors, _ = metal
    if isinstance(detail.resistance, BaseMetal):
        return at_worst_places(detail, stretch, spectra, metal)
    factor = factors.load * factors.strength
    read = {StressKind.NORMAL: factor * whole.normal, StressKind.SHEAR: factor * whole.shear}
    classes = classes_of(detail.resistance, detail.beside)
    return sn.damage_of_spectra([(read[each.stress], each) for each in classes], spectra)


REFINED = (1, 8, 64)
"""Into how many swings a spectrum is joined, try by try, to see which places can't be the worst."""


def at_worst_places(detail: Detail, stretch: StretchOfDetail, spectra: Spectra, metal: tuple[PartialFactors, float]) -> Array:
    """Return Miner's sum of unwelded metal, (n_place,), 0 at places that can't be the worst.

    Its mean stress differs from swing to swing, so that each swing counts by itself; a long record is first looked at with its swings
    joined to fewer and worse ones (`coarser`), which leaves few places.
    """
    places = np.arange(len(stretch.stations) * len(stretch.fields.points))
    total = np.zeros(len(places))
    for parts in REFINED:
        if len(places) * len(spectra.of) <= AT_ONCE:
            break
        most = at_places(detail, stretch, coarser(spectra, parts), metal, places)
        if most.max() <= 0.0:
            return total
        least = at_places(detail, stretch, (spectra,), metal, places[[int(np.argmax(most))]])
        places = places[most >= float(least[0]) * (1 - ALIKE)]
    total[places] = at_places(detail, stretch, (spectra,), metal, places)
    return total


def at_places(
    detail: Detail, stretch: StretchOfDetail, between: Sequence[Spectra], metal: tuple[PartialFactors, float], places: IntArray
) -> Array:
    """Return Miner's sum at some places, (n_place,), so many at once as fit into memory.

    between: spectra that differ in their middles alone; of the stress under each the worse counts.
    """
    cycles = between[0].cycles
    together = max(1, AT_ONCE // len(cycles))
    pieces = [places[first : first + together] for first in range(0, len(places), together)]
    worst = (worse([swings_at(stretch, each, piece) for each in between]) for piece in pieces)
    return np.concatenate([damage(detail, stress, cycles, metal) for stress in worst])
