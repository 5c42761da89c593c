"""What each load does to the plate: the answers that the rows, the frame and a reader take from it."""

from __future__ import annotations

from dataclasses import replace
from itertools import repeat
from math import inf

import numpy as np

from framecheck.checks.plate.bending import Bending, Sheet, bendings, sense_of, sheet_of
from framecheck.checks.plate.collapse import collapse_loads
from framecheck.checks.plate.contact import bending_in_contact, bendings_on_ledges
from framecheck.checks.plate.energy import Spring, asked, stopped_at
from framecheck.checks.plate.faults import require_sound
from framecheck.checks.plate.hanging import EdgeForce, bolt_forces, edge_forces
from framecheck.checks.plate.membrane import Membrane, amplitude, load_of, membranes, yield_amplitude
from framecheck.checks.plate.moments import (
    Peak,
    beam_stress,
    clear_of_seats,
    deflection,
    fibre_stress,
    peak,
    surface_stress,
    yields,
)
from framecheck.checks.plate.outstands import bearable
from framecheck.checks.plate.resting import pried
from framecheck.checks.plate.stiffeners import mass, yield_strength
from framecheck.model.arrays import Array, frozen
from framecheck.model.plate import Facing, InPlane, Plate, PlateLoad, Press, Strike, Uniform
from framecheck.value_class import array_class, value_class

OVERSTRENGTH = 1.3  # of the collapse load: what bolts are asked to carry at most (common practice, no source)


@value_class
class StiffenerStress:
    """The largest stress in a stiffener, its yield strength, the largest compression in its free part and what that can bear, Pa."""

    name: str
    stress: float
    yield_strength: float
    compression: float
    buckling: float


@value_class
class EnergyAnswer:
    """What a blow asks and what the plate takes, J. asked: until it stops; asked_at_contact, to_contact: up to the pan (None: gap
    unknown). to_yield: what the plate takes elastically before it first yields. folds: whether it passes the collapse load.
    """

    asked: float
    to_yield: float
    asked_at_contact: float | None
    to_contact: float | None
    folds: bool


@array_class
class LoadAnswer:
    """One load's answer. force: its total, N, upward (a strike: at its end, were the plate elastic); for_bolts: that, but at most
    1.3 times the collapse load; deflection: the largest, m; upward: the largest toward the pan, m; stress: the largest at a
    surface (von Mises), Pa; first_yield, collapse: the same load's total at which the surface first yields, and at which
    the plate folds (upper bound), N; to_contact: energy that the plate takes until it touches the pan, J.
    bolt_forces: (n, 3) in plate axes, rest_forces (n rests): upward, N; prying (n,): upward on each bolt where a
    ledge lies round it, N; edge_forces: what the plate puts on what it hangs on, N; bolt_turning: (n,) about plate z,
    Nm, by the seats, where the sheet is held from drawing in.
    """

    load: PlateLoad
    force: float
    for_bolts: float
    deflection: float
    upward: float
    stress: Peak
    stiffeners: tuple[StiffenerStress, ...]
    first_yield: float
    collapse: float
    to_contact: float | None
    energy: EnergyAnswer | None
    bolt_forces: Array
    bolt_turning: Array
    edge_forces: tuple[EdgeForce, ...]
    rest_forces: Array
    prying: Array


@array_class
class PlateAnswer:
    """All answers of a plate; mass in kg; clearance: the gap less what stands up into it, m, None: unknown."""

    plate: Plate
    mass: float
    clearance: float | None
    loads: tuple[LoadAnswer, ...]


@array_class
class State:
    """What one unit (N, or Pa) of a load does. area: N a unit; collapse: units, upper bound."""

    sheet: Sheet
    load: PlateLoad
    bending: Bending
    membrane: Membrane
    collapse: float
    area: float

    @property
    def spring(self) -> Spring:
        return Spring(self.bending.work, self.membrane.energy, self.collapse)

    def amplitude(self, level: float) -> float:
        """Return the shape's amplitude at a level of the load (units)."""
        return amplitude(level, self.bending.work, self.membrane.energy)

    def level(self, a: float) -> float:
        """Return the load (units) that brings an amplitude."""
        return load_of(a, self.bending.work, self.membrane.energy)


def solve(plate: Plate) -> PlateAnswer:
    """Return what every load does to the plate, each acting alone. Raises InputError, MechanismError."""
    require_sound(plate)
    collapse = collapse_loads(plate, plate.loads)
    on_ledges = pried(plate)
    ledges = bendings_on_ledges(on_ledges) if len(on_ledges.rests) > len(plate.rests) else repeat(None)
    answers = tuple(
        answer_of(state_of(plate, load, least), ledge) for load, least, ledge in zip(plate.loads, collapse, ledges, strict=False)
    )
    return PlateAnswer(plate, mass(plate), clearance(plate), answers)


def prying(state: State, ledge: Bending | None) -> Array:
    """Return what each bolt takes (n,), upward, N, where the plate lies on a ledge round each (None: it does not). A strike finds the
    plate stiffer then; its membrane goes with the fourth power of its movement.
    """
    if ledge is None:
        return frozen(state.bending.at_bolts * held_level(state))
    less = ledge.work / state.bending.work
    membrane = replace(state.membrane, energy=state.membrane.energy * less**4)
    return frozen(ledge.at_bolts * max(held_level(replace(state, bending=ledge, membrane=membrane)), held_level(state)))


def state_of(plate: Plate, load: PlateLoad, collapse: float) -> State:
    """Return what one unit of a load does, on a mesh of its own: what stands beside it changes nothing."""
    sheet = sheet_of(replace(plate, loads=(load,)))
    shapes = (bending_in_contact(sheet, load),) if plate.rests or plate.give else bendings(sheet, (load,))
    area = plate.length * plate.width if isinstance(load, Uniform) else 1.0
    return State(sheet, load, shapes[0], membranes(sheet, shapes)[0], collapse, area)


