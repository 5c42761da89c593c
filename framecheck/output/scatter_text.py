"""What scatter does to a variant, in words."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.study import Study
from framecheck.output.display import factor
from framecheck.study.engines import RareMiss
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


def rare_lines(study: Study, found: RareMiss | None) -> Iterator[str]:
    """Yield the likeliest miss, what counts most in it, and the chance about it."""
    if found is None or study.scatter is None:
        return
    point, about, tolerances = found.point, found.about, study.scatter.tolerances
    held = ", ".join(
        f"{each.field} {shortened(amount)}" for each, amount in zip(tolerances, found.amounts, strict=True)
    )
    if not point.settled:
        yield f"No likeliest miss was found in {point.runs} runs; as far as the search came: {held}."
        return
    counted = sorted(zip(point.shares.tolist(), tolerances, strict=True), key=lambda pair: -pair[0])
    shares = ", ".join(f"{each.field} {100 * share:.0f} %" for share, each in counted)
    yield f"The likeliest miss: {held}; {point.index:.2f} standard deviations away, to first order a chance of {point.chance:.1e}."
    yield f"What counts in it: {shares}."
    yield (
        f"Chance of a missed target from {about.draws} draws about it: {about.chance:.2g}, standard error {about.error:.1g}. "
        f"Seed {study.scatter.seed}."
    )


def shortened(amount: str) -> str:
    """Return an amount with four digits; what is no number stays as it is."""
    number, blank, unit = amount.partition(" ")
    try:
        return f"{float(number):.4g}{blank}{unit}"
    except ValueError:
        return amount


def percent(share: float) -> str:
    """Return a share in per cent."""
    return f"{100 * share:.2g} %"
