"""A second opinion as text and as JSON: what an independent library makes of it, the largest differences first."""

from __future__ import annotations

from typing import Any

from framecheck.output.display import Units, bare, shown_unit
from framecheck.output.text_table import Column, table, titled, wrapped
from framecheck.study.second_opinion.opinion import NEAR, Difference, SecondOpinion

NOISE = 1e-6
"""Numbers under so much of what they are measured by are shown as 0."""


def as_text(opinion: SecondOpinion, units: Units, width: int) -> str:
    """Return the opinion in words and a table, no wider than `width`."""
    rows = [row(each, units) for each in opinion.differences]
    columns = (Column("quantity"), Column("ours", True), Column("theirs", True), Column("unit"), Column("difference", True))
    under = [each.where for each in opinion.differences] if any(each.where != opinion.subject for each in opinion.differences) else ()
    parts = [wrapped(headline(opinion), width)]
    parts += [table(columns, rows, width, under)] if rows else []
    parts += [wrapped(f"Not compared: {each}.", width, "  ") for each in opinion.left_out]
    parts += [wrapped(f"Beside it: {opinion.note}.", width, "  ")] if opinion.note else []
    return titled(f"Second opinion: {opinion.library} {opinion.version}".rstrip(), "\n".join(parts))


def headline(opinion: SecondOpinion) -> str:
    """Return the sentence above the table."""
    if not opinion.differences:
        return f"{opinion.subject}: nothing to compare."
    worst = opinion.differences[0]
    says = f"the largest difference is {percent(worst)}, in {worst.quantity}"
    if opinion.agrees:
        return f"Compared: {opinion.compared}. Both agree: {says}."
    fault = f"more than {100 * NEAR:g} % is a fault in one of the two: please report it"
    return f"Compared: {opinion.compared}. THEY DIFFER: {says}; {fault}."


def row(each: Difference, units: Units) -> tuple[str, ...]:
    """Return the cells of one quantity."""
    numbers = (bare(without_noise(value, each.size), each.kind, units) for value in (each.ours, each.theirs))
    return each.quantity, *numbers, shown_unit(each.kind, units).label, percent(each)


def without_noise(value: float, size: float) -> float:
    """Return a number, 0 where it is nothing but rounding."""
    return 0.0 if abs(value) <= NOISE * size else value


def percent(each: Difference) -> str:
    """Return how far theirs is from ours."""
    return "under 0.0001 %" if abs(each.share) < 1e-6 else f"{100 * each.share:+.2g} %"


def record(opinion: SecondOpinion) -> dict[str, Any]:
    """Return the opinion as plain values, SI."""
    return {
        "library": opinion.library,
        "version": opinion.version,
        "subject": opinion.subject,
        "compared": opinion.compared,
        "agrees": opinion.agrees,
        "differences": [
            {
                "quantity": each.quantity,
                "where": each.where,
                "ours": each.ours,
                "theirs": each.theirs,
                "measured_by": each.size,
                "difference": each.share,
            }
            for each in opinion.differences
        ],
        "not_compared": list(opinion.left_out),
        "note": opinion.note,
    }
