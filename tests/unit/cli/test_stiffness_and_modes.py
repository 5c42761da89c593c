"""`framecheck stiffness` and `framecheck modes` as a person types them."""

from __future__ import annotations

from pathlib import Path

import pytest

from framecheck.cli.files import data_folder
from framecheck.cli.main import CAUTION, entry

DEMO = str(data_folder("cases") / "hill-truck.yaml")
ORIGINAL = str(data_folder("cases") / "hill-truck-original.yaml")


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = entry(words)
    out, err = capsys.readouterr()
    return code, out, err


@pytest.mark.parametrize("case", [DEMO, ORIGINAL])
def test_stiffness_of_both_trucks(case: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    picture = tmp_path / "twist.svg"
    code, out, err = said(capsys, "stiffness", case, "--figure", str(picture))
    assert (code, err) == (0, "")
    assert max(map(len, out.splitlines())) <= 80
    for words in (CAUTION[:20], "N·m/deg", "lb·ft/deg", "Twist along the frame", "Which members give", "left rail"):
        assert words in out
    first = picture.read_bytes()
    assert b"<svg" in first
    said(capsys, "stiffness", case, "--figure", str(picture))
    assert picture.read_bytes() == first


def test_shares_add_up_to_the_whole(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = said(capsys, "stiffness", DEMO)
    rows = out.split("Which members give")[1].split("Notes")[0].splitlines()[4:]
    columns = [[float(value) for value in row.split()[-3:]] for row in rows if row.strip()]
    for column in zip(*columns, strict=True):
        assert sum(column) == pytest.approx(100.0, abs=0.05 * len(columns))


def test_points_may_be_given(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = said(capsys, "stiffness", DEMO, "--front", "nowhere left", "nowhere right", "--rear", "a", "b")
    assert code == 2
    assert "nowhere left: is no point of the frame" in err
    assert said(capsys, "stiffness", DEMO, "--front", "a", "b")[0] == 2


def test_a_figure_of_another_kind_is_refused(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = said(capsys, "stiffness", DEMO, "--figure", str(tmp_path / "twist.bmp"))
    assert code == 2
    assert ".svg" in err


def test_modes_of_the_demo(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = said(capsys, "modes", DEMO, "--count", "3")
    assert (code, err) == (0, "")
    assert max(map(len, out.splitlines())) <= 80
    for words in ("The bare frame, hanging free", "With all it carries, on its wheels", "moves up and down", "Hz"):
        assert words in out
