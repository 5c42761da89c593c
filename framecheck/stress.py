"""The stress of a solved frame: the worst at each station of every member, and what every check sees."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import lru_cache
from typing import overload

import numpy as np

from framecheck.frame.buckling_mixtures import MixedBuckling
from framecheck.frame.end_mixtures import EndMixtures
from framecheck.frame.member_mixtures import MemberMixtures
from framecheck.frame.results import Bound, Buckling, FrameSolution, MemberForces
from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.model.case import Case
from framecheck.model.joining import Action
from framecheck.model.loads import CaseLoads
from framecheck.section.properties import SectionProperties
from framecheck.surface_stress import narrowed, peaks
from framecheck.value_class import array_class

ROWS = 100_000
"""Rows of section forces that are put together from several members."""


@array_class
class Layer:
    """What one metal of each station's section bears. Arrays (n_station, n_case), Pa; point: indices of the section's points.

    metal: (n_station,) the number of the metal in its section, -1 where the section has none of that number or no stress is known.
    strength: (n_station,) its yield strength, inf there.
    """

    nominal: Array
    peak: Array
    point: IntArray
    metal: IntArray
    strength: Array


@array_class
class MemberStress:
    """The worst stress at each station of a member: where most of the yield strength is used. Arrays (n_station, n_case), Pa; point
    (n_station, n_case) indices; strength: the yield strength at that point. layers: metal by metal, one where there is one metal.

    nominal is NaN-free: stations where some stress is not known are left out of `known`.
    """

    forces: MemberForces
    nominal: Array
    peak: Array
    point: IntArray
    known: BoolArray
    strength: Array
    layers: tuple[Layer, ...]


class LaterStresses(Sequence[MemberStress]):
    """The worst stress of every member under one bound, found when it is first asked for: of some bounds nobody asks."""

    def __init__(self, members: Sequence[MemberForces]) -> None:
        self._members = members
        self._found: tuple[MemberStress, ...] | None = None

    def __len__(self) -> int:
        return len(self._members)

    @overload
    def __getitem__(self, at: int) -> MemberStress: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[MemberStress, ...]: ...
    def __getitem__(self, at: int | slice) -> MemberStress | tuple[MemberStress, ...]:
        if self._found is None:
            self._found = stresses_of(self._members)
        return self._found[at]


@array_class
class SolvedCase:
    """A solved case, as every check sees it: all bounds, each with the stress of every member.

    sections: properties by name; loads: one per load case, in the order of the solutions' cases. buckling: of the frame as a whole,
    one per solution; empty where nobody has looked. loose: properties by name where seams are loose, {} where none are in doubt.
    in_blocks: blocks of its load cases are judged by themselves besides: of checks along members it is asked what is open alone.
    brief, brief_stresses: where some bounds have ends that are unlike each other, all bounds at the same few stations; those are told
    at few alone. at_ends: further mixtures of which it is known what ends of members do, and no more; mixed, mixed_stresses: what
    members carry in theirs, and the stress by bound; mixed_buckling: how the frame buckles in the worst.
    """

    case: Case
    sections: Mapping[str, SectionProperties]
    loads: tuple[CaseLoads, ...]
    solutions: tuple[FrameSolution, ...]
    stresses: tuple[Sequence[MemberStress], ...]
    buckling: tuple[Buckling, ...] = ()
    loose: Mapping[str, SectionProperties] = field(default_factory=dict)
    in_blocks: bool = False
    brief: tuple[FrameSolution, ...] = ()
    brief_stresses: tuple[Sequence[MemberStress], ...] = ()
    at_ends: tuple[EndMixtures, ...] = ()
    mixed: tuple[MemberMixtures, ...] = ()
    mixed_stresses: tuple[tuple[Sequence[MemberStress], ...], ...] = ()
    mixed_buckling: tuple[MixedBuckling, ...] = ()

    def mixed_at(self, member: str) -> tuple[EndMixtures, ...]:
        """Return the further mixtures of which it is known what a member's ends do."""
        return tuple(each for each in self.at_ends if each.member == member)

    def bound(self, member: str, number: int) -> Bound:
        """Return a bound by its number among those solved, and behind them among the mixtures at a member's ends."""
        left = number - len(self.solutions)
        for each in self.mixed_at(member) if left >= 0 else ():
            if left < len(each.ends):
                return each.bound(left)
            left -= len(each.ends)
        return self.solutions[number].bound

    def throughout(self) -> SolvedCase:
        """Return the outcome with every bound told at the same stations."""
        if not self.brief:
            return self
        brief = replace(self, solutions=self.brief, stresses=self.brief_stresses, in_blocks=False, brief=(), brief_stresses=())
        return replace(brief, mixed=(), mixed_stresses=())

    def alike(self) -> SolvedCase:
        """Return the part of an outcome in which all ends are alike, which is told wherever a moment is extreme."""
        alike = self._among([number for number, each in enumerate(self.solutions) if each.bound.apart is None], ())
        return replace(alike, mixed=(), mixed_stresses=())

    def by_seams(self) -> tuple[SolvedCase, ...]:
        """Return the outcome as it is, or where seams are in doubt one with those that hold and one with loose ones: their
        sections differ.
        """
        if not self.loose:
            return (self,)
        return tuple(self.under(action) for action in Action)

    def settled(self) -> SolvedCase:
        """Return the outcome with nothing left to say of how seams act."""
        solutions, brief = _settled(self.solutions), _settled(self.brief)
        at_ends = (replace(each, base=replace(each.base, seams=None)) for each in self.at_ends)
        mixed = (replace(each, solutions=tuple(_settled(each.solutions))) for each in self.mixed)
        buckling = (replace(each, base=replace(each.base, seams=None)) for each in self.mixed_buckling)
        some = replace(self, solutions=tuple(solutions), brief=tuple(brief), mixed_buckling=tuple(buckling))
        return replace(some, at_ends=tuple(at_ends), mixed=tuple(mixed))

    def under(self, action: Action) -> SolvedCase:
        """Return the part of an outcome in which seams hold, or are loose."""
        on = [number for number, each in enumerate(self.solutions) if each.bound.seams is action]
        sections = self.sections if action is Action.FULL else self.loose
        at_ends = tuple(each for each in self.at_ends if each.base.seams is action)
        of = [number for number, each in enumerate(self.mixed) if each.base.seams is action]
        mixed, stresses = tuple(self.mixed[number] for number in of), tuple(self.mixed_stresses[number] for number in of)
        buckling = tuple(each for each in self.mixed_buckling if each.base.seams is action)
        some = replace(self._among(on, on if self.brief else ()), mixed_buckling=buckling)
        return replace(some, sections=sections, loose={}, at_ends=at_ends, mixed=mixed, mixed_stresses=stresses)

    def _among(self, on: Sequence[int], brief: Sequence[int]) -> SolvedCase:
        """Return the outcome under some bounds, by number; brief: those of them that are told at few stations besides."""
        return replace(
            self,
            solutions=tuple(self.solutions[number] for number in on),
            stresses=tuple(self.stresses[number] for number in on),
            buckling=tuple(self.buckling[number] for number in on) if self.buckling else (),
            brief=tuple(self.brief[number] for number in brief),
            brief_stresses=tuple(self.brief_stresses[number] for number in brief),
        )


