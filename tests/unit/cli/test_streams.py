"""What leaves the program: tables in a folder, text for any encoding."""

from __future__ import annotations

import csv
import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from framecheck.cli import console
from framecheck.cli.console import NAME, WIDE, TellingStore, speak_plainly, spelt, tamed, telling
from framecheck.cli.context import NoStore
from framecheck.cli.files import PACKAGE, data_folder
from framecheck.cli.main import CAUTION, entry

CASE = str(data_folder("cases") / "gearbox-crossmember.yaml")


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def test_csv_makes_its_folder_and_tidy_tables(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    folder = tmp_path / "new" / "tables"
    assert entry(["check", CASE, "--csv", str(folder), "--quiet"]) in (0, 1)
    capsys.readouterr()
    files = sorted(file.name for file in folder.iterdir())
    assert "checks.csv" in files
    assert not [name for name in files if name.endswith(".part")]
    with (folder / "member_forces.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["member"] for row in rows} == {"crossmember"}
    assert all(float(row["bending_vertical_nm"]) == float(row["bending_vertical_nm"]) for row in rows)
    assert CAUTION in (folder / "remarks.csv").read_text(encoding="utf-8")


def test_csv_onto_a_file_is_refused(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    assert entry(["check", CASE, "--csv", str(tmp_path / "taken")]) == 2
    assert "can't be made a folder" in capsys.readouterr().err
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("letter", "plain"), [("⁴", "4"), ("·", "*"), ("é", "e"), ("≥", ">="), ("σ", "sigma"), ("框", "?")]
)
def test_signs_are_spelt_out(letter: str, plain: str) -> None:
    assert spelt(letter) == plain


def test_ascii_stays_and_other_encodings_become_utf8() -> None:
    ascii_stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    latin_stream = io.TextIOWrapper(io.BytesIO(), encoding="cp1252")
    speak_plainly(ascii_stream, latin_stream)
    assert ascii_stream.encoding == NAME
    assert latin_stream.encoding == WIDE
    ascii_stream.write("12.5 cm⁴")
    ascii_stream.flush()
    assert ascii_stream.buffer.getvalue() == b"12.5 cm4"  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "said", [{"PYTHONIOENCODING": "ascii"}, {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}]
)
def test_a_terminal_of_ascii_gets_ascii(said: dict[str, str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "framecheck", "section", "tube 4 x 2 x 11 ga", "--units", "si"],
        capture_output=True, env={**os.environ, **said}, check=True, cwd=PACKAGE.parent,
    )  # fmt: skip
    assert b"cm4" in done.stdout
    assert done.stdout.isascii()


def test_no_colour_is_used_so_none_has_to_be_turned_off(capsys: pytest.CaptureFixture[str]) -> None:
    entry(["check", CASE])
    assert "\x1b" not in capsys.readouterr().out


def test_the_input_reference_is_printed_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    assert entry(["schema", "--text"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("# The case file")
    assert "| `held` |" in out


def test_long_work_is_told_on_standard_error_of_a_terminal_alone(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert isinstance(telling(NoStore()), NoStore)
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    times = iter([0.0, 1.0, 2.5, 2.5, 3.0])
    monkeypatch.setattr(console, "monotonic", lambda: next(times))
    store = TellingStore(NoStore(), last=console.monotonic())
    for _ in range(3):
        store.put("key", b"")
    assert store.get("key") is None
    out, err = capsys.readouterr()
    assert (out, err) == ("", "2 sections and joints computed; the next run finds them kept\n")
    assert isinstance(telling(NoStore()), TellingStore)


@pytest.mark.parametrize(
    ("letters", "shown"),
    [
        ("\x1b]0;mine\x07", "\\x1b]0;mine\\x07"),
        ("a\u202eb", "a\\u202eb"),
        ("a\rb", "a\\rb"),
        ("a\r\nb\tc", "a\r\nb\tc"),
        ("\x9b31m", "\\x9b31m"),
    ],
)
def test_nothing_from_a_file_steers_a_terminal(letters: str, shown: str) -> None:
    assert tamed(letters) == shown


def test_a_refusal_spells_out_escape_codes(tmp_path: Path) -> None:
    file = tmp_path / "esc.yaml"
    file.write_text('title: "\\e]0;owned\\a met"\norigin: a\n', encoding="utf-8")
    words = [sys.executable, "-m", "framecheck", "check", str(file)]
    done = subprocess.run(words, capture_output=True, check=False, cwd=PACKAGE.parent)
    assert done.returncode == 2
    assert b"\x1b" not in done.stderr
    assert b"\\x1b]0;owned" in done.stderr
