"""Kinks in a frame: which there are, how they are made, and what is refused or left open."""

from __future__ import annotations

import json
from dataclasses import replace
from math import cos, inf, radians, sin
from typing import Any

import numpy as np
import pytest

from framecheck.errors import InputError
from framecheck.frame.joint.shell_elements import Plates, stiffness, stresses
from framecheck.frame.kinks import kinks_of
from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.answers import ROOT
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

MEMORY = SHARED
CASE = """title: a kinked rail
sections:
  tube: {shape: SHAPE, material: S235}
frame:
  points:
    a: {x: 0 mm, y: 0 mm, z: 0 mm}
    k: {x: 500 mm, y: 0 mm, z: 0 mm}
    t: {x: 800 mm, y: 20 mm, z: 120 mm}
    b: {x: 1300 mm, y: 20 mm, z: 120 mm}
  members:
MEMBERS
  supports: [{point: a, held: all}]
load cases:
  - push:
      forces: [{point: b, force: {x: 50 N, y: 100 N, z: 300 N}, moment: {x: 40 Nm}}]
"""
BOX = "rectangular tube, height: 100 mm, width: 50 mm, wall: 3 mm"
WHOLE = "    - {name: rail, points: [a, k, t, b], section: tubeMADE}"
TURNED = "    - {name: rail, points: [b, t, k, a], section: tubeMADE}"
IN_TWO = "    - {name: front, points: [a, k], section: tubeMADE}\n    - {name: rear, points: [b, t, k], section: tubeMADE}"


def text(made: str = "", members: str = WHOLE, shape: str = BOX) -> str:
    return CASE.replace("MEMBERS", members.replace("MADE", made)).replace("SHAPE", shape)


def told(case: str) -> dict[str, Any]:
    written: dict[str, Any] = json.loads(as_json(run(read_case(case, "rail.yaml", LIBRARY), MEMORY), "a caution"))
    return written


def moves(written: dict[str, Any], bound: str = "") -> np.ndarray:
    each = next(each for each in written["load_cases"] if bound in each["bound"])
    return np.array(each["points"]["b"]["displacement_m"] + each["points"]["b"]["rotation_rad"])


def opened(written: dict[str, Any], what: str) -> list[str]:
    return [why for each in written["verdict"]["open"] if each["what"] == what for why in each["why"]]


MITRED = ", kinks: mitred"


def test_the_same_rail_unclamped_keeps_its_outline_nowhere() -> None:
    """The kink is 500 mm from the clamp; the very same members held otherwise, asked for right after it, have no clamp near."""
    frame = read_case(text(MITRED), "rail.yaml", LIBRARY).frame
    rooms = [[side.room for side in kinks_of(each)[0].sides] for each in (frame, replace(frame, supports=()), frame)]
    assert rooms == [[pytest.approx(0.5), inf], [inf, inf], [pytest.approx(0.5), inf]]


@pytest.mark.parametrize("members", [TURNED, IN_TWO], ids=["from its other end", "as two members"])
def test_a_kinked_rail_however_it_is_written(members: str) -> None:
    one, other = told(text(MITRED)), told(text(MITRED, members))
    assert moves(other) == pytest.approx(moves(one), rel=1e-6, abs=1e-9)
    found = [sorted(row["demand"] for row in each["checks"] if row["check"] == "kinks") for each in (one, other)]
    assert len(found[0]) == 2
    assert found[1] == pytest.approx(found[0], rel=1e-6)


CORNER = """title: a corner
sections:
  tube: {shape: SHAPE, material: S235}
frame:
  points:
    a: {x: 0 mm, y: 0 mm, z: 0 mm}
    k: {x: 500 mm, y: 0 mm, z: 0 mm}
    b: {x: EX mm, y: 0 mm, z: ZED mm}
  members:
MEMBERS
  supports: [{point: a, held: all}]
load cases:
  - push:
      forces: [{point: b, force: {x: 50 N, y: 100 N, z: 300 N}, moment: {x: 40 Nm}}]
"""
WHOLE_CORNER = "    - {name: post, points: [a, k, b], section: tubeMADE}"
CORNER_IN_TWO = "    - {name: post, points: [a, k], section: tubeMADE}\n    - {name: beam, points: [b, k], section: tubeENDSMADE}"