def _settled(solutions: Sequence[FrameSolution]) -> Iterator[FrameSolution]:
    """Yield solutions with nothing left to say of how seams act."""
    return (replace(each, bound=replace(each.bound, seams=None)) for each in solutions)


NOISE = 1e-6
"""A section force below this share of the largest one there is the solution's rounding."""


def is_known(section: SectionProperties, forces: Array) -> bool:
    """Return whether the stress of a section is known under all forces (n_case, 9) that it carries."""
    if section.fields is None or not section.without_stress:
        return section.fields is not None
    blind = np.abs(forces[:, list(section.without_stress)]).max(initial=0.0)
    return bool(blind <= NOISE * np.abs(forces).max(initial=0.0))


def stresses_of(members: Sequence[MemberForces]) -> tuple[MemberStress, ...]:
    """Return the worst stress at each station of every member: those of one section and one metal in one product for them all."""
    alike: dict[SectionProperties, list[int]] = {}
    for number, line in enumerate(members):
        if len(only := set(line.sections)) == 1 and is_plain(section := only.pop()):
            alike.setdefault(section, []).append(number)
    found: dict[int, MemberStress] = {}
    for section, numbers in alike.items():
        found |= zip(numbers, _alike(section, [members[number] for number in numbers]), strict=True)
    return tuple(found[number] if number in found else member_stress(line) for number, line in enumerate(members))


