"""`framecheck compare`, `stiffness`, `modes` and `rate`: cases side by side, and what a frame is beyond one check."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from framecheck.cli.context import caution, is_file, picture, read, screen_width, section_store, sections_named, tell
from framecheck.cli.figures import figure_kind
from framecheck.cli.files import write_whole
from framecheck.cli.options import force_option, long_option, most_work, strict_option, units_option
from framecheck.cli.places import may_write
from framecheck.cli.section_places import worked_out
from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.case import Case
from framecheck.output.as_measured_text import ratings_table
from framecheck.output.comparison import comparison_text, in_words, told_apart
from framecheck.output.display import Units, wrapped
from framecheck.output.frame_study_text import stiffness_text
from framecheck.output.rating_text import rating_text
from framecheck.output.wording import verdict_line
from framecheck.results.verdict import Verdict
from framecheck.run import prepare, run, solved
from framecheck.study.body import body_answers
from framecheck.study.compare import ComparedRow, compare_results, compare_sections, stiffness_rows
from framecheck.study.frame_measures import given_points, points_of, stiffness_of
from framecheck.study.rate import ratings, refuse_long_ratings
from framecheck.units import units_of
from framecheck.value_class import value_class
from framecheck.work import refuse_beyond

if TYPE_CHECKING:
    from framecheck.study.rate import Rating


@value_class
class Comparison:
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
def compare_command(things: tuple[str, ...], is_strict: bool, units: Units | None) -> int:
    """Show each quantity of A, B ... and its ratio to A, and the same in words.

    A, B ...: sections of the library by name, sections of a case file as FILE:SECTION, or case files. Exit code of case files: that
    of `check`, the highest of them.
    """
    if len(things) < 2:
        raise click.UsageError("give two or more sections, or two or more case files")
    found, width = cases(things) if all(map(is_file, things)) else sections(things), screen_width()
    shown_in = units or found.written_in
    verdicts = (f"{name}: {verdict_line(each)}" for name, each in zip(found.names, found.verdicts, strict=False))
    lines = (*verdicts, *in_words(found.names, found.rows, shown_in).splitlines())
    said = "\n".join(wrapped(line, width) for line in lines)
    tell(f"{said}\n\n{comparison_text(found.names, found.rows, shown_in, width)}\n\n{wrapped(caution(), width)}")
    return max((each.exit_code(is_strict) for each in found.verdicts), default=0)


def sections(things: tuple[str, ...]) -> Comparison:
    """Return sections side by side."""
    store = section_store()
    found = [(words, section) for words in things for section in sections_named(words)]
    plain = [section.name for _, section in found]
    names = tuple(name if plain.count(name) == 1 else words for name, (words, _) in zip(plain, found, strict=True))
    rows = compare_sections([worked_out(words, section, store) for words, section in found])
    return Comparison(names, rows, units_of(" ".join(things)) or Units.SI)


def cases(things: tuple[str, ...]) -> Comparison:
    """Return solved cases side by side."""
    store, described = section_store(), [read(each) for each in things]
    results = [run(each, store, most_work()) for each in described]
    names = told_apart([each.title for each in described], things)
    rows = (*stiffness_rows(described, store), *compare_results(results))
    return Comparison(names, rows, described[0].written_in, tuple(each.verdict for each in results))


Pair = tuple[str, str]


@click.command(name="stiffness", short_help="Torsional, bending and lateral stiffness; which members give.")
@click.argument("case")
@click.option("--front", nargs=2, metavar="LEFT RIGHT", help="Frame points of the front axle, if not the vehicle's.")
@click.option("--rear", nargs=2, metavar="LEFT RIGHT", help="Frame points of the rear axle, if not the vehicle's.")
@click.option("--figure", metavar="FILE", help="Write the twist curve as .png, .svg or .pdf.")
@force_option
@units_option
def stiffness_command(case: str, front: Pair | None, rear: Pair | None, figure: str | None, units: Units | None) -> int:
    """Twist and bend the bare frame of CASE between its axles: stiffness, twist along it, share of each member."""
    kind = None if figure is None else figure_kind(figure, "--figure")
    described = read(case)
    may_write(figure)
    shown_in = units or described.written_in
    found = measured(described, front, rear)
    body = body_answers(described, section_store())
    if figure is not None and kind is not None:
        from framecheck.output.charts.figures import twist_figure

        write_whole(figure, twist_figure(found, picture(kind), shown_in))
    tell(stiffness_text(described.title, found, caution(), shown_in, screen_width(), body))
    return 0


def measured(case: Case, front: Pair | None, rear: Pair | None) -> tuple[FrameStiffness, ...]:
    """Return the stiffness between the points asked for, else between the vehicle's axles."""
    if (front is None) != (rear is None):
        raise click.UsageError("--front and --rear go together")
    points = points_of(case) if front is None or rear is None else given_points(case, front, rear)
    return stiffness_of(case, points, section_store())


@click.command(name="modes", short_help="First natural frequencies, bare, loaded and on the wheels.")
@click.argument("case")
@click.option("--count", type=click.IntRange(1, 40), default=6, show_default=True, help="How many of each.")
@units_option
def modes_command(case: str, count: int, units: Units | None) -> int:
    """Find the first natural frequencies of the frame of CASE: bare, with its masses, on its wheels where rates are known."""
    from framecheck.output.modes_text import modes_text
    from framecheck.study.modes import modes_of

    described = read(case)
    found = modes_of(described, section_store(), count)
    tell(modes_text(described.title, found, caution(), units or described.written_in, screen_width()))
    return 0


@click.command(name="rate", short_help="How much torque, g, curb speed, payload the frame can take.")
@click.argument("case")
@strict_option
@long_option
@units_option
def rate_command(case: str, is_strict: bool, units: Units | None) -> int:
    """Raise one load of CASE at a time: the largest that meets the target, the largest before yield, what governs.

    Exit code: that of `check`; 1 also where a rating is less than the load in the case.
    """
    described = read(case)
    prepared = prepare(described, section_store())
    refuse_beyond(most_work(), described, prepared.structures)
    refuse_long_ratings(most_work(), prepared, described)
    verdict = solved(prepared, described).verdict
    found = tuple(ratings(prepared, described))
    tell(rating_text(described, found, caution(), units or described.written_in, screen_width(), verdict))
    if described.as_drawn is not None:
        tell(drawn_text(described.as_drawn, found, units or described.written_in))
    return max(verdict.exit_code(is_strict), 1 if any(each.misses for each in found) else 0)


def drawn_text(drawn: Case, found: tuple[Rating, ...], units: Units) -> str:
    """Return the ratings as drawn beside those as measured."""
    from framecheck.output.test_sheet.text import shown

    return shown(ratings_table(tuple(ratings(prepare(drawn, section_store()), drawn)), found, units), screen_width())
