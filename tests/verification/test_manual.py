"""The verification manual itself: what it must hold, and that it notices."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from tests.verification import manual
from tests.verification import test_front_door as front_door
from tests.verification.manual import COUNTS, PAGE, Count, Entry, Held, Kind, Row, counted, page, strays

HERE = Path(__file__).parent


def test_the_page_counts_enough_values_from_outside() -> None:
    # asked of the project: at least 200 printed values, at least 120 values through the front door
    told = re.findall(r"^\| ([a-z ]+) \| .+ \| (\d+) \| (\d+) \|$", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    values = {Kind(name): int(count) for name, count, _ in told}
    assert set(values) == set(Kind)
    shown = yaml.safe_load(COUNTS.read_text(encoding="utf-8"))["values"]
    assert {(kind, each["values"], each["front door"]) for kind, each in shown.items()} == {(k, int(v), int(d)) for k, v, d in told}
    assert values[Kind.PRINTED] >= 200
    assert sum(int(door) for _, _, door in told) >= 120


def test_a_library_is_named_with_its_version() -> None:
    named = re.findall(r"^\*\*.+\*\* \(library.*?\)\. (.*)$", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert named
    assert [source for source in named if not re.search(r"\d\.\d", source)] == []


def test_zeros_of_a_check_count_once_and_a_value_may_have_its_own_kind() -> None:
    rows = (Row("1", 0.0, 0.0, 1e-9), Row("2", 0.0, 0.0, 1e-9), Row("3", 1.0, 1.0, 1e-9), Row("4", 2.0, 2.0, 1e-9, Kind.PRINTED, True))
    found = counted([Entry("test_x.py", "Chapter.", "test_a_thing", Kind.FORMULA, "a source", rows)])
    assert (found[Kind.FORMULA], found[Kind.PRINTED]) == (Count(2, 0), Count(1, 1))
    assert sum(each.values for each in found.values()) == 3


def test_every_check_of_the_page_is_a_test_and_every_test_is_on_the_page() -> None:
    tests = {
        f"{file.name}::{name}"
        for file in HERE.glob("test_*.py")
        for name in re.findall(r"^def (test_\w+)\(\s*held: Held", file.read_text(encoding="utf-8"), re.MULTILINE)
    }
    made = {f"{front_door.__name__.rsplit('.', 1)[-1]}.py::{name}" for name in front_door.MADE}
    assert set(manual.written()) == tests | made


def test_a_wrong_number_and_a_drifting_one_fail(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(manual, "written", lambda: {"a": {"1": 3.0, "2": 3.0, "3": 4.0}})
    holding = Held("a", "")
    holding(3.0, 3.0, rel=1e-3)
    with pytest.raises(AssertionError, match="comparison failed"):
        holding(3.1, 3.0, rel=1e-3)
    with pytest.raises(AssertionError, match="the manual says 4"):
        holding(3.0, 3.0, rel=1e-3)
    assert strays(holding) == ["2", "3"]


def test_a_long_array_gives_its_worst_element() -> None:
    holding = Held("none", "x")
    holding([1.0] * 40 + [1.005], [1.0] * 41, rel=0.01)
    assert [(row.label, row.ours) for row in holding.rows] == [("x: 1, worst of 41", 1.005)]


def test_the_page_shows_text_as_text_and_noise_as_nothing() -> None:
    rows = (Row("1", 2.0000000001, 2.0, 1e-7), Row("2", 1e-17, 0.0, 1e-9), Row("3", 2.02, 2.0, 0.01))
    text = page([Entry("test_x.py", "Chapter.", "test_a_thing", Kind.DERIVED, "a <b> c_d", rows)])
    assert "**A thing** (derived). a \\<b\\> c\\_d" in text
    assert "| 1 | 2 | 2 | under 1e-6 |" in text
    assert "| 2 | 0 | 0 | within tolerance |" in text
    assert "| 3 | 2.02 | 2 | +1 % |" in text
