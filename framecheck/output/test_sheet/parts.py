"""The parts of a test sheet as a page shows them: by itself, or within a report."""

from __future__ import annotations

from typing import Any

from framecheck.output.charts.svg import SvgSheet as Drawn
from framecheck.output.display import Units
from framecheck.output.html_report.figures import WIDE, Drawing, inline
from framecheck.output.test_sheet import tables, wording
from framecheck.output.test_sheet.drawing import rig_chart, twist_chart
from framecheck.rig.sheet import Sheet


def sheet_parts(sheet: Sheet, units: Units) -> dict[str, Any]:
    """Return everything that a sheet shows, by the name that its template uses."""
    return {
        "title": wording.title(sheet),
        "first": tuple(wording.first_lines(sheet, units)),
        "safety": tuple(wording.safety_lines(sheet)),
        "order": tuple(wording.order_lines(sheet)),
        "rig": rig_figure(sheet),
        "twist": twist_figure(sheet, units) if sheet.rig.planes else None,
        "stands": tables.stands(sheet, units),
        "steps": tables.steps(sheet),
        "dials": tables.dials(sheet, units),
        "expected": tables.expected(sheet, units),
        "turns": tables.turns(sheet, units) if sheet.rig.planes else None,
        "meanings": tables.meanings(sheet),
        "meaning": tuple(wording.meaning_lines(sheet)),
        "stops": tuple(wording.stop_line(each) for each in sheet.stops),
        "notes": tuple(wording.notes(sheet)),
        "form": tables.form(sheet, units),
    }


def rig_figure(sheet: Sheet) -> Drawing:
    """Return the rig drawn."""
    title = "The rig: triangles hold the frame up, arrows load it (+), letters are dials"
    said = "The tables of stands and of dials say the same in words."
    return inline(Drawn((rig_chart(sheet.rig),), 1, WIDE, 400.0), "test-rig", title, said)


def twist_figure(sheet: Sheet, units: Units) -> Drawing:
    """Return the expected twist along the frame."""
    title = "Expected twist along the frame; draw your own readings in"
    return inline(Drawn((twist_chart(sheet, units),), 1, WIDE, 300.0), "test-twist", title, "The numbers are in the table below.")
