"""What tests read off the lines of a check: rows by their mode in words, what was left open, what was remarked."""

from __future__ import annotations

from collections.abc import Iterable

from framecheck.checks.joint_rows import Line
from framecheck.results.row import CheckResult
from framecheck.results.row_order import worst_by
from framecheck.results.subjects import Open, Remark


def mode_of(row: CheckResult) -> str:
    """Return the mode of a row in words, with the part that it names."""
    return row.mode.value.format(row.part)


def results_of(lines: Iterable[Line]) -> list[CheckResult]:
    return [line for line in lines if isinstance(line, CheckResult)]


def by_mode(lines: Iterable[Line]) -> dict[str, CheckResult]:
    """Return the row of each mode, the governing one where several things (bolts of a plate) fail by it."""
    return worst_by(results_of(lines), mode_of)


def left_open(lines: Iterable[Line]) -> dict[str, str]:
    """Return the reason of each entry that is left open, by its subject in words."""
    return {line.entry.subject.words: line.reason for line in lines if isinstance(line, Open)}


def remarked(lines: Iterable[Line]) -> dict[str, str]:
    """Return the reason of each remark, by its subject."""
    return {line.subject: line.reason for line in lines if isinstance(line, Remark)}