def corner(turn: float, members: str, made: str = "", shape: str = BOX, ends: str = "") -> str:
    case = CORNER.replace("MEMBERS", members.replace("MADE", made).replace("ENDS", ends)).replace("SHAPE", shape)
    return case.replace("EX", f"{500 + 400 * cos(radians(turn)):.9f}").replace("ZED", f"{400 * sin(radians(turn)):.9f}")


@pytest.mark.parametrize("turn", [40.0, 50.0, 70.0, 90.0, 120.0, 160.0])
@pytest.mark.parametrize("made", ["", MITRED, ", kinks: bent, bend radius: 105 mm"])
def test_a_corner_of_two_members_is_that_of_one(turn: float, made: str) -> None:
    """However sharp it is: the reference is the same tube as one member."""
    if "bent" in made and turn > 120.0:
        made = ", kinks: bent"
    one, other = told(corner(turn, WHOLE_CORNER, made)), told(corner(turn, CORNER_IN_TWO, made))
    assert [each["bound"] for each in other["load_cases"]] == [each["bound"] for each in one["load_cases"]]
    for each in one["load_cases"]:
        assert moves(other, each["bound"]) == pytest.approx(moves(one, each["bound"]), rel=1e-6, abs=1e-12)
    kinks = [sorted(row["demand"] for row in each["checks"] if row["check"] == "kinks") for each in (one, other)]
    assert kinks[1] == pytest.approx(kinks[0], rel=1e-6)
    for what in ("kinks of members", "joints that no model covers"):
        assert opened(other, what) == opened(one, what)
    assert bool(opened(other, "joints that no model covers")) == (turn > 90.0)


def test_an_end_that_says_how_it_is_made_is_no_corner() -> None:
    """Rigid as written is rigid: one answer, in which the loads do less work than on the mitre that it would else be."""
    rigid = told(corner(90.0, CORNER_IN_TWO, ends=", end: {make: rigid}"))
    assert len(rigid["load_cases"]) == 1
    assert not opened(rigid, "kinks of members")
    assert not [row for row in rigid["checks"] if row["check"] == "kinks"]
    loads = np.array([50.0, 100.0, 300.0, 40.0, 0.0, 0.0])
    assert loads @ moves(rigid) < 0.999 * loads @ moves(told(corner(90.0, CORNER_IN_TWO, MITRED)))


RING = """title: a ring
sections:
  tube: {shape: SHAPE, material: S235}
frame:
  points:
    a: {x: 0 mm, y: 0 mm, z: 0 mm}
    b: {x: 900 mm, y: 50 mm, z: 0 mm}
    c: {x: 950 mm, y: 600 mm, z: 0 mm}
    d: {x: 20 mm, y: 500 mm, z: 30 mm}
  members:
MEMBERS
  supports: [{point: a, held: all}]
load cases:
  - push:
      forces: [{point: b, force: {x: 50 N, y: 100 N, z: 300 N}, moment: {x: 40 Nm}}]
"""


def ring(*paths: str) -> str:
    row = "    - {{name: m{}, points: [{}], section: tube, kinks: mitred}}"
    members = "\n".join(row.format(number, ", ".join(path)) for number, path in enumerate(paths))
    return RING.replace("MEMBERS", members).replace("SHAPE", BOX)


