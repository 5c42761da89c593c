"""Contradictions of a file: refused by line where they can't be true, told and left open where they may be."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.results.subjects import Question
from framecheck.run import run
from tests.cases.answers import ROOT, checked, stored, told
from tests.cases.test_sections import LIBRARY

CASES = sorted(file for file in (ROOT / "cases").glob("*.yaml") if not file.stem.endswith("-study"))


def read(text: str) -> Case:
    return read_case(text, "case.yaml", LIBRARY)


def doubts(text: str) -> list[str]:
    return [f"{each.place}: {each.subject}: {each.what}" for each in read(text).doubts]


def test_a_doubt_leaves_the_verdict_open_until_the_file_accepts_it() -> None:
    """What nobody settled is never `met`: the ledger names the entry, its line and what would close it."""
    text = stored("bolts-far-from-their-place.yaml")
    found = [each for each in run(read(text)).verdict.ledger.open if each.entry.question is Question.DOUBT]
    assert [each.entry.subject.words for each in found] == ["joints > sleeve bolts"]
    assert found[0].reason.startswith("case.yaml:")
    assert found[0].remedy


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_cases_of_our_own_hold_no_contradiction_without_its_reason(path: Path) -> None:
    case = read(path.read_text(encoding="utf-8"))
    assert case.doubts == () or Question.DOUBT.title in [each.what for each in case.accepted]


def test_a_gap_that_differs_from_its_coordinates_is_told_and_the_lesser_counts(tmp_path: Path) -> None:
    text = stored("gap-against-coordinates.yaml")
    line = text[: text.index("gap: 1/2 in")].count("\n") + 1
    assert any(
        each.startswith(f"case.yaml:{line}: ") and "written as 0.5 in" in each and "1.5 in (38.1 mm) apart" in each
        for each in doubts(text)
    )
    narrower = checked(text.replace("z: 21.5 in}", "z: 19.9 in}"), tmp_path)
    assert [row["today_m"] for row in narrower.data["clearances"]] == pytest.approx([0.1 * 0.0254] * len(narrower.gaps))
    assert not any("written as" in each for each in doubts(text.replace("z: 21.5 in}", "z: 20.5 in}")))


def test_a_gap_that_only_names_points_is_no_contradiction() -> None:
    """The axis of a member is farther off than its face: nothing is said of where the faces are."""
    text = stored("engine-on-mounts.yaml").replace("{point: below the pan, z: 0.65 m}", "{point: below the pan}")
    assert doubts(text) == []


def test_two_places_that_are_one_are_refused_by_line(tmp_path: Path) -> None:
    text = stored("engine-on-mounts.yaml").replace(
        "{point: below the pan, z: 0.65 m}", "{point: below the pan, z: 0.67 m}"
    )
    answer = checked(text, tmp_path)
    assert answer.code == 2
    assert re.search(
        r"case.yaml:\d+: vehicle > clearances > pan to crossmember: its two places are the same", answer.err
    )


def test_a_right_hand_point_in_a_left_suspension_is_refused_by_line(tmp_path: Path) -> None:
    text = stored("right-point-on-the-left.yaml")
    line = text[: text.index("point: right arm front")].count("\n") + 1
    answer = checked(text, tmp_path)
    assert answer.code == 2
    subject = "vehicle > axles > front > suspension > upper arm > front"
    assert f"case.yaml:{line}: {subject}: 'right arm front' is on the right of the vehicle" in answer.err
    assert checked(text.replace("point: right arm front", "point: left arm front"), tmp_path).code in (0, 1)


def test_bolts_far_from_their_joint_s_place_are_told() -> None:
    found = doubts(stored("bolts-far-from-their-place.yaml"))
    assert len(found) == 1
    assert "joints > sleeve bolts: the middle of its pattern lies 28 in (711.2 mm) from its place" in found[0]


def test_a_place_on_an_engine_s_mount_says_that_the_engine_moves() -> None:
    text = stored("engine-on-mounts.yaml").replace("{body: engine, x: 0 m", "{point: left engine mount, x: 0 m", 1)
    found = doubts(text)
    assert len(found) == 1
    assert "a mount of 'engine': what the part moves on its rubber is not counted" in found[0]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("track: 1.5 m", "track: 58 mm", "the two tyres would be in one another; check the units of both"),
        ("rear: {x: -2.8 m", "rear: {x: -0.28 m", "front and rear tyres would be in one another"),
    ],
)
def test_a_unit_mixed_up_so_that_tyres_overlap_is_refused(old: str, new: str, said: str, tmp_path: Path) -> None:
    answer = checked(stored("engine-on-mounts.yaml").replace(old, new, 1), tmp_path)
    assert answer.code == 2
    assert said in answer.err


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("wall: 25 mm", "wall: 0.1875 mm", "its thinnest metal is 0.007382 in (0.1875 mm)"),
        ("height: 300 mm", "height: 300 cm", "a size that members of frames don't have"),
        ("track: 1.5 m", "track: 15 m", "wider than any road allows"),
    ],
)
def test_a_size_of_another_unit_is_told(old: str, new: str, said: str) -> None:
    assert any(said in each for each in doubts(stored("engine-on-mounts.yaml").replace(old, new, 1)))


BENCH = """
title: bench
sections: {{tube: {{shape: rectangular tube, height: {high} mm, width: {wide} mm, wall: {wall} mm, material: A36}}}}
frame:
  points: {{{points}}}
  members: [{members}]
  supports: [{{point: a, held: all}}]
