"""`framecheck selfcheck` says what was tried and holds, what was not tried, and what fails where something does."""

from __future__ import annotations

from pathlib import Path

import pytest

from framecheck.cli import shop_commands
from framecheck.cli.main import entry
from framecheck.reading.library import load_library
from framecheck.section import mesh
from framecheck.study import selfcheck
from framecheck.study.selfcheck import KnownAnswer


@pytest.fixture(autouse=True)
def store(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path))


def test_what_was_tried_holds(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert entry(["selfcheck"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert f"{len(list(selfcheck.known_answers()))} small problems come out as known. Not tried: your case" in out
    assert "(none yet)" in out
    for words in (
        "framecheck ",
        "numpy ",
        "sections are kept in",
        str(tmp_path),
        "torsion constant",
        "tip of a cantilever",
    ):
        assert words in out
    assert [file for file in tmp_path.rglob("*") if file.is_file()] == []


def test_a_missing_mesher_is_said_with_how_to_mend_it(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def missing() -> None:
        raise mesh.MesherMissingError(mesh.MEND)

    monkeypatch.setattr(mesh, "require_mesher", missing)
    assert entry(["selfcheck"]) == 4
    out = " ".join(capsys.readouterr().out.split())
    assert "pip install --force-reinstall pythoncdt" in out
    assert "ok tip of a cantilever" in out


def test_a_wrong_answer_fails(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(selfcheck, "held_twist", lambda: KnownAnswer("twist", 1.01, 1.0, 1e-3, "a book"))
    assert entry(["selfcheck"]) == 4
    assert "FAILED twist: 1.01, known 1 (a book)" in " ".join(capsys.readouterr().out.split())
    assert not KnownAnswer("x", float("nan"), 1.0, 1.0, "").holds


def test_missing_tables_and_packages_fail(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shop_commands, "library", lambda: load_library({}))
    monkeypatch.setattr(shop_commands, "NEEDED", ("numpy", "no-such-package-at-all"))
    assert entry(["selfcheck"]) == 4
    out = " ".join(capsys.readouterr().out.split())
    assert "missing: no-such-package-at-all" in out
    assert "0 sections, 0 materials" in out


def test_a_store_that_cannot_be_written_is_a_note(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "a file").write_text("", encoding="utf-8")
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path / "a file"))
    assert entry(["selfcheck"]) == 0
    assert "can't be written" in " ".join(capsys.readouterr().out.split())
    monkeypatch.setenv("FRAMECHECK_STORE", "")
    assert entry(["selfcheck"]) == 0
    assert "kept nowhere" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("columns", [40, 50])
def test_a_long_path_is_broken_at_its_slashes(columns: int) -> None:
    path = "/a/folder/that/has/a/very/long/name/of/many/parts/kept-2-117002d05062"
    lines = shop_commands.on_screen(f"ok      sections are kept in {path} (none yet)", columns).splitlines()
    assert max(map(len, lines)) <= columns
    assert "".join("".join(lines).split()) == f"oksectionsarekeptin{path}(noneyet)"
    assert all(line.strip().endswith("/") for line in lines if "/" in line and "kept-2" not in line)
