"""`framecheck section`: one section's numbers, and a picture of it."""

from __future__ import annotations

import click

from framecheck.cli.figures import figure_kind
from framecheck.cli.files import write_whole
from framecheck.cli.named_sections import sections_named
from framecheck.cli.options import units_option
from framecheck.cli.workshop import caution, screen_width, section_store
from framecheck.errors import Fault, InputError
from framecheck.model.frame import Section
from framecheck.output.display import Units
from framecheck.section.analysis import section_properties
from framecheck.section.properties import SectionProperties
from framecheck.units import units_of

FORCES = ("axial N", "shear sideways N", "shear vertical N", "torsion Nm", "bending vertical Nm", "bending sideways Nm")


@click.command(name="section", short_help="One section: properties, and what its shape costs.")
@click.argument("name")
@click.option("--plot", metavar="FILE", help="Draw it as .png, .svg or .pdf.")
@click.option(
    "--forces", nargs=6, type=float, metavar="N VY VZ T MV MS", help=f"Draw its stress under {', '.join(FORCES)}."
)
@units_option
def command(name: str, plot: str | None, forces: tuple[float, ...] | None, units: Units | None) -> None:
    """Print the properties of NAME: a section of the library, a case file (all its sections), or FILE:SECTION."""
    from framecheck.output.section_text import as_text

    kind = None if plot is None else figure_kind(plot, "--plot")
    found = sections_named(name)
    store, shown_in = section_store(), units or units_of(name) or Units.SI
    for section in found:
        properties = section_properties(section, store)
        text = as_text(properties, by_midline(section), section.material.source, shown_in, screen_width())
        click.echo(text + "\n")
    if plot is not None and kind is not None:
        write_whole(plot, drawn(found, forces, kind, shown_in))
        click.echo(f"wrote {plot}\n")
    click.echo(caution())


def by_midline(section: Section) -> SectionProperties | None:
    """Return the section by mid-line theory, None where that theory has nothing to say of its shape."""
    from framecheck.section.midline import midline_properties

    try:
        return midline_properties(section)
    except InputError:
        return None


def drawn(found: tuple[Section, ...], forces: tuple[float, ...] | None, kind: str, units: Units) -> bytes:
    """Return the picture of one section."""
    from framecheck.output.plots.section import section_figure

    if len(found) != 1:
        names = ", ".join(section.name for section in found)
        raise InputError([Fault("", "--plot", "draws one section at a time", f"name one as FILE:SECTION, of {names}")])
    properties = section_properties(found[0], section_store())
    return section_figure(found[0], properties, forces, kind, units)
