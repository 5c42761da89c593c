"""The report's figures as inline SVG, and the section where the frame is worst."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import GivenProperties
from framecheck.output.charts.diagrams import safety_chart
from framecheck.output.charts.drawings import StressPicture, section_chart, stress_chart, worst_point
from framecheck.output.charts.svg import SvgSheet, as_svg
from framecheck.output.display import Units, bare, with_unit
from framecheck.output.html_report.tables import NONE, HtmlTable, bare_forces, label, numbers, place, spread, words
from framecheck.output.wording import percent, station_text
from framecheck.results.row import Check
from framecheck.results.row_order import worst_by
from framecheck.results.summary import governing_bound, load_case_rows
from framecheck.results.tables import Scope
from framecheck.run import Results
from framecheck.section.properties import SectionProperties
from framecheck.stress import MemberStress
from framecheck.surface_stress import components
from framecheck.value_class import array_class, value_class

WIDE = 860.0
"""Width of a figure, pixels."""


@value_class
class Drawing:
    """A figure: its SVG text, ready for the page, and the caption under it."""

    svg: str
    caption: str


def inline(sheet: SvgSheet, name: str, title: str, description: str) -> Drawing:
    """Return charts as an SVG element for the page."""
    return Drawing(as_svg(sheet, name, title, description), title)


def by_load_case(results: Results) -> Drawing:
    """Return the bar chart of load cases."""
    rows = load_case_rows(results.outcome, results.rows)
    worst = rows[0].worst if rows else None
    said = f"The most is {percent(worst.used)} in {worst.load_case or Scope.ALL.value}." if worst else "Nothing was judged."
    return inline(
        SvgSheet((safety_chart(rows),), 1, WIDE, 76 + 27 * len(rows)),
        "bars",
        "Share of what is allowed that each load case uses",
        f"{said} All numbers are in the table below.",
    )


MOST_POINTS = 16
HIGH, BESIDE, LEAST, MOST = 360.0, 190.0, 300.0, 430.0
"""How high a section's two pictures are, how much wider than the section, and how wide at least and at most, pixels."""


@array_class
class Station:
    """One station of a member in one load case. forces: (9,) in the section's own axes, SI.

    drawn: the section with its outline; None at a notch or where no outline is known.
    """

    member: str
    load_case: str
    station: float
    properties: SectionProperties
    forces: Array
    drawn: Section | None


def worst_stations(results: Results) -> tuple[Station, ...]:
    """Return the station of the least safety factor on yield of each section, the governing one first."""
    rows = [row for row in results.rows if row.check is Check.YIELD and row.station is not None]
    found: dict[str, Station] = {}
    for row in worst_by(rows, lambda row: (row.where, row.load_case)).values():
        bound = governing_bound(results.outcome, row)
        stress = next(each for each in results.outcome.stresses[bound] if each.forces.member == row.where)
        names: list[str | None] = [loads.name for loads in results.outcome.loads]
        case = names.index(row.load_case)
        here = station(results, stress, case)
        found.setdefault(here.properties.name, here)
    return tuple(found.values())


def station(results: Results, stress: MemberStress, case: int) -> Station:
    """Return a member's station of the largest share of the yield strength in one load case."""
    forces = stress.forces
    number = int(np.argmax(stress.nominal[:, case] / stress.strength[:, case]))
    properties = forces.sections[number]
    whole = results.outcome.sections.get(properties.name)
    section = results.outcome.case.frame.sections.get(properties.name)
    has_outline = section is not None and not isinstance(section.shape, GivenProperties) and properties is whole
    return Station(
        forces.member,
        results.outcome.loads[case].name,
        float(forces.stations[number]),
        properties,
        forces.forces[number, case],
        section if has_outline else None,
    )


def section_figure(at: Station, number: int, units: Units) -> Drawing | None:
    """Return the section beside its stress at a station; None where no stress is known."""
    if at.properties.fields is None:
        return None
    charts = [stress_chart(StressPicture(at.drawn, at.properties, at.forces), units)]
    if at.drawn is not None:
        charts.insert(0, section_chart(at.drawn, at.properties, units))
    place = f"{at.member} in {at.load_case}, {with_unit(at.station, 'station', units)} from its first point"
    title = f"{at.properties.name}: its stress where it is worst, {place}"
    said = "Seen along the member. The largest stress is ringed. The numbers are in the tables below."
    across, up = (abs(ends[1] - ends[0]) for ends in (charts[0].x, charts[0].y))
    wide = min(max((HIGH - BESIDE / 2) * across / up + BESIDE, LEAST), MOST)
    return inline(SvgSheet(charts, len(charts), wide, HIGH), f"round{number}", title, said)


def station_table(found: tuple[Station, ...], units: Units) -> HtmlTable:
    """Return the section forces and the largest stress at the worst station of each section."""
    kinds = ("force", "force", "force", "moment", "moment", "moment", "bimoment")
    names = (
        "axial",
        "shear sideways",
        "shear vertical",
        "torsion",
        "bending vertically",
        "bending sideways",
        "bimoment",
    )
    rows = tuple(
        (
            at.properties.name,
            at.member,
            at.load_case,
            station_text(at.station, units),
            *(bare_forces([float(each)], kind, units)[0] for each, kind in zip(at.forces[:7], kinds, strict=True)),
            stress_cell(at, units),
        )
        for at in found
    )
    headings = (
        *words("section", "member", "load case"),
        *numbers(
            f"station, {label('station', units)}",
            *(f"{name}, {label(kind, units)}" for name, kind in zip(names, kinds, strict=True)),
            f"von Mises stress, {label('stress', units)}",
        ),
    )
    note = "Forces in the section's own axes; stresses at its worst point away from sharp corners."
    return HtmlTable("Each section where it is worst", headings, rows, note)


def stress_cell(at: Station, units: Units) -> str:
    """Return the equivalent stress at the worst point."""
    if at.properties.fields is None:
        return NONE
    found = components(at.properties.fields, at.forces).von_mises
    return bare(float(found[worst_point(at.properties, found)]), "stress", units)


def point_table(at: Station, units: Units) -> HtmlTable:
    """Return the stress at points round a section, at most MOST_POINTS and the worst: the data under the figure."""
    fields, caption = at.properties.fields, f"{at.properties.name}: stress round it"
    stress, length = label("stress", units), label("length", units)
    headings = numbers(
        f"y to the left, {length}", f"z up, {length}", f"normal, {stress}", f"shear, {stress}", f"von Mises, {stress}"
    )
    if fields is None:
        return HtmlTable(caption, headings, ())
    found = components(fields, at.forces)
    chosen = {*spread(len(fields.points), MOST_POINTS), worst_point(at.properties, found.von_mises)}
    rows = tuple(
        (
            *place(fields.points[i], units),
            *(bare(float(each), "stress", units)
              for each in (found.normal[i], np.linalg.norm(found.shear[i]), found.von_mises[i])),
        )
        for i in sorted(chosen)
    )  # fmt: skip
    return HtmlTable(caption, headings, rows, "From the centroid, as seen looking along the member.")
