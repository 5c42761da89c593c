"""The optimum between the sizes of a study, in words."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.study import Study
from framecheck.output.display import Units, with_unit
from framecheck.output.scatter_text import shortened
from framecheck.study.optimise import Optimum
from framecheck.study.shortlist import Shortlist


def optimum_lines(study: Study, found: Optimum | None, listed: Shortlist, units: Units = Units.SI) -> Iterator[str]:
    """Yield the lightest sizes between those of the ranges, and what they save over the ranked variants."""
    if found is None:
        yield "Nothing to look for: no field is varied by a range (from and to)."
        return
    row = found.row
    sizes = ", ".join(f"{each.field} {shortened(text)}" for each, text in zip(study.varied, row.values, strict=True))
    if not row.passes or row.mass is None:
        yield f"{found.runs} further variants were solved and each misses a target; the nearest: {sizes}."
        return
    yield f"The lightest that misses no target: {sizes}: {with_unit(row.mass, 'mass', units)} ({found.runs} variants solved)."
    best = listed.winners[0].mass if listed.winners else None
    if best is not None:
        saved = best - row.mass
        yield (
            f"It saves {with_unit(saved, 'mass', units)} over the lightest ranked; a shop can buy the ranked one."
            if saved > 0
            else ("Nothing lighter than the lightest ranked was found between the sizes.")
        )
