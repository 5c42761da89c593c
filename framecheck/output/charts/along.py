"""All section forces along a member on one axis of stations, with the names of its points, the peaks, and what is allowed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.results import BIMOMENT
from framecheck.model.arrays import Array
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    LINE,
    QUIET,
    Area,
    Chart,
    ChartLine,
    Drawn,
    Mark,
    Note,
    PointMark,
    Range,
    Stroke,
    TextSide,
    letters_wide,
    level,
    under,
    upright,
)
from framecheck.output.display import Units, shortened, shown_unit
from framecheck.output.wording import percent, station_text
from framecheck.stress import MemberStress
from framecheck.value_class import array_class, value_class

COMPONENTS = {
    "axial force": (0, "force"),
    "shear sideways": (1, "force"),
    "shear vertical": (2, "force"),
    "torsion": (3, "moment"),
    "bending vertically": (4, "moment"),
    "bending sideways": (5, "moment"),
}
"""Column of MemberForces.member_forces and quantity by name."""
NONE_BELOW = 1e-3
"""What is less than this share of the largest of its kind is the solution's rounding, and drawn as none."""
SMALL = 0.05
"""A row reaches at least so far, as a share of the largest of its kind: half a newton metre beside thousands looks like none."""
HALF = 0.35
"""How far the largest value of a row reaches from its zero, rows: words beside it then lie over no other row's."""
ROW, FOOT = 38.0, 46.0
"""Pixels of a row, and of what stands below the last."""
BESIDE = 132.0
"""Pixels at the right for values at the station that is looked at."""
OPPOSITE = 0.35
"""A peak of the other sign is told from this share of the largest on."""
NAMES_AND_VALUES = 300.0
"""Pixels beside the rows, for their names and the values at the station."""
NAME_APART = 13.0
"""Pixels that turned names keep from each other."""
LONGEST_NAME = 18
"""Letters of a name on one line; a longer one takes two where there is room beside it."""
USE = "used on yield, %"


@value_class
class LookedAlong:
    """Where a member is looked at. case: by number; target: on yield; points: (name, station m); at: the station looked at, m."""

    case: int
    target: float
    points: tuple[tuple[str, float], ...]
    at: float | None = None


@array_class
class AlongRow:
    """One row of the chart: its name with the unit, the values (n,) in it, and the value that reaches farthest in it."""

    name: str
    values: Array
    reach: float


def rows_along(stress: MemberStress, along: LookedAlong, units: Units) -> Iterator[AlongRow]:
    """Yield the rows: section forces, the bimoment of a section that warps, the share of what is allowed on yield."""
    for name, (column, quantity) in COMPONENTS.items():
        unit = shown_unit(quantity, units)
        values = quiet(stress.forces.member_forces[:, along.case, column], largest_of(stress, along.case, quantity))
        reach = reach_of(stress, along.case, name) / unit.size
        yield AlongRow(f"{name}, {unit.label}", values / unit.size, reach)
    bimoment, unit = stress.forces.forces[:, along.case, BIMOMENT], shown_unit("bimoment", units)
    bimoment = quiet(bimoment, largest_of(stress, along.case, "moment") * NONE_BELOW)
    if bimoment.any():
        yield AlongRow(f"bimoment, {unit.label}", bimoment / unit.size, float(np.abs(bimoment).max()) / unit.size)
    share = 100 * along.target * stress.nominal[:, along.case] / stress.strength[:, along.case]
    yield AlongRow(USE, np.where(stress.known, share, np.nan), max(100.0, float(np.nanmax(share, initial=0.0))))


def quiet(values: Array, largest: float) -> Array:
    """Return values with 0 where one is rounding beside the largest of its kind."""
    return np.where(np.abs(values) > NONE_BELOW * largest, values, 0.0)


def largest_of(stress: MemberStress, case: int, quantity: str) -> float:
    """Return the largest section force of a quantity along a member in one load case, N or Nm."""
    columns = [column for column, kind in COMPONENTS.values() if kind == quantity]
    return float(np.abs(stress.forces.member_forces[:, case][:, columns]).max(initial=0.0))


def reach_of(stress: MemberStress, case: int, component: str) -> float:
    """Return the value at which a row of a section force ends, N or Nm."""
    column, quantity = COMPONENTS[component]
    own = float(np.abs(stress.forces.member_forces[:, case, column]).max(initial=0.0))
    return max(own, SMALL * largest_of(stress, case, quantity))


def along_chart(stress: MemberStress, along: LookedAlong, units: Units, wide: float) -> Chart:
    """Return the chart; wide: pixels, for which its words find room."""
    unit = shown_unit("station", units)
    x = stress.forces.stations / unit.size
    rows = tuple(rows_along(stress, along, units))
    stations = np.array([*x, *(at / unit.size for _, at in along.points)])
    ends = (float(stations.min()), float(stations.max()))
    pixel = (ends[1] - ends[0]) / (wide - NAMES_AND_VALUES)
    names = named(along, ends, unit.size, pixel)
    top = -0.9 - max((letters_wide(name) for name, _ in names), default=0.0) / ROW
    marks: list[Drawn] = []
    for number, row in enumerate(rows):
        marks += row_marks(row, number, x)
    marks += [upright(at / unit.size, (-0.5, len(rows) - 0.5), QUIET, 0.6, Stroke.DOTTED) for _, at in along.points]
    marks += [Note(name, (at, (top - 0.8) / 2), TextSide.MIDDLE, INK, is_turned=True) for name, at in names]
    if along.at is not None:
        marks += list(looked_at(float(np.clip(along.at / unit.size, x[0], x[-1])), rows, x, ends[1], units))
    up, names_of = (len(rows) - 0.5, top), tuple(row.name for row in rows)
    return Chart("", f"station, {unit.label}", "", ends, up, tuple(marks), names_of, beside=BESIDE)


