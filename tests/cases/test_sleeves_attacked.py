"""One tube in another with bolts through: what an attack found to read kinder than the truth. YAML in, JSON out; numbers by hand."""

from __future__ import annotations

from math import pi
from pathlib import Path
from typing import Any

import pytest
import yaml
from pytest import approx

from framecheck.reading.case_file import read_case
from tests.cases.test_verdict_metal import LIBRARY, answer
from tests.cases.test_verdict_sleeves import FTLB, IN, SLEEVE, sleeve

LIMITS = yaml.safe_load((Path(__file__).parents[1] / "verification" / "sleeve_limits.yaml").read_text())
CASE = """title: one tube in another
origin: its mouth
materials:
  - {{name: ply, youngs modulus: 200 GPa, density: 7850 kg/m3, yield strength: 250 MPa, ultimate strength: 400 MPa}}
sections:
  bar: {{shape: flat, height: 100 mm, width: 100 mm, material: ply}}
frame:
  points: {{a: {{x: 0 m}}, b: {{x: 1 m}}}}
  members: [{{name: bar, points: [a, b], section: bar, ends: rigid}}]
  supports: [{{point: a, held: all}}]
load cases:
  - none: {{forces: [{{point: b, force: {{z: 1 N}}}}]}}
joints:
"""
BOLTS = """  - name: joint
    kind: bolts
    at: {{loads: [{{load case: load, force: {force}, moment: {moment}}}]}}
    plane: {{facing: {facing}, along: forward}}
    spots: [{spots}]
    bolt: {{thread: M10, grade: "8.8"{planes}, clamp share: 0.75, threads are: zinc and oil, faces: mill scale}}
    plies:
      - {{name: outer, thickness: {outer} mm, material: ply, edge: 20 mm, kind: wall of a hollow tube, share: 0.5}}
      - {{name: inner, thickness: {inner} mm, material: ply, edge: 20 mm, kind: wall of a hollow tube, share: 0.5}}
    contact: {{across: [-60 mm, 60 mm], along: [{start} mm, {end} mm]}}
    tube: {{width: 80 mm, depth: {depth} mm, wall: {outer} mm, washer: 20 mm, material: ply}}
"""
PINS = """  - name: pins
    kind: pinned sleeve
    at: {{loads: [{{load case: load, force: {force}, moment: {moment}}}]}}
    bolt: {{thread: M10, grade: "8.8"{planes}}}
    bolts: {count}
    depth: {depth} mm
    walls:
      - {{name: outer, thickness: {outer} mm, material: ply, edge: 20 mm, kind: wall of a hollow tube}}
      - {{name: inner, thickness: {inner} mm, material: ply, edge: 20 mm, kind: wall of a hollow tube}}
"""
PLAIN: dict[str, Any] = {
    "facing": "left", "depth": 60, "outer": 5, "inner": 3, "start": 0, "end": 240, "planes": ", shear planes: 2",
    "places": ((40, 0), (120, 0), (200, 0)), "load": (0.0, 0.0, 0.0, 0.0, 0.0, 0.0), "count": 3,
}  # fmt: skip


def words(said: dict[str, Any]) -> dict[str, Any]:
    axes = [f"{axis}: {value!r}" for axis, value in zip("xyzxyz", said["load"], strict=True)]
    force, moment = ("{" + ", ".join(f"{each} {unit}" for each in part) + "}" for part, unit in ((axes[:3], "N"), (axes[3:], "N·m")))
    spots = ", ".join(f"{{along: {x} mm, across: {y} mm}}" for x, y in said["places"])
    return {**said, "force": force, "moment": moment, "spots": spots}


def case(*blocks: str, **said: Any) -> str:
    return CASE.format() + "".join(block.format(**words(PLAIN | said)) for block in blocks)


def rows(text: str, check: str = "bolts") -> dict[str, dict[str, Any]]:
    """Return the worst row by mode."""
    found: dict[str, dict[str, Any]] = {}
    for row in answer(text)["checks"]:
        if row["check"] == check and row["safety_factor"] < found.get(row["mode"], {"safety_factor": 1e9})["safety_factor"]:
            found[row["mode"]] = row
    return found


