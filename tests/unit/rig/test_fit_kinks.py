"""Kinks and splices as unknowns of a fit: twins with noise, what is written, what a factor does by itself."""

from __future__ import annotations

from math import log
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from framecheck.cli.context import read
from framecheck.cli.main import entry
from framecheck.frame.kinks import kinks_of
from framecheck.model.frame import Kinks
from framecheck.rig.letters import letter
from framecheck.rig.response import responses
from framecheck.rig.rigs import rig_of
from framecheck.rig.setup import AskedTest, RigKind
from framecheck.rig.variants import FoundFactors, Springy
from tests.unit.rig.benches import answer, ladder, said
from tests.unit.rig.readings import as_yaml

FRONT = "        - {name: front, x: 3000 mm, y: 400 mm, z: 500 mm}\n"
KICK = FRONT + "        - {name: low, x: 1900 mm, y: 400 mm, z: 500 mm}\n        - {name: high, x: 1100 mm, y: 400 mm, z: 800 mm}\n"
REAR = "        - {name: rear, x: 0 mm, y: 400 mm, z: 500 mm}\n"
LAPPED = """\
title: A rail lapped beside its mate
origin: on the floor
sections:
  tube: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, outside radius: 8 mm, material: S355}
frame:
  points:
    left front: {x: 2000 mm, y: 400 mm, z: 500 mm}
    left old end: {x: 900 mm, y: 400 mm, z: 500 mm}
    left new end: {x: 1200 mm, y: 350 mm, z: 500 mm}
    left rear: {x: 0 mm, y: 350 mm, z: 500 mm}
    right front: {x: 2000 mm, y: -400 mm, z: 500 mm}
    right rear: {x: 0 mm, y: -400 mm, z: 500 mm}
  members:
    - {name: old rail, points: [left front, left old end], section: tube, ends: rigid}
    - {name: new rail, points: [left new end, left rear], section: tube, ends: rigid}
    - {name: right rail, points: [right front, right rear], section: tube, ends: rigid}
    - {name: front crossmember, points: [left front, right front], section: tube, ends: rigid}
    - {name: rear crossmember, points: [left rear, right rear], section: tube, ends: rigid}
  splices:
    - {name: lap, members: [old rail, new rail], welds: [along the edges], leg: 4 mm}
"""


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def kicked(folder: Path) -> str:
    """Return a ladder whose rails kick up and down again, cut and welded plain."""
    return ladder(folder, **{FRONT.replace(" ", "_"): KICK, "section:_rail\n": "section: rail\n      kinks: mitred\n"})


def lapped(folder: Path) -> str:
    """Return two rails, of which one is lapped."""
    path = folder / "lapped.yaml"
    path.write_text(LAPPED, encoding="utf-8")
    return str(path)


def readings_of(case: str, asked: AskedTest, truth: FoundFactors, head: str) -> str:
    """Return readings of a twin whose frame is otherwise than drawn, with noise."""
    rig, draw = rig_of(read(case), asked), np.random.default_rng(8)
    springy = Springy(rig.frame, None)
    moves = next(iter(responses(rig, (springy.structure(truth, springy.bounds[0]),)))).moves
    loads = (0.0, 500.0, 1000.0, 1500.0, 1000.0, 500.0, 0.0)
    rows = [(load, {letter(n): load * each + draw.normal(0, 5e-6) for n, each in enumerate(moves.tolist())}) for load in loads]
    file = Path(case).with_name("readings.yaml")
    file.write_text(as_yaml(rows, head), encoding="utf-8")
    return str(file)


