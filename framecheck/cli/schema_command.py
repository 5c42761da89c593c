"""`framecheck schema`: what a case file may hold, as JSON Schema for editors or as a text for people."""

from __future__ import annotations

import json

import click

from framecheck.cli.shop_files import library


@click.command(name="schema", short_help="Print what a case file may hold: for editors, or as a text.")
@click.option("--text", "as_text", is_flag=True, help="Print it for people (Markdown) instead.")
def command(as_text: bool) -> None:
    """Print the JSON Schema of a case file: an editor that knows it completes keys and marks mistakes while you type."""
    from framecheck.reading.schema import case_schema, input_reference

    if as_text:
        click.echo(input_reference(library()), nl=False)
    else:
        click.echo(json.dumps(case_schema(library()), ensure_ascii=False, indent=1))
