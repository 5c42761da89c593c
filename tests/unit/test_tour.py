"""docs/tour.md as it stands: every command and every block of Python is run, in its order."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from framecheck.cli.files import data_folder
from framecheck.cli.main import entry

RUN_ELSEWHERE = {"rate", "report", "draw"}
"""The slow ones: tests/unit/cli/test_commands.py runs them on the same file with the same options."""
TOUR = Path(__file__).parents[2] / "docs" / "tour.md"


def blocks(language: str) -> list[str]:
    """Return the page's blocks of one language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", TOUR.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)


@pytest.fixture
def folder(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    place = tmp_path_factory.mktemp("tour")
    for name in ("hill-truck.yaml", "hill-truck-original.yaml", "lapped-rail.yaml", "twist-rig.yaml"):
        shutil.copy(data_folder("cases") / name, place)
    monkeypatch.chdir(place)
    monkeypatch.setenv("FRAMECHECK_STORE", str(place / "store"))
    return place


def test_every_command_of_the_tour_runs(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    commands = [line for block in blocks("sh") for line in block.splitlines()]
    assert len(commands) >= 12
    for line in commands:
        program, *words = shlex.split(line)
        assert program == "framecheck"
        if words[0] not in RUN_ELSEWHERE:
            assert entry(words) == 0, line
    capsys.readouterr()
    assert {"checks.csv", "movements.csv"} <= {file.name for file in (folder / "tables").iterdir()}


def test_the_notebook_of_the_tour_runs(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    names: dict[str, object] = {}
    for block in blocks("python"):
        exec(compile(block, TOUR.name, "exec"), names)
    out = capsys.readouterr().out
    assert "MET SO FAR" in out
    assert "furlong" in out
    assert isinstance(names["largest"], float)
    assert names["n_component"] == 9


def test_importing_the_package_loads_nothing_heavy() -> None:
    program = (
        "import sys, framecheck; assert framecheck.__version__;"
        "print([name for name in ('numpy', 'scipy', 'click', 'matplotlib', 'framecheck.notebook') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
