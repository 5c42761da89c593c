"""`framecheck size`: the same bytes however it is run, exit codes, faults."""

from __future__ import annotations

import os
from concurrent.futures import Executor, ProcessPoolExecutor
from hashlib import sha256
from multiprocessing import get_context
from pathlib import Path

import pytest

from framecheck.cli.context import disk_store
from framecheck.cli.main import entry
from framecheck.cli.rows_file import taken_up
from framecheck.cli.size_command import key_of, studied
from framecheck.errors import InputError
from framecheck.output.rows_text import RowForm
from framecheck.study.engines import Builders, run_variants
from tests.unit.study.studies import CASE, WALLS

HALF = 3


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a study and its case."""
    made = tmp_path_factory.mktemp("study")
    (made / "ladder.yaml").write_text(CASE, encoding="utf-8")
    (made / "study.yaml").write_text(WALLS, encoding="utf-8")
    return made


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


@pytest.fixture(scope="module")
def whole(folder: Path) -> bytes:
    """Return the rows of the study, run in one go by one process."""
    assert entry(["size", str(folder / "study.yaml"), "--rows", str(folder / "whole.jsonl")]) == 0
    return (folder / "whole.jsonl").read_bytes()


def checksums_of(folder: Path) -> str:
    """Return what every row says it was made of."""
    return " ".join(sha256((folder / name).read_bytes()).hexdigest() for name in ("study.yaml", "ladder.yaml"))


def rows_by(folder: Path, name: str, executor: Executor) -> bytes:
    """Return the rows file of the study run by an executor."""
    file = studied(str(folder / "study.yaml"))
    kept = taken_up(str(folder / name), RowForm(key_of(file), tuple(each.field for each in file.study.varied), checksums_of(folder)))
    found = run_variants(file.study, Builders(file.build, disk_store()), executor=executor, workers=2)
    assert len(list(kept.appended(found))) == 6
    return (folder / name).read_bytes()


def test_two_processes_give_the_same_bytes(folder: Path, whole: bytes) -> None:
    with ProcessPoolExecutor(2, get_context("spawn")) as executor:
        assert rows_by(folder, "two.jsonl", executor) == whole


@pytest.mark.filterwarnings("ignore")
def test_a_dask_cluster_gives_the_same_bytes(folder: Path, whole: bytes) -> None:
    distributed = pytest.importorskip(
        "distributed", reason="dask's distributed is not installed: pip install 'framecheck[cluster]'"
    )
    local = {"n_workers": 1, "threads_per_worker": 2, "processes": False, "dashboard_address": None}
    with distributed.LocalCluster(**local) as cluster, distributed.Client(cluster) as client:
        assert rows_by(folder, "cluster.jsonl", client.get_executor()) == whole


@pytest.mark.filterwarnings("ignore")
def test_the_command_runs_on_a_cluster(folder: Path, whole: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    distributed = pytest.importorskip("distributed", reason="dask's distributed is not installed")
    monkeypatch.setattr("framecheck.cli.size_command.PATIENCE", 1)
    words = ["size", str(folder / "study.yaml"), "--rows", str(folder / "by_command.jsonl"), "--cluster"]
    assert entry([*words, "tcp://127.0.0.1:9"]) == 2
    with distributed.LocalCluster(n_workers=1, processes=False, dashboard_address=None) as cluster:
        assert entry([*words, cluster.scheduler_address]) == 0
    assert (folder / "by_command.jsonl").read_bytes() == whole


@pytest.mark.parametrize(("kind", "tail"), [("jsonl", ""), ("jsonl", '{"study": "damag'), ("csv", "0123,4")])
def test_a_run_stopped_at_half_is_taken_up_and_ends_in_the_same_bytes(
    folder: Path, whole: bytes, kind: str, tail: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = folder / f"stopped.{kind}"
    file.unlink(missing_ok=True)
    words = ["size", str(folder / "study.yaml"), "--rows", str(file)]
    assert entry(words) == 0
    first, text = file.read_bytes(), capsys.readouterr().out
    kept = first.splitlines(keepends=True)[: HALF + (kind == "csv")]
    file.write_bytes(b"".join(kept) + tail.encode())
    assert entry(words) == 0
    assert file.read_bytes() == first
    assert capsys.readouterr().out == text
    assert kind == "csv" or first == whole


def test_a_complete_file_is_not_run_again(folder: Path, whole: bytes) -> None:
    file = studied(str(folder / "study.yaml"))
    kept = taken_up(str(folder / "whole.jsonl"), RowForm(key_of(file), ("sections.rail tube.wall",), checksums_of(folder)))
    os.close(kept.handle)
    assert len(kept.done) == 6
    assert (folder / "whole.jsonl").read_bytes() == whole


@pytest.mark.parametrize("held", ["my notes", "my notes\nand more\n", '{"study": "0123"}\n'])
@pytest.mark.parametrize("kind", ["jsonl", "csv"])
def test_a_file_that_holds_something_else_is_left_alone(folder: Path, held: str, kind: str) -> None:
    other = folder / f"notes.{kind}"
    other.write_text(held, encoding="utf-8")
    with pytest.raises(InputError, match="rows of another study"):
        taken_up(str(other), RowForm("abc", ("wall",)))
    assert other.read_text(encoding="utf-8") == held


def test_another_study_has_another_key(folder: Path) -> None:
    keys = {key_of(studied(str(folder / "study.yaml")))}
    for name, study, case in (("a", WALLS.replace("6 mm", "7 mm"), CASE), ("b", WALLS, CASE.replace("-8 kN", "-7 kN"))):
        below = folder / name
        below.mkdir()
        (below / "study.yaml").write_text(study, encoding="utf-8")
        (below / "ladder.yaml").write_text(case, encoding="utf-8")
        keys.add(key_of(studied(str(below / "study.yaml"))))
    assert len(keys) == 3


def test_exit_codes(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """0 something meets every target; 1 nothing does; 2 bad input; 3 nothing can be solved."""
    for name, text, code in (
        ("none.yaml", WALLS + "targets: {safety factor: 50}\n", 1),
        ("empty.yaml", WALLS.replace("2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm", ""), 2),
        ("foil.yaml", WALLS.replace("2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm", "40 mm"), 3),
    ):
        (folder / name).write_text(text, encoding="utf-8")
        assert entry(["size", str(folder / name)]) == code
    said = capsys.readouterr()
    assert "NO VARIANT MEETS EVERY TARGET" in said.out
    assert "rail tube" in said.err


def test_progress_is_told_on_standard_error(folder: Path, capsys: pytest.CaptureFixture[str], whole: bytes) -> None:
    assert whole
    entry(["size", str(folder / "study.yaml"), "--rows", str(folder / "whole.jsonl")])
    said = capsys.readouterr()
    assert "6 of 6 variants" in said.err
    assert "of 6 variants\n" not in said.out


def test_a_link_out_of_the_folder_is_refused(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "study.yaml").write_text(WALLS, encoding="utf-8")
    (tmp_path / "ladder.yaml").symlink_to(folder / "ladder.yaml")
    with pytest.raises(InputError, match="leads out of the study's folder"):
        studied(str(tmp_path / "study.yaml"))


def test_between_the_sizes_is_no_heavier_than_the_sweep(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The walls that pass reach down below 2.5 mm, between two of the list's: what is found lies between them in mass."""
    text = WALLS.replace("values: [2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm]", "from: 2 mm, to: 6 mm, steps: 5")
    (folder / "range.yaml").write_text(text, encoding="utf-8")
    assert entry(["size", str(folder / "range.yaml"), "--between"]) == 0
    assert "It saves" in capsys.readouterr().out
