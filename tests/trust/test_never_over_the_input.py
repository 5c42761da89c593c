"""Outputs never take the place of an input, nor of a file that the program did not write; they say what they are made from."""

from __future__ import annotations

import hashlib
import json
import os
import re
import socket
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from framecheck import __version__
from framecheck.cli.files import table_files, write_whole
from framecheck.cli.main import entry
from framecheck.cli.places import may_write
from framecheck.errors import InputError
from framecheck.versions import LANGUAGE, SCHEMA
from tests.trust.texts import ROOT, SMALL

Said = pytest.CaptureFixture[str]
WRITERS: dict[str, tuple[str, ...]] = {
    "json": ("check", "{case}", "--json", "{out}"),
    "report": ("report", "{case}", "-o", "{out}"),
    "png": ("draw", "{case}", "-o", "{out}"),
    "svg": ("draw", "{case}", "-o", "{out}"),
    "pdf": ("draw", "{case}", "-o", "{out}"),
}


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> str:
    return str(tmp_path_factory.mktemp("store"))


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, store: str) -> Path:
    monkeypatch.setenv("FRAMECHECK_STORE", store)
    (tmp_path / "case.yaml").write_text(SMALL, encoding="utf-8")
    return tmp_path / "case.yaml"


def written(kind: str, case: Path, out: Path, *more: str) -> int:
    return entry([*(word.format(case=case, out=out) for word in WRITERS[kind]), *more])


LINKS: dict[str, Callable[[Path, Path], None]] = {
    "symbolic": lambda link, case: link.symlink_to(case),
    "to a link": lambda link, case: (link.with_name("first").symlink_to(case), link.symlink_to("first")),  # type: ignore[func-returns-value]
    "hard": lambda link, case: link.hardlink_to(case),
}


@pytest.mark.parametrize("more", [(), ("--force",)])
@pytest.mark.parametrize("how", LINKS)
def test_a_link_to_the_input_is_the_input(how: str, more: tuple[str, ...], case: Path, capsys: Said) -> None:
    for kind in ("json", "report", "svg"):
        link = case.with_name(f"out-{kind}.{kind}")
        LINKS[how](link, case)
        assert written(kind, case, link, *more) == 2
        assert "is what this answer is made from" in capsys.readouterr().err
        case.with_name("first").unlink(missing_ok=True)
    assert case.read_text(encoding="utf-8") == SMALL


def test_the_input_by_its_own_name_or_by_way_round_is_kept(case: Path, capsys: Said) -> None:
    (case.parent / "below").mkdir()
    for name in (case, case.parent / "below" / ".." / "case.yaml"):
        assert entry(["check", str(case), "--json", str(name), "--force"]) == 2
        assert entry(["report", str(case), "-o", str(name)]) == 2
    assert capsys.readouterr().err.count("made from") == 4
    assert case.read_text(encoding="utf-8") == SMALL


@pytest.mark.parametrize("kind", WRITERS)
def test_a_file_of_another_hand_is_kept_unless_forced_and_one_of_ours_is_replaced(kind: str, case: Path, capsys: Said) -> None:
    out = case.with_name(f"out.{kind}")
    out.write_text("notes of a winter's work\n", encoding="utf-8")
    assert written(kind, case, out) == 2
    assert "framecheck did not write it" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == "notes of a winter's work\n"
    assert written(kind, case, out, "--force") == 0
    first = out.read_bytes()
    assert written(kind, case, out) == 0
    assert out.read_bytes() == first


def test_links_in_a_ring_are_no_place_to_write(case: Path, capsys: Said) -> None:
    ring = case.with_name("ring.svg")
    ring.symlink_to("other.svg")
    case.with_name("other.svg").symlink_to("ring.svg")
    for words in (("check", str(case), "--json"), ("draw", str(case), "-o"), ("check", str(case), "--csv")):
        assert entry([*words, str(ring)]) == 2
        assert "its links run in a ring" in capsys.readouterr().err
    assert ring.is_symlink()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
def test_a_pipe_is_written_to_by_the_name_that_a_shell_gives_it(case: Path) -> None:
    """As in `--json >(head)`: what the name leads to can't be opened by its own name."""
    reading, writing = os.pipe()
    with os.fdopen(reading, "rb") as heard:
        words = [sys.executable, "-m", "framecheck", "section", str(case), "--json", f"/dev/fd/{writing}"]
        with subprocess.Popen(words, pass_fds=[writing], stdout=subprocess.DEVNULL) as run:
            os.close(writing)
            json.loads(heard.read())
    assert run.returncode == 0


