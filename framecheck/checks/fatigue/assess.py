"""Damage of one detail of a member under a duty, at its worst point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.at_kinks import LegAtKink
from framecheck.checks.concentration import fatigue_factor, notch_sensitivity, rail_factor
from framecheck.checks.fatigue import base_metal, sn
from framecheck.checks.fatigue.counting import Block
from framecheck.checks.fatigue.swings import Swings, swings_of, with_kinks
from framecheck.checks.stretches import gathered, on_side
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.duty import BaseMetal, Detail, PartialFactors, StressKind
from framecheck.model.frame import Member
from framecheck.model.materials import Material
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties
from framecheck.stress import Components, components, narrowed
from framecheck.value_class import value_class

AT_ONCE = 1_000_000
"""Blocks times places that are counted at once: some twenty arrays of 8 MB. A long record has thousands of blocks."""


@value_class
class Worst:
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
class Spot:
    """Where a detail sits: stations (m), side, and the stress concentration counted there."""

    start: float
    end: float
    side: Side | None
    concentration: float
    net: bool


def spot_of(detail: Detail, member: Member, line: MemberForces, material: Material) -> Spot | None:
    """Return where a detail sits; at a notch, its corner with Kf = 1 + q (Kt - 1). None: no fit gives the corner's factor."""
    cut = next((each for each in member.cuts if each.name == detail.cut), None)
    if cut is None:
        end = min(detail.end, float(line.stations[-1]))
        side = None if detail.side is None else member.orientation.own_side(detail.side)
        return Spot(min(detail.start, end), end, side, detail.concentration, False)
    start, end = cut.at - cut.length / 2, cut.at + cut.length / 2
    section = min((each for each, _, _ in gathered(line, start, end)), key=lambda each: each.area, default=None)
    if section is None or cut.corner_radius <= 0:
        return None
    left = section.box[3] - section.box[2] if cut.side in (Side.TOP, Side.BOTTOM) else section.box[1] - section.box[0]
    radius = np.array(cut.corner_radius)
    stress_factor = rail_factor(np.array(cut.depth), radius, left + cut.depth)
    factor = float(fatigue_factor(stress_factor, notch_sensitivity(material.ultimate_strength, radius)))
    return None if np.isnan(factor) else Spot(start, end, cut.side, factor * detail.concentration, True)


def worst_point(
    detail: Detail,
    spot: Spot,
    line: tuple[MemberForces, Sequence[LegAtKink]],
    blocks: Sequence[Block],
    metal: tuple[PartialFactors, float],
) -> Worst | None:
    """Return the worst point of a detail; line: its member's forces and kinks; metal: (partial factors, tensile strength).

    None: no stress is known there.
    """
    found = [
        worst_of_piece(detail, spot, (piece, line[1]), blocks, metal)
        for piece in pieces(spot, line[0])
        if piece[0].fields is not None
    ]
    return max(found, key=lambda each: (each.damage, each.range), default=None)


Piece = tuple[SectionProperties, Array, Array]


def pieces(spot: Spot, line: MemberForces) -> Iterator[Piece]:
    """Yield the pieces of the member in the spot: at a notch only those of the net section, which is the smallest."""
    found = gathered(line, spot.start, spot.end)
    least = min((section.area for section, _, _ in found), default=0.0)
    for piece in found:
        if not spot.net or piece[0].area <= least * (1 + 1e-9):
            yield piece


def worst_of_piece(
    detail: Detail,
    spot: Spot,
    of: tuple[Piece, Sequence[LegAtKink]],
    blocks: Sequence[Block],
    metal: tuple[PartialFactors, float],
) -> Worst:
    """Return the worst point of one piece of a member with kinks."""
    (section, stations, forces), kinks = of
    fields = section.fields
    if fields is None:
        raise ValueError(f"section {section.name} has no stress fields")
    stress = components(narrowed(fields, on_side(section, fields, spot.side)), forces)
    parts = places_of(stress, stations, len(blocks))
    found = [worst_of_places(detail, spot.concentration, (*part, kinks), blocks, metal) for part in parts]
    worst = max(found, key=lambda each: each.damage + 1e-30 * each.range)
    return replace(worst, unread=max(each.unread for each in found))


def places_of(stress: Components, stations: Array, blocks: int) -> Iterator[tuple[Components, Array]]:
    """Yield a stress and its stations in parts of so few places that all blocks of a duty fit into memory there, in their order."""
    points, at_once = stress.normal.shape[-1], max(1, AT_ONCE // max(blocks, 1))
    wide, high = min(points, at_once), max(1, at_once // points)
    for row in range(0, len(stations), high):
        for point in range(0, points, wide):
            rows, columns = slice(row, row + high), slice(point, point + wide)
            yield Components(stress.normal[rows, :, columns], stress.shear[rows, :, columns]), stations[rows]


def worst_of_places(
    detail: Detail,
    concentration: float,
    of: tuple[Components, Array, Sequence[LegAtKink]],
    blocks: Sequence[Block],
    metal: tuple[PartialFactors, float],
) -> Worst:
    """Return the worst of some places of a piece."""
    stress, stations, kinks = of
    straight = swings_of(stress, blocks)
    found = with_kinks(straight, stations, kinks, blocks).times(concentration)
    cycles = np.array([block.cycles for block in blocks])
    total = damage(detail, found, cycles, metal)
    k, point = (int(each) for each in np.unravel_index(int(np.argmax(total + 1e-30 * found.largest)), total.shape))
    one_by_one = found.one_by_one(k, point)
    each = cycles * damage(detail, one_by_one, np.ones(1), metal)
    most = int(np.argmax(each if each.max() > 0 else one_by_one.largest))
    unread = float(found.shear.max() if reads_normal(detail) else found.normal.max()) if lacks_class(detail) else 0.0
    largest = float(found.largest[k, point])
    raised = largest / float(straight.largest[k, point]) if kinks and straight.largest[k, point] > 0.0 else concentration
    return Worst(float(total[k, point]), float(stations[k]), largest, blocks[most].name, raised, unread)


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
        return base_metal.damage(stress.times(factors.load), cycles, detail.resistance, (ultimate, factors.strength))
    counted = stress.times(factors.load * factors.strength)
    classes = (detail.resistance,) if detail.beside is None else (detail.resistance, detail.beside)
    read = {StressKind.NORMAL: counted.normal, StressKind.SHEAR: counted.shear}
    return sn.damage_together([(read[each.stress], each) for each in classes], cycles)
