"""From results to the page's text."""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from typing import TYPE_CHECKING, Any

from framecheck.output import as_measured_text
from framecheck.output.display import Units
from framecheck.output.frame_study_text import stiffness_in_words as stiffness_sentence
from framecheck.output.html_report import check_tables, figures, inputs, joints_read, tables
from framecheck.output.html_report.figures import (
    Station,
    point_table,
    scene_json,
    section_figure,
    station_table,
    worst_stations,
)
from framecheck.output.html_report.tables import HtmlTable
from framecheck.output.terminal import notes, open_sentence
from framecheck.output.wording import accepted_lines, first_words, open_lines, picture_words, verdict_line
from framecheck.results.row import CheckResult
from framecheck.results.summary import drawn_on_member, drawn_row, governing_bound
from framecheck.run import Results
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class
from framecheck.versions import MADE_BY, UNKNOWN, Origin, stamp

if TYPE_CHECKING:
    from jinja2 import Environment

    from framecheck.frame.stiffness import FrameStiffness
    from framecheck.study.rate import Rating

MOST_SECTIONS = 2
"""So many sections are drawn with their stress; all stand in the table."""

NO_RATINGS = (
    "Not asked for. `framecheck report CASE --ratings -o FILE` adds how much torque, g, payload the frame can take."
)
NOTHING_TO_RATE = "No load case of this file has a load that can be rated."
ASSUMPTIONS = (
    "Members are Timoshenko beams, exact between joints; open sections also warp (V. Z. Vlasov).",
    "Steel and aluminium are linear and elastic; movements are small against the frame.",
    "Each load case of the vehicle is one instant: forces of the ground, weight and inertia in balance, without vibration.",
    "Yield is judged on the equivalent stress at the section's surface away from sharp re-entrant corners.",
    "Where the file leaves a joint open, both ends of the range are solved and the worse one is shown.",
)


@cache
def environment() -> Environment:
    """Return the template environment; everything that comes from a file is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    made = Environment(
        loader=PackageLoader("framecheck.output", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["made_by"] = MADE_BY
    return made


def script_hash(script: str) -> str:
    """Return the hash by which the page's security policy allows its one script."""
    return "sha256-" + base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")


@value_class
class ReportExtras:
    """What a report holds beside the results of the run. text: the case file; ratings: None: not asked for.

    stiffness_fault: why there is no stiffness, where there is none. drawn: the answer as drawn, of a frame as measured.
    """

    text: str = ""
    ratings: tuple[Rating, ...] | None = None
    stiffness: tuple[FrameStiffness, ...] = ()
    drawn: Results | None = None
    stiffness_fault: str = (
        "Not measured: the case describes no vehicle, so there are no axles to twist the frame between."
    )


def as_html(
    results: Results,
    caution: str,
    units: Units = Units.SI,
    further: ReportExtras | None = None,
    origin: Origin = UNKNOWN,
) -> str:
    """Return the whole report of one case as one HTML file."""
    script, more = source("view.js"), further or ReportExtras()
    page: str = (
        environment()
        .get_template("report.html")
        .render(
            caution=caution,
            case=results.outcome.case,
            verdict=verdict_line(results.verdict),
            is_met=results.verdict.is_met,
            origin=stamp([origin]) if origin.file else "",
            answer=first_words(results, units),
            drawn_said=tuple(as_measured_text.sentences(results, more.drawn)) if more.drawn is not None else (),
            drawn_table=None if more.drawn is None else as_measured_text.table_of(results, more.drawn),
            left_open=open_sentence(results.outcome.solutions),
            notes=tuple(notes(results, units)),
            assumptions=ASSUMPTIONS,
            open_brief=tuple(open_lines(results.verdict, units, len(results.verdict.ledger.groups))),
            open_lines=tuple(open_lines(results.verdict, units)),
            accepted_lines=tuple(accepted_lines(results.verdict)),
            remarks=tables.remarks(results),
            script=script,
            script_hash=script_hash(script),
            style=source("report.css"),
            **drawings(results, units),
            **check_tables.parts(results, units),
            **result_tables(results, units),
            **input_tables(results, units),
            **study_parts(more, units),
        )
    )
    return page


