"""What a section can carry against buckling over a length: axially, bent vertically, bent sideways; sections that hold one way up
and not the other.

A load case is written one way, and a frame on the road is bent both ways: what the file does not say is left open, not passed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from math import pi, sqrt

import numpy as np

from framecheck.checks.effective import effective, most_used, wall_state
from framecheck.checks.lateral_buckling.curves import (
    CURVES,
    MetalKind,
    coupled_stress,
    flexural_stress,
    torsional_stress,
)
from framecheck.checks.lateral_buckling.elastic import (
    BendingWay,
    Bent,
    MomentShape,
    bent_of,
    critical_factor,
    critical_moment,
)
from framecheck.checks.lateral_buckling.lengths import Unbraced
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Member
from framecheck.results.subjects import Open, Question, Thing, left_open
from framecheck.section.properties import SectionProperties
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class, value_class

Shapes = tuple[MomentShape, ...]
"""Moments along a length as they are, or the shapes that bound them."""


@value_class
class Stiffness:
    """What resists buckling over a length: E Iv, E Is (N m2), G J (N m2), E Cw (N m4)."""

    vertical: float
    sideways: float
    torsion: float
    warping: float


@value_class
class Full:
    """What a section carries where it does not buckle as a whole, Nm bent vertically and sideways."""

    vertical: float
    sideways: float


@array_class
class LengthStrength:
    """Nominal strengths over a length, (n_case,): axial, N; vertical, sideways, Nm. critical (2, n_case): Euler loads vertically,
    sideways, N. squash, full: what is left of each without buckling as a whole. shorter: the share of its length over which the frame
    is found to let it buckle as a column, 1 where that is the whole, (n_case,).
    """

    axial: Array
    vertical: Array
    sideways: Array
    critical: Array
    squash: float
    full: Full
    shorter: Array

    @property
    def left(self) -> Array:
        """Return the share of the moment at first yield that lateral buckling leaves, (n_case,)."""
        return np.asarray(np.minimum(self.vertical / self.full.vertical, self.sideways / self.full.sideways))


def stiffness_of(section: SectionProperties) -> Stiffness:
    """Return the stiffness of one section."""
    e, g = section.youngs_modulus, section.shear_modulus
    return Stiffness(e * section.i_vertical, e * section.i_sideways, g * section.torsion_constant, e * section.warping_constant)


def stiffness_along(stations: Array, sections: tuple[SectionProperties, ...]) -> Stiffness:
    """Return the even stiffness that stands for sections changing along a length; stations (n,), m.

    Bending: 1 / EI = (2 / L) integral of sin2(pi x / L) / (E I) dx, the energy of a half sine wave with M = P y (S. Timoshenko,
    energy method). Twist and warping: the same with an even weight.
    """
    parts = list(dict.fromkeys(sections))
    if len(parts) == 1:
        return stiffness_of(parts[0])
    place = (stations - stations[0]) / max(stations[-1] - stations[0], 1e-12)
    weight = np.diff(place - np.sin(2 * pi * place) / (2 * pi))
    each = [stiffness_of(section) for section in sections[:-1]]

    def mean(values: list[float], weights: Array) -> float:
        return 0.0 if min(values) <= 0 else float(weights.sum() / (weights @ (1 / np.array(values))))

    even = np.diff(place)
    return Stiffness(
        mean([one.vertical for one in each], weight),
        mean([one.sideways for one in each], weight),
        mean([one.torsion for one in each], even),
        mean([one.warping for one in each], even),
    )


@lru_cache(maxsize=512)
def full_strength(section: SectionProperties) -> Full:
    """Return what the section carries bent, with only its walls buckling: first yield of the effective section, EN 1993-1-5:2006,
    4.4, the worse of both ways. No plastic moment is counted.
    """
    if section.fields is None:
        return Full(0.0, 0.0)
    unit = np.zeros((4, 9))
    unit[:2, 4], unit[2:, 5] = (1.0, -1.0), (1.0, -1.0)
    left = effective(section, wall_state(section, unit))
    stress, holds = most_used(section, unit, left)
    used = stress / holds
    return Full(float(1 / used[:2].max()), float(1 / used[2:].max()))


@lru_cache(maxsize=2048)
def column_strength(section: SectionProperties, stiff: Stiffness, part: Unbraced, metal: MetalKind) -> float:
    """Return the axial strength over a length, N: Fcr Ae, the walls' effective area taken at Fcr.

    ANSI/AISC 360-22, eq. (E7-1), with the effective widths of EN 1993-1-5:2006, 4.4; other metals on their own curves.
    """
    elastic = np.array([elastic_stress(section, stiff, part)])
    stress = float(CURVES[metal].column(section.yield_strength, elastic)[0])
    return stress * squeezed_area(section, stress)


@lru_cache(maxsize=2048)
def squeezed_area(section: SectionProperties, stress: float) -> float:
    """Return the effective area of a section squeezed evenly, its walls as slender as at a stress (Pa), m2."""
    squeezed = np.zeros(9)
    squeezed[0] = -1.0
    return float(effective(section, wall_state(section, squeezed, stress)).area)


def elastic_stress(section: SectionProperties, stiff: Stiffness, part: Unbraced) -> float:
    """Return the lowest elastic buckling stress of the column, Pa: bending either way and twist, coupled."""
    area, (y, z) = section.area, section.shear_centre
    polar = sqrt(y**2 + z**2 + (section.i_vertical + section.i_sideways) / area)
    e = section.youngs_modulus
    vertical = flexural_stress(e, part.vertical, sqrt(stiff.vertical / e / area))
    sideways = flexural_stress(e, part.sideways, sqrt(stiff.sideways / e / area))
    twist = torsional_stress((stiff.warping, stiff.torsion), part.lateral, area, polar)
    turned = section.i_product / sqrt(section.i_vertical * section.i_sideways)
    return coupled_stress((vertical, sideways, twist), (y, z), polar, turned * sqrt(vertical * sideways))


def lateral_moment(bent: Bent, length: float, full: float, shapes: Shapes, metal: MetalKind) -> Array:
    """Return what lateral buckling leaves of the full moment, (n_case,), Nm: the least over the shapes of moment given.

    Where there is no moment, that of an even one on the worse side.
    """
    most, least = shapes[0].most, min(critical_moment(bent, length, sign) for sign in (1.0, -1.0))
    critical = np.where(most > 0, np.minimum(least_factor(bent, length, shapes), 1e100) * most, least)
    return CURVES[metal].bent(full, critical)


def least_factor(bent: Bent, length: float, shapes: Shapes) -> Array:
    """Return the least by which the moments may grow, (n_case,), of the shapes given."""
    found = critical_factor(bent, length, shapes[0])
    for shape in shapes[1:]:
        found = np.minimum(found, critical_factor(bent, length, shape))
    return found


def ways(section: SectionProperties, stiff: Stiffness) -> tuple[Bent, Bent]:
    """Return what holds a section against giving way, bent vertically and sideways."""
    return (
        bent_of(section, (stiff.sideways, stiff.torsion, stiff.warping), BendingWay.VERTICALLY),
        bent_of(section, (stiff.vertical, stiff.torsion, stiff.warping), BendingWay.SIDEWAYS),
    )


def left_by_height(bent: Bent, length: float, shapes: Shapes) -> Array:
    """Return the share of the critical moment that the height of the loads between the ends leaves, (n_case,)."""
    high, low = (
        np.minimum(least_factor(each, length, shapes), 1e100) for each in (bent, replace(bent, above=0.0, below=0.0))
    )
    return np.asarray(high / low, dtype=np.float64)


def strength(
    section: SectionProperties, stiff: Stiffness, part: Unbraced, shapes: tuple[Shapes, Shapes], metal: MetalKind = MetalKind.STEEL
) -> LengthStrength:
    """Return the strengths of a section over a length; shapes: of the moments, bent vertically and sideways."""
    full, count = full_strength(section), len(shapes[0][0].most)
    vertical, sideways = (
        lateral_moment(bent, part.lateral, most, shape, metal)
        for bent, most, shape in zip(ways(section, stiff), (full.vertical, full.sideways), shapes, strict=True)
    )
    turned = 1 - section.i_product**2 / (section.i_vertical * section.i_sideways)
    euler = pi**2 * turned * stiff.vertical / part.vertical**2, pi**2 * turned * stiff.sideways / part.sideways**2
    axial = np.full(count, column_strength(section, stiff, part, metal))
    squash = section.yield_strength * squeezed_area(section, section.yield_strength)
    critical = np.repeat(np.array(euler)[:, None], count, axis=1)
    return LengthStrength(axial, vertical, sideways, critical, squash, full, np.ones(count))


def held_by_frame(
    holds: LengthStrength, section: SectionProperties, metal: MetalKind, at_buckling: tuple[Array, Array, Array]
) -> LengthStrength:
    """Return strengths raised to what the frame's own buckling shows that it holds, as stated lengths and brackets do not know.

    at_buckling (n_case,): compression, N, and moments bent vertically and sideways, Nm, at which the whole frame buckles: no part of
    it has buckled before. The walls' effective area is then taken at yield (unfavourable).
    """
    compression, vertical, sideways = at_buckling
    curves, full = CURVES[metal], holds.full
    stress = curves.column(section.yield_strength, np.maximum(compression, 1e-9) / section.area)
    critical = np.maximum(holds.critical, compression)
    return replace(
        holds,
        axial=np.maximum(holds.axial, stress / section.yield_strength * holds.squash),
        vertical=np.maximum(holds.vertical, curves.bent(full.vertical, vertical)),
        sideways=np.maximum(holds.sideways, curves.bent(full.sideways, sideways)),
        critical=critical,
        shorter=np.sqrt(holds.critical.min(axis=0) / critical.min(axis=0)),
    )


def softened(holds: LengthStrength, places: Array, left: Array) -> LengthStrength:
    """Return strengths with metal softened by welds at places (n,), as shares of the length, each of which leaves a share (n,).

    Soft metal amid the length tells in full, at its ends on yield alone: w / (chi + (1 - chi) sin(pi x / L)), EN 1999-1-1:2007,
    6.3.3.5, from memory; taken for every metal that welding softens.
    """
    wave = np.clip(np.sin(pi * places), 0.0, 1.0)[:, None]

    def less(strength: Array, full: float) -> Array:
        chi = np.clip(strength / full, 1e-12, 1.0)
        return np.asarray(strength * np.min(left[:, None] / (chi + (1 - chi) * wave), axis=0, initial=1.0))

    full = holds.full
    vertical, sideways = less(holds.vertical, full.vertical), less(holds.sideways, full.sideways)
    return replace(holds, axial=less(holds.axial, holds.squash), vertical=vertical, sideways=sideways)


ALIKE = 1e-3
"""Share of strength below which both ways are alike: the mesh keeps symmetry to less."""
REMEDY = "write the load case with its load reversed, or accept with a reason why it can't reverse"


def turned_shapes(shapes: tuple[Shapes, Shapes]) -> tuple[Shapes, Shapes]:
    """Return the same moments, bent vertically and sideways, with their sign turned."""
    vertical, sideways = (tuple(MomentShape(s.most, s.squared, -s.mean, -s.load) for s in each) for each in shapes)
    return vertical, sideways


def turned_strength(holds: LengthStrength, one: LengthStrength, other: LengthStrength) -> LengthStrength:
    """Return strengths as they would be bent the other way: less by what `other` (moments turned) is less than `one`."""
    vertical, sideways = np.minimum(other.vertical / one.vertical, 1.0), np.minimum(other.sideways / one.sideways, 1.0)
    return replace(holds, vertical=holds.vertical * vertical, sideways=holds.sideways * sideways)


def is_lopsided(holds: LengthStrength, turned: LengthStrength) -> BoolArray:
    """Return whether a length is weaker bent the other way, load case by load case, (n_case,)."""
    pairs = (turned.vertical, holds.vertical), (turned.sideways, holds.sideways)
    weaker = [weak < (1 - ALIKE) * strong for weak, strong in pairs]
    return np.asarray(weaker[0] | weaker[1])


def left_unsaid(outcome: SolvedCase, member: Member, factors: Array, turned: Sequence[Array]) -> Iterator[Open]:
    """Yield the load case of a member that passes and would miss its target most if it were reversed.

    factors (n_case,): as it is bent; turned: the same (n_case,) of each lopsided length bent the other way.
    """
    if not turned:
        return
    targets = np.array([outcome.case.targets.of(loads.name) for loads in outcome.loads])
    other = np.min(turned, axis=0) / targets
    other = np.where((factors >= targets) & (other < 1.0), other, np.inf)
    worst = int(np.argmin(other))
    if np.isinf(other[worst]):
        return
    asked, name = targets[worst], outcome.loads[worst].name
    reason = f"bent the other way the same moment would have a factor of {other[worst] * asked:.2f} (asked {asked:.2f}) in '{name}'"
    yield left_open(Thing.MEMBER, member.name, Question.MEMBER_BUCKLING, reason, remedy=REMEDY)
