"""`framecheck notch`: what a notch leaves, how deep it may be, where else it might sit, what mends it."""

from __future__ import annotations

from dataclasses import replace

import click

from framecheck.cli.figures import figure_kind
from framecheck.cli.files import may_write, write_whole
from framecheck.cli.options import force_option, strict_option, units_option
from framecheck.cli.workshop import caution, picture, read, screen_width, section_store, tell
from framecheck.errors import Fault, InputError
from framecheck.model.case import Case
from framecheck.output.display import Units

SIDES = ("top", "bottom", "left", "right")
ASKED = "asked"
Wanted = tuple[str | None, str | None, str | None, str | None, str]


@click.command(name="notch", short_help="One notch: what is left, how deep, where, what mends it.")
@click.argument("case")
@click.option("--member", required=True, metavar="M", help="The member that is cut.")
@click.option("--cut", metavar="NAME", help="Which of its cuts, where it has several.")
@click.option("--at", metavar="STATION", help="Ask for a cut instead: its middle along the member, such as '34 in'.")
@click.option("--side", type=click.Choice(SIDES), help="Its side, seen looking along the member.")
@click.option("--length", metavar="LEN", help="Its length along the member.")
@click.option("--depth", metavar="DEPTH", help="Its depth; a quarter of the section unless told.")
@click.option("--radius", metavar="R", default="1 in", show_default=True, help="Radius of its corners.")
@click.option("--plot", metavar="FILE", help="Draw safety factor against depth as .png, .svg or .pdf.")
@strict_option
@force_option
@units_option
def command(
    case: str,
    member: str,
    cut: str | None,
    at: str | None,
    side: str | None,
    length: str | None,
    depth: str | None,
    radius: str,
    plot: str | None,
    is_strict: bool,
    units: Units | None,
) -> int:
    """Judge a notch of a member of CASE, or one asked for by --at, --side and --length.

    Exit code, for what was judged over its length: 0 met (with --strict: and nothing is open), 1 a target missed, 2 bad input, 3 not
    judged or solved.
    """
    from framecheck.output.notch_text import as_text
    from framecheck.study.notch import notch_study

    kind = None if plot is None else figure_kind(plot, "--plot")
    wanted = (at, side, length, depth, radius)
    described = read(case)
    may_write(plot)
    shown_in = units or described.written_in
    if any(each is not None for each in wanted[:4]):
        described, cut = with_asked(described, member, cut, wanted), ASKED
    study = notch_study(described, member, cut, section_store())
    if plot is not None and kind is not None:
        from framecheck.output.plots.notch import notch_figure

        write_whole(plot, notch_figure(study, picture(kind), shown_in))
    tell(as_text(described.title, study, caution(), shown_in, screen_width()))
    return study.verdict.exit_code(is_strict)


def with_asked(case: Case, member: str, cut: str | None, wanted: Wanted) -> Case:
    """Return the case with the cut that is asked for on the command line."""
    from framecheck.model.frame import Cut
    from framecheck.model.shapes import Side
    from framecheck.run import section_at
    from framecheck.section.analysis import section_properties
    from framecheck.study.notch import member_named, size_along, with_cut

    at, side, length, depth, radius = wanted
    if cut is not None or at is None or side is None or length is None:
        raise click.UsageError("to ask for a cut give --at, --side and --length, and no --cut")
    of = member_named(case, member)
    asked = Cut(
        ASKED,
        of.orientation.own_side(Side(side)),
        measured("--at", at),
        0.0,
        measured("--length", length),
        measured("--radius", radius),
    )
    if depth is not None:
        return with_cut(case, of, replace(asked, depth=measured("--depth", depth)))
    section = section_properties(case.frame.sections[section_at(of, asked.at)], section_store())
    return with_cut(case, of, replace(asked, depth=size_along(section, asked.side) / 4))


def measured(option: str, text: str) -> float:
    """Return a length written on the command line, m; of a corner's radius and a place it may be zero."""
    from framecheck.reading.desk import Desk
    from framecheck.reading.kinds import Amount, Sign
    from framecheck.reading.yamltext import Text

    desk = Desk("")
    sign = Sign.NOT_NEGATIVE if option in ("--radius", "--at") else Sign.POSITIVE
    found = Amount("length", sign).read(Text(0, text, quoted=True), option, desk)
    if desk.faults:
        raise InputError([Fault("", option, each.fault, each.remedy) for each in desk.faults])
    assert isinstance(found, float)
    return found
