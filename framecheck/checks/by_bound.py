"""A check that looks at all bounds at once, run under each by itself: its rows then know under which they were found."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from framecheck.checks.joint_rows import Line, worst_lines
from framecheck.results.row import CheckResult, Sizing
from framecheck.stress import Outcome

Lines = Callable[[Outcome], Iterable[Line]]


def by_bound(lines: Lines) -> Lines:
    """Return a check that tells the worst over the bounds, and under which; of what the shop should do, the most."""

    def worst(outcome: Outcome) -> Iterable[Line]:
        found = [tuple(told(lines(each), each)) for each in each_bound(outcome)]
        return largest_sizes(worst_lines(found))

    return worst


def each_bound(outcome: Outcome) -> Iterator[Outcome]:
    """Yield the outcome under each bound by itself."""
    for number, solution in enumerate(outcome.solutions):
        buckling = outcome.buckling[number : number + 1]
        yield replace(outcome, solutions=(solution,), stresses=(outcome.stresses[number],), buckling=buckling)


def told(lines: Iterable[Line], outcome: Outcome) -> Iterator[Line]:
    """Yield lines, the bound of an outcome with one of them written in each row of a load case that has none."""
    for line in lines:
        is_open = isinstance(line, CheckResult) and line.bound is None and line.load_case is not None
        yield replace(line, bound=outcome.solutions[0].bound) if is_open and isinstance(line, CheckResult) else line


def largest_sizes(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Return lines with each size or torque told once: the largest."""
    kept = tuple(lines)
    largest: dict[object, Sizing] = {}
    for line in kept:
        if isinstance(line, Sizing):
            key = (line.check, line.where, line.what)
            largest[key] = line if key not in largest else max(line, largest[key], key=lambda each: each.value)
    return tuple(line for line in kept if not isinstance(line, Sizing) or line in largest.values())
