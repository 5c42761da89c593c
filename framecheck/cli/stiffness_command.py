"""`framecheck stiffness`: how stiff the bare frame is, as a rig would measure it."""

from __future__ import annotations

import click

from framecheck.cli.figures import figure_kind
from framecheck.cli.files import may_write, write_whole
from framecheck.cli.options import force_option, units_option
from framecheck.cli.workshop import caution, picture, read, screen_width, section_store, tell
from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.case import Case
from framecheck.output.display import Units

Pair = tuple[str, str]


@click.command(name="stiffness", short_help="Torsional, bending and lateral stiffness; which members give.")
@click.argument("case")
@click.option("--front", nargs=2, metavar="LEFT RIGHT", help="Frame points of the front axle, if not the vehicle's.")
@click.option("--rear", nargs=2, metavar="LEFT RIGHT", help="Frame points of the rear axle, if not the vehicle's.")
@click.option("--figure", metavar="FILE", help="Write the twist curve as .png, .svg or .pdf.")
@force_option
@units_option
def command(case: str, front: Pair | None, rear: Pair | None, figure: str | None, units: Units | None) -> int:
    """Twist and bend the bare frame of CASE between its axles: stiffness, twist along it, share of each member."""
    from framecheck.output.stiffness_text import as_text

    kind = None if figure is None else figure_kind(figure, "--figure")
    described = read(case)
    may_write(figure)
    shown_in = units or described.written_in
    found = measured(described, front, rear)
    if figure is not None and kind is not None:
        from framecheck.output.plots.twist import twist_figure

        write_whole(figure, twist_figure(found, picture(kind), shown_in))
    tell(as_text(described.title, found, caution(), shown_in, screen_width()))
    return 0


def measured(case: Case, front: Pair | None, rear: Pair | None) -> tuple[FrameStiffness, ...]:
    """Return the stiffness between the points asked for, else between the vehicle's axles."""
    from framecheck.study.stiffness import given_points, points_of, stiffness_of

    if (front is None) != (rear is None):
        raise click.UsageError("--front and --rear go together")
    points = points_of(case) if front is None or rear is None else given_points(case, front, rear)
    return stiffness_of(case, points, section_store())