def clearance(plate: Plate) -> float | None:
    """Return the gap above the plate less the tallest stiffener that stands up into it, m."""
    if plate.gap is None:
        return None
    return plate.gap - max((each.height for each in plate.stiffeners if each.facing is Facing.UP), default=0.0)


def answer_of(state: State, ledge: Bending | None) -> LoadAnswer:
    """Return one load's answer; ledge: one unit of it where the plate lies on a ledge round each bolt, None: it does not."""
    level, reached = level_and_amplitude(state)
    limited = held_level(state)
    sense = sense_of(state.load)
    a = state.amplitude(level)
    moved = deflection(state.bending.shape)
    held = state.amplitude(limited)
    return LoadAnswer(
        load=state.load,
        force=sense * level * state.area,
        for_bolts=sense * limited * state.area,
        deflection=abs(reached) * float(np.abs(moved).max()),
        upward=max(reached * float(moved.max()), reached * float(moved.min()), 0.0),
        stress=peak(state.sheet, surfaces(state, a).max(axis=0)),
        stiffeners=stiffener_stresses(state, a),
        first_yield=state.level(first_yield(state)) * state.area,
        collapse=state.collapse * state.area,
        to_contact=energy_to_contact(state),
        energy=energy_answer(state),
        bolt_forces=bolt_forces(state.sheet, state.bending, state.membrane, state.load, (limited, held)),
        bolt_turning=frozen(state.membrane.pulls[:, 2] * held**2),
        edge_forces=edge_forces(state.sheet, state.bending, limited),
        rest_forces=frozen(state.bending.at_rests * limited),
        prying=prying(state, ledge),
    )


def held_level(state: State) -> float:
    """Return the load in units that bolts and frame take."""
    level, _ = level_and_amplitude(state)
    return min(level, OVERSTRENGTH * state.collapse) if folds_first(state) else level


def folds_first(state: State) -> bool:
    """Return whether a strike's force ends where the plate folds: not where it hangs as a membrane then, or lies on members."""
    plate = state.sheet.plate
    lies = any(rest.member is not None for rest in plate.rests)
    return isinstance(state.load, Strike) and plate.in_plane is InPlane.FREE and not lies


def level_and_amplitude(state: State) -> tuple[float, float]:
    """Return the load in units, elastic, and how far its shape goes (for a strike folding where it must)."""
    load = state.load
    if isinstance(load, Strike):
        elastic = stopped_at(load.blow, Spring(state.bending.work, state.membrane.energy, inf))
        return state.level(elastic), stopped_at(load.blow, state.spring)
    level = abs(load.force if isinstance(load, Press) else load.pressure)
    return level, state.amplitude(level)


def surfaces(state: State, a: float) -> Array:
    """Return von Mises' stress at the bottom and the top at the nodes, Pa, shape (2, nx, ny), at an amplitude."""
    bending = surface_stress(state.sheet, state.bending).times(a)
    stretching = state.membrane.forces.times(a**2 / state.sheet.plate.thickness)
    return np.stack([(stretching + bending.times(way)).von_mises() for way in (1.0, -1.0)])


def first_yield(state: State) -> float:
    """Return the amplitude at which a surface of the sheet, or a stiffener, first yields."""
    plate, clear = state.sheet.plate, clear_of_seats(state.sheet)
    bending = surface_stress(state.sheet, state.bending).values[:, clear]
    stretching = state.membrane.forces.values[:, clear] / plate.thickness
    both = np.concatenate([bending, -bending], axis=1), np.concatenate([stretching, stretching], axis=1)
    beams = (each.yield_strength / each.stress for each in stiffener_stresses(state, 1.0) if each.stress > 0)
    strength = np.tile(yields(state.sheet)[clear], 2)
    return min(yield_amplitude(*both, strength), *beams, inf)


def stiffener_stresses(state: State, a: float) -> tuple[StiffenerStress, ...]:
    """Return the stress of every stiffener at an amplitude."""
    return tuple(
        StiffenerStress(
            beam.stiffener.name,
            abs(a) * beam_stress(state.sheet, beam, state.bending.shape),
            yield_strength(state.sheet.plate, beam.stiffener),
            -abs(a) * float(fibre_stress(state.sheet, beam, state.bending.shape, beam.tip).min(initial=0.0)),
            bearable(state.sheet.plate, beam.stiffener),
        )
        for beam in state.sheet.beams
    )


def contact(state: State) -> float | None:
    """Return the amplitude at which the plate touches the pan, None where the gap is unknown."""
    left = clearance(state.sheet.plate)
    return None if left is None else left / max(float(deflection(state.bending.shape).max()), 1e-300)


def energy_to_contact(state: State) -> float | None:
    """Return the energy the plate takes until it touches the pan, J."""
    touching = contact(state)
    return None if touching is None else state.spring.absorbed(touching)


def energy_answer(state: State) -> EnergyAnswer | None:
    """Return what a strike asks of the plate and what the plate takes, None for other loads."""
    if not isinstance(state.load, Strike):
        return None
    blow, spring, touching = state.load.blow, state.spring, contact(state)
    end = stopped_at(blow, spring)
    return EnergyAnswer(
        asked=asked(blow, end * spring.work),
        to_yield=spring.absorbed(min(first_yield(state), state.amplitude(state.collapse))),
        asked_at_contact=None if touching is None else asked(blow, touching * spring.work),
        to_contact=energy_to_contact(state),
        folds=end > state.amplitude(state.collapse),
    )
