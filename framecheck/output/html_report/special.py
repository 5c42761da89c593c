"""The figure that a finding on a notch, a bolted or welded joint or a skid plate has in place of a plain section."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.checks.joint_forces import joint_loads, loads_by_bound
from framecheck.checks.notch.repair import repairs
from framecheck.model.frame import Cut
from framecheck.model.joints import BoltGroup, JointLoad
from framecheck.model.plate import BoltedPlate
from framecheck.model.weld_joints import WeldGroup
from framecheck.output.charts.chart import Chart
from framecheck.output.charts.sheets import bolts_chart, notch_chart, plate_chart, weld_chart
from framecheck.output.charts.svg import SvgSheet
from framecheck.output.display import Units, bare, with_unit
from framecheck.output.html_report.figures import Drawing, inline
from framecheck.output.html_report.tables import label
from framecheck.output.notch_text import NO_PLATE
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Thing
from framecheck.results.summary import governing_bound
from framecheck.run import section_at
from framecheck.stress import SolvedCase
from framecheck.study.notch import asked_of, forces_over, size_along

WIDE, HIGH = 440.0, 300.0


def special_figure(outcome: SolvedCase, row: CheckResult, number: int, units: Units) -> Drawing | None:
    """Return the figure; None for what has none of its own."""
    found = drawn(outcome, row, units)
    if found is None:
        return None
    chart, title = found
    said = "The sizes and forces stand in the picture."
    return inline(SvgSheet((chart,), 1, WIDE, HIGH), f"sheet{number}", f"{title}; sizes: {label('size', units)}", said)


def drawn(outcome: SolvedCase, row: CheckResult, units: Units) -> tuple[Chart, str] | None:
    """Return the chart and what it is called."""
    if row.subject.thing is Thing.CUT:
        cut, height = cut_of(outcome, row)
        return notch_chart(cut, height, units), f"Notch '{cut.name}' of {row.subject.name}, the cut side drawn on top"
    if row.subject.thing is Thing.PLATE:
        plate = next(each for each in outcome.case.plates if each.name == row.subject.name)
        load = (row.load_case or "").removeprefix(f"{plate.name}: ").split(", ")[0]
        gap = "no pan named" if plate.gap is None else f"gap to the pan {with_unit(plate.gap, 'size', units)}"
        thick = bare(plate.thickness, "size", units)
        return plate_chart(plate, load, row.used, units), f"{plate.name} from {seen_from(plate)}, {thick} thick, {gap}"
    joint = next((each for each in outcome.case.joints if row.subject.thing is Thing.JOINT and each.name == row.subject.name), None)
    if not isinstance(joint, BoltGroup | WeldGroup):
        return None
    load_of = load_on(outcome, joint, row)
    if load_of is None:
        return None
    if isinstance(joint, BoltGroup):
        return bolts_chart(joint, load_of, units), f"{joint.name} in '{load_of.load_case}', square to the faces: forces on each bolt"
    return weld_chart(joint, load_of, units), f"{joint.name} in '{load_of.load_case}', seen square to it; red: the run that bears most"


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
    for each in repairs(gross, net, cut, forces_over(outcome, number, cut), asked_of(outcome.case, member, cut)):
        if each.for_strength is not None and each.for_strength > NO_PLATE:
            size, long = with_unit(each.for_strength, "size", units), with_unit(each.length, "size", units)
            yield f"Repair for strength: {each.kind.value}, {size} thick, {long} long, leg {with_unit(each.leg, 'size', units)}."

