"""`framecheck draw`: the frame, a member's diagrams, its section with the stress, its twist, or the safety factors, as a picture."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

import click

from framecheck.cli.figures import figure_kind
from framecheck.cli.files import write_whole
from framecheck.cli.options import units_option
from framecheck.cli.workshop import read, section_store
from framecheck.errors import Fault, InputError
from framecheck.output.display import Units
from framecheck.run import Results, run

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from framecheck.stress import MemberStress


@click.command(name="draw", short_help="Draw the frame moved, a member's diagrams or stress, or the safety factors.")
@click.argument("case")
@click.option("--output", "-o", "file", metavar="FILE", required=True, help="The .png, .svg or .pdf file to write.")
@click.option("--load-case", metavar="NAME", help="The governing one unless told.")
@click.option(
    "--member", metavar="NAME", help="Draw this member's forces and safety factor along it instead of the frame."
)
@click.option(
    "--stress",
    metavar="NAME",
    help="Draw this member's section with its stress, where it is worst, instead of the frame.",
)
@click.option("--twist", is_flag=True, help="Draw the twist along the rail that twists most instead of the frame.")
@click.option("--factors", is_flag=True, help="Draw the lowest safety factor of every load case instead of the frame.")
@click.option(
    "--scale", type=float, help="How many times the movements are drawn; so that they can be seen unless told."
)
@units_option
def command(
    case: str,
    file: str,
    load_case: str | None,
    member: str | None,
    stress: str | None,
    twist: bool,
    factors: bool,
    scale: float | None,
    units: Units | None,
) -> None:
    """Solve CASE and draw it: the frame in three dimensions, coloured by the share of the yield strength used."""
    kind = figure_kind(file, "--output")
    if sum((member is not None, stress is not None, twist, factors)) > 1:
        raise click.UsageError("give one of --member, --stress, --twist, --factors")
    described = read(case)
    shown_in, results = units or described.written_in, run(described, section_store())
    names = [loads.name for loads in results.outcome.loads]
    governing = (results.governing.load_case if results.governing else None) or names[0]
    number = chosen(names, load_case or governing, "load case")
    from framecheck.output.plots.style import as_bytes

    said = names[number]
    if factors:
        figure = factors_figure(results)
    elif twist:
        figure, said = twist_figure(results, shown_in)
    elif stress is not None:
        figure = stress_figure(results, number, stress, shown_in)
    elif member is not None:
        figure = member_figure(results, number, member, shown_in)
    else:
        figure = frame_figure(results, number, scale)
    write_whole(file, as_bytes(figure, kind))
    click.echo(f"wrote {file}: {said}")


def chosen(names: list[str], name: str, what: str) -> int:
    """Return the number of a name, or raise InputError with the nearest one."""
    if name in names:
        return names.index(name)
    near = get_close_matches(name, names, n=1)
    remedy = f"did you mean '{near[0]}'?" if near else f"there are: {', '.join(names)}"
    raise InputError([Fault("", name, f"there is no such {what}", remedy)])


def frame_figure(results: Results, case: int, scale: float | None) -> Figure:
    """Return the frame under its governing bound."""
    from framecheck.output.plots.frame3d import draw_frame
    from framecheck.output.plots.style import new_figure
    from framecheck.results.summary import governing_bound

    figure = new_figure(9.0, 5.0)
    bound = governing_bound(results.outcome, results.governing)
    draw_frame(figure.add_subplot(projection="3d"), results.outcome, bound, case, scale)
    return figure


def member_figure(results: Results, case: int, member: str, units: Units) -> Figure:
    """Return a member's section forces and safety factor along it."""
    from framecheck.output.plots.diagrams import along_figure

    stress = stress_of(results, member)
    target = results.outcome.case.targets.of(results.outcome.loads[case].name)
    return along_figure(stress, case, target, units)


def factors_figure(results: Results) -> Figure:
    """Return the lowest safety factor of every load case."""
    from framecheck.output.plots.safety import safety_figure
    from framecheck.results.summary import load_case_rows

    return safety_figure(load_case_rows(results.outcome, results.rows))


def stress_of(results: Results, member: str) -> MemberStress:
    """Return a member's stress under the governing bound."""
    from framecheck.results.summary import governing_bound

    stresses = results.outcome.stresses[governing_bound(results.outcome, results.governing)]
    return stresses[chosen([stress.forces.member for stress in stresses], member, "member")]


def stress_figure(results: Results, case: int, member: str, units: Units) -> Figure:
    """Return a member's section with its stress at the station where it is worst in one load case."""
    from framecheck.output.html_report.section_figures import station
    from framecheck.output.plots.section import station_figure

    at = station(results, stress_of(results, member), case)
    return station_figure(at.drawn, at.properties, at.forces, units)


def twist_figure(results: Results, units: Units) -> tuple[Figure, str]:
    """Return the twist along the rail that twists most in any load case, and the load case."""
    from framecheck.frame.own_twist import most_twisted
    from framecheck.output.plots.diagrams import draw_twist_of
    from framecheck.output.plots.style import new_figure

    outcome = results.outcome
    found = most_twisted(outcome.case.frame, outcome.solutions)
    if found is None:
        raise InputError([Fault("", outcome.case.title, "no member twists in any load case", "leave out --twist")])
    figure, name = new_figure(7.6, 3.0), outcome.loads[found.case].name
    draw_twist_of(figure.add_subplot(), outcome.stresses[found.bound][found.member], found.twist, name, units)
    return figure, name
