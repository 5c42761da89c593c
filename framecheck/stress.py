"""Section forces to stress: the unit fields times the forces, and the worst point of each section."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import lru_cache

import numpy as np

from framecheck.frame.results import Buckling, FrameSolution, MemberForces
from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.model.case import Case
from framecheck.model.joining import Action
from framecheck.model.loads import CaseLoads
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.value_class import array_class
from framecheck.yield_criterion import SHEAR_COUNTS, equivalent_on_surface

STRETCHING = [0, 4, 5, 6]
SHEARING = [1, 2, 7, 8]
"""Columns of a row of section forces that make normal and shear stress, in the order of UnitFields."""
AT_ONCE = 30_000
"""Stresses worked out together, so that they stay in a core's own memory: twice as quick as all at once."""
ROWS = 100_000
"""Rows of section forces that are put together from several members."""


@array_class
class Components:
    """Stress at every surface point, Pa: normal (..., n_points), shear (..., n_points, 2) along y and z."""

    normal: Array
    shear: Array

    @property
    def von_mises(self) -> Array:
        """Return the equivalent stress (..., n_points), Pa."""
        return equivalent_on_surface(self.normal, self.shear[..., 0], self.shear[..., 1])


@array_class
class Peaks:
    """The worst surface point of each section in a row of forces. Arrays (...,), read-only.

    nominal: largest equivalent stress away from sharp re-entrant corners, Pa, on which yield is judged;
    point: its index; peak: the largest anywhere, Pa (equal to nominal where no corner is sharp).
    """

    nominal: Array
    point: IntArray
    peak: Array


def components(fields: UnitFields, forces: Array) -> Components:
    """Return stress from section forces (..., 9): N, Vy, Vz, T, Mv, Ms, B, T Saint-Venant, T warping; section axes."""
    across, up = (forces[..., SHEARING] @ fields.shear[:, axis].T for axis in (0, 1))
    return Components(forces[..., STRETCHING] @ fields.normal.T, np.stack([across, up], axis=-1))


def squared_von_mises(units: Sequence[Array], rows: tuple[Array, Array], room: Array) -> Array:
    """Return the square of the equivalent stress (n_row, n_points), Pa2, as Components.von_mises, in `room` (2, n_row, n_points).

    units: by_unit_force; rows: the forces (n_row, 4) that stretch, and those that shear. New arrays would take most of the time.
    """
    (stretching, shearing), squared, part = rows, np.asarray(room[0]), np.asarray(room[1])
    np.matmul(stretching, units[0], out=squared)
    np.multiply(squared, squared, out=squared)
    for shear in units[1:]:
        np.matmul(shearing, shear, out=part)
        np.multiply(part, part, out=part)
        squared += part
    return squared


def by_unit_force(fields: UnitFields) -> tuple[Array, Array, Array]:
    """Return what normal and each shear stress count by unit forces (4, n_points): squared they add up to the equivalent stress."""
    across, up = (np.ascontiguousarray(SHEAR_COUNTS**0.5 * fields.shear[:, axis].T) for axis in (0, 1))
    return np.ascontiguousarray(fields.normal.T), across, up


def narrowed(fields: UnitFields, on: BoolArray | IntArray) -> UnitFields:
    """Return the fields at some points alone: (n_points,) bool, or their numbers."""
    metal = None if fields.metal is None else fields.metal[on]
    return UnitFields(frozen(fields.points[on]), frozen(fields.normal[on]), frozen(fields.shear[on]), fields.sharp[on], metal)


