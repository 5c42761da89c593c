"""The table of what acts on the frame in a load case, forces and moments, the largest by name."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.display import Units
from framecheck.output.html_report.tables import NONE, HtmlTable, bare_forces, label, numbers, words
from framecheck.results.free_body import FreeBody, Push, plain

MOST_PUSHES = 8
"""So many stand in the table by name, the largest; the others stand together."""


def force_table(body: FreeBody, load_case: str, units: Units) -> HtmlTable:
    """Return the largest forces and moments on the frame by name, the others together, and what they all come to.

    Moments have columns where one is more than rounding; they stand as they act, each about its own place.
    """
    acting, turning = by_size(body), body.turning
    has_moments = any(each.moment_shown(turning).any() for each in acting)
    first, others = acting[:MOST_PUSHES], acting[MOST_PUSHES:]
    rows = [(named(each), *cells(body, [each], units, has_moments)) for each in first]
    if others:
        rows.append((f"{len(others)} smaller ones together", *cells(body, others, units, has_moments)))
    force, moment = body.total
    rows.append(("all together", *bare_forces(force.tolist(), "force", units), *([NONE] * 3 if has_moments else [])))
    unit, turn = label("force", units), label("moment", units)
    turned = (f"about x, {turn}", f"about y, {turn}", f"about z, {turn}") if has_moments else ()
    headings = (*words("where"), *numbers(f"forward, {unit}", f"left, {unit}", f"up, {unit}", *turned))
    summed = ", ".join(bare_forces(moment.tolist(), "moment", units))
    whole = f"All moments and the forces' own, about the middle: {summed} {turn}" if has_moments else (
        f"Moments about the middle, all together: {summed} {turn}"
    )  # fmt: skip
    note = f"{whole} (0: under a thousandth of what is summed). The solution closes to {body.residual:.0e}."
    return HtmlTable(f"What acts on the frame in '{load_case}'", headings, tuple(rows), note)


def by_size(body: FreeBody) -> list[Push]:
    """Return what acts and is more than rounding, the largest first, forces and moments each beside the largest of them."""
    most, turning = most_of(body), body.turning
    sizes = [(share(each.size, most), share(float(np.linalg.norm(each.moment_shown(turning))), turning)) for each in body.pushes]
    found = [
        (max(sizes[number]), each)
        for number, each in enumerate(body.pushes)
        if plain(each.force, most).any() or each.moment_shown(turning).any()
    ]
    return [each for _, each in sorted(found, key=lambda pair: -pair[0])]


def share(size: float, most: float) -> float:
    """Return a size as a share of the largest, 0 where there is none."""
    return size / most if most > 0 else 0.0


def most_of(body: FreeBody) -> float:
    """Return the largest force, N."""
    return max((each.size for each in body.pushes), default=0.0)


def cells(body: FreeBody, pushes: Sequence[Push], units: Units, has_moments: bool) -> tuple[str, ...]:
    """Return the cells of what acts, summed; what is rounding beside the largest is 0."""
    force: Array = plain(np.sum([each.force for each in pushes], axis=0), most_of(body))
    moment: Array = plain(np.sum([each.moment for each in pushes], axis=0), body.turning)
    turned = bare_forces(moment.tolist(), "moment", units) if has_moments else ()
    return (*bare_forces(force.tolist(), "force", units), *turned)


def named(push: Push) -> str:
    """Return where something acts, and that a support does it."""
    return f"{push.where} (support)" if push.is_reaction else push.where
