"""`framecheck compare`: sections, or solved cases, side by side."""

from __future__ import annotations

import click

from framecheck.cli.named_sections import is_file, sections_named
from framecheck.cli.options import units_option
from framecheck.cli.workshop import caution, read, screen_width, section_store
from framecheck.output.display import Units
from framecheck.study.compare import ComparedRow
from framecheck.units import units_of

Compared = tuple[tuple[str, ...], tuple[ComparedRow, ...], tuple[str, ...]]
"""Names, quantities side by side, and the verdict of each where they are cases."""


@click.command(name="compare", short_help="Two or more sections, or case files, side by side.")
@click.argument("things", nargs=-1, required=True, metavar="A B [...]")
@units_option
def command(things: tuple[str, ...], units: Units | None) -> None:
    """Show each quantity of A, B ... and its ratio to A, and the same in words.

    A, B ...: sections of the library by name, sections of a case file as FILE:SECTION, or case files.
    """
    from framecheck.output.comparison import as_text, in_words
    from framecheck.output.text_table import wrapped

    if len(things) < 2:
        raise click.UsageError("give two or more sections, or two or more case files")
    names, rows, verdicts = cases(things) if all(map(is_file, things)) else sections(things)
    width = screen_width()
    shown_in = units or units_of(" ".join(things)) or Units.SI
    lines = (*verdicts, *in_words(names, rows, shown_in).splitlines())
    said = "\n".join(wrapped(line, width) for line in lines)
    click.echo(f"{said}\n\n{as_text(names, rows, shown_in, width)}\n\n{wrapped(caution(), width)}")


def sections(things: tuple[str, ...]) -> Compared:
    """Return sections side by side."""
    from framecheck.section.analysis import section_properties
    from framecheck.study.compare import compare_sections

    store = section_store()
    found = [(words, section) for words in things for section in sections_named(words)]
    plain = [section.name for _, section in found]
    names = tuple(name if plain.count(name) == 1 else words for name, (words, _) in zip(plain, found, strict=True))
    return names, compare_sections([section_properties(section, store) for _, section in found]), ()


def cases(things: tuple[str, ...]) -> Compared:
    """Return solved cases side by side."""
    from framecheck.output.wording import verdict_line
    from framecheck.run import run
    from framecheck.study.compare import compare_results, stiffness_rows

    store, described = section_store(), [read(each) for each in things]
    results = [run(each, store) for each in described]
    titles = [each.title for each in described]
    names = tuple(title if titles.count(title) == 1 else file for title, file in zip(titles, things, strict=True))
    said = tuple(f"{name}: {verdict_line(each.verdict)}" for name, each in zip(names, results, strict=True))
    return names, (*stiffness_rows(described, store), *compare_results(results)), said