def open_parts(text: str) -> list[str]:
    return [each for told in answer(text)["verdict"]["open"] for each in told["where"]]


@pytest.mark.parametrize("row", LIMITS, ids=[f"sleeve {number}" for number in range(len(LIMITS))])
def test_slip_never_passes_the_limit_load_of_the_crossings(row: dict[str, Any]) -> None:
    """A linear programme (benchmarks/shell_reference/sleeve_limits.py): 28 sleeves, six components alone and together. Where every
    crossing gives way at once the two are one; nowhere is ours above.
    """
    sizes = {"outer": row["walls_mm"][0], "inner": row["walls_mm"][1], "depth": row["depth_mm"], "end": row["length_mm"]}
    found = rows(case(BOLTS, facing=row["facing"], places=row["spots_mm"], load=row["load"], **sizes))["slip"]
    factor, limit = found["safety_factor"], row["limit"] * found["capacity"] / 8000.0
    assert 0.6 * limit < factor <= 1.001 * limit


def test_plies_have_no_order() -> None:
    """The lever of twist was the depth less twice the ply written first: 50 or 54 mm."""
    text = case(BOLTS, load=(0, 0, 0, 400, 0, 0))
    first, second = (next(line for line in text.splitlines(True) if f"name: {name}" in line) for name in ("outer", "inner"))
    turned = text.replace(first, "FIRST").replace(second, first).replace("FIRST", second)
    assert turned != text
    found, again = rows(text), rows(turned)
    assert {mode: row["safety_factor"] for mode, row in found.items()} == approx(
        {mode: row["safety_factor"] for mode, row in again.items()}, rel=1e-9
    )
    assert found["bearing"]["demand"] == approx(400 / (3 * 0.050), rel=1e-6)  # T / (n (depth - 2 outer walls))


def test_pins_alone_twist_where_the_tubes_meet() -> None:
    """400 Nm on three pins: 400 / (3 x 50 mm); the outside depth was the lever, 60 mm."""
    found = rows(case(PINS, load=(0, 0, 0, 400, 0, 0)), "pinned sleeve")
    assert found["bearing"]["demand"] == approx(400 / (3 * 0.050), rel=1e-6)


def test_of_two_depths_the_less_favourable_counts() -> None:
    """A pinned sleeve said to be 120 mm deep halved what the bolts' own tube, 60 mm, puts on them."""
    plain = rows(case(BOLTS, load=(0, 0, 0, 400, 0, 0)))
    said = case(BOLTS, load=(0, 0, 0, 400, 0, 0)) + PINS.format(**words(PLAIN | {"load": (0, 0, 0, 400, 0, 0), "depth": 120}))
    assert rows(said)["bearing"]["demand"] == approx(plain["bearing"]["demand"], rel=1e-6)


def test_a_crossing_of_a_pin_is_one_plane() -> None:
    """A crossing's force was held to both planes of the bolt where the file said that it has two: 0.6 x 800 MPa x 58 mm2 is one."""
    found = rows(case(PINS, load=(1000, 0, 0, 0, 0, 0)), "pinned sleeve")["shear_at_wall"]
    assert found["capacity"] == approx(0.6 * 800e6 * 58e-6, rel=1e-2)


@pytest.mark.parametrize(("start", "end"), [(0, 240), (0, 300), (-60, 240), (10, 230)])
def test_the_tubes_press_about_the_middle_of_their_overlap(start: float, end: float) -> None:
    """8 kN across at the mouth: F / L + 6 F e / L2, e to the overlap's middle; it was counted to the bolts' middle."""
    length, away = (end - start) / 1000, (start + end) / 2000
    found = rows(case(BOLTS, start=start, end=end, load=(0, 0, 8000, 0, 0, 0)))["tubes_bear"]
    assert found["demand"] == approx(8000 / length + 6 * 8000 * away / length**2, rel=1e-6)


