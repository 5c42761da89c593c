"""From results to the page's text."""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from typing import TYPE_CHECKING, Any

from framecheck.output.display import Units
from framecheck.output.html_report import figures, tables
from framecheck.output.html_report.scene import scene_json
from framecheck.output.terminal import governing_sentence, notes, open_sentence
from framecheck.run import Results
from framecheck.summary import governing_bound

if TYPE_CHECKING:
    from jinja2 import Environment

ASSUMPTIONS = (
    "Members are Timoshenko beams, exact between joints; open sections also warp (V. Z. Vlasov).",
    "Steel and aluminium are linear and elastic; movements are small against the frame.",
    "The vehicle's load cases are steady moments: forces of the ground and of inertia in balance, without vibration.",
    "Yield is judged on the equivalent stress at the section's surface away from sharp re-entrant corners.",
    "Where the file leaves a joint open, both ends of the range are solved and the worse one is shown.",
)


@cache
def environment() -> Environment:
    """Return the template environment; everything that comes from a file is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("framecheck.output", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def script_hash(script: str) -> str:
    """Return the hash by which the page's security policy allows its one script."""
    return "sha256-" + base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")


def as_html(results: Results, caution: str, units: Units = Units.SI) -> str:
    """Return the whole report of one case as one HTML file."""
    script = source("view.js")
    page: str = (
        environment()
        .get_template("report.html")
        .render(
            caution=caution,
            case=results.outcome.case,
            answer=governing_sentence(results, units),
            left_open=open_sentence(results.outcome.solutions),
            notes=tuple(notes(results)),
            assumptions=ASSUMPTIONS,
            not_checked=tables.not_checked(results),
            script=script,
            script_hash=script_hash(script),
            style=source("report.css"),
            scene=scene_json(results),
            **drawings(results, units),
            **all_tables(results, units),
        )
    )
    return page


def source(name: str) -> str:
    """Return the text of a file beside the templates."""
    loader = environment().loader
    if loader is None:
        raise RuntimeError("the template environment has no loader")
    return loader.get_source(environment(), name)[0]


def drawings(results: Results, units: Units) -> dict[str, Any]:
    """Return the page's figures by the name that the template uses."""
    outcome, row = results.outcome, results.governing
    bound = governing_bound(outcome, row)
    names = [loads.name for loads in outcome.loads]
    case = names.index(row.load_case) if row is not None and row.load_case in names else 0
    members = [stress.forces.member for stress in outcome.stresses[bound]]
    stress = outcome.stresses[bound][members.index(row.where) if row is not None and row.where in members else 0]
    target = outcome.case.targets.of(names[case])
    return {
        "bars": figures.by_load_case(results),
        "still": figures.still_frame(results, bound, case),
        "along": figures.along(stress, case, names[case], target, units),
        "along_table": tables.along(stress, case, units),
    }


def all_tables(results: Results, units: Units) -> dict[str, tables.Table]:
    """Return the page's tables by the name that the template uses."""
    return {
        "load_cases": tables.load_cases(results, units),
        "members": tables.members(results, units),
        "other_checks": tables.other_checks(results, units),
        "all_modes": tables.all_modes(results, units),
        "all_clearances": tables.all_clearances(results, units),
        "clearances": tables.clearances(results, units),
        "masses": tables.masses(results, units),
        "wheels": tables.wheels(results, units),
        "brackets": tables.brackets(results, units),
        "load_factors": tables.load_factors(results),
        "targets": tables.targets(results),
        "sections": tables.sections(results, units),
        "materials": tables.materials(results, units),
        "points": tables.points(results, units),
        "ends": tables.ends(results),
        "self_checks": tables.self_checks(results),
        "sources": tables.sources(results.rows),
    }
