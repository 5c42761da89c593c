"""Splices from a case file to its answer: what is judged without being asked, what is left open, what is refused and where."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pytest import approx

from tests.cases.answers import Answer, checked
from tests.verification.splice_files import METAL, lap_file, tube
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


def test_walls_that_a_lap_pulls_out_of_shape_are_open(tmp_path: Path) -> None:
    mouth = INSIDE | {"holds": ["round the mouth"]}
    mouth.pop("spots")
    told = [str(checked(lap_file(row), tmp_path).data["verdict"]) for row in (BESIDE, INSIDE, mouth)]
    assert ["bend across" in each for each in told] == [True, True, False]


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


PLATES = "plates: {on: [left, right], length: 300 mm, height: 80 mm, thickness: 4 mm, taper: 60 mm}, leg: 3 mm"


def butt_file(how: str, extra: str = "") -> str:
    """Return two tubes that meet end to end 450 mm from the held end, 1 kNm about each axis on the tip, 450 mm on."""
    cases = "".join(f"  - {axis}: {{forces: [{{point: tip, moment: {{{axis}: 1000 N\u00b7m}}}}]}}\n" for axis in "xyz")
    return (
        f"title: a butt\norigin: the held end\n{METAL}sections:\n{tube('a', [97.0, 47.0, 3.0])}frame:\n"
        "  points: {held: {x: 0 mm}, butt: {x: 450 mm}, tip: {x: 900 mm}}\n  members:\n"
        "    - {name: front, points: [held, butt], section: a, ends: rigid}\n"
        "    - {name: rear, points: [butt, tip], section: a, ends: rigid}\n"
        f"  splices:\n    - {{name: rail butt, members: [front, rear], {how}}}\n"
        f"  supports:\n    - {{point: held, held: all}}\nload cases:\n{cases}{extra}"
    )


def test_fish_plates_carry_what_the_butt_does_not(tmp_path: Path) -> None:
    """Twist as a couple of two plates 54 mm apart, shear peak 1.5: 1000 / 0.054 / (80 x 4) x 1.5 sqrt 3 (statics)."""
    found = [row for row in checked(butt_file(PLATES), tmp_path).data["checks"] if row["check"] == "fish plates"]
    assert len(found) == 1
    assert found[0]["demand"] == approx(1000 / 0.054 / (80e-3 * 4e-3) * 1.5 * 3**0.5, rel=1e-3)
    assert not [
        row
        for row in checked(butt_file(f"welds: [all round], {PLATES}"), tmp_path).data["checks"]
        if row["check"] == "fish plates"
    ]


def plates_under(text: str, folder: Path) -> float:
    """Return the stress in the fish plates of a butt, Pa."""
    (row,) = [row for row in checked(text, folder).data["checks"] if row["check"] == "fish plates"]
    return float(row["demand"])


def test_one_fish_plate_alone_is_a_flat(tmp_path: Path) -> None:
    """Was a fault of our own (exit 4). 1 kNm on 80 x 4 mm: 3 T / (h t2) in twist; 6 M / (h t2) where it bends flatwise (statics)."""
    text = butt_file(PLATES.replace("[left, right]", "[left]"))
    flat = 1000 / (80e-3 * 4e-3**2)
    assert plates_under(text, tmp_path) == approx(6 * flat, rel=1e-3)
    twisted = text.replace("{y: 1000", "{y: 1").replace("{z: 1000", "{z: 1")
    assert plates_under(twisted, tmp_path) == approx(3**0.5 * 3 * flat, rel=1e-3)


def test_a_fish_plate_off_the_middle_twists_under_a_force_across(tmp_path: Path) -> None:
    """1 kN sideways on the tip under a top plate of 40 x 4 mm: F in its plane, and F x 52 mm of twist about it (statics)."""
    plates = PLATES.replace("[left, right]", "[top]").replace("80 mm", "40 mm")
    text = butt_file(plates).replace("moment: {y: 1000 N\u00b7m}", "force: {y: 1000 N}")
    text = text.replace("{x: 1000", "{x: 1").replace("{z: 1000", "{z: 1")
    across, twist = 1.5 * 1000 / (40e-3 * 4e-3), 3 * 1000 * 0.052 / (40e-3 * 4e-3**2)
    bent = 6 * 1000 * 0.45 / (4e-3 * 40e-3**2)
    assert plates_under(text, tmp_path) == approx((bent**2 + 3 * (across + twist) ** 2) ** 0.5, rel=1e-3)


def test_what_fish_plates_leave_unsaid_is_told(tmp_path: Path) -> None:
    """Their leg, once taken without a word; their own metal and edges, once not looked at beside their welds."""
    told = checked(butt_file(PLATES.replace(", leg: 3 mm", "")), tmp_path)
    assert "its `leg`" in str(told.data["verdict"])
    other = checked(butt_file(PLATES.replace("taper:", "material: 6061-T6, taper:")), tmp_path)
    assert "wrong_filler" in rows(other, "rail butt: welds")
    thick = checked(butt_file(PLATES.replace("leg: 3 mm", "leg: 6 mm")), tmp_path)
    assert rows(thick, "rail butt: welds")["largest_leg"]["grade"] == "LOW"


def test_a_butt_is_judged_without_being_asked_and_moves_as_one_tube(tmp_path: Path) -> None:
    """Welded all round it is one tube; under plates alone it gives a little: within 9 % of one tube, and no stiffer."""
    whole = tip_turns(butt_file("welds: [all round], leg: 3 mm"), tmp_path)
    assert tip_turns(butt_file(PLATES), tmp_path) / whole == approx(1.045, abs=0.046)
    for how in ("welds: [all round], leg: 3 mm", PLATES):
        answer = checked(butt_file(how, LIFE), tmp_path)
        assert rows(answer, "rail butt: welds"), how
        assert any("rail butt" in str(row["subject"]) for row in answer.data["checks"] if row["check"] == "fatigue"), (
            how
        )
        assert "splices of members" not in str(answer.data["verdict"])


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("height: 80 mm", "height: 96 mm", "does not lie on a wall whose flat is"),
        ("thickness: 4 mm", "thickness: 0.5 mm", "thinner than 1 mm"),
        ("taper: 60 mm", "taper: 160 mm", "pointed ends are longer than the plate"),
        ("members: [front, rear]", "members: [front, front]", "do not meet end to end"),
        ("tip: {x: 900 mm}", "tip: {x: 900 mm, y: 60 mm}", "they meet at an angle"),
        ("leg: 3 mm", "bears: yes", "only 'all round' and 'plates' hold them"),
    ],
)
def test_what_does_not_butt_is_refused_by_line(old: str, new: str, told: str, tmp_path: Path) -> None:
    text = butt_file(PLATES)
    assert old in text, old
    answer = checked(text.replace(old, new), tmp_path)
    assert answer.code == 2
    assert any(told in fault and ".yaml:" in fault for fault in answer.faults), answer.err
