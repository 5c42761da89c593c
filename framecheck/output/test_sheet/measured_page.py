"""What readings say, as one HTML file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.output.charts.chart import LINE, QUIET, WARN, Area, Chart, ChartLine, Dots, Drawn, level, span
from framecheck.output.charts.svg import SvgSheet as Drawing
from framecheck.output.display import Units, shown_unit
from framecheck.output.html_report.environment import environment, source
from framecheck.output.html_report.figures import WIDE, inline
from framecheck.output.html_report.figures import Drawing as Figure
from framecheck.output.test_sheet import change_wording
from framecheck.output.test_sheet import measured_wording as said
from framecheck.output.test_sheet.also import Also
from framecheck.output.test_sheet.fit_wording import lines, singular_table
from framecheck.output.test_sheet.parts import rig_figure
from framecheck.output.test_sheet.wording import title
from framecheck.rig.measured import MeasuredTest
from framecheck.versions import stamp


def as_html(tests: Sequence[MeasuredTest], caution: str, units: Units, also: Also) -> str:
    """Return what the readings say as one HTML file: the first test in full, others by their first lines."""
    found, fit, change = tests[0], also.fit, also.change
    page: str = (
        environment()
        .get_template("measured.html")
        .render(
            caution=caution,
            case=found.sheet.case,
            title=f"{title(found.sheet)}, as measured",
            origin=stamp(also.origins),
            change=tuple(change_wording.lines(change, units)) if change is not None else (),
            changed=None if change is None else change_wording.table(change, units),
            first=tuple(line for each in tests for line in first_lines(each, len(tests) > 1, units)),
            fit=tuple(lines(fit, units)) if fit is not None else (),
            singular=singular_table(fit.fit) if fit is not None else None,
            bays=tuple(said.bay_lines(found)),
            odd=tuple(said.finding_lines(found, units)),
            rig=rig_figure(found.sheet),
            twist=twist_figure(found, units) if known_planes(found) else None,
            pairs=said.pair_table(found, units) if found.sheet.rig.planes else None,
            dials=said.dial_table(found, units),
            style=source("report.css") + source("test_sheet.css"),
        )
    )
    return page


def first_lines(found: MeasuredTest, is_named: bool, units: Units) -> Iterator[str]:
    """Yield the answer of one test, under its name where there are several."""
    if is_named:
        yield f"{title(found.sheet)}:"
    yield from said.first_lines(found, units)


def known_planes(found: MeasuredTest) -> list[int]:
    """Return the pairs of dials that were read."""
    return [row for row, each in enumerate(found.turn_slopes) if each is not None]


def twist_figure(found: MeasuredTest, units: Units) -> Figure:
    """Return the measured twist along the frame over the expected one."""
    name = "Twist along the frame at the top load: as measured, over what is expected"
    return inline(Drawing((twist_chart(found, units),), 1, WIDE, 320.0), "twist", name, "The numbers are in the tables below.")


def twist_chart(found: MeasuredTest, units: Units) -> Chart:
    """Return measured turns with two standard deviations, over the expected line and its range."""
    sheet, along, turn = found.sheet, shown_unit("length", units), shown_unit("angle", units)
    x = np.array([plane.x for plane in sheet.rig.planes]) / along.size
    low, mid, high = (each[:, -1] / turn.size for each in (sheet.turns.low, sheet.turns.mid, sheet.turns.high))
    ring = np.column_stack([np.concatenate([x, x[::-1], x[:1]]), np.concatenate([low, high[::-1], low[:1]])])
    rows, top = known_planes(found), float(sheet.loads[-1])
    slopes = [each for each in found.turn_slopes if each is not None]
    read = np.array([each.value * top for each in slopes]) / turn.size
    doubt = 2 * np.array([each.sigma * top for each in slopes]) / turn.size
    rear, front = span(x, room=0.04)
    marks: tuple[Drawn, ...] = (
        Area((ring,), LINE, 0.2, label="range expected"),
        ChartLine(x, mid, label="expected"),
        ChartLine(x[rows], read, WARN, 1.8, label="measured, ± two standard deviations"),
        *(ChartLine(np.array([x[row]] * 2), np.array([a - b, a + b]), WARN) for row, a, b in zip(rows, read, doubt, strict=True)),
        Dots(np.column_stack([x[rows], read]), (WARN,) * len(rows), 6.0),
        level((front, rear), 0.0, QUIET),
    )
    across = f"x, {along.label} (front at the left)"
    return Chart("", across, f"turn, {turn.label}", (front, rear), span(low, high, read - doubt, read + doubt, 0.0), marks)
