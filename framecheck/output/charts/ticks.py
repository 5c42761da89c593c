"""Where an axis has its numbers."""

from __future__ import annotations

from math import ceil, floor, log10

from framecheck.output.charts.chart import Range

TICK_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def step_for(wide: float, most: int) -> float:
    """Return a round step (1, 2, 2.5 or 5 times a power of ten) that gives at most `most` intervals."""
    least = wide / most
    power = 10.0 ** floor(log10(least))
    return next(step for step in TICK_STEPS if step * power >= least * (1 - 1e-9)) * power


def ticks(ends: Range, most: int) -> list[tuple[float, str]]:
    """Return the places within an axis's ends and their numbers, all with the same decimals."""
    low, high = min(ends), max(ends)
    step = step_for(high - low, most)
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    places = [number * step + 0.0 for number in range(first, last + 1)]
    return [(place, tick_text(place, step)) for place in places]


def tick_text(place: float, step: float) -> str:
    """Return a number with the decimals that its step needs; a true minus sign."""
    decimals = next(d for d in range(20) if abs(step * 10**d - round(step * 10**d)) < 1e-6 * step * 10**d)
    return f"{place:.{decimals}f}".replace("-", "\N{MINUS SIGN}")
