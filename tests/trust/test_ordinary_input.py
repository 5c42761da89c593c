"""Ordinary input that once ended in our own fault, and text that would steer a terminal or a spreadsheet."""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from hashlib import sha256
from importlib import metadata
from io import BytesIO, StringIO, TextIOWrapper
from pathlib import Path

import pytest

from framecheck.cli.main import entry
from framecheck.output.csv_text import safe
from tests.trust.texts import ROOT, SMALL

Said = pytest.CaptureFixture[str]
RUN = "from framecheck.cli.main import run_and_exit; run_and_exit()"
NOTCHED, GUARDED = str(ROOT / "cases" / "notched-rail.yaml"), str(ROOT / "cases" / "skid-plate.yaml")


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> str:
    return str(tmp_path_factory.mktemp("store"))


@pytest.fixture(autouse=True)
def _kept(store: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", store)


@pytest.mark.parametrize("length", ["-1 in", "0 in", "1e300 in", "nan in", "1e-9 in", "\0"])
@pytest.mark.parametrize("option", ["--length", "--depth"])
def test_a_notch_of_no_length_is_refused(option: str, length: str, capsys: Said) -> None:
    asked = {"--at": "34 in", "--side": "top", "--length": "4 in", "--depth": "1/2 in"} | {option: length}
    assert entry(["notch", NOTCHED, "--member", "rail", *(word for pair in asked.items() for word in pair)]) == 2
    assert f"{option}: " in capsys.readouterr().err


@pytest.mark.parametrize("force", ["nan", "inf", "-inf", "1e300", "x"])
def test_forces_that_are_no_numbers_are_refused(force: str, tmp_path: Path, capsys: Said) -> None:
    words = ["section", "tube 4 x 2 x 3/16 in", "--plot", str(tmp_path / "s.png"), "--forces", force, *"00000"]
    assert entry(words) == 2
    assert "--forces" in capsys.readouterr().err


@pytest.mark.parametrize("scale", ["nan", "inf", "0", "-1", "1e300"])
def test_a_scale_that_draws_nothing_is_refused(scale: str, tmp_path: Path, capsys: Said) -> None:
    assert entry(["draw", GUARDED, "-o", str(tmp_path / "x.svg"), "--scale", scale]) == 2
    assert "above 0" in capsys.readouterr().err


def test_a_plate_on_members_is_drawn(tmp_path: Path) -> None:
    assert entry(["draw", GUARDED, "-o", str(tmp_path / "guard.svg")]) == 0
    assert b"<svg" in (tmp_path / "guard.svg").read_bytes()


TRIPOD = """
title: three pinned legs
frame:
  points:
    a: {x: 40 in, y: 0 in, z: 0 in}
    b: {x: -20 in, y: 34.64 in, z: 0 in}
    c: {x: -20 in, y: -34.64 in, z: 0 in}
    top: {x: 0 in, y: 0 in, z: 60 in}
  members:
    - {name: first, points: [a, top], section: tube 2 x 2 x 1/4 in, ends: pinned}
    - {name: second, points: [b, top], section: tube 2 x 2 x 1/4 in, ends: pinned}
    - {name: third, points: [c, top], section: tube 2 x 2 x 1/4 in, ends: pinned}
  supports: [{point: a, held: place}, {point: b, held: place}, {point: c, held: place}]
load cases:
  - weight: {forces: [{point: top, force: {z: -1000 lb}}]}
"""


def test_a_truss_of_pinned_bars_is_solved(tmp_path: Path, capsys: Said) -> None:
    (tmp_path / "tripod.yaml").write_text(TRIPOD)
    assert entry(["check", str(tmp_path / "tripod.yaml"), "--full"]) == 0
    assert "MET SO FAR" in capsys.readouterr().out


def test_every_table_and_every_answer_says_what_it_was_made_of(tmp_path: Path, capsys: Said) -> None:
    """The checksum is that of the file's bytes, by hashlib; each table carries it in its last columns, with rows or without."""
    case = tmp_path / "tripod.yaml"
    case.write_text(TRIPOD)
    digest, version = sha256(case.read_bytes()).hexdigest(), metadata.version("framecheck")
    entry(["check", str(case), "-q", "--csv", str(tmp_path / "tables")])
    said = "".join(capsys.readouterr().out.split())
    assert digest in said
    assert f"framecheck{version}" in said
    tables = sorted((tmp_path / "tables").glob("*.csv"))
    assert len(tables) > 10
    for table in tables:
        heads, *rows = csv.reader(StringIO(table.read_text()))
        assert {"input_sha256", "program_version", "schema_version"} <= set(heads), table.name
        assert all(len(row) == len(heads) for row in rows), table.name
        assert all(row[heads.index("input_sha256")] == digest for row in rows), table.name


NAMES = [5000 * "x", "caf\udce9.yaml", "a\0b", "\x1b]0;owned\x07.yaml", "\rMET: all.yaml", "\u202eliar.yaml", "", ".", "/dev/null/x"]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("command", ["check", "report", "section", "compare", "size"])
def test_names_that_no_file_has_are_refused_in_words(command: str, name: str, tmp_path: Path, capsys: Said) -> None:
    more = {"report": ["-o", str(tmp_path / "r.html")], "compare": [name]}.get(command, [])
    assert entry([command, name, *more]) == 2
    told = capsys.readouterr()
    assert told.err.strip()
    assert len(told.err) < 2000


def run(*words: str, code: str = RUN, **more: object) -> subprocess.CompletedProcess[bytes]:
    """Run the command as a process, as a shell does."""
    environment = os.environ | {"PYTHONPATH": str(ROOT)} | {k: str(v) for k, v in more.items()}
    return subprocess.run([sys.executable, "-c", code, *words], capture_output=True, env=environment, check=False)


def test_a_closed_keyboard_gives_no_answers(tmp_path: Path) -> None:
    found = run("new", str(tmp_path / "x.yaml"), code="import sys; sys.stdin = None\n" + RUN)
    assert found.returncode == 2
    assert b"no answer came" in found.stderr


def test_a_backend_that_is_not_there_is_not_asked_for(tmp_path: Path) -> None:
    found = run("draw", GUARDED, "-o", str(tmp_path / "x.png"), MPLBACKEND="no such window")
    assert (found.returncode, found.stderr) == (0, b"")


STEERING = [
    "\x1b[31mred", "\x1b]0;owned\x07", "\x9b31m", "\u202eliar", "\u2066x", "\x7f", "\r MET", "\u200bx", "\u00adx", "\u206ax",
    "\u180ex", "\ufff9x",
]  # fmt: skip


def printed(words: list[str], monkeypatch: pytest.MonkeyPatch) -> tuple[int, str]:
    """Return the exit code and all bytes that a terminal would get."""
    streams = [TextIOWrapper(BytesIO(), encoding="utf-8") for _ in range(2)]
    monkeypatch.setattr(sys, "stdout", streams[0])
    monkeypatch.setattr(sys, "stderr", streams[1])
    code = entry(words)
    for each in streams:
        each.flush()
    return code, "".join(each.buffer.getvalue().decode("utf-8") for each in streams)  # type: ignore[attr-defined]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows takes no such names")
@pytest.mark.parametrize("text", STEERING)
def test_nothing_that_steers_a_terminal_reaches_it_and_nothing_is_dropped_unseen(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From file names, options and the file's own values, in refusals and in answers."""
    written = '"' + "".join(f"\\u{ord(each):04x}" for each in text) + '"'
    case, named = tmp_path / f"{text}.yaml", tmp_path / "named.yaml"
    case.write_text(SMALL.replace("title: Bench", f"title: {written}"), encoding="utf-8")
    named.write_text(SMALL.replace("first", written), encoding="utf-8")
    shown = text.encode("unicode_escape").decode()
    asked = (["section", text], ["list", text], ["notch", NOTCHED, "--member", text])
    for words in (["check", str(case)], ["check", str(named)], *asked):
        code, said = printed(words, monkeypatch)
        assert code in (0, 1, 2)
        assert not set("\x1b\x07\x9b\u202e\u2066\x7f\r\u200b\u00ad\u206a\u180e\ufff9") & set(said)
        assert words not in asked or shown in said


@pytest.mark.skipif(sys.platform == "win32", reason="Windows takes no such names")
@pytest.mark.parametrize("kind", ["file", "refused file", "key", "section"])
def test_no_name_writes_a_line_of_its_own(kind: str, tmp_path: Path, capsys: Said) -> None:
    text = SMALL if kind == "file" else SMALL.replace("title: Bench", 'title: Bench\n"k\\nMET SO FAR": 1')
    case = tmp_path / ("case\nMET SO FAR: all.yaml" if "file" in kind else "case.yaml")
    case.write_text(text, encoding="utf-8")
    words = ["section", "a\nMET SO FAR"] if kind == "section" else ["check", str(case)]
    assert entry(words) == (0 if kind == "file" else 2)
    found = capsys.readouterr()
    assert sum(line.startswith("MET SO FAR") for line in (found.out + found.err).splitlines()) == (kind == "file")
    assert "\\nMET SO FAR" in found.out + found.err


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\t=1", "\r=1", "\uff1d1", "\uff0b1", "\uff0d1", "\uff20x"])
def test_no_spreadsheet_takes_a_cell_for_a_formula(text: str) -> None:
    assert safe(text) == f"'{text}"
