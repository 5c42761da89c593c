"""Faults of the machine: killed in a write, a full disk, a store that is damaged, foreign, cold or read-only, missing libraries."""

from __future__ import annotations

import builtins
import errno
import json
import os
import re
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

import pytest

from framecheck.cli.context import read, section_store
from framecheck.cli.files import write_whole
from framecheck.cli.main import entry
from framecheck.frame import framed
from framecheck.run import run
from tests.trust.texts import ROOT, SMALL

Said = pytest.CaptureFixture[str]
RUN = "from framecheck.cli.main import run_and_exit; run_and_exit()"


@pytest.fixture(autouse=True)
def each_command_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let no command find what an earlier one in this process made ready: outside of tests each is a process of its own."""
    monkeypatch.setattr(framed, "_framed", framed._framed.__wrapped__)


@pytest.fixture
def case(tmp_path: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a case in a folder with a store of its own.

    It was run before with another store: what a process keeps in mind beside the store is the same whichever test runs first.
    """
    (tmp_path / "case.yaml").write_text(SMALL, encoding="utf-8")
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("before") / "store"))
    results = run(read(str(tmp_path / "case.yaml")), section_store())
    assert results.rows
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path / "store"))
    return tmp_path / "case.yaml"


def process(code: str, *words: str, stdout: Any = subprocess.PIPE) -> subprocess.Popen[str]:
    """Start Python in the checkout."""
    command = [sys.executable, "-c", code, *words]
    paths = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
    return subprocess.Popen(
        command, stdout=stdout, stderr=subprocess.PIPE, text=True, env=os.environ | {"PYTHONPATH": paths}
    )