load cases: [pull: {{forces: [{{point: a, force: {{z: -1 N}}}}]}}]
"""


def context(scale: float, points: dict[str, tuple[float, float, float]], members: dict[str, tuple[str, ...]]) -> str:
    """Return a frame of tubes 4 x 2 units, points in units; scale: mm a unit."""
    places = ", ".join(
        f"{name}: {{x: {x * scale:.9g} mm, y: {y * scale:.9g} mm, z: {z * scale:.9g} mm}}"
        for name, (x, y, z) in points.items()
    )
    lines = ", ".join(
        f"{{name: {name}, points: [{', '.join(of)}], section: tube, ends: rigid}}" for name, of in members.items()
    )
    sizes = {"high": f"{4 * scale:.9g}", "wide": f"{2 * scale:.9g}", "wall": f"{scale / 5:.9g}"}
    return BENCH.format(points=places, members=lines, **sizes)


RAIL = {"a": (0.0, 0.0, 0.0), "b": (100.0, 0.0, 0.0)}
SCALES = st.floats(8.0, 60.0)


@given(SCALES, st.floats(0.1, 3.9))
def test_an_end_that_almost_touches_is_told_at_every_size(scale: float, gap: float) -> None:
    """A crossmember's end short of the rail's axis by less than the rail is deep, and not on a point of it."""
    text = context(
        scale, RAIL | {"c": (50.0, gap, 0.0), "d": (50.0, 60.0, 0.0)}, {"rail": ("a", "b"), "cross": ("c", "d")}
    )
    found = doubts(text)
    assert len(found) == 1
    assert "its end 'c' stops" in found[0]


@given(SCALES, st.floats(5.0, 40.0))
def test_an_end_clear_of_the_rail_or_on_a_point_of_it_is_not(scale: float, gap: float) -> None:
    clear = RAIL | {"c": (50.0, gap, 0.0), "d": (50.0, 60.0, 0.0)}
    assert doubts(context(scale, clear, {"rail": ("a", "b"), "cross": ("c", "d")})) == []
    joined = RAIL | {"c": (50.0, 0.0, 0.0), "d": (50.0, 60.0, 0.0)}
    assert doubts(context(scale, joined, {"rail": ("a", "c", "b"), "cross": ("c", "d")})) == []


@given(SCALES, st.floats(-0.95, 0.95), st.floats(20.0, 80.0), st.floats(0.2, 1.3))
def test_members_that_cross_without_a_joint_are_told(scale: float, above: float, at: float, slope: float) -> None:
    """Axes nearer than half of the tube's 2 units: the one tube is in the other."""
    run = 40.0 * slope
    brace = {"c": (at - run, -40.0, above), "d": (at + run, 40.0, above)}
    found = doubts(context(scale, RAIL | brace, {"rail": ("a", "b"), "brace": ("c", "d")}))
    crossed = [each for each in found if "it crosses 'rail' at" in each]
    assert len(crossed) == 1
    assert (
        doubts(context(scale, RAIL | brace | {"m": (at, 0.0, 0.0)}, {"rail": ("a", "m", "b"), "brace": ("c", "m", "d")}))
        == []
    )


@given(SCALES, st.floats(4.5, 20.0))
def test_members_that_pass_clear_of_one_another_are_not(scale: float, above: float) -> None:
    brace = {"c": (30.0, -40.0, above), "d": (70.0, 40.0, above)}
    assert doubts(context(scale, RAIL | brace, {"rail": ("a", "b"), "brace": ("c", "d")})) == []


@given(SCALES, st.floats(-0.4, 0.4), st.booleans())
def test_members_on_one_line_are_told(scale: float, above: float, turned: bool) -> None:
    inner = {"c": (20.0, 0.0, above), "d": (80.0, 0.0, above)}
    ends = ("d", "c") if turned else ("c", "d")
    found = doubts(context(scale, RAIL | inner, {"rail": ("a", "b"), "inner": ends}))
    assert any("it lies on one line with 'rail' over" in each for each in found)


