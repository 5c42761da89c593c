"""Rows of a study as text and back; what a person reads of a study."""

from __future__ import annotations

import csv
import json
from dataclasses import replace

import pytest

from framecheck.model.study import Aims
from framecheck.output.charts.on_axes import Picture
from framecheck.output.charts.study_figures import front_of, pareto_figure, reached
from framecheck.output.display import Units
from framecheck.output.rows_text import CsvLines, JsonLines, RowForm, RowLines, rows_of
from framecheck.output.study_text import StudyRemarks, as_text
from framecheck.study.measure import VariantRow
from framecheck.study.sweep import shortlist
from tests.unit.study.studies import WALLS, rows_of_walls, study_file

FORM = RowForm("abc123", ("sections.rail tube.wall",))
BOTH = [JsonLines(FORM), CsvLines(FORM)]
ODD = [
    VariantRow(0, ("=1+1",), "every check", mass=1.25e-300, safety_factor=999.0),
    VariantRow(1, ('3 mm, "thick" \u00bd',), "every check", fault="a 'wall', so to say"),
]


@pytest.mark.parametrize("lines", BOTH, ids=["json", "csv"])
@pytest.mark.parametrize("rows", [list(rows_of_walls()), ODD], ids=["walls", "odd"])
def test_rows_come_back_as_they_went(lines: RowLines, rows: list[VariantRow]) -> None:
    texts = [lines.line(row) for row in rows]
    assert all(text.count("\n") == 1 for text in texts)
    assert rows_of(lines, texts) == tuple(rows)


@pytest.mark.parametrize("lines", BOTH, ids=["json", "csv"])
def test_rows_after_a_damaged_one_are_not_taken(lines: RowLines) -> None:
    texts = [lines.line(row) for row in rows_of_walls()]
    texts[3] = texts[3][: len(texts[3]) // 2] + "\n"
    assert rows_of(lines, texts) == rows_of_walls()[:3]


def test_csv_and_json_say_the_same_to_other_readers() -> None:
    """Read by Python's csv and json alone."""
    heads = next(csv.reader([CsvLines(FORM).head()]))
    for row in rows_of_walls():
        cells = dict(zip(heads, next(csv.reader([CsvLines(FORM).line(row)])), strict=True))
        plain = json.loads(JsonLines(FORM).line(row))
        assert list(cells) == list(plain)
        assert float(cells["mass_kg"]) == plain["mass_kg"] == row.mass
        assert cells["where"] == plain["where"]


def test_no_cell_starts_a_formula() -> None:
    assert "'=1+1" in CsvLines(FORM).line(ODD[0])


def told(rows: list[VariantRow], width: int = 80, units: Units = Units.SI) -> str:
    file = study_file(WALLS)
    return as_text(file.study, shortlist(rows, 5), StudyRemarks(()), "Take care.", units, width)


def test_the_lightest_that_passes_is_marked_first() -> None:
    text = told(list(rows_of_walls()))
    assert "5 of 6 variants miss no target that was judged. The lightest is variant 2, 28.5" in text
    assert text.index("*2") < text.index(" 3 ")
    assert "Near misses, no heavier than that one" in text
    assert max(map(len, text.splitlines())) <= 80
    assert text.index("Take care.") < text.index("variant 2")


def test_a_target_nobody_meets_says_how_near_the_best_came_and_what_governs_it() -> None:
    halved = [
        replace(row, governs=replace(row.governs, ratio=row.governs.ratio / 3))
        for row in rows_of_walls()
        if row.governs
    ]
    text = told(halved)
    assert "NO VARIANT MEETS EVERY TARGET (6 were run). Variant 6 comes nearest" in " ".join(text.split())
    assert "safety factor (yield) 3.16 of 1.50" in " ".join(text.split())


def test_units_change_what_is_shown() -> None:
    """28.509 kg / 0.45359237 kg/lb = 62.85 lb."""
    assert "62.85" in told(list(rows_of_walls()), units=Units.US)


def test_the_front_of_the_plot_only_rises() -> None:
    front = front_of(rows_of_walls(), lambda row: row.safety_factor)
    assert front == sorted(front)
    assert [high for _, high in front] == sorted(high for _, high in front)


def test_the_plot_is_the_same_each_time() -> None:
    found = shortlist(rows_of_walls(), 5)
    first = pareto_figure(found, Aims(safety_factor=1.5), Picture("svg"), Units.SI)
    assert first == pareto_figure(found, Aims(safety_factor=1.5), Picture("svg"), Units.SI)


def test_the_plot_puts_what_passes_over_its_line() -> None:
    """A variant reaches all that is asked where it passes, and less where it does not: the line stands at 100 %."""
    rows = [*rows_of_walls(), *(replace(row, governs=replace(row.governs, ratio=0.9)) for row in rows_of_walls() if row.governs)]
    assert {row.passes for row in rows} == {True, False}
    for row in rows:
        up = reached(row)
        assert up is not None
        assert (up >= 100.0) is row.passes
