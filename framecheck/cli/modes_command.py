"""`framecheck modes`: the first natural frequencies."""

from __future__ import annotations

import click

from framecheck.cli.options import units_option
from framecheck.cli.workshop import caution, read, screen_width, section_store, tell
from framecheck.output.display import Units


@click.command(name="modes", short_help="First natural frequencies, bare, loaded and on the wheels.")
@click.argument("case")
@click.option("--count", type=click.IntRange(1, 40), default=6, show_default=True, help="How many of each.")
@units_option
def command(case: str, count: int, units: Units | None) -> int:
    """Find the first natural frequencies of the frame of CASE: bare, with its masses, on its wheels where rates are known."""
    from framecheck.output.modes_text import as_text
    from framecheck.study.modes import modes_of

    described = read(case)
    found = modes_of(described, section_store(), count)
    tell(as_text(described.title, found, caution(), units or described.written_in, screen_width()))
    return 0
