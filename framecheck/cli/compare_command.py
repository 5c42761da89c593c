"""`framecheck compare`: sections, or solved cases, side by side."""

from __future__ import annotations

import click

from framecheck.cli.named_sections import is_file, sections_named
from framecheck.cli.options import long_option, most_work, strict_option, units_option
from framecheck.cli.workshop import caution, read, screen_width, section_store, tell
from framecheck.output.display import Units
from framecheck.results.verdict import Verdict
from framecheck.study.compare import ComparedRow
from framecheck.units import units_of
from framecheck.value_class import value_class


@value_class
class Compared:
    """What is compared: its names, its rows, the verdicts of solved cases, and the units that it is written in."""

    names: tuple[str, ...]
    rows: tuple[ComparedRow, ...]
    written_in: Units
    verdicts: tuple[Verdict, ...] = ()


@click.command(name="compare", short_help="Two or more sections, or case files, side by side.")
@click.argument("things", nargs=-1, required=True, metavar="A B [...]")
@strict_option
@long_option
@units_option
def command(things: tuple[str, ...], is_strict: bool, units: Units | None) -> int:
    """Show each quantity of A, B ... and its ratio to A, and the same in words.

    A, B ...: sections of the library by name, sections of a case file as FILE:SECTION, or case files. Exit code of case files: that
    of `check`, the highest of them.
    """
    from framecheck.output.comparison import as_text, in_words
    from framecheck.output.text_table import wrapped
    from framecheck.output.wording import verdict_line

    if len(things) < 2:
        raise click.UsageError("give two or more sections, or two or more case files")
    found, width = cases(things) if all(map(is_file, things)) else sections(things), screen_width()
    shown_in = units or found.written_in
    verdicts = (f"{name}: {verdict_line(each)}" for name, each in zip(found.names, found.verdicts, strict=False))
    lines = (*verdicts, *in_words(found.names, found.rows, shown_in).splitlines())
    said = "\n".join(wrapped(line, width) for line in lines)
    tell(f"{said}\n\n{as_text(found.names, found.rows, shown_in, width)}\n\n{wrapped(caution(), width)}")
    return max((each.exit_code(is_strict) for each in found.verdicts), default=0)


def sections(things: tuple[str, ...]) -> Compared:
    """Return sections side by side."""
    from framecheck.section.analysis import section_properties
    from framecheck.study.compare import compare_sections

    store = section_store()
    found = [(words, section) for words in things for section in sections_named(words)]
    plain = [section.name for _, section in found]
    names = tuple(name if plain.count(name) == 1 else words for name, (words, _) in zip(plain, found, strict=True))
    rows = compare_sections([section_properties(section, store) for _, section in found])
    return Compared(names, rows, units_of(" ".join(things)) or Units.SI)


def cases(things: tuple[str, ...]) -> Compared:
    """Return solved cases side by side."""
    from framecheck.output.comparison import told_apart
    from framecheck.run import run
    from framecheck.study.compare import compare_results, stiffness_rows

    store, described = section_store(), [read(each) for each in things]
    results = [run(each, store, most_work()) for each in described]
    names = told_apart([each.title for each in described], things)
    rows = (*stiffness_rows(described, store), *compare_results(results))
    return Compared(names, rows, described[0].written_in, tuple(each.verdict for each in results))
