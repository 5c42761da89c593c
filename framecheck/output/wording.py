"""Values of tables as words, and what rows, ledger and verdict say as sentences: the same on every screen and page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil, degrees

from framecheck.model.case import Confidence
from framecheck.model.frame import Frame
from framecheck.model.said import Said
from framecheck.output.display import Units, bare, factor, number, shown_unit, spoken, with_unit
from framecheck.results.cautions import LargeMovement, WayOfMoving, from_memory, large_movements
from framecheck.results.ledger import NOTHING_JUDGED, OpenGroup
from framecheck.results.row import CheckResult, Grade, Kind
from framecheck.results.subjects import Question
from framecheck.results.summary import Near, near_row
from framecheck.results.tables import Column, ResultTable, Scope, Value
from framecheck.results.verdict import State, Verdict
from framecheck.run import Results
from framecheck.vehicle.clearance import GapState

NONE = "-"
NOISE = {"deflection": 1e-9, "station": 1e-7, "mass": 1e-9}
"""What is smaller is rounding, and shown as 0; SI."""


def cell(value: Value, column: Column, units: Units) -> str:
    """Return one value as shown."""
    if value is None or (isinstance(value, tuple) and not value):
        return NONE
    if isinstance(value, (Grade, GapState, Scope)):
        return str(value.value)
    if isinstance(value, Said):
        return spoken(value, units)
    if isinstance(value, Near):
        return near_words(value, units)
    if isinstance(value, tuple):
        return " ".join(side.value for side in value)
    if isinstance(value, str):
        return value
    return amount(value, column.quantity, units)


def amount(value: float, quantity: str, units: Units) -> str:
    """Return a number as its quantity is shown; shares in per cent, rounded up so that they never look better than they are."""
    if quantity == "share":
        return percent(value)
    if quantity == "factor":
        return factor(value)
    shown = 0.0 if abs(value) < NOISE.get(quantity, 0.0) else value
    if quantity == "station":
        return station_text(shown, units)
    return bare(shown, quantity, units)


def station_text(station: float, units: Units) -> str:
    """Return a length along a member: whole millimetres, or tenths of an inch."""
    size = shown_unit("station", units).size
    return f"{station / size:.0f}" if units is Units.SI else f"{station / size:.1f}"


def percent(share: float) -> str:
    """Return a share in whole per cent, rounded up."""
    return ">9999 %" if share >= 99.99 else f"{ceil(100 * share - 1e-6)} %"


def near_words(near: Near, units: Units) -> str:
    """Return a place by its nearest named point: "at left front arm front", "120 mm behind left spring eye"."""
    if near.way is None:
        return f"at {near.point}"
    unit = shown_unit("station", units)
    return f"{number(near.distance / unit.size, 3)} {unit.label} {near.way.value} {near.point}"


def heading(column: Column, units: Units) -> str:
    """Return a column's heading with the unit in which it is shown."""
    if column.quantity in ("", "share", "factor", "near", "sides"):
        return column.heading
    return f"{column.heading}, {shown_unit(column.quantity, units).label}"


def is_number(column: Column) -> bool:
    """Return whether the cells of a column are numbers, which stand right."""
    return column.quantity not in ("", "near", "sides")


def texts(table: ResultTable, units: Units) -> tuple[tuple[str, ...], ...]:
    """Return the cells of a table as shown."""
    return tuple(
        tuple(cell(value, column, units) for value, column in zip(row, table.columns, strict=True))
        for row in table.rows
    )


def without(table: ResultTable, *keys: str) -> ResultTable:
    """Return a table without some columns, where there is no room for them."""
    kept = [number for number, column in enumerate(table.columns) if column.key not in keys]
    rows = tuple(tuple(row[number] for number in kept) for row in table.rows)
    return ResultTable(table.name, table.caption, tuple(table.columns[number] for number in kept), rows)


NOT_COUNTED = frozenset((
    Question.YIELD, Question.LOCAL_BUCKLING, Question.MEMBER_BUCKLING, Question.DISTORTION, Question.PERMANENT_SET,
    Question.FRAME_BUCKLING, Question.FATIGUE,
))  # fmt: skip
"""Questions whose name is not that of things which can be counted."""


