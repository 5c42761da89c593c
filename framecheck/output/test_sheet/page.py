"""The test sheet as one HTML file that prints."""

from __future__ import annotations

from framecheck.output.display import Units
from framecheck.output.html_report.environment import environment, source
from framecheck.output.html_report.paged import page_rules
from framecheck.output.test_sheet.parts import sheet_parts
from framecheck.rig.sheet import Sheet
from framecheck.versions import Origin, stamp


def as_html(sheet: Sheet, caution: str, units: Units, origin: Origin) -> str:
    """Return the whole sheet as one HTML file."""
    page: str = (
        environment()
        .get_template("test_sheet.html")
        .render(
            caution=caution,
            case=sheet.case,
            origin=stamp([origin]) if origin.file else "",
            test=sheet_parts(sheet, units),
            style=source("report.css") + source("test_sheet.css") + page_rules(sheet.case.title, [origin], units),
        )
    )
    return page