def height_of(chart: Chart) -> float:
    """Return how high such a chart is drawn, pixels."""
    return 26.0 + FOOT + ROW * abs(chart.y[1] - chart.y[0])


def row_marks(row: AlongRow, number: int, x: Array) -> Iterator[Drawn]:
    """Yield the line of a row with its peaks; nothing but its zero where there is none."""
    is_use = row.name == USE
    zero = number + HALF if is_use else float(number)
    drawn = zero - row.values * (2 * HALF if is_use else HALF) / row.reach if row.reach > 0 else np.full(len(x), zero)
    ends = (float(x[0]), float(x[-1]))
    yield level(ends, zero, QUIET)
    if not np.nan_to_num(row.values).any():
        yield Note("none", (sum(ends) / 2, zero), TextSide.ABOVE)
        return
    beside = np.array([0.0, zero])
    yield Area(tuple(ring + beside for ring in under(x, np.nan_to_num(drawn, nan=zero) - zero)), LINE, opacity=0.2)
    yield ChartLine(x, drawn)
    if is_use:
        yield level(ends, zero - 2 * HALF * 100.0 / row.reach, ABOVE, 1.2, Stroke.DASHED)
    yield from peaks(row, drawn, x)


def peaks(row: AlongRow, drawn: Array, x: Array) -> Iterator[Drawn]:
    """Yield the largest value of a row, and the largest of the other sign where it counts."""
    values = np.nan_to_num(row.values)
    most = int(np.argmax(np.abs(values)))
    other = int(np.argmin(values * np.sign(values[most])))
    counts = values[other] * values[most] < 0 and abs(values[other]) > OPPOSITE * abs(values[most])
    for number in (most, other) if counts else (most,):
        is_left = x[number] > x[0] + 0.8 * (x[-1] - x[0])
        said = percent(values[number] / 100).removesuffix(" %") if row.name == USE else signed(values[number])
        yield Mark((float(x[number]), float(drawn[number])), PointMark.RING, LINE, 3.0)
        yield Note(said, (float(x[number]), float(drawn[number])), TextSide.LEFT if is_left else TextSide.RIGHT)


def signed(value: float) -> str:
    """Return a value in three digits with a true minus sign."""
    return (f"{value:.0f}" if abs(value) >= 999.5 else f"{value:.3g}").replace("-", "\N{MINUS SIGN}")


def named(along: LookedAlong, ends: Range, size: float, pixel: float) -> list[tuple[str, float]]:
    """Return the names of points that have room, those nearest to the station looked at first, in shown units; pixel: of the axis.

    A long name stands in two lines, which are two names side by side here, where its neighbours leave room for it.
    """
    words = [name.split(" ") for name, _ in along.points]
    shared = len(words) > 1 and len({each[0] for each in words}) == 1 and all(len(each) > 1 for each in words)
    points = [(name.split(" ", 1)[1] if shared else name, at / size) for name, at in along.points]
    apart, middle = NAME_APART * pixel, along.at / size if along.at is not None else ends[0]
    chosen: list[tuple[str, float]] = []
    for name, at in sorted(points, key=lambda each: abs(each[1] - middle)):
        if all(abs(at - other) >= apart for _, other in chosen):
            chosen.append((name, at))
    chosen.sort(key=lambda each: each[1])
    near = [min((abs(at - other) for _, other in chosen if other != at), default=np.inf) for _, at in chosen]
    return [line for each, room in zip(chosen, near, strict=True) for line in lines_of(*each, apart, room)]


def lines_of(name: str, at: float, apart: float, room: float) -> Iterator[tuple[str, float]]:
    """Yield a name in one line, or a long one in two where it has room, each with its place."""
    if len(name) <= LONGEST_NAME or " " not in name or room < 2 * apart:
        yield shortened(name, LONGEST_NAME), at
        return
    words = name.split(" ")
    cuts = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]
    first, second = min(cuts, key=lambda pair: max(map(len, pair)))
    yield shortened(first, LONGEST_NAME), at - apart / 2
    yield shortened(second, LONGEST_NAME), at + apart / 2


def looked_at(at: float, rows: Sequence[AlongRow], x: Array, right: float, units: Units) -> Iterator[Drawn]:
    """Yield the line at the station looked at, and each row's value there at the right end."""
    yield upright(at, (-0.5, len(rows) - 0.5), ABOVE, 1.4)
    said = f"at {station_text(at * shown_unit('station', units).size, units)}:"
    yield Note(said, (right, -0.6), TextSide.RIGHT, ABOVE)
    for number, row in enumerate(rows):
        values = values_at(row.values, x, at)
        yield Note(" / ".join(dict.fromkeys(map(signed, values))), (right, float(number)), TextSide.RIGHT, ABOVE)


def values_at(values: Array, x: Array, at: float) -> list[float]:
    """Return a row's value at a station, both where it jumps there."""
    near = np.flatnonzero(np.abs(x - at) < 1e-6 * max(abs(float(x[-1])), 1e-9))
    if len(near) == 0:
        return [float(np.interp(at, x, np.nan_to_num(values)))]
    return [float(each) for each in np.nan_to_num(values[[near[0], near[-1]]])]
