"""Numbers side by side as text: sections or cases compared, and what an independent library makes of them."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import Any

from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    factor,
    listed,
    number,
    shown_unit,
    table,
    titled,
    wrapped,
)
from framecheck.output.wording import percent
from framecheck.study.compare import COUNT, FACTOR, SHARE, ComparedRow
from framecheck.study.second_opinion_section import NEAR, Difference, SecondOpinion

NOT_KNOWN = "-"
WORSE = 1.005
"""A factor from which on a quantity is said to be worse: what three digits show."""
MOST_WORSE = 6


def comparison_text(names: Sequence[str], rows: Sequence[ComparedRow], units: Units, width: int = 80) -> str:
    """Return the table: one line a quantity, its unit, each value, and each ratio to the first."""
    letters = [chr(ord("A") + i) for i in range(len(names))]
    key = "\n".join(f"{letter} = {name}" for letter, name in zip(letters, names, strict=True))
    heads = [TextColumn(letter, True) for letter in letters] + [TextColumn(f"{letter}/A", True) for letter in letters[1:]]
    body = [line(row, units) for row in rows]
    return f"{key}\n\n{table([TextColumn('quantity'), TextColumn('unit'), *heads], body, width)}"


def line(row: ComparedRow, units: Units) -> list[str]:
    """Return the cells of one quantity; LOW stands beside what misses its target."""
    unit = f"asked {asked_words(row)}" if row.quantity == FACTOR else unit_words(row, units)
    marks = [" LOW" if low else "" for low in row.low] or [""] * len(row.values)
    values = [f"{value_words(row, value, units)}{mark}" for value, mark in zip(row.values, marks, strict=True)]
    ratios = [NOT_KNOWN if ratio is None else number(ratio, 3) for ratio in row.ratios[1:]]
    return [row.name, unit, *values, *ratios]


def unit_words(row: ComparedRow, units: Units) -> str:
    """Return the unit of a quantity."""
    return "" if row.quantity in (COUNT, FACTOR, SHARE) else shown_unit(row.quantity, units).label


def asked_words(row: ComparedRow) -> str:
    """Return what is asked of each, once where it is the same."""
    return "; ".join(dict.fromkeys(NOT_KNOWN if each is None else factor(each) for each in row.asked))


def value_words(row: ComparedRow, value: float | None, units: Units) -> str:
    """Return one value of a quantity, without its unit."""
    if value is None:
        return NOT_KNOWN
    if row.quantity == COUNT:
        return f"{value:.0f}"
    if row.quantity == FACTOR:
        return factor(value)
    if row.quantity == SHARE:
        return percent(value)
    unit = shown_unit(row.quantity, units)
    return number(value / unit.size, unit.digits)


def in_words(names: Sequence[str], rows: Sequence[ComparedRow], units: Units) -> str:
    """Return for each one after the first what got worse, then the whole, in words."""
    return "\n".join(
        f"{name} against {names[0]}: {got_worse(rows, i, units)}. In all: {clauses(rows, i)}."
        for i, name in enumerate(names)
        if i > 0
    )


def got_worse(rows: Sequence[ComparedRow], i: int, units: Units) -> str:
    """Return what is worse than in the first, the worst first."""
    worse = sorted((row for row in rows if row.worsening(i) > WORSE), key=lambda row: -row.worsening(i))
    if not worse:
        return "nothing compared is worse"
    said = "; ".join(f"{row.word or row.name} {change(row, i, units)}" for row in worse[:MOST_WORSE])
    more = f"; and {len(worse) - MOST_WORSE} more in the table" if len(worse) > MOST_WORSE else ""
    return f"WORSE: {said}{more}"


def change(row: ComparedRow, i: int, units: Units) -> str:
    """Return two values, the first one's last, with their unit."""
    unit = unit_words(row, units)
    return f"{value_words(row, row.values[i], units)} for {value_words(row, row.values[0], units)} {unit}".rstrip()


