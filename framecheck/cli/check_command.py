"""`framecheck check`: solve a case and say how it came out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from framecheck.cli.files import may_write, write_folder, write_whole
from framecheck.cli.options import force_option, long_option, most_work, strict_option, units_option
from framecheck.cli.second_opinion import require_library, second_opinion_option
from framecheck.cli.workshop import caution, read_with_origin, screen_width, section_store
from framecheck.output.display import Units
from framecheck.output.origin import Origin, stamp
from framecheck.run import Results, run

if TYPE_CHECKING:
    from framecheck.study.second_opinion.opinion import SecondOpinion


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
def command(
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

    Exit code: 0 every judged target is met (with --strict: and nothing is open), 1 a target missed, 2 bad input, 3 not judged.
    """
    if is_asked_twice:
        require_library("PyNiteFEA")
    described, origin = read_with_origin(case)
    may_write(json_file)
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
    return results.verdict.exit_code(is_strict)


def asked(results: Results) -> SecondOpinion:
    """Return the second opinion of a case's frame."""
    from framecheck.study.second_opinion.frame import opinion_of_frame

    return opinion_of_frame(results)


def opinion_text(opinion: SecondOpinion, units: Units) -> str:
    """Return a second opinion as it is printed."""
    from framecheck.output.second_opinion import as_text

    return as_text(opinion, units, screen_width())


def drawn_text(results: Results, drawn: Results) -> str:
    """Return the answer as measured beside the one as drawn."""
    from framecheck.output.as_measured_text import sentences, table_of
    from framecheck.output.test_sheet.text import shown
    from framecheck.output.text_table import wrapped

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
        from framecheck.output.second_opinion import record

        more["second_opinion"] = record(opinion)
    write_whole(file, json_pieces(results, caution(), origin, more))


def _text(results: Results, how: tuple[bool, bool], units: Units, origin: Origin) -> str:
    """Return what is printed; how: quiet, full."""
    is_quiet, is_full = how
    if is_quiet:
        from framecheck.output.text_table import wrapped
        from framecheck.output.wording import answer

        said = wrapped(f"{answer(results, units)} {caution()}", screen_width())
        return f"{said}\n{wrapped(stamp([origin]), screen_width())}"
    if is_full:
        from framecheck.output.terminal import as_text
        from framecheck.output.text_table import wrapped

        whole = as_text(results, caution(), units, screen_width(), origin).rstrip("\n")
        return f"{whole}\n\n{wrapped(stamp([origin]), screen_width())}"
    from framecheck.output.first_screen import first_screen

    return first_screen(results, caution(), units, screen_width(), origin).rstrip("\n")
