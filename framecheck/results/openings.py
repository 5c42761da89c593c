"""How the diagonals of a body's openings change while one wheel stands on an obstacle: doors that bind, glass that cracks. SI."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.frame.results import FrameSolution
from framecheck.model.openings import Opening
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

WATCHED, AT_REST = "one wheel up", "static"
"""Kinds of load case: under which diagonals are watched, and in which a door was hung and glass was set."""


@value_class
class DiagonalChange:
    """The diagonal of an opening that changes most in a load case, against the vehicle at rest, over all bounds.

    length, change: m, longer +. gap: round the door, m, 0 where it is not said. from_rest: whether the case at rest is in the file;
    where it is not, the frame without load is what it is told against.
    """

    opening: str
    load_case: str
    diagonal: tuple[str, str]
    length: float
    change: float
    gap: float
    from_rest: bool

    @property
    def share_of_gap(self) -> float | None:
        """Return how much of the gap it takes; None where that is not said."""
        return abs(self.change) / self.gap if self.gap > 0 else None


def diagonal_changes(outcome: SolvedCase) -> tuple[DiagonalChange, ...]:
    """Return the worst diagonal of each opening in its worst load case with one wheel up; none without such a case."""
    runs = [each.name for each in outcome.case.load_cases if each.kind == WATCHED]
    rest = next((each.name for each in outcome.case.load_cases if each.kind == AT_REST), None)
    found = []
    for opening in outcome.case.frame.openings:
        changes = [
            each for run in runs for solution in outcome.solutions for each in _changes(outcome, solution, opening, (run, rest))
        ]
        if changes:
            found.append(max(changes, key=lambda each: round(abs(each.change), 12)))
    return tuple(found)


def _changes(
    outcome: SolvedCase, solution: FrameSolution, opening: Opening, cases: tuple[str, str | None]
) -> Iterator[DiagonalChange]:
    """Yield how both diagonals of an opening change in a load case of one solution; cases: it, and the one at rest."""
    run, rest = cases
    points, number = outcome.case.frame.points, {name: place for place, name in enumerate(solution.points)}
    moved = solution.displacements[:, solution.cases.index(run), :3]
    if rest is not None:
        moved = moved - solution.displacements[:, solution.cases.index(rest), :3]
    for first, last in opening.diagonals:
        way = np.array(points[last]) - np.array(points[first])
        length = float(np.linalg.norm(way))
        change = float((moved[number[last]] - moved[number[first]]) @ way) / length
        yield DiagonalChange(opening.name, run, (first, last), length, change, opening.gap, rest is not None)
