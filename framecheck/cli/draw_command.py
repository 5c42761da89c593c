"""`framecheck draw`: the frame, a member's diagrams, its section with the stress, its twist, or the load cases, as a picture."""

from __future__ import annotations

from difflib import get_close_matches
from textwrap import fill
from typing import TYPE_CHECKING

import click

from framecheck.cli.context import picture, read, section_store
from framecheck.cli.figures import figure_kind
from framecheck.cli.files import write_whole
from framecheck.cli.options import Finite, force_option, long_option, most_work, units_option
from framecheck.cli.places import may_write
from framecheck.errors import Fault, InputError
from framecheck.frame.results import most_twisted
from framecheck.output.charts.figures import along_figure, draw_twist_of, safety_figure, station_figure
from framecheck.output.charts.figures import frame_figure as figure_of
from framecheck.output.charts.frame_chart import Pictured, key_words
from framecheck.output.charts.on_axes import as_bytes, new_figure
from framecheck.output.display import Units, with_unit
from framecheck.output.html_report.finding_page import along_of, case_drawn, spot_of, station_picture
from framecheck.output.wording import picture_words, ringed_words, verdict_line
from framecheck.results.places import found_at
from framecheck.results.row import CheckResult
from framecheck.results.summary import governing_bound, load_case_rows
from framecheck.run import Results, run

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from framecheck.stress import MemberStress


TITLE_WIDE = 100
"""Letters in a line of a picture's title."""


@click.command(name="draw", short_help="Draw the frame moved, a member's diagrams or stress, or the load cases.")
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
@click.option("--factors", is_flag=True, help="Draw how much of what is allowed every load case uses instead of the frame.")
@click.option(
    "--scale", type=Finite(above=0.0), help="How many times the movements are drawn; so that they can be seen unless told."
)
@force_option
@long_option
@units_option
def draw_command(
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
    """Solve CASE and draw it: the frame in three dimensions, coloured by the share of what is allowed that is used."""
    kind = figure_kind(file, "--output")
    if sum((member is not None, stress is not None, twist, factors)) > 1:
        raise click.UsageError("give one of --member, --stress, --twist, --factors")
    described = read(case)
    may_write(file)
    shown_in, results = units or described.written_in, run(described, section_store(), most_work())
    names = [loads.name for loads in results.outcome.loads]
    number = governing_case(results) if load_case is None else chosen(names, load_case, "load case")

    row = row_of(results, number) if load_case is not None or results.governing is None else results.governing
    said = ": ".join(part for part in (names[number], said_of(results, row, number)) if part)
    if factors:
        title = f"How much of what is allowed each load case uses. {verdict_line(results.verdict)}"
        figure = safety_figure(load_case_rows(results.outcome, results.rows), title)
    elif twist:
        figure, said = twist_figure(results, shown_in)
    elif stress is not None:
        figure = stress_figure(results, number, stress, shown_in)
    elif member is not None:
        figure = member_figure(results, number, member, shown_in)
    else:
        figure = frame_figure(results, number, row, scale, shown_in)
    write_whole(file, as_bytes(figure, picture(kind)))
    click.echo(f"wrote {file}: {said}")


def chosen(names: list[str], name: str, what: str) -> int:
    """Return the number of a name, or raise InputError with the nearest one."""
    if name in names:
        return names.index(name)
    near = get_close_matches(name, names, n=1)
    remedy = f"did you mean '{near[0]}'?" if near else f"there are: {', '.join(names)}"
    raise InputError([Fault("", name, f"there is no such {what}", remedy)])


def row_of(results: Results, case: int) -> CheckResult | None:
    """Return the row that governs one load case of the frame, None where nothing was judged in it."""
    name = results.outcome.loads[case].name
    return next((row for row in results.rows if row.load_case == name), None)


def governing_case(results: Results) -> int:
    """Return the number of the load case in which what governs is drawn: its own, else that in which most is used there."""
    spot = None if results.governing is None else spot_of(results, results.governing)
    return 0 if spot is None else spot.case


def said_of(results: Results, row: CheckResult | None, case: int) -> str:
    """Return what governs a load case, beside what governs the whole."""
    return ". ".join(part for part in (picture_words(results.governing, row), case_drawn(results.outcome, row, case)) if part)


def frame_figure(results: Results, case: int, row: CheckResult | None, scale: float | None, units: Units) -> Figure:
    """Return the frame under the bound that governs the load case, the place of a row ringed."""
    name, bound = results.outcome.loads[case].name, governing_bound(results.outcome, row)
    worst = found_at(results.outcome, row, bound, case)
    ringed = "" if row is None else ringed_words(row, units)
    said = ": ".join(part for part in (f"The frame in '{name}'", said_of(results, row, case)) if part)
    title = fill(f"{said}. {key_words(results.outcome, bound).capitalize()}", TITLE_WIDE)
    return figure_of(results.outcome, Pictured(bound, case, scale, worst, ringed), units, title)


def member_figure(results: Results, case: int, member: str, units: Units) -> Figure:
    """Return a member's section forces and the share of what is allowed along it, where it uses most marked."""
    stress, name = stress_of(results, member, case), results.outcome.loads[case].name
    number = [each.name for each in results.outcome.case.frame.members].index(member)
    at = float(stress.forces.stations[(stress.nominal[:, case] / stress.strength[:, case]).argmax()])
    title = f"{member} in '{name}': section forces and the share of what is allowed; red: where it uses most on yield"
    return along_figure(stress, along_of(results.outcome, number, case, at), units, title)


def stress_of(results: Results, member: str, case: int) -> MemberStress:
    """Return a member's stress under the bound that governs a load case."""
    stresses = results.outcome.stresses[governing_bound(results.outcome, row_of(results, case))]
    return stresses[chosen([stress.forces.member for stress in stresses], member, "member")]


def stress_figure(results: Results, case: int, member: str, units: Units) -> Figure:
    """Return a member's section with its stress, as it sits in the vehicle, at the station where it is worst in one load case."""
    stress, outcome = stress_of(results, member, case), results.outcome
    at = int((stress.nominal[:, case] / stress.strength[:, case]).argmax())
    number = [each.name for each in outcome.case.frame.members].index(member)
    picture, looking = station_picture(outcome, number, stress, at, case)
    figure = station_figure(picture, units)
    place = with_unit(float(stress.forces.stations[at]), "station", units)
    said = f"{member} in '{outcome.loads[case].name}', {place} from its first point, as it sits in the vehicle, {looking}"
    figure.suptitle(said, x=0.02, ha="left", fontsize=9)
    return figure


def twist_figure(results: Results, units: Units) -> tuple[Figure, str]:
    """Return the twist along the rail that twists most in any load case, and the load case."""
    outcome = results.outcome
    found = most_twisted(outcome.case.frame, outcome.solutions)
    if found is None:
        raise InputError([Fault("", outcome.case.title, "no member twists in any load case", "leave out --twist")])
    figure, name = new_figure(7.6, 3.0), outcome.loads[found.case].name
    draw_twist_of(figure.add_subplot(), outcome.stresses[found.bound][found.member], found.twist, name, units)
    return figure, name
