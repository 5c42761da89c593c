"""`framecheck section`: one section's numbers, and a picture of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from framecheck.cli.figures import figure_kind
from framecheck.cli.files import may_write, origins, write_whole
from framecheck.cli.named_sections import sections_named
from framecheck.cli.options import Finite, force_option, units_option
from framecheck.cli.second_opinion import require_library, second_opinion_option
from framecheck.cli.workshop import caution, picture, screen_width, section_store, tell
from framecheck.errors import Fault, InputError
from framecheck.model.frame import Section
from framecheck.output.display import Units
from framecheck.section.analysis import section_properties
from framecheck.section.properties import SectionProperties
from framecheck.units import units_of

if TYPE_CHECKING:
    from framecheck.output.plots.style import Picture
    from framecheck.study.second_opinion.opinion import SecondOpinion

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
def command(
    name: str,
    plot: str | None,
    forces: tuple[float, ...] | None,
    json_file: str | None,
    is_asked_twice: bool,
    units: Units | None,
) -> None:
    """Print the properties of NAME: a section of the library, a case file (all its sections), or FILE:SECTION.

    --second-opinion has sectionproperties, an independent library, work out the same outline, and shows the largest differences.
    """
    kind = None if plot is None else figure_kind(plot, "--plot")
    if is_asked_twice:
        require_library("sectionproperties")
    found = sections_named(name)
    may_write(plot, json_file)
    store, shown_in = section_store(), units or units_of(name) or Units.SI
    both = [(section, section_properties(section, store)) for section in found]
    opinions = asked(both) if is_asked_twice else None
    if json_file is not None:
        write_json(json_file, both, opinions)
    if json_file == "-":
        return
    show(both, opinions or {}, shown_in)
    if plot is not None and kind is not None:
        write_whole(plot, drawn(found, forces, picture(kind), shown_in))
        click.echo(f"wrote {plot}\n")
    from framecheck.output.text_table import wrapped

    tell(wrapped(caution(), screen_width()))


def as_sold(section: Section) -> SectionProperties | None:
    """Return a section by the wall that it is sold by, None where that is the wall that counts."""
    return None if section.sold is None else section_properties(replace(section, shape=section.sold, sold=None), section_store())


def asked(both: Sequence[tuple[Section, SectionProperties]]) -> dict[str, SecondOpinion]:
    """Return the second opinion of every section, by name."""
    from framecheck.study.second_opinion.section import opinion_of_section

    return {section.name: opinion_of_section(section, properties) for section, properties in both}


def show(
    both: Sequence[tuple[Section, SectionProperties]], opinions: Mapping[str, SecondOpinion], units: Units
) -> None:
    """Print every section, and its second opinion where one was asked for."""
    from framecheck.output.second_opinion import as_text as opinion_text
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
    from framecheck.output.second_opinion import record
    from framecheck.output.section_json import as_json

    records = None if opinions is None else {name: record(each) for name, each in opinions.items()}
    sold = [each for each in (as_sold(section) for section, _ in both) if each is not None]
    write_whole(file, as_json([properties for _, properties in both], sold, records, caution(), origins()))


def by_midline(section: Section) -> SectionProperties | None:
    """Return the section by mid-line theory, None where that theory has nothing to say of its shape."""
    from framecheck.section.midline import midline_properties

    try:
        return midline_properties(section)
    except InputError:
        return None


def drawn(found: tuple[Section, ...], forces: tuple[float, ...] | None, kind: Picture, units: Units) -> bytes:
    """Return the picture of one section."""
    from framecheck.output.plots.section import section_figure

    if len(found) != 1:
        names = ", ".join(section.name for section in found)
        raise InputError([Fault("", "--plot", "draws one section at a time", f"name one as FILE:SECTION, of {names}")])
    properties = section_properties(found[0], section_store())
    return section_figure(found[0], properties, forces, kind, units)
