"""What each load does to the plate: the answers that the rows, the frame and a reader take from it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import repeat
from math import inf, isfinite

import numpy as np

from framecheck.checks.plate.bending import UnitBending, sense_of
from framecheck.checks.plate.collapse import collapse_load, collapse_loads
from framecheck.checks.plate.contact import bendings_on_ledges
from framecheck.checks.plate.energy import PlateSpring, asked, stopped_at
from framecheck.checks.plate.faults import require_sound
from framecheck.checks.plate.hanging import EdgeForce, bolt_forces, edge_forces
from framecheck.checks.plate.lying import pried
from framecheck.checks.plate.moments import Peak
from framecheck.checks.plate.state import (
    StiffenerStress,
    UnitState,
    first_yield,
    peak,
    states_of,
    stiffener_stresses,
)
from framecheck.checks.plate.stiffeners import mass
from framecheck.model.arrays import Array, frozen
from framecheck.model.plate import BoltedPlate, InPlane, Lies, PlateLoad, PlateSide, Press, Rest, Strike
from framecheck.value_class import array_class, value_class

HARD, OFF, ALSO = ", rigid joints", ", on spacers", ", up to "  # what the further answers to a load are called after
OVERSTRENGTH = 1.3  # of the collapse load: what bolts are asked to carry at most (common practice, no source)


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
class MovedSheet:
    """A plate's movement at the nodes of its mesh: x (n,), y (m,) in plate axes; up (n, m), toward the pan; m."""

    x: Array
    y: Array
    up: Array


