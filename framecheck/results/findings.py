"""What a person should look at first: the findings, and how much of what is allowed each thing uses in each load case."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from framecheck.results.row import Check, CheckResult, Grade
from framecheck.results.row_order import governing_first, is_met_layout, worst_by
from framecheck.results.subjects import Thing
from framecheck.results.summary import ON_MEMBER
from framecheck.value_class import value_class

MOST = 6
"""So many findings have a page of their own."""


def findings(rows: Iterable[CheckResult], most: int = MOST) -> tuple[CheckResult, ...]:
    """Return the rows that have a page each: what misses, one of each kind before a second; then the tightest of each other kind."""
    judged = [row for row in rows if not is_met_layout(row)]
    of_kind = worst_by(judged, lambda row: row.check)
    first = [row for row in of_kind.values() if row.grade is Grade.LOW]
    low = worst_by((row for row in judged if row.grade is Grade.LOW), lambda row: (row.check, row.subject))
    order = dict.fromkeys((*first, *low.values(), *of_kind.values()))
    return governing_first(tuple(order)[:most])


@value_class
class UsedTable:
    """The row that governs each thing in each load case: things and load cases (None: all of them) by how little room they leave.

    rows[thing][load case]: None where no row is. left_off: how many more things and load cases there are. worst_only: the checks that
    tell each thing in its worst load case alone, so that a cell of another one may lack them.
    """

    things: tuple[str, ...]
    load_cases: tuple[str | None, ...]
    rows: tuple[tuple[CheckResult | None, ...], ...]
    left_off: tuple[int, int]
    worst_only: tuple[Check, ...]


MOST_THINGS, MOST_CASES = 44, 34
"""So many have room on a printed page."""


CALLED = {Thing.STRAP: "strap {}", Thing.CLEARANCE: "gap: {}", Thing.FRAME: "{} as a whole"}
"""How things are told whose name alone does not say what they are."""


def thing_of(row: CheckResult) -> str:
    """Return what a row is told under: the member that it is on, else the thing itself."""
    on_member = row.subject.thing in ON_MEMBER or row.subject.thing is Thing.KINK
    return row.subject.name if on_member else CALLED.get(row.subject.thing, "{}").format(row.where)


def used_table(rows: Iterable[CheckResult], most: tuple[int, int] = (MOST_THINGS, MOST_CASES)) -> UsedTable:
    """Return what each member and joint uses in each load case, the worst first; most: so many things and load cases."""
    judged = [row for row in rows if not is_met_layout(row)]
    things = tuple(worst_by(judged, thing_of))
    cases = tuple(worst_by(judged, lambda row: row.load_case))
    worst = worst_by(judged, lambda row: (thing_of(row), row.load_case))
    shown, columns = things[: most[0]], cases[: most[1]]
    body = tuple(tuple(worst.get((thing, case)) for case in columns) for thing in shown)
    return UsedTable(shown, columns, body, (len(things) - len(shown), len(cases) - len(columns)), told_at_worst(judged))


def told_at_worst(rows: Sequence[CheckResult]) -> tuple[Check, ...]:
    """Return the checks that have one row for each way of failing, that of its worst load case, though others were solved too."""
    told = [row for row in rows if row.load_case is not None]
    if len({row.load_case for row in told}) < 2:
        return ()
    ways = {(row.check, row.mode, row.subject, row.part, row.load_case) for row in told}
    several = {way[0] for way, count in Counter(way[:-1] for way in ways).items() if count > 1}
    return tuple(dict.fromkeys(row.check for row in told if row.check not in several))
