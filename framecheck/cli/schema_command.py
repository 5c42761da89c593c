"""`framecheck schema`: the JSON Schema of a case file, for editors."""

from __future__ import annotations

import json

import click

from framecheck.cli.shop_files import library


@click.command(name="schema", short_help="Print the JSON Schema of the case file, for editors.")
def command() -> None:
    """Print the JSON Schema of a case file: an editor that knows it completes keys and marks mistakes while you type."""
    from framecheck.reading.schema import case_schema

    click.echo(json.dumps(case_schema(library()), ensure_ascii=False, indent=1))
