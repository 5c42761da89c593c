"""What a notebook shows: tables, their arrays, pandas where there is one, text that stays text."""

from __future__ import annotations

import builtins
import sys
from html.parser import HTMLParser
from types import ModuleType

import numpy as np
import pytest

import framecheck
from framecheck.cli.files import data_folder
from framecheck.notebook import Answer, Table
from framecheck.results.summary import governing_bound

CASE = data_folder("cases") / "gearbox-crossmember.yaml"
ROWS = ({"where": "<b>", "force_n": 1.25, "left_m": None}, {"where": "rail", "force_n": -2.0, "left_m": 0.5})


@pytest.fixture(scope="module")
def answer() -> Answer:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", "")
        found: Answer = framecheck.run(CASE)
    return found


class Counted(HTMLParser):
    """Counts tags; fails on one left open."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.open.append(tag)
        self.seen.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_a_file_is_named_by_text_or_path() -> None:
    assert framecheck.read_case(CASE) == framecheck.read_case(str(CASE))


def test_run_is_a_module_and_can_be_called() -> None:
    from framecheck.run import run

    assert callable(run)
    assert callable(framecheck.run)
    assert isinstance(sys.modules["framecheck.run"], ModuleType)
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        framecheck.nothing  # noqa: B018


def test_an_answer_is_shown_with_its_caution(answer: Answer) -> None:
    shown = Counted()
    shown.feed(answer._repr_html_())
    assert shown.open == []
    assert shown.seen.count("tr") == 1 + len(answer.results.outcome.loads)
    assert "does not approve" in answer._repr_html_()
    assert "does not approve" in repr(answer)
    assert answer.sentence in repr(answer)


def test_tables_are_those_of_the_core(answer: Answer) -> None:
    checks = answer.tables["checks"]
    assert checks["safety_factor"].tolist() == [row.safety_factor for row in answer.results.rows]
    member = answer.member("crossmember")
    outcome = answer.results.outcome
    bound = outcome.solutions[governing_bound(outcome, answer.results.governing)].bound.name
    one = {"load_case": outcome.loads[0].name, "bound": bound}
    forces = answer.tables["member_forces"].where(**one)
    assert forces["bending_vertical_nm"] == pytest.approx(member.member_forces[:, 0, 4])
    with pytest.raises(KeyError, match="members are: crossmember"):
        answer.member("rail")


def test_a_table_shows_text_as_text() -> None:
    table = Table("two_rows", ROWS)
    assert "&lt;b&gt;" in table._repr_html_()
    assert "<b>" not in table._repr_html_()
    assert len(table) == 2
    assert np.isnan(table["left_m"][0])
    assert table["where"].tolist() == ["<b>", "rail"]
    assert table.where(where="rail").rows == [ROWS[1]]
    assert "first 20 of 40 rows" in Table("many", ROWS * 20)._repr_html_()


def test_pandas_is_loaded_only_when_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = ModuleType("pandas")
    fake.DataFrame = lambda rows: ("frame", rows)  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "pandas", fake)
    assert Table("t", ROWS).frame() == ("frame", list(ROWS))


def test_a_missing_pandas_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without(name: str, *rest: object, **named: object) -> object:
        if name == "pandas":
            raise ImportError(name)
        return real(name, *rest, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(ImportError, match="pip install pandas"):
        Table("t", ROWS).frame()
