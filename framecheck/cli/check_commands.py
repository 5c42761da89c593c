"""`framecheck check` and `framecheck report`: solve a case, say how it came out, or write it as one HTML file."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from framecheck.cli.context import caution, read_with_origin, screen_width, section_store
from framecheck.cli.files import read_text, write_folder, write_whole
from framecheck.cli.options import (
    force_option,
    long_option,
    most_work,
    page_name,
    require_library,
    second_opinion_option,
    strict_option,
    units_option,
)
from framecheck.cli.places import may_write, may_write_folder
from framecheck.errors import InputError, UnsolvableError
from framecheck.model.case import Case
from framecheck.output.display import Units, wrapped
from framecheck.output.first_screen import first_screen
from framecheck.output.terminal import as_text
from framecheck.output.wording import answer, verdict_line
from framecheck.results.verdict import Verdict
from framecheck.run import Results, prepare, run
from framecheck.value_class import value_class
from framecheck.versions import Origin, stamp

if TYPE_CHECKING:
    from framecheck.output.html_report.page import ReportExtras
    from framecheck.rig.sheet import Sheet
    from framecheck.study.second_opinion_section import SecondOpinion


@click.command(name="check", short_help="Solve a case: what is missed, what is nearest to its limit, what is open.")
@click.argument("case")
@click.option("--full", "is_full", is_flag=True, help="Print every table, note and open entry after the first screen.")
@click.option("--json", "json_file", metavar="FILE", help="Write all results as JSON (SI); '-' for standard output.")
@click.option("--csv", "csv_folder", metavar="DIR", help="Write tables (SI, the unit in each heading) into a folder.")
@click.option("--quiet", "-q", is_flag=True, help="Print the verdict and what is worst, nothing else.")
@second_opinion_option
@strict_option
@force_option
@long_option
@units_option
def check_command(
    case: str,
    is_full: bool,
    json_file: str | None,
    csv_folder: str | None,
    quiet: bool,
    is_asked_twice: bool,
    is_strict: bool,
    units: Units | None,
) -> int:
    """Solve CASE (a YAML file) and print the answer on one screen: the verdict, what is worst, each kind of check, what is open.

    --second-opinion has PyNiteFEA, an independent library, solve the same frame with rigid joints, and shows the largest differences.

    Exit code: 0 every judged target is met (with --strict: and nothing is open), 1 a target missed, or the second opinion differs,
    2 bad input, 3 not judged.
    """
    if is_asked_twice:
        require_library("PyNiteFEA")
    described, origin = read_with_origin(case)
    may_write(json_file)
    may_write_folder(csv_folder, json_file)
    results = run(described, section_store(), most_work())
    opinion = asked(results) if is_asked_twice else None
    drawn = None if described.as_drawn is None else run(described.as_drawn, section_store(), most_work())
    if json_file is not None:
        write_json(json_file, results, origin, (opinion, drawn))
    if csv_folder is not None:
        from framecheck.output.csv_text import as_csv

        write_folder(csv_folder, as_csv(results, caution(), origin))
    if json_file != "-":
        shown_in = units or described.written_in
        click.echo(_text(results, (quiet, is_full), shown_in, origin))
        if drawn is not None:
            click.echo("\n" + drawn_text(results, drawn))
        if opinion is not None:
            click.echo("\n" + opinion_text(opinion, shown_in))
    return results.verdict.exit_code(is_strict) or int(opinion is not None and not opinion.agrees)


def asked(results: Results) -> SecondOpinion:
    """Return the second opinion of a case's frame."""
    from framecheck.study.second_opinion_frame import opinion_of_frame

    return opinion_of_frame(results)


def opinion_text(opinion: SecondOpinion, units: Units) -> str:
    """Return a second opinion as it is printed."""
    from framecheck.output.comparison import second_opinion_text

    return second_opinion_text(opinion, units, screen_width())


def drawn_text(results: Results, drawn: Results) -> str:
    """Return the answer as measured beside the one as drawn."""
    from framecheck.output.as_measured_text import sentences, table_of
    from framecheck.output.test_sheet.text import shown

    said = (wrapped(line, screen_width()) for line in sentences(results, drawn))
    return "\n".join((*said, "", shown(table_of(results, drawn), screen_width())))


def write_json(file: str, results: Results, origin: Origin, beside: tuple[SecondOpinion | None, Results | None]) -> None:
    """Write all results as JSON, with the second opinion where one was asked for, and the answer as drawn where it was measured."""
    from framecheck.output.json_text import json_pieces

    more: dict[str, object] = {}
    opinion, drawn = beside
    if drawn is not None:
        from framecheck.output import as_measured_text

        more["as_drawn"] = as_measured_text.record(results, drawn)
    if opinion is not None:
        from framecheck.output.comparison import record

        more["second_opinion"] = record(opinion)
    write_whole(file, json_pieces(results, caution(), origin, more))