def test_soft_kinks_are_found_and_written(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A twin bent between its axles: kinks three times as soft as modelled, with noise; written under their kind, and read again."""
    case = kicked(tmp_path)
    truth, head = FoundFactors(kinks=((Kinks.MITRED, 3.0),)), "rig: beaming\nresolution: 0.005 mm\n"
    file = readings_of(case, AskedTest(kind=RigKind.BEAMING), truth, head)
    written = str(tmp_path / "measured.yaml")
    assert said(capsys, case, "--readings", file, "--find", "kinks", "--write", written)[0] == 0
    found = answer(capsys, "test", case, "--readings", file, "--find", "kinks")["fit"]
    (one,) = (each for each in found["unknowns"] if each["name"] == "softness of kinks (mitred)")
    assert one["sigma"] < one["prior"] / 2
    assert one["value"] == approx(log(3.0), abs=3 * one["sigma"])
    (made,) = {each.made for each in kinks_of(read(written).frame)}
    assert dict(read(written).frame.kink_softness)[made] == approx(one["factor"], rel=1e-3)


def test_a_soft_splice_is_found(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A twin of a lapped rail: twisted between its ends, the lap twice as soft as modelled, with noise."""
    ends = {"front": ("left front", "right front"), "rear": ("left rear", "right rear")}
    case = lapped(tmp_path)
    head = "".join(f"{key}: [{', '.join(pair)}]\n" for key, pair in ends.items()) + "arm: 1 m\nresolution: 0.005 mm\n"
    file = readings_of(case, AskedTest(**ends, arm=1.0), FoundFactors(splices=2.0), head)
    found = answer(capsys, "test", case, "--readings", file, "--find", "splices")["fit"]
    (one,) = (each for each in found["unknowns"] if each["name"] == "softness of splices")
    assert one["sigma"] < one["prior"] / 2
    assert one["value"] == approx(log(2.0), abs=3 * one["sigma"])


LOADED = """\
  supports: [{point: left rear, held: all}]
load cases:
  - pushed:
      forces: [{point: left front, force: {z: 100 N}}]
"""


HEAD = LAPPED.partition("  points:")[0]
CHAINS = {
    "splices: FACTOR": "\n".join(line for line in LAPPED.splitlines() if "right" not in line and "crossmember" not in line) + "\n",
    "kinks: {mitred: FACTOR}": HEAD + """\
  points:
    left front: {x: 2000 mm, y: 400 mm, z: 500 mm}
    left kink: {x: 900 mm, y: 400 mm, z: 500 mm}
    left rear: {x: 0 mm, y: 400 mm, z: 900 mm}
  members:
    - {name: rail, points: [left front, left kink, left rear], section: tube, ends: rigid, kinks: mitred}
""",
}


@pytest.mark.parametrize("what", CHAINS)
def test_what_a_lap_and_kinks_give_adds_up(what: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Least work: what moves along a load is concave in what each part gives, and linear where forces follow from balance alone."""
    path, moved = tmp_path / "chain.yaml", []
    for factor in (1, 2, 4):
        block = f"as measured: {{because: a try, {what.replace('FACTOR', str(factor))}}}\n"
        path.write_text(CHAINS[what] + LOADED + block, encoding="utf-8")
        moved.append(answer(capsys, "check", str(path))["load_cases"][0]["points"]["left front"]["displacement_m"][2])
    share = (moved[2] - moved[0]) / (3 * (moved[1] - moved[0]))
    assert share <= 1 + 1e-6
    assert share == approx(1.0, rel=0.05 if "splices" in what else 1e-3)
    assert moved[1] > moved[0] > 0


FAULTS = {"kinks: {folded: 2}": "'folded' is no kind of kink", "splices: 2": "the frame has no splices", "splices: 0": "above zero"}


@pytest.mark.parametrize(("block", "fault"), FAULTS.items(), ids=list(FAULTS))
def test_faults_of_kinks_and_splices(block: str, fault: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = Path(ladder(tmp_path))
    path.write_text(path.read_text(encoding="utf-8") + f"as measured: {{because: x, {block}}}\n", encoding="utf-8")
    assert entry(["check", str(path)]) == 2
    assert fault in capsys.readouterr()[1]
