"""An answer as measured beside the one as drawn: a sentence, a table, JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from framecheck.output.display import Units, factor, with_unit
from framecheck.output.html_report.tables import HtmlTable, numbers, words
from framecheck.output.wording import verdict_line
from framecheck.results.as_measured import Beside, beside
from framecheck.run import Results
from framecheck.study.rate import Rating

NONE = "-"


def table_of(results: Results, drawn: Results) -> HtmlTable:
    """Return the worst of each kind of check, as drawn and as measured."""
    rows = tuple(line(each) for each in beside(results.rows, drawn.rows))
    headings = (*words("kind", "where", "load case"), *numbers("as drawn", "as measured"))
    return HtmlTable("Safety factors as drawn and as measured", headings, rows)


def line(each: Beside) -> tuple[str, ...]:
    """Return one kind of check."""
    row = each.measured
    before = NONE if each.drawn is None else factor(each.drawn.safety_factor)
    return row.check.words, row.where, row.load_case or "", before, factor(row.safety_factor)


def sentences(results: Results, drawn: Results) -> Sequence[str]:
    """Return how the verdict moved, and the factor of what governs."""
    found = beside(results.rows, drawn.rows)
    said = [f"As drawn: {verdict_line(drawn.verdict)}", f"As measured: {verdict_line(results.verdict)}"]
    first = next((each for each in found if each.measured is results.governing), None)
    if first is not None and first.drawn is not None:
        row = first.measured
        where = f" in '{row.load_case}'" if row.load_case else ""
        said.append(
            f"{row.check.words[:1].upper()}{row.check.words[1:]} of {row.where}{where}: factor {factor(first.drawn.safety_factor)} "
            f"as drawn, {factor(row.safety_factor)} as measured."
        )
    return said


def record(results: Results, drawn: Results) -> dict[str, Any]:
    """Return the answer as drawn as plain values."""
    return {
        "verdict_as_drawn": drawn.verdict.state.value,
        "checks": [
            {"check": each.measured.check.words, "where": each.measured.where, "load_case": each.measured.load_case,
             "safety_factor_as_drawn": None if each.drawn is None else finite(each.drawn.safety_factor),
             "safety_factor_as_measured": finite(each.measured.safety_factor)}
            for each in beside(results.rows, drawn.rows)
        ],
    }  # fmt: skip


def ratings_table(drawn: Sequence[Rating], measured: Sequence[Rating], units: Units) -> HtmlTable:
    """Return how much of each load meets the target, as drawn and as measured."""
    by = {(each.load.name, each.load_case): each for each in drawn}
    rows = tuple((each.load.name, most(by.get((each.load.name, each.load_case)), units), most(each, units)) for each in measured)
    return HtmlTable("Meets the target, as drawn and as measured", (*words("load"), *numbers("as drawn", "as measured")), rows)


def most(rating: Rating | None, units: Units) -> str:
    """Return the largest value of a load that meets the target."""
    if rating is None or rating.meets_target.value is None:
        return NONE
    return with_unit(rating.meets_target.value, rating.load.quantity, units)


def finite(value: float) -> float | None:
    """Return a number, None for one without end."""
    return value if value < 1e12 else None