def verdict_line(verdict: Verdict) -> str:
    """Return how a case came out, with the counts."""
    groups = len(verdict.ledger.groups)
    still = f"{groups} {'group is' if groups == 1 else 'groups are'} open" if groups else "nothing is open"
    match verdict.state:
        case State.NOT_JUDGED:
            return f"NOT JUDGED: {verdict.because}; {still}."
        case State.NOT_MET:
            count = len(verdict.missed)
            return f"NOT MET: {count} of {verdict.judged} judged {'is' if count == 1 else 'are'} missed; {still}."
        case State.MET_SO_FAR:
            return f"MET SO FAR: none of {verdict.judged} judged is missed; {still}."
        case State.MET:
            return f"MET: every target is met, {verdict.judged} judged; {still}."


def answer(results: Results, units: Units) -> str:
    """Return the verdict and what is worst, in two or three sentences."""
    return f"{verdict_line(results.verdict)} {first_words(results, units)}".rstrip()


def first_words(results: Results, units: Units) -> str:
    """Return what is worst, where its load comes from, and what limits the answer, in sentences; "" where nothing was judged."""
    row = results.governing
    if row is None or results.verdict.state is State.NOT_JUDGED:
        return ""
    moved = movement_sentences(large_movements(results.outcome))
    known = (*load_words(results, row), *memory_words(results, row), *ways_words(results))
    return " ".join((*engine_words(results.verdict, units), worst_sentence(results, row, units), *known, *moved))


def ways_words(results: Results) -> Iterator[str]:
    """Yield in how many ways the frame was solved, because the file leaves open how stiff some joints are."""
    count = len(results.outcome.solutions)
    if any(solution.bound.joints is not None for solution in results.outcome.solutions):
        yield f"How stiff some joints are is left open: {count} ways were solved, the worst counts."


def engine_words(verdict: Verdict, units: Units) -> Iterator[str]:
    """Yield that sections could not be meshed, with the reason."""
    for group in verdict.ledger.groups:
        if group.question is Question.ENGINE:
            yield f"Sections by thin-wall theory: {spoken(group.reasons[0], units)}."


def load_words(results: Results, row: CheckResult) -> Iterator[str]:
    """Yield how well the size of a row's load is known, where the file does not state it."""
    load_case = next((each for each in results.outcome.case.load_cases if each.name == row.load_case), None)
    known = None if load_case is None else load_case.least_known
    if known is not None and known[1].confidence is not Confidence.STATED:
        yield f"That load's {known[0]} comes from {known[1].confidence.value}."


def memory_words(results: Results, row: CheckResult) -> Iterator[str]:
    """Yield what a row rests on that was written from memory: nobody could open its source."""
    names = from_memory(results.outcome.case, row)
    if names:
        sources = "its source was" if len(names) == 1 else "their sources were"
        yield f"From memory, {sources} not opened: {', '.join(names)}."


def worst_sentence(results: Results, row: CheckResult, units: Units) -> str:
    """Return where the worst row is and how much it uses, in a sentence that a person can walk to the vehicle with."""
    frame = results.outcome.case.frame
    lead = "The worst is" if results.verdict.missed else "Nearest to its limit is"
    return f"{lead} {thing_words(row)}{place_words(frame, row, units)}: {how_words(row)}{case_words(row)}, {used_words(row, units)}."


def thing_words(row: CheckResult) -> str:
    """Return what a row speaks of."""
    return row.where if row.kind is not Kind.CLEARANCE else f"the gap '{row.where}'"


def how_words(row: CheckResult) -> str:
    """Return how it fails."""
    return row.mode.value.format(row.part)


def case_words(row: CheckResult) -> str:
    """Return in which load case, "" where it holds in all."""
    return "" if row.load_case is None else f" in '{row.load_case}'"


def used_words(row: CheckResult, units: Units) -> str:
    """Return how much of what is allowed is used."""
    if row.kind is Kind.CLEARANCE:
        left, asked = (with_unit(value, "deflection", units) for value in (row.capacity, row.demand))
        return f"{left} left, {asked} asked" if row.capacity > 0 else f"the parts touch, {asked} asked"
    return f"{percent(row.used)} of what is allowed is used (factor {factor(row.safety_factor)}, asked {factor(row.target)})"