@pytest.mark.parametrize(("pitch", "share"), [(60, 1.0), (150, 1 - (300 - 150) / 2000), (300, 1 - (600 - 150) / 2000), (400, 0.75)])
def test_the_bolts_of_a_long_sleeve_shear_sooner(pitch: float, share: float) -> None:
    """EN 1993-1-8:2005, 3.8, from memory: 1 - (L - 15 d) / 200 d, at least 0.75."""
    places = ((40, 0), (40 + pitch, 0), (40 + 2 * pitch, 0))
    found = rows(case(BOLTS, places=places, end=80 + 2 * pitch, load=(1000, 0, 0, 0, 0, 0)))["shear_at_wall"]
    assert found["capacity"] == approx(share * 0.6 * 800e6 * 58e-6, rel=1e-2)


def test_two_rows_tear_out_as_a_block() -> None:
    """Six bolts in two rows 24 mm apart, 27 mm on: each wall of 3 mm takes half of 60 kN. ANSI/AISC 360-22, eq. (J4-5), by hand:
    holes 11 + 1.59 mm.
    """
    places = [(x, y) for x in (20, 47, 74) for y in (-12, 12)]
    found = rows(case(BOLTS, places=places, inner=3, end=100, load=(60e3, 0, 0, 0, 0, 0)))["block_shear"]
    hole, wall = 11 + 25.4 / 16, 3
    shear_net, shear_gross, pulled = 2 * (74 - 2.5 * hole) * wall, 2 * 74 * wall, (24 - hole) * wall
    assert found["part"] == "inner"
    assert found["demand"] == approx(30e3, rel=1e-6)
    assert found["capacity"] == approx(0.6 * min(400 * shear_net, 250 * shear_gross) + 400 * pulled, rel=1e-3)


def test_play_that_a_clamp_has_to_close_is_told() -> None:
    """Slip counts on the clamp; the walls first bend across the play: not said, or over 1 mm (EN 1090-2, from memory), it is open."""
    unsaid, load = "slip, with the fit's play", (0, 0, 0, 100, 0, 0)
    assert any(unsaid in each for each in open_parts(case(BOLTS, load=load)))
    for clearance, told in ((0.2, False), (0.6, True)):
        pins = PINS.format(**words(PLAIN | {"load": load})) + f"    clearance: {clearance} mm\n"
        assert any(unsaid in each for each in open_parts(case(BOLTS, load=load) + pins)) is told
    assert not any(unsaid in each for each in open_parts(sleeve(100)))


@pytest.mark.parametrize("clearance", [0.05, 0.1, 0.2])
def test_closing_the_play_takes_of_the_clamp(clearance: float) -> None:
    """Walls of 5 mm, 70 mm between the side walls, each bent across half the play: w = 0.00725 F a2 / D (Timoshenko and
    Woinowsky-Krieger, built-in endless plate, from memory). Clamp aimed at: 0.75 x 580 MPa x 58 mm2 of M10 8.8.
    """
    load = (0, 0, 0, 100, 0, 0)

    def slip(said: float) -> dict[str, Any]:
        return rows(case(BOLTS, PINS, load=load) + f"    clearance: {said} mm\n")["slip"]

    tight, found = slip(0.0), slip(clearance)
    bending = 200e3 * 5**3 / (12 * (1 - 0.3**2))
    taken = clearance * bending / (0.00725 * 70**2)
    counted = float(tight["words"].split("; ")[1].split(" %")[0]) / 100 * 0.75 * 580 * 58
    assert 1 - found["capacity"] / tight["capacity"] == approx(taken / counted, rel=2e-2)
    assert f"less the {100 * taken / (0.75 * 580 * 58):.0f} %" in found["words"]


def test_a_clamp_that_closes_a_play_is_open_where_the_walls_are_not_known() -> None:
    text = case(BOLTS, PINS, load=(0, 0, 0, 100, 0, 0)) + "    clearance: 0.1 mm\n"
    bare = "\n".join(line for line in text.splitlines() if not line.startswith("    tube:")) + "\n"
    assert any("slip, with the fit's play" in each for each in open_parts(bare))
    assert not any("slip, with the fit's play" in each for each in open_parts(text))