def is_plain(section: SectionProperties) -> bool:
    """Return whether a section is of one metal and its stress known under any forces."""
    return section.fields is not None and not section.metals and not section.without_stress and len(section.strengths) == 1


def _alike(section: SectionProperties, lines: Sequence[MemberForces]) -> Iterator[MemberStress]:
    """Yield the stress of members that have one plain section all along, some of them at once."""
    assert section.fields is not None
    together = max(1, ROWS // max(each.forces.shape[0] * each.forces.shape[1] for each in lines))
    for some in (lines[first : first + together] for first in range(0, len(lines), together)):
        worst, last = peaks(section.fields, np.concatenate([each.forces for each in some])), 0
        for line in some:
            first, last = last, last + len(line.stations)
            nominal, peak, point = worst.nominal[first:last], worst.peak[first:last], worst.point[first:last]
            metal, held = np.zeros(last - first, dtype=np.int64), np.full(last - first, section.yield_strength)
            strength, known = np.broadcast_to(held[:, None], nominal.shape), np.ones(last - first, dtype=np.bool_)
            yield MemberStress(line, nominal, peak, point, known, strength, (Layer(nominal, peak, point, metal, held),))


def member_stress(forces: MemberForces) -> MemberStress:
    """Return the worst stress at each station of a member, section by section in one product each."""
    known = np.array([is_known(section, row) for section, row in zip(forces.sections, forces.forces, strict=True)])
    count = max((len(section.strengths) for section in forces.sections), default=1)
    layers = tuple(metal_layer(forces, number) for number in range(count))
    least = np.array([section.yield_strength for section in forces.sections])
    if count == 1:
        (only,) = layers
        strength = np.broadcast_to(least[:, None], only.nominal.shape)
        return MemberStress(forces, only.nominal, only.peak, only.point, known, strength, layers)
    worst = np.argmax(np.stack([each.nominal / each.strength[:, None] for each in layers]), axis=0)

    def picked(values: Sequence[Array]) -> Array:
        return frozen(np.take_along_axis(np.stack(values), worst[None], axis=0)[0])

    held = [np.broadcast_to(each.strength[:, None], each.nominal.shape) for each in layers]
    point = np.take_along_axis(np.stack([each.point for each in layers]), worst[None], axis=0)[0]
    peak = np.max([each.peak for each in layers], axis=0)
    return MemberStress(
        forces, picked([each.nominal for each in layers]), frozen(peak), point, known, picked(held), layers
    )


def metal_layer(forces: MemberForces, number: int) -> Layer:
    """Return what the metal of one number bears at each station."""
    shape = forces.forces.shape[:2]
    nominal, peak, point = np.zeros(shape), np.zeros(shape), np.zeros(shape, dtype=np.int64)
    metal, strength = np.full(shape[0], -1, dtype=np.int64), np.full(shape[0], np.inf)
    for section in dict.fromkeys(forces.sections):
        on = points_of(section, number)
        if section.fields is not None and len(on):
            at = np.array([each is section for each in forces.sections])
            fields = section.fields if not section.metals else narrowed(section.fields, on)
            worst = peaks(fields, forces.forces[at])
            nominal[at], peak[at], point[at] = worst.nominal, worst.peak, on[worst.point]
            metal[at], strength[at] = number, section.strengths[number]
    return Layer(frozen(nominal), frozen(peak), point, metal, strength)


@lru_cache(maxsize=256)
def points_of(section: SectionProperties, number: int) -> IntArray:
    """Return the surface points of a section, by number, that are of one of its metals."""
    if section.fields is None or number >= len(section.strengths):
        return np.zeros(0, dtype=np.int64)
    if section.fields.metal is None:
        return np.arange(len(section.fields.points))
    return np.flatnonzero(section.fields.metal == number)
