"""`measured: FILE` and `as measured` in a case, in every answer after it; before and after a change on one sheet."""

from __future__ import annotations

import json
import re
from math import log
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pytest import approx

from framecheck.cli.main import entry
from tests.unit.rig.benches import ladder, said, sheet
from tests.unit.rig.readings import Change, as_expected, as_yaml, rows_of


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def with_readings(folder: Path, capsys: pytest.CaptureFixture[str], name: str, change: Change = as_expected, *words: str) -> str:
    """Write readings of the ladder in a folder, changed, and return their path."""
    case = ladder(folder)
    file = folder / name
    file.write_text(as_yaml(rows_of(sheet(capsys, case, *words), change)), encoding="utf-8")
    return str(file)


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, output and errors."""
    code = entry(words)
    out, err = capsys.readouterr()
    return code, re.sub(r"\s+", " ", out), err


def test_answers_are_of_the_frame_as_measured(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A frame that reads 15 % softer everywhere: check, report and rate say both, JSON too; the deflection follows."""
    with_readings(tmp_path, capsys, "twist.yaml", lambda letter, number, step, value: 1.15 * value)
    case = Path(ladder(tmp_path))
    drawn = json.loads(check_json(capsys, case))
    case.write_text(case.read_text(encoding="utf-8") + "measured: twist.yaml\n", encoding="utf-8")
    code, out, err = run(capsys, "check", str(case))
    assert (code, err) == (0, "")
    for words in ("As drawn: MET", "As measured: MET", "as drawn, ", "Safety factors as drawn and as measured"):
        assert words in out
    measured = json.loads(check_json(capsys, case))
    assert "as_drawn" in measured
    assert "as_drawn" not in drawn
    assert any("is judged as a test found it" in each for each in measured["remarks"])
    turned = [corner(found) for found in (drawn, measured)]
    assert 1.05 < turned[1] / turned[0] < 1.16
    page = tmp_path / "report.html"
    assert run(capsys, "report", str(case), "-o", str(page))[0] == 0
    assert "As drawn and as measured" in page.read_text(encoding="utf-8")


def check_json(capsys: pytest.CaptureFixture[str], case: Path) -> str:
    """Return the JSON of a check."""
    assert entry(["check", str(case), "--json", "-"]) in (0, 1)
    return capsys.readouterr()[0]


def corner(found: dict[str, Any]) -> float:
    """Return how far the right front corner sinks."""
    sinks: float = -found["load_cases"][0]["points"]["right front"]["displacement_m"][2]
    return sinks


