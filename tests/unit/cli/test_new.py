"""`framecheck new`: every template is a case that reads, solves, and keeps what was answered."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from framecheck.cli.case_file_commands import KINDS, length_text, load_text, new_command, plain, small_text
from framecheck.cli.files import library
from framecheck.cli.main import entry
from framecheck.reading.case_file import read_case


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_solved_as_it_is_written(capsys: pytest.CaptureFixture[str], tmp_path: Path, kind: str) -> None:
    file = tmp_path / "mine.yaml"
    assert entry(["new", str(file), "--kind", kind, "--defaults"]) == 0
    assert entry(["check", str(file), "--full"]) == 0
    out = capsys.readouterr().out
    assert "MET SO FAR: none of" in out
    assert "All hold." in out
    text = file.read_text(encoding="utf-8")
    assert "{{" not in text
    assert sum(line.lstrip().startswith("#") for line in text.splitlines()) >= 8


def test_a_body_whose_stiffeners_say_nothing_of_their_ends_is_answered(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """They may be mitred to rails whose faces' arms move their ends: once no row of forces was found there."""
    file = tmp_path / "mine.yaml"
    assert entry(["new", str(file), "--kind", "body", "--defaults"]) == 0
    said = "stiffeners: {section: tube 4 x 3 x 3/16 in, ends: rigid}"
    text = file.read_text(encoding="utf-8")
    assert said in text
    file.write_text(text.replace(said, said.replace(", ends: rigid", "")), encoding="utf-8")
    assert entry(["check", str(file)]) in (0, 1)
    assert " judged " in capsys.readouterr().out


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_read_in_millimetres_and_kilograms(tmp_path: Path, kind: str) -> None:
    file = tmp_path / "mine.yaml"
    made_of = "5 mm" if kind == "skid-plate" else "tube 80 x 40 x 4 mm"
    words = ["--kind", kind, "--made-of", made_of, "--length", "1.2 m", "--load", "300 kg", "--title", 'a "b": c']
    assert entry(["new", str(file), *words]) == 0
    text = file.read_text(encoding="utf-8")
    body = [line.split("#")[0] for line in text.splitlines()]
    assert not [line for line in body if " in}" in line or " lb" in line]
    assert read_case(text, "mine.yaml", library()).title == 'a "b": c'


def test_five_questions_are_asked(tmp_path: Path) -> None:
    file = tmp_path / "asked.yaml"
    answers = "crossmember\nGearbox mount\ntube 2 x 2 x 11 ga\n32 in\n250 lb\n"
    done = CliRunner().invoke(new_command, [str(file)], input=answers, catch_exceptions=False)
    assert done.exit_code == 0
    text = file.read_text(encoding="utf-8")
    assert 'title: "Gearbox mount"' in text
    assert "y: 16 in" in text  # half of 32 in
    assert "z: -375 lb" in text  # one and a half times 250 lb


def test_nobody_to_answer_is_a_usage_error(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(""))
    assert entry(["new", str(tmp_path / "x.yaml")]) == 2
    assert "no answer came; give the options, or --defaults" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_what_is_there_is_never_overwritten(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text("my work", encoding="utf-8")
    assert entry(["new", str(file), "--kind", "ladder", "--defaults"]) == 2
    assert "exists already" in capsys.readouterr().err
    assert file.read_text(encoding="utf-8") == "my work"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--length", "3 furlong"], "distance between the rails' middles"),
        (["--length", "-3 in"], "negative"),
        (["--load", "230"], "weight that it carries"),
        (["--made-of", "tube 1 1/2 x 3 x 11ga"], "did you mean 'tube 1 1/2 x 3 x 11 ga'?"),
        (["--made-of", "x}, ends: butt"], "x}, ends: butt"),
    ],
)
def test_a_wrong_answer_is_said_and_nothing_is_written(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, words: list[str], said: str
) -> None:
    assert entry(["new", str(tmp_path / "x.yaml"), "--kind", "crossmember", "--defaults", *words]) == 2
    assert said in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_every_wrong_answer_is_said_at_once(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    words = ["--made-of", "tube nine", "--length", "100", "--load", "abc"]
    assert entry(["new", str(tmp_path / "x.yaml"), "--kind", "ladder", "--defaults", *words]) == 2
    err = capsys.readouterr().err
    assert all(each in err for each in ("tube nine: there is no section", "'100' has no unit", "'abc' is not a mass"))


@pytest.mark.parametrize("words", [("ladder", "--load", "1 kg"), ("ladder", "--length", "2 in"), ("skid-plate", "--made-of", "3/16")])
def test_no_line_of_a_file_that_was_not_written_is_named(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """A vehicle of 1 kg was refused by lines 48 to 55 of a file that nobody had."""
    assert entry(["new", str(tmp_path / "x.yaml"), "--defaults", "--kind", *words]) == 2
    err = capsys.readouterr().err
    assert "x.yaml" not in err
    assert "nothing was written" in err
    assert list(tmp_path.iterdir()) == []


def test_amounts_are_rounded_as_a_shop_would_write_them() -> None:
    # by hand: 0.3 m = 11.81 in; 100 kg = 220.46 lb, and weighs 980.665 N
    assert (length_text(0.3, True), length_text(0.3, False)) == ("11.75 in", "300 mm")
    assert (load_text(100, True, True), load_text(100, True, False), load_text(100, False, False)) == (
        "220 lb",
        "981 N",
        "100 kg",
    )
    # 5 mm = 3.15 sixteenths of an inch, 36 mm = 22.7 of them
    assert (small_text(5e-3, True), small_text(36e-3, True), small_text(5e-3, False)) == ("3/16 in", "1 7/16 in", "5 mm")
    assert plain("tube 4 x 2 x 3/16 in") == "tube 4 x 2 x 3/16 in"
    assert plain("#1") == '"#1"'
