"""A fit by kinds of end, of a stated body, of several tests: springs side by side, twins, what is written, which entry it closes."""

from __future__ import annotations

import re
from math import log
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from framecheck.cli.context import read
from framecheck.cli.main import entry
from framecheck.model.frame import Make
from framecheck.rig.letters import letter
from framecheck.rig.response import responses
from framecheck.rig.rigs import rig_of
from framecheck.rig.setup import AskedTest, RigKind
from framecheck.rig.variants import FoundFactors, Springy
from tests.unit.rig.benches import answer, ladder, said
from tests.unit.rig.readings import as_yaml

ENDS = ("left front", "right front", "left rear", "right rear")
RIG = "front: [left front, right front]\nrear: [left rear, right rear]\narm: 1 m\nplanes: 0\nresolution: 0.01 mm\n"
TWO_KINDS = {"section: cross, ends: {make: butt on one face, leg: 4 mm}}\n      - {name: rear":
             "section: cross, ends: {make: through one face, leg: 4 mm}}\n      - {name: rear"}  # fmt: skip


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def with_body(folder: Path, torsion: str) -> str:
    """Return a ladder whose body is stated between its four corners."""
    body = f"  stated body: {{corners: [{', '.join(ENDS)}], torsion: {torsion}, source: a guess}}\nload cases:"
    return ladder(folder, **{"load_cases:": body})


def turned(folder: Path, stiffness: float) -> str:
    """Return readings of four dials, front and rear, of a frame of so many Nm/rad; span 0.8 m, arm 1 m."""
    rows = []
    for step in (0, 1, 2, 3, 2, 1, 0):
        rise = 0.4 * float(np.tan(200.0 * step / stiffness))
        rows.append((200.0 * step, {"A": rise, "B": -rise, "C": 0.0, "D": 0.0}))
    file = folder / "turned.yaml"
    file.write_text(as_yaml(rows, RIG), encoding="utf-8")
    return str(file)