@array_class
class LoadAnswer:
    """One load's answer. force: its total, N, upward (a strike: at its end, were the plate elastic); for_bolts: that, but at most
    1.3 times the collapse load; deflection: the largest, m; upward: the largest toward the pan, m; stress: the largest at a
    surface (von Mises), Pa; first_yield, collapse: the same load's total at which the surface first yields, and at which
    the plate folds (upper bound), N; to_contact: energy that the plate takes until it touches the pan, J.
    bolt_forces: (n, 3) in plate axes, rest_forces (n rests): upward, N; prying (n,): upward on each bolt where a
    ledge lies round it, N; edge_forces: what the plate puts on what it hangs on, N; bolt_turning: (n,) about plate z,
    Nm, by the seats, where the sheet is held from drawing in. moved: the plate under it; None: nothing stops it.
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
    moved: MovedSheet | None = None


@array_class
class PlateAnswer:
    """All answers of a plate; mass in kg; clearance: the gap less what stands up into it, m, None: unknown."""

    plate: BoltedPlate
    mass: float
    clearance: float | None
    loads: tuple[LoadAnswer, ...]


def solve(plate: BoltedPlate) -> PlateAnswer:
    """Return what every load does to the plate, each acting alone, in every reading of what is not known. Raises InputError,
    MechanismError.
    """
    require_sound(plate)
    collapse = dict(zip(plate.loads, collapse_loads(plate, plate.loads), strict=True))
    answers = [each for reading in certain_readings(plate) for each in answers_in(plate, reading, collapse)]
    moved = {load: max(each.deflection for one, each in answers if one == load) for load in plate.loads}
    answers += [each for reading in doubtful_readings(plate, moved) for each in answers_in(plate, reading, collapse)]
    return PlateAnswer(plate, mass(plate), clearance(plate), tuple(answer for _, answer in answers))


@value_class
class ReadingOfPlate:
    """A way to take what is not known. rests: numbers of those that the plate lies on; said: what its loads are called after."""

    rests: tuple[int, ...]
    loads: tuple[PlateLoad, ...]
    said: str = ""
    lies: Lies = Lies.AGAINST


def certain_readings(plate: BoltedPlate) -> Iterator[ReadingOfPlate]:
    """Yield the plate on what it lies on; where that is not said, on spacers too, where it sags more."""
    on = tuple(n for n, rest in enumerate(plate.rests) if rest.rise is None)
    yield ReadingOfPlate(on, plate.loads, lies=plate.lies)
    if plate.lies is Lies.UNSAID and plate.rests:
        yield ReadingOfPlate((), plate.loads, OFF, Lies.SPACERS)


def doubtful_readings(plate: BoltedPlate, moved: Mapping[PlateLoad, float]) -> Iterator[ReadingOfPlate]:
    """Yield the plate against members at another level as well that its movement without them (m) reaches: all, and each alone."""
    found: dict[tuple[str, ...], list[PlateLoad]] = {}
    for load, way in moved.items():
        reached = tuple(dict.fromkeys(str(rest.member) for rest in plate.rests if -inf < rise_of(rest) <= way))
        for group in dict.fromkeys((reached, *((name,) for name in reached))):
            found.setdefault(group, []).append(load)
    for group, loads in found.items():
        on = tuple(n for n, rest in enumerate(plate.rests) if rest.rise is None or rest.member in group)
        if group:
            yield ReadingOfPlate(on, tuple(loads), ALSO + " and ".join(group), plate.lies)


def rise_of(rest: Rest) -> float:
    """Return how far the plate has to move to touch a rest, m; one that it lies on: no way at all."""
    return -inf if rest.rise is None else rest.rise


def answers_in(
    plate: BoltedPlate, reading: ReadingOfPlate, collapse: Mapping[PlateLoad, float]
) -> Iterator[tuple[PlateLoad, LoadAnswer]]:
    """Yield each load with its answer in a reading; a strike's also on a frame stiffer than its joints as made, which takes a harder
    blow. collapse: units, of each load.
    """
    lying = lying_on(plate, reading)
    struck = tuple(load for load in reading.loads if isinstance(load, Strike))
    ways = [(lying.give, reading.loads, ""), *([(lying.stiff_give, struck, HARD)] if lying.stiff_give and struck else [])]
    for give, loads, said in ways:
        named = tuple(replace(load, name=load.name + reading.said + said) for load in loads)
        found = answers_of(replace(lying, give=give, loads=named), [collapse[load] for load in loads])
        for load, answer in zip(loads, found, strict=True):
            yield load, replace(answer, rest_forces=among_all(plate, reading, answer.rest_forces))


def lying_on(plate: BoltedPlate, reading: ReadingOfPlate) -> BoltedPlate:
    """Return a plate that lies on some of its rests alone."""
    count = len(plate.bolts)
    kept = [*range(count), *(count + n for n in reading.rests)]
    give, stiff = (tuple(tuple(each[i][j] for j in kept) for i in kept) if each else () for each in (plate.give, plate.stiff_give))
    return replace(plate, lies=reading.lies, rests=tuple(plate.rests[n] for n in reading.rests), give=give, stiff_give=stiff)


def among_all(plate: BoltedPlate, reading: ReadingOfPlate, forces: Array) -> Array:
    """Return what the plate presses on each of its rests (n,), N, from that on those of a reading: none on the others."""
    found = np.zeros(len(plate.rests))
    found[list(reading.rests)] = forces[: len(reading.rests)]
    return frozen(found)


def answers_of(plate: BoltedPlate, collapse: Sequence[float]) -> tuple[LoadAnswer, ...]:
    """Return what every load does to the plate on its frame. collapse: units, of each load."""
    on_ledges = pried(plate)
    ledges = bendings_on_ledges(on_ledges) if len(on_ledges.rests) > len(plate.rests) else repeat(None)
    return tuple(answer_of(state, ledge) for state, ledge in zip(states_of(plate, collapse), ledges, strict=False))


def prying(state: UnitState, ledge: UnitBending | None) -> Array:
    """Return what each bolt takes (n,), upward, N, where the plate lies on a ledge round each (None: it does not). A strike finds the
    plate stiffer then; its membrane goes with the fourth power of its movement.
    """
    if ledge is None:
        return frozen(state.bending.at_bolts * held_level(state))
    less = ledge.work / state.work
    membrane = replace(state.membrane, energy=state.membrane.energy * less**4)
    return frozen(ledge.at_bolts * max(held_level(replace(state, work=ledge.work, membrane=membrane)), held_level(state)))


def clearance(plate: BoltedPlate) -> float | None:
    """Return the gap above the plate less the tallest stiffener that stands up into it, m."""
    if plate.gap is None:
        return None
    return plate.gap - max((each.height for each in plate.stiffeners if each.facing is PlateSide.UP), default=0.0)


def answer_of(state: UnitState, ledge: UnitBending | None) -> LoadAnswer:
    """Return one load's answer; ledge: one unit of it where the plate lies on a ledge round each bolt, None: it does not."""
    level, reached = level_and_amplitude(state)
    limited = held_level(state)
    sense = sense_of(state.load)
    a, held = state.amplitude(level), state.amplitude(limited)
    low, high = state.moved
    return LoadAnswer(
        load=state.load,
        force=sense * level * state.area,
        for_bolts=sense * limited * state.area,
        deflection=abs(reached) * max(high, -low),
        upward=max(reached * high, reached * low, 0.0),
        stress=peak(state, a),
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
        moved=moved_by(state, reached),
    )


