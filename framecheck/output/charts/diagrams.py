"""Charts of results: along one member, the use of strength of every load case, cases compared, the twist along the frame."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.arrays import Array
from framecheck.output.charts.chart import (
    INK,
    LINE,
    QUIET,
    WARN,
    Area,
    Chart,
    ChartLine,
    Drawn,
    Note,
    Stroke,
    TextSide,
    bar,
    level,
    span,
    under,
    upright,
)
from framecheck.output.display import Units, factor, shown_unit, with_unit
from framecheck.output.frame_study_text import shown_couple
from framecheck.output.wording import percent
from framecheck.results.row import CheckResult, Grade
from framecheck.results.summary import LoadCaseRow
from framecheck.results.tables import Scope
from framecheck.stress import MemberStress
from framecheck.study.compare import ComparedRow

MOST_SHOWN = 10.0
"""The largest safety factor that is drawn as itself."""
ASIDE = 0.07
"""How far a note keeps from the ends of a member, as a share of its length."""


def line_along(stress: MemberStress, values: Array, title: str, up: str, units: Units) -> Chart:
    """Return values (n_station,) along a member as a line above and below zero."""
    along = shown_unit("station", units)
    x = stress.forces.stations / along.size
    ends = (float(x[0]), float(x[-1]))
    marks = (Area(under(x, values), LINE, opacity=0.2), ChartLine(x, values), level(ends, 0.0, QUIET))
    return Chart(title, f"station, {along.label}", up, ends, span(values, 0.0), marks)


def twist_diagram(stress: MemberStress, twist: Array, load_case: str, units: Units) -> Chart:
    """Return how far each station has turned about the member against its first, twist (n_station,) in rad; joints marked."""
    unit = shown_unit("angle", units)
    title = f"How far {stress.forces.member} has turned since its first point in '{load_case}'"
    chart = line_along(stress, twist / unit.size, title, f"twist, {unit.label}", units)
    most = int(np.argmax(np.abs(twist)))
    x = float(stress.forces.stations[most] / shown_unit("station", units).size)
    inside = min(max(x, chart.x[0] + ASIDE * (chart.x[1] - chart.x[0])), chart.x[1] - ASIDE * (chart.x[1] - chart.x[0]))
    value = float(twist[most] / unit.size)
    said = Note(f"{value:+.3g} {unit.label}".replace("-", "\N{MINUS SIGN}"), (inside, max(value, 0.0)), TextSide.ABOVE, INK)
    return replace(chart, y=span(twist / unit.size, 0.0, room=0.15), marks=(*chart.marks, said))


ALLOWED, MOST_USE_SHOWN = 100.0, 125.0
"""What is allowed, and where a bar ends that uses more than there is room for, %."""
ROOM = 1.25
"""How much longer the axis is than the longest bar: for what stands beside it."""
HIGH = 0.62
"""How high a bar is, rows."""


def safety_chart(rows: Sequence[LoadCaseRow]) -> Chart:
    """Return a bar a load case, the governing one on top; a stroke marks what is allowed; each bar says its number and grade."""
    shown = [(row.load_case or Scope.ALL.value, row.worst) for row in rows if row.worst is not None]
    ends = (len(shown) - 0.5, -0.5)
    marks = [mark for number, (_, row) in enumerate(shown) for mark in bar_of(row, number)]
    return Chart(
        "",
        f"share of what is allowed that is used, % ({MOST_USE_SHOWN:g}: or more)",
        "",
        (0.0, MOST_USE_SHOWN * ROOM),
        ends,
        (*marks, upright(ALLOWED, ends, INK, 2.0)),
        names=tuple(shortened(name) for name, _ in shown),
    )


def bar_of(row: CheckResult, number: int) -> Iterable[Drawn]:
    """Return one bar with its number; a hatched one is LOW."""
    length, low = min(100.0 * row.used, MOST_USE_SHOWN), row.grade is Grade.LOW
    yield Area(bar(number, length, HIGH), WARN if low else LINE, is_hatched=low)
    yield Note(f"{percent(row.used)} {row.grade.value}", (max(length, ALLOWED), float(number)))


def shortened(name: str, most: int = 36) -> str:
    """Return a name that leaves room for the drawing; the table beside it has it whole."""
    return name if len(name) <= most else f"{name[: most - 3]}..."


FILLS = (("#0b5fa5", False), ("#b36b00", True), ("#5a6472", False), ("#5a8fb5", True))
"""Colour of each case, and whether it is hatched; each bar says its letter as well."""


def compared_chart(letters: Sequence[str], rows: Sequence[ComparedRow]) -> Chart:
    """Return a group of bars a load case, one bar a case in the order of its letter; each bar says its number."""
    height = 0.8 / len(letters)
    bars, notes = [], []
    for i, letter in enumerate(letters):
        colour, is_hatched = FILLS[i % len(FILLS)]
        placed = [(n - 0.4 + height * (i + 0.5), row.values[i]) for n, row in enumerate(rows)]
        known = [(at, value) for at, value in placed if value is not None]
        rings = tuple(ring for at, value in known for ring in bar(at, min(value, MOST_SHOWN), height * 0.9))
        bars += [Area(rings, colour, is_hatched=is_hatched, label=letter)] if rings else []
        notes += [Note(f"{letter} {factor(value)}", (min(value, MOST_SHOWN), at)) for at, value in known]
    return Chart(
        "",
        "lowest safety factor (10 = 10 or more)",
        "",
        (0.0, MOST_SHOWN * 1.15),
        (len(rows) - 0.5, -0.5),
        (*bars, *notes),
        names=tuple(load_cases(rows)),
    )


def load_cases(rows: Sequence[ComparedRow]) -> list[str]:
    """Return the load cases' names as the chart has room for them."""
    return [shortened(row.load_case or row.name) for row in rows]


STROKES = (Stroke.SOLID, Stroke.DASHED, Stroke.DOTTED, Stroke.CHAIN)


def twist_chart(found: Sequence[FrameStiffness], units: Units) -> Chart:
    """Return the twist along the frame, front at the left, one line per bound; a steep stretch is a soft one."""
    couple = shown_couple(found, units)
    along, turn = shown_unit("length", units), shown_unit("angle", units)
    lines = [
        ChartLine(
            each.x / along.size,
            each.twist * couple / turn.size,
            (LINE, WARN)[number % 2],
            stroke=STROKES[number % len(STROKES)],
            label=each.bound.name or "as written",
        )
        for number, each in enumerate(found)
    ]
    rear, front = span(*(each.x for each in lines), room=0.02)
    y = span(*(each.y for each in lines), 0.0)
    marks: list[Drawn] = [*lines, level((front, rear), 0.0, QUIET)]
    for place, name in ((found[0].front / along.size, "front axle"), (found[0].rear / along.size, "rear axle")):
        marks += [upright(place, y, QUIET), Note(name, (place, y[1] - 0.03 * (y[1] - y[0])), TextSide.RIGHT)]
    title = f"How the frame twists along it under {with_unit(couple, 'moment', units)} between the axles"
    across = f"x, {along.label} (front at the left)"
    return Chart(title, across, f"twist, {turn.label}", (front, rear), y, tuple(marks))
