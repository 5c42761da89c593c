"""Small things that were once let through without a word: from a case file to its refusal by line, or to its row."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.cases.answers import Answer, checked

FRAME = """title: a beam on a post
sections:
  tube: {shape: rectangular tube, height: 100 mm, width: 100 mm, wall: RAIL mm, outside radius: 8 mm, material: A500 grade B}
  arm: {shape: rectangular tube, height: 60 mm, width: 60 mm, wall: BRANCH mm, outside radius: 6 mm, material: A500 grade B}
  known by numbers:
    shape: given properties
    area: 900 mm2
    second moment vertical: 1e6 mm4
    second moment sideways: 5e5 mm4
    torsion constant: 8e5 mm4
    material: S355
frame:
  points: {a: {x: -900 mm}, m: {x: 0 mm}, b: {x: 900 mm}, t: {x: 0 mm, y: 500 mm}, u: {x: 1500 mm}}
  members:
    - {name: rail, points: [a, m, b], section: tube, start: {cap: runs on}, end: {cap: runs on}}
    - {name: arm, points: [m, t], section: arm, start: {END}}
    - {name: bar, points: [b, u], section: known by numbers, ends: rigid}
  supports: [{point: a, held: all}, {point: b, held: all}]
load cases:
  - up: {forces: [{point: t, force: {z: FORCE}}]}
  - down: {forces: [{point: t, force: {z: -FORCE}}]}
MORE"""
LIFE = """fatigue:
  duty: {life: 1000 km, events: [EVENT]}
  details: [DETAIL]
"""
BUTT = "make: butt on one face, leg: 3 mm"
SWAY = "{name: sway, from: down, to: up, cycles per km: 10}"
TAB = "{name: tab, member: rail, class: EN tab over 100 mm, from: 100 mm, to: 120 mm}"


def told(folder: Path, end: str = BUTT, walls: tuple[float, float] = (4.0, 3.0), more: str = "") -> Answer:
    return checked(written(end, walls, more).replace("FORCE", "9 kN" if more else "500 N"), folder)


def written(end: str, walls: tuple[float, float], more: str) -> str:
    return FRAME.replace("END", end).replace("RAIL", str(walls[0])).replace("BRANCH", str(walls[1])).replace("MORE", more)


def rows(found: Answer, mode: str) -> list[dict[str, Any]]:
    return [row for row in found.data["checks"] if row["mode"] == mode]


def is_refused_at(folder: Path, found: Answer, sign: str, *says: str) -> None:
    """Hold that a file is refused with the line that holds `sign`, and in these words."""
    assert found.code == 2
    text = (folder / "case.yaml").read_text(encoding="utf-8")
    line = next(number for number, each in enumerate(text.splitlines(), 1) if sign in each)
    assert f"case.yaml:{line}: " in found.err
    for words in says:
        assert words in found.err


@pytest.mark.parametrize(
    ("walls", "leg", "least"),
    [
        ((4.0, 3.0), 2.0, 3.0),
        ((4.0, 3.0), 3.0, 3.0),
        ((4.0, 2.5), 2.0, 2.5),
        ((8.0, 7.0), 4.0, 4.7625),
    ],
)
def test_a_leg_under_the_least_of_the_table_is_told(walls: tuple[float, float], leg: float, least: float, tmp_path: Path) -> None:
    """ANSI/AISC 360, tables J2.4M (3 mm up to 6 mm) and J2.4 (3/16 in over 1/4 in); no more than the thinner part is thick."""
    found = told(tmp_path, f"make: butt on one face, leg: {leg} mm", walls)
    (row,) = rows(found, "least_leg")
    assert row["capacity"] * 1e3 == pytest.approx(leg)
    assert row["demand"] * 1e3 == pytest.approx(least)
    assert (found.data["verdict"]["state"] == "not met") == (leg < least)


@pytest.mark.parametrize("leg", [None, 3.0])
def test_the_leg_that_is_asked_for_is_never_under_the_least(leg: float | None, tmp_path: Path) -> None:
    """The loads ask for next to nothing here: what is told is the table's 3 mm (ANSI/AISC 360, table J2.4M)."""
    found = told(tmp_path, "make: butt on one face" + ("" if leg is None else f", leg: {leg} mm"))
    (needed,) = (row["value"] for row in found.data["sizings"] if row["where"] == "arm at m")
    assert needed < 0.001
    groups = [each for each in found.data["verdict"]["open"] if each["what"] == "welds or bolts of member ends"]
    assert any("leg needed: 3.000 mm" in why for each in groups for why in each["why"]) == (leg is None)


@pytest.mark.parametrize(("wall", "name", "is_fit"), [
    (4.0, "EN tube butt weld", False),
    (7.9, "EN tube butt weld", False),
    (8.0, "EN tube butt weld", True),
    (4.0, "'EN tube butt weld, thin'", True),
])  # fmt: skip
def test_a_class_for_thick_walls_is_refused_on_thin_ones(wall: float, name: str, is_fit: bool, tmp_path: Path) -> None:
    """EN 1993-1-9, table 8.6: tubes butted end to end from 8 mm of wall on; thinner ones are a class lower (from memory)."""
    more = LIFE.replace("EVENT", SWAY).replace("DETAIL", TAB.replace("EN tab over 100 mm", name))
    found = told(tmp_path, walls=(wall, 3.0), more=more)
    if is_fit:
        assert [row for row in found.data["checks"] if row["check"] == "fatigue" and row["subject"]["part"] == "tab"]
    else:
        is_refused_at(tmp_path, found, "name: tab", "its class holds for walls of", "(8 mm) or more", "EN tube butt weld, thin")