def source(name: str) -> str:
    """Return the text of a file beside the templates."""
    loader = environment().loader
    if loader is None:
        raise RuntimeError("the template environment has no loader")
    return loader.get_source(environment(), name)[0]


NOT_DRAWN = {"bars": None, "still": None, "along": None, "along_said": "", "section_figures": (), "scene": ""}


def drawings(results: Results, units: Units) -> dict[str, Any]:
    """Return the page's figures, and the numbers under them, by the name that the template uses; none without load cases."""
    outcome = results.outcome
    row, on_member = drawn_row(outcome, results.rows), drawn_on_member(outcome, results.rows)
    found = worst_stations(results)
    if not outcome.loads:
        return {**NOT_DRAWN, "stations": station_table(found, units)}
    case, along_case = number_of(outcome, row), number_of(outcome, on_member)
    name = outcome.loads[along_case].name
    members = [member.name for member in outcome.case.frame.members]
    member = 0 if on_member is None else members.index(on_member.subject.name)
    stress = outcome.stresses[governing_bound(outcome, on_member)][member]
    return {
        "bars": figures.by_load_case(results) if results.rows else None,
        "still": figures.still_frame(results, governing_bound(outcome, row), case),
        "along": figures.along(stress, along_case, name, outcome.case.targets.of(name), units),
        "along_said": picture_words(results.governing, on_member),
        "along_table": tables.along(stress, along_case, units),
        "section_figures": with_points(found, units),
        "stations": station_table(found, units),
        "scene": scene_json(results),
    }


def number_of(outcome: SolvedCase, row: CheckResult | None) -> int:
    """Return the number of a row's load case among those of the frame, the first where it has none."""
    names = [loads.name for loads in outcome.loads]
    return names.index(row.load_case) if row is not None and row.load_case in names else 0


def with_points(found: tuple[Station, ...], units: Units) -> tuple[tuple[figures.Drawing, HtmlTable], ...]:
    """Return the figure of each section at its worst station, at most MOST_SECTIONS, with the numbers under it."""
    drawn = ((section_figure(at, i, units), point_table(at, units)) for i, at in enumerate(found[:MOST_SECTIONS]))
    return tuple((figure, points) for figure, points in drawn if figure is not None)


def result_tables(results: Results, units: Units) -> dict[str, HtmlTable]:
    """Return the tables of results by the name that the template uses."""
    return {
        "kinds": tables.kinds(results, units),
        "load_cases": tables.load_cases(results, units),
        "members": tables.members(results, units),
        "bounds": check_tables.bounds(results, units),
        "joints_read": joints_read.described(results, units),
        "member_ends": joints_read.member_ends(results, units),
        "joints": check_tables.joints(results, units),
        "ends_judged": check_tables.ends_judged(results, units),
        "kinks_judged": check_tables.kinks(results, units),
        "others": check_tables.others(results, units),
        "shop": check_tables.shop(results, units),
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
        "self_checks": tables.self_checks(results),
        "readings": tables.readings(results, units),
        "sources": tables.sources(results.rows),
    }


def input_tables(results: Results, units: Units) -> dict[str, HtmlTable]:
    """Return the tables of what was read by the name that the template uses."""
    return {
        "load_factors": inputs.load_factors(results, units),
        "targets": inputs.targets(results),
        "sections": inputs.sections(results, units),
        "materials": inputs.materials(results, units),
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
        "text": further.text,
        "rated": check_tables.rated(further.ratings or (), units),
        "no_ratings": NO_RATINGS if further.ratings is None else NOTHING_TO_RATE,
        "stiffness": check_tables.stiffness(stiff, units),
        "stiffness_said": stiffness_sentence(stiff, units) if stiff else further.stiffness_fault,
        "shares": check_tables.shares(stiff),
    }
