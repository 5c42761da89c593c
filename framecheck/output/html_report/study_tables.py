"""What the studies found, as tables: ratings, stiffness of the bare frame, the bounds of what the file leaves open."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.checks.yielding import trial
from framecheck.frame.stiffness import FrameStiffness
from framecheck.output.cells import station_text
from framecheck.output.display import Units, bare, factor, shown_unit
from framecheck.output.html_report.table import NONE, Table, label, numbers, words
from framecheck.output.rating_text import sentence, value
from framecheck.output.stiffness_text import extremes, percent, push_cell, under
from framecheck.results.row import Check
from framecheck.results.summary import governing_bound, largest_deflection
from framecheck.run import Results
from framecheck.study.rate import Rating


def bounds(results: Results, units: Units) -> Table:
    """Return one row a bound: its lowest safety factor on yield, where, and its largest deflection. No rows: nothing is open."""
    outcome = results.outcome
    if len(outcome.solutions) < 2 or not outcome.loads:
        return Table("Limits of what the file leaves open", words("bound"), ())
    governing = governing_bound(outcome, next((row for row in results.rows if row.check is Check.YIELD), None))
    rows = tuple(
        (*bound_cells(results, bound, units), "governs" if bound == governing else "")
        for bound in range(len(outcome.solutions))
    )
    headings = (
        *words("left open, taken as"),
        *numbers("safety factor on yield"),
        *words("on member", "load case"),
        *numbers(f"station, {label('station', units)}", f"largest deflection, {label('deflection', units)}"),
        *words("verdict"),
    )
    return Table(
        "Limits of what the file leaves open", headings, rows, "Every table shows the worse of these, row by row."
    )


def bound_cells(results: Results, bound: int, units: Units) -> tuple[str, ...]:
    """Return a bound, its lowest safety factor on yield with its place, and its largest deflection."""
    outcome = results.outcome
    found = []
    for number, member in enumerate(outcome.case.frame.members):
        of = trial(outcome, number, bound)
        used, stations, _ = of.worst()
        case = int(np.argmax(used))
        found.append((float(used[case]), member.name, case, float(of.stress.forces.stations[stations[case]])))
    used_most, name, case, station = max(found)
    lowest = factor(1.0 / used_most) if used_most > 0 else ">99"
    solutions = (outcome.solutions[bound],)
    moved = max(largest_deflection(solutions, number).amount for number in range(len(outcome.loads)))
    place = (name, outcome.loads[case].name, station_text(station, units))
    return (solutions[0].bound.name, lowest, *place, bare(moved, "deflection", units))


def rated(found: Sequence[Rating], units: Units) -> Table:
    """Return the ratings: one load at a time."""
    rows = tuple(rating_cells(each, units) for each in found)
    headings = (
        *words("load", "unit"),
        *numbers("in the case", "meets target", "before yield", "tyres hold"),
        *words("what governs at the target"),
    )
    note = "In brackets: not the frame but something else sets the limit. One load is raised at a time, all else as in the case."
    return Table("How much the frame can take", headings, rows, note)


def rating_cells(rating: Rating, units: Units) -> tuple[str, ...]:
    """Return the cells of one rating."""
    kind = rating.load.quantity
    limits = (value(limit, kind, units) for limit in (rating.meets_target, rating.before_yield))
    tyres = NONE if rating.tyres is None else bare(rating.tyres, kind, units)
    said = sentence(rating, units)
    return (rating.load.name, shown_unit(kind, units).label, bare(rating.now, kind, units), *limits, tyres, said)


def stiffness(found: Sequence[FrameStiffness], units: Units) -> Table:
    """Return the stiffness of the bare frame, one row a bound."""
    rows = tuple(
        (
            each.bound.name or "as written",
            bare(each.torsional, "twist stiffness", units),
            push_cell(each.bending, units),
            push_cell(each.sideways, units),
        )
        for each in found
    )
    twist, push = label("twist stiffness", units), label("stiffness", units)
    headings = (
        *words("left open, taken as"),
        *numbers(f"torsional, {twist}", f"bending upwards, {push}", f"sideways, {push}"),
    )
    return Table("Stiffness of the bare frame between its axles", headings, rows)


def shares(found: Sequence[FrameStiffness]) -> tuple[Table, ...]:
    """Return which members give: their shares of the strain energy, softest and stiffest bound."""
    headings = (*words("member"), *numbers("twist, %", "upwards, %", "sideways, %"))
    return tuple(
        Table(
            f"Which members give{under(each)}",
            headings,
            tuple((s.member, percent(s.twist), percent(s.bending), percent(s.sideways)) for s in each.shares),
        )
        for each in (extremes(found) if found else ())
    )