@pytest.mark.parametrize("paths", [("cdabc",), ("adcba",), ("ab", "bc", "cd", "da"), ("cb", "dc", "ab", "ad"), ("abc", "adc")])
def test_a_ring_has_a_kink_where_it_closes(paths: tuple[str, ...]) -> None:
    """It may begin at any of its corners, and be any number of members."""
    one, other = told(ring("abcda")), told(ring(*paths))
    assert len(kinks_of(read_case(ring("abcda"), "ring.yaml", LIBRARY).frame)) == 4
    assert moves(other, "softest") == pytest.approx(moves(one, "softest"), rel=1e-6)
    kinks = [sorted(row["demand"] for row in each["checks"] if row["check"] == "kinks") for each in (one, other)]
    assert kinks[1] == pytest.approx(kinks[0], rel=1e-6)

def test_what_is_not_said_is_solved_at_both_ends() -> None:
    """From the softest of a mitre and of bends to giving nothing; a plate and a said bend lie between."""
    unsaid = told(text())
    soft, stiff = moves(unsaid, "softest"), moves(unsaid, "stiffest")
    mitred, bent = moves(told(text(MITRED))), moves(told(text(", kinks: bent, bend radius: 250 mm")))
    assert stiff[1] < max(mitred[1], bent[1]) <= soft[1]
    plated = moves(told(text(", kinks: mitred with an inner plate, kink plate: 3 mm")))
    assert stiff[1] < plated[1] < soft[1]
    assert any("mitred, bent from tight to wide" in why for why in opened(unsaid, "values taken by default"))
    assert not opened(unsaid, "kinks of members")
    assert bent[1] <= moves(told(text(", kinks: bent")), "softest")[1] <= soft[1] * (1 + 1e-9)


def test_a_plate_of_unsaid_thickness_is_the_thinnest_that_is_accepted() -> None:
    plate = ", kinks: mitred with an inner plate"
    unsaid = told(text(plate))
    assert moves(unsaid, "softest") == pytest.approx(moves(told(text(f"{plate}, kink plate: 1 mm"))), rel=1e-9)
    assert any("from 1 mm" in why for why in opened(unsaid, "values taken by default"))


def used(written: dict[str, Any], check: str) -> float:
    """Return the most that any row of a check uses of what is allowed."""
    return max(row["target"] / row["safety_factor"] for row in written["checks"] if row["check"] == check)


SAID = (
    MITRED,
    ", kinks: bent, bend radius: 130 mm",
    ", kinks: bent, bend radius: 300 mm",
    ", kinks: mitred with an inner plate, kink plate: 1 mm",
    ", kinks: mitred with an inner plate, kink plate: 12 mm",
)


def test_a_kink_that_is_not_said_reads_no_better_than_any_that_is() -> None:
    """House rule: what is left out is read unfavourably. A kink that would not hold is missed, said or not."""
    heavy = text("MADE").replace("100 N, z: 300 N", "2500 N, z: 3000 N")
    unsaid, mitred = (told(heavy.replace("MADE", made)) for made in ("", MITRED))
    assert mitred["verdict"]["state"] == "not met"
    assert unsaid["verdict"]["state"] == "not met"
    assert used(unsaid, "kinks") >= max(used(told(heavy.replace("MADE", made)), "kinks") for made in SAID) * (1 - 1e-6)
    assert "the worst of what it may be" in next(row["words"] for row in unsaid["checks"] if row["check"] == "kinks")


def test_one_of_two_members_says_how_their_kink_is_made() -> None:
    """The rail as one member is the reference, to the last row of fatigue: what a kink adds reaches over to the other member."""
    front, rear = IN_TWO.splitlines()
    two = f"{front}\n{rear.replace('section: tube', f'section: tube{MITRED}')}"
    one, other = told(text(MITRED) + FATIGUE), told(text("", two) + FATIGUE.replace("member: rail", "member: front"))
    for check in ("fatigue", "kinks"):
        assert used(other, check) == pytest.approx(used(one, check), rel=1e-6)
    assert other["verdict"]["state"] == one["verdict"]["state"]


