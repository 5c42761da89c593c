"""Along one member: moments, shears, torsion, the safety factor on yield, the twist."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.chart import Area, Chart, Line, Note, Side, Stroke, level, span, under
from framecheck.output.charts.colours import INK, LINE, QUIET, WARN
from framecheck.output.display import Units, shown_unit
from framecheck.stress import MemberStress

COMPONENTS = {
    "axial force": (0, "force"),
    "shear sideways": (1, "force"),
    "shear vertical": (2, "force"),
    "torsion": (3, "moment"),
    "bending vertically": (4, "moment"),
    "bending sideways": (5, "moment"),
}
"""Column of MemberForces.member_forces and quantity by name."""

MOST_SHOWN = 10.0
"""The largest safety factor that is drawn as itself."""
DRAWN = tuple(name for name in COMPONENTS if name != "axial force")
ASIDE = 0.07
"""How far a note keeps from the ends of a member, as a share of its length."""
SMALL = 0.05
"""An axis reaches at least so far, as a share of the largest of its kind: half a newton metre beside thousands looks like none."""
ROUNDING = 1e-6
"""Forces and moments of less than this, N and Nm, are rounding, and drawn as 0."""


def diagram(stress: MemberStress, case: int, component: str, units: Units) -> Chart:
    """Return one section force along a member in one load case; + is tension, tension at top, tension on the left."""
    column, quantity = COMPONENTS[component]
    values = stress.forces.member_forces[:, case, column]
    values = np.where(np.abs(values) > ROUNDING, values, 0.0) / shown_unit(quantity, units).size
    chart = line_along(stress, values, component, shown_unit(quantity, units).label, units)
    least = SMALL * largest_of(stress, case, quantity) / shown_unit(quantity, units).size
    return replace(chart, y=span(np.array([-least, least]), chart.y[0], chart.y[1], room=0.0))


def largest_of(stress: MemberStress, case: int, quantity: str) -> float:
    """Return the largest section force of a quantity along a member in one load case, N or Nm."""
    columns = [column for column, kind in COMPONENTS.values() if kind == quantity]
    return float(np.abs(stress.forces.member_forces[:, case][:, columns]).max(initial=0.0))


def line_along(stress: MemberStress, values: Array, title: str, up: str, units: Units) -> Chart:
    """Return values (n_station,) along a member as a line above and below zero."""
    along = shown_unit("station", units)
    x = stress.forces.stations / along.size
    ends = (float(x[0]), float(x[-1]))
    marks = (Area(under(x, values), LINE, opacity=0.2), Line(x, values), level(ends, 0.0, QUIET))
    return Chart(title, f"station, {along.label}", up, ends, span(values, 0.0), marks)


def safety_along(stress: MemberStress, case: int) -> Array:
    """Return the safety factor on yield (n_station,) of parent metal, at most MOST_SHOWN; NaN where no stress is known."""
    strength = stress.strength[:, case]
    factor = strength / np.maximum(stress.nominal[:, case], strength / MOST_SHOWN)
    return np.where(stress.known, factor, np.nan)


def clear_place(x: Array, values: Array, level: float) -> float:
    """Return where along an axis a note on a level stands farthest from a line: in the middle, or a seventh from either end."""
    places = [x[0] + share * (x[-1] - x[0]) for share in (1 / 2, 1 / 7, 6 / 7)]
    known = np.isfinite(values)
    if not known.any():
        return float(places[0])
    return float(max(places, key=lambda place: abs(np.interp(place, x[known], values[known]) - level)))


def safety_diagram(stress: MemberStress, case: int, target: float, units: Units) -> Chart:
    """Return the safety factor on yield along a member in one load case, with its target."""
    along = shown_unit("station", units)
    x = stress.forces.stations / along.size
    ends, factors = (float(x[0]), float(x[-1])), safety_along(stress, case)
    marks = (
        Line(x, factors),
        level(ends, target, WARN, 1.0, Stroke.DASHED),
        Note(f"target {target:g}", (clear_place(x, factors, target), target), Side.ABOVE, WARN),
    )
    title = "safety factor on yield (10: 10 or more)"
    return Chart(title, f"station, {along.label}", "safety factor", ends, (0.0, MOST_SHOWN * 1.05), marks)


def diagrams(stress: MemberStress, case: int, target: float, units: Units) -> tuple[Chart, ...]:
    """Return a member's shear, torsion, bending and safety factor along its length in one load case."""
    return (
        *(diagram(stress, case, component, units) for component in DRAWN),
        safety_diagram(stress, case, target, units),
    )


def twist_diagram(stress: MemberStress, twist: Array, load_case: str, units: Units) -> Chart:
    """Return how far each station has turned about the member against its first, twist (n_station,) in rad; joints marked."""
    unit = shown_unit("angle", units)
    title = f"{stress.forces.member} in {load_case}: twist since its first point"
    chart = line_along(stress, twist / unit.size, title, f"twist, {unit.label}", units)
    most = int(np.argmax(np.abs(twist)))
    x = float(stress.forces.stations[most] / shown_unit("station", units).size)
    inside = min(max(x, chart.x[0] + ASIDE * (chart.x[1] - chart.x[0])), chart.x[1] - ASIDE * (chart.x[1] - chart.x[0]))
    value = float(twist[most] / unit.size)
    said = Note(f"{value:+.3g} {unit.label}".replace("-", "\N{MINUS SIGN}"), (inside, max(value, 0.0)), Side.ABOVE, INK)
    return replace(chart, y=span(twist / unit.size, 0.0, room=0.15), marks=(*chart.marks, said))
