"""One page a finding: what acts on the frame, how it moves, the forces along the member, its section, what would mend it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

import numpy as np

from framecheck.frame.geometry import point_stations
from framecheck.model.case import Case
from framecheck.model.shapes import GivenProperties
from framecheck.output.charts.along import LookedAlong, along_chart, height_of
from framecheck.output.charts.drawings import StressPicture, measured, stress_chart, titled
from framecheck.output.charts.forces_chart import forces_chart
from framecheck.output.charts.frame_chart import Pictured, frame_chart, own_scale
from framecheck.output.charts.room import Pixels
from framecheck.output.charts.svg import SvgSheet
from framecheck.output.display import Units, factor, with_unit
from framecheck.output.html_report.figures import WIDE, Drawing, inline
from framecheck.output.html_report.force_table import force_table
from framecheck.output.html_report.gap_facts import gap_facts
from framecheck.output.html_report.lying import lying
from framecheck.output.html_report.mending import mending
from framecheck.output.html_report.special import repair_words, special_figure
from framecheck.output.html_report.tables import HtmlTable, label, words
from framecheck.output.html_report.tables import along as along_table_of
from framecheck.output.wording import how_words, place_words, thing_words, used_words
from framecheck.results.free_body import FreeBody, free_body
from framecheck.results.places import FoundPlace, found_at, joint_member, points_of, section_view
from framecheck.results.row import Check, CheckResult, Kind
from framecheck.results.subjects import Thing
from framecheck.results.summary import ON_MEMBER, governing_bound, largest_deflection
from framecheck.run import Results
from framecheck.stress import MemberStress, SolvedCase
from framecheck.value_class import array_class, value_class

HALF, HALF_HIGH = 440.0, 225.0
"""Of one of two pictures side by side, pixels."""
SECTION, SECTION_HIGH = 440.0, 330.0
TITLE_WIDE, LINE_WIDE, NAME_WIDE, ROOMY = 75, 115, 26, 13.9
"""Letters of a line of a printed page's title, of what stands under it, of a name in its table; lines that leave its pictures room."""
STILL = 1e-5
"""What moves less than this share of the most stays where it is: it is the solution's rounding, or looks like it."""


@value_class
class FindingPage:
    """A finding as its page shows it. title: a sentence; mends: what would mend it; drawn_in: why another load case is drawn."""

    number: int
    anchor: str
    title: str
    is_low: bool
    facts: tuple[tuple[str, str], ...]
    mends: tuple[str, ...]
    drawn_in: str
    figures: tuple[Drawing, ...]
    along: Drawing | None
    sections: Drawing | None
    forces: HtmlTable
    along_table: HtmlTable

    @property
    def listed(self) -> str:
        """Return what the table of contents says of it: where and how, without how much."""
        return self.title.rsplit("; ", 1)[0]

    @property
    def is_full(self) -> bool:
        """Return whether words take so much of a printed page that its pictures must be smaller."""
        facts = sum(len(name) + len(said) + 8 for name, said in self.facts)
        lines = 1.8 * ceil(len(self.title) / TITLE_WIDE) + ceil(facts / LINE_WIDE) + ceil(len(" ".join(self.mends)) / LINE_WIDE)
        names = sum(len(cells[0]) > NAME_WIDE for cells in self.forces.rows)
        return lines + names > ROOMY


@array_class
class LookedAt:
    """Where a finding is looked at: bound, load case and member by number, station m; member None: it is on none."""

    row: CheckResult
    bound: int
    case: int
    member: int | None
    station: float | None


def finding_page(results: Results, row: CheckResult, number: int, units: Units, file: str) -> FindingPage:
    """Return a finding's page."""
    outcome = results.outcome
    spot = spot_of(results, row)
    figures: tuple[Drawing, ...] = ()
    along = sections = None
    forces = along_table = HtmlTable("What acts on the frame", words("where"), ())
    sheet = special_figure(outcome, row, number, units)
    if spot is not None:
        body = free_body(outcome, spot.bound, spot.case)
        figures = (free_figure(outcome, spot, body, number, units), moved_figure(outcome, spot, number, units))
        forces = force_table(body, outcome.loads[spot.case].name, units)
        if spot.member is not None:
            along = along_figure(outcome, spot, number, units)
            sections = None if sheet is not None else section_figure(outcome, spot, number, units)
            looked = along_of(outcome, spot.member, spot.case, spot.station)
            along_table = along_table_of(outcome.stresses[spot.bound][spot.member], looked, outcome.loads[spot.case].name, units)
    return FindingPage(
        number,
        f"finding-{number}",
        sentence(results, row, units),
        row.grade.value == "LOW",
        tuple(facts(outcome.case, row, units)),
        (*mending(results, row, units, file), *repair_words(outcome, row, units)),
        "" if spot is None else case_drawn(outcome, row, spot.case),
        figures,
        along or sheet,
        None if along is None else sheet or sections,
        forces,
        along_table,
    )


