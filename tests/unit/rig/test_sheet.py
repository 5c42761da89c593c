"""`framecheck test` as a person types it: the sheet on a terminal, as a page, as JSON; statics and beam formulas beside it."""

from __future__ import annotations

import json
import re
from math import degrees, pi, radians
from pathlib import Path

import pytest
from pytest import approx

from framecheck.cli.files import data_folder
from framecheck.cli.main import CAUTION, entry
from tests.unit.rig.benches import ladder, said, sheet

DEMO = str(data_folder("cases") / "hill-truck.yaml")
RIG = str(data_folder("cases") / "twist-rig.yaml")
POUND_FORCE, GRAVITY = 0.45359237 * 9.80665, 9.80665


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


RIGS = (
    ("--rig", "torsion"),
    ("--rig", "torsion", "--held", "four points"),
    ("--rig", "corner"),
    ("--rig", "corner", "--suspension", "working", "--at", "rear left"),
    ("--rig", "beaming"),
    ("--rig", "bracket", "--at", "left shackle", "--direction", "rearward"),
    ("--rig", "crossmember", "--at", "gearbox crossmember"),
)


@pytest.mark.parametrize("words", RIGS, ids=" ".join)
def test_every_rig_has_a_sheet(words: tuple[str, ...], capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    page = tmp_path / "sheet.html"
    code, out, err = said(capsys, DEMO, *words, "-o", str(page))
    assert (code, err) == (0, "")
    assert max(map(len, out.partition("framecheck 0.")[0].splitlines())) <= 80  # below stand the files' own names
    for said_there in (CAUTION[:20], " lb = ", " kg = ", " N", "NEVER PASS", "Set allowed", "step 5", "In this order", "Stop loads"):
        assert said_there in re.sub(r"\s+", " ", out)
    html = page.read_text(encoding="utf-8")
    assert html.count("<svg") == (2 if "Twist along" in out else 1)
    assert "None" not in html
    entry(["test", DEMO, *words, "-o", str(page)])
    assert page.read_text(encoding="utf-8") == html


@pytest.mark.parametrize("words", RIGS, ids=" ".join)
def test_loads_and_stands_balance(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """Statics: what stands carry at rest is the weight; a step's loads are even steps, in pounds where the file is in inches."""
    found = sheet(capsys, DEMO, *words)
    loads = found["loads_n"]
    assert [each / loads[0] for each in loads] == approx([1, 2, 3, 4, 5])
    assert loads[0] / POUND_FORCE == approx(round(loads[0] / POUND_FORCE * 2) / 2, rel=1e-9)
    assert all(each["load_n"] >= loads[-1] for each in found["stops"])
    for low, mid, high in zip(*(found["expected_m"][key] for key in ("low", "expected", "high")), strict=True):
        assert all(a < b < c for a, b, c in zip(low, mid, high, strict=True))


def test_what_stands_must_bear(capsys: pytest.CaptureFixture[str]) -> None:
    """Statics: the rear stands hold the torque as a couple, either way; the pivot bears the weight that hangs too."""
    found = sheet(capsys, DEMO, "--arm", "1.2 m")
    top, (left, right, pivot) = found["loads_n"][-1], found["stands"]
    couple = 1.2 * top / (left["y_m"] - right["y_m"])
    for each in (left, right):
        assert each["most_at_top_load_n"] - each["at_rest_n"] == approx(couple, rel=1e-6)
        assert each["at_rest_n"] - each["least_at_top_load_n"] == approx(couple, rel=1e-6)
    assert pivot["most_at_top_load_n"] == approx(pivot["at_rest_n"] + top, rel=1e-6)


def test_torque_and_turn_agree_with_the_dials(capsys: pytest.CaptureFixture[str]) -> None:
    """Statics and geometry: T = weight x arm; turn = (left - right) / span; stiffness = T / turn."""
    found = sheet(capsys, DEMO, "--arm", "1.2 m")
    top, expected = found["loads_n"][-1], found["expected_m"]["expected"]
    assert found["rig"]["torque_nm_per_n"] == approx(1.2)
    front, rear = found["planes"][0], found["planes"][-1]
    letters = [dial["letter"] for dial in found["dials"]]
    turn = [
        (expected[letters.index(plane["left"])][-1] - expected[letters.index(plane["right"])][-1]) / plane["span_m"]
        for plane in (front, rear)
    ]
    assert found["turn_rad"]["expected"][0][-1] == approx(turn[0] - turn[1], rel=1e-9)
    assert found["stiffness_nm_per_rad"]["expected"][0] == approx(1.2 * top / (turn[0] - turn[1]), rel=1e-9)
    assert radians(0.5) < turn[0] < radians(1.001)


def test_four_points_twist_as_three_do(capsys: pytest.CaptureFixture[str]) -> None:
    """A couple is a couple, however it is put on: the frame's stiffness is the same."""
    found = [sheet(capsys, DEMO, "--held", held)["stiffness_nm_per_rad"] for held in ("three points", "four points")]
    assert found[0]["expected"] == approx(found[1]["expected"], rel=1e-9)


def test_the_corner_lifts_a_wheel_by_statics(capsys: pytest.CaptureFixture[str]) -> None:
    """Four wheels at equal tracks: as much as the jacked corner gains, its diagonal gains and the other two lose."""
    found = sheet(capsys, DEMO, "--rig", "corner")
    assert entry(["check", DEMO, "--json", "-", "--quiet"]) in (0, 1)
    wheels = {row["wheel"]: row["force_n"][2] for row in json.loads(capsys.readouterr()[0])["wheels"] if row["load_case"] == "static"}
    rest = {stand["name"]: stand["at_rest_n"] for stand in found["stands"]}
    others = {name: force for name, force in wheels.items() if name != "front left"}
    assert {name.removesuffix(" wheel"): each for name, each in rest.items()} == approx(others)
    lift = next(each for each in found["stops"] if each["by"] == "a stand or wheel lifts")
    assert lift["load_n"] == approx(min(rest["front right wheel"], rest["rear left wheel"]), rel=1e-9)


@pytest.mark.parametrize("height", [80, 100, 120])
def test_sag_and_stop_of_two_rails_by_hand(height: int, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """P L3 / 48 EI + P L / 4 G As and M = P L / 4, W fy (beam theory; As = two webs); a square-cornered tube within its rounding.

    The corners' radius takes 2 to 4 % off I against a sharp-cornered tube, so the tolerance is that.
    """
    path = ladder(tmp_path, **{"height:_100_mm": f"height: {height} mm", "outside_radius:_8_mm": "outside radius: 0 mm"})
    found = sheet(capsys, path, "--rig", "beaming")
    span, wall, wide, high = 2.5, 0.004, 0.05, height / 1000
    inertia = (wide * high**3 - (wide - 2 * wall) * (high - 2 * wall) ** 3) / 12
    webs = 2 * wall * (high - wall)
    soft = span**3 / (48 * 210e9 * inertia) + span / (4 * 80.77e9 * webs)
    top = found["loads_n"][-1]
    rows = zip(found["expected_m"]["expected"], found["dials"], strict=True)
    middle = [row[-1] for row, dial in rows if dial["name"].startswith("middle")]
    assert middle == approx([-top / 2 * soft] * 2, rel=0.015)
    yields = 2 * 355e6 / 1.5 * inertia / (high / 2) / (span / 4)
    assert found["stops"][0]["load_n"] <= yields * 1.01
    assert found["stops"][0]["load_n"] >= 0.4 * yields


def test_softer_joints_and_thinner_walls_are_told(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    found = sheet(capsys, ladder(tmp_path))
    by = {each["if"]: each["stiffness_nm_per_rad"] for each in found["meanings"]}
    assert by["every joint 2 times as soft"] < by["as drawn"]
    assert by["every wall 10% thinner"] < by["as drawn"] < by["every wall 10% thicker"]


def test_what_is_open_widens_the_range(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    said_how, unsaid = (sheet(capsys, ladder(tmp_path, ends))["stiffness_nm_per_rad"] for ends in ("{make: butt on one face}", "{}"))
    assert unsaid["high"][0] - unsaid["low"][0] > 1.2 * (said_how["high"][0] - said_how["low"][0])


def test_a_frame_without_a_vehicle_is_held_at_its_crossmembers(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, RIG)
    assert code == 0
    assert "no vehicle" in re.sub(r"\s+", " ", out)
    xs = [plane["x_m"] for plane in sheet(capsys, RIG)["planes"]]
    assert (xs[0], xs[-1]) == approx((40 * 0.0254, -40 * 0.0254))


FAULTS = (
    (("--load", "50 kN"), "is beyond the stop load"),
    (("--load", "5"), "has no unit"),
    (("--rig", "bracket", "--at", "nowhere"), "'nowhere' is no point of the frame"),
    (("--rig", "bracket"), "needs the point"),
    (("--rig", "crossmember", "--at", "nothing"), "is no crossmember of the frame"),
    (("--rig", "corner", "--at", "the middle"), "is no corner"),
    (("--front", "nowhere", "left rear end", "--rear", "left spring eye", "right spring eye"), "nowhere: is no point of the frame"),
    (("--front", "right front end", "left front end", "--rear", "left spring eye", "right spring eye"), "is not to the left of"),
    (("--front", "left front end", "right front end", "--rear", "left front end", "right front end"), "in one line"),
    (("--target", "a dream"), "there is no limit 'a dream'"),
)


@pytest.mark.parametrize(("words", "fault"), FAULTS, ids=[fault for _, fault in FAULTS])
def test_a_rig_that_can_not_stand_is_refused(words: tuple[str, ...], fault: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = said(capsys, DEMO, *words)
    assert (code, out) == (2, "")
    assert fault in err


def test_the_corner_needs_wheels(capsys: pytest.CaptureFixture[str]) -> None:
    assert "no vehicle" in said(capsys, RIG, "--rig", "corner")[2]


def test_targets_are_told_with_their_source(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = said(capsys, DEMO, "--target", "four cylinders, open two-seater", "--units", "si")
    assert "at least 3800 N·m/deg; the whole range is below it. Source: " in re.sub(r"\s+", " ", out)
    own = sheet(capsys, DEMO, "--least-stiffness", "1000 Nm/deg")["target"]
    assert own["stiffness_nm_per_rad"] == approx(1000 * 180 / pi)
    assert degrees(1.0) == approx(180 / pi)


def test_the_jack_s_own_limit_stops(capsys: pytest.CaptureFixture[str]) -> None:
    found = sheet(capsys, DEMO, "--jack", "200 kg")
    assert found["stops"][0]["by"] == "the jack's or the scale's own limit"
    assert found["loads_n"][-1] <= 200 * GRAVITY


def flat(found: dict[str, object]) -> list[float]:
    """Return every expected number of a sheet."""
    band = found["expected_m"]
    assert isinstance(band, dict)
    return [value for key in ("low", "expected", "high") for row in band[key] for value in row]


SHIFTED = {"x: 3000 mm": "x: 3700 mm", "x: 0 mm": "x: 700 mm", "x: 2750 mm": "x: 3450 mm", "x: 1500 mm": "x: 2200 mm",
           "x: 250 mm": "x: 950 mm", "z: 500 mm": "z: -80 mm"}  # fmt: skip


@pytest.mark.parametrize("rig", ["torsion", "beaming"])
@pytest.mark.parametrize(
    "changes",
    [
        SHIFTED,
        {"wall: 4 mm": "wall: 4.0000004 mm"},
        {"middle crossmember": "a cross in the middle"},
        {"height: 100 mm": "height: 3.9370078740157 in"},
    ],
    ids=["origin", "hair", "name", "unit"],
)
def test_a_sheet_is_the_same(rig: str, changes: dict[str, str], capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """From another origin, by another name, in another unit; a wall a ten-millionth thicker moves nothing by more than 1e-4."""
    words = ("--rig", rig, "--load", "500 N")
    one = flat(sheet(capsys, ladder(tmp_path), *words))
    other = flat(sheet(capsys, ladder(tmp_path, **{old.replace(" ", "_"): new for old, new in changes.items()}), *words))
    assert other == approx(one, rel=1e-4, abs=1e-9)


def test_a_rail_that_is_lapped_is_no_pair_of_rails(capsys: pytest.CaptureFixture[str]) -> None:
    """Two tubes side by side over a lap are one rail: nobody twists it on stands two inches apart."""
    code, _, err = said(capsys, str(data_folder("cases") / "lapped-rail.yaml"))
    assert code == 2
    assert "no two rails run side by side" in err
