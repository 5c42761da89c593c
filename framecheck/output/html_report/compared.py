"""Two or more solved cases on one page: side by side, then each by itself in short."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.output.charts.diagrams import compared_chart
from framecheck.output.charts.svg import SvgSheet
from framecheck.output.comparison import asked_words, in_words, line, told_apart
from framecheck.output.display import Units, factor, number
from framecheck.output.html_report import check_tables, inputs, tables
from framecheck.output.html_report.environment import environment, source
from framecheck.output.html_report.figures import WIDE, Drawing, inline
from framecheck.output.html_report.page import page_script, script_hash
from framecheck.output.html_report.paged import page_rules
from framecheck.output.html_report.scene import scene_json
from framecheck.output.html_report.tables import NONE, HtmlTable, numbers, words
from framecheck.output.terminal import notes, open_sentence
from framecheck.output.wording import answer
from framecheck.run import Results
from framecheck.study.compare import ComparedRow
from framecheck.value_class import value_class
from framecheck.versions import UNKNOWN, Origin, stamp


@value_class
class ComparedCase:
    """One case in short. letter: how the tables call it; tables: shown in this order."""

    letter: str
    title: str
    origin: str
    about: str
    answer: str
    left_open: str
    tables: tuple[HtmlTable, ...]
    notes: tuple[str, ...]
    remarks: tuple[tuple[str, str], ...]


def as_html(
    results: Sequence[Results],
    rows: Sequence[ComparedRow],
    caution: str,
    units: Units = Units.SI,
    origins: Sequence[Origin] = (),
) -> str:
    """Return the report that compares solved cases as one HTML file. rows: of study/compare, in the order of the cases."""
    origins = origins or [UNKNOWN] * len(results)
    titles = told_apart([each.outcome.case.title for each in results], [each.file for each in origins])
    letters = letters_for(len(results))
    names = [f"{letter} ({title})" for letter, title in zip(letters, titles, strict=True)]
    title = f"{len(results)} frames compared"
    by_case = [row for row in rows if row.load_case is not None]
    has_view = len(results) == 2
    script = page_script(has_view)
    page: str = (
        environment()
        .get_template("compared.html")
        .render(
            caution=caution,
            title=title,
            key=tuple(zip(letters, titles, strict=True)),
            said=in_words(names, rows, units).splitlines(),
            chart=chart(letters, by_case) if by_case else None,
            factors=factor_table(letters, by_case),
            quantities=quantity_table(letters, [row for row in rows if row not in by_case], units),
            parts=tuple(part(*each, units) for each in zip(letters, results, origins, strict=True)),
            style=source("report.css") + page_rules(title, origins, units),
            script=script,
            script_hash=script_hash(script),
            scene=scene_json(list(zip(letters, results, strict=True)), units) if has_view else "",
        )
    )
    return page


def letters_for(count: int) -> list[str]:
    """Return A, B ... Z, then AA, AB ... for so many cases."""
    alphabet = [chr(ord("A") + i) for i in range(26)]
    return [*alphabet, *(first + second for first in alphabet for second in alphabet)][:count]


def chart(letters: Sequence[str], rows: Sequence[ComparedRow]) -> Drawing:
    """Return the bars of safety factors side by side."""
    title = "Lowest safety factor of each load case that all have"
    sheet = SvgSheet((compared_chart(letters, rows),), 1, WIDE, 96 + (8 + 15 * len(letters)) * len(rows))
    return inline(sheet, "compared", title, "All numbers are in the table below.")


def factor_table(letters: Sequence[str], rows: Sequence[ComparedRow]) -> HtmlTable:
    """Return safety factors by load case with their ratios to the first case."""
    body = tuple(
        (
            row.load_case or row.name,
            asked_words(row),
            *(NONE if value is None else factor(value) for value in row.values),
            *(NONE if ratio is None else number(ratio, 3) for ratio in row.ratios[1:]),
        )
        for row in rows
    )
    headings = (*words("load case"), *numbers("asked"), *numbers(*letters, *(f"{letter}/{letters[0]}" for letter in letters[1:])))
    return HtmlTable("Lowest safety factor of each load case", headings, body)


def quantity_table(letters: Sequence[str], rows: Sequence[ComparedRow], units: Units) -> HtmlTable:
    """Return the other quantities, each with its unit and its ratios to the first case."""
    body = tuple(tuple(line(row, units)) for row in rows)
    ratios = (f"{letter}/{letters[0]}" for letter in letters[1:])
    return HtmlTable("Side by side", (*words("quantity", "unit"), *numbers(*letters, *ratios)), body)


def part(letter: str, results: Results, origin: Origin, units: Units) -> ComparedCase:
    """Return one case in short: what governs, load cases, members, joints, sections."""
    case = results.outcome.case
    return ComparedCase(
        letter,
        case.title,
        stamp([origin]) if origin.file else "",
        case.about,
        answer(results, units),
        open_sentence(results.outcome.solutions),
        (
            tables.load_cases(results, units),
            tables.members(results, units),
            check_tables.joints(results, units),
            inputs.sections(results, units),
            inputs.ends(results, units),
        ),
        tuple(notes(results, units)),
        tuple(tables.remarks(results)),
    )
