"""`framecheck draw`: the frame, a member's diagrams, or the safety factors, as a picture."""

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


@click.command(name="draw", short_help="Draw the frame moved, a member's diagrams, or the safety factors.")
@click.argument("case")
@click.option("--output", "-o", "file", metavar="FILE", required=True, help="The .png, .svg or .pdf file to write.")
@click.option("--load-case", metavar="NAME", help="The governing one unless told.")
@click.option(
    "--member", metavar="NAME", help="Draw this member's forces and safety factor along it instead of the frame."
)
@click.option("--factors", is_flag=True, help="Draw the lowest safety factor of every load case instead of the frame.")
@click.option(
    "--scale", type=float, help="How many times the movements are drawn; so that they can be seen unless told."
)
@units_option
def command(
    case: str, file: str, load_case: str | None, member: str | None, factors: bool, scale: float | None, units: Units
) -> None:
    """Solve CASE and draw it: the frame in three dimensions, coloured by the share of the yield strength used."""
    kind = figure_kind(file, "--output")
    results = run(read(case), section_store())
    names = [loads.name for loads in results.outcome.loads]
    governing = results.governing.load_case if results.governing else names[0]
    number = chosen(names, load_case or governing, "load case")
    from framecheck.output.plots.style import as_bytes

    if factors:
        figure = factors_figure(results)
    elif member is not None:
        figure = member_figure(results, number, member, units)
    else:
        figure = frame_figure(results, number, scale)
    write_whole(file, as_bytes(figure, kind))
    click.echo(f"wrote {file}: {names[number]}")


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
    from framecheck.summary import governing_bound

    figure = new_figure(9.0, 5.0)
    bound = governing_bound(results.outcome, results.governing)
    draw_frame(figure.add_subplot(projection="3d"), results.outcome, bound, case, scale)
    return figure


def member_figure(results: Results, case: int, member: str, units: Units) -> Figure:
    """Return a member's section forces and safety factor along it."""
    from framecheck.output.plots.diagrams import along_figure
    from framecheck.summary import governing_bound

    stresses = results.outcome.stresses[governing_bound(results.outcome, results.governing)]
    number = chosen([stress.forces.member for stress in stresses], member, "member")
    target = results.outcome.case.targets.of(results.outcome.loads[case].name)
    return along_figure(stresses[number], case, target, units)


def factors_figure(results: Results) -> Figure:
    """Return the lowest safety factor of every load case."""
    from framecheck.output.plots.safety import safety_figure
    from framecheck.summary import load_case_rows

    return safety_figure(load_case_rows(results.outcome, results.rows))
