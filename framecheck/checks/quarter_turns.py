"""A member's end whose section lies between two quarter turns against the wall that it stands on: the worse of both counts.

The rules for such ends know a section square to its wall only. From 35 degrees on the turn that lies less near counts too, by a share
that grows from nothing to all of it at 45, where neither is nearer; there the springs count both by half (frame/joint_faces.py). Where
no rule covers the nearest turn, the other one's rows count whole: a part of them would make light of what is left open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from framecheck.checks.feet import EndOnWall
from framecheck.checks.joint_rows import Line
from framecheck.model.said import Words, joined, said
from framecheck.results.row import CheckResult, Kind, Sizing
from framecheck.results.row_order import worst_by
from framecheck.results.subjects import Open

Turns = tuple[EndOnWall, ...]
"""One end as it may be taken: in its nearest quarter turn, and in the next one where that counts."""


def worse_of_turns(turns: Turns, lines_of: Callable[[EndOnWall], Iterable[Line]]) -> Iterator[Line]:
    """Yield what is to be said of an end: of each way of failing the worse row, of each size the larger, what is open in either."""
    found = [(foot, tuple(lines_of(foot))) for foot in turns]
    if len(found) == 1:
        yield from found[0][1]
        return
    if not any(isinstance(line, CheckResult) for line in found[0][1]):
        found[1] = (replace(turns[1], counts=1.0), found[1][1])
    rows = [counted(foot, line) for foot, lines in found for line in lines if isinstance(line, CheckResult)]
    yield from worst_by(rows, lambda row: (row.check, row.mode, row.subject, row.part)).values()
    sizes = [replace(line, value=foot.counts * line.value) for foot, lines in found for line in lines if isinstance(line, Sizing)]
    yield from {(each.where, each.what): each for each in sorted(sizes, key=lambda each: each.value)}.values()
    yield from open_in([(foot, line) for foot, lines in found for line in lines if isinstance(line, Open)], len(found))


def counted(foot: EndOnWall, row: CheckResult) -> CheckResult:
    """Return a row as it counts; a rule of layout counts whole."""
    note = joined(row.note, f"it lies between two quarter turns: taken {foot.turn}, counted by {100 * foot.counts:.0f} %")
    return replace(row, note=note) if row.kind is Kind.LAYOUT else replace(row, demand=foot.counts * row.demand, note=note)


def open_in(found: Iterable[tuple[EndOnWall, Open]], count: int) -> Iterator[Open]:
    """Yield what is open: as it is where it is so in every turn, else in which."""
    turns: dict[Open, list[str]] = {}
    for foot, each in found:
        turns.setdefault(each, []).append(foot.turn)
    for each, names in sorted(turns.items(), key=lambda item: item[1]):
        yield each if len(names) == count else replace(each, reason=in_turn(names[0], each.reason))


def in_turn(turn: str, reason: Words) -> Words:
    """Return a reason that holds in one quarter turn."""
    before = f"it lies between two quarter turns, and taken {turn}: "
    return before + reason if isinstance(reason, str) else said(before, reason)