def test_an_event_in_which_nothing_swings_is_refused(tmp_path: Path) -> None:
    more = LIFE.replace("EVENT", SWAY.replace("from: down", "from: up")).replace("DETAIL", TAB)
    is_refused_at(tmp_path, told(tmp_path, more=more), "name: sway", "nothing swings", "name two load cases")


def test_a_stress_that_is_known_nowhere_is_refused(tmp_path: Path) -> None:
    """A section given by its numbers has no surface; its forces are read without a side."""
    gauge = "readings: [{name: gauge, member: bar, at: 200 mmSIDE}]\n"
    found = told(tmp_path, more=gauge.replace("SIDE", ", side: top"))
    is_refused_at(tmp_path, found, "name: gauge", "given by its numbers", "leave out side")
    found = told(tmp_path, more=gauge.replace("SIDE", ""))
    assert {row["member"] for row in found.data["readings"]} == {"bar"}


def test_a_detail_at_the_very_start_of_a_member_is_one(tmp_path: Path) -> None:
    """The stress at the clamped end is the largest of the rail: the detail wears more than one further on."""
    damages = []
    for at in ("from: 0 mm, to: 0 mm", "from: 100 mm, to: 100 mm"):
        detail = TAB.replace("from: 100 mm, to: 120 mm", at)
        found = told(tmp_path, more=LIFE.replace("EVENT", SWAY).replace("DETAIL", detail))
        (row,) = (row for row in found.data["checks"] if row["check"] == "fatigue" and row["subject"]["part"] == "tab")
        damages.append(row["demand"])
    assert damages[0] > damages[1]


@pytest.mark.parametrize(
    ("end", "says"),
    [
        ("make: butt on one face, leg: 3 mm, welded sides: [top, top]", "top is named twice"),
        ("make: gusseted, gussets: {along rail: 40 mm, along member: 40 mm, thickness: 0.9 mm, at: middle}", "gussets under 1 mm"),
    ],
)
def test_sizes_that_no_end_has_are_refused(end: str, says: str, tmp_path: Path) -> None:
    is_refused_at(tmp_path, told(tmp_path, end), "name: arm", says)


def test_gussets_that_reach_beyond_a_far_end_of_the_rail_are_refused(tmp_path: Path) -> None:
    """900 mm away, farther than the joint's model looks: half the arm and 1 m of gusset reach 1028.5 mm (shown in four figures)."""
    gussets = "make: gusseted, gussets: {along rail: 1 m, along member: 40 mm, thickness: 4 mm, at: middle}"
    text = written(gussets, (4.0, 3.0), "").replace("FORCE", "500 N").replace("start: {cap: runs on}", "start: {cap: open}")
    is_refused_at(tmp_path, checked(text, tmp_path), "name: arm", "(1028 mm) along the rail", "ends 35.43 in (900 mm) away")


STAR = """title: three tubes that meet
sections:
  tube: {shape: rectangular tube, height: 60 mm, width: 40 mm, wall: 3 mm, outside radius: 0 mm, material: S235}
frame:
  points:
    o: {x: 0 mm, y: 0 mm, z: 0 mm}
    a: {x: 900 mm, y: 0 mm, z: 0 mm}
    b: {x: -500 mm, y: 700 mm, z: 0 mm}
    c: {x: -500 mm, y: -700 mm, z: 0 mm}
  members:
    - {name: one, points: [o, a], section: tube}
    - {name: two, points: [o, b], section: tube}
    - {name: three, points: [o, c], section: tube}
  supports: [{point: b, held: all}, {point: c, held: all}]
load cases:
  - push: {forces: [{point: a, force: {z: -300 N}}]}
"""


def test_ends_that_meet_with_no_wall_between_open_their_range(tmp_path: Path) -> None:
    """Three ends at one point: each is named, and the frame is solved from its soft end to rigid; said to be rigid, once."""
    found = checked(STAR, tmp_path).data
    (open_end,) = [row for row in found["verdict"]["open"] if row["what"] == "joints that no model covers"]
    assert open_end["where"] == ["one at o", "two at o", "three at o"]
    assert "taken between standing on their open ends and rigid: not modelled" in open_end["why"][0]
    soft, stiff = (abs(each["points"]["a"]["displacement_m"][2]) for each in found["load_cases"])
    assert soft > 1.1 * stiff
    said = checked(STAR.replace("section: tube}", "section: tube, ends: rigid}"), tmp_path).data
    assert not [row for row in said["verdict"]["open"] if row["what"] == "joints that no model covers"]
    assert abs(said["load_cases"][0]["points"]["a"]["displacement_m"][2]) == pytest.approx(stiff, rel=1e-9)


def test_ends_that_may_be_mitred_are_held_to_it(tmp_path: Path) -> None:
    """With nothing on the third tube the other two are a corner: at yield as one member mitred there, whose model shells hold."""
    loose = STAR.replace(", {point: c, held: all}", "")
    others = (f"    - {{name: {name}, points: [o, {at}], section: tube}}\n" for name, at in (("two", "b"), ("three", "c")))
    corner = loose.replace("points: [o, a]", "points: [a, o, b], kinks: mitred")
    corner = corner.replace("    c: {x: -500 mm, y: -700 mm, z: 0 mm}\n", "")
    for each in others:
        corner = corner.replace(each, "")
    star, alone = (rows(checked(each, tmp_path), "kink_yields") for each in (loose, corner))
    assert {row["subject"]["name"] for row in star} == {"one", "two", "three"}
    assert max(row["demand"] for row in star) == pytest.approx(max(row["demand"] for row in alone), rel=1e-6)
