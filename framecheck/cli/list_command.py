"""`framecheck list`: what the shop's tables hold."""

from __future__ import annotations

import click

from framecheck.cli.options import units_option
from framecheck.cli.shop_files import library
from framecheck.cli.workshop import screen_width
from framecheck.output.display import Units


@click.command(name="list", short_help="List sections, materials or gauges of the shop's tables.")
@click.argument("what", type=click.Choice(["sections", "materials", "gauges", "cases"]))
@click.argument("words", nargs=-1)
@units_option
def command(what: str, words: tuple[str, ...], units: Units | None) -> None:
    """List what the shop's tables hold: sections, materials, gauges, or the example cases.

    WORDS: only lines with all of them, as in `framecheck list sections tube "4 x 2"`.
    """
    from framecheck.cli import shop_lists

    listings = {"sections": shop_lists.sections, "materials": shop_lists.materials, "gauges": shop_lists.gauges}
    found = shop_lists.cases(example_cases()) if what == "cases" else listings[what](library(), units or Units.SI)
    click.echo(shop_lists.as_text(found, words, screen_width()))


def example_cases() -> dict[str, str]:
    """Return the example cases' texts by path."""
    from framecheck.cli.shop_files import data_folder

    return {str(file): file.read_text(encoding="utf-8") for file in sorted(data_folder("cases").glob("*.yaml"))}
