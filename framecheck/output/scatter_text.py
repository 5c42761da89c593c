"""What scatter does to a variant, in words."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.output.display import factor
from framecheck.study.scatter import Scattered


def scatter_lines(found: Scattered | None) -> Iterator[str]:
    """Yield the chance of a missed target with its sampling error, and the spread of the lowest safety factor."""
    if found is None:
        return
    yield (
        f"{found.missed} of {found.draws} draws miss a target: chance {percent(found.chance)}, between {percent(found.low)} and "
        f"{percent(found.high)} (Wilson's interval, 95 % sure). Seed {found.seed}."
    )
    told = ", ".join(f"{factor(value)} at {100 * share:g} %" for share, value in found.quantiles)
    yield f"The lowest safety factor: mean {found.mean:.3f}, standard deviation {found.deviation:.3f}; below {told} of draws."
    if found.faulty:
        yield f"{found.faulty} of the draws could not be run; they count as missed."


def percent(share: float) -> str:
    """Return a share in per cent."""
    return f"{100 * share:.2g} %"
