"""Clearances: what moves in each load case, the gap that is left, and the row it makes against the least that is asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from framecheck.frame.results import Bound, FrameSolution
from framecheck.frame.solve import solve_bounds
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Vector
from framecheck.model.case import Case, LoadCase
from framecheck.model.frame import Frame
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.stress import Outcome
from framecheck.value_class import value_class
from framecheck.vehicle.clearance import GapLeft, Moved, Movement, gaps_left
from framecheck.vehicle.load_cases import case_loads
from framecheck.vehicle.masses import MassProperties

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


def gaps_of(outcome: Outcome, structures: Sequence[Structure], mass: MassProperties) -> tuple[BoundGap, ...]:
    """Return every clearance left in every load case under its worst bound, the smallest first. mass: of the frame."""
    vehicle, frame = outcome.case.vehicle, outcome.case.frame
    if vehicle is None or not vehicle.clearances:
        return ()
    written = frozenset(loads.name for loads in outcome.loads if not loads.afloat)
    found = [
        BoundGap(gap, solution.bound)
        for solution, standing in zip(outcome.solutions, at_rest(outcome, structures, mass), strict=True)
        for gap in gaps_left(vehicle.clearances, frame.points, movements(frame, solution), standing, written)
    ]
    smallest: dict[tuple[str, str], BoundGap] = {}
    for each in sorted(found, key=lambda one: one.gap.left):
        smallest.setdefault((each.gap.name, each.gap.load_case), each)
    return tuple(smallest.values())


def at_rest(outcome: Outcome, structures: Sequence[Structure], mass: MassProperties) -> tuple[Moved, ...]:
    """Return under each bound how things have moved on the vehicle that stands at rest, whether that load case is asked or not."""
    frame, asked = outcome.case.frame, standing_case(outcome.case)
    if asked is not None:
        return tuple(movements(frame, solution)[asked] for solution in outcome.solutions)
    loads = case_loads(outcome.case, LoadCase(STATIC, STATIC, {}), mass)
    return tuple(movements(frame, solution)[STATIC] for solution in solve_bounds(structures, (loads,)))


def standing_case(case: Case) -> str | None:
    """Return the name of the case's own load case at rest, None where it has none."""
    return next((each.name for each in case.load_cases if each.kind == STATIC), None)


def movements(frame: Frame, solution: FrameSolution) -> dict[str, Moved]:
    """Return by load case how frame points and stiff bodies move."""
    places = {name: frame.points[name] for name in solution.points}
    centres = {body.name: body.at for body in frame.stiff_bodies}
    points = dict(zip(solution.points, solution.displacements.tolist(), strict=True))
    bodies = {name: rows.tolist() for name, rows in solution.bodies.items()}
    return {
        case: Moved(moved_things(places, points, number), moved_things(centres, bodies, number))
        for number, case in enumerate(solution.cases)
    }


def moved_things(places: Mapping[str, Vector], moved: Mapping[str, list[list[float]]], case: int) -> dict[str, Movement]:
    """Return the movement of things by name in one load case; moved: rows of six, one a case."""
    return {name: Movement(places[name], *halves(rows[case])) for name, rows in moved.items()}


def halves(row: list[float]) -> tuple[Vector, Vector]:
    """Return a displacement and a turn from six numbers in a row."""
    x, y, z, turn_x, turn_y, turn_z = row
    return (x, y, z), (turn_x, turn_y, turn_z)