@pytest.mark.parametrize("joints", [0.5, 1.0, 2.5])
def test_softer_joints_move_more_and_say_so(joints: float, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """`as measured` by hand: more softness, more movement; 1 is as drawn."""
    case = Path(ladder(tmp_path))
    before = corner(json.loads(check_json(capsys, case)))
    block = f"as measured: {{because: a try, joints: {joints}}}\n"
    case.write_text(case.read_text(encoding="utf-8") + block, encoding="utf-8")
    after = corner(json.loads(check_json(capsys, case)))
    assert np.sign(log(after / before) if abs(after / before - 1) > 1e-12 else 0.0) == np.sign(log(joints))


def test_a_modulus_scales_every_movement(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Hooke: movements go with the inverse of the modulus, joints' springs included."""
    case = Path(ladder(tmp_path))
    before = corner(json.loads(check_json(capsys, case)))
    case.write_text(case.read_text(encoding="utf-8") + "as measured: {because: a try, modulus: 0.8}\n", encoding="utf-8")
    assert corner(json.loads(check_json(capsys, case))) == approx(before / 0.8, rel=1e-6)


STUDY = """\
title: rails of two walls
case: ladder.yaml
{engine}vary:
  - {{field: sections.rail.wall, values: [4 mm, 4.5 mm]}}
"""


@pytest.mark.parametrize("engine", ["", "engine: screen by yield\n"], ids=["every check", "screen"])
def test_a_study_sizes_the_frame_as_measured(engine: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Variants of a case that names its readings are those of the case with what the fit wrote; both are said beside the drawing."""
    twist = with_readings(tmp_path, capsys, "twist.yaml", lambda letter, number, step, value: 1.15 * value)
    case, fitted = Path(ladder(tmp_path)), tmp_path / "fitted.yaml"
    assert said(capsys, str(case), "--readings", twist, "--write", str(fitted))[0] == 0
    plain = case.read_text(encoding="utf-8")
    (tmp_path / "study.yaml").write_text(STUDY.format(engine=engine), encoding="utf-8")
    rows = []
    for name, text in (("drawn", plain), ("named", plain + "measured: twist.yaml\n"), ("written", fitted.read_text("utf-8"))):
        case.write_text(text, encoding="utf-8")
        file = tmp_path / f"{name}.jsonl"
        code, out, _ = run(capsys, "size", str(tmp_path / "study.yaml"), "--rows", str(file))
        assert code == 0
        both = re.search(r"as drawn and as measured.* factor \S+ as drawn, \S+ as measured", out)
        assert bool(both) == (name != "drawn")
        rows.append([json.loads(line) for line in file.read_text(encoding="utf-8").splitlines() if "safety" in line])
    drawn, named, written = ([row["safety_factor"] for row in each if "safety_factor" in row] for each in rows)
    assert len(drawn) == 2
    assert named == approx(written, rel=1e-4)
    assert all(abs(a / b - 1) > 1e-3 for a, b in zip(drawn, named, strict=True))


FAULTS = {
    "measured: nowhere.yaml": "there is no such file",
    "measured: ../twist.yaml": "lies outside the case's folder",
    "measured: twist.yaml\nas measured: {because: x}": "stands beside 'as measured'",
}


@pytest.mark.parametrize(("block", "fault"), FAULTS.items(), ids=list(FAULTS))
def test_faults_of_a_measured_case(block: str, fault: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    case = Path(ladder(tmp_path))
    case.write_text(case.read_text(encoding="utf-8") + block + "\n", encoding="utf-8")
    code, _, err = run(capsys, "check", str(case))
    assert code == 2
    assert fault in err


def test_before_and_after_a_change(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """The same rig: stiffer by a tenth, and what force and arm are off by drops out of the ratio."""
    before = with_readings(tmp_path, capsys, "before.yaml")
    after = with_readings(tmp_path, capsys, "after.yaml", lambda letter, number, step, value: value / 1.1)
    code, out, err = said(capsys, ladder(tmp_path), "--readings", before, "--after", after, "--json", str(tmp_path / "c.json"))
    assert (code, err) == (0, "")
    found = json.loads((tmp_path / "c.json").read_text(encoding="utf-8"))["change"]
    assert found["ratio"] == approx(1.1, rel=1e-3)
    assert found["same_rig"] is True
    assert 0 < found["sigma"] < 0.005
    assert "10.0 % stiffer" in re.sub(r"\s+", " ", out)


def test_no_difference_is_told_where_none_is(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    draw = np.random.default_rng(1)
    noise: Change = lambda letter, number, step, value: value + draw.normal(0, 5e-5)  # noqa: E731
    before, after = (with_readings(tmp_path, capsys, f"{name}.yaml", noise) for name in ("before", "after"))
    _, out, _ = said(capsys, ladder(tmp_path), "--readings", before, "--after", after)
    assert "no difference is told by these readings" in re.sub(r"\s+", " ", out)


def test_another_rig_is_said(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    before = with_readings(tmp_path, capsys, "before.yaml")
    after = with_readings(tmp_path, capsys, "after.yaml")
    Path(after).write_text("force by: jack gauge\n" + Path(after).read_text(encoding="utf-8"), encoding="utf-8")
    _, out, _ = said(capsys, ladder(tmp_path), "--readings", before, "--after", after)
    assert "NOT THE SAME RIG" in out
    Path(after).write_text("rig: beaming\n" + Path(after).read_text(encoding="utf-8"), encoding="utf-8")
    assert said(capsys, ladder(tmp_path), "--readings", before, "--after", after)[0] == 2


CRUCIFORM = {"as received": (1512, 2644, 3532), "box in the middle": (1254, 1966, 3464), "tank made solid": (1539, 2576, 3810),
             "boxes middle and rear": (1369, 2169, 3715), "side members braced": (1661, 2888, 3905)}  # fmt: skip
"""A welded cruciform frame of 1939 changed five times, as its record prints it: Nm/deg overall, dash to rear, front to dash."""


@pytest.mark.parametrize("state", CRUCIFORM)
def test_published_parts_make_the_published_whole(state: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """From the record's two parts, read as three planes of dials, comes its overall stiffness, within 0.15 %."""
    overall, rear, front = CRUCIFORM[state]
    case = ladder(tmp_path)
    span, arm = 0.8, 1.0
    turn = {"dash": 1 / rear, "front": 1 / rear + 1 / front}
    head = "arm: 1 m\ndials:\n"
    for name, x in (("front", 2750), ("dash", 1500)):
        for side, y in (("left", 400), ("right", -400)):
            head += f"  - {{name: {name} {side}, x: {x} mm, y: {y} mm}}\n"
    head += "pairs:\n" + "".join(f"  - {{name: {name}, left: {name} left, right: {name} right}}\n" for name in ("front", "dash"))
    rows = []
    for load in (0.0, 200.0, 400.0, 600.0):
        lifts = {name: np.tan(np.radians(each * load * arm)) * span / 2 for name, each in turn.items()}
        rows.append((load, {f"{name} {side}": sign * lifts[name] for name in turn for side, sign in (("left", 1), ("right", -1))}))
    file = tmp_path / "record.yaml"
    file.write_text(as_yaml(rows, head), encoding="utf-8")
    assert entry(["test", case, "--readings", str(file), "--json", "-"]) == 0
    found = json.loads(capsys.readouterr()[0])
    assert np.radians(found["stiffness_nm_per_rad"]["value"]) == approx(overall, rel=1.5e-3)
    assert np.radians(found["pairs"][1]["stiffness_nm_per_rad"]["value"]) == approx(rear, rel=1e-3)
