"""Lives that were once told too long, from YAML to JSON; the files stand in tests/cases/verdict/."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from tests.cases.answers import ROOT, Answer, checked, stored


def damages(answer: Answer) -> dict[str, float]:
    """Return Miner's sum by the name of the detail, or of the joint."""
    rows = (row for row in answer.data["checks"] if row["check"] == "fatigue")
    return {row["subject"]["part"] or row["subject"]["name"]: row["demand"] for row in rows}


def unjudged(answer: Answer) -> list[str]:
    """Return why a question of fatigue was left open."""
    return [why for each in answer.data["verdict"]["open"] if each["what"] == "fatigue" for why in each["why"]]


def test_the_far_side_of_a_jump_wears(tmp_path: Path) -> None:
    """Statics: 3000 Nm / 2 + 2000 N x 1 m / 4 = 2000 Nm on one side; damage 1.76, life 56 700 km (an independent Miner sum)."""
    answer = checked(stored("life-behind-a-bracket.yaml"), tmp_path)
    found = damages(answer)
    assert answer.code == 1
    assert found["all along"] == found["round the bracket"] == pytest.approx(1.76, rel=0.005)
    assert 100_000 / found["just behind it"] == pytest.approx(56_700, rel=0.001)
    assert found["just ahead of it"] == pytest.approx(0.2204, rel=0.001)


@pytest.mark.parametrize("way", ["one way", "other way"])
def test_mirror_twins_wear_alike(way: str, tmp_path: Path) -> None:
    """Independent Miner sum: 0.744 either way; the frame is its own mirror image, also where nothing but turning moves it."""
    answer = checked(stored("life-mirror-twins.yaml").replace("to: one way", f"to: {way}"), tmp_path)
    assert set(damages(answer)) == {"all along", "round the bracket", "at the bracket"}
    assert all(each == pytest.approx(0.744, rel=0.001) for each in damages(answer).values())
    checks = [row for row in answer.data["self_checks"] if row["check"] == "symmetry"]
    assert len(checks) == 4
    assert all(row["holds"] for row in checks)


def test_a_twisted_shaft_wears(tmp_path: Path) -> None:
    """Independent: 5.4 for bare metal by von Mises. Sheared base metal, class 100, m = 5 (EN 1993-1-9, 7.1): by hand below."""
    answer = checked(stored("life-of-a-twisted-shaft.yaml"), tmp_path)
    found = damages(answer)
    assert found["bare metal"] == pytest.approx(5.4, rel=0.005)
    outer, inner = 0.0508, 0.0508 - 2 * 0.12 * 0.0254
    shear = 2 * 900 * outer / 2 / (pi / 32 * (outer**4 - inner**4)) * 1.35
    cut_off = 100e6 * (2e6 / 1e8) ** 0.2
    # full 5e5; half 4e6; one way 1e6; record: twice a half cycle of 1.0, a whole one of 0.6 and of 0.5, 2e5 times each
    counted = ((1.0, 5e5 + 2e5), (0.5, 4e6 + 1e6 + 2e5), (0.6, 2e5))
    by_hand = sum(n / 2e6 * (share * shear / 100e6) ** 5 for share, n in counted if share * shear > cut_off)
    assert found["shear class"] == found["normal class"] == pytest.approx(by_hand, rel=0.005)
    assert answer.code == 1


def test_a_detail_off_its_member_is_refused_by_line(tmp_path: Path) -> None:
    text = stored("life-off-the-member.yaml")
    answer = checked(text, tmp_path)
    assert answer.code == 2
    lines = {number: name for number, line in enumerate(text.splitlines(), 1) for name in ("swapped", "past the end") if name in line}
    assert len(answer.faults) == len(lines) == 3
    assert all(f":{number}:" in fault for number, fault in zip(lines, answer.faults, strict=True))


def test_a_detail_in_the_right_order(tmp_path: Path) -> None:
    """Independent Miner sum: 75.8."""
    kept = [line for line in stored("life-off-the-member.yaml").splitlines() if "swapped" not in line and "past the end" not in line]
    assert damages(checked("\n".join(kept), tmp_path))["right order"] == pytest.approx(75.8, rel=0.001)


@pytest.mark.parametrize(("span", "code"), [("0.3 m, to: 1.0005 m", 1), ("0.3 m, to: 1.002 m", 2), ("0 m, to: 1 m", 1)])
def test_a_size_may_be_rounded(span: str, code: int, tmp_path: Path) -> None:
    kept = [line for line in stored("life-off-the-member.yaml").splitlines() if "swapped" not in line and "past the end" not in line]
    assert checked("\n".join(kept).replace("0.3 m, to: 0.9 m", span), tmp_path).code == code


