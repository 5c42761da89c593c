"""`framecheck check`: solve a case and say how it came out."""

from __future__ import annotations

import click

from framecheck.cli.files import write_folder, write_whole
from framecheck.cli.options import strict_option, units_option
from framecheck.cli.workshop import caution, read_with_origin, screen_width, section_store
from framecheck.output.display import Units
from framecheck.output.origin import Origin
from framecheck.run import Results, run


@click.command(name="check", short_help="Solve a case: what is missed, what is nearest to its limit, what is open.")
@click.argument("case")
@click.option("--full", "is_full", is_flag=True, help="Print every table, note and open entry after the first screen.")
@click.option("--json", "json_file", metavar="FILE", help="Write all results as JSON (SI); '-' for standard output.")
@click.option("--csv", "csv_folder", metavar="DIR", help="Write tables (SI, the unit in each heading) into a folder.")
@click.option("--quiet", "-q", is_flag=True, help="Print the verdict and what is worst, nothing else.")
@strict_option
@units_option
def command(
    case: str, is_full: bool, json_file: str | None, csv_folder: str | None, quiet: bool, is_strict: bool, units: Units | None
) -> int:
    """Solve CASE (a YAML file) and print the answer on one screen: the verdict, what is worst, each kind of check, what is open.

    Exit code: 0 every judged target is met (with --strict: and nothing is open), 1 a target missed, 2 bad input, 3 not judged.
    """
    described, origin = read_with_origin(case)
    results = run(described, section_store())
    if json_file is not None:
        from framecheck.output.json_text import as_json

        write_whole(json_file, as_json(results, caution(), origin))
    if csv_folder is not None:
        from framecheck.output.csv_text import as_csv

        write_folder(csv_folder, as_csv(results, caution(), origin))
    if json_file != "-":
        click.echo(_text(results, (quiet, is_full), units or described.written_in, origin))
    return results.verdict.exit_code(is_strict)


def _text(results: Results, how: tuple[bool, bool], units: Units, origin: Origin) -> str:
    """Return what is printed; how: quiet, full."""
    is_quiet, is_full = how
    if is_quiet:
        from framecheck.output.text_table import wrapped
        from framecheck.output.wording import answer

        return wrapped(f"{answer(results, units)} {caution()}", screen_width())
    if is_full:
        from framecheck.output.terminal import as_text

        return as_text(results, caution(), units, screen_width(), origin).rstrip("\n")
    from framecheck.output.first_screen import first_screen

    return first_screen(results, caution(), units, screen_width(), origin).rstrip("\n")