def sentence(results: Results, row: CheckResult, units: Units) -> str:
    """Return what was found, in a sentence."""
    place = place_words(results.outcome.case.frame, row, units)
    how = how_words(row)
    return f"{thing_words(row)}{place}: {how}; {used_words(row, units)}"


def facts(case: Case, row: CheckResult, units: Units) -> Iterator[tuple[str, str]]:
    """Yield the numbers behind a finding and where its rule stands."""
    yield "check", row.check.words
    yield "load case", row.load_case or "holds in all load cases"
    quantity = {"Pa": "stress", "N": "force", "Nm": "moment", "N/m": "line force", "m": "size"}.get(row.unit)
    if quantity is not None and row.check is not Check.CLEARANCE:
        yield "it bears", f"{with_unit(row.demand, quantity, units)} of {with_unit(row.capacity, quantity, units)}"
    if row.check is Check.CLEARANCE:
        yield from gap_facts(case, row, units)
    else:
        yield "safety factor", f"{factor(row.safety_factor)}, asked {factor(row.target)}"
    if row.station is not None:
        yield "station", with_unit(row.station, "station", units)
    yield "rule", row.source


def case_drawn(outcome: SolvedCase, row: CheckResult | None, case: int) -> str:
    """Return why another load case is drawn than the row's, "" where it is the same."""
    drawn = outcome.loads[case].name
    if row is None or row.load_case == drawn:
        return ""
    why = "it holds in all load cases" if row.load_case is None else f"'{row.load_case}' loads no frame"
    return f"Drawn in '{drawn}', in which most is used there: {why}."


def spot_of(results: Results, row: CheckResult) -> LookedAt | None:
    """Return where a finding is looked at; None where no load case of the frame is solved."""
    outcome = results.outcome
    names = [loads.name for loads in outcome.loads]
    if not names:
        return None
    name = member_of(outcome, row)
    near = row if row.load_case in names else next(
        (each for each in results.rows if each.load_case in names and (name is None or each.subject.name == name)), None
    )  # fmt: skip
    case = 0 if near is None or near.load_case is None else names.index(near.load_case)
    bound = governing_bound(outcome, row if row.bound is not None else near)
    members = [member.name for member in outcome.case.frame.members]
    member = members.index(name) if name in members else None
    if member is None:
        return LookedAt(row, bound, case, None, None)
    return LookedAt(row, bound, case, member, station_of(outcome, row, member, bound, case))


def member_of(outcome: SolvedCase, row: CheckResult) -> str | None:
    """Return the member that a row is on, or that its joint sits on; None where there is none."""
    if row.subject.thing in ON_MEMBER or row.subject.thing is Thing.KINK:
        return row.subject.name
    points = points_of(outcome.case, row.subject)
    if (member := joint_member(outcome.case, row.subject)) is not None:
        return member
    return next((each.name for each in outcome.case.frame.members if set(points) & set(each.points)), None)


def station_of(outcome: SolvedCase, row: CheckResult, member: int, bound: int, case: int) -> float:
    """Return the station that a row speaks of: its own, that of its point, or where the member uses most."""
    frame = outcome.case.frame
    whole = frame.members[member]
    if row.station is not None and row.subject.thing in ON_MEMBER:
        return row.station
    points = [each for each in points_of(outcome.case, row.subject) if each in whole.points]
    if points:
        return point_stations(frame, whole)[whole.points.index(points[0])]
    stress = outcome.stresses[bound][member]
    return float(stress.forces.stations[int(np.argmax(stress.nominal[:, case] / stress.strength[:, case]))])


def free_figure(outcome: SolvedCase, spot: LookedAt, body: FreeBody, number: int, units: Units) -> Drawing:
    """Return the frame cut free with what acts on it."""
    name = outcome.loads[spot.case].name
    chart = forces_chart(outcome, spot.bound, body, units, Pixels(HALF, HALF_HIGH))
    held = "; dark: what the supports do" if any(each.is_reaction for each in body.pushes) else ""
    title = f"What acts on the frame in '{name}', in balance{held}"
    return inline(SvgSheet((chart,), 1, HALF, HALF_HIGH), f"free{number}", title, "The table of forces gives the numbers.")