def names(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


def raising(fault: int) -> Any:
    def fail(*_: object, **__: object) -> NoReturn:
        raise OSError(fault, os.strerror(fault))

    return fail


OLD = '{"made_by": "framecheck 0.0.1"}'
"""A file that the program may take the place of: it wrote it."""
NEWER = OLD.replace("0.0.1", "0.0.2")
KILLED = """
import os, signal, sys
from framecheck.cli.files import write_whole
os.{} = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
write_whole(sys.argv[1], "new")
"""


@pytest.mark.parametrize("moment", ["fsync", "replace"])
def test_killed_in_a_write_the_old_file_stays_whole(moment: str, tmp_path: Path) -> None:
    """Killed when the new bytes are on their way, or there but not yet in place; the next run is not in its way."""
    out = tmp_path / "out.json"
    out.write_text(OLD, encoding="utf-8")
    with process(KILLED.format(moment), str(out)) as killed:
        killed.communicate()
    assert killed.returncode == -signal.SIGKILL
    assert out.read_text(encoding="utf-8") == OLD
    write_whole(str(out), NEWER)
    assert out.read_text(encoding="utf-8") == NEWER


@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EIO, errno.EDQUOT])
@pytest.mark.parametrize("moment", ["fsync", "replace", "chmod"])
def test_a_full_disk_leaves_the_old_file_and_no_scraps(
    fault: int, moment: str, case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", "")
    out = case.with_name("out.json")
    out.write_text(OLD, encoding="utf-8")
    monkeypatch.setattr(os, moment, raising(fault))
    assert entry(["check", str(case), "--json", str(out)]) == 2
    assert f"can't be written ({os.strerror(fault)})" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == OLD
    assert names(case.parent) == ["case.yaml", "out.json"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_standard_output_is_said_in_words() -> None:
    with Path("/dev/full").open("w") as full, process(RUN, "list", "gauges", stdout=full) as run:
        told = run.communicate()[1]
    assert run.returncode == 2
    assert "can't be written (No space left on device)" in told
    assert "Traceback" not in told
    assert "Exception ignored" not in told


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_refusal_that_can_not_be_written_is_a_refusal_by_its_exit_code() -> None:
    """It was 1, which is "a target is missed"."""
    with Path("/dev/full").open("w") as full:
        command = [sys.executable, "-c", RUN, "check", "none.yaml"]
        found = subprocess.run(command, stderr=full, stdout=subprocess.PIPE, env=os.environ | {"PYTHONPATH": str(ROOT)}, check=False)
    assert (found.returncode, found.stdout) == (2, b"")


def test_an_answer_that_nobody_reads_to_its_end_is_not_met(case: Path) -> None:
    """`check | head -1` under pipefail: 0 would say that every target is met; 141 is what shells know it by."""
    with process(RUN, "check", str(case), "--full") as run:
        assert run.stdout is not None
        run.stdout.close()
        run.wait()
        assert run.stderr is not None
        assert (run.returncode, run.stderr.read()) == (141, "")


def test_a_device_as_output_stays_a_device(tmp_path: Path) -> None:
    """A pipe stands for it: putting a file in its place would be the end of /dev/null for everyone on the machine."""
    os.mkfifo(tmp_path / "pipe")
    reading = os.open(tmp_path / "pipe", os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_whole(str(tmp_path / "pipe"), "hello")
        assert os.read(reading, 100) == b"hello"
    finally:
        os.close(reading)
    assert (tmp_path / "pipe").is_fifo()


def test_a_link_as_output_stays_a_link(case: Path, tmp_path: Path) -> None:
    (tmp_path / "link.json").symlink_to(tmp_path / "real.json")
    assert entry(["check", str(case), "--json", str(tmp_path / "link.json")]) == 0
    assert (tmp_path / "link.json").is_symlink()
    assert json.loads((tmp_path / "real.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    "where", ["{folder}", "{case}/out.json", "{folder}/none/out.json", "{folder}/a\0b", "{folder}/" + 300 * "x"]
)
def test_an_unwritable_output_is_said_and_leaves_nothing(where: str, case: Path, capsys: Said) -> None:
    before = names(case.parent)
    place = where.format(folder=case.parent, case=case)
    assert entry(["check", str(case), "--json", place]) == 2
    assert entry(["check", str(case), "--csv", f"{case}/tables"]) == 2
    assert capsys.readouterr().err.count("choose a") == 2
    assert [name for name in names(case.parent) if name != "store"] == before


def told(case: Path, capsys: Said) -> str:
    """Check a case and return what was printed."""
    assert entry(["check", str(case)]) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("fault", [errno.EROFS, errno.EACCES, errno.ENOSPC])
def test_a_store_that_can_not_be_written_changes_nothing(
    fault: int, case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    with_store = told(case, capsys)
    import tempfile

    monkeypatch.setenv("FRAMECHECK_STORE", str(case.with_name("other store")))
    monkeypatch.setattr(tempfile, "mkstemp", raising(fault))
    assert told(case, capsys) == with_store
    monkeypatch.setenv("FRAMECHECK_STORE", str(case))  # below a file there can be no folder
    assert told(case, capsys) == with_store


DAMAGE: dict[str, Callable[[bytes], bytes]] = {
    "empty": lambda content: b"",
    "cut off": lambda content: content[: len(content) // 2],
    "one bit": lambda content: content[:-9] + bytes([content[-9] ^ 1]) + content[-8:],
    "foreign": lambda content: b"\x89PNG\r\n" + content,
    "not a number": lambda content: b" ".join([b"nan"] * 6),
    "longer": lambda content: content + b" 0x1p+0",
}


@pytest.mark.parametrize("kind", DAMAGE)
def test_a_damaged_entry_is_made_again(kind: str, case: Path, capsys: Said) -> None:
    """Joints are kept too: one of the bench's ends is butt-welded."""
    sound = told(case, capsys)
    entries = [each for each in case.with_name("store").rglob("*") if each.is_file()]
    assert len(entries) >= 2
    whole = {each: each.read_bytes() for each in entries}
    for each, content in whole.items():
        each.write_bytes(DAMAGE[kind](content))
    assert told(case, capsys) == sound
    assert {each: each.read_bytes() for each in entries} == whole


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
def test_a_pipe_in_the_place_of_an_entry_is_not_waited_for(case: Path, capsys: Said) -> None:
    sound = told(case, capsys)
    for each in [each for each in case.with_name("store").rglob("*") if each.is_file()]:
        each.unlink()
        os.mkfifo(each)
    assert told(case, capsys) == sound


def test_two_processes_on_a_cold_store_agree_and_leave_no_scraps(case: Path, capsys: Said) -> None:
    both = [process(RUN, "check", str(case)) for _ in range(2)]
    said = [run.communicate() for run in both]
    assert [run.returncode for run in both] == [0, 0]
    assert said[0][0] == said[1][0] == told(case, capsys)
    assert list(case.with_name("store").rglob("*.part")) == []


def factors(text: str) -> list[float]:
    """Return the safety factors of the load cases table."""
    return [float(found) for found in re.findall(r"^(?:push|heat) +([\d.]+)", text, re.MULTILINE)][:2]


def test_without_the_mesher_mid_line_theory_answers_and_says_so(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Within 1 %: both theories hold thin walls; a tube's are a twelfth of its width here."""
    meshed = factors(told(case, capsys))
    monkeypatch.setenv("FRAMECHECK_STORE", "")
    monkeypatch.setitem(sys.modules, "pythoncdt", None)
    text = told(case, capsys)
    assert factors(text) == pytest.approx(meshed, rel=0.01)
    said = " ".join(text.split())
    assert "Sections by thin-wall theory: by mid-line theory: the section mesher (package pythoncdt) can't" in said
    assert "MET SO FAR" in said
    assert "pip install" in said


def test_a_notch_without_the_mesher_is_refused_with_the_remedy(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", "")
    monkeypatch.setitem(sys.modules, "pythoncdt", None)
    assert entry(["check", str(ROOT / "cases" / "notched-rail.yaml")]) == 3
    assert "reinstall it with 'pip install --force-reinstall pythoncdt'" in capsys.readouterr().err


def test_a_machine_without_any_font_is_told_what_to_do(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Matplotlib brings its own; only a broken one has none. What needs no picture is answered all the same."""
    from matplotlib import font_manager

    monkeypatch.setattr(font_manager.fontManager, "ttflist", [])
    font_manager.fontManager._findfont_cached.cache_clear()  # type: ignore[attr-defined]
    try:
        assert entry(["draw", str(case), "-o", str(case.with_name("out.svg"))]) == 2
        assert entry(["check", str(case), "-q"]) == 0
    finally:
        font_manager.fontManager._findfont_cached.cache_clear()  # type: ignore[attr-defined]
    assert "--force-reinstall matplotlib" in capsys.readouterr().err
    assert not case.with_name("out.svg").exists()


def test_stopped_by_the_keyboard_nothing_is_half_written(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    def stop(*_: object) -> NoReturn:
        raise KeyboardInterrupt

    monkeypatch.setenv("FRAMECHECK_STORE", "")
    monkeypatch.setattr(os, "fsync", stop)
    assert entry(["check", str(case), "--json", str(case.with_name("out.json"))]) == 130
    assert names(case.parent) == ["case.yaml"]
    assert "nothing was left half written" in capsys.readouterr().err


def test_stopped_while_a_library_loads_is_no_fault_of_ours(case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    """Modules in C++ make a failed import of whatever ended their start."""

    def load(*_: object) -> NoReturn:
        try:
            raise KeyboardInterrupt
        except KeyboardInterrupt as stop:
            raise ImportError("initialization failed") from stop

    from framecheck.cli import check_commands

    monkeypatch.setattr(check_commands, "run", load)
    assert entry(["check", str(case)]) == 130
    assert capsys.readouterr().err == "stopped by the keyboard; nothing was left half written\n"


def test_closed_streams_are_no_fault() -> None:
    closed = "import sys; sys.stdout = None; sys.stderr = None\n" + RUN
    with process(closed, "list", "gauges") as run:
        run.communicate()
    assert run.returncode == 0


def test_no_memory_is_said_in_words(case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    from framecheck.cli import check_commands

    def starved(*_: object) -> NoReturn:
        raise MemoryError

    monkeypatch.setattr(check_commands, "run", starved)
    assert entry(["check", str(case)]) == 3
    assert "not memory enough" in capsys.readouterr().err


def test_an_entry_under_the_name_of_another_is_not_taken_for_it(case: Path, capsys: Said) -> None:
    """Sound bytes in a wrong place: each entry holds its key, under a SHA-256 of both."""
    sound = told(case, capsys)
    entries = sorted(each for each in case.with_name("store").rglob("*") if each.is_file())
    whole = {each: each.read_bytes() for each in entries}
    for each, other in zip(entries, [*entries[1:], entries[0]], strict=True):
        each.write_bytes(whole[other])
    assert told(case, capsys) == sound
    assert {each: each.read_bytes() for each in entries} == whole


def test_selfcheck_reads_every_entry_and_names_what_is_damaged(case: Path, capsys: Said) -> None:
    told(case, capsys)
    entries = sorted(each for each in case.with_name("store").rglob("*") if each.is_file())
    old = entries[0].parent.with_name("sections-0123456789ab")
    old.mkdir()
    (old / "abc").write_bytes(b"of an earlier version")
    entries[1].write_bytes(DAMAGE["one bit"](entries[1].read_bytes()))
    assert entry(["selfcheck"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert f"({len(entries)} so far, 1 of them damaged)" in said
    assert f"computed anew where they are wanted: {entries[1].name}" in said
    assert (old / "abc").read_bytes() == b"of an earlier version"


def test_stopped_while_the_mesher_loads_is_no_missing_mesher(case: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    load = builtins.__import__

    def stop(name: str, *more: Any, **named: Any) -> object:
        if name != "pythoncdt":
            return load(name, *more, **named)
        try:
            raise KeyboardInterrupt
        except KeyboardInterrupt as error:
            raise ImportError("initialization failed") from error

    monkeypatch.setenv("FRAMECHECK_STORE", "")
    monkeypatch.setattr(builtins, "__import__", stop)
    assert entry(["check", str(case)]) == 130
    assert "stopped by the keyboard" in capsys.readouterr().err
