"""`framecheck report`: one HTML file for an engineer and an inspector."""

from __future__ import annotations

import click

from framecheck.cli.check_command import exit_code
from framecheck.cli.files import write_whole
from framecheck.cli.options import units_option
from framecheck.cli.workshop import caution, read, section_store
from framecheck.output.display import Units
from framecheck.run import run


@click.command(name="report", short_help="Write a report for an engineer and an inspector.")
@click.argument("case")
@click.option(
    "--output", "-o", "file", metavar="FILE", required=True, help="The HTML file to write; '-' for standard output."
)
@units_option
def command(case: str, file: str, units: Units) -> int:
    """Solve CASE and write one HTML file: it opens offline, prints, and turns the frame in three dimensions."""
    from framecheck.output.html_report.page import as_html

    results = run(read(case), section_store())
    write_whole(file, as_html(results, caution(), units))
    if file != "-":
        click.echo(f"wrote {file}\n{caution()}")
    return exit_code(results)
