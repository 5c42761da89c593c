"""What one unit of each load does to a plate: its shape, stress, and when it yields."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

import numpy as np

from framecheck.checks.plate.bending import PlateMesh, UnitBending, load_vector, sense_of, sheet_of
from framecheck.checks.plate.energy import PlateSpring
from framecheck.checks.plate.large import Taut, bent, stretched
from framecheck.checks.plate.membrane import Membrane, amplitude, load_of, none_of, plane_of, yield_amplitude
from framecheck.checks.plate.moments import (
    Peak,
    beam_stress,
    clear_of_seats,
    deflection,
    fibre_stress,
    worst_of,
    yields,
)
from framecheck.checks.plate.near import SheetPart, parts_of
from framecheck.checks.plate.outstands import bearable
from framecheck.checks.plate.stiffeners import Beam, yield_strength
from framecheck.model.arrays import Array
from framecheck.model.plate import BoltedPlate, InPlane, PlateLoad, Uniform
from framecheck.value_class import array_class, value_class


@value_class
class StiffenerStress:
    """The largest stress in a stiffener, its yield strength, the largest compression in its free part and what that can bear, Pa."""

    name: str
    stress: float
    yield_strength: float
    compression: float
    buckling: float


@array_class
class UnitState:
    """What one unit (N, or Pa) of a load does. area: N a unit; collapse: units, upper bound; work: how far the load moves, m."""

    sheet: PlateMesh
    load: PlateLoad
    bending: UnitBending
    membrane: Membrane
    parts: tuple[SheetPart, ...]
    work: float
    collapse: float
    area: float

    @property
    def spring(self) -> PlateSpring:
        return PlateSpring(self.work, self.membrane.energy, self.collapse)

    def amplitude(self, level: float) -> float:
        """Return the shape's amplitude at a level of the load (units)."""
        return amplitude(level, self.work, self.membrane.energy)

    def level(self, a: float) -> float:
        """Return the load (units) that brings an amplitude."""
        return load_of(a, self.work, self.membrane.energy)

    @property
    def moved(self) -> tuple[float, float]:
        """Return the least and the greatest movement, m, upward."""
        found = [deflection(part.shape) for part in self.parts]
        return min(float(each.min()) for each in found), max(float(each.max()) for each in found)


def states_of(plate: BoltedPlate, collapse: Sequence[float]) -> tuple[UnitState, ...]:
    """Return what one unit of each load does; collapse: units, of each.

    One mesh for all, that no load has a part in: what stands beside one changes nothing.
    """
    sheet = sheet_of(replace(plate, loads=()))
    shapes = bent(sheet, plate.loads)
    acting: list[tuple[UnitBending, Membrane, Taut | None]]
    if plate.in_plane is InPlane.FREE:
        acting = [(shape, none_of(sheet), None) for shape in shapes]
    else:
        plane = plane_of(sheet)
        acting = [stretched(plane, load, shape) for load, shape in zip(plate.loads, shapes, strict=True)]
    return tuple(state_of(sheet, *one) for one in zip(plate.loads, acting, collapse, strict=True))


def state_of(sheet: PlateMesh, load: PlateLoad, acting: tuple[UnitBending, Membrane, Taut | None], collapse: float) -> UnitState:
    """Return what one unit of a load does. acting: its shape, membrane, and what that adds to the sheet's stiffness."""
    (bending, membrane, taut), plate = acting, sheet.plate
    parts = parts_of(sheet, load, (bending, membrane.forces), taut)
    work, area = bending.work, plate.length * plate.width
    if not isinstance(load, Uniform):
        window, area = parts[-1], 1.0
        work = float(np.sum(sense_of(load) * load_vector(window.sheet, load) * window.shape))
    return UnitState(sheet, load, bending, membrane, parts, work, collapse, area)


def peak(state: UnitState, a: float) -> Peak:
    """Return the stress nearest to yield at an amplitude, of both surfaces, clear of the bolts' seats."""
    found = (worst_of(part.sheet, surfaces(part, a).max(axis=0), part.counts) for part in state.parts)
    return max(found, key=lambda each: each.stress / each.yield_strength)


def surfaces(part: SheetPart, a: float) -> Array:
    """Return von Mises' stress at the bottom and the top at the nodes, Pa, shape (2, nx, ny), at an amplitude."""
    bending, stretching = part.bending.times(a), part.stretching.times(a**2 / part.sheet.plate.thickness)
    return np.stack([(stretching + bending.times(way)).von_mises() for way in (1.0, -1.0)])


def first_yield(state: UnitState) -> float:
    """Return the amplitude at which a surface of the sheet, or a stiffener, first yields."""
    beams = (each.yield_strength / each.stress for each in stiffener_stresses(state, 1.0) if each.stress > 0)
    return min(*(yields_at(part) for part in state.parts), *beams, inf)


def yields_at(part: SheetPart) -> float:
    """Return the amplitude at which a surface of a part of the sheet first yields."""
    clear = clear_of_seats(part.sheet) & part.counts
    if not clear.any():
        return inf
    bending, stretching = part.bending.values[:, clear], part.stretching.values[:, clear] / part.sheet.plate.thickness
    both = np.concatenate([bending, -bending], axis=1), np.concatenate([stretching, stretching], axis=1)
    return yield_amplitude(*both, np.tile(yields(part.sheet)[clear], 2))


def stiffener_stresses(state: UnitState, a: float) -> tuple[StiffenerStress, ...]:
    """Return the stress of every stiffener at an amplitude."""
    return tuple(_stiffener_stress(state, beam, abs(a)) for beam in state.sheet.beams)


def curvature_of(part: SheetPart, beam: Beam) -> Array:
    """Return how fast a stiffener's section turns along a part of the sheet, 1/m."""
    return part.curvatures[part.sheet.beams.index(beam)]


def _stiffener_stress(state: UnitState, beam: Beam, a: float) -> StiffenerStress:
    """Return the stress of a stiffener: the greatest of the parts of the sheet that it runs through."""
    plate, parts = state.sheet.plate, [part for part in state.parts if beam in part.sheet.beams]
    return StiffenerStress(
        beam.stiffener.name,
        a * max(beam_stress(part.sheet, beam, curvature_of(part, beam)) for part in parts),
        yield_strength(plate, beam.stiffener),
        -a * min(float(fibre_stress(part.sheet, beam, curvature_of(part, beam), beam.tip).min(initial=0.0)) for part in parts),
        bearable(plate, beam.stiffener),
    )
