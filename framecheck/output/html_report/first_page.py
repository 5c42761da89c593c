"""The report's first page, complete by itself: the answer, what is missed, a picture, every kind of check, what is open."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.output.charts.frame_chart import Pictured, frame_chart, key_words, own_scale
from framecheck.output.charts.room import Pixels
from framecheck.output.charts.svg import SvgSheet
from framecheck.output.display import Units
from framecheck.output.html_report.figures import WIDE, Drawing, inline
from framecheck.output.html_report.finding_page import LookedAt, case_drawn, spot_of
from framecheck.output.html_report.paged import SHOWN_IN
from framecheck.output.html_report.tables import HtmlTable, shown
from framecheck.output.wording import (
    accepted_lines,
    case_words,
    first_words,
    how_words,
    near_words,
    open_briefly,
    percent,
    ringed_words,
    thing_words,
    verdict_line,
    without,
)
from framecheck.results.places import found_at
from framecheck.results.row import Kind
from framecheck.results.subjects import Question
from framecheck.results.summary import Near
from framecheck.results.tables import ResultTable, Value, kinds_table
from framecheck.results.verdict import State
from framecheck.run import Results
from framecheck.value_class import value_class
from framecheck.versions import Origin, stamp

MOST_MISSED, FEW_MISSED, LONGEST = 5, 3, 140
"""So many have room on the page, and on a crowded one, each in so many letters; further on stands all."""
LEAST_REASON = 50
"""Letters of what is open that stay however long its remedy is."""
LEAST_OPEN, MOST_OPEN, LINES = 1, 14, 27
"""Groups of what is open that are told at least and at most, and the lines that they share with all else."""
CROWDED = 22.0
"""Lines of what is missed and of kinds of check from which the picture is smaller."""
HIGH = 280.0
USED = (
    "Safety factor: what it can bear over what it bears; dynamic factors are in the loads. Used: the factor asked over it; over 100 % "
    "is LOW, missed. Kink: a corner in a member. Permanent set: a bend that stays. Face: the tube's wall that another tube meets."
)
SO_FAR = " So far: nothing that was judged is missed; what stands under Open was not judged."
"""What the page by itself must explain (glossary.py has more)."""


@value_class
class FirstPage:
    """What the page shows. missed: by name; drawn: None where nothing can be drawn; picture_said: why another load case is drawn.

    is_crowded: the picture must be small; words: what the table means.
    """

    stamp: str
    about: str
    verdict: str
    is_met: bool
    answer: str
    load_source: str
    missed: tuple[str, ...]
    drawn: Drawing | None
    picture_said: str
    is_crowded: bool
    kinds: HtmlTable
    words: str
    open: tuple[str, ...]
    accepted: tuple[str, ...]


def first_page(results: Results, units: Units, origin: Origin) -> FirstPage:
    """Return the page."""
    is_judged = results.verdict.state is not State.NOT_JUDGED
    spot = None if results.governing is None or not is_judged else spot_of(results, results.governing)
    low = min(len(results.verdict.missed), MOST_MISSED + 1)
    table = shown(placed(kinds_table(results.outcome.case.frame, results.rows if is_judged else ()), units), units)
    accepted = tuple(accepted_lines(results.verdict))
    is_crowded = len(table.rows) + 1.8 * low > CROWDED
    return FirstPage(
        f"{stamp([origin]) if origin.file else stamp([])}; shown in {SHOWN_IN[units]}",
        results.outcome.case.about,
        verdict_line(results.verdict),
        results.verdict.is_met,
        first_words(results, units),
        load_source(results) if is_judged else "",
        tuple(missed(results, FEW_MISSED if is_crowded else MOST_MISSED)),
        None if spot is None else picture(results, spot, units),
        "" if spot is None else case_drawn(results.outcome, spot.row, spot.case),
        is_crowded,
        table,
        f"{USED}{SO_FAR if results.verdict.state is State.MET_SO_FAR else ''}",
        tuple(open_now(results, units, room_for(len(table.rows), low, len(accepted)))),
        accepted,
    )


def load_source(results: Results) -> str:
    """Return where the size of the governing load comes from; "" where what governs holds in all load cases or in a sum of some."""
    name = None if results.governing is None else results.governing.load_case
    load_case = next((each for each in results.outcome.case.load_cases if each.name == name), None)
    known = None if load_case is None else load_case.least_known
    if known is not None:
        return f"Source of the governing load, {known[0]} of '{name}': {known[1].source}."
    is_written = results.outcome.case.vehicle is None and name in [loads.name for loads in results.outcome.loads]
    return f"Source of the governing load, '{name}': written in the case file, force by force." if is_written else ""


def placed(table: ResultTable, units: Units) -> ResultTable:
    """Return a table with the nearest point beside the thing, in one column: a page has room for few."""
    keys = [column.key for column in table.columns]
    where, near = keys.index("where"), keys.index("near")
    rows = (tuple(place(row[where], row[near], units) if n == where else each for n, each in enumerate(row)) for row in table.rows)
    return without(ResultTable(table.name, table.caption, table.columns, tuple(rows)), "station_m", "near")


def place(where: Value, near: Value, units: Units) -> str:
    """Return a thing with the point nearest to the place on it."""
    return f"{where} {near_words(near, units)}" if isinstance(near, Near) else str(where)


def missed(results: Results, most: int) -> Iterator[str]:
    """Yield what is missed by name, the worst first, at most so many, and how many more are."""
    low = results.verdict.missed
    for row in low[:most]:
        used = "" if row.kind is Kind.CLEARANCE else f", {percent(row.used)} used"
        yield f"{thing_words(row)}: {how_words(row)}{case_words(row)}{used}"
    if len(low) > most:
        yield f"and {len(low) - most} more: the table below has the worst of each kind, the next page all"


def room_for(kinds: int, low: int, accepted: int) -> int:
    """Return how many groups of what is open have room beside so many kinds of check, lines of what is missed and of what is accepted:
    the place to sign is on the same page.
    """
    return max(LEAST_OPEN, min(MOST_OPEN, round(LINES - kinds - 1.8 * low - 3 * accepted)))


def open_now(results: Results, units: Units, most: int) -> Iterator[str]:
    """Yield what is open in a line a group, what was taken by default first; at most so many."""
    groups = results.verdict.ledger.groups
    lines = list(open_briefly(results.verdict, units, len(groups)))
    by_default = [line for group, line in zip(groups, lines, strict=True) if group.question is Question.UNSAID]
    others = [line for group, line in zip(groups, lines, strict=True) if group.question is not Question.UNSAID]
    lines = [*by_default, *others]
    yield from (with_remedy(what, remedy, LONGEST) for what, remedy in lines[:most])
    if len(lines) > most:
        yield f"and {len(lines) - most} more groups: all stand by name under 'What stands behind it'"


def with_remedy(what: str, remedy: str, most: int) -> str:
    """Return what is open and its remedy in about so many letters: the reason is shortened between words, the remedy never."""
    if len(what) + len(remedy) < most:
        return f"{what} {remedy}"
    words = what[: max(most - len(remedy) - 5, LEAST_REASON)].split(" ")[:-1]
    return f"{' '.join(words).rstrip(',;:')}...; {remedy}"


def picture(results: Results, spot: LookedAt, units: Units) -> Drawing:
    """Return the frame in the load case that governs, or that uses most where what governs lies; the worst place ringed."""
    outcome, row = results.outcome, spot.row
    worst = found_at(outcome, row, spot.bound, spot.case)
    said = ringed_words(row, units)
    times = own_scale(outcome, spot.bound, spot.case)
    chart = frame_chart(outcome, Pictured(spot.bound, spot.case, times, worst, said), units, Pixels(WIDE, HIGH))
    where = "the worst place ringed" if worst is not None else f"{thing_words(row)} governs and has no one place"
    title = f"The frame in '{outcome.loads[spot.case].name}', {where}; {key_words(outcome, spot.bound)}"
    return inline(SvgSheet((chart,), 1, WIDE, HIGH), "still", title, "The table below gives the numbers.")
