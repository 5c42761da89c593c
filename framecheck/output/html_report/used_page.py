"""The page that shows what each member and joint uses in each load case."""

from __future__ import annotations

from framecheck.output.wording import percent
from framecheck.results.findings import UsedTable, used_table
from framecheck.results.row import CheckResult, Grade
from framecheck.results.tables import Scope
from framecheck.run import Results
from framecheck.value_class import value_class

SHADES = ((0.25, "u0"), (0.5, "u1"), (0.75, "u2"), (0.9, "u3"), (float("inf"), "u4"))
"""Up to which share of what is allowed a cell has a shade (report.css); LOW has one of its own."""
MOST = 999
LEGEND = (("u0", "to 25"), ("u1", "to 50"), ("u2", "to 75"), ("u3", "to 90"), ("u4", "to 100"), ("low", "over 100: LOW"))


@value_class
class UsedCell:
    """A cell: what is used, %, in digits, and its shade."""

    text: str
    shade: str


@value_class
class UsedPage:
    """The table as shown. legend: shade and words; note: what stands in its worst load case alone, and what the page leaves off."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, tuple[UsedCell, ...]], ...]
    note: str
    legend: tuple[tuple[str, str], ...] = LEGEND


def used_page(results: Results) -> UsedPage:
    """Return the page's table."""
    found = used_table(results.rows)
    headings = tuple(Scope.ALL.value if case is None else case for case in found.load_cases)
    rows = tuple((thing, tuple(map(cell, row))) for thing, row in zip(found.things, found.rows, strict=True))
    return UsedPage(headings, rows, " ".join(filter(None, (told_at_worst(found), left_off(found)))))


def cell(row: CheckResult | None) -> UsedCell:
    """Return a cell; empty where no row is."""
    if row is None:
        return UsedCell("", "none")
    if row.grade is Grade.LOW:
        return UsedCell(digits(row), "low")
    return UsedCell(digits(row), next(shade for most, shade in SHADES if row.used <= most))


def digits(row: CheckResult) -> str:
    """Return what is used, in whole per cent, rounded up; what has no room in a narrow cell as more than MOST."""
    return percent(row.used).removesuffix(" %") if row.used < MOST / 100 else f">{MOST}"


def told_at_worst(found: UsedTable) -> str:
    """Return which checks stand in their worst load case alone: beside them a cell is no whole answer for its load case."""
    if not found.worst_only:
        return ""
    named = ", ".join(check.words for check in found.worst_only)
    return (
        f"Shown in their worst load case only: {named}. In other load cases a member or joint may use more than its cell says, "
        "but no more than the largest in its row."
    )


def left_off(found: UsedTable) -> str:
    """Return what has no room, "" where all has."""
    things, cases = found.left_off
    left = [f"{count} more {what}" for count, what in ((things, "things"), (cases, "load cases")) if count]
    return f"Not shown, for they leave more room: {' and '.join(left)}; --full and the CSV have all." if left else ""
