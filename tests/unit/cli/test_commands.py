"""The commands as a person types them: what they print, their exit codes, and that nothing is left half written."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from framecheck.cli.files import data_folder
from framecheck.cli.main import CAUTION, COMMANDS, entry

DEMO = str(data_folder("cases") / "hill-truck.yaml")
ORIGINAL = str(data_folder("cases") / "hill-truck-original.yaml")
TUBE, CHANNEL = "tube 4 x 2 x 11 ga", "channel 4 x 1 3/4 x 12 ga"


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return the exit code, standard output and standard error of a command."""
    code = entry(words)
    out, err = capsys.readouterr()
    return code, out, err


def test_demo_meets_its_targets_at_80_columns(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = said(capsys, "check", DEMO)
    assert (code, err) == (0, "")
    assert max(map(len, out.splitlines())) <= 80
    assert out.index("framecheck informs") < out.index("MET SO FAR") < out.index("kind ") < out.index("Open: not judged")
    assert len(out.splitlines()) <= 40


def test_original_misses_a_target(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, "check", ORIGINAL, "--quiet")
    assert code == 1
    assert out.startswith("NOT MET")


def test_json_to_standard_output_is_json_alone(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    _, out, _ = said(capsys, "check", DEMO, "--json", "-")
    whole = json.loads(out)
    said(capsys, "check", DEMO, "--json", str(tmp_path / "result.json"))
    assert json.loads((tmp_path / "result.json").read_text(encoding="utf-8")) == whole
    assert whole["caution"] == CAUTION
    assert all(case["balance_residual"] < 1e-9 for case in whole["load_cases"])
    assert len(whole["load_cases"]) >= 15
    assert whole["checks"][0]["safety_factor"] == whole["governing"]["safety_factor"]


def test_compare_sections_in_words_and_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, "compare", CHANNEL, TUBE, "--units", "us")
    assert code == 0
    for words in ("times the weight", "vertical bending", "sideways bending", "in twist", "B/A", CAUTION[:20]):
        assert words in out


def test_compare_cases(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, "compare", ORIGINAL, DEMO)
    assert code == 1  # the original misses targets
    assert "safety factor, one wheel up" in out


def test_compare_one_thing_is_a_usage_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert said(capsys, "compare", TUBE)[0] == 2


def test_unknown_section_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = said(capsys, "section", "tube 4 x 2 x 11ga")
    assert code == 2
    assert "did you mean 'tube 4 x 2 x 11 ga'?" in err


def test_section_of_a_case_file_is_drawn(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    picture = tmp_path / "rail.svg"
    code, out, _ = said(capsys, "section", f"{DEMO}:front rail", "--plot", str(picture))
    assert code == 0
    assert "torsion constant" in out
    assert picture.read_bytes().startswith(b"<?xml")


def test_missing_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = said(capsys, "check", str(tmp_path / "none.yaml"))
    assert (code, "there is no such file" in err) == (2, True)


def test_unwritable_output_says_so_and_leaves_nothing(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = said(capsys, "check", DEMO, "--json", str(tmp_path / "no folder" / "out.json"))
    assert code == 2
    assert "can't be written" in err
    assert list(tmp_path.iterdir()) == []


def test_rate_says_what_governs_and_what_the_tyres_hold(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, "rate", DEMO)
    assert code == 0
    for words in ("engine torque", "engine power", "cornering left, g", "tyres let go", "governs"):
        assert words in out


def test_report_is_written_whole(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    page = tmp_path / "report.html"
    assert said(capsys, "report", DEMO, "-o", str(page))[0] == 0
    assert page.read_text(encoding="utf-8").endswith("</html>")
    assert page.stat().st_size < 1_500_000


@pytest.mark.parametrize("name", ["page.pdf", "page.png", "page.txt"])
@pytest.mark.parametrize("command", ["report", "test"])
def test_a_page_is_not_written_under_the_name_of_another_kind(
    command: str, name: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """A page of HTML was written as report.pdf, and no program opened it."""
    code, _, err = said(capsys, command, DEMO, "-o", str(tmp_path / name))
    assert code == 2
    assert "write a name that ends in .html" in err
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("extra", [(), ("--member", "left rail"), ("--stress", "right rail"), ("--twist",), ("--factors",)])
def test_draw(capsys: pytest.CaptureFixture[str], tmp_path: Path, extra: tuple[str, ...]) -> None:
    picture = tmp_path / "frame.png"
    assert said(capsys, "draw", DEMO, "-o", str(picture), *extra)[0] == 0
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_draw_makes_one_picture(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, error = said(capsys, "draw", DEMO, "-o", str(tmp_path / "never.png"), "--twist", "--factors")
    assert code == 2
    assert "give one of --member, --stress, --twist, --factors" in error
    assert list(tmp_path.iterdir()) == []


def test_schema_is_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, "schema")
    assert code == 0
    assert json.loads(out)["$defs"]["case"]["properties"]["title"]["type"] == "string"


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(capsys: pytest.CaptureFixture[str], name: str) -> None:
    code, out, _ = said(capsys, name, "--help")
    assert code == 0
    assert "Usage:" in out


def test_help_shows_the_caution(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, "--help")
    assert code == 0
    assert "informs" in out


def test_a_person_who_waits_at_a_terminal_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two seconds after the start for the first time; nothing where no terminal shows it, nothing after the end."""
    from io import StringIO
    from threading import Event

    from framecheck.cli import console

    shown = StringIO()
    monkeypatch.setattr(console.sys, "stderr", shown)
    monkeypatch.setattr(console, "TOLD_AT", (0, 0))
    console.keep_telling(Event())
    assert shown.getvalue().count("still working after") == 2
    assert console.TELLS_ITSELF == ("size", "new")
    ended = Event()
    ended.set()
    console.keep_telling(ended)
    assert shown.getvalue().count("still working after") == 2
    with console.waited_for("check"):  # no terminal
        pass
    assert shown.getvalue().count("still working after") == 2
