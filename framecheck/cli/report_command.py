"""`framecheck report`: one HTML file for an engineer and an inspector."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from framecheck.cli.files import may_write, read_text, write_whole
from framecheck.cli.options import force_option, long_option, most_work, strict_option, units_option
from framecheck.cli.workshop import caution, read_with_origin, section_store
from framecheck.errors import InputError, UnsolvableError
from framecheck.model.case import Case
from framecheck.output.display import Units
from framecheck.output.wording import verdict_line
from framecheck.results.verdict import Verdict
from framecheck.run import prepare, run

if TYPE_CHECKING:
    from framecheck.output.html_report.page import Further


@click.command(name="report", short_help="Write a report for an engineer and an inspector.")
@click.argument("cases", nargs=-1, required=True, metavar="CASE [CASE ...]")
@click.option(
    "--output", "-o", "file", metavar="FILE", required=True, help="The HTML file to write; '-' for standard output."
)
@click.option("--ratings", "is_rated", is_flag=True, help="Add how much the frame can take; takes some seconds more.")
@strict_option
@force_option
@long_option
@units_option
def command(cases: tuple[str, ...], file: str, is_rated: bool, is_strict: bool, units: Units | None) -> int:
    """Solve CASE and write one HTML file: it opens offline, prints, and turns the frame in three dimensions.

    Two or more cases: one file that compares them. Exit code: that of `check`, the highest of several.
    """
    if len(cases) > 1 and is_rated:
        raise click.UsageError("--ratings goes with one case")
    page, verdicts = one(cases[0], file, is_rated, units) if len(cases) == 1 else several(cases, file, units)
    write_whole(file, page)
    if file != "-":
        click.echo("\n".join((f"wrote {file}", *map(verdict_line, verdicts), caution())))
    return max(each.exit_code(is_strict) for each in verdicts)


def one(path: str, file: str, is_rated: bool, units: Units | None) -> tuple[str, tuple[Verdict, ...]]:
    """Return the report of one case and its verdict; file: to which it is to be written."""
    from framecheck.output.html_report.page import as_html

    case, origin = read_with_origin(path)
    may_write(file)
    results = run(case, section_store(), most_work())
    more = further(case, read_text(path))
    more = with_ratings(more, case) if is_rated else more
    if case.as_drawn is not None:
        more = replace(more, drawn=run(case.as_drawn, section_store(), most_work()))
    shown_in = units or case.written_in
    return as_html(results, caution(), shown_in, more, origin), (results.verdict,)


def several(paths: tuple[str, ...], file: str, units: Units | None) -> tuple[str, tuple[Verdict, ...]]:
    """Return the report that compares cases, and their verdicts."""
    from framecheck.output.html_report.compared import as_html
    from framecheck.study.compare import compare_results, stiffness_rows

    store, found = section_store(), [read_with_origin(path) for path in paths]
    may_write(file)
    described, origins = [case for case, _ in found], [origin for _, origin in found]
    results = [run(each, store, most_work()) for each in described]
    rows = (*stiffness_rows(described, store), *compare_results(results))
    page = as_html(results, rows, caution(), units or described[0].written_in, origins)
    return page, tuple(each.verdict for each in results)


def further(case: Case, text: str) -> Further:
    """Return what the report holds beside the results of the run: the file's text, the bare frame's stiffness."""
    from framecheck.output.html_report.page import Further
    from framecheck.study.stiffness import points_of, stiffness_of

    if case.vehicle is None:
        return Further(text)
    try:
        return Further(text, stiffness=stiffness_of(case, points_of(case), section_store()))
    except (InputError, UnsolvableError) as error:
        return Further(text, stiffness_fault=f"Not measured: {error}")


def with_ratings(more: Further, case: Case) -> Further:
    """Return the same with ratings."""
    from framecheck.study.rate import ratings

    return replace(more, ratings=tuple(ratings(prepare(case, section_store()), case)))