def without_pins(text: str, *, tube: bool) -> str:
    """Return the drawn sleeve without its joint of kind pinned sleeve, and without the bolts' tube."""
    start, end = text.index("  - name: bolts in twist"), text.index("  # Four stitches")
    text = text[:start] + text[end:]
    start, end = text.index("    tube:\n"), text.index("  # Four stitches")
    return text if tube else text[:start] + text[end:]


@pytest.mark.parametrize("said", ["planes", "tube", "both"])
def test_a_drawn_sleeve_is_crossed_twice_though_nobody_says_it(said: str) -> None:
    """Shear planes not said, or the tube not described: one plane alone was judged, bearing 3.4 times as kind. The drawing says it."""
    text = sleeve(1200, 1500, 700)
    plain = rows(text)
    if said != "tube":
        text = text.replace("      shear planes: 2               # both side walls\n", "")
    found = rows(without_pins(text, tube=said == "planes"))
    assert found["bearing"]["demand"] == approx(plain["bearing"]["demand"], rel=1e-9)
    assert found["slip"]["safety_factor"] <= plain["slip"]["safety_factor"] * (1 + 1e-9)


def test_how_often_bolts_cross_walls_of_tubes_is_asked_where_no_drawing_says_it() -> None:
    read = read_case(case(BOLTS, planes="", load=(0, 0, 0, 100, 0, 0)), "case.yaml", LIBRARY)
    assert any("how often its bolts cross" in each.what for each in read.doubts)
    assert not read_case(case(BOLTS, load=(0, 0, 0, 100, 0, 0)), "case.yaml", LIBRARY).doubts


# the tubes at the first hole ------------------------------------------------------------------------------------------

WALL, HOLE = 3 / 16, 9 / 16 + 1 / 16
ASIDE = 1500 * FTLB


def sideways_modulus(width: float, height: float) -> tuple[float, float]:
    """Return the section modulus about the upright axis, gross and less two holes in its side walls, in3. By hand: outer less inner
    rectangle with its corners, the design wall of a tube of A500 being written as it is.
    """
    radius = {3.61: 5 / 16}[height]
    corners = [(radius, width, height), (radius - WALL, width - 2 * WALL, height - 2 * WALL)]
    gross = 0.0
    for sign, (bend, b, h) in zip((1, -1), corners, strict=True):
        away = b / 2 - bend * (1 - 4 / (3 * pi))
        own = (pi / 16 - 4 / (9 * pi)) * bend**4
        square = bend**4 / 12 + bend**2 * (b / 2 - bend / 2) ** 2
        gross += sign * (h * b**3 / 12 - 4 * (square - own - pi / 4 * bend**2 * away**2))
    lost = 2 * (HOLE * WALL**3 / 12 + HOLE * WALL * (width / 2 - WALL / 2) ** 2)
    return gross / (width / 2), (gross - lost) / (width / 2)


def test_the_inner_tube_carries_all_at_the_first_hole() -> None:
    """Both tubes were taken to share the moment there: 74 MPa where the inner one bears 170 by itself."""
    found = rows(sleeve(0, 0, 1500), "bolt holes")["net_yields"]
    modulus = sideways_modulus(1.61, 3.61)[1] * IN**3
    assert found["demand"] == approx(ASIDE / modulus, rel=5e-3)
    assert found["demand"] == approx(170e6, rel=5e-3)
    assert "100 % of the load in 'sleeve alone' alone" in found["words"]


def test_the_outer_tube_carries_all_at_the_last_hole() -> None:
    """An outer tube of a thinner wall is the weaker one: it bears all at the hole farthest from its mouth."""
    thin = SLEEVE.replace("    wall: 3/16 in\n    outside radius: 3/8 in", "    wall: 1/16 in\n    outside radius: 1/4 in", 1)
    text = sleeve(0, 0, 1500)
    text = thin[: thin.index("load cases:")] + text[text.index("load cases:") :]
    found = rows(text, "bolt holes")["net_yields"]
    assert "100 % of the load in 'rail tube' alone" in found["words"]
    assert found["station_m"] == approx(7 * IN, rel=1e-6)


