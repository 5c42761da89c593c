"""The twist along the rail that twists most: said in words, drawn, and in numbers."""

from __future__ import annotations

from typing import Any

from framecheck.frame.own_twist import MostTwisted, most_twisted
from framecheck.output.cells import station_text
from framecheck.output.charts.along import twist_diagram
from framecheck.output.charts.svg import Sheet
from framecheck.output.display import Units, bare, with_unit
from framecheck.output.html_report.figures import WIDE, inline
from framecheck.output.html_report.table import Table, label, numbers, plain, spread
from framecheck.run import Results
from framecheck.stress import MemberStress

NONE_TWISTS = "No member twists in any load case."
OWN = "The twist is the member's own, summed from section to section; how far the frame turns as a whole is not in it."


def parts(results: Results, units: Units) -> dict[str, Any]:
    """Return the sentence, the figure and the table of the most twisted rail by the name that the template uses."""
    outcome = results.outcome
    found = most_twisted(outcome.case.frame, outcome.solutions) if outcome.loads else None
    if found is None:
        return {"twist_said": NONE_TWISTS, "twist": None, "twist_table": Table("Twist", numbers("twist"), ())}
    stress, name = outcome.stresses[found.bound][found.member], outcome.loads[found.case].name
    chart = twist_diagram(stress, found.twist, name, units)
    title = f"Angle of twist along {stress.forces.member} in {name}, against its first point"
    said = sentence(found, stress, name, units)
    return {
        "twist_said": f"{said} {OWN}",
        "twist": inline(Sheet((chart,), 1, WIDE, 250.0), "twist", title, f"{said} The numbers are in the table below."),
        "twist_table": table(found, stress, title, units),
    }


def sentence(found: MostTwisted, stress: MemberStress, load_case: str, units: Units) -> str:
    """Return how far the member twists, between which stations and in which load case."""
    first, second = (with_unit(float(stress.forces.stations[i]), "station", units) for i in (found.first, found.second))
    return (
        f"{stress.forces.member} twists most: {with_unit(found.between, 'angle', units)} between {first} and {second} "
        f"from its first point, in '{load_case}'."
    )


def table(found: MostTwisted, stress: MemberStress, caption: str, units: Units) -> Table:
    """Return the torsion and the angle of twist along the member."""
    forces = stress.forces
    torsion, twist = plain(forces.member_forces[:, found.case, 3]), plain(found.twist)
    chosen = sorted({*spread(len(forces.stations)), found.first, found.second})
    rows = tuple(
        (
            station_text(float(forces.stations[i]), units),
            bare(float(torsion[i]), "moment", units),
            bare(float(twist[i]), "angle", units),
        )
        for i in chosen
    )
    headings = numbers(*(f"{name}, {label(kind, units)}" for name, kind in COLUMNS))
    return Table(caption, headings, rows, "Right-handed about the member, which runs from its first point.")


COLUMNS = (("station", "station"), ("torsion", "moment"), ("twist", "angle"))
