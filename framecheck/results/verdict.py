"""The one verdict: made once, from rows and ledger alone, and read by everything that says how a case came out."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum

from framecheck.frame.results import SelfCheck
from framecheck.results.ledger import Ledger
from framecheck.results.row import Check, CheckResult, Grade, Kind
from framecheck.results.row_order import worst_by
from framecheck.value_class import value_class


class State(Enum):
    """How a case came out."""

    MET = "met"
    MET_SO_FAR = "met so far"
    NOT_MET = "not met"
    NOT_JUDGED = "not judged"


@value_class
class Verdict:
    """How a case came out.

    judged: how many pairs of a thing and a check were judged; missed: the worst row of each pair that misses, the worst first;
    because: why nothing was judged, "" where something was.
    """

    state: State
    judged: int
    missed: tuple[CheckResult, ...]
    ledger: Ledger
    because: str = ""

    def exit_code(self, is_strict: bool = False) -> int:
        """Return 0 where what was judged is met (strict: and nothing is open), 1 where a target is missed, 3 where not judged."""
        codes = {State.MET: 0, State.MET_SO_FAR: 1 if is_strict else 0, State.NOT_MET: 1, State.NOT_JUDGED: 3}
        return codes[self.state]

    @property
    def is_met(self) -> bool:
        """Return whether nothing that was judged misses its target, and something was judged."""
        return self.state in (State.MET, State.MET_SO_FAR)


def verdict_of(rows: Iterable[CheckResult], ledger: Ledger, self_checks: Iterable[SelfCheck] = ()) -> Verdict:
    """Return the verdict on rows and a ledger; self_checks: those that the solution made of itself."""
    worst = tuple(worst_by(rows, lambda row: (row.check, row.subject)).values())
    missed = tuple(row for row in worst if row.grade is Grade.LOW)
    because = why_not_judged(worst, self_checks)
    if because:
        return Verdict(State.NOT_JUDGED, len(worst), missed, ledger, because)
    state = State.NOT_MET if missed else State.MET_SO_FAR if ledger.open else State.MET
    return Verdict(state, len(worst), missed, ledger)


def why_not_judged(rows: tuple[CheckResult, ...], self_checks: Iterable[SelfCheck]) -> str:
    """Return why there is no judgement, "" where there is one."""
    failed = dict.fromkeys(each.name for each in self_checks if not each.holds)
    if failed:
        return f"the solution fails its own check of {', '.join(failed)}, so none of its numbers can be trusted"
    return "" if any(says_of_strength(row) for row in rows) else "nothing in the file could be judged"


def says_of_strength(row: CheckResult) -> bool:
    """Return whether a verdict may rest on a row: not on a rule of layout, nor on the elastic buckling of the frame alone."""
    return row.kind is not Kind.LAYOUT and row.check is not Check.FRAME_BUCKLING