def moved_figure(outcome: SolvedCase, spot: LookedAt, number: int, units: Units) -> Drawing:
    """Return the frame as it moves, with the worst place ringed."""
    name = outcome.loads[spot.case].name
    most = largest_deflection((outcome.solutions[spot.bound],), spot.case)
    found = found_at(outcome, spot.row, spot.bound, spot.case)
    said = moved_words(spot.row, found, most.amount, units)
    shown = Pictured(spot.bound, spot.case, own_scale(outcome, spot.bound, spot.case), found, said)
    moved = with_unit(most.amount, "deflection", units)
    title = f"How it moves in '{name}': most {moved}, on {most.member}"
    chart = frame_chart(outcome, shown, units, Pixels(HALF, HALF_HIGH))
    return inline(SvgSheet((chart,), 1, HALF, HALF_HIGH), f"moved{number}", title, f"The largest movement is {moved}.")


def moved_words(row: CheckResult, found: FoundPlace | None, most: float, units: Units) -> str:
    """Return how far the place of a finding moves, and of a gap what is left of it. most: the largest movement of the frame, m."""
    if row.kind is Kind.CLEARANCE:
        return f"the gap: {used_words(row, units)}"
    moves = 0.0 if found is None else float(np.linalg.norm(found.moved))
    what = "what it hangs on" if row.subject.thing is Thing.PLATE else "the finding"
    return f"{what}: moves {with_unit(moves, 'deflection', units)}" if moves > STILL * most else f"{what}: stays where it is"


def along_figure(outcome: SolvedCase, spot: LookedAt, number: int, units: Units) -> Drawing:
    """Return the section forces along the member, with the station of the finding."""
    assert spot.member is not None
    stress, name = outcome.stresses[spot.bound][spot.member], outcome.loads[spot.case].name
    chart = along_chart(stress, along_of(outcome, spot.member, spot.case, spot.station), units, WIDE)
    title = f"Along {stress.forces.member} in '{name}': section forces and the share of what is allowed; red: where the finding is"
    return inline(SvgSheet((chart,), 1, WIDE, height_of(chart)), f"along{number}", title, "Peaks stand beside the lines.")


def along_of(outcome: SolvedCase, member: int, case: int, station: float | None) -> LookedAlong:
    """Return where a member is looked at, with its points."""
    frame = outcome.case.frame
    whole = frame.members[member]
    points = tuple(zip(whole.points, point_stations(frame, whole), strict=True))
    return LookedAlong(case, outcome.case.targets.of(outcome.loads[case].name), points, station)


def section_figure(outcome: SolvedCase, spot: LookedAt, number: int, units: Units) -> Drawing | None:
    """Return the section as it sits in the vehicle and the stress round it; None where neither is known."""
    assert spot.member is not None
    assert spot.station is not None
    stress = outcome.stresses[spot.bound][spot.member]
    at = station_number(stress, spot.station, spot.case)
    if stress.forces.sections[at].fields is None:
        return None
    picture, looking = station_picture(outcome, spot.member, stress, at, spot.case)
    chart, name = stress_chart(picture, units), picture.properties.name
    if picture.section is not None:
        chart = replace(chart, marks=(*chart.marks, *measured(picture.properties, picture.lies, units)))
        name = titled(picture.section, units)
    place = f"{with_unit(float(stress.forces.stations[at]), 'station', units)} along {stress.forces.member}"
    bare = "; the stress beside the kink, without what its walls add" if spot.row is not None and spot.row.check is Check.KINK else ""
    title = f"{name}, as it sits in the vehicle, {looking}; {place}; sizes: {label('size', units)}{bare}"
    return inline(SvgSheet((chart,), 1, SECTION, SECTION_HIGH), f"section{number}", title, "The largest stress is ringed.")


def station_picture(outcome: SolvedCase, member: int, stress: MemberStress, at: int, case: int) -> tuple[StressPicture, str]:
    """Return what a picture of a section shows at a station by number, as it sits in the vehicle, and which way one looks."""
    properties = stress.forces.sections[at]
    section = outcome.case.frame.sections.get(properties.name)
    has_outline = section is not None and not isinstance(section.shape, GivenProperties)
    whole = section if has_outline and properties is outcome.sections.get(properties.name) else None
    allowed = float(stress.strength[at, case]) / outcome.case.targets.of(outcome.loads[case].name)
    view = section_view(outcome.case.frame.members[member], stress.forces, at)
    lies = lying(view, stress.forces.places[at])
    return StressPicture(whole, properties, stress.forces.forces[at, case], allowed, lies), view.looking


def station_number(stress: MemberStress, station: float, case: int) -> int:
    """Return the number of the station nearest to a place; of two there, the one that uses more."""
    away = np.abs(stress.forces.stations - station)
    near = np.flatnonzero(away <= away.min() + 1e-6)
    used = stress.nominal[near, case] / stress.strength[near, case]
    return int(near[np.argmax(used)])
