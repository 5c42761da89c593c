"""What stands to scale beside the frame: the section as it sits, notches, patterns of bolts, welds, plates, each with its sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from framecheck.bench.document import Path
from framecheck.bench.handles import Written
from framecheck.output.charts.chart import Chart
from framecheck.output.charts.drawings import section_chart
from framecheck.output.charts.once import once
from framecheck.output.charts.room import Pixels
from framecheck.output.charts.svg import SvgSheet, as_svg
from framecheck.output.display import Units
from framecheck.output.html_report.finding_page import station_number, station_picture
from framecheck.output.html_report.special import HALF, drawn, size_of
from framecheck.output.html_report.tables import label
from framecheck.results.subjects import Thing
from framecheck.results.summary import ON_MEMBER, drawn_on_member, governing_bound
from framecheck.run import Results
from framecheck.value_class import array_class

MOST = 4
"""So many are drawn, those that are being filled in first."""
DRAWN = (Thing.CUT, Thing.PLATE, Thing.JOINT)


@array_class
class ToScale:
    """A drawing: the name of what it shows, its title, how large it is."""

    name: str
    title: str
    chart: Chart
    size: Pixels


def sheets_of(results: Results, names: Sequence[str], units: Units) -> list[dict[str, str]]:
    """Return the drawings as SVG elements, each with its title and the name of what it shows; names: what is being filled in."""
    found = list(special(results, units))
    wanted = [each for each in found if each.name in names]
    section = section_of(results, names, units)
    others = [each for each in found if each not in wanted]
    chosen = [*wanted, *([] if section is None else [section]), *others][:MOST]
    return [sheet(number, each) for number, each in enumerate(chosen)]


def sheet(number: int, found: ToScale) -> dict[str, str]:
    """Return a drawing as an SVG element, its title and the name of what it shows."""
    paper = SvgSheet((found.chart,), 1, found.size.wide, found.size.high)
    svg = as_svg(paper, f"sheet{number}", found.title, "The sizes stand in it.")
    return {"name": found.name, "title": found.title, "svg": once(svg)}


def names_on(path: Path, written: Written) -> tuple[str, ...]:
    """Return what the blocks are called that a field is in."""
    found: list[str] = []
    data: Any = written
    for step in path:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            break
        found.append(str(step))
        if isinstance(data, dict) and isinstance(data.get("name"), str):
            found.append(data["name"])
    return tuple(found)


def special(results: Results, units: Units) -> Iterator[ToScale]:
    """Yield the drawing of each notch, joint and plate that was judged, once, the one that uses most first."""
    seen: set[tuple[str, str]] = set()
    for row in sorted(results.rows, key=lambda each: (each.load_case is None, -each.used)):
        of = row.subject
        name = of.part if of.thing is Thing.CUT and of.part else of.name
        if of.thing not in DRAWN or (of.thing.name, name) in seen:
            continue
        found = drawn(results.outcome, row, units)
        if found is not None:
            seen.add((of.thing.name, name))
            chart, title = found
            yield ToScale(name, f"{title}; sizes: {label('size', units)}", chart, size_of(row))


def section_of(results: Results, names: Sequence[str], units: Units) -> ToScale | None:
    """Return the section of the member that is named, else of the one that governs, as it sits; None where it has no outline."""
    outcome = results.outcome
    if not outcome.loads or not outcome.case.frame.members:
        return None
    row = drawn_on_member(outcome, results.rows)
    bound = governing_bound(outcome, row)
    stresses = outcome.stresses[bound]
    own = {each.forces.member: number for number, each in enumerate(stresses)}
    number = next((own[name] for name in (*names, *sided(names)) if name in own), None)
    if number is None:
        number = next((n for n, each in enumerate(stresses) if {of.name for of in each.forces.sections} & set(names)), None)
    station = row.station if row is not None and row.subject.thing in ON_MEMBER and number is None else None
    if number is None:
        number = 0 if row is None else own.get(row.subject.name, 0)
    stress = stresses[number]
    named = next((at for at, of in enumerate(stress.forces.sections) if of.name in names), 0)
    at = named if station is None else station_number(stress, station, 0)
    found = stress.forces.sections
    whole = (n for n in (at, *range(len(found))) if found[n] is outcome.sections.get(found[n].name))
    picture, looking = station_picture(outcome, number, stress, next(whole, at), 0)
    if picture.section is None:
        return None
    chart = section_chart(picture.section, picture.properties, units, picture.lies)
    return ToScale(stress.forces.member, f"Section of {stress.forces.member} as it sits, {looking}", chart, HALF)


def sided(names: Sequence[str]) -> list[str]:
    """Return names as those on the left: what is written once stands on both sides."""
    return [f"left {name}" for name in names]
