"""Search for the load at which a trial just passes."""

from __future__ import annotations

from collections.abc import Callable

from framecheck.results.row import CheckResult
from framecheck.run import Results
from framecheck.value_class import value_class

NEAR = 1e-4
"""How near to the limit a rated value is found, relative."""


NEVER_SLIDES = 1e3

AIM = 1.0 - NEAR / 2

MOST = 64.0
"""A load is raised to this multiple of its value in the case, no further."""


@value_class
class Point:
    """One trial: used: the largest share of what is allowed; row: where."""

    used: float
    row: CheckResult | None
    results: Results | None = None
    because: str = ""


def point(found: Results | str, share: Callable[[CheckResult], float]) -> Point:
    """Return the worst row of a trial's load case by a share; a trial that can't be solved is the end, with its reason.

    Rows that belong to no load case (spacing of bolts, a life) don't change with the load.
    """
    if isinstance(found, str):
        return Point(float("inf"), None, because=found)
    names = {loads.name for loads in found.outcome.loads}
    row = max((row for row in found.rows if row.load_case in names), key=share, default=None)
    return Point(0.0 if row is None else share(row), row, found)


def largest(trial: Trial, start: float, holds: str) -> RateLimit:
    """Return the largest value at which a trial uses no more than all; bracketed by doubling, then by regula falsi."""
    low, high = 0.0, start
    below, above = trial(start * 1e-6), trial(start)
    if below.used > 1.0:
        return RateLimit(None, below.row, below.because or "missed even without this load")
    while above.used <= 1.0 and high < MOST * start:
        low, below, high = high, above, 2 * high
        above = trial(high)
        if above.used <= 1.0 and abs(above.used - below.used) <= 1e-9 * max(below.used, 1e-9) and holds:
            return RateLimit(capped_at(trial, low, start), None, holds)
    if above.used <= 1.0:
        return RateLimit(high, None, f"more than {MOST:g} times its value in the case")
    value, at = narrowed(trial, (low, high), (below, above))
    return RateLimit(value, at.row, at.because)


def capped_at(trial: Trial, high: float, start: float) -> float:
    """Return the least value from which on nothing changes any more: what the vehicle itself holds."""
    final, low = trial(high).used, 0.0
    while high - low > NEAR * start:
        middle = (low + high) / 2
        reached = abs(trial(middle).used - final) <= 1e-9 * max(final, 1e-9)
        low, high = (low, middle) if reached else (middle, high)
    return high


def narrowed(trial: Trial, ends: tuple[float, float], found: tuple[Point, Point]) -> tuple[float, Point]:
    """Return the value just within the limit and its trial: regula falsi, bisected where it creeps or has no number."""
    (low, high), (below, above) = ends, found
    while high - low > NEAR * high:
        share = (AIM - below.used) / (above.used - below.used) if above.used < float("inf") else 0.5
        middle = low + min(max(share, 0.02), 0.98) * (high - low)
        here = trial(middle)
        if here.used <= 1.0:
            low, below = middle, here
        else:
            high, above = middle, here
        if abs(here.used - 1.0) <= NEAR and here.used <= 1.0:
            break
    return low, below if below.row is not None else above


@value_class
class RateLimit:
    """The largest value of a load up to something, what governs there, and why the search ended where nothing governs.

    value None: even the least of this load misses; governs None with a value: not the frame, `because` says what.
    """

    value: float | None
    governs: CheckResult | None
    because: str = ""


Trial = Callable[[float], Point]