def moved_by(state: UnitState, reached: float) -> MovedSheet | None:
    """Return the plate under its load, None where nothing stops it. reached: amplitude of its shape."""
    if not isfinite(reached):
        return None
    x, y = (np.array(line.nodes) for line in (state.sheet.x, state.sheet.y))
    return MovedSheet(frozen(x), frozen(y), frozen(reached * state.bending.shape[0::2, 0::2]))


def held_level(state: UnitState) -> float:
    """Return the load in units that bolts and frame take: at most that of a plate that does not fold about its bolts, for on their
    seats they carry more than points do.
    """
    level, _ = level_and_amplitude(state)
    if not folds_first(state) or level <= OVERSTRENGTH * state.collapse:
        return level
    bare = replace(state.sheet.plate, rests=(), give=(), stiff_give=(), loads=())
    return min(level, OVERSTRENGTH * max(firm_collapse(bare, replace(state.load, name="")), state.collapse))


@lru_cache(maxsize=64)
def firm_collapse(plate: BoltedPlate, load: PlateLoad) -> float:
    """Return the collapse load of a plate that does not fold about its bolts, N or Pa."""
    return collapse_load(plate, load, firm=True)


def folds_first(state: UnitState) -> bool:
    """Return whether a strike's force ends where the plate folds: not where it hangs as a membrane then, or lies on members."""
    plate = state.sheet.plate
    lies = any(rest.member is not None for rest in plate.rests)
    return isinstance(state.load, Strike) and plate.in_plane is InPlane.FREE and not lies


def level_and_amplitude(state: UnitState) -> tuple[float, float]:
    """Return the load in units, elastic, and how far its shape goes (for a strike folding where it must)."""
    load = state.load
    if isinstance(load, Strike):
        elastic = stopped_at(load.blow, PlateSpring(state.work, state.membrane.energy, inf))
        return state.level(elastic), stopped_at(load.blow, state.spring)
    level = abs(load.force if isinstance(load, Press) else load.pressure)
    return level, state.amplitude(level)


def contact(state: UnitState) -> float | None:
    """Return the amplitude at which the plate touches the pan, None where the gap is unknown."""
    left = clearance(state.sheet.plate)
    return None if left is None else left / max(state.moved[1], 1e-300)


def energy_to_contact(state: UnitState) -> float | None:
    """Return the energy the plate takes until it touches the pan, J."""
    touching = contact(state)
    return None if touching is None else state.spring.absorbed(touching)


def energy_answer(state: UnitState) -> EnergyAnswer | None:
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
