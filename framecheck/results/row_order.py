"""Which of several rows governs."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from framecheck.results.row import LAYOUT, CheckResult, Grade, Key, Kind, safety_factor


def margin(row: CheckResult) -> float:
    """Return the safety factor over what is asked: modes with different targets compare by it."""
    return row.safety_factor / row.target


def is_met_layout(row: CheckResult) -> bool:
    """Return whether a row is a rule of layout that is met: it says nothing of strength."""
    return row.kind is Kind.LAYOUT and row.grade is Grade.PASS


def governing_first(rows: Iterable[CheckResult]) -> tuple[CheckResult, ...]:
    """Return rows by how far they clear their target, least first, met rules of layout last; ties stay in their order."""
    return tuple(sorted(rows, key=_governs))


def _governs(row: CheckResult) -> tuple[bool, float]:
    """Return `is_met_layout` and `margin` of a row, worked out once: there may be a hundred thousand rows."""
    factor = safety_factor(row.demand, row.capacity)
    return factor >= row.target and row.mode in LAYOUT, factor / row.target


def worst_by(rows: Iterable[CheckResult], key: Callable[[CheckResult], Key]) -> dict[Key, CheckResult]:
    """Return the row that governs for each key."""
    found: dict[Key, CheckResult] = {}
    for row in governing_first(rows):
        found.setdefault(key(row), row)
    return found
