"""`framecheck test CASE --readings FILE` as a person types it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pytest import approx

from framecheck.cli.main import entry
from tests.unit.rig.benches import ladder, said, sheet
from tests.unit.rig.readings import Change, as_csv, as_expected, as_yaml, rows_of

STUDENT = Path(__file__).parent / "student-car-readings.yaml"


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def read_back(capsys: pytest.CaptureFixture[str], case: str, file: Path, *words: str) -> dict[str, Any]:
    """Return the JSON of what readings say."""
    code = entry(["test", case, "--readings", str(file), "--json", "-", *words])
    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    found: dict[str, Any] = json.loads(out)
    return found


def tried(capsys: pytest.CaptureFixture[str], folder: Path, change: Change = as_expected, *words: str) -> dict[str, Any]:
    """Return what readings of a ladder say that were changed."""
    case = ladder(folder)
    expected = sheet(capsys, case, *words)
    file = folder / "readings.yaml"
    file.write_text(as_yaml(rows_of(expected, change)), encoding="utf-8")
    return read_back(capsys, case, file, *words)


def degrees(radians: float) -> float:
    """Return Nm/rad as Nm/deg."""
    return radians * 0.017453292519943295


def test_published_raw_twist_readings(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A student car's published dial readings (14 loads, two pairs of dials): by numpy.polyfit of their own columns the outer pair
    gives 954 Nm/deg with a scatter of 0.9 %, the inner 1287 with 2.7 %; the first step reads too stiff.
    """
    found = read_back(capsys, ladder(tmp_path), STUDENT)
    outer, inner = (each["stiffness_nm_per_rad"] for each in found["pairs"])
    assert [round(degrees(each["value"])) for each in (outer, inner)] == [954, 1287]
    assert [round(100 * each["scatter"] / each["value"], 1) for each in (outer, inner)] == [0.9, 2.7]
    assert "the first step reads too stiff: something seats" in {each["what"] for each in found["findings"]}


