"""The first screen: the answer, what is worst, one row a kind of check, what is open, and the next command to type."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath

from framecheck.output import wording
from framecheck.output.cells import NONE, texts
from framecheck.output.display import Units
from framecheck.output.origin import Origin
from framecheck.output.text_table import Column, table, wrapped
from framecheck.results.large_movements import large_movements
from framecheck.results.row import CheckResult, Grade
from framecheck.results.subjects import Question
from framecheck.results.tables import kinds_table
from framecheck.results.verdict import State
from framecheck.run import Results

MOST_OPEN = 5
NARROW = 72
"""Columns of a screen below which a row of the table of kinds takes two lines."""


def first_screen(results: Results, caution: str, units: Units, width: int, origin: Origin) -> str:
    """Return the answer in at most some forty lines."""
    parts = [
        heading(results.outcome.case.title, origin, width),
        wrapped(caution, width),
        wrapped(wording.verdict_line(results.verdict), width),
        wrapped(told(results, units), width),
        kinds(results, units, width),
        left_open(results, width),
        next_commands(origin),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def heading(title: str, origin: Origin, width: int) -> str:
    """Return the title with file, checksum and version beside or below it."""
    words = Origin(PurePath(origin.file).name, origin.sha256, origin.version).words
    if len(title) + 2 + len(words) <= width:
        return title + words.rjust(width - len(title))
    return f"{wrapped(title, width)}\n{wrapped(words, width)}"


def told(results: Results, units: Units) -> str:
    """Return what is worst, where its load comes from, what was solved twice, and large movements, in sentences."""
    row = results.governing
    if row is None or results.verdict.state is State.NOT_JUDGED:
        return ""
    moved = map(wording.movement_sentence, large_movements(results.outcome))
    return " ".join((*engine_words(results), wording.worst_sentence(results, row, units), *moved))


def engine_words(results: Results) -> Iterator[str]:
    """Yield that sections could not be meshed, with the reason."""
    for group in results.verdict.ledger.groups:
        if group.question is Question.ENGINE:
            yield f"Sections by thin-wall theory: {group.reasons[0]}."


def kinds(results: Results, units: Units, width: int) -> str:
    """Return the worst row of every kind of check; on a narrow screen two lines a row."""
    if results.verdict.state is State.NOT_JUDGED:
        return ""
    shown = kinds_table(results.outcome.case.frame, results.rows)
    keys = [column.key for column in shown.columns]
    rows = [dict(zip(keys, row, strict=True)) for row in texts(shown, units)]
    more = {row.check.words: f"LOW +{count}" for row, count in further_low(results)}
    for row in rows:
        row["grade"] = more.get(row["kind"], row["grade"]) if row["grade"] == Grade.LOW.value else ""
    return two_lines(rows, width) if width < NARROW else one_line(rows, width)


def further_low(results: Results) -> Iterator[tuple[CheckResult, int]]:
    """Yield a row of each check that more than one thing misses, and how many more do."""
    by_check: dict[object, list[CheckResult]] = {}
    for row in results.verdict.missed:
        by_check.setdefault(row.check, []).append(row)
    yield from ((rows[0], len(rows) - 1) for rows in by_check.values() if len(rows) > 1)


def place(row: dict[str, str]) -> str:
    """Return where a row was found: the thing and the nearest named point."""
    return row["where"] if row["near"] == NONE else f"{row['where']} {row['near']}"


def one_line(rows: list[dict[str, str]], width: int) -> str:
    """Return the rows as a table; the sentence above it and --full say where on the thing."""
    heads = (
        Column("kind"),
        Column("used", True),
        Column("factor", True),
        Column("asked", True),
        Column("where"),
        Column("load case"),
    )
    cells = [(row["kind"], row["used"], row["safety_factor"], row["target"], row["where"], in_case(row)) for row in rows]
    return table(heads, cells, width)


def in_case(row: dict[str, str]) -> str:
    """Return the load case and the grade where it is LOW."""
    return f"{row['load_case']}  {row['grade']}".rstrip()


def two_lines(rows: list[dict[str, str]], width: int) -> str:
    """Return two lines a row: what and how much, then where and when."""
    heads = (Column("kind"), Column("used", True), Column("factor", True), Column("asked", True), Column(""))
    cells = [(row["kind"], row["used"], row["safety_factor"], row["target"], row["grade"]) for row in rows]
    return table(heads, cells, width, [f"{place(row)}; {row['load_case']}" for row in rows])


def left_open(results: Results, width: int) -> str:
    """Return what is open, the first few groups, and how many things the file accepts."""
    lines = list(wording.open_lines(results.verdict, MOST_OPEN))
    accepted = len(results.verdict.ledger.accepted)
    lines += [f"{accepted} accepted with a reason: see --full"] if accepted else []
    if not lines:
        return ""
    return "Open: not judged, so no word above is about them\n" + "\n".join(
        wrapped(f"- {line}", width, "  ") for line in lines
    )


def next_commands(origin: Origin) -> str:
    """Return what to type next."""
    file = origin.file or "CASE"
    return f"More: framecheck check {file} --full\nPage: framecheck report {file} -o report.html"