def test_members_that_meet_end_to_end_or_stand_on_one_another_are_not() -> None:
    points = RAIL | {"c": (200.0, 0.0, 0.0), "d": (0.0, 0.0, 4.0), "e": (100.0, 0.0, 4.0)}
    members = {
        "rail": ("a", "b"),
        "next": ("b", "c"),
        "upper": ("d", "e"),
        "post": ("a", "d"),
        "other post": ("b", "e"),
    }
    assert doubts(context(25.0, points, members)) == []


def test_a_study_is_no_case_and_a_case_no_study() -> None:
    """One line, with the command that takes the file."""
    study, case = str(ROOT / "cases/stiffener-study.yaml"), str(ROOT / "cases/hill-truck.yaml")
    for command, file, said in (
        ("check", study, "a study, not a case; run: framecheck size"),
        ("size", case, "a case, not a study; run: framecheck check"),
    ):
        answer = told(command, file)
        assert (answer.code, len(answer.faults)) == (2, 1)
        assert f"this is {said} {file}" in answer.err


SKID = (ROOT / "cases" / "skid-plate.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("swaps", "told_of"),
    [
        ({"left": "right"}, ["rear left"]),
        ({"left": "right", "right": "left"}, ["rear right", "rear left"]),
    ],
    ids=["one bolt on the other side", "left and right exchanged"],
)
def test_bolts_tied_to_the_other_side_are_told_by_line(swaps: dict[str, str], told_of: list[str]) -> None:
    """The reference is the plate's own drawing: a bolt at its left edge is not on the frame's right."""
    text = re.sub(r"point: rear (left|right) seat", lambda m: f"point: rear {swaps.get(m[1], m[1])} seat", SKID)
    lines = text.splitlines()
    expected = [f"case.yaml:{n}" for name in told_of for n, line in enumerate(lines, 1) if f"{{name: {name}, " in line]
    found = [each for each in doubts(text) if "tied to" in each]
    assert [each.split(": ")[0] for each in found] == expected
    assert not [each for each in doubts(SKID) if "tied to" in each]


def test_left_and_right_exchanged_all_over_are_told() -> None:
    """Every bolt off the plate's middle line is doubted, and none on it."""
    text = re.sub(r"point: (\w+) (left|right) seat", lambda m: f"point: {m[1]} {'left' if m[2] == 'right' else 'right'} seat", SKID)
    assert len([each for each in doubts(text) if "tied to" in each]) == 6


@pytest.mark.parametrize("shift", [0.0, 0.3, 2.0])
def test_a_plate_that_lies_elsewhere_is_not_doubted(shift: float) -> None:
    """Where the whole plate lies is what its bolts say: moved points are no contradiction, nor is a bolt half an inch off."""
    text = SKID.replace("{name: front left, x: 25 in, y: 23 in", f"{{name: front left, x: {25 - shift} in, y: {23 - shift} in")
    assert not [each for each in doubts(text) if "tied to" in each]


@pytest.mark.parametrize(("low", "ground", "told"), [(False, "", 0), (True, "", 2), (True, ", ground: -400 mm", 0)])
def test_wheels_without_a_ground_under_a_frame_that_reaches_below_zero_are_told(low: bool, ground: str, told: int) -> None:
    """Left out it counts as z = 0, which is kind where the file's origin is above the tyres' ground: each axle is open then."""
    text = (ROOT / "tests/verification/front_door/vehicle-static.yaml").read_text(encoding="utf-8")
    text = text.replace("tyre radius: 300 mm", f"tyre radius: 300 mm{ground}")
    front = "{name: front, x: 0.2 m, y: 400 mm, z: "
    lowered = text.replace(f"{front}500 mm}}", f"{front}-50 mm}}") if low else text
    assert (lowered != text) is low
    found = [each for each in read(lowered).doubts if "ground is not written" in each.what]
    assert len(found) == told
    assert all(each.is_default for each in found)


def test_a_seat_narrower_than_its_bolt_is_asked_for() -> None:
    """No head is narrower than its bolt; on a point the sheet folds sooner than limit loads counted with seats (up to 8 %)."""
    text = (ROOT / "cases" / "skid-plate.yaml").read_text()
    assert "seat: 1 in" in text
    narrow = "seat: 1/8 in"
    assert not any("seat" in each for each in doubts(text))
    assert any("is narrower than the bolt's own" in each for each in doubts(text.replace("seat: 1 in", narrow, 1)))