def clauses(rows: Sequence[ComparedRow], i: int) -> str:
    """Return "1.23 times the weight, half the stiffness ..." of one against the first."""
    said = [(row.word, row.ratios[i]) for row in rows if row.word]
    return ", ".join(f"{times(ratio)} the {word}" for word, ratio in said if ratio is not None)


def times(ratio: float) -> str:
    """Return a ratio in words."""
    if abs(ratio - 1) < 0.005:
        return "1.00 times"
    return f"{number(ratio, 3)} times"


def told_apart(titles: Sequence[str], files: Sequence[str]) -> tuple[str, ...]:
    """Return titles; where two are equal, their files."""
    return tuple(title if list(titles).count(title) == 1 else file for title, file in zip(titles, files, strict=True))


NOISE = 1e-6
"""Numbers under so much of what they are measured by are shown as 0."""


OF_A_CASE = "Per cent are of the largest number of its kind in the same load case."
OF_A_SECTION = "Per cent are of our own number."


def second_opinion_text(opinion: SecondOpinion, units: Units, width: int) -> str:
    """Return the opinion in words and a table, no wider than `width`."""
    parts = [wrapped(headline(opinion), width)]
    measured = OF_A_CASE if has_places(opinion) else OF_A_SECTION
    parts += [numbers_text(opinion, units, width), wrapped(measured, width)] if opinion.differences else []
    parts += [wrapped(f"Not compared: {each}.", width, "  ") for each in opinion.left_out]
    parts += [wrapped(f"Beside it: {opinion.note}.", width, "  ")] if opinion.note else []
    return titled(f"Second opinion: {opinion.library} {opinion.version}".rstrip(), "\n".join(parts))


def has_places(opinion: SecondOpinion) -> bool:
    """Return whether its numbers stand at places of a frame, rather than for a section as a whole."""
    return any(each.where != opinion.subject for each in opinion.differences)


def numbers_text(opinion: SecondOpinion, units: Units, width: int) -> str:
    """Return the numbers as a table, or as a list where a table would be wider than `width`."""
    rows = [row(each, units) for each in opinion.differences]
    under = [each.where for each in opinion.differences] if has_places(opinion) else ()
    columns = (TextColumn("quantity"), TextColumn("ours", True), TextColumn("theirs", True), TextColumn("apart", True))
    shown = table(columns, rows, width, under)
    if max(map(len, shown.splitlines())) <= width:
        return shown
    places = [f"; {where}" for where in under] or [""] * len(rows)
    lines = ((*cells, where) for cells, where in zip(rows, places, strict=True))
    return listed((f"{what}: ours {ours}, theirs {theirs}, apart {apart}{where}" for what, ours, theirs, apart, where in lines), width)


def headline(opinion: SecondOpinion) -> str:
    """Return the sentence above the table."""
    if not opinion.differences:
        return f"{opinion.subject}: could not be compared."
    worst = opinion.differences[0]
    apart = difference_percent(worst)
    says = f"the largest difference is {apart}, in {worst.quantity}" if isfinite(worst.share) else f"{apart}, in {worst.quantity}"
    if opinion.agrees:
        return f"Compared: {opinion.compared}. Both agree: {says}."
    fault = f"more than {100 * NEAR:g} % is a fault in one of the two: please report it"
    return f"Compared: {opinion.compared}. THEY DIFFER: {says}; {fault}."


def row(each: Difference, units: Units) -> tuple[str, str, str, str]:
    """Return the cells of one quantity."""
    ours, theirs = (bare(without_noise(value, each.size), each.kind, units) for value in (each.ours, each.theirs))
    return f"{each.quantity}, {shown_unit(each.kind, units).label}", ours, theirs, difference_percent(each)


def without_noise(value: float, size: float) -> float:
    """Return a number, 0 where it is nothing but rounding."""
    return 0.0 if abs(value) <= NOISE * size else value


def difference_percent(each: Difference) -> str:
    """Return how far theirs is from ours; in words where there is nothing to measure it by."""
    if not isfinite(each.share):
        return "ours is 0"
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
                "difference": each.share if isfinite(each.share) else None,
            }
            for each in opinion.differences
        ],
        "not_compared": list(opinion.left_out),
        "note": opinion.note,
    }
