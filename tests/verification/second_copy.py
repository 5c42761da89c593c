"""The second copy of every number of sections/, shared/ and the constants of the checks: tables/*.csv, typed from the sources.

A row: table and name as the first copy has them, the key, the value and its unit as the source prints it, the source with edition and
place, who can look it up, and how it was seen: "opened" with the month (that is where the value was read off), "read before" (in a
copy of the source when the first copy was typed: nobody opened it again for this), "from memory" (nobody could open it), "common
practice" (no source). Write a new row from the source, not from the first copy: two copies of one slip prove nothing.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
TABLES = Path(__file__).parent / "tables"
IDENTITY = {
    "gauges": ("gauge", "scale"), "holes": ("diameter",), "edges": ("diameter",), "least legs": ("thickness",),
    "grades": ("name", "largest diameter"), "web crippling": ("fastened", "flanges", "loading", "location"), "load cases": ("kind",),
}  # fmt: skip
"""What names a row of a table; "name" where it is not listed."""
WORDS = frozenset({
    "about", "basis", "buckling class", "channel", "confidence", "detail", "fastened", "flanges", "joined", "kind", "like", "loading",
    "location", "material", "metal", "name", "needs", "on", "quantity", "range", "reason", "rule", "scale", "seen", "shape",
    "source", "standard", "stress", "with",
})  # fmt: skip
"""Keys whose values are words."""
AMOUNT = re.compile(r"([-+]?(?:\d+ )?\d[\d./]*(?:e[-+]?\d+)?)\s*(.*)")


class Seen(Enum):
    """How a source was seen."""

    OPENED = "opened"
    BEFORE = "read before"
    MEMORY = "from memory"
    PRACTICE = "common practice"


@dataclass(frozen=True, slots=True)
class Held:
    """A number of the second copy with all that is said of it."""

    value: float
    unit: str
    source: str
    edition: str
    place: str
    who: str
    seen: Seen


Key = tuple[str, str]
"""Row ("bolts grades: 8.8 to 16 mm") and key ("proof")."""
Number = tuple[float, str]
"""A value and its unit."""


def number(text: str) -> Number | None:
    """Return "1 1/2 in" as (1.5, "in"), None where the text is no number."""
    found = AMOUNT.fullmatch(text.strip())
    if found is None:
        return None
    try:
        return float(sum(Fraction(part) for part in found[1].split())), found[2]
    except ValueError:
        return None


def first_copy(file: str, tables: Mapping[str, Any]) -> Iterator[tuple[Key, Number]]:
    """Yield every number of a table file that was read, by row and key."""
    for table, rows in tables.items():
        for row in named(rows):
            name = " ".join(str(row[key]) for key in IDENTITY.get(table, ("name",))) if table != "sections" else row["name"]
            for key, value in leaves(row):
                found = None if value is None else number(str(value))
                if found is not None:
                    yield (f"{file} {table}: {titled(table, row, name)}", key), found


def named(rows: Any) -> Iterator[dict[str, Any]]:
    """Yield the rows of a list, or those of a block with their names."""
    yield from ({"name": name, **row} for name, row in rows.items()) if isinstance(rows, dict) else rows


def titled(table: str, row: Mapping[str, Any], name: str) -> str:
    """Return what a row is called in the second copy."""
    match table:
        case "grades":
            return f"{row['name']} to {row['largest diameter']}"
        case "web crippling":
            return ", ".join(str(row[key]) for key in IDENTITY[table])
        case "gauges":
            return f"{row['gauge']} ga {row['scale']}"
        case _:
            return name


def leaves(row: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """Yield the values of a row that may be numbers, those of factors by "factor, key"."""
    for key, value in row.items():
        if key == "factors":
            for factor, parts in value.items():
                yield from ((f"{factor}, {name}", each) for name, each in leaves(parts))
        elif key == "for":
            yield from ((f"for {word}", each) for word, each in value.items())
        elif key not in WORDS:
            yield key, value


@cache
def second_copy() -> Mapping[Key, Held]:
    """Return the whole second copy of the tables by row and key."""
    found: dict[Key, Held] = {}
    for path in sorted(TABLES.glob("*.csv")):
        if path.stem != "constants":
            found |= dict(read(path))
    return found


def read(path: Path) -> Iterator[tuple[Key, Held]]:
    """Yield the rows of one file of the second copy; a row that stands twice: the last one."""
    with path.open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            value = number(row["value"])
            assert value is not None, row
            seen = next(each for each in Seen if row["seen"].startswith(each.value))
            held = Held(value[0], row["unit"], row["source"], row["edition"], row["place"], row["who"], seen)
            yield (f"{path.stem} {row['row']}", row["key"]), held


def differences(file: str, tables: Mapping[str, Any]) -> list[str]:
    """Return what differs between a table file, read, and its second copy: numbers without a second row, and other values."""
    held = second_copy()
    told = []
    for key, (value, unit) in first_copy(file, tables):
        other = held.get(key)
        if other is None:
            told.append(f"{key[0]}, {key[1]}: {value:g} {unit} has no second row")
        elif (other.unit, other.value) != (unit, value):
            told.append(f"{key[0]}, {key[1]}: {value:g} {unit}, the second copy has {other.value:g} {other.unit}")
    return told