def test_another_shape_opens_its_range() -> None:
    written = told(text(MITRED, shape="channel, height: 100 mm, flange: 50 mm, wall: 3 mm, inside radius: 3 mm"))
    assert len([why for why in opened(written, "joints that no model covers") if "softer mitre" in why]) >= 1
    assert len(opened(written, "kinks of members")) >= 1
    assert np.abs(moves(written, "softest")).sum() > np.abs(moves(written, "stiffest")).sum()


@pytest.mark.parametrize(
    ("made", "says"),
    [
        (", kinks: mitred, bend radius: 200 mm", "bend radius"),
        (", kinks: bent, kink plate: 3 mm", "kink plate"),
        (", kinks: mitred with an inner plate, kink plate: 0.8 mm", "under 1 mm"),
        (", kinks: bent, bend radius: 100 mm", "less than its own depth"),
        (", kinks: bent, bend radius: 3 m", "no room"),
    ],
)
def test_sizes_that_do_not_fit_are_refused_by_line(made: str, says: str) -> None:
    case = text(made)
    with pytest.raises(InputError) as caught:
        read_case(case, "rail.yaml", LIBRARY)
    line = next(number for number, each in enumerate(case.splitlines(), 1) if "name: rail" in each)
    assert all(fault.place == f"rail.yaml:{line}" for fault in caught.value.faults)
    assert any(says in fault.fault for fault in caught.value.faults)


PULLED = """title: a pulled bend
sections: {tube: {shape: rectangular tube, height: 50 mm, width: 50 mm, wall: 3 mm, outside radius: 0 mm, material: S355}}
frame:
  points: {a: {x: 0 mm}, k: {x: 2 m}, b: {x: 3 m, z: 1732 mm}}
  members:
    - {name: rail, points: [a, k, b], section: tube, kinks: bentSAID}
  supports: [{point: a, held: all}, {point: k, held: [y, z]}, {point: b, held: [y]}]
load cases:
  - still: {forces: [{point: b, force: {z: 1 N}}]}
  - pull: {forces: [{point: b, force: {x: 8 kN, z: 13.86 kN}}]}
fatigue:
  duty: {life: 1 km, events: [{name: swing, from: still, to: pull, cycles per km: 1e5}]}
  details: [{name: tab, member: rail, class: EN tab over 100 mm, from: 2 m, to: 2 m}]
"""


@pytest.mark.parametrize("depths", [1.0, 4.0, 12.0])
def test_a_bend_of_no_said_radius_is_pulled_as_the_widest_that_is_drawn_by_its_corner(depths: float) -> None:
    """A bend's middle line cuts its corner short: the wider, the farther its pull lies beside it."""
    unsaid, said = (used(told(PULLED.replace("SAID", each)), "fatigue") for each in ("", f", bend radius: {50 * depths} mm"))
    assert unsaid >= said * (1 - 1e-9)


def test_a_very_wide_bend_is_doubted_by_line() -> None:
    """Of 650 mm (13 depths) and a turn of 60 degrees it lies 650 (1 / cos 30 - 1) = 100.6 mm beside its corner."""
    doubts = read_case(PULLED.replace("SAID", ", bend radius: 650 mm"), "rail.yaml", LIBRARY).doubts
    assert [(each.place, "(100.6 mm) beside the corner" in each.what) for each in doubts] == [("rail.yaml:6", True)]
    assert not read_case(PULLED.replace("SAID", ", bend radius: 600 mm"), "rail.yaml", LIBRARY).doubts


def test_a_dropped_crossmember_is_straight() -> None:
    """Its middle lies below the points at its ends, which it reaches by arms: the metal does not turn."""
    case = read_case((ROOT / "cases" / "hill-truck.yaml").read_text(encoding="utf-8"), "truck.yaml", LIBRARY)
    assert {kink.name for kink in kinks_of(case.frame)} == {"left rail", "right rail"}