def ringed_words(row: CheckResult, units: Units) -> str:
    """Return what stands at the ring round the worst place of a picture: a gap by what is left of it, all else by what it uses."""
    return f"{thing_words(row)}: {used_words(row, units) if row.kind is Kind.CLEARANCE else f'{percent(row.used)}'}"


def place_words(frame: Frame, row: CheckResult, units: Units) -> str:
    """Return where on its member a row was found: the nearest named point and the side of the section."""
    near = near_row(frame, row)
    place = "" if near is None else f" {near_words(near, units)}"
    sides = " ".join(side.value for side in row.sides)
    return f"{place}, {sides} side" if sides else place


def picture_words(governing: CheckResult | None, shown: CheckResult | None) -> str:
    """Return what governs a picture; where what governs the whole can't be drawn, that this is the next."""
    if governing is None or shown is None:
        return ""
    said = f"{shown.where}, {shown.check.words}: {percent(shown.used)} used, {shown.grade.value}"
    if shown is governing:
        return f"governs: {said}"
    return f"{governing.where} governs ({governing.check.words}, {percent(governing.used)} used), not drawn here; next: {said}"


def open_lines(verdict: Verdict, units: Units, most: int | None = None) -> Iterator[str]:
    """Yield a line a group of what is open: how many, which, and what would close it; most: so many groups, then how many more."""
    if most is None:
        yield from (f"{what_is_open(group, units)} {spoken(group.remedy, units)}" for group in verdict.ledger.groups)
    else:
        yield from (" ".join(each) for each in open_briefly(verdict, units, most))


def open_briefly(verdict: Verdict, units: Units, most: int) -> Iterator[tuple[str, str]]:
    """Yield so many groups of what is open, then how many more: what, by name where it is one thing; what would close it."""
    groups = verdict.ledger.groups
    for group in groups[:most]:
        count = len(group.names)
        what = what_is_open(group, units) if count == 1 else f"{counted(group.question, count)}:"
        yield what, spoken(group.remedy, units)
    if len(groups) > most:
        yield f"and {len(groups) - most} more:", "see --full"


def counted(question: Question, count: int) -> str:
    """Return how many things a question is open of: "2 notches", but "fatigue in 2 places"."""
    if count == 1:
        return question.title
    return f"{question.title} in {count} places" if question in NOT_COUNTED else f"{count} {question.title}"


def what_is_open(group: OpenGroup, units: Units) -> str:
    """Return one group of what is open, every thing by name, and why where one reason holds for all."""
    names = group.names
    reason = f" {spoken(group.reasons[0], units)};" if len(group.reasons) == 1 and group.reasons[0] != NOTHING_JUDGED else ""
    return f"{counted(group.question, len(names))} ({', '.join(names)}):{reason}"


def accepted_lines(verdict: Verdict) -> Iterator[str]:
    """Yield a line a reason for what the file accepts without its being judged."""
    by_reason: dict[tuple[str, str], int] = {}
    for each in verdict.ledger.accepted:
        key = (each.entry.entry.question.title, each.because)
        by_reason[key] = by_reason.get(key, 0) + 1
    for (title, because), count in by_reason.items():
        yield f"{count} accepted, {title}: {because}"


def movement_sentences(found: Iterable[LargeMovement]) -> Iterator[str]:
    """Yield the largest movement of each kind that is large for a frame solved as if it moved little, and how many more are."""
    by_way: dict[WayOfMoving, list[LargeMovement]] = {}
    for each in found:
        by_way.setdefault(each.way, []).append(each)
    for rows in by_way.values():
        more = f" (large in {len(rows) - 1} more)" if len(rows) > 1 else ""
        yield f"{movement_words(rows[0])}{more}: the answer holds for small movements."


def movement_words(moved: LargeMovement) -> str:
    """Return which member moves how much, and in which load case."""
    share = f"1/{1 / moved.amount:.0f} of" if moved.amount < 0.5 else f"{moved.amount:.2g} times"
    twists, sags = f"twists by {degrees(moved.amount):.1f} degrees", f"sags by {share} its length"
    return f"{moved.member} {twists if moved.way is WayOfMoving.TWIST else sags} in '{moved.load_case}'"
