"""One line of a check."""

from __future__ import annotations

from enum import Enum

from framecheck.value_class import value_class


class Verdict(Enum):
    """PASS where the safety factor meets its target, LOW where it does not."""

    PASS = "PASS"
    LOW = "LOW"


@value_class
class CheckResult:
    """One demand against one capacity, in the forces of one load case at one station.

    demand, capacity: in `unit`; safety_factor: capacity over demand, capped at CAP where nothing is asked.
    where: member, point or joint; mode: what governs, in words; source: clause or table, or "common practice".
    """

    check: str
    where: str
    load_case: str
    station: float | None
    demand: float
    capacity: float
    unit: str
    safety_factor: float
    target: float
    source: str
    mode: str = ""

    @property
    def verdict(self) -> Verdict:
        return Verdict.PASS if self.safety_factor >= self.target else Verdict.LOW


@value_class
class NotChecked:
    """Something a reader might think was checked and was not, and why."""

    subject: str
    reason: str


@value_class
class Sizing:
    """What to tighten, weld or add: a number for the shop that no safety factor shows.

    value, given: in `unit`; given: what the case file has for it, None where it has none. source: the rule behind the value.
    """

    check: str
    where: str
    what: str
    value: float
    unit: str
    given: float | None
    source: str


CAP = 999.0


def safety_factor(demand: float, capacity: float) -> float:
    """Return capacity / demand, at most CAP, so that an unloaded member gives a number and not infinity."""
    return CAP if not demand > 0 or capacity >= CAP * demand else capacity / demand
