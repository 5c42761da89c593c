"""`framecheck schema`: what a case file may hold, as JSON Schema for editors or as a text for people."""

from __future__ import annotations

import json

import click

from framecheck.cli.shop_files import library


@click.command(name="schema", short_help="Print what a case file may hold: for editors, or as a text.")
@click.option("--text", "as_text", is_flag=True, help="Print it for people (Markdown) instead.")
@click.option("--study", is_flag=True, help="Of a study file instead of a case.")
def command(as_text: bool, study: bool) -> None:
    """Print the JSON Schema of a case file: an editor that knows it completes keys and marks mistakes while you type."""
    from framecheck.reading.schema import case_schema, input_reference, study_reference, study_schema

    if as_text:
        click.echo(study_reference() if study else input_reference(library()), nl=False)
    else:
        click.echo(json.dumps(study_schema() if study else case_schema(library()), ensure_ascii=False, indent=1))
