"""The figure that a finding on a notch, a bolted or welded joint or a skid plate has in place of a plain section."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_forces import joint_loads, loads_by_bound
from framecheck.checks.notch.repair import repairs
from framecheck.checks.plate.in_case import solved_once
from framecheck.model.frame import Cut
from framecheck.model.joints import BoltGroup, JointLoad
from framecheck.model.plate import BoltedPlate
from framecheck.model.shapes import Side
from framecheck.model.weld_joints import WeldGroup
from framecheck.output.charts.chart import Chart
from framecheck.output.charts.panel_sheet import panel_chart
from framecheck.output.charts.plate_sheet import plate_chart
from framecheck.output.charts.room import Pixels
from framecheck.output.charts.sheets import bolts_chart, notch_chart
from framecheck.output.charts.square_on import way_words
from framecheck.output.charts.svg import SvgSheet
from framecheck.output.charts.weld_sheet import weld_chart
from framecheck.output.display import Units, with_unit
from framecheck.output.html_report.figures import Drawing, inline
from framecheck.output.html_report.lying import lying
from framecheck.output.html_report.tables import label
from framecheck.output.notch_text import LEAST_LEG, NO_PLATE
from framecheck.results.places import section_view
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Thing
from framecheck.results.summary import governing_bound
from framecheck.run import section_at
from framecheck.stress import SolvedCase
from framecheck.study.notch import asked_of, forces_over, size_along

HALF, PLATE = Pixels(440.0, 300.0), Pixels(860.0, 430.0)


def special_figure(outcome: SolvedCase, row: CheckResult, number: int, units: Units) -> Drawing | None:
    """Return the figure; None for what has none of its own."""
    found = drawn(outcome, row, units)
    if found is None:
        return None
    chart, title = found
    said, size = "The sizes and forces stand in the picture.", size_of(row)
    return inline(SvgSheet((chart,), 1, size.wide, size.high), f"sheet{number}", f"{title}; sizes: {label('size', units)}", said)


def size_of(row: CheckResult) -> Pixels:
    """Return how large a figure is: a plate or panel has the room that diagrams along a member have on other pages."""
    return PLATE if row.subject.thing in (Thing.PLATE, *ON_PANEL) else HALF


def drawn(outcome: SolvedCase, row: CheckResult, units: Units) -> tuple[Chart, str] | None:
    """Return the chart and what it is called."""
    if row.subject.thing is Thing.CUT:
        return of_notch(outcome, row, units)
    if row.subject.thing is Thing.PLATE:
        plate = next(each for each in outcome.case.plates if each.name == row.subject.name)
        return of_plate(plate, row, units)
    if row.subject.thing in ON_PANEL:
        return of_panel(outcome, row, units)
    joint = next((each for each in outcome.case.joints if row.subject.thing is Thing.JOINT and each.name == row.subject.name), None)
    if not isinstance(joint, BoltGroup | WeldGroup):
        return None
    load_of = load_on(outcome, joint, row)
    if load_of is None:
        return None
    if isinstance(joint, BoltGroup):
        by, name = label("force", units), f"{joint.name} in '{load_of.load_case}'"
        return bolts_chart(joint, load_of, units, HALF), f"{name}, square to the faces: shear / pull on each bolt, {by}; arrows: shear"
    title = f"{joint.name} in '{load_of.load_case}', legs to scale, coloured by the stress on the throat; the worst place ringed"
    return weld_chart(joint, load_of, units, HALF), title


def of_notch(outcome: SolvedCase, row: CheckResult, units: Units) -> tuple[Chart, str]:
    """Return the chart of a notch on the side of the vehicle where it is, and what it is called."""
    cut, height = cut_of(outcome, row)
    number = [each.name for each in outcome.case.frame.members].index(row.subject.name)
    member, line = outcome.case.frame.members[number], outcome.solutions[0].members[number]
    at = int(np.argmin(np.abs(line.stations - cut.at)))
    view = section_view(member, line, at)
    across, up = (view.turn @ OWN_WAYS[cut.side]).tolist()
    left, right, below, above = lying(view, line.places[at]).sides
    is_upright = abs(up) >= abs(across)
    side = (above if up > 0 else below) if is_upright else (right if across > 0 else left)
    drawn_as = "" if is_upright else ", that side drawn on top"
    along = line.axes[at][0]
    where = f"its middle {with_unit(cut.at, 'station', units)} from {member.points[0]}"
    title = f"Notch '{cut.name}' in the {side} of {member.name}, {where}{drawn_as}"
    return notch_chart(cut, height, units, is_upright and up < 0, (way_words(-along), way_words(along))), title


OWN_WAYS = {Side.TOP: (0.0, 1.0), Side.BOTTOM: (0.0, -1.0), Side.LEFT: (1.0, 0.0), Side.RIGHT: (-1.0, 0.0)}
"""Where each side of a section lies in its own axes, y to the left and z up."""


ON_PANEL = frozenset((Thing.PANEL, Thing.PANEL_SEAM))
"""Things that are named after the panel of sheet that they are on."""


def of_panel(outcome: SolvedCase, row: CheckResult, units: Units) -> tuple[Chart, str] | None:
    """Return the chart of a panel in the load case of a row, and what it is called; None where the row holds in all."""
    names = [loads.name for loads in outcome.loads]
    if row.load_case not in names:
        return None
    case, solution = names.index(row.load_case), outcome.solutions[governing_bound(outcome, row)]
    panel = next(each for each in outcome.case.frame.panels if each.name == row.subject.name)
    forces = solution.panels[panel.name]
    allowed = panel.material.yield_strength / outcome.case.targets.of(row.load_case)
    flow = float(forces.seam_flow[:, case].max(initial=0.0))
    seam = f"; along its edges at most {with_unit(flow, 'line force', units)}" if flow > 0 else ""
    title = f"{panel.name} in '{row.load_case}', {with_unit(panel.thickness, 'size', units)} thick: stress of the sheet{seam}"
    return panel_chart(forces, case, allowed, units, PLATE), title


def of_plate(plate: BoltedPlate, row: CheckResult, units: Units) -> tuple[Chart, str]:
    """Return the chart of a plate under the load of a row, and what it is called."""
    answer = solved_once(plate)
    named = (row.load_case or "").removeprefix(f"{plate.name}: ")
    load = next((each for each in answer.loads if each.load.name == named), answer.loads[0])
    thick, by = with_unit(plate.thickness, "size", units), label("deflection", units)
    gap = "no pan is named" if plate.gap is None else f"gap to the pan {with_unit(plate.gap, 'size', units)}"
    shown = f"lines of equal movement, {by}" if load.moved is not None else "nothing stops it"
    title = f"{plate.name} in '{load.load.name}', {thick} thick, seen from {seen_from(plate)}: {shown}; {gap}"
    return plate_chart(answer, load, units, PLATE), title


def seen_from(plate: BoltedPlate) -> str:
    """Return from which side a plate is seen where its x runs to the right and its y up on the paper."""
    (ax, ay, _), (bx, by, _) = plate.along, plate.across
    return "above" if ax * by - ay * bx > 0 else "below"


def load_on(outcome: SolvedCase, joint: BoltGroup | WeldGroup, row: CheckResult) -> JointLoad | None:
    """Return the load of a joint in the load case and under the bound of a row, in the first one where it holds in all."""
    bounds = list(loads_by_bound(joint_loads(outcome, joint.place), len(outcome.loads)))
    number = min(governing_bound(outcome, row), len(bounds) - 1)
    return next((each for each in bounds[number] if row.load_case in (None, each.load_case)), None) if bounds else None


def cut_of(outcome: SolvedCase, row: CheckResult) -> tuple[Cut, float]:
    """Return a row's cut and how high the section is that way, m."""
    member = next(each for each in outcome.case.frame.members if each.name == row.subject.name)
    cut = next(each for each in member.cuts if each.name == row.subject.part)
    return cut, size_along(outcome.sections[section_at(member, cut.at)], cut.side)


