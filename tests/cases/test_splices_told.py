"""Splices from a case file to its answer: what is judged without being asked, what is left open, what is refused and where."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pytest import approx

from tests.cases.answers import Answer, checked
from tests.verification.splice_files import lap_file
from tests.verification.test_splices import tip_turns

BESIDE = {
    "first": [97.0, 47.0, 3.0],
    "second": [97.0, 47.0, 3.0],
    "lap": 300.0,
    "how": "side by side",
    "holds": ["along the edges"],
}
INSIDE = {"first": [97.0, 47.0, 3.0], "second": [91.0, 41.0, 3.0], "lap": 300.0, "how": "in each other", "holds": []}
INSIDE |= {"walls": [1], "spots": [-120.0, 0.0, 120.0], "diameter": 16.0}
BOLTS = "bolts: {on: [left, right], along: [-100 mm, 0 mm, 100 mm], edge: 30 mm, bolt: {thread: M12, grade: '8.8'}}"
LIFE = """fatigue:
  duty:
    life: 100000 km
    events:
      - {name: twist, to: x, from: "y", cycles per km: 1}
"""


def bolted(row: dict[str, Any] = INSIDE) -> str:
    """Return the sleeve of a row held by bolts in place of its plugs."""
    lines = lap_file(row).splitlines(keepends=True)
    return "".join(
        f"    - {{name: lap, members: [first, second], {BOLTS}}}\n" if "name: lap," in line else line for line in lines
    )


def rows(answer: Answer, name: str) -> dict[str, dict[str, Any]]:
    """Return the worst row of every way in which a joint fails."""
    found: dict[str, dict[str, Any]] = {}
    for row in answer.data["checks"]:
        if (
            row["subject"]["name"] == name
            and row["safety_factor"] < found.get(row["mode"], row)["safety_factor"] + 1e-12
        ):
            found[row["mode"]] = row
    return found


def test_the_welds_of_a_lap_are_judged_without_being_asked(tmp_path: Path) -> None:
    """As lines, 100 Nm about x on two of 300 mm, 50 mm above and below: M r / (2 L r2) (statics); about z no more."""
    found = rows(checked(lap_file(BESIDE), tmp_path), "lap: welds")
    assert found["weld_metal"]["demand"] == approx(100.0 * 0.05 / (2 * 0.3 * 0.05**2), rel=1e-3)


def test_plugs_and_bolts_of_a_sleeve_carry_twist_on_both_sides(tmp_path: Path) -> None:
    """T over three crossings a side and the planes where the tubes meet (statics): 44 mm apart."""
    force = 100.0 / (3 * 0.044)
    for text, joint, mode in ((lap_file(INSIDE), "lap: plugs", "plug"), (bolted(), "lap: bolts", "shear_at_wall")):
        assert rows(checked(text, tmp_path), joint)[mode]["demand"] == approx(force, rel=1e-3), joint


def test_holes_of_a_bolted_lap_are_taken_out_of_both_tubes(tmp_path: Path) -> None:
    found = {
        row["subject"]["name"] for row in checked(bolted(), tmp_path).data["checks"] if row["check"] == "bolt holes"
    }
    assert found == {"first", "second"}


def test_under_a_duty_throats_and_bolts_have_lives(tmp_path: Path) -> None:
    for text, joint in ((lap_file(BESIDE, LIFE), "lap: welds"), (bolted() + LIFE, "lap: bolts")):
        answer = checked(text, tmp_path)
        assert answer.code != 2, answer.err
        assert any(joint in str(row["subject"]) for row in answer.data["checks"] if row["check"] == "fatigue"), joint


def test_a_leg_that_is_not_given_is_open(tmp_path: Path) -> None:
    told = checked(lap_file(BESIDE).replace(", leg: 3 mm", ""), tmp_path)
    assert "its `leg`" in str(told.data["verdict"])
    assert "its `leg`" not in str(checked(lap_file(BESIDE), tmp_path).data["verdict"])


@pytest.mark.parametrize(
    ("row", "old", "new", "told"),
    [
        (BESIDE, "y: 50.0 mm}\n    tip", "y: 60.0 mm}\n    tip", "do not lap"),
        (BESIDE, "y: 50.0 mm", "y: 53.0 mm", "apart: nothing joins them"),
        (BESIDE, "y: 50.0 mm", "y: 40.0 mm", "in each other"),
        (BESIDE, "x: 600.0 mm", "x: 290.0 mm", "do not lap"),
        (BESIDE, "along the edges", "round the mouth", "there is no weld 'round the mouth'"),
        (BESIDE, "welds: [along the edges], leg: 3 mm", "bears: no", "nothing holds the two together"),
        (INSIDE, "120.0 mm]", "148.0 mm]", "lies beyond the lap"),
        (INSIDE, "[-120.0 mm, 0.0 mm", "[110.0 mm, 0.0 mm", "closer than a diameter"),
        (INSIDE, "diameter: 16.0 mm", "diameter: 98 mm", "beyond"),
        (INSIDE, "height: 94.0 mm", "height: 96.0 mm", "too large for the outer one"),
        (INSIDE, "section: b, ends", "section: b, roll: 10 deg, ends", "turned against the other"),
        (INSIDE, "members: [first, second]", "members: [first, first]", "names one member twice"),
    ],
)
def test_what_does_not_lap_is_refused_by_line(
    row: dict[str, Any], old: str, new: str, told: str, tmp_path: Path
) -> None:
    text = lap_file(row)
    assert old in text, old
    answer = checked(text.replace(old, new), tmp_path)
    assert answer.code == 2
    assert any(told in fault and ".yaml:" in fault for fault in answer.faults), answer.err


def test_a_lap_drawn_from_either_end_or_turned_round_is_the_same(tmp_path: Path) -> None:
    """The second named first, a member drawn the other way, the whole turned about x: the tip turns alike."""
    plain = tip_turns(lap_file(BESIDE), tmp_path)
    other = (
        lap_file(BESIDE).replace("[first, second]", "[second, first]").replace("[second end, tip]", "[tip, second end]")
    )
    assert tip_turns(other, tmp_path) == approx(plain, rel=1e-6)
    upright = lap_file(BESIDE).replace("y: 50.0 mm", "z: 50.0 mm").replace("section: a,", "section: a, roll: 90 deg,")
    upright = upright.replace("section: b,", "section: b, roll: 90 deg,")
    assert tip_turns(upright, tmp_path)[[0, 2, 1]] == approx(plain, rel=1e-6)


def test_a_hair_of_any_size_moves_the_tip_by_a_hair(tmp_path: Path) -> None:
    """1e-7 of every size, over laps of its own: no more than 1e-4."""
    random = np.random.default_rng(16)
    for _ in range(3):
        height, width, wall, lap = random.uniform((60, 40, 2, 100), (120, 70, 5, 300)).round(3).tolist()
        row = BESIDE | {"first": [height, width, wall], "second": [height - 2 * wall, width, wall], "lap": lap}
        near = row | {"first": [height * (1 + 1e-7), width, wall], "lap": lap * (1 + 1e-7)}
        assert tip_turns(lap_file(near), tmp_path) == approx(tip_turns(lap_file(row), tmp_path), rel=1e-4)
