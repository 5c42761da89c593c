"""A car before and after a change, in words and numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from framecheck.output.display import Units, shown_unit
from framecheck.output.html_report.tables import HtmlTable, numbers, words
from framecheck.output.test_sheet.measured_wording import plus_minus, stiffness_kind
from framecheck.rig.change import BeforeAndAfter, Ratio


def lines(found: BeforeAndAfter, units: Units) -> Iterator[str]:
    """Yield how the stiffness changed."""
    kind, whole = stiffness_kind(found.before), found.whole
    label = shown_unit(kind, units).label
    both = f"{plus_minus(whole.before, kind, units)} {label} before, {plus_minus(whole.after, kind, units)} {label} after"
    yield f"Stiffness {both} the change: {ratio_words(whole)}."
    if whole.expected is not None and found.before.sheet.case.title != found.after.sheet.case.title:
        yield f"By the two files {whole.expected:.3f} times was expected."
    yield (
        "Same rig: what force, arm and distances are off by is off alike and drops out; the ratio is surer than either number."
        if found.same_rig
        else "NOT THE SAME RIG: what force, arm and distances may be off by is counted for both."
    )


def ratio_words(of: Ratio) -> str:
    """Return a ratio with two standard deviations, and whether it tells a difference."""
    said = f"{of.value:.3f} ± {2 * of.sigma:.3f} times"
    if not of.is_told:
        return f"{said}; no difference is told by these readings"
    return f"{said}, {abs(100 * (of.value - 1)):.1f} % {'stiffer' if of.value > 1 else 'SOFTER'}"


def table(found: BeforeAndAfter, units: Units) -> HtmlTable:
    """Return the ratio pair by pair, from the held end."""
    kind = stiffness_kind(found.before)
    rows = tuple(cells(each, kind, units) for each in (found.whole, *found.pairs))
    label = shown_unit(kind, units).label
    headings = (*words("from the held end to"), *numbers(f"before, {label}", f"after, {label}", "ratio", "±"))
    return HtmlTable("Before and after", headings, rows)


def cells(each: Ratio, kind: str, units: Units) -> tuple[str, ...]:
    """Return one ratio as the cells of its row."""
    both = (plus_minus(of, kind, units) for of in (each.before, each.after))
    return each.name or "whole", *both, f"{each.value:.3f}", f"{2 * each.sigma:.3f}"


def record(found: BeforeAndAfter) -> dict[str, Any]:
    """Return a change as plain values."""
    return {
        "same_rig": found.same_rig,
        "ratio": found.whole.value,
        "sigma": found.whole.sigma,
        "expected_by_the_files": found.whole.expected,
        "pairs": [{"name": each.name, "ratio": each.value, "sigma": each.sigma} for each in found.pairs],
    }
