"""From results to the page's text: one page that answers, what everything uses, a page a finding, what stands behind it."""

from __future__ import annotations

import base64
import hashlib
from typing import Any

from framecheck.output import as_measured_text
from framecheck.output.charts.once import once
from framecheck.output.display import Units
from framecheck.output.html_report import check_tables, inputs, tables
from framecheck.output.html_report.appendix import ReportExtras as ReportExtras
from framecheck.output.html_report.appendix import appendix, study_parts
from framecheck.output.html_report.environment import environment, source
from framecheck.output.html_report.finding_page import finding_page
from framecheck.output.html_report.first_page import first_page
from framecheck.output.html_report.glossary import GLOSSARY
from framecheck.output.html_report.paged import page_rules
from framecheck.output.html_report.scene import scene_json
from framecheck.output.html_report.used_page import used_page
from framecheck.output.terminal import open_sentence
from framecheck.output.test_sheet.parts import sheet_parts
from framecheck.output.wording import accepted_lines, open_lines
from framecheck.results.findings import findings
from framecheck.results.verdict import State
from framecheck.run import Results
from framecheck.versions import UNKNOWN, Origin

ASSUMPTIONS = (
    "Members are Timoshenko beams, exact between joints; open sections also warp (V. Z. Vlasov).",
    "Steel and aluminium are linear and elastic; movements are small against the frame.",
    "Each load case of the vehicle is one instant: forces of the ground, weight and inertia in balance, without vibration.",
    "Yield is judged on the equivalent stress at the section's surface away from sharp re-entrant corners.",
    "Where the file leaves a joint open, both ends of the range are solved and the worse one is shown.",
)


def script_hash(script: str) -> str:
    """Return the hash by which the page's security policy allows its one script."""
    return "sha256-" + base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")


def as_html(
    results: Results,
    caution: str,
    units: Units = Units.SI,
    further: ReportExtras | None = None,
    origin: Origin = UNKNOWN,
) -> str:
    """Return the whole report of one case as one HTML file."""
    script, more = page_script(bool(results.outcome.loads)), further or ReportExtras()
    title = results.outcome.case.title
    page: str = (
        environment()
        .get_template("report.html")
        .render(
            caution=caution,
            title=title,
            first=first_page(results, units, origin),
            style=source("report.css") + source("test_sheet.css") + page_rules(title, [origin], units),
            script=script,
            script_hash=script_hash(script),
            scene=scene_json([(title, results)], units) if results.outcome.loads else "",
            used=used_page(results),
            findings=finding_pages(results, units, origin),
            is_full=more.is_full,
            test=None if more.test is None else sheet_parts(more.test, units),
            **behind(results, units, more),
            **study_parts(more, units),
            **appendix(results, more, units),
        )
    )
    return once(page)


def finding_pages(results: Results, units: Units, origin: Origin) -> tuple[Any, ...]:
    """Return the pages of the findings; none where nothing can be trusted."""
    if results.verdict.state is State.NOT_JUDGED:
        return ()
    found = findings(results.rows)
    return tuple(finding_page(results, row, number, units, origin.file) for number, row in enumerate(found, 1))


def behind(results: Results, units: Units, more: ReportExtras) -> dict[str, Any]:
    """Return what stands behind the answer, by the name that the template uses."""
    return {
        "left_open": open_sentence(results.outcome.solutions),
        "drawn_said": tuple(as_measured_text.sentences(results, more.drawn)) if more.drawn is not None else (),
        "drawn_table": None if more.drawn is None else as_measured_text.table_of(results, more.drawn),
        "assumptions": ASSUMPTIONS,
        "open_lines": tuple(open_lines(results.verdict, units)),
        "accepted_lines": tuple(accepted_lines(results.verdict)),
        "remarks": tables.remarks(results),
        "sections": inputs.sections(results, units),
        "materials": inputs.materials(results, units),
        "shop": check_tables.shop(results, units),
        "self_checks": tables.self_checks(results),
        "glossary": GLOSSARY,
    }


def page_script(has_view: bool) -> str:
    """Return the page's script: what is folded opens for print, which not every browser's style rules can do; and the view's.

    has_view: the page has the view in three dimensions, and what follows the load case chosen in it.
    """
    return source("print.js") + (source("follow.js") + source("view.js") if has_view else "")
