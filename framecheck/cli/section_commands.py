"""`framecheck section` and `framecheck notch`: one section's numbers and picture, and what a notch leaves of a member."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from framecheck.cli.context import caution, picture, read, screen_width, section_store, sections_named, tell
from framecheck.cli.figures import figure_kind
from framecheck.cli.files import write_whole
from framecheck.cli.options import (
    Finite,
    force_option,
    require_library,
    second_opinion_option,
    strict_option,
    units_option,
)
from framecheck.cli.places import may_write, origins
from framecheck.cli.section_places import worked_out
from framecheck.errors import Fault, InputError
from framecheck.model.case import Case
from framecheck.model.frame import Cut, Section
from framecheck.model.shapes import Side
from framecheck.output.display import Units, wrapped
from framecheck.reading.diagnostics import Diagnostics, refuse_faults
from framecheck.reading.kinds import AllowedSign, QuantityKind
from framecheck.reading.yamltext import Text
from framecheck.section.analysis import section_properties
from framecheck.section.midline import midline_properties
from framecheck.section.properties import SectionProperties
from framecheck.study.second_opinion_section import SecondOpinion, opinion_of_section
from framecheck.units import units_of

if TYPE_CHECKING:
    from framecheck.output.charts.on_axes import Picture


FORCES = ("axial N", "shear sideways N", "shear vertical N", "torsion Nm", "bending vertical Nm", "bending sideways Nm")


@click.command(name="section", short_help="One section: properties, and what its shape costs.")
@click.argument("name")
@click.option("--plot", metavar="FILE", help="Draw it as .png, .svg or .pdf.")
@click.option(
    "--forces", nargs=6, type=Finite(), metavar="N VY VZ T MV MS", help=f"Draw its stress under {', '.join(FORCES)}."
)
@click.option("--json", "json_file", metavar="FILE", help="Write its numbers as JSON (SI); '-' for standard output.")
@second_opinion_option
@force_option
@units_option
def section_command(
    name: str,
    plot: str | None,
    forces: tuple[float, ...] | None,
    json_file: str | None,
    is_asked_twice: bool,
    units: Units | None,
) -> int:
    """Print the properties of NAME: a section of the library, a case file (all its sections), or FILE:SECTION.

    --second-opinion has sectionproperties, an independent library, work out the same outline, and shows the largest differences.

    Exit code: 0, 1 the second opinion differs by more than it should, 2 bad input.
    """
    kind = None if plot is None else figure_kind(plot, "--plot")
    if is_asked_twice:
        require_library("sectionproperties")
    found = sections_named(name)
    may_write(plot, json_file)
    store, shown_in = section_store(), units or units_of(name) or Units.SI
    both = [(section, worked_out(name, section, store)) for section in found]
    opinions = asked(both) if is_asked_twice else None
    code = int(any(not each.agrees for each in (opinions or {}).values()))
    if json_file is not None:
        write_json(json_file, both, opinions)
    if json_file == "-":
        return code
    show(both, opinions or {}, shown_in)
    if plot is not None and kind is not None:
        write_whole(plot, drawn(found, forces, picture(kind), shown_in))
        click.echo(f"wrote {plot}\n")

    tell(wrapped(caution(), screen_width()))
    return code


def as_sold(section: Section) -> SectionProperties | None:
    """Return a section by the wall that it is sold by, None where that is the wall that counts."""
    return None if section.sold is None else section_properties(replace(section, shape=section.sold, sold=None), section_store())


def asked(both: Sequence[tuple[Section, SectionProperties]]) -> dict[str, SecondOpinion]:
    """Return the second opinion of every section, by name."""
    return {section.name: opinion_of_section(section, properties) for section, properties in both}


def show(
    both: Sequence[tuple[Section, SectionProperties]], opinions: Mapping[str, SecondOpinion], units: Units
) -> None:
    """Print every section, and its second opinion where one was asked for."""
    from framecheck.output.comparison import second_opinion_text as opinion_text
    from framecheck.output.section_text import as_text

    for section, properties in both:
        source = section.material.source
        click.echo(as_text(properties, by_midline(section), source, units, screen_width(), as_sold(section)) + "\n")
        if section.name in opinions:
            click.echo(opinion_text(opinions[section.name], units, screen_width()) + "\n")


def write_json(
    file: str, both: Sequence[tuple[Section, SectionProperties]], opinions: Mapping[str, SecondOpinion] | None
) -> None:
    """Write sections, and second opinions where they were asked for, as JSON."""
    from framecheck.output.comparison import record
    from framecheck.output.section_text import as_json

    records = None if opinions is None else {name: record(each) for name, each in opinions.items()}
    sold = [each for each in (as_sold(section) for section, _ in both) if each is not None]
    write_whole(file, as_json([properties for _, properties in both], sold, records, caution(), origins()))


def by_midline(section: Section) -> SectionProperties | None:
    """Return the section by mid-line theory, None where that theory has nothing to say of its shape."""
    try:
        return midline_properties(section)
    except InputError:
        return None


def drawn(found: tuple[Section, ...], forces: tuple[float, ...] | None, kind: Picture, units: Units) -> bytes:
    """Return the picture of one section."""
    from framecheck.output.charts.figures import section_figure

    if len(found) != 1:
        names = ", ".join(section.name for section in found)
        raise InputError([Fault("", "--plot", "draws one section at a time", f"name one as FILE:SECTION, of {names}")])
    properties = section_properties(found[0], section_store())
    return section_figure(found[0], properties, forces, kind, units)


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
def notch_command(
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
        from framecheck.output.charts.study_figures import notch_figure

        write_whole(plot, notch_figure(study, picture(kind), shown_in))
    tell(as_text(described.title, study, caution(), shown_in, screen_width()))
    return study.verdict.exit_code(is_strict)


def with_asked(case: Case, member: str, cut: str | None, wanted: Wanted) -> Case:
    """Return the case with the cut that is asked for on the command line."""
    from framecheck.run import section_at
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
    diagnostics = Diagnostics("")
    sign = AllowedSign.NOT_NEGATIVE if option in ("--radius", "--at") else AllowedSign.POSITIVE
    found = QuantityKind("length", sign).read(Text(0, text, quoted=True), option, diagnostics)
    refuse_faults(diagnostics)
    assert isinstance(found, float)
    return found