@pytest.mark.parametrize("true", [1500.0, 3000.0, 7000.0])
def test_a_stated_body_is_measured(true: float, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Springs side by side: of a frame and a body that stand between the same points, the body is what the frame's own lacks."""
    (folder := tmp_path / "bare").mkdir()
    front, rear = ("--front", *ENDS[:2]), ("--rear", *ENDS[2:])
    alone = answer(capsys, "test", ladder(folder), *front, *rear, "--planes", "0")["stiffness_nm_per_rad"]["expected"][0]
    case = with_body(tmp_path, "[1000 N·m/deg, 6000 N·m/deg]")
    file = turned(tmp_path, alone + true * 180 / np.pi)
    measured = str(tmp_path / "measured.yaml")
    found = answer(capsys, "test", case, "--readings", file, "--find", "body")["fit"]
    body = next(each for each in found["unknowns"] if "stated body" in each["name"])
    assert 3500.0 * body["factor"] == approx(true, rel=0.01)
    assert said(capsys, case, "--readings", file, "--find", "body", "--write", measured)[0] == 0
    text = Path(measured).read_text(encoding="utf-8")
    low, high = (float(each) for each in re.findall(r"body torsion: \[(\S+) N·m/deg, (\S+) N·m/deg\]", text)[0])
    assert low < true < high < 1.1 * low
    open_before, open_after = (
        {each["what"] for each in answer(capsys, "check", each)["verdict"]["open"]} for each in (case, measured)
    )
    assert open_before - open_after == {"stiffness of a stated body"}


def test_a_body_that_the_test_does_not_tell_stays_open(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Only the front dials of a beaming test: the twist of the body is not told, and nothing is claimed of it."""
    case = with_body(tmp_path, "3000 N·m/deg")
    rows = [(load, {"A": -load * 1e-7, "B": -load * 1e-7}) for load in (0.0, 1000.0, 2000.0, 0.0)]
    file, measured = tmp_path / "sag.yaml", tmp_path / "measured.yaml"
    file.write_text(as_yaml(rows, "rig: beaming\n" + RIG.replace("planes: 0\n", "").replace("arm: 1 m\n", "")), encoding="utf-8")
    assert said(capsys, case, "--readings", str(file), "--fit", "--write", str(measured))[0] == 0
    assert "# body torsion: not told by this test, as stated" in measured.read_text(encoding="utf-8")
    assert "stiffness of a stated body" in {each["what"] for each in answer(capsys, "check", str(measured))["verdict"]["open"]}


def test_kinds_of_end_are_found_apart(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A twin of two tests, with noise: two crossmembers pressed, one butt-welded and one passed through a wall: found as made."""
    case = ladder(tmp_path, **TWO_KINDS)
    truth, draw, files = {Make.BUTT: 1.9, Make.THROUGH_ONE: 0.6}, np.random.default_rng(4), []
    described = read(case)
    for name in ("front crossmember", "middle crossmember"):
        rig = rig_of(described, AskedTest(kind=RigKind.CROSSMEMBER, at=name))
        springy = Springy(rig.frame, None)
        structure = springy.structure(FoundFactors(ends=tuple(truth.items())), springy.bounds[0])
        moves = next(iter(responses(rig, (structure,)))).moves
        loads = (0.0, 4000.0, 8000.0, 12000.0, 8000.0, 4000.0, 0.0)
        rows = [(load, {letter(n): load * each + draw.normal(0, 5e-6) for n, each in enumerate(moves.tolist())}) for load in loads]
        files += ["--readings", str(tmp_path / f"{name}.yaml")]
        Path(files[-1]).write_text(as_yaml(rows, f"rig: crossmember\nat place: {name}\nresolution: 0.005 mm\n"), encoding="utf-8")
    found = answer(capsys, "test", case, *files, "--find", "joints")["fit"]
    for make, factor in truth.items():
        one = next(each for each in found["unknowns"] if make.value in each["name"])
        assert one["sigma"] < one["prior"] / 2
        assert one["value"] == approx(log(factor), abs=3 * one["sigma"])


def test_one_kind_is_softened_alone(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """`ends` takes the place of `joints` for its kind: both kinds named is `joints`; a kind that is not there changes nothing."""
    case = Path(ladder(tmp_path, **TWO_KINDS))
    plain, rises = case.read_text(encoding="utf-8"), []
    for block in ("joints: 2", "ends: {butt on one face: 2, through one face: 2}", "joints: 5, ends: {butt on one face: 2, "
                  "through one face: 2}", "ends: {butt on one face: 2}", "ends: {gusseted: 9}"):  # fmt: skip
        case.write_text(plain + f"as measured: {{because: a try, {block}}}\n", encoding="utf-8")
        rises.append(answer(capsys, "check", str(case))["load_cases"][0]["points"]["right front"]["displacement_m"][2])
    case.write_text(plain, encoding="utf-8")
    drawn = answer(capsys, "check", str(case))["load_cases"][0]["points"]["right front"]["displacement_m"][2]
    assert rises[1:3] == approx([rises[0]] * 2, rel=1e-9)
    assert abs(rises[0]) > abs(rises[3]) > abs(drawn)
    assert rises[4] == approx(drawn, rel=1e-12)


FAULTS = {
    "ends: {welded: 2}": "'welded' is no kind of end",
    "body torsion: 3000 N·m/deg": "the frame has no stated body",
    "body torsion: 0 N·m/deg": "write a value above zero",
}


@pytest.mark.parametrize(("block", "fault"), FAULTS.items(), ids=list(FAULTS))
def test_faults_of_what_was_found(block: str, fault: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = Path(ladder(tmp_path))
    path.write_text(path.read_text(encoding="utf-8") + f"as measured: {{because: x, {block}}}\n", encoding="utf-8")
    assert entry(["check", str(path)]) == 2
    assert fault in capsys.readouterr()[1]


def test_nothing_to_find_is_said(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    case = ladder(tmp_path, ends="rigid")
    code, _, err = said(capsys, case, "--readings", turned(tmp_path, 1e5), "--find", "joints")
    assert code == 2
    assert "this frame has nothing of that kind to be found" in err
