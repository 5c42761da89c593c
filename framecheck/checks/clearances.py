"""Clearances: what moves in each load case, the gap that is left, and the row it makes against the least that is asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from framecheck.frame.results import Bound, FrameSolution
from framecheck.frame.solve import solve_bounds
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Vector
from framecheck.model.case import Case, LoadCase
from framecheck.model.loads import CaseLoads
from framecheck.model.vehicle import VehiclePlace, Wheel
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class
from framecheck.vehicle.clearance import GapLeft, Moved, Movement, gaps_left, on_a_wheel
from framecheck.vehicle.load_cases import case_loads
from framecheck.vehicle.masses import MassProperties, wheel_centre, wheels_of
from framecheck.vehicle.scene import vector

STATIC = "static"
"""The kind of load case in which the vehicle stands as it stands today."""


TOUCHING = 1e-5
"""Parts nearer than this touch, m: no shop measures less."""
SOURCE = "movements of the solved frame (statics); least gap: case file"


@value_class
class BoundGap:
    """A gap and the bound under which least of it is left."""

    gap: GapLeft
    bound: Bound


def gap_lines(outcome: SolvedCase, gaps: Iterable[BoundGap]) -> Iterator[CheckResult | Open]:
    """Yield what is to be said of gaps: a row each, and what is not known of them."""
    yield from rows(gaps)
    yield from not_known(outcome)


def rows(gaps: Iterable[BoundGap]) -> Iterator[CheckResult]:
    """Yield a row a gap and load case; demand: the gap asked, at least that the parts don't touch; capacity: the gap left, m."""
    for each in gaps:
        yield CheckResult(
            check=Check.CLEARANCE,
            mode=Mode.GAP_CLOSES,
            subject=Subject(Thing.CLEARANCE, each.gap.name),
            load_case=each.gap.load_case,
            demand=max(each.gap.least, TOUCHING),
            capacity=max(each.gap.left, 0.0),
            unit="m",
            target=1.0,
            source=SOURCE,
            bound=each.bound,
        )


def gaps_of(outcome: SolvedCase, structures: Sequence[Structure], mass: MassProperties) -> tuple[BoundGap, ...]:
    """Return every clearance left in every load case under its worst bound, the smallest first. mass: of the frame."""
    vehicle, frame = outcome.case.vehicle, outcome.case.frame
    if vehicle is None or not vehicle.clearances:
        return ()
    written = frozenset(loads.name for loads in outcome.loads if not loads.free_free)
    moved = [movements(outcome.case, outcome.loads, solution) for solution in outcome.solutions]
    found = [
        BoundGap(gap, solution.bound)
        for solution, of, standing in zip(outcome.solutions, moved, at_rest(outcome, moved, structures, mass), strict=True)
        for gap in gaps_left(vehicle.clearances, frame.points, of, standing, written)
    ]
    smallest: dict[tuple[str, str], BoundGap] = {}
    for each in sorted(found, key=lambda one: one.gap.left):
        smallest.setdefault((each.gap.name, each.gap.load_case), each)
    return tuple(smallest.values())


def at_rest(
    outcome: SolvedCase, moved: Sequence[Mapping[str, Moved]], structures: Sequence[Structure], mass: MassProperties
) -> tuple[Moved, ...]:
    """Return under each bound how things have moved on the vehicle that stands at rest, whether that load case is asked or not.

    moved: under each bound, by load case.
    """
    case, asked = outcome.case, standing_case(outcome.case)
    if asked is not None:
        return tuple(each[asked] for each in moved)
    loads = (case_loads(case, LoadCase(STATIC, STATIC, {}), mass),)
    return tuple(movements(case, loads, solution)[STATIC] for solution in solve_bounds(structures, loads))


def not_known(outcome: SolvedCase) -> Iterator[Open]:
    """Yield the gaps to wheels that load cases leave out: what a wheel does under written forces is not in the file."""
    vehicle = outcome.case.vehicle
    names = ", ".join(each.name for each in outcome.loads if not each.wheels)
    for each in () if vehicle is None or not names else vehicle.clearances:
        if on_a_wheel(each):
            yield left_open(
                Thing.CLEARANCE,
                each.name,
                Question.CLEARANCE,
                f"the wheel's travel is not known in {names}",
                remedy="describe the suspension's rates; written load cases know no wheels: use one of the vehicle",
            )


def standing_case(case: Case) -> str | None:
    """Return the name of the case's own load case at rest, None where it has none."""
    return next((each.name for each in case.load_cases if each.kind == STATIC), None)


def movements(case: Case, loads: Sequence[CaseLoads], solution: FrameSolution) -> dict[str, Moved]:
    """Return by load case how stiff bodies, wheels and the frame points that gaps are measured to move."""
    frame, wheels = case.frame, () if case.vehicle is None else wheels_of(case.vehicle)
    spots = () if case.vehicle is None else (spot for each in case.vehicle.clearances for spot in (each.first, each.second))
    touched = {spot.point for spot in spots if isinstance(spot, VehiclePlace)}.union(*(wheel.on for wheel in wheels))
    found = zip(solution.points, solution.displacements, strict=True)
    points = {name: (frame.points[name], rows.tolist()) for name, rows in found if name in touched}
    bodies = {body.name: (body.at, solution.bodies[body.name].tolist()) for body in frame.stiff_bodies}
    by_case: dict[str, Moved] = {}
    for number, each in enumerate(loads):
        moved = moved_things(points, number)
        by_case[each.name] = Moved(moved, moved_things(bodies, number), moved_wheels(wheels, each, moved))
    return by_case


def moved_wheels(wheels: Sequence[Wheel], loads: CaseLoads, points: Mapping[str, Movement]) -> dict[str, Movement]:
    """Return how wheels move: with the frame at the points that they hang on, on the mean, and up by their travel."""
    up = dict(loads.wheels)
    return {wheel.name: moved_wheel(wheel, up[wheel.name], points) for wheel in wheels if wheel.name in up}


def moved_wheel(wheel: Wheel, up: float, points: Mapping[str, Movement]) -> Movement:
    """Return how a wheel moves; up: its travel, m."""
    centre = wheel_centre(wheel)
    shift = np.mean([points[name].carried(centre) for name in wheel.on], axis=0) + np.array([0.0, 0.0, up])
    turn = np.mean([points[name].turn for name in wheel.on], axis=0)
    return Movement(centre, vector(shift), vector(turn))


def moved_things(things: Mapping[str, tuple[Vector, list[list[float]]]], case: int) -> dict[str, Movement]:
    """Return the movement of things by name in one load case; things: where each is, and rows of six, one a case."""
    return {name: Movement(place, *halves(rows[case])) for name, (place, rows) in things.items()}


def halves(row: list[float]) -> tuple[Vector, Vector]:
    """Return a displacement and a turn from six numbers in a row."""
    x, y, z, turn_x, turn_y, turn_z = row
    return (x, y, z), (turn_x, turn_y, turn_z)