def test_joints_that_a_duty_swings_are_judged_unasked(tmp_path: Path) -> None:
    """By hand: 20 kN over 100 x 3.54 mm2 of throat; 10 kN over the 84.3 mm2 of an M12's thread. Classes 36 and 50."""
    answer = checked(stored("life-of-joints.yaml"), tmp_path)
    found = damages(answer)
    throat = 20e3 / (0.1 * 0.005 / 2**0.5) * 1.35
    assert found["root of end weld"] == pytest.approx(5e5 / (2e6 * (36e6 / throat) ** 3), rel=1e-6)
    assert found["end bolts"] == pytest.approx(5e5 / (2e6 * (50e6 / (10e3 / 84.3e-6 * 1.35)) ** 3), rel=0.002)
    assert any("prying" in why for why in unjudged(answer))


def test_a_class_of_the_file_takes_the_place_of_the_root(tmp_path: Path) -> None:
    own = "  welds: [{name: toe, weld: end weld, across: \"EN T joint, toe\"}]\n"
    found = damages(checked(stored("life-of-joints.yaml") + own, tmp_path))
    assert "root of end weld" not in found
    throat = 20e3 / (0.1 * 0.005 / 2**0.5) * 1.35
    assert found["toe"] == pytest.approx(5e5 / (2e6 * (80e6 / throat) ** 3), rel=1e-6)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("class: EN rolled", "class: EN rolled, other class: EN gas cut"),
        ("class: EN rolled", "base metal: {finish: ground}, other class: EN sheared base metal"),
        ("  details:", "  welds: [{name: toe, weld: end weld, across: 'EN weld throat, along'}]\n  details:"),
    ],
    ids=["two normal classes", "base metal with a class", "shear class across"],
)
def test_classes_of_the_wrong_stress_are_refused(old: str, new: str, tmp_path: Path) -> None:
    answer = checked(stored("life-of-joints.yaml").replace(old, new), tmp_path)
    assert answer.code == 2
    assert len(answer.faults) == 1


SWUNG = """fatigue:
  duty: {life: 1000 km, events: [{name: pushes, to: push, cycles per km: 5}]}
  details: [{name: skin, member: rail, class: EN rolled}]
"""


def test_stitches_of_a_seam_wear(tmp_path: Path) -> None:
    """The force on one stitch by hand (V Q / I, held in test_verdict_seams) over its throat: class 80, m = 5 (EN 1993-1-9, 7.1)."""
    answer = checked(stored("plate-stitched-on-tube.yaml") + SWUNG, tmp_path)
    force = max(row["demand"] for row in answer.data["checks"] if row["mode"] == "stitch_metal")
    stress = force / (0.0127 * 0.0254 / 16 / 2**0.5) * 1.35
    assert damages(answer)["doubled"] == pytest.approx(5e3 / (2e6 * (80e6 / stress) ** 5), rel=1e-3)
    stitches = "{stitches: {length: 1/2 in, pitch: 12 in, leg: 1/16 in}}"
    bolted = stored("plate-stitched-on-tube.yaml").replace(stitches, "{bolts: {pitch: 3 in}}")
    assert any("no class for its bolts" in why for why in unjudged(checked(bolted + SWUNG, tmp_path)))


TRUCK = (ROOT / "cases" / "hill-truck.yaml").read_text(encoding="utf-8")
(BENDS,) = (line.removeprefix("      - ") for line in TRUCK.splitlines() if "name: bends" in line)


ANYWHERE = "    - {name: tab anywhere, member: rails, class: EN tab over 100 mm}\n"


def test_a_bend_to_the_left_is_driven_to_the_right_too(tmp_path: Path) -> None:
    """Mirror images: what is said of one side is said of both; the file that says both has the same answer."""
    left = "{name: bends, from: static, to: cornering left, cycles per km: 50}"
    right = "{name: other bends, from: static, to: cornering right, cycles per km: 50}"
    alone = damages(checked(TRUCK.replace(BENDS, left), tmp_path))
    assert alone == pytest.approx(damages(checked(TRUCK.replace(BENDS, f"{left}\n      - {right}"), tmp_path)), rel=1e-9)


def test_a_blow_on_one_side_is_counted_on_the_other_too(tmp_path: Path) -> None:
    """A run that is named by its side wears as the load case does that is run on both."""
    one, both = (
        damages(checked(TRUCK.replace(BENDS, f"{{name: curbs, from: static, to: '{case}', cycles per km: 5}}") + ANYWHERE, tmp_path))
        for case in ("curb strike sideways, left", "curb strike sideways")
    )
    assert one == pytest.approx(both, rel=1e-9)
    left, right = (one[f"tab anywhere, {side} rail"] for side in ("left", "right"))
    assert min(left, right) > 1.0
    assert left == pytest.approx(right, rel=0.2)


def test_a_side_that_is_not_run_is_open(tmp_path: Path) -> None:
    left = "{name: bends, from: static, to: cornering left, cycles per km: 0.5}"
    answer = checked(TRUCK.replace(BENDS, left).replace("  - cornering right\n", ""), tmp_path)
    assert any("'bends'" in why and "other side" in why for why in unjudged(answer))
