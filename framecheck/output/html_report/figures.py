"""The report's figures as inline SVG, each with a title and a description for those who can't see it."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from framecheck.output.display import Units, factor
from framecheck.output.plots.diagrams import along_figure
from framecheck.output.plots.frame3d import draw_frame
from framecheck.output.plots.safety import safety_figure
from framecheck.output.plots.style import as_bytes, new_figure
from framecheck.run import Results
from framecheck.stress import MemberStress
from framecheck.summary import load_case_rows

if TYPE_CHECKING:
    from matplotlib.figure import Figure


@dataclass(frozen=True, slots=True)
class Drawing:
    """A figure: its SVG text, ready for the page, and the caption under it."""

    svg: str
    caption: str


def inline(figure: Figure, name: str, title: str, description: str) -> Drawing:
    """Return a figure as an SVG element with title and description; ids carry the figure's name, so none meets another."""
    text = as_bytes(figure, "svg").decode("utf-8")
    body = text[text.index("<svg") :]
    head, rest = body[: body.index(">")], body[body.index(">") + 1 :]
    for mark in ('id="', 'href="#', "url(#"):
        rest = rest.replace(mark, f"{mark}{name}-")
    said = f'<title id="{name}-title">{escape(title)}</title><desc id="{name}-desc">{escape(description)}</desc>'
    return Drawing(f'{head} role="img" aria-labelledby="{name}-title {name}-desc">{said}{rest}', title)


def by_load_case(results: Results) -> Drawing:
    """Return the bar chart of safety factors."""
    rows = load_case_rows(results.outcome, results.rows)
    worst = rows[0].worst if rows else None
    said = f"The lowest is {factor(worst.safety_factor)} in {worst.load_case}." if worst else "Nothing was judged."
    return inline(
        safety_figure(rows),
        "bars",
        "Lowest safety factor of each load case beside its target",
        f"{said} All numbers are in the table below.",
    )


def still_frame(results: Results, bound: int, case: int) -> Drawing:
    """Return the frame as it stands in print and where no script runs."""
    figure = new_figure(7.2, 4.0)
    draw_frame(figure.add_subplot(projection="3d"), results.outcome, bound, case)
    name = results.outcome.loads[case].name
    title = f"The frame in {name}, coloured by the share of the yield strength used; thin grey lines: as built"
    return inline(figure, "still", title, "The table of members below gives each member's lowest safety factor.")


def along(stress: MemberStress, case: int, name: str, target: float, units: Units) -> Drawing:
    """Return a member's bending, shear, torsion and safety factor along its length."""
    title = f"{stress.forces.member} in {name}: section forces and safety factor along it"
    return inline(along_figure(stress, case, target, units), "along", title, "The numbers are in the table below.")
