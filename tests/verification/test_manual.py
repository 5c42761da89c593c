"""The verification manual itself: what it must hold, and that it notices."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.verification import manual
from tests.verification.manual import PAGE, Entry, Held, Row, Status, page, strays

HERE = Path(__file__).parent


def test_the_page_counts_enough_values_from_outside() -> None:
    # asked of the project: at least 150 independent values, at least 40 of them from libraries or published data
    counted = re.search(r"(\d+) values in \d+ checks, (\d+) of them", PAGE.read_text(encoding="utf-8"))
    assert counted is not None
    assert int(counted[1]) == sum(len(rows) for rows in manual.written().values())
    assert int(counted[1]) >= 150
    assert int(counted[2]) >= 40


def test_every_check_of_the_page_is_a_test_and_every_test_is_on_the_page() -> None:
    tests = {
        f"{file.name}::{name}"
        for file in HERE.glob("test_*.py")
        for name in re.findall(r"^def (test_\w+)\(\s*held: Held", file.read_text(encoding="utf-8"), re.MULTILINE)
    }
    assert set(manual.written()) == tests


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
    text = page([Entry("test_x.py", "Chapter.", "test_a_thing", Status.DERIVED, "a <b> c_d", rows)])
    assert "**A thing** (derived). a \\<b\\> c\\_d" in text
    assert "| 1 | 2 | 2 | under 1e-6 |" in text
    assert "| 2 | 0 | 0 | within tolerance |" in text
    assert "| 3 | 2.02 | 2 | +1 % |" in text
