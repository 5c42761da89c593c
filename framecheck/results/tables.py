"""The tables that people read, as typed columns: terminal, page, CSV, JSON and notebook show these and no others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import Enum

from framecheck.model.frame import Frame
from framecheck.model.said import Said
from framecheck.results.row import Check, CheckResult, Facing, Grade
from framecheck.results.row_order import governing_first, worst_by
from framecheck.results.summary import LoadCaseRow, MemberRow, Near, near_row
from framecheck.value_class import value_class
from framecheck.vehicle.clearance import GapLeft, GapState


class Scope(Enum):
    """Where a row holds that belongs to no load case of its own."""

    ALL = "all load cases"


Value = str | float | Grade | GapState | Scope | Said | Near | tuple[Facing, ...] | None


@value_class
class Column:
    """A column: its key (with the SI unit, as JSON and CSV name it), its heading for people, and its quantity ("": words)."""

    key: str
    heading: str
    quantity: str = ""


@value_class
class ResultTable:
    """A table: its name, what it is called, its columns and its rows of values in SI."""

    name: str
    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]


CHECK = Column("check", "check")
WHERE = Column("where", "where")
NEAR = Column("near", "nearest point", "near")
SIDES = Column("sides", "side", "sides")
STATION = Column("station_m", "station", "station")
USED = Column("used", "used", "share")
FACTOR = Column("safety_factor", "safety factor", "factor")
ASKED = Column("target", "asked", "factor")
GRADE = Column("grade", "")
LOAD_CASE = Column("load_case", "load case")
MODE = Column("mode", "mode")
JUDGED = (USED, FACTOR, ASKED, GRADE)


def judged_values(row: CheckResult | None) -> tuple[Value, ...]:
    """Return the values of the columns JUDGED; a clearance has no factor."""
    if row is None:
        return (None, None, None, None)
    if row.check is Check.CLEARANCE:
        return (row.used, None, None, row.grade)
    return (row.used, row.safety_factor, row.target, row.grade)


def scope(load_case: str | None) -> str | Scope:
    """Return the load case, or that a row holds in all of them."""
    return Scope.ALL if load_case is None else load_case


def place_values(frame: Frame, row: CheckResult | None) -> tuple[Value, ...]:
    """Return station and nearest point of a row."""
    return (None, None) if row is None else (row.station, near_row(frame, row))


def kinds_table(frame: Frame, rows: Iterable[CheckResult]) -> ResultTable:
    """Return the worst row of every kind of check, the one that clears its target by least first."""
    worst = worst_by(rows, lambda row: row.check).values()
    columns = (Column("kind", "kind"), *JUDGED, WHERE, STATION, NEAR, LOAD_CASE)
    body = (
        (row.check.words, *judged_values(row), row.where, *place_values(frame, row), scope(row.load_case)) for row in worst
    )
    return ResultTable("kinds", "The worst of each kind of check", columns, tuple(body))


def load_cases_table(frame: Frame, rows: Sequence[LoadCaseRow]) -> ResultTable:
    """Return every load case with the row that governs it, and how far the frame moves."""
    moves = (Column("deflection_m", "deflection", "deflection"), Column("deflection_member", "on member"))
    columns = (LOAD_CASE, *JUDGED, CHECK, WHERE, STATION, NEAR, *moves)
    body = (
        (
            scope(row.load_case),
            *judged_values(row.worst),
            None if row.worst is None else row.worst.check.words,
            None if row.worst is None else row.worst.where,
            *place_values(frame, row.worst),
            None if row.deflection is None else row.deflection.amount,
            None if row.deflection is None else row.deflection.member,
        )
        for row in rows
    )
    return ResultTable("load_cases", "Load cases, the governing one first", columns, tuple(body))


def members_table(frame: Frame, rows: Sequence[MemberRow]) -> ResultTable:
    """Return every member with the row that governs it, and its mass."""
    own = (Column("section", "section"), Column("mass_kg", "mass", "mass"))
    columns = (Column("member", "member"), *JUDGED, CHECK, LOAD_CASE, STATION, NEAR, *own)
    body = (
        (
            row.member,
            *judged_values(row.worst),
            None if row.worst is None else row.worst.check.words,
            None if row.worst is None else scope(row.worst.load_case),
            *place_values(frame, row.worst),
            row.section,
            row.mass,
        )
        for row in rows
    )
    return ResultTable("members", "Members, the governing one first", columns, tuple(body))


def checks_table(frame: Frame, rows: Iterable[CheckResult], name: str = "checks", caption: str = "") -> ResultTable:
    """Return the worst row of each check of each thing, and every way in which one misses, by how far they clear their target."""
    every = tuple(rows)
    worst = worst_by(every, lambda row: (row.check, row.subject)).values()
    low = (row for row in every if row.grade is Grade.LOW)
    missed = worst_by(low, lambda row: (row.check, row.subject, row.mode, row.part)).values()
    said = caption or "Checks: the worst of each thing, and every way in which one misses"
    return rows_table(frame, governing_first(dict.fromkeys((*worst, *missed))), name, said)


def modes_table(frame: Frame, rows: Iterable[CheckResult], name: str, caption: str) -> ResultTable:
    """Return the worst row of each mode of each thing: the thing with least room first, its modes governing first."""
    by_thing: dict[object, list[CheckResult]] = {}
    for row in worst_by(rows, lambda row: (row.check, row.subject, row.mode, row.part)).values():
        by_thing.setdefault(row.subject, []).append(row)
    return rows_table(frame, (row for each in by_thing.values() for row in governing_first(each)), name, caption)


def rows_table(frame: Frame, rows: Iterable[CheckResult], name: str, caption: str) -> ResultTable:
    """Return rows as a table."""
    columns = (WHERE, CHECK, MODE, *JUDGED, LOAD_CASE, STATION, NEAR, SIDES)
    body = (
        (
            row.where,
            row.check.words,
            row.words,
            *judged_values(row),
            scope(row.load_case),
            *place_values(frame, row),
            row.sides,
        )
        for row in rows
    )
    return ResultTable(name, caption, columns, tuple(body))


def clearances_table(gaps: Iterable[GapLeft], every_case: bool = False) -> ResultTable:
    """Return gaps, each in the load case that leaves least of it, or in every one."""
    chosen = list(gaps)
    if not every_case:
        worst: dict[str, GapLeft] = {}
        for gap in chosen:
            worst.setdefault(gap.name, gap)
        chosen = list(worst.values())
    columns = (
        Column("clearance", "clearance"),
        Column("today_m", "today", "deflection"),
        Column("left_m", "left", "deflection"),
        Column("least_m", "asked", "deflection"),
        Column("state", ""),
        LOAD_CASE,
    )
    caption = "Clearances in every load case" if every_case else "Clearances, the smallest first"
    body = ((gap.name, gap.today, gap.left, gap.least, gap.state, gap.load_case) for gap in chosen)
    return ResultTable("clearances", caption, columns, tuple(body))
