"""The test sheet for a terminal."""

from __future__ import annotations

from framecheck.output.display import TextColumn, Units, listed, table, titled, wrapped
from framecheck.output.html_report.tables import HtmlTable
from framecheck.output.test_sheet import tables, wording
from framecheck.rig.sheet import Sheet


def as_text(sheet: Sheet, caution: str, units: Units, width: int = 80) -> str:
    """Return the whole sheet as text."""
    parts = [
        wrapped(f"{sheet.case.title}: {wording.title(sheet)}", width),
        wrapped(caution, width),
        *(wrapped(line, width) for line in wording.first_lines(sheet, units)),
        titled("Safety", listed(wording.safety_lines(sheet), width)),
        shown(tables.stands(sheet, units), width),
        shown(tables.steps(sheet), width),
        shown(tables.dials(sheet, units), width),
        titled("In this order", listed(wording.order_lines(sheet), width)),
        shown(tables.at_top(sheet, units), width),
        shown(tables.turns(sheet, units), width) if sheet.rig.planes else "",
        shown(tables.meanings(sheet), width),
        listed(wording.meaning_lines(sheet), width),
        titled("Stop loads", listed((wording.stop_line(each) for each in sheet.stops), width)),
        titled("Notes", listed(wording.notes(sheet), width)),
    ]
    return "\n\n".join(part for part in parts if part)


def shown(of: HtmlTable, width: int) -> str:
    """Return a table under its caption, its note below."""
    body = table([TextColumn(each.text, each.is_number) for each in of.headings], of.rows, width)
    return titled(of.caption, "\n".join((body, *((wrapped(of.note, width),) if of.note else ()))))
