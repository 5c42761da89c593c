"""The report's appendix: every table of results, what was read, and what studies gave."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from framecheck.output.display import Units
from framecheck.output.frame_study_text import stiffness_in_words as stiffness_sentence
from framecheck.output.html_report import check_tables, figures, inputs, joints_read, tables
from framecheck.output.html_report.figures import (
    point_table,
    section_figure,
    station_table,
    worst_stations,
)
from framecheck.output.html_report.tables import HtmlTable
from framecheck.output.terminal import notes
from framecheck.run import Results
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from framecheck.frame.stiffness import FrameStiffness
    from framecheck.rig.sheet import Sheet
    from framecheck.study.rate import Rating

MOST_SECTIONS = 2
"""So many sections are drawn with their stress; all stand in the table."""

NO_RATINGS = (
    "Not asked for. `framecheck report CASE --ratings -o FILE` adds how much torque, g, payload the frame can take."
)
NOTHING_TO_RATE = "No load case of this file has a load that can be rated."


@value_class
class ReportExtras:
    """What a report holds beside the results of the run. text: the case file; ratings: None: not asked for.

    stiffness_fault: why there is no stiffness, where there is none. drawn: the answer as drawn, of a frame as measured.
    is_full: with the appendix, every table and the case file. test: how the frame is to be measured; None: not asked for.
    """

    text: str = ""
    ratings: tuple[Rating, ...] | None = None
    stiffness: tuple[FrameStiffness, ...] = ()
    drawn: Results | None = None
    stiffness_fault: str = (
        "Not measured: the case describes no vehicle, so there are no axles to twist the frame between."
    )
    is_full: bool = False
    test: Sheet | None = None


def appendix(results: Results, further: ReportExtras, units: Units) -> dict[str, Any]:
    """Return everything that the appendix shows, by the name that the template uses; nothing where it is not asked for."""
    if not further.is_full:
        return {}
    return {
        **drawings(results, units),
        **check_tables.parts(results, units),
        **result_tables(results, units),
        **input_tables(results, units),
        "notes": tuple(notes(results, units)),
    }


def drawings(results: Results, units: Units) -> dict[str, Any]:
    """Return the figures, and the numbers under them, by the name that the template uses."""
    found = worst_stations(results)
    drawn = ((section_figure(at, i, units), point_table(at, units)) for i, at in enumerate(found[:MOST_SECTIONS]))
    return {
        "bars": figures.by_load_case(results) if results.rows and results.outcome.loads else None,
        "section_figures": tuple((figure, points) for figure, points in drawn if figure is not None),
        "stations": station_table(found, units),
    }


def result_tables(results: Results, units: Units) -> dict[str, HtmlTable]:
    """Return the tables of results by the name that the template uses."""
    return {
        "load_cases": tables.load_cases(results, units),
        "members": tables.members(results, units),
        "bounds": check_tables.bounds(results, units),
        "joints_read": joints_read.described(results, units),
        "member_ends": joints_read.member_ends(results, units),
        "joints": check_tables.joints(results, units),
        "ends_judged": check_tables.ends_judged(results, units),
        "kinks_judged": check_tables.kinks(results, units),
        "others": check_tables.others(results, units),
        "joint_modes": check_tables.joint_modes(results, units),
        "notches": check_tables.notches(results, units),
        "plates": check_tables.plates(results, units),
        "member_checks": check_tables.member_checks(results, units),
        "every_member_check": check_tables.every_member_check(results, units),
        "fatigue": check_tables.fatigue(results, units),
        "all_clearances": tables.all_clearances(results, units),
        "clearances": tables.clearances(results, units),
        "masses": tables.masses(results, units),
        "wheels": tables.wheels(results, units),
        "brackets": tables.brackets(results, units),
        "readings": tables.readings(results, units),
        "sources": tables.sources(results.rows),
    }


def input_tables(results: Results, units: Units) -> dict[str, HtmlTable]:
    """Return the tables of what was read by the name that the template uses."""
    return {
        "load_factors": inputs.load_factors(results, units),
        "targets": inputs.targets(results),
        "points": inputs.points(results, units),
        "ends": inputs.ends(results, units),
        "cuts": inputs.cuts(results, units),
        "supports": inputs.supports(results, units),
        "wheels_read": inputs.wheels_read(results, units),
        "driveline": inputs.driveline(results, units),
    }


def study_parts(further: ReportExtras, units: Units) -> dict[str, Any]:
    """Return what the studies give, by the name that the template uses."""
    stiff = further.stiffness
    return {
        "text": further.text if further.is_full else "",
        "rated": check_tables.rated(further.ratings or (), units),
        "no_ratings": NO_RATINGS if further.ratings is None else NOTHING_TO_RATE,
        "stiffness": check_tables.stiffness(stiff, units),
        "stiffness_said": stiffness_sentence(stiff, units) if stiff else further.stiffness_fault,
        "shares": check_tables.shares(stiff),
    }