def largest_shear(fields: UnitFields, forces: Array, on: BoolArray) -> Array:
    """Return the largest shear stress (...,), Pa, among the points marked by `on` (n_points,), of forces (..., 9); piece by piece."""
    if not on.any():
        return np.zeros(forces.shape[:-1])
    rows, shear = forces.reshape(-1, forces.shape[-1])[:, SHEARING], fields.shear[on]
    together = max(1, AT_ONCE // len(shear))
    pieces = [rows[first : first + together] for first in range(0, max(len(rows), 1), together)]
    squared = [((piece @ shear[:, 0].T) ** 2 + (piece @ shear[:, 1].T) ** 2).max(axis=-1) for piece in pieces]
    return np.asarray(np.sqrt(np.concatenate(squared)).reshape(forces.shape[:-1]))


def peaks(fields: UnitFields, forces: Array) -> Peaks:
    """Return the worst point of each section force row, forces (..., 9) in section axes."""
    rows = forces.reshape(-1, forces.shape[-1])
    stretching, shearing, units = rows[:, STRETCHING], rows[:, SHEARING], by_unit_force(fields)
    together = max(1, min(AT_ONCE // len(fields.normal), len(rows)))
    room, pieces = np.empty((2, together, len(fields.normal))), []
    for first in range(0, max(len(rows), 1), together):
        these = slice(first, min(first + together, len(rows)))
        found = room[:, : these.stop - first]
        pieces.append(_peaks(fields.sharp, squared_von_mises(units, (stretching[these], shearing[these]), found)))
    nominal, point, peak = (np.concatenate(each).reshape(forces.shape[:-1]) for each in zip(*pieces, strict=True))
    return Peaks(frozen(nominal), point, frozen(peak))


def _peaks(sharp: BoolArray, squared: Array) -> tuple[Array, IntArray, Array]:
    """Return the nominal stress, its point and the peak (n_row,) from squared stresses (n_row, n_points), which are written over."""
    peak = np.sqrt(squared.max(axis=-1)) if sharp.any() else None
    if _some_smooth(sharp) and peak is not None:
        squared[:, sharp] = -1.0
    point = np.argmax(squared, axis=-1)
    nominal = np.sqrt(squared[np.arange(len(point)), point])
    return nominal, point, nominal if peak is None else peak


def _some_smooth(sharp: BoolArray) -> bool:
    """Return whether any point lies away from a sharp corner."""
    return not bool(sharp.all())


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


@array_class
class SolvedCase:
    """A solved case, as every check sees it: all bounds, each with the stress of every member.

    sections: properties by name; loads: one per load case, in the order of the solutions' cases. buckling: of the frame as a whole,
    one per solution; empty where nobody has looked. loose: properties by name where seams are loose, {} where none are in doubt.
    in_blocks: blocks of its load cases are judged by themselves besides: of checks along members it is asked what is open alone.
    """

    case: Case
    sections: Mapping[str, SectionProperties]
    loads: tuple[CaseLoads, ...]
    solutions: tuple[FrameSolution, ...]
    stresses: tuple[tuple[MemberStress, ...], ...]
    buckling: tuple[Buckling, ...] = ()
    loose: Mapping[str, SectionProperties] = field(default_factory=dict)
    in_blocks: bool = False

    def by_seams(self) -> tuple[SolvedCase, ...]:
        """Return the outcome as it is, or where seams are in doubt one with those that hold and one with loose ones: their
        sections differ.
        """
        if not self.loose:
            return (self,)
        return tuple(self.under(action) for action in Action)

    def settled(self) -> SolvedCase:
        """Return the outcome with nothing left to say of how seams act."""
        solutions = (replace(each, bound=replace(each.bound, seams=None)) for each in self.solutions)
        return replace(self, solutions=tuple(solutions))

    def under(self, action: Action) -> SolvedCase:
        """Return the part of an outcome in which seams hold, or are loose."""
        on = [number for number, each in enumerate(self.solutions) if each.bound.seams is action]
        return replace(
            self,
            sections=self.sections if action is Action.FULL else self.loose,
            solutions=tuple(self.solutions[number] for number in on),
            stresses=tuple(self.stresses[number] for number in on),
            buckling=tuple(self.buckling[number] for number in on) if self.buckling else (),
            loose={},
        )


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
