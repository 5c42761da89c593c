"""`framecheck rate`: how much the frame can take."""

from __future__ import annotations

import click

from framecheck.cli.options import units_option
from framecheck.cli.workshop import caution, read, screen_width, section_store
from framecheck.output.display import Units
from framecheck.run import prepare


@click.command(name="rate", short_help="How much torque, g, curb speed, payload the frame can take.")
@click.argument("case")
@units_option
def command(case: str, units: Units | None) -> int:
    """Raise one load of CASE at a time: the largest that meets the target, the largest before yield, what governs."""
    from framecheck.output.rating_text import as_text
    from framecheck.study.rate import ratings

    described = read(case)
    found = tuple(ratings(prepare(described, section_store()), described))
    click.echo(as_text(described, found, caution(), units or described.written_in, screen_width()))
    return 1 if any(each.misses for each in found) else 0
