"""`framecheck check`: solve a case and say what governs."""

from __future__ import annotations

import click

from framecheck.cli.files import write_folder, write_whole
from framecheck.cli.options import units_option
from framecheck.cli.workshop import caution, read, screen_width, section_store
from framecheck.output.display import Units
from framecheck.results.row import Grade
from framecheck.run import Results, run
from framecheck.vehicle.clearance import CLEAR


@click.command(name="check", short_help="Solve a case: safety factors, deflections, what governs.")
@click.argument("case")
@click.option("--json", "json_file", metavar="FILE", help="Write all results as JSON (SI); '-' for standard output.")
@click.option("--csv", "csv_folder", metavar="DIR", help="Write tables (SI, the unit in each heading) into a folder.")
@click.option("--quiet", "-q", is_flag=True, help="Print the one sentence that answers, nothing else.")
@units_option
def command(case: str, json_file: str | None, csv_folder: str | None, quiet: bool, units: Units) -> int:
    """Solve CASE (a YAML file) and print what governs: load cases, members, clearances, masses, what was not checked.

    Exit code: 0 every target met, 1 a target missed, 2 bad input, 3 cannot be solved.
    """
    results = run(read(case), section_store())
    if json_file is not None:
        from framecheck.output.json_text import as_json

        write_whole(json_file, as_json(results, caution()))
    if csv_folder is not None:
        from framecheck.output.csv_text import as_csv

        write_folder(csv_folder, as_csv(results, caution()))
    if json_file != "-":
        click.echo(_text(results, quiet, units))
    return exit_code(results)


def _text(results: Results, quiet: bool, units: Units) -> str:
    from framecheck.output.terminal import as_text, governing_sentence, wrapped

    if quiet:
        return wrapped(f"{governing_sentence(results, units)} {caution()}", screen_width())
    return as_text(results, caution(), units, screen_width()).rstrip("\n")


def exit_code(results: Results) -> int:
    """Return 0 where every target is met and every gap is left, else 1."""
    missed = any(row.grade is Grade.LOW for row in results.rows)
    return 1 if missed or any(gap.verdict != CLEAR for gap in results.gaps) else 0
