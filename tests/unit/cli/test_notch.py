"""`framecheck notch` as a person types it."""

from __future__ import annotations

from pathlib import Path

import pytest

from framecheck.cli.main import entry
from framecheck.study import notch
from tests.unit.study.test_notch import TEXT


@pytest.fixture(scope="module")
def beam(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("case") / "beam.yaml"
    file.write_text(TEXT, encoding="utf-8")
    return str(file)


def test_a_cut_is_asked_for_and_drawn(
    beam: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path / "store"))
    monkeypatch.setattr(notch, "DEPTHS", (0.5,))
    picture = tmp_path / "curve.svg"
    asked = ("--at", "1 m", "--side", "bottom", "--length", "120 mm")
    code = entry(("notch", beam, "--member", "beam", *asked, "--plot", str(picture)))
    out = " ".join(capsys.readouterr().out.split())
    assert code == (1 if "Over its length NOT MET" in out else 0)
    assert "Notch 'asked' in the bottom of beam, 1000 mm from its first point: 25 mm deep of 100 mm" in out
    assert "25.00 *" in out
    assert b"<svg" in picture.read_bytes()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--member", "bean"), "did you mean 'beam'"),
        (("--member", "beam", "--cut", "other"), "no cut named 'other'"),
        (("--member", "beam", "--at", "1 m"), "give --at, --side and --length"),
        (("--member", "beam", "--at", "1 lb", "--side", "top", "--length", "1 in"), "--at"),
        (("--member", "beam", "--at", "5 m", "--side", "top", "--length", "1 in"), "reaches beyond the member"),
        (("--member", "beam", "--plot", "curve.bmp"), ".svg"),
        ((), "--member"),
    ],
)
def test_what_cannot_be_done_is_said(
    words: tuple[str, ...], said: str, beam: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert entry(("notch", beam, *words)) == 2
    assert said in capsys.readouterr().err
