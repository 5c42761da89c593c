"""A dask scheduler with two workers: one killed in mid-run, or the client itself, leaves the same rows, byte for byte."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from framecheck.cli.main import entry
from tests.trust.texts import ROOT, SMALL

RUN = "from framecheck.cli.main import run_and_exit; run_and_exit()"
WALLS = ", ".join(f"{3 + 0.1 * i:.1f} mm" for i in range(24))
STUDY = f"title: walls\ncase: case.yaml\nvary:\n  - {{field: sections.own.wall, values: [{WALLS}]}}\n"

pytestmark = [
    pytest.mark.filterwarnings("ignore"),
    pytest.mark.skipif(sys.platform == "win32", reason="signals are of POSIX"),
]


@pytest.fixture(scope="module")
def cluster() -> Iterator[Any]:
    distributed = pytest.importorskip("distributed", reason="dask's distributed is not installed: pip install 'framecheck[cluster]'")
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as made:
        yield made


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path / "store"))
    (tmp_path / "case.yaml").write_text(SMALL, encoding="utf-8")
    (tmp_path / "study.yaml").write_text(STUDY, encoding="utf-8")
    return tmp_path / "study.yaml"


def whole(study: Path) -> bytes:
    """Return the rows that one process gives."""
    rows = study.with_name("whole.jsonl")
    assert entry(["size", str(study), "--rows", str(rows)]) in (0, 1)
    return rows.read_bytes()


def wait_for_rows(rows: Path, count: int) -> None:
    """Wait until so many rows are kept."""
    for _ in range(6000):
        if rows.exists() and rows.read_bytes().count(b"\n") >= count:
            return
        time.sleep(0.01)


def test_a_worker_killed_in_mid_run_leaves_the_same_bytes(study: Path, cluster: Any) -> None:
    from distributed import Client

    rows = study.with_name("rows.jsonl")
    with Client(cluster) as client:
        workers = sorted(client.run(os.getpid).values())
    killed: list[int] = []

    def kill() -> None:
        wait_for_rows(rows, 2)
        os.kill(workers[0], signal.SIGKILL)
        killed.append(rows.read_bytes().count(b"\n"))

    killer = threading.Thread(target=kill)
    killer.start()
    assert entry(["size", str(study), "--rows", str(rows), "--cluster", cluster.scheduler_address]) in (0, 1)
    killer.join()
    assert killed[0] < 24  # it was in mid-run
    assert rows.read_bytes() == whole(study)


def test_a_client_killed_and_started_again_ends_in_the_same_bytes(study: Path, cluster: Any) -> None:
    rows = study.with_name("rows.jsonl")
    words = ["size", str(study), "--rows", str(rows), "--cluster", cluster.scheduler_address]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    with subprocess.Popen([sys.executable, "-c", RUN, *words], env=environment, stdout=-3, stderr=-3) as client:
        wait_for_rows(rows, 3)
        client.kill()
    kept = rows.read_bytes().count(b"\n")
    assert 3 <= kept < 24
    assert entry(words) in (0, 1)
    assert rows.read_bytes() == whole(study)
