"""What the joint checks share: a capacity with its name, the row it makes, and the order of rows."""

from __future__ import annotations

from collections.abc import Iterable

from framecheck.checks.result import CheckResult, NotChecked, Sizing, safety_factor
from framecheck.value_class import value_class

Line = CheckResult | NotChecked | Sizing


@value_class
class Capacity:
    """What one mode of failure can carry, the safety factor asked of it, and where the rule stands."""

    mode: str
    value: float
    target: float
    source: str
    unit: str = "N"


@value_class
class Subject:
    """Which check is speaking of which joint."""

    check: str
    where: str


def judged(subject: Subject, load_case: str, demand: float, capacity: Capacity) -> CheckResult:
    """Return the row of one demand against one capacity."""
    return CheckResult(
        check=subject.check,
        where=subject.where,
        load_case=load_case,
        station=None,
        demand=demand,
        capacity=capacity.value,
        unit=capacity.unit,
        safety_factor=safety_factor(demand, capacity.value),
        target=capacity.target,
        source=capacity.source,
        mode=capacity.mode,
    )


def margin(row: CheckResult) -> float:
    """Return the safety factor over what is asked: modes with different targets compare by it."""
    return row.safety_factor / row.target


def governing_first(rows: Iterable[Line]) -> tuple[Line, ...]:
    """Return one row a mode, that of its worst load case, least margin first; then each thing not checked, once."""
    lines = tuple(rows)
    worst: dict[str, CheckResult] = {}
    for row in lines:
        if isinstance(row, CheckResult) and (row.mode not in worst or margin(row) < margin(worst[row.mode])):
            worst[row.mode] = row
    unchecked = dict.fromkeys(row for row in lines if isinstance(row, NotChecked))
    return (*sorted(worst.values(), key=margin), *unchecked)
