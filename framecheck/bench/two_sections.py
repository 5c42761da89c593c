"""Two sections of the library side by side, for the page."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.cli.context import section_store
from framecheck.cli.files import library
from framecheck.output.comparison import in_words, line
from framecheck.output.display import Units
from framecheck.reading.section_file import section_named
from framecheck.section.analysis import section_properties
from framecheck.study.compare import compare_sections
from framecheck.value_class import value_class


@value_class
class Compared:
    """A table and what it says in sentences."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    said: str


def compared(first: str, second: str, units: str) -> Compared:
    """Return two sections side by side; InputError where there is none of a name."""
    names = (first.strip(), second.strip())
    shown = Units.SI if units == "si" else Units.US
    found = [section_properties(section_named(name, library()), section_store()) for name in names]
    rows = compare_sections(found)
    return Compared(("quantity", "unit", *names, "second / first"), [line(row, shown) for row in rows], in_words(names, rows, shown))
