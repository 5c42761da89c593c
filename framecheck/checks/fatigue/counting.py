"""A duty as blocks of equal swings between two load cases; recorded histories are counted by the rainflow method."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from framecheck.model.duty import Duty, Event, History, Per
from framecheck.value_class import value_class


@value_class
class Block:
    """Equal swings: `cycles` per km or year (the duty's own unit of life).

    A swing goes over `spread` of the way from load case `low` to `high` (numbers; None: nothing on the frame), about `middle` of it.
    """

    name: str
    high: int | None
    low: int | None
    spread: float
    middle: float
    cycles: float


def rainflow_cycles(values: tuple[float, ...]) -> tuple[tuple[float, float, float], ...]:
    """Return (range, mean, count) of each counted cycle, halves as 0.5. ASTM E1049-85, 5.4.4, by the package `rainflow`."""
    import rainflow

    return tuple((float(span), float(mean), float(count)) for span, mean, count, _, _ in rainflow.extract_cycles(values))


def rate(cycles: float, per: Per, duty: Duty) -> float | None:
    """Return cycles per unit of the duty's life; None where km and years can't be joined."""
    if per is duty.life_in:
        return cycles
    if duty.km_per_year is None:
        return None
    return cycles / duty.km_per_year if per is Per.YEAR else cycles * duty.km_per_year


def blocks(duty: Duty, cases: Mapping[str, int]) -> tuple[Block, ...]:
    """Return the duty's blocks; cases: load case names to their numbers. Call `faults` first."""
    return tuple(block for event in duty.events for block in of_event(event, duty, cases))


def of_event(event: Event | History, duty: Duty, cases: Mapping[str, int]) -> Iterator[Block]:
    """Yield the blocks of one event: one, or one a counted cycle of its record."""
    high, low = cases.get(event.high), None if event.low is None else cases.get(event.low)
    if isinstance(event, Event):
        yield Block(event.name, high, low, event.share, event.share / 2, rate(event.cycles, event.per, duty) or 0.0)
        return
    each = rate(event.repeats, event.per, duty) or 0.0
    for spread, middle, count in rainflow_cycles(event.values):
        yield Block(event.name, high, low, spread, middle, count * each)


def faults(duty: Duty, cases: Mapping[str, int]) -> Iterator[str]:
    """Yield what keeps the duty from being counted, in words."""
    for event in duty.events:
        for name in (event.high, event.low):
            if name is not None and name not in cases:
                yield f"event '{event.name}' names load case '{name}', which is not solved"
        if event.per is not duty.life_in and duty.km_per_year is None:
            yield f"event '{event.name}' counts per {event.per.value}, the life is in {duty.life_in.value}: give the km per year"
