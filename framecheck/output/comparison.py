"""A comparison as text: a table, and one sentence in words."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.output.display import Units, number, shown_unit
from framecheck.output.text_table import Column, table
from framecheck.study.compare import ComparedRow

NOT_KNOWN = "-"


def as_text(names: Sequence[str], rows: Sequence[ComparedRow], units: Units, width: int = 80) -> str:
    """Return the table: one line a quantity, its unit, each value, and each ratio to the first."""
    letters = [chr(ord("A") + i) for i in range(len(names))]
    key = "\n".join(f"{letter} = {name}" for letter, name in zip(letters, names, strict=True))
    heads = [Column(letter, True) for letter in letters] + [Column(f"{letter}/A", True) for letter in letters[1:]]
    body = [line(row, units) for row in rows]
    return f"{key}\n\n{table([Column('quantity'), Column('unit'), *heads], body, width)}"


def line(row: ComparedRow, units: Units) -> list[str]:
    """Return the cells of one quantity."""
    unit = shown_unit(row.quantity, units)
    values = [NOT_KNOWN if value is None else number(value / unit.size, unit.digits) for value in row.values]
    ratios = [NOT_KNOWN if ratio is None else number(ratio, 3) for ratio in row.ratios[1:]]
    return [row.name, unit.label, *values, *ratios]


def in_words(names: Sequence[str], rows: Sequence[ComparedRow]) -> str:
    """Return one sentence for each one after the first."""
    return "\n".join(f"{name} against {names[0]}: {clauses(rows, i)}." for i, name in enumerate(names) if i > 0)


def clauses(rows: Sequence[ComparedRow], i: int) -> str:
    """Return "1.23 times the weight, half the stiffness ..." of one against the first."""
    said = [(row.word, row.ratios[i]) for row in rows if row.word]
    return ", ".join(f"{times(ratio)} the {word}" for word, ratio in said if ratio is not None)


def times(ratio: float) -> str:
    """Return a ratio in words."""
    if abs(ratio - 1) < 0.005:
        return "1.00 times"
    return f"{number(ratio, 3)} times"
