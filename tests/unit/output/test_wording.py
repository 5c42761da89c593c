"""Sentences of the screen and the page that a person reads once. Common practice of plain English, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from framecheck.cli.files import data_folder
from framecheck.cli.main import entry
from framecheck.output.wording import counted
from framecheck.results.subjects import Question


@pytest.mark.parametrize(
    ("question", "count", "said"),
    [
        (Question.NOTCH, 1, "notches"),
        (Question.NOTCH, 2, "2 notches"),
        (Question.FATIGUE, 1, "fatigue"),
        (Question.FATIGUE, 6, "fatigue in 6 places"),
        (Question.YIELD, 3, "yield of members in 3 places"),
    ],
)
def test_what_is_open_is_counted_as_people_count(question: Question, count: int, said: str) -> None:
    assert counted(question, count) == said


def test_the_whole_text_shows_what_a_file_asks_to_read(capsys: pytest.CaptureFixture[str]) -> None:
    """cases/twist-rig.yaml names four places and runs three load cases, each under both ends of the range it leaves open."""
    entry(["check", str(data_folder("cases") / "twist-rig.yaml"), "--full"])
    said = capsys.readouterr().out.split("Readings at the places that the file names")[1].split("Masses")[0].split("Notes")[0]
    assert "bimoment" in said
    assert said.count("twist back") >= 4
    assert "left web in" in said


def test_a_load_says_where_its_size_comes_from(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A first case of a ladder frame takes its pothole's factors from the table: practice and memory, said in two sentences."""
    file = tmp_path / "first.yaml"
    entry(["new", str(file), "--kind", "ladder", "--defaults"])
    entry(["check", str(file)])
    said = " ".join(capsys.readouterr().out.split())
    assert " comes from a wide range of practice, or from memory." in said
    assert "not opened: load factor '" in said


def test_the_caution_fits_a_narrow_screen(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr("framecheck.cli.section_commands.screen_width", lambda: 50)
    entry(["section", "tube 4 x 2 x 11 ga", "--units", "us"])
    caution = capsys.readouterr().out.split("framecheck informs")[1].split("\n\n")[0]
    assert max(map(len, caution.splitlines())) <= 50
