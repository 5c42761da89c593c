"""What a file leaves out makes no row better unless that is told as open: each once did. Statics and geometry, no source needed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cases.answers import ROOT, Answer, checked

CASES = ROOT / "cases"
GEARBOX, TIED, NOTCHED, DEMO, LAPPED = (
    (CASES / f"{name}.yaml").read_text(encoding="utf-8")
    for name in ("gearbox-crossmember", "tie-down", "notched-rail", "hill-truck", "lapped-rail")
)
UNSAID = "values taken by default"


def without(text: str, *said: str) -> str:
    """Return a text without what it says, each thing once."""
    for each in said:
        assert text.count(each) == 1, each
        text = text.replace(each, "")
    return text


def opened(answer: Answer) -> set[tuple[str, str]]:
    """Return what is open: the heading and the thing."""
    return {(group["what"], name) for group in answer.data["verdict"]["open"] for name in group["where"]}


def factors(answer: Answer, where: str) -> dict[tuple[str, str], float]:
    """Return the least safety factor over the one asked of each mode and part of a thing."""
    found: dict[tuple[str, str], float] = {}
    for row in answer.data["checks"]:
        if row["where"] == where:
            key, share = (row["mode"], row["part"]), row["safety_factor"] / row["target"]
            found[key] = min(found.get(key, share), share)
    return found


def test_corners_of_no_radius_are_open_and_said_ones_are_not(tmp_path: Path) -> None:
    """A sharp corner is more metal, further out: the demo's damage at a kink read 0.18 and not 0.26 without the rear rail's radius."""
    line = '    outside radius: 3/8 in\n'
    corners = (UNSAID, "corners of rail tube")
    assert corners not in opened(checked(NOTCHED, tmp_path))
    assert corners not in opened(checked(NOTCHED.replace(line, "    outside radius: 0 in\n"), tmp_path))
    assert corners in opened(checked(without(NOTCHED, line), tmp_path))


def test_bolts_on_a_face_that_is_not_said_pull_no_less(tmp_path: Path) -> None:
    """Slip read 0.310 without `contact` and 0.319 with it: the plate presses at least under the heads, and no farther is known."""
    said = factors(checked(GEARBOX, tmp_path), "left end plate")
    line = "    contact: {across: [-3 in, 3 in], along: [-2 in, 2 in]}\n"
    unsaid = factors(checked(without(GEARBOX, line), tmp_path), "left end plate")
    assert said.keys() == unsaid.keys()
    assert {key: (said[key], unsaid[key]) for key in said if unsaid[key] > said[key] * (1 + 1e-6)} == {}


def test_welds_at_a_members_end_are_those_of_a_tubes_end_unless_they_say_otherwise(tmp_path: Path) -> None:
    uneven = "uneven load along a run across a tube's face"
    line = "    on: the end of a tube\n"
    for text, is_open in ((GEARBOX, True), (without(GEARBOX, line), True), (GEARBOX.replace(line, "    on: plates\n"), False)):
        assert any(uneven in name for _, name in opened(checked(text, tmp_path))) is is_open


def test_a_grid_of_bolts_at_no_pitch_is_refused(tmp_path: Path) -> None:
    """Two bolts in one spot: tear-out read 0.00 used."""
    answer = checked(without(GEARBOX, ", pitch along: 2 1/2 in"), tmp_path)
    assert answer.code == 2
    assert "2 stand along at no pitch" in answer.err
    assert "case.yaml:75" in answer.err


def test_a_fillet_on_each_side_of_a_plate_counts_without_being_said(tmp_path: Path) -> None:
    """Its wall carries both: 0.21 was read, half of what it is. Fillets at each edge of a wider part load it one by one."""
    said = factors(checked(TIED, tmp_path), "ring bracket on its doubler")
    unsaid = factors(checked(without(TIED, ", fillets: 2"), tmp_path), "ring bracket on its doubler")
    assert unsaid == pytest.approx(said)


@pytest.mark.parametrize(
    ("text", "said", "thing"),
    [
        (TIED, "    doubler material: A36\n", "metal of the doubler"),
        (DEMO, "      brake share: 0.65\n", "how axles share the braking"),
        (NOTCHED, ", local yield: [rail]", "local yield at the notches of rail"),
        (DEMO, "  tyre friction: 0.9\n", "tyre friction"),
        (LAPPED, ", electrode: E70", "weld metal of the splice lap"),
        (DEMO, "    transfer: 2.3                   # low range; 1 without one\n", "ratio of the transfer case"),
    ],
)
def test_what_was_taken_for_something_unsaid_is_open(text: str, said: str, thing: str, tmp_path: Path) -> None:
    assert not any(thing in name for _, name in opened(checked(text, tmp_path)))
    assert any(thing in name for _, name in opened(checked(without(text, said), tmp_path)))


@pytest.mark.parametrize(
    ("said", "unsaid", "thing"),
    [
        ("x: 70 in, y: 40 in, z: 2 in, pretension: 500 lb", "x: 70 in, y: 40 in, z: 2 in", "pretension of the strap front left"),
        ("end: {x: 0 in, y: 20 in, z: 13.5 in}", "end: {x: 0 in, y: 20 in}", "spring > end"),
        ("ball: {x: 0 in, y: 25 in, z: 12 in}", "ball: {x: 0 in, z: 12 in}", "lower arm > ball"),
        ("mass: 110 lb, x: 30 in, y: 0 in, z: 22 in", "mass: 110 lb, x: 30 in, z: 22 in", "how far masses sit to a side"),
    ],
)
def test_what_was_taken_as_nought_is_open(said: str, unsaid: str, thing: str, tmp_path: Path) -> None:
    """A strap that is tied pulls at rest; a pivot of no height turns its rod, and with it every force on the frame."""
    assert DEMO.count(said) == 1
    for text, is_open in ((DEMO, False), (DEMO.replace(said, unsaid), True)):
        assert any(what == UNSAID and thing in name for what, name in opened(checked(text, tmp_path))) is is_open
