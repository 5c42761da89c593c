"""Ctrl-C at moments drawn by chance: the command ends with 130 (or had ended), says so in words, and leaves nothing half written.

How soon it answers is measured by benchmarks/interrupt.py.
"""

from __future__ import annotations

import os
import random
from pathlib import Path

import pytest

from tests.trust.stopping import fresh, run

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