def test_a_name_as_long_as_the_system_takes_is_a_name(case: Path) -> None:
    out = case.with_name("n" * 250 + ".json")
    assert written("json", case, out) == 0
    assert {each.name for each in case.parent.iterdir()} == {case.name, out.name}


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such sockets")
@pytest.mark.parametrize("kind", ["folder", "socket"])
def test_what_is_there_and_no_file_is_kept(kind: str, case: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(case.parent)
    out = Path("x.json")
    if kind == "folder":
        out.mkdir()
    else:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(str(out))
    for force in ((), ("--force",)):
        assert written("json", case, out, *force) == 2
        assert "it is there, and is not a file" in capsys.readouterr().err


@pytest.mark.parametrize("force", [(), ("--force",)])
def test_two_answers_never_go_to_one_file(force: tuple[str, ...], case: Path, capsys: Said) -> None:
    link = case.with_name("link")
    link.symlink_to("one")
    one, check = str(case.with_name("one")), ("check", "--json")
    for words in (("test", "--json", one, "-o", str(link)), ("test", "--json", "-", "-o", "-"), (*check, one, "--csv", one)):
        assert entry([words[0], str(case), *words[1:], *force]) == 2
        assert "another answer of this command" in capsys.readouterr().err
    assert not Path(one).exists()


def test_a_folder_of_tables_has_a_name(case: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(case.parent)
    for name in ("", "-"):
        assert entry(["check", str(case), "--csv", name]) == 2
        assert "which need a folder" in capsys.readouterr().err
    assert [each.name for each in case.parent.iterdir()] == [case.name]


def test_a_table_of_the_shop_is_never_written_over(case: Path, capsys: Said) -> None:
    before = {each: each.read_bytes() for each in table_files()}
    table = next(iter(before))
    case.with_name("link").symlink_to(table)
    for name in (table, case.with_name("link")):
        with pytest.raises(InputError, match="one of the shop's tables"):
            may_write(str(name))  # before any work
        with pytest.raises(InputError, match="one of the shop's tables"):
            write_whole(str(name), "lost")
    assert before
    assert {each: each.read_bytes() for each in before} == before


def test_a_folder_of_tables_is_written_again_and_one_of_another_hand_is_not(case: Path, capsys: Said) -> None:
    folder = case.with_name("tables")
    assert entry(["check", str(case), "--csv", str(folder)]) == 0
    assert entry(["check", str(case), "--csv", str(folder)]) == 0
    (folder / "checks.csv").write_text("part,price\nbolt,2\n", encoding="utf-8")
    before = {each.name: each.read_bytes() for each in folder.iterdir()}
    assert entry(["check", str(case), "--csv", str(folder)]) == 2
    assert "checks.csv: is there, and framecheck did not write it" in capsys.readouterr().err
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == before
    assert entry(["check", str(case), "--csv", str(folder), "--force"]) == 0


def test_every_table_keeps_its_heading_where_it_has_no_rows(case: Path) -> None:
    folder = case.with_name("tables")
    assert entry(["check", str(case), "--csv", str(folder)]) == 0
    assert [each.name for each in folder.iterdir() if not each.read_text(encoding="utf-8").partition("\n")[0]] == []


@pytest.mark.skipif(sys.platform == "win32", reason="modes are of POSIX")
@pytest.mark.parametrize("umask", [0o022, 0o077, 0o002])
def test_a_new_file_has_the_mode_that_the_umask_leaves_and_an_old_one_keeps_its_own(umask: int, case: Path) -> None:
    before = os.umask(umask)
    try:
        new, old = case.with_name("new.json"), case.with_name("old.json")
        old.touch()
        old.chmod(0o640)
        assert written("json", case, new) == written("json", case, old) == 0
    finally:
        os.umask(before)
    assert stat.S_IMODE(new.stat().st_mode) == 0o666 & ~umask
    assert stat.S_IMODE(old.stat().st_mode) == 0o640


@pytest.mark.parametrize("kind", WRITERS)
def test_every_output_says_by_which_version_and_from_which_bytes(kind: str, case: Path) -> None:
    out = case.with_name(f"out.{kind}")
    case.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())  # a BOM and the line ends of another system
    assert written(kind, case, out) == 0
    text, sha = out.read_bytes(), hashlib.sha256(case.read_bytes()).hexdigest()
    if kind == "json":
        whole = json.loads(text)
        assert (whole["program_version"], whole["schema_version"], whole["input_sha256"]) == (__version__, SCHEMA, sha)
        return
    said = text.replace(b"\\(", b"(").replace(b"\\)", b")").decode("utf-8", "replace")
    assert sha in said
    assert f"framecheck {__version__} (file language {LANGUAGE}, results schema {SCHEMA})" in said


@pytest.mark.parametrize("words", [("check", "--full"), ("modes",), ("section",), ("compare", "{case}"), ("rate",)])
def test_every_printed_answer_says_it_too(words: tuple[str, ...], case: Path, capsys: Said) -> None:
    command, *more = words
    assert entry([command, str(case), *(word.format(case=case) for word in more)]) in (0, 1)
    told = re.sub(r"\s+", " ", capsys.readouterr().out)
    assert hashlib.sha256(case.read_bytes()).hexdigest() in told
    assert f"framecheck {__version__} (file language {LANGUAGE}, results schema {SCHEMA})" in told


def test_the_first_screen_says_version_and_the_first_of_the_checksum(case: Path, capsys: Said) -> None:
    assert entry(["check", str(case)]) == 0
    assert f"case.yaml  {hashlib.sha256(case.read_bytes()).hexdigest()[:8]}  {__version__}" in capsys.readouterr().out


VERSIONS = {
    "framecheck: 1": (0, ""),
    "framecheck: 2": (2, "is written in version 2 of the language; this framecheck reads up to 1"),
    "framecheck: 12": (2, "install a newer one"),
    "framecheck: 0": (2, "write a whole number from 1 to 1"),
    "framecheck: yes": (2, "write a whole number from 1 to 1"),
}


@pytest.mark.parametrize("line", VERSIONS)
def test_a_file_may_say_the_language_it_is_written_in(line: str, case: Path, capsys: Said) -> None:
    code, said = VERSIONS[line]
    case.write_text(f"{line}\n{SMALL}" + ("new word: 3\n" if code and "2" in line else ""), encoding="utf-8")
    assert entry(["check", str(case)]) == code
    told = capsys.readouterr().err
    assert said in told
    assert (code == 0) or "case.yaml:1: " in told
    assert "new word" not in told  # of a later language nothing else can be judged
    if "language" in said:  # `section` looks at no other block
        assert entry(["section", str(case)]) == 2
        assert said in capsys.readouterr().err


STUDY = """\
title: walls
case: case.yaml
vary:
  - {field: sections.own.wall, values: [3 mm, 4 mm]}
"""


def test_two_sweeps_on_one_rows_file_the_second_is_refused(case: Path, capsys: Said) -> None:
    from framecheck.cli.rows_file import taken_up
    from framecheck.cli.size_command import key_of, studied
    from framecheck.output.rows_text import RowForm

    study, rows = case.with_name("study.yaml"), case.with_name("rows.csv")
    study.write_text(STUDY, encoding="utf-8")
    first = taken_up(str(rows), RowForm(key_of(studied(str(study))), ("sections.own.wall",)))
    assert entry(["size", str(study), "--rows", str(rows)]) == 2
    assert "another run is writing its rows to it" in capsys.readouterr().err
    held = rows.read_bytes()
    assert list(first.appended(())) == []
    assert rows.read_bytes() == held
    assert entry(["size", str(study), "--rows", str(rows)]) in (0, 1)
    assert b"\r" not in rows.read_bytes()


def test_a_plot_that_can_not_be_written_is_found_before_the_sweep(case: Path, capsys: Said) -> None:
    study, rows = case.with_name("study.yaml"), case.with_name("rows.csv")
    study.write_text(STUDY, encoding="utf-8")
    for plot in ("none/front.svg", "case.yaml/front.svg", "notes.svg"):
        case.with_name("notes.svg").write_text("mine", encoding="utf-8")
        assert entry(["size", str(study), "--rows", str(rows), "--plot", str(case.with_name("x").parent / plot)]) == 2
        assert "variants" not in capsys.readouterr().err
    assert not rows.exists()


KILLING = """
import os, signal, sys
from framecheck.study.sweep import WholeChunk
from framecheck.cli.main import entry
if __name__ == "__main__":
    sys.exit(entry(sys.argv[1:]))
else:
    row = WholeChunk.row
    WholeChunk.row = lambda self, number: os.kill(os.getpid(), signal.SIGKILL) if number == 3 else row(self, number)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="signals are of POSIX")
def test_a_killed_worker_is_told_with_what_was_kept(case: Path) -> None:
    study, rows, code = case.with_name("study.yaml"), case.with_name("rows.csv"), case.with_name("run.py")
    study.write_text(STUDY.replace("[3 mm, 4 mm]", "[3 mm, 4 mm, 5 mm, 6 mm, 7 mm]"), encoding="utf-8")
    code.write_text(KILLING, encoding="utf-8")
    words = [sys.executable, str(code), "size", str(study), "--rows", str(rows), "--workers", "2"]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    run = subprocess.run(words, capture_output=True, text=True, env=environment, check=False)
    kept = len(rows.read_text(encoding="utf-8").splitlines()) - 1
    assert run.returncode == 3
    assert f"a worker process died (ended from outside, or out of memory); {kept} rows are kept in {rows}" in run.stderr
    assert "Traceback" not in run.stderr
    assert entry(["size", str(study), "--rows", str(rows)]) in (0, 1)
    assert len(rows.read_text(encoding="utf-8").splitlines()) == 6
