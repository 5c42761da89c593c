"""Ctrl-C at moments drawn by chance: the command ends with 130 (or had ended), says so in words, and leaves nothing half written.

How soon it answers is measured by benchmarks/interrupt.py.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

import pytest

from tests.trust.stopping import fresh, run
from tests.trust.texts import ROOT

COMMANDS = (
    ("check", "hill-truck.yaml", "--json", "out.json", "--csv", "tables"),
    ("report", "hill-truck.yaml", "-o", "out.html"),
    ("size", "stiffener-study.yaml", "--workers", "2", "--rows", "rows.csv"),
    ("notch", "notched-rail.yaml", "--member", "rail", "--plot", "out.png"),
    ("section", "hill-truck.yaml:rear rail", "--plot", "out.png"),
    ("draw", "hill-truck.yaml", "-o", "out.png"),
)
MOMENTS = 2
pytestmark = pytest.mark.skipif(not Path("/proc/self/stat").exists() or os.name != "posix", reason="no process group to stop here")


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return one store of sections and joints: the first command fills it, and is stopped while it does not yet find all."""
    return str(tmp_path_factory.mktemp("store") / "kept")


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: words[0])
def test_a_stopped_command_says_so_and_leaves_nothing_half_written(words: tuple[str, ...], tmp_path: Path, store: str) -> None:
    draw = random.Random(words[0])
    whole = run(list(words), fresh(tmp_path, "whole"), store, None)
    assert whole.code in (0, 1), whole.said
    assert not whole.left
    for number in range(MOMENTS):
        moment = draw.uniform(0.2, 0.95) * (whole.clock or 0.0)
        found = run(list(words), fresh(tmp_path, f"stopped{number}"), store, moment)
        assert found.code in ((0, 1) if found.clock is None else (0, 1, 130)), (moment, found)
        assert not found.left, (moment, found)
        assert "Traceback" not in found.said
        assert found.code != 130 or found.said.endswith("stopped by the keyboard; nothing was left half written")


def ran(text: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Return how a script ends."""
    script = folder / "script.py"
    script.write_text(text, encoding="utf-8")
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run([sys.executable, str(script)], env=environment, capture_output=True, text=True, timeout=50, check=False)


LOST = """
import os, signal, sys, time
from framecheck.cli import main as commands
from framecheck.__main__ import main

class Ended:
    def __del__(self):
        os.kill(os.getpid(), signal.SIGINT)
        for _ in range(9):
            time.sleep(0.001)

signal.signal(signal.SIGINT, signal.default_int_handler)

def work():
    for _ in range({times}):
        ended = Ended()
        del ended
    sys.stderr.write("went on ")
    time.sleep(60)
    os._exit(0)

commands.run_and_exit = work
main()
"""
"""A command that is stopped at the end of an object: there Python drops what is raised, prints a traceback, and goes on."""


TWICE = """
import os, signal, sys, time
from framecheck.cli import main as commands
from framecheck.__main__ import main

signal.signal(signal.SIGINT, signal.default_int_handler)

def work():
    try:
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(60)
    finally:
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(0.1)
        sys.stderr.write("tidied up ")

commands.run_and_exit = work
main()
"""
"""A key pressed twice: the second falls into the tidying up after the first."""


def test_ctrl_c_twice_lets_the_command_tidy_up(tmp_path: Path) -> None:
    ended = ran(TWICE, tmp_path)
    assert ended.returncode == 130
    assert ended.stderr == "tidied up stopped by the keyboard; nothing was left half written\n"


@pytest.mark.parametrize("times", [1, 2])
def test_ctrl_c_at_the_end_of_an_object_is_not_lost(times: int, tmp_path: Path) -> None:
    ended = ran(LOST.format(times=times), tmp_path)
    assert ended.returncode == 130
    assert "Traceback" not in ended.stderr
    assert ended.stderr.endswith("stopped by the keyboard; nothing was left half written\n")


LATE = """
import os, signal, sys
from framecheck.__main__ import main

class Ended:
    def __del__(self, kill=os.kill, process=os.getpid(), key=signal.SIGINT):
        kill(process, key)

signal.signal(signal.SIGINT, signal.default_int_handler)
sys.ended_last = Ended()
sys.argv = ["framecheck", "list", "gauges"]
main()
"""
"""A command that is stopped when all is said, while Python takes its modules down and has given the key back to the system."""


def test_ctrl_c_after_the_answer_changes_nothing(tmp_path: Path) -> None:
    ended = ran(LATE, tmp_path)
    assert (ended.returncode, ended.stderr) == (0, "")
    assert "gauge" in ended.stdout
