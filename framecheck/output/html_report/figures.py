"""The report's figures as inline SVG, each with a title and a description for those who can't see it."""

from __future__ import annotations

from framecheck.output.cells import percent
from framecheck.output.charts.along import diagrams
from framecheck.output.charts.safety import safety_chart
from framecheck.output.charts.space import still_chart
from framecheck.output.charts.svg import Sheet, as_svg
from framecheck.output.display import Units
from framecheck.results.summary import load_case_rows
from framecheck.results.tables import Scope
from framecheck.run import Results
from framecheck.stress import MemberStress
from framecheck.value_class import value_class

WIDE = 860.0
"""Width of a figure, pixels."""


@value_class
class Drawing:
    """A figure: its SVG text, ready for the page, and the caption under it."""

    svg: str
    caption: str


def inline(sheet: Sheet, name: str, title: str, description: str) -> Drawing:
    """Return charts as an SVG element for the page."""
    return Drawing(as_svg(sheet, name, title, description), title)


def by_load_case(results: Results) -> Drawing:
    """Return the bar chart of load cases."""
    rows = load_case_rows(results.outcome, results.rows)
    worst = rows[0].worst if rows else None
    said = f"The most is {percent(worst.used)} in {worst.load_case or Scope.ALL.value}." if worst else "Nothing was judged."
    return inline(
        Sheet((safety_chart(rows),), 1, WIDE, 76 + 27 * len(rows)),
        "bars",
        "Share of what is allowed that each load case uses",
        f"{said} All numbers are in the table below.",
    )


def still_frame(results: Results, bound: int, case: int) -> Drawing:
    """Return the frame as it stands in print and where no script runs."""
    name = results.outcome.loads[case].name
    title = f"The frame in {name}, coloured by the share of the yield strength used; thin grey lines: as built"
    sheet = Sheet((still_chart(results.outcome, bound, case),), 1, WIDE, 420.0)
    return inline(sheet, "still", title, "The table of members below gives each member's lowest safety factor.")


def along(stress: MemberStress, case: int, name: str, target: float, units: Units) -> Drawing:
    """Return a member's bending, shear, torsion and safety factor along its length."""
    title = f"{stress.forces.member} in {name}: section forces and safety factor along it"
    sheet = Sheet(diagrams(stress, case, target, units), 2, WIDE / 2, 210.0)
    return inline(sheet, "along", title, "The numbers are in the table below.")
