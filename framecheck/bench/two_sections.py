"""Two sections of the library side by side, for the page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from framecheck.cli.context import section_store
from framecheck.cli.files import library
from framecheck.output.charts.chart import Chart, Range
from framecheck.output.charts.drawings import section_chart
from framecheck.output.charts.svg import SvgSheet, as_svg
from framecheck.output.comparison import in_words, line
from framecheck.output.display import Units
from framecheck.reading.section_file import section_named
from framecheck.section.analysis import section_properties
from framecheck.study.compare import compare_sections
from framecheck.value_class import value_class

WIDE, HIGH = 330.0, 300.0
"""Of one drawing, pixels."""


@value_class
class Compared:
    """A table, what it says in sentences, and both sections drawn to one scale, as an SVG element."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    said: str
    drawn: str


def compared(first: str, second: str, units: str) -> Compared:
    """Return two sections side by side; InputError where there is none of a name."""
    names = (first.strip(), second.strip())
    shown = Units.SI if units == "si" else Units.US
    sections = [section_named(name, library()) for name in names]
    found = [section_properties(section, section_store()) for section in sections]
    rows = compare_sections(found)
    charts = [replace(section_chart(*each, shown), title=each[0].name) for each in zip(sections, found, strict=True)]
    heads = ("quantity", "unit", *names, "second / first")
    return Compared(heads, [line(row, shown) for row in rows], in_words(names, rows, shown), to_one_scale(charts))


def to_one_scale(charts: Sequence[Chart]) -> str:
    """Return sections side by side, each in the middle of as large a piece of paper as the largest needs."""
    across, up = (max(abs(ends[1] - ends[0]) for ends in each) for each in ((c.x for c in charts), (c.y for c in charts)))
    same = tuple(replace(each, x=widened(each.x, across), y=widened(each.y, up)) for each in charts)
    return as_svg(SvgSheet(same, len(same), WIDE, HIGH), "both", "The two sections to one scale", "Their sizes stand in the drawing.")


def widened(ends: Range, length: float) -> Range:
    """Return ends of a length about the same middle, run the same way."""
    middle, half = sum(ends) / 2, length / 2
    return (middle - half, middle + half) if ends[1] > ends[0] else (middle + half, middle - half)