LIFE = """fatigue:
  duty: {life: 100000 km, events: [{name: swing, to: load, cycles per km: 10}]}
  details: [{name: holes, member: rear half, class: EN hole, from: 0.5 in, to: 7.5 in}]
"""


def test_the_holes_of_a_sleeve_wear_by_what_they_leave_of_one_tube() -> None:
    """A million swings of 1500 lb ft sideways: 170 MPa of the inner tube's net section on class 80, partial factor 1.35. It was read
    with both tubes' gross section: below the endurance limit.
    """
    stress = 1.35 * ASIDE / (sideways_modulus(1.61, 3.61)[1] * IN**3)
    (found,) = [row for row in answer(sleeve(0, 0, 1500) + LIFE)["checks"] if row["subject"].get("part") == "holes"]
    assert found["demand"] == approx(1e6 / 2e6 * (stress / 80e6) ** 3, rel=2e-2)


def test_the_holes_of_bolts_wear_without_being_asked_for() -> None:
    """With a duty and no detail of the holes nothing was said of them. A clamp is known: class 80; not known: class 50."""
    duty = LIFE[: LIFE.index("  details")]
    stress = 1.35 * ASIDE / (sideways_modulus(1.61, 3.61)[1] * IN**3)
    for text, row in ((sleeve(0, 0, 1500), 80e6), (sleeve(0, 0, 1500).replace("      clamp share: 0.75\n", ""), 50e6)):
        told = answer(text + duty)["checks"]
        (found,) = [each for each in told if each["check"] == "fatigue" and each["subject"]["thing"] == "hole"]
        assert found["demand"] == approx(1e6 / 2e6 * (stress / row) ** 3, rel=2e-2)


def test_a_hole_s_class_where_no_hole_is_drawn_is_open() -> None:
    told = open_parts(sleeve(0, 0, 1500) + LIFE.replace("member: rear half", "member: front half"))
    assert "front half, holes" in told
    assert "rear half, holes" not in open_parts(sleeve(0, 0, 1500) + LIFE)


CHANNEL = """title: a tube over a channel
origin: o
sections:
  web: {shape: channel, height: 90 mm, flange: 40 mm, wall: 4 mm, inside radius: 2 mm, material: A36}
  tube: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, outside radius: 6 mm, material: A36}
  over: {shape: sleeve, outer: tube, core: web, material: A36}
frame:
  points: {a: {x: 0 m}, b: {x: 1 m}}
  members: [{name: rail, points: [a, b], section: web, changes: [{at: 0.7 m, section: over}], ends: rigid}]
  supports: [{point: a, held: all}]
load cases: [{up: {forces: [{point: b, force: {z: 1 kN}}]}}]
joints:
  - name: end bolts
    kind: bolts
    at: {member: rail, end: end}
    plane: {facing: left, along: forward, origin: {x: -150 mm}}
    grid: {across: 1, along: 2, pitch along: 80 mm}
    bolt: {thread: M10, grade: "8.8"}
    plies:
      - {name: tube wall, thickness: 4 mm, material: A36, edge: 20 mm}
      - {name: channel web, thickness: 4 mm, material: A36, edge: 20 mm}
"""


def test_a_channel_that_runs_on_beyond_its_tube_leaves_its_holes_open() -> None:
    """It carries all at the first holes, off the middle of both: that is not reckoned, and was not said."""
    told = answer(CHANNEL)["verdict"]["open"]
    assert any("runs on by itself" in why for each in told for why in each["why"])


def test_a_hair_moves_no_row_of_the_holes() -> None:
    plain = rows(sleeve(900, 700, 500), "bolt holes")
    again = rows(sleeve(900, 700, 500).replace("origin: {x: -4 in}", "origin: {x: -4.0000004 in}"), "bolt holes")
    assert {mode: row["demand"] for mode, row in again.items()} == approx({key: row["demand"] for key, row in plain.items()}, rel=1e-5)
