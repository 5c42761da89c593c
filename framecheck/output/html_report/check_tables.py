"""The report's tables of checks and of studies, and the twist along the rail that twists most."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from framecheck.checks.yielding import trial
from framecheck.frame.results import MostTwisted, most_twisted
from framecheck.frame.stiffness import FrameStiffness
from framecheck.output.charts.diagrams import twist_diagram
from framecheck.output.charts.svg import SvgSheet
from framecheck.output.display import Units, bare, factor, shown_unit, with_unit
from framecheck.output.frame_study_text import extremes, percent, push_cell, under
from framecheck.output.html_report.figures import WIDE, inline
from framecheck.output.html_report.tables import NONE, HtmlTable, label, numbers, plain, shown, spread, words
from framecheck.output.rating_text import rating_in_words, value
from framecheck.output.terminal import HEADINGS, TITLE, shop_rows
from framecheck.output.wording import station_text, without
from framecheck.results.row import Check, CheckResult
from framecheck.results.row_order import worst_by
from framecheck.results.subjects import Thing
from framecheck.results.summary import governing_bound, largest_deflection
from framecheck.results.tables import checks_table, modes_table, rows_table
from framecheck.run import Results
from framecheck.stress import MemberStress
from framecheck.study.rate import Rating

TOLD = frozenset((
    Thing.JOINT, Thing.MEMBER_END, Thing.KINK, Thing.CUT, Thing.PLATE, Thing.MEMBER, Thing.SEAM, Thing.DETAIL, Thing.CLEARANCE
))  # fmt: skip
"""Things that have a table of their own."""


def joints(results: Results, units: Units) -> HtmlTable:
    """Return the mode that governs each joint."""
    return worst("Joints: the mode that governs each", of(results, Thing.JOINT), results, units)


def ends_judged(results: Results, units: Units) -> HtmlTable:
    """Return the worst of each check of each member end: the wall under it and its weld."""
    return each_check("Member ends: the wall under each, and its weld", of(results, Thing.MEMBER_END), results, units)


def kinks(results: Results, units: Units) -> HtmlTable:
    """Return the worst of each kink."""
    return worst("Kinks", of(results, Thing.KINK), results, units)


def others(results: Results, units: Units) -> HtmlTable:
    """Return the worst of each check of what has no table of its own: bolt holes, straps, the frame as a whole."""
    rows = [row for row in results.rows if row.subject.thing not in TOLD and row.check is not Check.CLEARANCE]
    return each_check("Holes, straps, the frame as a whole", rows, results, units)


def shop(results: Results, units: Units) -> HtmlTable:
    """Return what the joints ask of the shop."""
    return HtmlTable(TITLE, (*words(*HEADINGS[:2]), *numbers(*HEADINGS[2:])), shop_rows(results, units))


def joint_modes(results: Results, units: Units) -> HtmlTable:
    """Return every mode of every joint."""
    return modes("Joints: every mode", of(results, Thing.JOINT), results, units)


def notches(results: Results, units: Units) -> HtmlTable:
    """Return every mode of every notch."""
    return modes("Notches", of(results, Thing.CUT), results, units)


def plates(results: Results, units: Units) -> HtmlTable:
    """Return every mode of every skid plate."""
    return modes("Skid plates", of(results, Thing.PLATE), results, units)


def member_checks(results: Results, units: Units) -> HtmlTable:
    """Return the row that governs each member besides yield: buckling, permanent set."""
    return worst("Members besides yield: what governs each", of_members(results), results, units)


def every_member_check(results: Results, units: Units) -> HtmlTable:
    """Return the worst row of each check of each member besides yield."""
    table = checks_table(results.outcome.case.frame, of_members(results), "members", "Members besides yield: every check")
    return shown(table, units)


def fatigue(results: Results, units: Units) -> HtmlTable:
    """Return the life of every detail."""
    return worst("Fatigue", of(results, Thing.DETAIL), results, units)


def of_members(results: Results) -> list[CheckResult]:
    """Return the rows that speak of members and their seams, without yield."""
    return [row for row in results.rows if row.subject.thing in (Thing.MEMBER, Thing.SEAM) and row.check is not Check.YIELD]


def of(results: Results, thing: Thing) -> list[CheckResult]:
    """Return the rows that speak of one kind of thing."""
    return [row for row in results.rows if row.subject.thing is thing]


def worst(caption: str, rows: Iterable[CheckResult], results: Results, units: Units) -> HtmlTable:
    """Return the worst row of each thing."""
    chosen = worst_by(rows, lambda row: row.subject).values()
    return shown(rows_table(results.outcome.case.frame, chosen, "checks", caption), units)


def each_check(caption: str, rows: Iterable[CheckResult], results: Results, units: Units) -> HtmlTable:
    """Return the worst row of each check of each thing."""
    chosen = worst_by(rows, lambda row: (row.subject, row.check)).values()
    whole = rows_table(results.outcome.case.frame, chosen, "checks", caption)
    return shown(without(whole, "station_m", "near", "sides"), units)


def modes(caption: str, rows: Iterable[CheckResult], results: Results, units: Units) -> HtmlTable:
    """Return the worst row of each mode, thing by thing."""
    return shown(modes_table(results.outcome.case.frame, rows, "modes", caption), units)


def bounds(results: Results, units: Units) -> HtmlTable:
    """Return one row a bound: its lowest safety factor on yield, where, and its largest deflection. No rows: nothing is open."""
    outcome = results.outcome
    if len(outcome.solutions) < 2 or not outcome.loads:
        return HtmlTable("Limits of what the file leaves open", words("bound"), ())
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
    return HtmlTable(
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


def rated(found: Sequence[Rating], units: Units) -> HtmlTable:
    """Return the ratings: one load at a time."""
    rows = tuple(rating_cells(each, units) for each in found)
    headings = (
        *words("load", "unit"),
        *numbers("in the case", "meets target", "before yield", "tyres hold"),
        *words("what governs at the target"),
    )
    note = "In brackets: not the frame but something else sets the limit. One load is raised at a time, all else as in the case."
    return HtmlTable("How much the frame can take", headings, rows, note)


def rating_cells(rating: Rating, units: Units) -> tuple[str, ...]:
    """Return the cells of one rating."""
    kind = rating.load.quantity
    limits = (value(limit, kind, units) for limit in (rating.meets_target, rating.before_yield))
    tyres = NONE if rating.tyres is None else bare(rating.tyres, kind, units)
    said = rating_in_words(rating, units)
    return (rating.load.name, shown_unit(kind, units).label, bare(rating.now, kind, units), *limits, tyres, said)


def stiffness(found: Sequence[FrameStiffness], units: Units) -> HtmlTable:
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
    return HtmlTable("Stiffness of the bare frame between its axles", headings, rows)


def shares(found: Sequence[FrameStiffness]) -> tuple[HtmlTable, ...]:
    """Return which members give: their shares of the strain energy, softest and stiffest bound."""
    headings = (*words("member"), *numbers("twist, %", "upwards, %", "sideways, %"))
    return tuple(
        HtmlTable(
            f"Which members give{under(each)}",
            headings,
            tuple((s.member, percent(s.twist), percent(s.bending), percent(s.sideways)) for s in each.shares),
        )
        for each in (extremes(found) if found else ())
    )


NONE_TWISTS = "No member twists in any load case."
OWN = "The twist is the member's own, summed from section to section; how far the frame turns as a whole is not in it."


def parts(results: Results, units: Units) -> dict[str, Any]:
    """Return the sentence, the figure and the table of the most twisted rail by the name that the template uses."""
    outcome = results.outcome
    found = most_twisted(outcome.case.frame, outcome.solutions) if outcome.loads else None
    if found is None:
        return {"twist_said": NONE_TWISTS, "twist": None, "twist_table": HtmlTable("Twist", numbers("twist"), ())}
    stress, name = outcome.stresses[found.bound][found.member], outcome.loads[found.case].name
    chart = twist_diagram(stress, found.twist, name, units)
    title = f"Angle of twist along {stress.forces.member} in {name}, against its first point"
    said = twist_in_words(found, stress, name, units)
    return {
        "twist_said": f"{said} {OWN}",
        "twist": inline(SvgSheet((chart,), 1, WIDE, 250.0), "twist", title, f"{said} The numbers are in the table below."),
        "twist_table": table(found, stress, title, units),
    }


def twist_in_words(found: MostTwisted, stress: MemberStress, load_case: str, units: Units) -> str:
    """Return how far the member twists, between which stations and in which load case."""
    first, second = (with_unit(float(stress.forces.stations[i]), "station", units) for i in (found.first, found.second))
    return (
        f"{stress.forces.member} twists most: {with_unit(found.between, 'angle', units)} between {first} and {second} "
        f"from its first point, in '{load_case}'."
    )


def table(found: MostTwisted, stress: MemberStress, caption: str, units: Units) -> HtmlTable:
    """Return the torsion and the angle of twist along the member."""
    forces = stress.forces
    torsion, twist = plain(forces.member_forces[:, found.case, 3]), plain(found.twist)
    chosen = sorted({*spread(len(forces.stations)), found.first, found.second})
    rows = tuple(
        (
            station_text(float(forces.stations[i]), units),
            bare(float(torsion[i]), "moment", units),
            bare(float(twist[i]), "angle", units),
        )
        for i in chosen
    )
    headings = numbers(*(f"{name}, {label(kind, units)}" for name, kind in COLUMNS))
    return HtmlTable(caption, headings, rows, "Right-handed about the member, which runs from its first point.")


COLUMNS = (("station", "station"), ("torsion", "moment"), ("twist", "angle"))
