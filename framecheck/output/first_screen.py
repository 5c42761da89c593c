"""The first screen: the answer, what is worst, one row a kind of check, what is open, and the next command to type."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from enum import Enum
from pathlib import PurePath

from framecheck.output import wording
from framecheck.output.display import GAP, TextColumn, Units, shortened, table, wrapped
from framecheck.output.wording import NONE, texts
from framecheck.results.row import CheckResult, Grade
from framecheck.results.tables import kinds_table
from framecheck.results.verdict import State
from framecheck.run import Results
from framecheck.value_class import value_class
from framecheck.versions import Origin

Rows = Sequence[Mapping[str, str]]
"""Cells of the table of kinds as shown, row by row and by key."""
MOST_LINES = 40
"""Lines of the first screen, where any way of writing it fits them."""
MOST_OPEN = 5
INDENT = 4
"""Letters by which the second line of a row stands in."""
NARROW = 72
"""Columns of a screen below which a row of the table of kinds takes two lines."""


class Layout(Enum):
    """How a row of the table of kinds is set: wrapped in its columns, place and load case on a second line, or cut to one line."""

    WRAPPED = "wrapped"
    TWO_LINES = "two lines"
    BRIEF = "brief"


@value_class
class ScreenRoom:
    """How much is shown where lines are few.

    most_open: so many groups that are open are named; open_lines: each in so many lines.
    """

    layout: Layout
    most_open: int
    open_lines: int


ROOMS = (
    ScreenRoom(Layout.WRAPPED, MOST_OPEN, 2),
    ScreenRoom(Layout.WRAPPED, MOST_OPEN, 1),
    ScreenRoom(Layout.TWO_LINES, MOST_OPEN, 1),
    *(ScreenRoom(Layout.TWO_LINES, most, 1) for most in (4, 3, 2)),
    ScreenRoom(Layout.BRIEF, MOST_OPEN, 1),
    *(ScreenRoom(Layout.BRIEF, most, 1) for most in range(MOST_OPEN - 1, 0, -1)),
)
"""From roomy to tight: the first that fits is taken."""


@value_class
class Words:
    """What the screen says in any room: what stands above the table of kinds, the cells of its rows by key, what stands last."""

    above: tuple[str, ...]
    rows: Rows
    last: str
    units: Units


def first_screen(results: Results, caution: str, units: Units, width: int, origin: Origin) -> str:
    """Return the answer in MOST_LINES, as roomy as they allow; a narrow screen scrolls instead."""
    said = words(results, caution, units, width, origin)
    text = ""
    for room in ROOMS if width >= NARROW else ROOMS[:1]:
        text = screen(results, said, width, room)
        if text.count("\n") <= MOST_LINES:
            break
    return text


def words(results: Results, caution: str, units: Units, width: int, origin: Origin) -> Words:
    """Return what the screen says in any room, worked out once."""
    above = (
        f"{heading(results.outcome.case.title, origin, width)}\n{wrapped(caution, width)}",
        wrapped(wording.verdict_line(results.verdict), width),
        wrapped(wording.first_words(results, units), width),
    )
    return Words(above, kind_rows(results, units), next_commands(origin, width), units)


def screen(results: Results, said: Words, width: int, room: ScreenRoom) -> str:
    """Return the answer with so much room."""
    parts = (*said.above, kinds(said.rows, width, room), left_open(results, said.units, width, room), said.last)
    return "\n\n".join(part for part in parts if part) + "\n"


def heading(title: str, origin: Origin, width: int) -> str:
    """Return the title with file, checksum and version beside or below it."""
    name = PurePath(origin.file).name.replace("\n", "\\n")  # or a file's name could write a line of the answer
    words = Origin(name, origin.sha256, origin.version).words
    if len(title) + 2 + len(words) <= width:
        return title + words.rjust(width - len(title))
    return f"{wrapped(title, width)}\n{wrapped(words, width)}"


def kind_rows(results: Results, units: Units) -> Rows:
    """Return the cells of the worst row of every kind of check, by key."""
    if results.verdict.state is State.NOT_JUDGED:
        return ()
    shown = kinds_table(results.outcome.case.frame, results.rows)
    keys = [column.key for column in shown.columns]
    rows = [dict(zip(keys, row, strict=True)) for row in texts(shown, units)]
    more = {row.check.words: f"LOW +{count}" for row, count in further_low(results)}
    for row in rows:
        row["grade"] = more.get(row["kind"], row["grade"]) if row["grade"] == Grade.LOW.value else ""
    return tuple(rows)


def kinds(rows: Rows, width: int, room: ScreenRoom) -> str:
    """Return the worst row of every kind of check as a table; on a narrow screen two lines a row."""
    is_stacked = width < NARROW or room.layout is Layout.TWO_LINES
    return "" if not rows else two_lines(rows, width) if is_stacked else one_line(rows, width, room)


def further_low(results: Results) -> Iterator[tuple[CheckResult, int]]:
    """Yield a row of each check that more than one thing misses, and how many more do."""
    by_check: dict[object, list[CheckResult]] = {}
    for row in results.verdict.missed:
        by_check.setdefault(row.check, []).append(row)
    yield from ((rows[0], len(rows) - 1) for rows in by_check.values() if len(rows) > 1)


def place(row: Mapping[str, str]) -> str:
    """Return where a row was found: the thing and the nearest named point."""
    return row["where"] if row["near"] == NONE else f"{row['where']} {row['near']}"


GRADE_KEY = "grade"
COUNTED = (TextColumn("kind"), TextColumn("used", True), TextColumn("factor", True), TextColumn("asked", True), TextColumn(""))
COUNTED_KEYS = ("kind", "used", "safety_factor", "target", GRADE_KEY)


def counted(rows: Rows) -> tuple[tuple[TextColumn, ...], list[tuple[str, ...]]]:
    """Return the columns that count, and their cells; no column of grades where none is LOW."""
    count = len(COUNTED) if any(row[GRADE_KEY] for row in rows) else len(COUNTED) - 1
    return COUNTED[:count], [tuple(row[key] for key in COUNTED_KEYS[:count]) for row in rows]


def one_line(rows: Rows, width: int, room: ScreenRoom) -> str:
    """Return the rows as a table; the sentence above it and --full say where on the thing."""
    heads, cells = counted(rows)
    places = [(row["where"], row["load_case"]) for row in rows]
    if room.layout is Layout.BRIEF:
        columns = zip(heads, zip(*cells, strict=True), strict=True)
        widths = [max(len(text) for text in (head.heading, *column)) for head, column in columns]
        places = fitted(places, width - sum(widths) - len(GAP) * (len(widths) + 1))
    found = [(*cell, *each) for cell, each in zip(cells, places, strict=True)]
    return table((*heads, TextColumn("where"), TextColumn("load case")), found, width)


def fitted(pairs: list[tuple[str, str]], width: int) -> list[tuple[str, str]]:
    """Return two columns of words shortened so that they fit a width side by side: the shorter one keeps what it needs of its half."""
    first, second = (max(len(text) for text in column) for column in zip(*pairs, strict=True))
    if first + second > width:
        first = max(width // 2, width - second) if first > width // 2 else first
        second = width - first
    return [(shortened(one, first), shortened(other, second)) for one, other in pairs]


def place_and_case(row: Mapping[str, str], most: int) -> str:
    """Return where and in which load case a row was found in so many letters; the nearest point only where there is room."""
    whole = f"{place(row)}; {row['load_case']}"
    return whole if len(whole) <= most else shortened(f"{row['where']}; {row['load_case']}", most)


def two_lines(rows: Rows, width: int) -> str:
    """Return two lines a row: what and how much, then where and when."""
    heads, cells = counted(rows)
    return table(heads, cells, width, [place_and_case(row, width - INDENT) for row in rows])


def left_open(results: Results, units: Units, width: int, room: ScreenRoom) -> str:
    """Return what is open, the first few groups, and how many things the file accepts."""
    entries = list(wording.open_briefly(results.verdict, units, room.most_open))
    accepted = len(results.verdict.ledger.accepted)
    entries += [(f"{accepted} accepted with a reason:", "see --full")] if accepted else []
    if not entries:
        return ""
    shown = (in_lines(f"- {what}", remedy, width, room.open_lines) for what, remedy in entries)
    return "Open: not judged, so no word above is about them\n" + "\n".join(shown)


def in_lines(what: str, remedy: str, width: int, most: int) -> str:
    """Return what is open and its remedy in so many lines: the reason is shortened, the remedy never, though it take more lines."""
    words, shown = what.split(" "), f"{what} {remedy}"
    while len(words) > len(name_of(what)) and len(wrapped(shown, width, "  ").splitlines()) > most:
        words = words[:-1]
        shown = f"{' '.join(words).rstrip(',;:')}...; {remedy}"
    return wrapped(shown, width, "  ")


def name_of(what: str) -> list[str]:
    """Return the words that say what is open, which stay however little room there is: up to a colon or what stands in brackets."""
    words = what.split(" ")
    ends = (n for n, word in enumerate(words) if word.endswith(":") or word.startswith("("))
    return words[: max(LEAST_WORDS, next((n + int(words[n].endswith(":")) for n in ends), 0))]


LEAST_WORDS = 4
"""Words that stay of one that names nothing."""


def next_commands(origin: Origin, width: int) -> str:
    """Return what to type next; a file whose name is too long for a line, or can't be typed, is called CASE."""
    name = f'"{origin.file}"' if " " in origin.file else origin.file
    lines = [next_lines(file) for file in (name if name and name.isprintable() else "CASE", "CASE")]
    return "\n".join(next((each for each in lines if max(map(len, each)) <= width), lines[-1]))


def next_lines(file: str) -> tuple[str, str]:
    """Return what to type next for a file."""
    return f"More: framecheck check {file} --full", f"Page: framecheck report {file} -o report.html"