FATIGUE = """fatigue:
  duty: {life: 1 km, events: [{name: swing, to: push, cycles per km: 1e6}]}
  details: [{name: tab, member: rail, class: EN tab over 100 mm, from: 100 mm, to: 120 mm}]
"""


def test_welded_kinks_wear_unasked() -> None:
    rows = {row["subject"]["part"]: row for row in told(text(MITRED) + FATIGUE)["checks"] if row["check"] == "fatigue"}
    assert set(rows) == {"tab", "kink at k", "kink at t"}
    assert "stress raised" in rows["kink at k"]["words"]
    bent = told(text(", kinks: bent, bend radius: 150 mm") + FATIGUE)
    assert {row["subject"]["part"] for row in bent["checks"] if row["check"] == "fatigue"} == {"tab"}
    assert any("no fatigue detail covers it" in why for why in opened(bent, "fatigue"))


def test_a_detail_near_a_kink_is_raised_less_than_one_at_it() -> None:
    def damage(at: float) -> float:
        detail = f"from: {at} mm, to: {at} mm"
        rows = told(text(MITRED) + FATIGUE.replace("from: 100 mm, to: 120 mm", detail))["checks"]
        return float(next(row["demand"] for row in rows if row["subject"]["part"] == "tab"))

    found = [damage(at) for at in (300.0, 440.0, 480.0, 500.0)]
    assert found == sorted(found)
    assert found[3] > 2 * found[1]


# the elements -------------------------------------------------------------------------------------------------------------

PATCH = np.array([[0.0, 0.0], [0.24, 0.0], [0.0, 0.12], [0.24, 0.12], [0.04, 0.02], [0.18, 0.03], [0.08, 0.08], [0.16, 0.08]])
CORNERS = np.array([[0, 1, 4, 5], [0, 4, 2, 6], [5, 1, 7, 3], [6, 7, 2, 3], [4, 5, 6, 7]])
"""The patch of R. H. MacNeal and R. L. Harder (1985), A proposed standard set of problems to test finite element accuracy."""


def test_patches_stretch_and_bend_evenly() -> None:
    """A constant strain 1e-3 both ways: sigma 1333 of E 1e6 and nu 0.25, and outer fibres 0.667 at wall 0.001 (MacNeal and Harder)."""
    x, y = PATCH.T
    places = np.concatenate((PATCH, np.zeros((8, 1))), axis=1)
    plates = Plates(places[CORNERS], *(np.full(5, each) for each in (0.001, 1e6, 0.25)))
    strained = np.zeros((8, 6))
    strained[:, 0], strained[:, 1] = 1e-3 * (x + y / 2), 1e-3 * (y + x / 2)
    bent = np.zeros((8, 6))
    bent[:, 2], bent[:, 3], bent[:, 4] = 1e-3 * (x**2 + x * y + y**2) / 2, 1e-3 * (y + x / 2), -1e-3 * (x + y / 2)
    whole = np.zeros((48, 48))
    freedoms = (6 * CORNERS[:, :, None] + np.arange(6)).reshape(5, 24)
    for each, rows in zip(stiffness(plates), freedoms, strict=True):
        whole[np.ix_(rows, rows)] += each
    inner = np.arange(24, 48)
    for moved, expected, part in ((strained, (1333.333, 1333.333, 400.0), 0), (bent, (0.666667, 0.666667, 0.2), 1)):
        found = moved.ravel().copy()
        found[inner] = np.linalg.solve(whole[np.ix_(inner, inner)], -whole[np.ix_(inner, np.arange(24))] @ found[:24])
        assert found == pytest.approx(moved.ravel(), abs=1e-9)
        felt = stresses(plates, found[freedoms][:, :, None])[part][:, :, 0]
        local = np.abs(felt[:, 0] + felt[:, 1])
        assert local == pytest.approx(sum(expected[:2]), rel=1e-5)