def repair_words(outcome: SolvedCase, row: CheckResult, units: Units) -> Iterator[str]:
    """Yield the plates that would mend a notch, of those that a plate up to the thickest reckoned with does."""
    if row.subject.thing is not Thing.CUT:
        return
    members = [each.name for each in outcome.case.frame.members]
    number = members.index(row.subject.name)
    member, (cut, _) = outcome.case.frame.members[number], cut_of(outcome, row)
    gross = outcome.sections[section_at(member, cut.at)]
    line = outcome.solutions[0].members[number]
    within = (abs(float(at) - cut.at) <= cut.length / 2 for at in line.stations)
    net = next((each for each, is_in in zip(line.sections, within, strict=True) if is_in and each is not gross), None)
    if net is None:
        return
    lead = "Repair for strength: "
    for each in repairs(gross, net, cut, forces_over(outcome, number, cut), asked_of(outcome.case, member, cut)):
        if each.for_strength is not None and each.for_strength > NO_PLATE:
            size, long = with_unit(each.for_strength, "size", units), with_unit(each.length, "size", units)
            least = "" if each.leg >= LEAST_LEG else " (the least)"
            leg = with_unit(max(each.leg, LEAST_LEG), "size", units)
            yield f"{lead}{each.kind.value}, {size} thick, {long} long, leg {leg}{least}."
            lead = "Or "