def _text(results: Results, how: tuple[bool, bool], units: Units, origin: Origin) -> str:
    """Return what is printed; how: quiet, full."""
    is_quiet, is_full = how
    if is_quiet:
        said = wrapped(f"{answer(results, units)} {caution()}", screen_width())
        return f"{said}\n{wrapped(stamp([origin]), screen_width())}"
    if is_full:
        whole = as_text(results, caution(), units, screen_width(), origin).rstrip("\n")
        return f"{whole}\n\n{wrapped(stamp([origin]), screen_width())}"
    return first_screen(results, caution(), units, screen_width(), origin).rstrip("\n")


@click.command(name="report", short_help="Write a report for an engineer and an inspector.")
@click.argument("cases", nargs=-1, required=True, metavar="CASE [CASE ...]")
@click.option(
    "--output", "-o", "file", metavar="FILE", required=True, callback=page_name,
    help="The HTML file to write; '-' for standard output.",
)
@click.option("--ratings", "is_rated", is_flag=True, help="Add how much the frame can take; takes some seconds more.")
@click.option("--full", "is_full", is_flag=True, help="Add an appendix: every table, forces on wheels and brackets, the case file.")
@click.option("--test", "rig", type=click.Choice(["torsion", "beaming"]),
              help="Add a test sheet: how to measure the frame, what dials should read; `framecheck test` has more rigs.")
@strict_option
@force_option
@long_option
@units_option
def report_command(
    cases: tuple[str, ...], file: str, is_rated: bool, is_full: bool, rig: str | None, is_strict: bool, units: Units | None
) -> int:
    """Solve CASE and write one HTML file: it opens offline, prints, and turns the frame in three dimensions.

    Two or more cases: one file that compares them. Exit code: that of `check`, the highest of several.
    """
    if len(cases) > 1 and (is_rated or is_full or rig):
        raise click.UsageError(f"{'--ratings' if is_rated else '--full' if is_full else '--test'} goes with one case")
    page, verdicts = one(cases[0], file, AlsoIn(is_rated, is_full, rig), units) if len(cases) == 1 else several(cases, file, units)
    write_whole(file, page)
    if file != "-":
        click.echo("\n".join((f"wrote {file}", *map(verdict_line, verdicts), caution())))
    return max(each.exit_code(is_strict) for each in verdicts)


@value_class
class AlsoIn:
    """What a report is asked to hold beside the answer; rig: of its test sheet, None: it has none."""

    is_rated: bool
    is_full: bool
    rig: str | None


def one(path: str, file: str, also: AlsoIn, units: Units | None) -> tuple[str, tuple[Verdict, ...]]:
    """Return the report of one case and its verdict; file: to which it is to be written."""
    from framecheck.output.html_report.page import as_html

    case, origin = read_with_origin(path)
    may_write(file)
    if also.is_rated:
        from framecheck.study.rate import refuse_long_ratings

        refuse_long_ratings(most_work(), prepare(case, section_store()), case)
    results = run(case, section_store(), most_work())
    more = replace(further(case, read_text(path)), is_full=also.is_full)
    more = with_ratings(more, case) if also.is_rated else more
    more = more if also.rig is None else replace(more, test=rig_sheet(case, also.rig))
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


def further(case: Case, text: str) -> ReportExtras:
    """Return what the report holds beside the results of the run: the file's text, the bare frame's stiffness."""
    from framecheck.output.html_report.page import ReportExtras
    from framecheck.study.frame_measures import points_of, stiffness_of

    if case.vehicle is None:
        return ReportExtras(text)
    try:
        return ReportExtras(text, stiffness=stiffness_of(case, points_of(case), section_store()))
    except (InputError, UnsolvableError) as error:
        return ReportExtras(text, stiffness_fault=f"Not measured: {error}")


def rig_sheet(case: Case, rig: str) -> Sheet:
    """Return the sheet of a test with a rig, as `framecheck test` proposes it."""
    from framecheck.rig.setup import AskedTest, RigKind
    from framecheck.rig.sheet import sheet_of

    return sheet_of(case.as_drawn or case, AskedTest(RigKind(rig)), section_store(), None)


def with_ratings(more: ReportExtras, case: Case) -> ReportExtras:
    """Return the same with ratings."""
    from framecheck.study.rate import ratings

    return replace(more, ratings=tuple(ratings(prepare(case, section_store()), case)))