def test_readings_as_expected_give_the_expected_stiffness(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    found = tried(capsys, tmp_path)
    assert found["ratio"] == approx(1.0, rel=1e-4)
    assert found["findings"] == []
    assert [each["ratio"]["value"] for each in found["bays"]] == approx([1.0] * 4, rel=1e-3)
    assert not any(each["off"] for each in found["bays"])


def test_a_table_says_the_same_as_a_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    case = ladder(tmp_path)
    rows = rows_of(sheet(capsys, case))
    (tmp_path / "a.yaml").write_text(as_yaml(rows), encoding="utf-8")
    (tmp_path / "a.csv").write_text(as_csv(rows), encoding="utf-8")
    one, other = (read_back(capsys, case, tmp_path / name) for name in ("a.yaml", "a.csv"))
    assert one["stiffness_nm_per_rad"]["value"] == approx(other["stiffness_nm_per_rad"]["value"], rel=1e-5)


def test_a_soft_place_is_found(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """The front pair turns by as much more as a joint before bay 1 would give: only the first bay is off."""
    found = tried(capsys, tmp_path, lambda letter, _, __, value: value * (1.3 if letter in "AB" else 1.0))
    assert [each["off"] for each in found["bays"]] == [True, False, False, False]
    assert found["ratio"] == approx(1 / 1.3, rel=1e-3)


def test_what_stands_give_is_taken_out(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Stands that give turn the whole frame: every pair by as much as the rear one."""

    def given(letter: str, _: int, step: int, value: float) -> float:
        return value + step * 1e-4 * (1 if letter in "ACEGJ" else -1)

    found = tried(capsys, tmp_path, given)
    assert found["ratio"] == approx(1.0, rel=2e-4)
    assert {each["what"] for each in found["findings"]} == {"the stand gives"}


def slipped(letter: str, sitting: int, step: int, value: float) -> float:
    """Return a reading with a loop: it lags where the load comes off."""
    return value + (2e-4 if letter == "C" and 5 < sitting < 10 else 0.0)


ODD: dict[str, Change] = {
    "it does not come back to zero": lambda letter, sitting, step, value: value + (3e-4 if letter == "A" and sitting > 9 else 0.0),
    "the dial reads the wrong way round": lambda letter, sitting, step, value: -value if letter == "D" else value,
    "the dial does not move": lambda letter, sitting, step, value: 0.0 if letter == "E" else value,
    "unloading reads other than loading": slipped,
    "one way is softer than the other": lambda letter, sitting, step, value: value * (1.2 if step < 0 else 1.0),
    "the readings are no straight line": lambda letter, sitting, step, value: value * (1 + 0.03 * abs(step)),
    "the stand moved by a jump": lambda letter, sitting, step, value: value + (5e-4 if letter == "J" and sitting > 3 else 0.0),
}


@pytest.mark.parametrize("what", ODD)
def test_what_is_odd_is_said(what: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    found = tried(capsys, tmp_path, ODD[what])
    assert what in {each["what"] for each in found["findings"]}


def test_a_rig_that_tilts_has_no_wrong_dials(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A right side that stands still while the left moves twice as far: twisted as much, every dial right, the file's stiffness."""
    found = tried(capsys, tmp_path, lambda letter, sitting, step, value: 2 * value if letter in "ACEGJ" else 0.0)
    assert found["ratio"] == approx(1.0, rel=2e-3)
    assert not {"the dial does not move", "the dial reads the wrong way round"} & {each["what"] for each in found["findings"]}


def test_what_is_odd_of_many_dials_is_said_once(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Noise of three dial errors: stands' dials, which hardly move, are not told to seat; one line a kind, the other dials named."""
    case, draw = ladder(tmp_path), np.random.default_rng(1)
    rows = rows_of(sheet(capsys, case), lambda letter, sitting, step, value: value + draw.normal(0, 4.5e-5))
    (tmp_path / "a.yaml").write_text(as_yaml(rows), encoding="utf-8")
    found = read_back(capsys, case, tmp_path / "a.yaml")
    kinds = [each["what"] for each in found["findings"]]
    assert "the first step reads too stiff: something seats" not in kinds
    assert kinds.count("the readings are no straight line") > 2
    out = re.sub(r"\s+", " ", said(capsys, case, "--readings", str(tmp_path / "a.yaml"))[1])
    assert out.count("the readings are no straight line") == 1
    assert re.search(r"also dials [A-K], [A-K]", out)


def test_sag_less_the_stands(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Four stands that sink alike by 1 mm move every dial down by 1 mm."""
    found = tried(capsys, tmp_path, lambda letter, sitting, step, value: value - abs(step) * 2e-4, "--rig", "beaming")
    assert found["ratio"] == approx(1.0, rel=1e-3)


def test_dials_that_do_not_move_tell_no_stiffness(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    found = tried(capsys, tmp_path, lambda letter, sitting, step, value: 0.0)
    assert found["stiffness_nm_per_rad"] is None
    assert "the dial does not move" in {each["what"] for each in found["findings"]}


def test_a_load_beyond_the_stop_load_is_said(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    case = ladder(tmp_path)
    expected = sheet(capsys, case)
    times = 1.1 * expected["stops"][0]["load_n"] / expected["loads_n"][-1]
    rows = [(load * times, {name: value * times for name, value in dials.items()}) for load, dials in rows_of(expected)]
    file = tmp_path / "readings.yaml"
    file.write_text(as_yaml(rows), encoding="utf-8")
    assert "a load beyond the stop load was put on" in {each["what"] for each in read_back(capsys, case, file)["findings"]}


FAULTS = {
    "readings:\n  - {dials: {A: 1 mm}}\n": "readings.yaml:2: readings > entry 1: a reading without its load",
    "readings:\n  - {load: 0 N, dials: {A: 0 mm}}\n  - {load: 10 N, dial: A}\n": (
        "readings.yaml:3: readings > entry 2: a dial without a reading"
    ),
    "readings:\n  - {load: 10 N, dials: {A: 1 mm, front left: 1 mm}}\n": "two dials at one place",
    "readings:\n  - {load: 10 N, dials: {Q: 1 mm}}\n": "there is no such dial on the sheet",
    "readings:\n  - {load: 10 N, dials: {A: 1 mm}}\n": "no dial is read under two loads",
    "readings:\n  - {load: 0 N, dials: {A: 1 mm}}\n": "every reading is at zero load",
    "readings:\n  - {load: 10, dials: {A: 1 mm}}\n": "readings.yaml:2:",
    "arms: 3\nreadings:\n  - {load: 10 N, dials: {A: 1 mm}}\n": "readings.yaml:1: arms: this key is not known here",
    "dials:\n  - {name: p, x: 1 m, y: 0.2 m}\n  - {name: q, x: 1 m, y: 0.2 m}\nreadings:\n  - {load: 10 N, dials: {p: 1 mm}}\n": (
        "readings.yaml:3: q: it stands where 'p' does"
    ),
    "dials:\n  - {name: p, point: nowhere}\nreadings:\n  - {load: 10 N, dials: {p: 1 mm}}\n": (
        "readings.yaml:2: p: 'nowhere' is no point"
    ),
    "dials:\n  - {name: p}\nreadings:\n  - {load: 10 N, dials: {p: 1 mm}}\n": "readings.yaml:2: dials > p: its place is not said",
    "dials:\n  - {name: p, point: left front}\nreadings:\n  - {load: 10 N, dials: {p: 1 mm}}\n": "no pair of dials tells the turn",
    "frame: {}\n": "this is a case, not a file of readings",
}


@pytest.mark.parametrize(("text", "fault"), FAULTS.items(), ids=list(FAULTS.values()))
def test_faults_are_told_by_line(text: str, fault: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "readings.yaml"
    file.write_text(text, encoding="utf-8")
    code, out, err = said(capsys, ladder(tmp_path), "--readings", str(file))
    assert (code, out) == (2, "")
    assert fault in err


@pytest.mark.parametrize(
    ("text", "fault"),
    [("load,dial\n1,A\n", "there is no column 'reading'"), ("load,dial,reading,colour\n", "the column 'colour' is not known"),
     ("load,dial,reading,unit\n,A,1,mm\n", "r.csv:2: readings > entry 1: a reading without its load")],
)  # fmt: skip
def test_faults_of_a_table(text: str, fault: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    (tmp_path / "r.csv").write_text(text, encoding="utf-8")
    code, _, err = said(capsys, ladder(tmp_path), "--readings", str(tmp_path / "r.csv"))
    assert code == 2
    assert fault in err


def test_the_screen_and_the_page(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    page = tmp_path / "measured.html"
    code, out, err = said(capsys, ladder(tmp_path), "--readings", str(STUDENT), "-o", str(page), "--least-stiffness", "900 Nm/deg")
    assert (code, err) == (0, "")
    assert max(map(len, out.partition("framecheck 0.")[0].splitlines())) <= 80  # below stand the files' own names
    words = re.sub(r"\s+", " ", out)
    for there in ("Measured: 953.6 ± ", "What is odd", "what the stands give was not read", "900 N·m/deg: reached"):
        assert there in words
    html = page.read_text(encoding="utf-8")
    assert html.count("<svg") == 2
    assert "Measured: 953.6 ± " in html
